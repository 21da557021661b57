// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/close.hpp"
#include "support/reference.hpp"

#include <bellmouth/joint/threads.hpp>

namespace bellmouth::joint {
namespace {

using test::close;

// Published value: tests/reference/threads.csv (ISO 724, ISO 228-1, ISO 7-1, ASME B1.20.1), to the tolerance
// of its header.
TEST(Threads, HaveTheDiametersOfTheStandards) {
  const auto rows = test::reference("threads.csv");
  EXPECT_EQ(threads().size(), rows.size());
  for (const auto& row : rows) {
    SCOPED_TRACE(row.text("designation"));
    const Thread* thread = find_thread(row.text("designation"));
    ASSERT_NE(thread, nullptr);
    EXPECT_TRUE(close(thread->major_diameter_m, row.number("major_d_mm") * 1e-3, 0, 2e-6));
    EXPECT_TRUE(close(thread->pitch_m, row.number("pitch_mm") * 1e-3, 0, 1e-7));
    EXPECT_TRUE(close(thread->pitch_diameter_m, row.number("pitch_d_mm") * 1e-3, 0, 2e-6));
    EXPECT_TRUE(close(thread->minor_diameter_m, row.number("minor_d_mm") * 1e-3, 0, 2e-6));
    ASSERT_EQ(thread->tap_drill_m.has_value(), row.has("tap_drill_mm"));
    if (thread->tap_drill_m) {
      EXPECT_TRUE(close(*thread->tap_drill_m, row.number("tap_drill_mm") * 1e-3, 0, 1e-4));
    }
  }
}

// Identity: the drill leaves a thread, so it lies between the minor and the major diameter; a taper may start
// a little below.
TEST(Threads, HaveADrillBetweenMinorAndMajorDiameter) {
  for (const Thread& thread : threads()) {
    SCOPED_TRACE(thread.designation);
    EXPECT_LT(thread.minor_diameter_m, thread.pitch_diameter_m);
    EXPECT_LT(thread.pitch_diameter_m, thread.major_diameter_m);
    if (thread.tap_drill_m) {
      EXPECT_GT(*thread.tap_drill_m, thread.minor_diameter_m - 0.3e-3);
      EXPECT_LT(*thread.tap_drill_m, thread.pitch_diameter_m);
    }
  }
}

TEST(Threads, AreFoundByEverySpellingInUse) {
  const std::pair<const char*, const char*> spellings[] = {
      {"M12x1.5", "M12x1.5"},   {"m12 x 1,5", "M12x1.5"},
      {"M12×1.5", "M12x1.5"},   {"M10x1.0", "M10x1"},
      {"M10 x 1", "M10x1"},     {"M20x1.50", "M20x1.5"},
      {"1/8 NPT", "1/8 NPT"},   {"1/8-27 NPT", "1/8 NPT"},
      {"1/8\" NPT", "1/8 NPT"}, {"NPT 1/4", "1/4 NPT"},
      {"1/4-27 NPT", nullptr},  {"1/8 NPTF", nullptr},
      {"G1/8", "G 1/8"},        {"g 1/8", "G 1/8"},
      {"1/8 BSPP", "G 1/8"},    {"Rc 1/8", "R/Rc 1/8"},
      {"R1/8", "R/Rc 1/8"},     {"1/8 bspt", "R/Rc 1/8"},
      {"R/Rc 3/8", "R/Rc 3/8"}, {"M12", nullptr},
      {"M12x1.75", nullptr},    {"", nullptr},
      {"M", nullptr},           {"1/8", nullptr},
      {"M10x1-25", nullptr},
  };
  for (const auto& [name, designation] : spellings) {
    SCOPED_TRACE(name);
    const Thread* thread = find_thread(name);
    ASSERT_EQ(thread != nullptr, designation != nullptr);
    if (thread != nullptr) {
      EXPECT_EQ(thread->designation, designation);
    }
  }
}

} // namespace
} // namespace bellmouth::joint
