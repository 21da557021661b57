// SPDX-License-Identifier: GPL-3.0-or-later
// Friction factor and roughness against tests/reference/friction_factor.csv and roughness.csv.
#include "support/close.hpp"
#include "support/reference.hpp"
#include "tally.hpp"

#include <bellmouth/loss.hpp>

#include <map>
#include <random>

namespace bellmouth::loss {
namespace {

using test::close;
using test::Row;

bool contains(const std::string& text, const char* part) {
  return text.find(part) != std::string::npos;
}

// Closed form (laminar), other method (Colebrook-White by a library, explicit formulas), published values
// (measured in the Oregon smooth pipe, textbook answers). Rows between Re 2000 and 4000 are transitional:
// counted, not compared.
TEST(FrictionFactor, AgreesWithEveryRow) {
  std::map<std::string, int> rows;
  for (const Row& row : test::reference("friction_factor.csv")) {
    const double reynolds = row.number("Re");
    const std::string& regime = row.text("regime");
    if (reynolds > 2000 && reynolds < 4000) {
      EXPECT_EQ(regime, "exp-transitional") << row.text("row_id");
      ++rows["transitional"];
      continue;
    }
    const double wanted = row.number("f_darcy");
    const double found = darcy_friction_factor(reynolds, row.number("eD"));
    const std::string& source = row.text("source");
    std::string kind = regime;
    double tolerance = row.number("rtol");
    if (regime == "laminar") {
      tolerance = 1e-6; // the figures printed
    } else if (contains(source, "Colebrook-White")) {
      kind = "Colebrook-White";
    } else if (contains(source, "explicit")) {
      kind = "explicit"; // approximations: -1.3 to +2.1 % of what they approximate, as the header says
      tolerance = 0.022;
    } else if (row.text("class") == "a" && regime == "turbulent") {
      kind = "textbook";
    }
    ++rows[kind];
    if (regime == "exp-laminar") {
      // Measured up to 16 % above Hagen & Poiseuille, which is exact: six of eleven points by more than the 5
      // % that the file allows.
      EXPECT_LT(found, wanted * 1.02) << row.text("row_id");
      EXPECT_GT(found, wanted * 0.84) << row.text("row_id");
      rows["exp-laminar beyond 5 %"] += !close(found, wanted, tolerance);
      continue;
    }
    EXPECT_TRUE(close(found, wanted, tolerance)) << row.text("row_id") << ' ' << kind;
  }
  const std::map<std::string, int> wanted{
      {"Colebrook-White", 272}, {"exp-laminar", 11}, {"exp-laminar beyond 5 %", 6},
      {"exp-turbulent", 18},    {"explicit", 45},    {"laminar", 4},
      {"textbook", 7},          {"transitional", 12}};
  EXPECT_EQ(rows, wanted);
}

// Published values: the Oregon smooth pipe, inside the band of a straight tube. In turbulent flow all; the
// laminar points scatter up to 16 % above Hagen & Poiseuille, which is exact; below Re 4000 no band is
// stated.
TEST(FrictionFactor, BandHoldsMeasuredPoints) {
  const Law tube = law(Straight{1, 1});
  std::map<std::string, Tally> tallies;
  for (const Row& row : test::reference("friction_factor.csv"))
    if (row.text("regime").starts_with("exp-"))
      tallies[row.text("regime")].add(tube, darcy_friction_factor(row.number("Re"), row.number("eD")),
                                      row.number("f_darcy"));
  for (const auto& [regime, tally] : tallies)
    print_share("straight tube, " + regime, tally);
  EXPECT_EQ(tallies,
            (std::map<std::string, Tally>{
                {"exp-laminar", {5, 11}}, {"exp-transitional", {4, 12}}, {"exp-turbulent", {18, 18}}}));
  EXPECT_EQ(tube.least_reynolds, 4000);
}

// Identity: what is found solves the equation of Colebrook & White.
TEST(FrictionFactor, SolvesColebrookWhite) {
  std::mt19937_64 random(3);
  std::uniform_real_distribution<double> log_reynolds(std::log(4000.0), std::log(1e9));
  std::uniform_real_distribution<double> log_roughness(std::log(1e-8), std::log(0.05));
  for (int i = 0; i < 20000; ++i) {
    const double reynolds = std::exp(log_reynolds(random));
    const double roughness = i % 10 == 0 ? 0 : std::exp(log_roughness(random));
    const double x = 1 / std::sqrt(darcy_friction_factor(reynolds, roughness));
    EXPECT_TRUE(close(x, -2 * std::log10(roughness / 3.7 + 2.51 * x / reynolds), 1e-13))
        << reynolds << ' ' << roughness;
  }
}

// Identity: value and slope are continuous at both ends of the blend, and between them it stays between the
// two laws.
TEST(FrictionFactor, BlendsSmoothly) {
  for (const double roughness : {0.0, 1e-4, 1e-2, 0.05}) {
    for (const double edge : {2000.0, 4000.0}) {
      const double d = 1e-4;
      const double at = darcy_friction_factor(edge, roughness);
      const double before = darcy_friction_factor(edge * (1 - d), roughness);
      const double after = darcy_friction_factor(edge * (1 + d), roughness);
      EXPECT_TRUE(close(before, at, 2 * d));
      EXPECT_NEAR((at - before) / d, (after - at) / d, 30 * d * at);
    }
    const double turbulent = darcy_friction_factor(4000, roughness);
    for (double reynolds = 2010; reynolds < 4000; reynolds += 10) {
      EXPECT_GT(darcy_friction_factor(reynolds, roughness), 64 / reynolds);
      EXPECT_LT(darcy_friction_factor(reynolds, roughness),
                turbulent * 1.06); // Colebrook-White itself rises to Re 2000
    }
  }
  EXPECT_EQ(darcy_friction_factor(2000, 0.01), 0.032);
}

// Identity: signs. Rougher costs more, faster costs less in f.
TEST(FrictionFactor, MovesTheRightWay) {
  for (double reynolds = 4000; reynolds < 1e8; reynolds *= 1.3) {
    EXPECT_LT(darcy_friction_factor(reynolds * 1.3, 1e-4), darcy_friction_factor(reynolds, 1e-4));
    for (double roughness = 1e-6; roughness < 0.04; roughness *= 1.5)
      EXPECT_LT(darcy_friction_factor(reynolds, roughness), darcy_friction_factor(reynolds, roughness * 1.2));
  }
}

// Published value: each surface is the typical value of its row and lies in the row's published range.
TEST(Roughness, IsThatOfTheTable) {
  const std::map<std::string, Surface> surfaces{
      {"RG02", Surface::drawn_metal}, {"RG04", Surface::smooth_hose},  {"RG06", Surface::wire_hose},
      {"RG07", Surface::plastic},     {"RG09", Surface::welded_steel}, {"RG11", Surface::cast_metal}};
  std::size_t found = 0;
  for (const Row& row : test::reference("roughness.csv")) {
    const auto surface = surfaces.find(row.text("row_id"));
    if (surface == surfaces.end())
      continue;
    ++found;
    const double roughness_mm = 1e3 * roughness_m(surface->second);
    EXPECT_TRUE(close(roughness_mm, row.number("eps_typ_mm"), 1e-12)) << row.text("material");
    EXPECT_GE(roughness_mm, row.number("eps_min_mm") * (1 - 1e-12));
    EXPECT_LE(roughness_mm, row.number("eps_max_mm") * (1 + 1e-12));
  }
  EXPECT_EQ(found, surfaces.size());
}

// Published values: the sensitivity that the header of roughness.csv states, Re 1e5 in 60 mm, printed to four
// figures.
TEST(Roughness, MattersAsStated) {
  const double bore = 0.06;
  EXPECT_TRUE(close(darcy_friction_factor(1e5, 0), 0.01799, 3e-4));
  EXPECT_TRUE(close(darcy_friction_factor(1e5, roughness_m(Surface::drawn_metal) / bore), 0.01812, 3e-4));
  EXPECT_TRUE(close(darcy_friction_factor(1e5, roughness_m(Surface::smooth_hose) / bore), 0.01884, 3e-4));
  EXPECT_TRUE(close(darcy_friction_factor(1e5, roughness_m(Surface::wire_hose) / bore), 0.03634, 3e-4));
}

} // namespace
} // namespace bellmouth::loss
