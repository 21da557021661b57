// SPDX-License-Identifier: GPL-3.0-or-later
// The state at any place of a piece.
#include "bench_runs.hpp"
#include "support/close.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace bellmouth::flow {
namespace {

using test::close;
using test::deg;
using test::mm;

Path path_of(const build::Build& build) {
  return Path(build, build.options.front(), joint::fits(build, build.options.front()));
}
build::Piece tube(double length_mm) {
  return {build::Tube{mm(60), mm(2), mm(length_mm), {}}, {}, {}, {}};
}
::testing::AssertionResult same(const Section& found, const Section& wanted, double within) {
  const auto& a = found.station;
  const auto& b = wanted.station;
  for (const auto& [x, y] : {std::pair{a.total_pressure_Pa, b.total_pressure_Pa},
                             {a.static_pressure_Pa, b.static_pressure_Pa},
                             {a.total_temperature_K, b.total_temperature_K},
                             {a.velocity_m_s, b.velocity_m_s},
                             {a.density_kg_m3, b.density_kg_m3},
                             {a.mach, b.mach},
                             {found.bore_m, wanted.bore_m},
                             {found.reynolds, wanted.reynolds}})
    if (const auto result = close(x, y, within); !result)
      return result;
  return ::testing::AssertionSuccess();
}

// Another method: the tube sawn in two at the place. The stream is fast, so that it is not halves of
// anything.
TEST(Tapping, IsWhatTheEndOfATubeSawnThereHas) {
  for (const double flow_kg_s : {0.05, 0.3, 0.42}) {
    const auto whole = test::bench_of({tube(100), tube(900)}, flow_kg_s, mm(56), mm(56));
    const auto path = path_of(whole);
    const auto point = path.solve(0).point;
    ASSERT_TRUE(point.usable()) << flow_kg_s;
    for (const double x_mm : {1.0, 250.0, 700.0, 899.0}) {
      const auto sawn = test::bench_of({tube(100), tube(x_mm), tube(900 - x_mm)}, flow_kg_s, mm(56), mm(56));
      const auto state = test::solved(sawn).runs[0].rows[1].outlet;
      EXPECT_TRUE(same(path.tapping(point, 0, 1, mm(x_mm)), state, 1e-9)) << flow_kg_s << ' ' << x_mm;
    }
  }
}

// Identity: at its ends a rigid piece has the states that the report gives it; between them total pressure
// only falls.
TEST(Tapping, LeadsFromInletToOutlet) {
  const auto build = test::sample_build();
  const auto path = path_of(build);
  const auto whole = path.solve(75);
  ASSERT_TRUE(whole.point.usable());
  int pieces = 0;
  for (std::size_t run = 0; run < whole.runs.size(); ++run) {
    const auto& chain = *build.options.front().runs[run];
    const auto fit = joint::fit(build, chain);
    for (std::size_t row = 0; row < chain.pieces.size(); ++row) {
      const auto& shape = chain.pieces[row].shape;
      const double length_m = fit.rows[row].centreline_length_m;
      if (build::is_fitting(shape) || length_m <= 0)
        continue;
      const auto at = [&](double share) { return path.tapping(whole.point, run, row, share * length_m); };
      if (build::is_rigid(shape) && !std::holds_alternative<build::MitredBend>(shape)) {
        ++pieces;
        EXPECT_TRUE(same(at(1), whole.runs[run].rows[row].outlet, 1e-9)) << run << ' ' << row;
        EXPECT_TRUE(close(at(0).bore_m, whole.runs[run].rows[row].inlet.bore_m, 1e-12));
      }
      double last = at(0).station.total_pressure_Pa;
      for (const double share : {0.1, 0.3, 0.5, 0.7, 0.9, 1.0}) {
        const double here = at(share).station.total_pressure_Pa;
        EXPECT_LE(here, last * (1 + 1e-12)) << run << ' ' << row << ' ' << share;
        last = here;
      }
    }
  }
  EXPECT_GT(pieces, 3);
}

// Closed form: half way along a cone the bore is the mean, and mass flow is density x velocity x area there.
TEST(Tapping, FollowsTheBoreOfACone) {
  const build::Piece cone{build::Cone{mm(60), mm(90), mm(2), mm(200), {}}, {}, {}, {}};
  const auto build = test::bench_of({tube(300), cone}, 0.2, mm(56), mm(86));
  const auto path = path_of(build);
  const auto point = path.solve(0).point;
  const auto middle = path.tapping(point, 0, 1, mm(100));
  EXPECT_NEAR(middle.bore_m, mm(71), 1e-12);
  const double area = std::numbers::pi / 4 * middle.bore_m * middle.bore_m;
  EXPECT_TRUE(close(middle.station.density_kg_m3 * middle.station.velocity_m_s * area, 0.2, 1e-9));
  EXPECT_GT(middle.station.static_pressure_Pa, path.tapping(point, 0, 1, 0).station.static_pressure_Pa);
}

// Identity: with a warm bay the air is as warm half way as the mean of both ends.
TEST(Tapping, TakesUpHeatOnTheWay) {
  auto build = test::bench_of({tube(1000), tube(1000)}, 0.05, mm(56), mm(56));
  build.bay = build::BayAir{373.15, 5};
  const auto path = path_of(build);
  const auto whole = path.solve(0);
  const auto& row = whole.runs[0].rows[0];
  ASSERT_GT(row.outlet.station.total_temperature_K, row.inlet.station.total_temperature_K + 0.1);
  EXPECT_NEAR(path.tapping(whole.point, 0, 0, 0.5).station.total_temperature_K,
              0.5 * (row.inlet.station.total_temperature_K + row.outlet.station.total_temperature_K), 1e-9);
}

} // namespace
} // namespace bellmouth::flow
