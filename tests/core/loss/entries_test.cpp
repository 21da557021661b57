// SPDX-License-Identifier: GPL-3.0-or-later
// Entries and exits against tests/reference/entrances_exits.csv.
#include "support/close.hpp"
#include "support/reference.hpp"
#include "tally.hpp"

#include <bellmouth/loss.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <string>

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

// Published value: flush 0.50 by four methods of six; the others are in the band.
TEST(Entry, FlushSharp) {
  const Law flush = law(Entry{EntryKind::flush});
  int exact = 0, rows = 0;
  for (const Row& row : test::reference("entrances_exits.csv")) {
    if (row.text("kind") != "flush sharp")
      continue;
    ++rows;
    exact += flush.at(0.02) == row.number("K");
    EXPECT_LE(flush.low(0.02), row.number("K"));
    EXPECT_GE(flush.high(0.02), row.number("K"));
  }
  EXPECT_EQ(rows, 6);
  EXPECT_EQ(exact, 4);
}

Law projecting(double projection_ratio, double wall_ratio) {
  Entry entry{EntryKind::projecting};
  entry.projection_ratio = projection_ratio;
  entry.wall_ratio = wall_ratio;
  return law(entry);
}

// Published values: Idelchik's tables, every row; Rennels' and Miller's rows all lie in the band.
TEST(Entry, Projecting) {
  int near_wall = 0, far_out = 0, others = 0;
  for (const Row& row : test::reference("entrances_exits.csv")) {
    const std::string& kind = row.text("kind");
    if (kind == "projecting pipe") {
      ++near_wall;
      const double wall = std::stod(row.text("parameter").substr(4)); // "t/D=0.02; L_over_D"
      EXPECT_TRUE(close(projecting(row.number("value"), wall).at(0), row.number("K"), 1e-9))
          << row.text("row_id");
    } else if (kind.starts_with("projecting (re-entrant)")) {
      const Law out = projecting(1, row.number("value"));
      if (row.text("method") == "Idelchik") {
        ++far_out;
        EXPECT_TRUE(close(out.at(0), row.number("K"), 1e-9)) << row.text("row_id");
        continue;
      }
      ++others;
      EXPECT_LE(out.low(0), row.number("K")) << row.text("row_id");
      EXPECT_GE(out.high(0), row.number("K")) << row.text("row_id");
    }
  }
  EXPECT_EQ(near_wall, 21);
  EXPECT_EQ(far_out, 10);
  EXPECT_EQ(others, 20);
}

Law bevelled(double angle_deg, double length_ratio) {
  Entry entry{EntryKind::bevelled};
  entry.bevel_angle_rad = angle_deg * std::numbers::pi / 180;
  entry.bevel_length_ratio = length_ratio;
  return law(entry);
}

// Published values: Idelchik's table, every row. Pinned own value: how much of the others lies in the band;
// Rennels & Hudson's formula leaves it above as the bevel gets longer.
TEST(Entry, Bevelled) {
  int idelchik = 0;
  std::map<std::string, Tally> tallies;
  for (const Row& row : test::reference("entrances_exits.csv")) {
    const std::string& kind = row.text("kind");
    if (kind == "flush bevelled") {
      const Law bevel = bevelled(std::stod(row.text("parameter").substr(6)), row.number("value"));
      if (row.text("method") == "Idelchik") {
        ++idelchik;
        EXPECT_TRUE(close(bevel.at(0), row.number("K"), 1e-6)) << row.text("row_id");
      } else {
        tallies[row.text("method")].add(bevel, 0, row.number("K"));
      }
    } else if (kind.starts_with("Miller chart: bevelled")) {
      const double angle_deg = std::stod(kind.substr(23));
      tallies[row.text("method")].add(bevelled(angle_deg, std::max(0.0, row.number("value"))), 0,
                                      row.number("K"));
    }
  }
  EXPECT_EQ(idelchik, 16);
  const std::map<std::string, Tally> wanted{{"Miller chart", {18, 18}}, {"Rennels", {9, 16}}};
  EXPECT_EQ(tallies, wanted);
  EXPECT_EQ(bevelled(45, 0).at(0), law(Entry{EntryKind::flush}).at(0));
  EXPECT_TRUE(bevelled(45, 0.7).outside_range);
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

// Identity: every row of the file is read by a test of this file.
TEST(Entry, EveryRowHasAReader) {
  for (const Row& row : test::reference("entrances_exits.csv")) {
    const std::string& kind = row.text("kind");
    EXPECT_TRUE(kind.starts_with("free bellmouth") || kind.starts_with("flush ") ||
                kind.starts_with("projecting") || kind.starts_with("exit") ||
                kind.starts_with("Miller chart"))
        << kind;
  }
}

// Other method: the kinetic-energy factor of a logarithmic profile, u / V = 1 + sqrt(f / 8) (2.5 ln(y / R)
// + 3.75), integrated over the pipe, to 1 %; and of the parabola, which is 2.
TEST(Exit, KineticEnergyOfTheProfile) {
  constexpr int rings = 200'000;
  for (const double f : {0.01, 0.02, 0.03, 0.04}) {
    double energy = 0, parabola = 0;
    for (int i = 0; i < rings; ++i) {
      const double y = (i + 0.5) / rings, r = 1 - y;
      energy += std::pow(std::max(0.0, 1 + std::sqrt(f / 8) * (2.5 * std::log(y) + 3.75)), 3) * 2 * r / rings;
      parabola += std::pow(2 * (1 - r * r), 3) * 2 * r / rings;
    }
    EXPECT_TRUE(close(law(Exit{ExitProfile::turbulent}).at(f), energy, 0.01)) << f << ' ' << energy;
    EXPECT_TRUE(close(law(Exit{ExitProfile::laminar}).at(f), parabola, 1e-6));
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
