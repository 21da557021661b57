// SPDX-License-Identifier: GPL-3.0-or-later
// Cones and steps against tests/reference/contractions.csv, contractions_rounded.csv, diffusers.csv,
// diffusers_published.csv and step_joints.csv.
#include "support/close.hpp"
#include "support/reference.hpp"
#include "tally.hpp"

#include <bellmouth/loss.hpp>

#include <map>
#include <numbers>

namespace bellmouth::loss {
namespace {

using test::close;
using test::Row;

constexpr double degree = std::numbers::pi / 180;
constexpr double small_bore = 0.05;

double cone_length(double beta, double angle_deg) {
  return small_bore * (1 / beta - 1) / 2 / std::tan(angle_deg / 2 * degree);
}

Law contraction_of(const Row& row) {
  const double large = small_bore / row.number("beta");
  if (row.text("kind") == "sharp")
    return law(Step{large, small_bore});
  return law(Cone{large, small_bore, cone_length(row.number("beta"), row.number("angle_deg"))});
}

Law diffuser_of(const Row& row) {
  const double large = small_bore / row.number("beta");
  if (row.text("kind") != "conical")
    return law(Step{small_bore, large});
  return law(Cone{small_bore, large, cone_length(row.number("beta"), row.number("angle_deg"))});
}

// Other method: the same correlation as a library computes it, to the seven figures printed.
TEST(Contraction, IsTheCorrelationItNames) {
  const auto rows = test::reference("contractions.csv");
  EXPECT_EQ(rows.size(), 112u);
  for (const Row& row : rows) {
    const Law law = contraction_of(row);
    EXPECT_EQ(law.basis, Basis::outlet);
    EXPECT_TRUE(close(law.at(darcy_friction_factor(row.number("Re2"), 0)), row.number("K_Rennels"), 1e-6))
        << row.text("row_id");
  }
}

// Other method: the library's figures of the same correlation, every row; a sharp edge is a step.
TEST(RoundedContraction, IsTheCorrelationItNames) {
  const auto rows = test::reference("contractions_rounded.csv");
  EXPECT_EQ(rows.size(), 36u);
  std::map<std::string, Tally> tallies;
  for (const Row& row : rows) {
    const double large = small_bore / row.number("beta");
    const Law rounded = law(RoundedContraction{large, small_bore, row.number("r_over_d2") * small_bore});
    EXPECT_EQ(rounded.basis, Basis::outlet);
    EXPECT_FALSE(rounded.outside_range);
    EXPECT_TRUE(close(rounded.at(0.02), row.number("K_Rennels"), 1e-6)) << row.text("row_id");
    if (row.number("r_over_d2") == 0) {
      EXPECT_TRUE(close(rounded.constant, law(Step{large, small_bore}).constant, 1e-12));
    }
    for (const char* other : {"K_Miller", "K_Idelchik"})
      if (row.has(other))
        tallies[other].add(rounded, 0.02, row.number(other));
  }
  for (const auto& [source, tally] : tallies)
    print_share("rounded contractions, " + source, tally);
  EXPECT_EQ(tallies, (std::map<std::string, Tally>{{"K_Idelchik", {36, 36}}, {"K_Miller", {28, 28}}}));
}

// Identity: never below zero, falling as the edge is rounded, flat beyond the small bore.
TEST(RoundedContraction, FallsAsTheEdgeIsRounded) {
  for (double beta = 0.1; beta < 0.995; beta += 0.05) {
    const auto loss_at = [beta](double ratio) {
      return law(RoundedContraction{1 / beta, 1, ratio}).constant;
    };
    for (double ratio = 0; ratio < 1; ratio += 0.05) {
      EXPECT_GT(loss_at(ratio), 0);
      EXPECT_LT(loss_at(ratio + 0.05), loss_at(ratio)) << beta << ' ' << ratio;
    }
    EXPECT_EQ(loss_at(1), loss_at(2));
    EXPECT_TRUE(law(RoundedContraction{1 / beta, 1, 1.01}).outside_range);
  }
}

TEST(Diffuser, IsTheCorrelationItNames) {
  const auto rows = test::reference("diffusers.csv");
  EXPECT_EQ(rows.size(), 55u);
  for (const Row& row : rows) {
    const Law law = diffuser_of(row);
    EXPECT_EQ(law.basis, Basis::inlet);
    const char* column = row.text("kind") == "conical" ? "K_Rennels" : "K_BordaCarnot";
    EXPECT_TRUE(close(law.at(darcy_friction_factor(row.number("Re1"), 0)), row.number(column), 1e-6))
        << row.text("row_id");
  }
}

// Pinned own value, against published correlations: how many lie inside the stated band. Crane's formula for
// converging cones is two to three times every other and lies outside nearly everywhere.
TEST(Contraction, BandAgainstOtherCorrelations) {
  std::map<std::string, Tally> tallies;
  for (const Row& row : test::reference("contractions.csv")) {
    const Law law = contraction_of(row);
    const double friction = darcy_friction_factor(row.number("Re2"), 0);
    for (const char* other : {"K_Crane", "K_Miller", "K_Idelchik", "K_median4"})
      if (row.has(other))
        tallies[row.text("kind") + ' ' + other].add(law, friction, row.number(other));
  }
  const std::map<std::string, Tally> wanted{{"conical K_Crane", {44, 98}},  {"conical K_Idelchik", {56, 98}},
                                            {"conical K_Miller", {92, 98}}, {"conical K_median4", {88, 98}},
                                            {"sharp K_Crane", {10, 14}},    {"sharp K_Idelchik", {10, 14}},
                                            {"sharp K_Miller", {14, 14}},   {"sharp K_median4", {14, 14}}};
  EXPECT_EQ(tallies, wanted);
}

// The same against the library and against published chart points and textbook answers, of which 19 in 20 lie
// inside the band. The one far outside is a diffuser that blows into the open, another object.
TEST(Diffuser, BandHoldsPublishedPoints) {
  std::map<std::string, Tally> tallies;
  Tally published, inside, outside;
  for (const Row& row : test::reference("diffusers.csv")) {
    const Law law = diffuser_of(row);
    const double friction = darcy_friction_factor(row.number("Re1"), 0);
    for (const char* other : {"K_Crane", "K_Miller", "K_Idelchik", "K_median4"})
      if (row.has(other))
        tallies[row.text("kind") + ' ' + other].add(law, friction, row.number(other));
  }
  for (const Row& row : test::reference("diffusers_published.csv")) {
    const double large = small_bore * std::sqrt(row.number("area_ratio"));
    const Law law = loss::law(Cone{small_bore, large, row.number("L_over_R1") * small_bore / 2});
    const bool chart = row.text("source").starts_with("Miller");
    published.add(law, 0.015, row.number("K"));
    (law.outside_range ? outside : inside).add(law, 0.015, row.number("K"));
    tallies[chart ? "chart" : "textbook"].add(law, 0.015, row.number("K"));
  }
  print_share("diffusers inside the range", inside);
  print_share("diffusers outside the range", outside);
  print_share("diffusers, all published points", published);
  EXPECT_GE(published.share(), 0.95);
  const std::map<std::string, Tally> wanted{{"chart", {83, 84}},
                                            {"textbook", {1, 2}},
                                            {"conical K_Crane", {50, 50}},
                                            {"conical K_Idelchik", {30, 30}},
                                            {"conical K_Miller", {40, 40}},
                                            {"conical K_median4", {50, 50}},
                                            {"sudden K_Crane", {5, 5}},
                                            {"sudden K_Idelchik", {2, 3}},
                                            {"sudden K_median4", {5, 5}}};
  EXPECT_EQ(tallies, wanted);
}

// Published value: Fox & McDonald, example 8.10: a diffuser of area ratio 2 behind a nozzle lets more flow
// through at one head. The book's coefficients for entry and diffuser; ours for the exits.
TEST(Diffuser, WorkedExample) {
  int rows = 0;
  for (const Row& row : test::reference("worked_examples.csv")) {
    if (row.text("ex_id") != "W27")
      continue;
    ++rows;
    const double entry = law(Fixed{0.04, 0}).at(0), diffuser = law(Fixed{0.30, 0}).at(0);
    const double exit = law(Exit{}).at(0), slower = 0.5 * 0.5;
    const double more = std::sqrt((entry + exit) / (entry + diffuser + exit * slower));
    EXPECT_TRUE(close(100 * (more - 1), row.number("published"), row.number("rtol")));
  }
  EXPECT_EQ(rows, 1);
}

// Other method: library values of steps and of the long gap under a hose, the latter as an upper bound from
// two steps.
TEST(Step, JointsOfTheTable) {
  int steps = 0, gaps = 0;
  for (const Row& row : test::reference("step_joints.csv")) {
    const std::string& kind = row.text("kind");
    if (!row.has("d1_mm"))
      continue;
    const double d1 = row.number("d1_mm") / 1e3;
    const double d2 = row.number("d2_mm") / 1e3;
    if (kind.starts_with("step")) {
      ++steps;
      const Law step = law(Step{d1, d2});
      EXPECT_EQ(step.basis, d2 < d1 ? Basis::outlet : Basis::inlet);
      EXPECT_TRUE(close(step.at(0.02), row.number("K"), 1e-6)) << row.text("row_id");
      if (d2 < d1 && d2 / d1 > 0.85 && d2 / d1 < 0.95) {
        EXPECT_GE(step.high(0.02), row.number("K_alt")) << row.text("row_id");
      }
    } else {
      ++gaps;
      EXPECT_TRUE(close(law(Step{d1, d2}).at(0.02) + law(Step{d2, d1}).at(0.02), row.number("K"), 1e-6))
          << row.text("row_id");
    }
  }
  EXPECT_EQ(steps, 14);
  EXPECT_EQ(gaps, 5);
}

// Identity: equal bores lose nothing but friction; a cone without length is a step.
TEST(Cone, Limits) {
  const Law straight = law(Cone{0.06, 0.06, 0.3});
  EXPECT_EQ(straight.constant, 0);
  EXPECT_DOUBLE_EQ(straight.per_friction, 5);
  EXPECT_EQ(straight.band_absolute, 0);
  EXPECT_EQ(law(Step{0.06, 0.06}).at(0.02), 0);
  EXPECT_EQ(law(Step{0.06, 0.06}).high(0.02), 0);
  for (const auto& [in, out] :
       {std::pair{0.06, 0.05}, std::pair{0.05, 0.06}, std::pair{0.09, 0.03}, std::pair{0.03, 0.09}}) {
    EXPECT_EQ(law(Cone{in, out, 0}).constant, law(Step{in, out}).constant);
    // Towards no length: the contraction runs into the step, the diffuser to within a few parts in a hundred
    // of it.
    EXPECT_TRUE(
        close(law(Cone{in, out, 1e-9}).constant, law(Step{in, out}).constant, in > out ? 1e-6 : 0.025));
  }
  // Towards equal bores: the friction runs into that of a straight, the rest to zero.
  for (const double d : {1e-3, 1e-6, 1e-9})
    for (const double out : {0.06 + d, 0.06 - d}) {
      const Law cone = law(Cone{0.06, out, 0.3});
      EXPECT_TRUE(close(cone.per_friction, 5, 60 * d));
      EXPECT_LT(cone.constant, 2 * d / 0.06);
      EXPECT_LE(cone.band_absolute, 2 * d / 0.06);
    }
}

// Closed form: wall friction, the integral of f/d (d_small/d)^4 dx along the cone, by Simpson's rule.
TEST(Cone, FrictionIsTheIntegralAlongTheWall) {
  const double small = 0.05, large = 0.08, length = 0.4;
  double integral = 0;
  const int n = 1000;
  for (int i = 0; i <= n; ++i) {
    const double d = small + (large - small) * i / n;
    integral += (i == 0 || i == n ? 1 : i % 2 ? 4 : 2) * std::pow(small / d, 4) / d;
  }
  integral *= length / n / 3;
  // The correlation counts the slant, not the axial length: 1/cos of half the angle more.
  const double slant = std::hypot(length, (large - small) / 2) / length;
  EXPECT_TRUE(close(law(Cone{large, small, length}).per_friction, integral * slant, 1e-9));
  EXPECT_TRUE(close(law(Cone{small, large, length}).per_friction, integral * slant, 1e-9));
}

// Identity: any included angle from 0 to 180 degrees, any ratio of bores from 0.1 to 1, both ways: finite,
// not below zero, with a band on both sides; and without steps in the band as the area ratio passes 2
// and 2.5.
TEST(Cone, TakesAnyShape) {
  for (double beta = 0.1; beta < 1; beta += 0.01)
    for (double angle = 0.5; angle < 180; angle += 1.5)
      for (const bool widens : {false, true}) {
        const double large = small_bore / beta, length = cone_length(beta, angle);
        const Law law = loss::law(widens ? Cone{small_bore, large, length} : Cone{large, small_bore, length});
        const double k = law.at(0.015);
        EXPECT_TRUE(std::isfinite(k) && k > 0) << beta << ' ' << angle << ' ' << widens;
        EXPECT_GT(law.high(0.015), k);
        EXPECT_LT(law.low(0.015), k);
        EXPECT_FALSE(law.range.empty());
      }
  for (const double area_ratio : {2.0, 2.5})
    for (const double angle : {8.0, 14.0, 30.0}) {
      const auto band = [angle](double ratio) {
        const double beta = 1 / std::sqrt(ratio);
        return law(Cone{small_bore, small_bore / beta, cone_length(beta, angle)}).band_high;
      };
      EXPECT_NEAR(band(area_ratio - 1e-7), band(area_ratio + 1e-7), 1e-4);
    }
}

// Identity: a cone loses no more than 21 % over the step it replaces (stalled diffusers exceed Borda-Carnot
// by 20.5 %, as measured), a gentle one far less; and the pieces of the formula meet.
TEST(Cone, AgainstTheStep) {
  for (double beta = 0.3; beta < 0.99; beta += 0.03)
    for (double angle = 4; angle < 180; angle += 4) {
      const double large = small_bore / beta;
      const double length = cone_length(beta, angle);
      const double sudden = law(Step{small_bore, large}).constant;
      EXPECT_LE(law(Cone{small_bore, large, length}).constant, 1.206 * sudden) << beta << ' ' << angle;
      EXPECT_LE(law(Cone{large, small_bore, length}).constant,
                law(Step{large, small_bore}).constant * (1 + 1e-12));
      if (angle <= 12) {
        EXPECT_LT(law(Cone{small_bore, large, length}).constant, 0.2 * sudden);
      }
    }
  for (const double beta : {0.4, 0.6, 0.8})
    for (const double joint : {20.0, 60.0}) {
      const double large = small_bore / beta;
      const double below = law(Cone{small_bore, large, cone_length(beta, joint - 1e-6)}).constant;
      const double above = law(Cone{small_bore, large, cone_length(beta, joint + 1e-6)}).constant;
      EXPECT_TRUE(close(below, above, 0.02)) << beta << ' ' << joint;
    }
}

TEST(Cone, SaysWhereItIsOutside) {
  const auto diffuser = [](double angle) {
    return law(Cone{small_bore, small_bore / 0.7, cone_length(0.7, angle)});
  };
  const auto nozzle = [](double angle) {
    return law(Cone{small_bore / 0.7, small_bore, cone_length(0.7, angle)});
  };
  EXPECT_FALSE(diffuser(60).outside_range);
  EXPECT_TRUE(diffuser(70).outside_range);
  EXPECT_FALSE(nozzle(120).outside_range);
  EXPECT_TRUE(nozzle(130).outside_range);
  EXPECT_DOUBLE_EQ(diffuser(30).band_high, 0.25);
  EXPECT_DOUBLE_EQ(diffuser(30).band_low, 0.30);
  EXPECT_DOUBLE_EQ(diffuser(5).band_absolute, 0.04);
  EXPECT_TRUE(law(Cone{0.05, 0.08, 0.3}).outside_range); // area ratio 2.56
  EXPECT_DOUBLE_EQ(nozzle(30).band_high, 0.30);
  EXPECT_DOUBLE_EQ(nozzle(30).band_absolute, 0.03);
}

} // namespace
} // namespace bellmouth::loss
