// SPDX-License-Identifier: GPL-3.0-or-later
// Single pieces on a flow bench against handbook values, and the march against closed forms.
#include "bench_runs.hpp"
#include "support/close.hpp"
#include "support/reference.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace bellmouth::test {
namespace {

using namespace build;

double flow_for_reynolds(double reynolds, double bore_m) {
  // Re = 4 m / (pi D mu) at the static temperature, which is close to the total one at these speeds.
  return reynolds * M_PI * bore_m * air::Mixture().viscosity_Pa_s(293.15) / 4;
}

Piece bend_of(double bore_m, double ratio, double angle_rad) {
  return {
      TubeBend{bore_m + 3e-3, 1.5e-3, angle_rad, ratio * bore_m, 0, 0, 0, {}}, Material::aluminium, {}, ""};
}

// Published value: smooth bends by Rennels & Hudson (2012) as computed by the library fluids 1.0.22,
// tests/reference/bends.csv. Column roughness 1.5e-6 m is the march's drawn metal. Tolerance: the
// total-pressure basis and Re at static temperature move K by less than 0.5 % at these Mach numbers.
TEST(Bench, OneBendCostsWhatTheHandbookSays) {
  int compared = 0;
  for (const auto& row : reference("bends.csv")) {
    if (row.number("eps_m") != 1.5e-6 || row.number("Re") > 2.1e5)
      continue;
    const double bore = row.number("D_m");
    const double angle = row.number("angle_deg") * M_PI / 180;
    const auto result = solved(bench_of({bend_of(bore, row.number("r_over_D"), angle)},
                                        flow_for_reynolds(row.number("Re"), bore), bore, bore, 3e5));
    ASSERT_TRUE(result.point.usable());
    EXPECT_TRUE(close(result.runs[0].rows[0].loss_coefficient, row.number("K_Rennels"), 5e-3))
        << row.text("row_id");
    ++compared;
  }
  EXPECT_GE(compared, 50);
}

// Closed form: Darcy-Weisbach at constant density. The Fanno solution departs from it by the order of the
// drop over the pressure.
TEST(Bench, AStraightTubeAtLowSpeedFollowsDarcyWeisbach) {
  const double bore = 0.06, length = 2.0, flow = 0.03;
  const auto result = solved(
      bench_of({{Tube{bore + 3e-3, 1.5e-3, length, {}}, Material::aluminium, {}, ""}}, flow, bore, bore));
  const auto& inlet = result.runs[0].rows[0].inlet;
  const double f =
      loss::darcy_friction_factor(inlet.reynolds, loss::roughness_m(loss::Surface::drawn_metal) / bore);
  const double wanted = f * length / bore * inlet.station.dynamic_pressure_Pa();
  EXPECT_TRUE(close(result.runs[0].drop_Pa, wanted, 3e-3));
}

// Published value: one-dimensional adiabatic flow with friction, tests/reference/fanno.csv (closed form after
// Shapiro 1953). A tube cut to the friction length between two table rows must take the flow from the one
// Mach number to the other.
TEST(Bench, AStraightTubeAtHighSpeedFollowsFanno) {
  const air::Mixture dry;
  const double gamma = dry.gamma(293.15);
  const double bore = 0.05, area = bore * bore * M_PI / 4;
  for (const auto& [first, last] : {std::pair{0.3, 0.4}, {0.4, 0.6}, {0.5, 0.8}}) {
    const double flow = air::mass_flow_function(first, gamma) * area * 101325.0 /
                        std::sqrt(dry.gas_constant_J_kgK() * 293.15);
    const auto entry = air::station(dry, 101325.0, 293.15, flow, area);
    const double f = loss::darcy_friction_factor(air::reynolds(dry, *entry, bore),
                                                 loss::roughness_m(loss::Surface::drawn_metal) / bore);
    const double length = (air::fanno_parameter(first, gamma) - air::fanno_parameter(last, gamma)) * bore / f;
    const auto result = solved(
        bench_of({{Tube{bore + 3e-3, 1.5e-3, length, {}}, Material::aluminium, {}, ""}}, flow, bore, bore));
    EXPECT_TRUE(close(result.runs[0].rows[0].inlet.station.mach, first, 1e-6));
    EXPECT_TRUE(close(result.runs[0].rows[0].outlet.station.mach, last, 1e-6));
  }
}

// Published value: step losses inside a hose joint, tests/reference/step_joints.csv (Rennels as computed by
// fluids 1.0.22): the wider bore between two tube ends far enough apart is one step up and one step down,
// with the friction of the hose between them (closed form); a short gap costs less.
TEST(Bench, AHoseBetweenTwoTubesCostsTwoStepsAtMost) {
  const auto rows = reference("step_joints.csv");
  int compared = 0;
  for (const auto& down : rows) {
    if (down.text("kind").find("step down") == std::string::npos)
      continue;
    const double wide = down.number("d1_mm") * 1e-3, bore = down.number("d2_mm") * 1e-3;
    const Piece tube{Tube{wide, (wide - bore) / 2, 0.05, {}}, Material::aluminium, {}, ""};
    const auto across = [&](double gap_m) {
      const Piece hose{Hose{wide, 4e-3, 0.06 + gap_m, {0.03, 0.03}}, Material::silicone, {}, ""};
      return solved(bench_of({tube, hose, tube}, 0.02, bore, bore, 3e5));
    };
    const double far = 5 * (wide - bore);
    const auto result = across(far);
    const double ratio = bore * bore / (wide * wide);
    const double up = (1 - ratio) * (1 - ratio); // Borda-Carnot
    const auto& flow = result.runs[0].rows[1];
    const double q = result.runs[0].rows[0].outlet.station.dynamic_pressure_Pa();
    const double f = loss::darcy_friction_factor(flow.inlet.reynolds,
                                                 loss::roughness_m(loss::Surface::smooth_hose) / bore);
    const double friction = f * far / wide * ratio * ratio;
    EXPECT_TRUE(close(flow.drop_Pa / q, up + down.number("K") + friction, 2e-3, 2e-4)) << down.text("row_id");
    EXPECT_LT(across(2 * (wide - bore)).runs[0].rows[1].drop_Pa, flow.drop_Pa);
    ++compared;
  }
  EXPECT_GE(compared, 4);
}

// Identity: a hose whose tubes touch hides its own bore.
TEST(Bench, AHoseWithoutGapCostsNothing) {
  const Piece tube{Tube{0.0635, 1.65e-3, 0.05, {}}, Material::aluminium, {}, ""};
  const Piece hose{Hose{0.0635, 4e-3, 0.06, {0.03, 0.03}}, Material::silicone, {}, ""};
  const auto result = solved(bench_of({tube, hose, tube}, 0.1, 0.0602, 0.0602));
  EXPECT_EQ(result.runs[0].rows[1].drop_Pa, 0);
  EXPECT_EQ(result.runs[0].rows[1].volume_m3, 0);
}

// Closed form: the volume of tubes, cones and tori.
TEST(Bench, VolumeIsThatOfTheSolids) {
  const double bore = 0.0602;
  const Piece tube{Tube{0.0635, 1.65e-3, 0.25, {}}, Material::aluminium, {}, ""};
  const Piece bend{TubeBend{0.0635, 1.65e-3, 1.2, 0.09525, 0.03, 0.05, 0, {}}, Material::aluminium, {}, ""};
  const Piece cone{Cone{0.0635, 0.0735, 1.65e-3, 0.1, {}}, Material::aluminium, {}, ""};
  const auto result = solved(bench_of({tube, bend, cone}, 0.1, bore, 0.0702));
  const double area = M_PI / 4 * bore * bore, area_out = M_PI / 4 * 0.0702 * 0.0702;
  const double frustum = 0.1 / 3 * (area + area_out + std::sqrt(area * area_out));
  EXPECT_TRUE(close(result.runs[0].volume_m3, area * (0.25 + 0.08 + 1.2 * 0.09525) + frustum, 1e-12));
}

// Identity: at every station mass flow is density x velocity x area, total state and static state belong
// together, and total pressure never rises along the ducts.
TEST(Bench, EveryStationHangsTogether) {
  for (const auto& sample : sample_builds()) {
    const double speed = std::holds_alternative<machine::Engine>(sample.demand) ? 60 : 0;
    const auto result = solved(sample, speed);
    ASSERT_TRUE(result.point.usable()) << sample.title;
    for (const auto& run : result.runs) {
      double before = 1e9;
      for (const auto& row : run.rows)
        for (const auto* at : {&row.inlet, &row.outlet}) {
          const auto& s = at->station;
          const double area = M_PI / 4 * at->bore_m * at->bore_m;
          EXPECT_TRUE(close(s.density_kg_m3 * s.velocity_m_s * area, result.point.mass_flow_kg_s, 1e-9));
          EXPECT_TRUE(
              close(s.static_pressure_Pa / s.total_pressure_Pa, air::pressure_ratio(s.mach, s.gamma), 1e-9));
          if (at == &row.inlet && row.volume_m3 > 0) {
            EXPECT_LE(s.total_pressure_Pa, before * (1 + 1e-12));
            before = s.total_pressure_Pa;
          }
        }
    }
  }
}

// Identity: the drops of the rows add up to what is missing at the end of the run.
TEST(Bench, RowsAddUpToTheRun) {
  const auto result = solved(sample_build(), 60);
  ASSERT_TRUE(result.point.usable());
  for (const auto& run : result.runs) {
    double sum = 0;
    for (const auto& row : run.rows)
      sum += row.drop_Pa;
    EXPECT_TRUE(close(sum, run.drop_Pa, 1e-12));
    EXPECT_LT(run.drop_low_Pa, run.drop_Pa);
    EXPECT_GT(run.drop_high_Pa, run.drop_Pa);
    EXPECT_TRUE(close(run.rows.front().inlet.station.total_pressure_Pa - run.drop_Pa,
                      run.rows.back().outlet.station.total_pressure_Pa, 1e-9));
  }
}

// Identity: what the stream travels is what the joints make of the pieces.
TEST(Bench, TheProfileIsAsLongAsTheRuns) {
  for (const auto& sample : sample_builds()) {
    const double speed = std::holds_alternative<machine::Engine>(sample.demand) ? 60 : 0;
    const auto result = solved(sample, speed);
    double length = 0;
    for (const auto& step : sample.path)
      if (const auto* id = std::get_if<RunId>(&step))
        for (const auto& row : joint::fit(sample, *sample.options.front().find(*id)).rows)
          length += row.centreline_length_m;
    ASSERT_FALSE(result.profile.empty());
    EXPECT_TRUE(close(result.profile.back().distance_m, length, 1e-12)) << sample.title;
  }
}

} // namespace
} // namespace bellmouth::test
