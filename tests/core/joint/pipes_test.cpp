// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/reference.hpp"

#include <bellmouth/joint/pipes.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

namespace bellmouth::joint {
namespace {

// Published values, recalled: the outside-diameter series of ISO 4200 and EN 10220 (see the table's header).
TEST(Pipes, HaveOutsideDiametersOfTheSeries) {
  const auto rows = test::reference("tube_od.csv");
  for (const PipeSize& pipe : pipe_sizes()) {
    const bool found = std::ranges::any_of(rows, [&](const test::Row& row) {
      return std::abs(row.number("od_mm") - pipe.outer_diameter_m * 1e3) < 1e-9;
    });
    EXPECT_TRUE(found) << pipe.outer_diameter_m * 1e3;
  }
  // Each first choice of the series from 30 to 115 mm is a pipe.
  for (const test::Row& row : rows)
    if (const double od_mm = row.number("od_mm"); row.text("series") == "1" && od_mm > 30) {
      EXPECT_NE(find_pipe(od_mm / 1e3), nullptr) << od_mm;
    }
}

// Worked: a "2 in pipe" measures 60.3 mm, a tube of 2 in 50.8 mm.
TEST(Pipes, AreFoundByTheirOutside) {
  ASSERT_NE(find_pipe(60.3e-3), nullptr);
  EXPECT_EQ(find_pipe(60.3e-3)->nominal_inch, "2");
  EXPECT_EQ(find_pipe(60.3e-3)->nominal_mm, 50);
  EXPECT_FALSE(find_pipe(60.3e-3)->also_tube);
  EXPECT_TRUE(find_pipe(76.2e-3)->also_tube);
  for (const double tube_mm : {38.1, 50.8, 57.0, 60.0, 63.5, 70.0})
    EXPECT_EQ(find_pipe(tube_mm / 1e3), nullptr) << tube_mm;
}

} // namespace
} // namespace bellmouth::joint
