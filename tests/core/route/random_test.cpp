// SPDX-License-Identifier: GPL-3.0-or-later
// Runs that once met their port, put out of place, must meet it again.
#include "support/random_chains.hpp"

#include <gtest/gtest.h>

namespace bellmouth::test {
namespace {

using route::Freedom;

constexpr int problems = 5000;

/// Every size that may move lies within its limits, and every other is as it was.
void expect_within_limits(const Disturbed& problem, const build::Run& found, int number) {
  const build::Run& given = the_run(problem.build);
  ASSERT_EQ(found.pieces.size(), given.pieces.size());
  build::Run rest = found;
  for (const Freedom& each : problem.freedoms) {
    build::Shape& shape = rest.pieces[each.row].shape;
    const double size = *route::value(shape, each.what);
    EXPECT_GE(size, each.low) << "problem " << number << " row " << each.row;
    EXPECT_LE(size, each.high) << "problem " << number << " row " << each.row;
    shape = route::with_value(shape, each.what, *route::value(given.pieces[each.row].shape, each.what));
  }
  EXPECT_EQ(rest, given) << "problem " << number;
}

// Other method: the end is worked out with rotation matrices from the sizes that were found.
TEST(RandomRuns, MeetTheirPortAgain) {
  Disturber disturber(20260);
  const route::Wanted wanted{.keep_clear = false, .help = false};
  int met = 0;
  for (int number = 0; number < problems; ++number) {
    const Disturbed problem = disturber.next();
    const auto& ports = problem.build.ports;
    const bay::Meeting before =
        off_port(run_end(*ports[0].pose, the_run(problem.build).pieces), *ports[1].pose);
    const route::Met found = route::meet(problem.build, {"only"}, {"run"}, problem.freedoms, wanted);
    const bay::Meeting after = off_port(run_end(*ports[0].pose, the_run(found.build).pieces), *ports[1].pose);
    met += found.met();
    EXPECT_EQ(found.met(), after.gap_m <= 0.1e-3 && after.angle_rad <= deg(0.05)) << "problem " << number;
    EXPECT_NEAR(found.before->gap_m, before.gap_m, 1e-9) << "problem " << number;
    EXPECT_NEAR(found.after->gap_m, after.gap_m, 1e-9) << "problem " << number;
    EXPECT_NEAR(found.after->angle_rad, after.angle_rad, 1e-7) << "problem " << number;
    expect_within_limits(problem, the_run(found.build), number);
  }
  EXPECT_GE(met, problems * 999 / 1000) << "of " << problems;
}

// Identity: the problems are not met as they are given.
TEST(RandomRuns, AreOutOfPlaceAtFirst) {
  Disturber disturber(20260);
  int far = 0;
  for (int number = 0; number < 500; ++number) {
    const Disturbed problem = disturber.next();
    const auto& ports = problem.build.ports;
    far += off_port(run_end(*ports[0].pose, the_run(problem.build).pieces), *ports[1].pose).gap_m > 5e-3;
    EXPECT_GE(problem.freedoms.size(), 6U);
    EXPECT_FALSE(route::validate(the_run(problem.build), problem.freedoms)) << number;
    EXPECT_FALSE(build::validate(problem.build)) << number;
  }
  EXPECT_GE(far, 490);
}

// Identity: the same question has the same answer, and what was met needs no change.
TEST(RandomRuns, AreMetOnceForAll) {
  Disturber disturber(7);
  const route::Wanted wanted{.keep_clear = false, .help = false};
  for (int number = 0; number < 100; ++number) {
    const Disturbed problem = disturber.next();
    const route::Met once = route::meet(problem.build, {"only"}, {"run"}, problem.freedoms, wanted);
    EXPECT_EQ(once.build, route::meet(problem.build, {"only"}, {"run"}, problem.freedoms, wanted).build);
    const route::Met again = route::meet(once.build, {"only"}, {"run"}, problem.freedoms, wanted);
    EXPECT_EQ(again.build, once.build);
    EXPECT_TRUE(again.changes.empty());
  }
}

} // namespace
} // namespace bellmouth::test
