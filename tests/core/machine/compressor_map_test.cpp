// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/close.hpp"
#include "support/reference.hpp"

#include <bellmouth/machine.hpp>
#include <bellmouth/machine/maps.hpp>

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace bellmouth::machine {
namespace {

using test::close;

// A compressor in closed form that follows the affinity laws: with N in units of 1000 rev/s and u the flow
// over speed from 0.05 (surge) to 0.15 (choke) kg/s, the rise r - 1 = N^2 (0.9 - 40 (phi - 0.05)^2 - ...).
double rise_of(double speed, double flow) {
  const double n = speed / 1000, phi = flow / n;
  return n * n * (0.9 - 60 * (phi - 0.05) * (phi - 0.05));
}
double efficiency_of(double speed, double flow) {
  const double phi = flow / (speed / 1000);
  return 0.76 - 25 * (phi - 0.09) * (phi - 0.09);
}

CompressorMap synthetic(int lines = 6, int points = 9) {
  CompressorMap map{298.15, 1e5, {}};
  for (int i = 0; i < lines; ++i) {
    const double speed = 600 + (1500.0 - 600) * i / (lines - 1), n = speed / 1000;
    for (int j = 0; j < points; ++j) {
      const double flow = n * (0.05 + 0.10 * j / (points - 1));
      map.points.push_back({speed, flow, 1 + rise_of(speed, flow), efficiency_of(speed, flow)});
    }
  }
  return map;
}
/// As measured: lines of different lengths, surge off the affinity laws, efficiency that changes with speed.
CompressorMap uneven() {
  CompressorMap map{293.15, 98e3, {}};
  const double ends[][3] = {
      {700, 0.020, 0.07}, {1000, 0.035, 0.105}, {1200, 0.055, 0.125}, {1600, 0.09, 0.15}};
  for (const auto& [speed, surge, choke] : ends)
    for (const double u : {0.0, 0.3, 0.55, 0.8, 0.95, 1.0}) {
      const double n = speed / 1000;
      map.points.push_back({speed, surge + u * (choke - surge),
                            1 + n * n * (0.8 - 0.1 * u - 0.4 * std::pow(u, 4)),
                            0.78 - 0.3 * (u - 0.5) * (u - 0.5) - 0.03 * (n - 1) * (n - 1)});
    }
  return map;
}

// Published values: compressor.csv, rows corrected_flow (closed form, seven digits).
TEST(CompressorMap, CorrectsTheFlowAsTheTablesDo) {
  const PreparedCompressorMap map(synthetic());
  int rows = 0;
  for (const test::Row& row : test::reference("compressor.csv")) {
    if (row.text("quantity") != "corrected_flow")
      continue;
    const auto& inputs = row.text("inputs");
    EXPECT_TRUE(close(map.corrected_flow_kg_s(test::input(inputs, "m"), test::input(inputs, "p01"),
                                              test::input(inputs, "T01")),
                      row.number("value"), 5e-7))
        << row.text("row_id");
    ++rows;
  }
  EXPECT_EQ(rows, 6);
  EXPECT_TRUE(close(map.corrected_speed_rev_s(1000, 4 * 298.15), 500, 1e-12)); // closed form
  EXPECT_TRUE(close(map.speed_rev_s(map.corrected_speed_rev_s(900, 310), 310), 900, 1e-12));
}

// Identity: the map says at its points what they say.
TEST(CompressorMap, GoesThroughItsPoints) {
  for (const CompressorMap& kind : {synthetic(), uneven()}) {
    const PreparedCompressorMap map(kind);
    for (const CompressorMapPoint& point : kind.points) {
      const auto found = map.at(point.corrected_speed_rev_s, point.corrected_flow_kg_s);
      EXPECT_TRUE(close(found.pressure_ratio, point.pressure_ratio, 1e-9));
      EXPECT_TRUE(close(found.adiabatic_efficiency, point.adiabatic_efficiency, 1e-9));
      EXPECT_FALSE(found.outside_speeds);
    }
  }
}

// Closed form: a compressor that follows the affinity laws is met between the points of its map; what is left
// is the error of a monotone cubic through few points, which cuts off the top of the efficiency.
TEST(CompressorMap, MeetsAClosedFormBetweenItsPoints) {
  struct Errors {
    double rise = 0, efficiency = 0;
  };
  const auto errors = [](int points) {
    const PreparedCompressorMap map(synthetic(6, points));
    Errors greatest;
    for (double speed = 610; speed < 1500; speed += 37)
      for (double phi = 0.0501; phi < 0.15; phi += 0.0007) {
        const double flow = phi * speed / 1000, rise = rise_of(speed, flow);
        const auto found = map.at(speed, flow);
        EXPECT_FALSE(found.outside());
        greatest.rise = std::max(greatest.rise, std::abs(found.pressure_ratio - 1 - rise) / rise);
        greatest.efficiency =
            std::max(greatest.efficiency, std::abs(found.adiabatic_efficiency - efficiency_of(speed, flow)));
      }
    return greatest;
  };
  const Errors few = errors(5), more = errors(9), many = errors(33);
  EXPECT_LT(few.rise, 0.01);
  EXPECT_LT(few.efficiency, 0.004);
  EXPECT_LT(more.rise, 0.003);
  EXPECT_LT(more.efficiency, 0.001);
  EXPECT_LT(many.rise, 0.0015); // the map's head goes as r^(2/7) - 1, the closed form's as r - 1
  EXPECT_LT(many.efficiency, 0.0001);
}

// Identity: continuous over lines, surge, choke and both ends of the speeds; positive; falls with flow
// outside.
TEST(CompressorMap, HasNoHoleAnywhere) {
  for (const CompressorMap& kind : {synthetic(), uneven()}) {
    const PreparedCompressorMap map(kind);
    for (const double speed : {100.0, 600.0, 650.0, 999.9, 1000.0, 1350.0, 1500.0, 1600.0, 2500.0}) {
      const auto [surge, choke] = map.ends(speed);
      double last = map.at(speed, 0).pressure_ratio;
      const double step = choke / 4000;
      for (double flow = step; flow < 1.2 * choke; flow += step) {
        const auto found = map.at(speed, flow);
        EXPECT_GT(found.pressure_ratio, 0);
        EXPECT_LT(std::abs(found.pressure_ratio / last - 1), 0.04) << speed << ' ' << flow;
        if (found.region != MapRegion::inside) {
          EXPECT_LT(found.pressure_ratio, last);
          EXPECT_LT(found.ratio_by_flow, 0);
        }
        EXPECT_EQ(found.region == MapRegion::below_surge, flow < surge);
        EXPECT_EQ(found.region == MapRegion::beyond_choke, flow > choke);
        EXPECT_TRUE(close(found.margin_to_surge, flow / surge - 1, 1e-12, 1e-12));
        last = found.pressure_ratio;
      }
    }
    for (const double flow : {0.01, 0.06, 0.1, 0.14})
      for (double speed = 200; speed < 2500; speed += 0.01 * speed) {
        const double low = map.at(speed * (1 - 1e-9), flow).pressure_ratio;
        EXPECT_TRUE(close(map.at(speed * (1 + 1e-9), flow).pressure_ratio, low, 1e-5));
      }
    for (const double speed : map.line_speeds())
      for (const double flow : {0.01, 0.06, 0.1, 0.14})
        EXPECT_TRUE(close(map.at(speed * (1 - 1e-9), flow).pressure_ratio,
                          map.at(speed * (1 + 1e-9), flow).pressure_ratio, 1e-5));
  }
}

// Identity: the slope over the flow by differences.
TEST(CompressorMap, HasTheSlopeOfItsRatio) {
  for (const CompressorMap& kind : {synthetic(), uneven()}) {
    const PreparedCompressorMap map(kind);
    for (const double speed : {300.0, 720.0, 1101.0, 1900.0})
      for (const double place : {-0.3, 0.2, 0.61, 0.97, 1.02}) {
        const auto [surge, choke] = map.ends(speed);
        const double flow = surge + place * (choke - surge), step = 1e-7 * flow;
        EXPECT_TRUE(
            close(map.at(speed, flow).ratio_by_flow,
                  (map.at(speed, flow + step).pressure_ratio - map.at(speed, flow - step).pressure_ratio) /
                      (2 * step),
                  1e-5, 1e-6))
            << speed << ' ' << place;
      }
  }
}

// Closed form: outside its speeds the map goes on by the affinity laws.
TEST(CompressorMap, GoesOnByTheAffinityLaws) {
  const PreparedCompressorMap map(synthetic());
  for (const double scale : {0.1, 0.7}) {
    const auto line = map.at(600, 0.05), below = map.at(600 * scale, 0.05 * scale);
    EXPECT_TRUE(below.outside_speeds);
    EXPECT_EQ(below.region, MapRegion::inside);
    EXPECT_TRUE(close(std::pow(below.pressure_ratio, 2.0 / 7) - 1,
                      scale * scale * (std::pow(line.pressure_ratio, 2.0 / 7) - 1), 1e-9));
    EXPECT_EQ(below.adiabatic_efficiency, line.adiabatic_efficiency);
  }
  EXPECT_TRUE(map.at(1501, 0.1).outside_speeds);
  EXPECT_FALSE(map.at(1500, 0.1).outside_speeds);
  EXPECT_FALSE(map.at(600, 0.05).outside_speeds);
}

// Identity: the speed that is found gives the ratio that was asked for, all over the plane.
TEST(CompressorMap, FindsTheSpeedForARatio) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> ratio(1.0, 6.0), flow(1e-4, 0.4);
  for (const CompressorMap& kind : {synthetic(), uneven()}) {
    const PreparedCompressorMap map(kind);
    for (int i = 0; i < 3000; ++i) {
      const double wanted = i == 0 ? 1.0 : ratio(random), at = flow(random);
      const auto found = map.speed_for(wanted, at);
      ASSERT_TRUE(close(found.pressure_ratio, wanted, 1e-9)) << wanted << ' ' << at;
      const auto again = map.at(found.corrected_speed_rev_s, at);
      EXPECT_EQ(again.pressure_ratio, found.pressure_ratio);
      EXPECT_EQ(again.region, found.region);
    }
  }
  // Closed form: r - 1 = N^2 (0.9 - 60 (m/N - 0.05)^2), at a line's own speed.
  const PreparedCompressorMap map(synthetic());
  EXPECT_TRUE(close(map.speed_for(1 + rise_of(960, 0.096), 0.096).corrected_speed_rev_s, 960, 2e-3));
}

TEST(MapFault, NamesWhatIsWrong) {
  EXPECT_FALSE(map_fault(synthetic()));
  const auto fault = [](auto change) {
    CompressorMap map = synthetic();
    change(map.points);
    return map_fault(map).value_or("");
  };
  EXPECT_EQ(fault([](auto& points) { points.resize(9); }), "fewer than two lines of constant speed");
  EXPECT_EQ(fault([](auto& points) { points.resize(10); }), "a line of constant speed with a single point");
  EXPECT_EQ(fault([](auto& points) { std::swap(points[1], points[2]); }),
            "a line of constant speed whose flows do not rise");
  EXPECT_EQ(fault([](auto& points) { points[0].pressure_ratio = 0.98; }),
            "a line of constant speed that does not raise the pressure at its first point");
  EXPECT_EQ(fault([](auto& points) {
              points.erase(points.begin(), points.begin() + 9);
              points.insert(points.end(), {{500, 0.02, 1.1, 0.6}, {500, 0.03, 1.05, 0.6}});
            }),
            "lines whose speeds do not rise");
}

} // namespace
} // namespace bellmouth::machine
