// SPDX-License-Identifier: GPL-3.0-or-later
// Tees and wyes against tests/reference/tees.csv, tees_published.csv and worked_examples.csv.
#include "support/close.hpp"
#include "support/reference.hpp"

#include <bellmouth/loss/tee.hpp>

#include <gtest/gtest.h>

#include <cmath>
#include <iostream>
#include <map>
#include <numbers>
#include <string>

namespace bellmouth::loss {
namespace {

using test::close;
using test::Row;

constexpr double degree = std::numbers::pi / 180;
constexpr double bore_m = 0.06;

Tee tee(double angle_deg, double area_ratio, bool rounded = false) {
  return {angle_deg * degree, bore_m, bore_m * std::sqrt(area_ratio), bore_m, rounded};
}

using Leg = Coefficient (*)(const Tee&, double);
Leg leg(const std::string& flow, const std::string& path) {
  const bool combining = flow == "converging" || flow == "joining";
  if (path == "run")
    return combining ? combining_run : dividing_run;
  return combining ? combining_branch : dividing_branch;
}

bool inside(const Coefficient& k, double published) {
  return k.low <= published + 1e-6 && published <= k.high + 1e-6;
}

// Published values: Idelchik's column of tees.csv, every row, to the tolerance of the file; Crane's column
// lies in the band, but for the rows that the file marks as suspect. Why those are: at 60 degrees the library
// takes the square tee's formula with no cosine; in the square tee of equal bores it multiplies two factors
// (1 + 0.3 q^2), where one gives the 1.30 of the classical tables. Both are checked, so that a corrected
// table shows.
TEST(Tee, OfTheReferenceTable) {
  int rows = 0, suspect = 0, crane_inside = 0;
  for (const Row& row : test::reference("tees.csv")) {
    ++rows;
    const double q = row.number("q"), a = row.number("area_ratio"), crane = row.number("K_Crane");
    const double angle_deg = row.number("angle_deg");
    const Coefficient k = leg(row.text("flow"), row.text("path"))(tee(angle_deg, a), q);
    EXPECT_NEAR(k.value, row.number("K_Idelchik"), 1e-4 * std::max(1.0, std::abs(k.value)))
        << row.text("row_id");
    EXPECT_FALSE(k.outside_range);
    if (row.text("note").starts_with("SUSPECT")) {
      ++suspect;
      const double ratio = q / a;
      if (angle_deg == 60)
        EXPECT_TRUE(close(crane, (q <= 0.6 ? 1 - 0.6 * q : 0.6) * (1 + 0.3 * ratio * ratio), 1e-6))
            << row.text("row_id");
      else
        EXPECT_TRUE(close(crane, std::pow(1 + 0.3 * q * q, 2), 1e-6)) << row.text("row_id");
      continue;
    }
    crane_inside += inside(k, crane);
  }
  EXPECT_EQ(rows, 336);
  EXPECT_EQ(suspect, 21);
  std::cout << "Crane's tees inside the band: " << crane_inside << " of " << rows - suspect << '\n';
  EXPECT_EQ(crane_inside, rows - suspect);
}

// Published values: Crane's printed answers to the row's tolerance (0.001 in K at least), the classical tee
// numbers and the straight legs in their notes inside the band.
TEST(Tee, Published) {
  int printed = 0, classical = 0;
  for (const Row& row : test::reference("tees_published.csv")) {
    const auto of = leg(row.text("flow"), row.text("path"));
    const Tee shape = tee(row.number("angle_deg"), row.number("area_ratio"));
    // The flows of the printed answers are 1135 + 380 L/min.
    const double q = row.number("q") == 0.25 ? 380.0 / 1515 : row.number("q");
    const Coefficient k = of(shape, q);
    if (row.text("class") == "a") {
      ++printed;
      EXPECT_NEAR(k.value, row.number("K"), 1e-3) << row.text("row_id");
      continue;
    }
    ++classical;
    EXPECT_TRUE(inside(k, row.number("K"))) << row.text("row_id") << ' ' << k.value;
    const std::string& source = row.text("source");
    const auto straight = source.find("straight ");
    ASSERT_NE(straight, std::string::npos) << row.text("row_id");
    const double through = std::stod(source.substr(straight + 9));
    EXPECT_TRUE(inside(leg(row.text("flow"), "run")(shape, q), through)) << row.text("row_id");
  }
  EXPECT_EQ(printed, 4);
  EXPECT_EQ(classical, 6);
}

// Published values: worked examples W49 (joining square tee) and W50 (splitting 45 degree wye).
TEST(Tee, WorkedExamples) {
  const double joining = 380.0 / 1515, splitting = 950.0 / 2465;
  const std::map<std::string, double> answers{{"W491", combining_branch(tee(90, 1), joining).value},
                                              {"W492", combining_run(tee(90, 1), joining).value},
                                              {"W501", dividing_branch(tee(45, 1), splitting).value},
                                              {"W502", dividing_run(tee(45, 1), splitting).value}};
  int found = 0;
  for (const Row& row : test::reference("worked_examples.csv")) {
    const auto answer = answers.find(row.text("ex_id") + row.text("n"));
    if (answer == answers.end())
      continue;
    ++found;
    EXPECT_TRUE(close(answer->second, row.number("published"), row.number("rtol"))) << answer->first;
    EXPECT_TRUE(close(answer->second, row.number("recomputed"), 1e-3)) << answer->first;
  }
  EXPECT_EQ(found, 4);
}

// Identity: no branch flow, no loss in the run; continuous in q and in the angle; a rounded corner loses
// less; the band widens outside the range.
TEST(Tee, Limits) {
  for (const double angle_deg : {30.0, 45.0, 60.0, 75.0, 90.0})
    for (const double a : {0.2, 0.5, 1.0}) {
      const Tee shape = tee(angle_deg, a);
      EXPECT_NEAR(combining_run(shape, 0).value, 0, 1e-12);
      EXPECT_NEAR(dividing_run(shape, 0).value, 0, 1e-12);
      for (const Leg of : {combining_branch, combining_run, dividing_branch, dividing_run})
        for (double q = 0; q < 0.999; q += 0.001) {
          const double step = of(shape, q + 0.001).value - of(shape, q).value;
          EXPECT_LT(std::abs(step), 0.08) << angle_deg << ' ' << a << ' ' << q;
          EXPECT_LE(of(tee(angle_deg, a, true), q).value, of(shape, q).value);
        }
      EXPECT_LT(
          std::abs(combining_run(tee(angle_deg + 1e-6, a), 0.5).value - combining_run(shape, 0.5).value),
          1e-5);
    }
  Tee uneven = tee(90, 0.5);
  uneven.bore_run_m = 0.05;
  EXPECT_TRUE(dividing_branch(uneven, 0.5).outside_range);
  EXPECT_GT(dividing_branch(uneven, 0.5).high, dividing_branch(tee(90, 0.5), 0.5).high);
  EXPECT_TRUE(dividing_branch(tee(20, 0.5), 0.5).outside_range);
}

// Published values: Idelchik's diagram 7-29, the square tee with opposite legs (formulas as in the public
// library FluidDissipation, dp_Tjoin_symmetric and dp_Tsplit_symmetric): joining at equal and at
// single-legged flow the same before its factor A, splitting inside the band from its k = 0.3 (rounded)
// to 1.5.
TEST(Wye, SquareIsTheDiagram) {
  const auto bracket = [](double q, double a) { return 1 + 1 / (a * a) + 3 * (q * q - q) / (a * a); };
  for (const double a : {0.3, 0.5, 0.8, 1.0}) {
    const Wye square{90 * degree, bore_m, bore_m * std::sqrt(a)};
    const double factor = a <= 0.35 ? 1 : 0.55;
    for (const double q : {0.5, 1.0})
      EXPECT_TRUE(close(combining_leg(square, q).value, factor * bracket(q, a), 1e-9)) << a << ' ' << q;
    const Wye rounded{90 * degree, bore_m, bore_m * std::sqrt(a), true};
    for (const double q : {0.3, 0.5, 1.0}) {
      const double ratio = q / a;
      EXPECT_TRUE(close(dividing_leg(rounded, q).value, 1 + 0.3 * ratio * ratio, 1e-9));
      EXPECT_TRUE(inside(dividing_leg(square, q), 1 + 1.5 * ratio * ratio)) << a << ' ' << q;
      EXPECT_GE(dividing_leg(rounded, q).high, 1);
    }
  }
}

// Closed form: momentum of two jets that join in line without change of area loses nothing.
TEST(Wye, InLineLosesNothing) {
  const Wye narrow{0.001, bore_m, bore_m / std::numbers::sqrt2};
  EXPECT_NEAR(combining_leg(narrow, 0.5).value, 0, 1e-5);
  EXPECT_TRUE(combining_leg(narrow, 0.5).outside_range);
}

} // namespace
} // namespace bellmouth::loss
