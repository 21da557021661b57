// SPDX-License-Identifier: GPL-3.0-or-later
// Coefficients corrected by measurement, out to the ends of what a build may hold.
#include "support/sample_builds.hpp"

#include <bellmouth/flow.hpp>

#include <gtest/gtest.h>

#include <cmath>

namespace bellmouth::test {
namespace {

// Identity: whatever the factor, there is a finite answer or a reason.
TEST(Measured, EveryFactorHasAnAnswerOrAReason) {
  for (const auto& sample : {sample_build(), compressor_build()})
    for (int which = 0; which < 7; ++which)
      for (const double factor : {0.05, 0.3, 3.0, 20.0}) {
        auto build = sample;
        build.measured = {{static_cast<build::Coefficient>(which), factor, 0.1}};
        const auto& option = build.options.front();
        const flow::Path path(build, option, joint::fits(build, option));
        for (const double speed_rev_s : {15.0, 50.0, 100.0}) {
          const auto point = path.operating_point(speed_rev_s);
          const auto where = testing::Message()
                             << sample.title << ", coefficient " << which << ", factor " << factor;
          EXPECT_NE(point.stop, flow::Stop::not_run) << where;
          EXPECT_NE(point.stop, flow::Stop::no_agreement) << where;
          if (point.usable()) {
            EXPECT_LT(point.residual, 1e-6) << where;
            EXPECT_TRUE(std::isfinite(point.manifold_pressure_Pa + point.manifold_temperature_K)) << where;
          }
        }
      }
}

// Identity: a blower that was measured as less efficient heats the air more.
TEST(Measured, EfficiencyActsOnTheRiseOfTheBlower) {
  auto build = sample_build();
  const auto rise_K = [&] {
    const auto& option = build.options.front();
    const auto flow = flow::Path(build, option, joint::fits(build, option)).solve(80);
    return flow.machines[1].outlet.total_temperature_K - flow.machines[1].inlet.total_temperature_K;
  };
  const double before = rise_K();
  build.measured = {{build::Coefficient::blower_adiabatic_efficiency, 0.8, 0.1}};
  EXPECT_GT(rise_K(), 1.15 * before);
}

} // namespace
} // namespace bellmouth::test
