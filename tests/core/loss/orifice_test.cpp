// SPDX-License-Identifier: GPL-3.0-or-later
// Metering bodies against tests/reference/orifices.csv and worked_examples.csv.
#include "support/close.hpp"
#include "support/reference.hpp"

#include <bellmouth/loss.hpp>
#include <bellmouth/loss/orifice.hpp>

#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <string>

namespace bellmouth::loss {
namespace {

using test::close;
using test::Row;

constexpr double dry_air_J_kgK = 287.05287;
constexpr double gravity = 9.80665, foot_m = 0.3048, inch_m = 0.0254, psi_Pa = 6894.757;

Upstream air(const Row& row) {
  const double pressure_Pa = row.number("P1_Pa");
  return {pressure_Pa, pressure_Pa / (dry_air_J_kgK * row.number("T_K")), row.number("mu_Pa_s"), 1.4};
}

double after(const std::string& text, const std::string& word) {
  return std::stod(text.substr(text.find(word) + word.size()));
}

/// What the rows computed by the library hold (the first four kinds of the file).
double gridded(const Row& row, const Meter& corner, const Meter& taps, const Meter& venturi) {
  const Upstream gas = air(row);
  const double differential_Pa = row.number("dp_Pa");
  const std::string& kind = row.text("kind");
  const std::string& result = row.text("result");
  if (kind.starts_with("classical venturi"))
    return flow_at(venturi, gas, differential_Pa).mass_flow_kg_s;
  const Metered metered =
      flow_at(kind == "ISO 5167 orifice, corner taps" ? corner : taps, gas, differential_Pa);
  if (result == "m_kg_s")
    return metered.mass_flow_kg_s;
  if (result == "C")
    return metered.discharge_coefficient;
  if (result == "epsilon")
    return metered.expansibility;
  if (result == "dp_permanent_Pa")
    return metered.permanent_loss_Pa;
  if (result == "K_pipe")
    return metered.loss_coefficient;
  throw std::runtime_error("unknown result " + result);
}

// Published equations through a library: every row of the ISO 5167 grid to its tolerance.
TEST(Meter, IsoGrid) {
  int rows = 0;
  for (const Row& row : test::reference("orifices.csv")) {
    if (!row.text("kind").starts_with("ISO 5167") && !row.text("kind").starts_with("classical venturi"))
      continue;
    ++rows;
    const double bore_m = row.number("D_m"), throat_m = bore_m * row.number("beta");
    const double ours = gridded(row, {MeterKind::orifice_plate, bore_m, throat_m, Taps::corner},
                                {MeterKind::orifice_plate, bore_m, throat_m, Taps::d_and_half_d},
                                {MeterKind::venturi_tube, bore_m, throat_m});
    EXPECT_TRUE(close(ours, row.number("value"), row.number("rtol"))) << row.text("row_id") << ' ' << ours;
  }
  EXPECT_EQ(rows, 252);
}

/// Closed form: the diameter ratio of a wedge meter, from the free segment of its bore (ISO 5167-6).
double wedge_diameter_ratio(double height_ratio) {
  const double h = height_ratio;
  return std::sqrt((std::acos(1 - 2 * h) - 2 * (1 - 2 * h) * std::sqrt(h - h * h)) / std::numbers::pi);
}

// Published values: tables of ISO/TR 15377 and ISO 5167, Crane's and Fox & McDonald's examples, to the
// tolerance of the row.
TEST(Meter, PrintedValues) {
  int rows = 0;
  for (const Row& row : test::reference("orifices.csv")) {
    const std::string& kind = row.text("kind");
    double ours = 0;
    if (kind.starts_with("eccentric"))
      ours = discharge_coefficient({MeterKind::eccentric_plate, 1, row.number("beta")}, 5e5);
    else if (kind.starts_with("quarter-circle"))
      ours = discharge_coefficient({MeterKind::quarter_circle_plate, 1, row.number("beta")}, 5e4);
    else if (kind.starts_with("wedge meter"))
      ours = nozzle_expansibility(wedge_diameter_ratio(after(kind, "h/D=")), after(kind, "P2/P1="), 1.2);
    else if (kind.starts_with("venturi/nozzle"))
      ours = nozzle_expansibility(row.number("beta"), 1 - row.number("dp_Pa") / row.number("P1_Pa"), 1.3);
    else if (kind.starts_with("Crane 7-23")) {
      const double beta = row.number("beta");
      ours = discharge_coefficient({MeterKind::orifice_plate, row.number("D_m"), row.number("D_m") * beta},
                                   1e5) /
             std::sqrt(1 - std::pow(beta, 4));
    } else if (kind.starts_with("Crane 7-3") || kind.starts_with("Fox")) {
      ++rows; // below
      continue;
    } else {
      continue;
    }
    ++rows;
    EXPECT_TRUE(close(ours, row.number("value"), row.number("rtol"))) << row.text("row_id") << ' ' << ours;
  }
  EXPECT_EQ(rows, 30);
}

/// 225 US gallons of water a minute at 60 F, through a nozzle in 6 inch pipe, 4 feet of water of difference.
/// A liquid: so much pressure that nothing expands.
TEST(Meter, CraneNozzle) {
  const double density = 62.364 * 0.45359237 / std::pow(foot_m, 3);
  const Upstream water{1e12, density, 1.1e-3, 1.4};
  const double flow = 225 * 3.785411784e-3 / 60 * density, differential_Pa = 4 * foot_m * density * gravity;
  Meter nozzle{MeterKind::long_radius_nozzle, 0.15405, 0.06};
  const auto throat_m = throat_for(nozzle, water, flow, differential_Pa);
  ASSERT_TRUE(throat_m);
  nozzle.throat_m = *throat_m;
  const Metered metered = flow_at(nozzle, water, differential_Pa);
  EXPECT_TRUE(close(metered.mass_flow_kg_s, flow, 1e-9));
  int rows = 0;
  for (const Row& row : test::reference("orifices.csv")) {
    if (!row.text("kind").starts_with("Crane 7-3"))
      continue;
    ++rows;
    const double ours =
        row.text("result") == "d_inch" ? *throat_m / inch_m : metered.permanent_loss_Pa / psi_Pa;
    EXPECT_TRUE(close(ours, row.number("value"), row.number("rtol"))) << row.text("row_id") << ' ' << ours;
  }
  EXPECT_EQ(rows, 2);
}

// Published values: an orifice sized for 1 m3/s of air at 300 mm of water (Fox & McDonald, W26 and OR257).
TEST(Meter, OrificeSizedForAir) {
  constexpr double density = 1.23, differential_Pa = 0.3 * 999 * 9.81;
  // The book has no expansion of the air: a high upstream pressure.
  const Upstream gas{1e12, density, density * 1.46e-5, 1.4};
  Meter plate{MeterKind::orifice_plate, 0.25, 0.1, Taps::corner};
  const auto throat_m = throat_for(plate, gas, density, differential_Pa);
  ASSERT_TRUE(throat_m);
  plate.throat_m = *throat_m;
  const double beta = *throat_m / plate.bore_m;
  const double lost = flow_at(plate, gas, differential_Pa).permanent_loss_Pa / density;
  int rows = 0;
  for (const Row& row : test::reference("worked_examples.csv"))
    if (row.text("ex_id") == "W26") {
      ++rows;
      EXPECT_TRUE(close(row.number("n") == 1 ? beta : lost, row.number("published"), row.number("rtol")))
          << row.text("n") << ' ' << beta << ' ' << lost;
    }
  for (const Row& row : test::reference("orifices.csv"))
    if (row.text("kind").starts_with("Fox")) {
      ++rows;
      EXPECT_TRUE(close(beta, row.number("value"), row.number("rtol")));
    }
  EXPECT_EQ(rows, 3);
}

/// Volumetric efficiency [%] of a four-stroke engine behind an air box with a plate in its wall.
double air_box(double hole_m, double coefficient, double water_m, double pressure_Pa, double temperature_K,
               double swept_m3, double speed_rpm) {
  const double density = pressure_Pa / (287 * temperature_K);
  const double flow = metered_flow_kg_s(std::numeric_limits<double>::infinity(), hole_m, coefficient, 1,
                                        density, water_m * 1000 * 9.81);
  return 100 * flow / density / (swept_m3 * speed_rpm / 120);
}

// Published values: air-box orifices of three textbooks (W42 to W44), discharge coefficient given.
TEST(Meter, AirBoxes) {
  const auto cylinders = [](double bore_m, double stroke_m) {
    return 4 * std::numbers::pi / 4 * bore_m * bore_m * stroke_m;
  };
  const std::map<std::string, double> answers{
      {"W42", air_box(0.05, 0.6, 0.057, 101300, 293, cylinders(0.105, 0.125), 1200)},
      {"W43", air_box(0.032, 0.62, 0.150, 101320, 293, 1.78e-3, 2500)},
      {"W44", air_box(0.05, 0.6, 0.046, 1e5, 290, cylinders(0.10, 0.12), 1200)}};
  int rows = 0;
  for (const Row& row : test::reference("worked_examples.csv")) {
    const auto answer = answers.find(row.text("ex_id"));
    if (answer == answers.end())
      continue;
    ++rows;
    EXPECT_TRUE(close(answer->second, row.number("published"), row.number("rtol")))
        << answer->first << ' ' << answer->second;
    EXPECT_TRUE(close(answer->second, row.number("recomputed"), 1e-3)) << answer->first;
  }
  EXPECT_EQ(rows, 3);
}

// Identity: difference to flow and back; flow to throat and back; for every kind, inside and outside the
// ranges.
TEST(Meter, ThereAndBack) {
  const Upstream gas{101325, 1.204, 1.813e-5, 1.4};
  for (const MeterKind kind :
       {MeterKind::orifice_plate, MeterKind::eccentric_plate, MeterKind::quarter_circle_plate,
        MeterKind::long_radius_nozzle, MeterKind::isa_nozzle, MeterKind::venturi_tube})
    for (const double bore_m : {0.03, 0.06, 0.2})
      for (const double beta : {0.2, 0.5, 0.7})
        for (const double differential_Pa : {1.0, 300.0, 20000.0}) {
          const Meter meter{kind, bore_m, beta * bore_m, Taps::flange};
          const Metered there = flow_at(meter, gas, differential_Pa);
          ASSERT_TRUE(std::isfinite(there.mass_flow_kg_s) && there.mass_flow_kg_s > 0);
          EXPECT_GT(there.permanent_loss_Pa, 0);
          EXPECT_LT(there.permanent_loss_Pa, differential_Pa);
          EXPECT_GT(there.band, 0);
          const auto back = differential_at(meter, gas, there.mass_flow_kg_s);
          ASSERT_TRUE(back);
          EXPECT_TRUE(close(back->differential_Pa, differential_Pa, 1e-9));
          const auto throat_m = throat_for(meter, gas, there.mass_flow_kg_s, differential_Pa);
          ASSERT_TRUE(throat_m);
          EXPECT_TRUE(close(*throat_m, meter.throat_m, 1e-6)) << static_cast<int>(kind) << ' ' << bore_m;
        }
  EXPECT_FALSE(differential_at({MeterKind::orifice_plate, 0.06, 0.02}, gas, 1.0));
  EXPECT_FALSE(throat_for({MeterKind::orifice_plate, 0.06, 0.02}, gas, 10.0, 100));
}

// Identity: what the standard does not cover is said, and its band is wider; more is lost by a plate than by
// a nozzle than by a Venturi tube; the law of the body is its coefficient.
TEST(Meter, RangeAndOrder) {
  const Upstream gas{101325, 1.204, 1.813e-5, 1.4};
  const Metered small = flow_at({MeterKind::orifice_plate, 0.04, 0.02}, gas, 1000);
  const Metered covered = flow_at({MeterKind::orifice_plate, 0.08, 0.04}, gas, 1000);
  EXPECT_TRUE(small.outside_range);
  EXPECT_FALSE(covered.outside_range);
  EXPECT_GT(small.band, covered.band);
  EXPECT_NEAR(covered.band, 0.005, 1e-3);
  const double plate = law(Meter{MeterKind::orifice_plate, 0.08, 0.05}).constant;
  const double nozzle = law(Meter{MeterKind::long_radius_nozzle, 0.08, 0.05}).constant;
  const double venturi = law(Meter{MeterKind::venturi_tube, 0.08, 0.05}).constant;
  EXPECT_GT(plate, nozzle);
  EXPECT_GT(nozzle, venturi);
  EXPECT_TRUE(close(
      covered.permanent_loss_Pa,
      permanent_loss_share({MeterKind::orifice_plate, 0.08, 0.04}, covered.discharge_coefficient) * 1000,
      1e-12));
}

} // namespace
} // namespace bellmouth::loss
