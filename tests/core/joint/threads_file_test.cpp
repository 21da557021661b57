// SPDX-License-Identifier: GPL-3.0-or-later
// The table of threads that lies with the data is the one that the program works with.
#include "support/reference.hpp"

#include <bellmouth/joint/threads.hpp>

#include <gtest/gtest.h>

namespace bellmouth::joint {
namespace {

TEST(ThreadsFile, SaysWhatTheProgramSays) {
  const auto rows = test::table_at(std::string(BELLMOUTH_SHARED_DIR) + "/tables/threads.csv");
  ASSERT_EQ(rows.size(), threads().size());
  constexpr double rounding_m = 0.05e-6; // four decimals of a millimetre
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const Thread& thread = threads()[i];
    const test::Row& row = rows[i];
    EXPECT_EQ(row.text("designation"), thread.designation);
    EXPECT_EQ(row.text("form"), text(thread.form));
    EXPECT_EQ(row.text("source"), thread.source);
    EXPECT_NEAR(row.number("major_diameter_mm") / 1e3, thread.major_diameter_m, rounding_m);
    EXPECT_NEAR(row.number("pitch_mm") / 1e3, thread.pitch_m, rounding_m);
    EXPECT_NEAR(row.number("pitch_diameter_mm") / 1e3, thread.pitch_diameter_m, rounding_m);
    EXPECT_NEAR(row.number("minor_diameter_mm") / 1e3, thread.minor_diameter_m, rounding_m);
    ASSERT_EQ(row.has("tap_drill_mm"), thread.tap_drill_m.has_value());
    if (thread.tap_drill_m) {
      EXPECT_NEAR(row.number("tap_drill_mm") / 1e3, *thread.tap_drill_m, rounding_m);
    }
  }
}

} // namespace
} // namespace bellmouth::joint
