// SPDX-License-Identifier: GPL-3.0-or-later
// Entries and exits against tests/reference/entrances_exits.csv.
#include "support/close.hpp"
#include "support/reference.hpp"
#include "tally.hpp"

#include <bellmouth/loss.hpp>

#include <map>

namespace bellmouth::loss {
namespace {

using test::close;
using test::Row;

Law bellmouth(double radius_ratio, bool in_wall) {
  return law(Entry{EntryKind::bellmouth, radius_ratio, in_wall});
}

// Published value: Idelchik's tables, every row. In the wall, two rows lie between the table's points, where
// the library rounds the corners by a spline: 7 %.
TEST(Bellmouth, IsTheTableItNames) {
  int free = 0, wall = 0;
  for (const Row& row : test::reference("entrances_exits.csv")) {
    const std::string& kind = row.text("kind");
    if (kind.starts_with("free bellmouth")) {
      ++free;
      EXPECT_TRUE(close(bellmouth(row.number("value"), false).at(0.02), row.number("K"), 1e-9))
          << row.text("row_id");
    } else if (kind.starts_with("flush rounded") && row.text("method") == "Idelchik") {
      ++wall;
      const double r = row.number("value");
      const double tolerance = r == 0.10 || r == 0.14 ? 0.07 : 1e-9;
      EXPECT_TRUE(close(bellmouth(r, true).at(0.02), row.number("K"), tolerance)) << row.text("row_id");
    }
  }
  EXPECT_EQ(free, 12);
  EXPECT_EQ(wall, 15);
}

// Pinned own value, against published correlations: how many lie within -0.02/+0.08 of the table.
TEST(Bellmouth, BandAgainstOtherCorrelations) {
  std::map<std::string, Tally> tallies;
  for (const Row& row : test::reference("entrances_exits.csv")) {
    const bool chart = row.text("kind") == "Miller chart: rounded, r_over_D";
    if ((!row.text("kind").starts_with("flush rounded") && !chart) || row.text("method") == "Idelchik")
      continue;
    tallies[row.text("method")].add(bellmouth(std::max(0.0, row.number("value")), true), 0.02,
                                    row.number("K"));
  }
  const std::map<std::string, Tally> wanted{{"Crane", {7, 15}},   {"Harris", {0, 15}},
                                            {"Miller", {11, 15}}, {"Miller chart", {7, 9}},
                                            {"Rennels", {9, 15}}, {"Swamee", {15, 15}}};
  EXPECT_EQ(tallies, wanted);
}

// Published values: flush 0.50 by four methods of six; projecting 1.0 for a thin wall reaching half a bore or
// more.
TEST(Entry, SharpEdges) {
  const Law flush = law(Entry{EntryKind::flush});
  const Law projecting = law(Entry{EntryKind::projecting});
  int exact = 0, rows = 0, thin = 0;
  for (const Row& row : test::reference("entrances_exits.csv")) {
    if (row.text("kind") == "flush sharp") {
      ++rows;
      exact += flush.at(0.02) == row.number("K");
      EXPECT_LE(flush.low(0.02), row.number("K"));
      EXPECT_GE(flush.high(0.02), row.number("K"));
    } else if (row.text("kind") == "projecting pipe" && row.text("parameter").starts_with("t/D=0; ") &&
               row.number("value") >= 0.5) {
      ++thin;
      EXPECT_EQ(projecting.at(0.02), row.number("K"));
    } else if (row.text("kind").starts_with("projecting (re-entrant)") && row.number("value") == 0) {
      ++thin; // Rennels 1.12, Miller 1.14, Idelchik 1.0
      EXPECT_LE(projecting.low(0.02), row.number("K"));
      EXPECT_GE(projecting.high(0.02), row.number("K"));
    }
  }
  EXPECT_EQ(rows, 6);
  EXPECT_EQ(exact, 4);
  EXPECT_EQ(thin, 5);
}

// Identity: a lip of no radius is a sharp edge: flush in a wall, projecting in the open.
TEST(Bellmouth, WithoutRadiusIsSharp) {
  EXPECT_EQ(bellmouth(0, true).constant, law(Entry{EntryKind::flush}).constant);
  EXPECT_EQ(bellmouth(0, false).constant, law(Entry{EntryKind::projecting}).constant);
  for (double r = 0; r < 0.3; r += 0.005) {
    EXPECT_LE(bellmouth(r + 0.005, true).constant, bellmouth(r, true).constant);
    EXPECT_LE(bellmouth(r, true).constant, bellmouth(r, false).constant);
    // -0.02/+0.08 in K, as stated
    EXPECT_NEAR(bellmouth(r, true).high(0.02), bellmouth(r, true).constant + 0.08, 1e-12);
    EXPECT_NEAR(bellmouth(r, true).low(0.02), bellmouth(r, true).constant - 0.02, 1e-12);
  }
}

// Closed form and published value: the kinetic energy of the stream, 1.06 in Cengel & Cimbala, example 8-8.
TEST(Exit, LosesTheVelocity) {
  const Law exit = law(Exit{});
  EXPECT_EQ(exit.at(0.02), 1);
  EXPECT_EQ(exit.low(0.02), 1);
  int rows = 0;
  for (const Row& row : test::reference("entrances_exits.csv")) {
    if (!row.text("kind").starts_with("exit"))
      continue;
    ++rows;
    EXPECT_GE(row.number("K"), exit.low(0.02));
    EXPECT_LE(row.number("K"), exit.high(0.02));
  }
  EXPECT_EQ(rows, 2);
}

} // namespace
} // namespace bellmouth::loss
