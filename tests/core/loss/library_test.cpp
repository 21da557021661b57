// SPDX-License-Identifier: GPL-3.0-or-later
// Other method: the laws against Debian's python3-fluids, asked at the time of the test, on shapes that no
// table holds. Without the library the test fails.
#include "library.hpp"
#include "support/close.hpp"

#include <bellmouth/loss.hpp>
#include <bellmouth/loss/interaction.hpp>

#include <cmath>
#include <numbers>
#include <random>
#include <string>
#include <vector>

namespace bellmouth::loss {
namespace {

using test::close;

constexpr double degree = std::numbers::pi / 180;

std::vector<Question> questions() {
  std::mt19937_64 random(5);
  const auto between = [&random](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  std::vector<Question> all;
  for (int i = 0; i < 100; ++i) {
    const double reynolds = std::exp(between(std::log(5e3), std::log(2e6)));
    const double roughness = between(0, 0.03);
    const double friction = darcy_friction_factor(reynolds, roughness);
    all.push_back(
        {call("fluids.friction.Colebrook(Re=%.17g,eD=%.17g,tol=-1)", reynolds, roughness, 0), friction});
    const double angle = between(5, 180);
    const double ratio = between(0.6, 6);
    all.push_back(
        {call("F.bend_rounded(Di=1,fd=%.17g,angle=%.17g,bend_diameters=%.17g)", friction, angle, ratio),
         law(Bend{angle * degree, ratio}).at(friction)});
    all.push_back(
        {call("F.bend_miter(angle=%.17g,method='Rennels')", angle, 0, 0), law(Mitre{angle * degree}).at(0)});
    const double beta = between(0.2, 0.98);
    const double length = between(0.001, 3);
    all.push_back({call("F.contraction_conical(Di1=1,Di2=%.17g,l=%.17g,fd=%.17g)", beta, length, friction),
                   law(Cone{1, beta, length}).at(friction)});
    all.push_back({call("F.diffuser_conical(Di1=%.17g,Di2=1,l=%.17g,fd=%.17g)", beta, length, friction),
                   law(Cone{beta, 1, length}).at(friction)});
    const double edge = between(0, 0.5);
    all.push_back({call("F.contraction_round(Di1=1,Di2=%.17g,rc=%.17g)", beta, edge * beta, 0),
                   law(RoundedContraction{1, beta, edge * beta}).at(0)});
    all.push_back({call("F.contraction_sharp(Di1=1,Di2=%.17g)", beta, 0, 0), law(Step{1, beta}).at(0)});
    all.push_back({call("F.diffuser_sharp(Di1=%.17g,Di2=1)", beta, 0, 0), law(Step{beta, 1}).at(0)});
  }
  return all;
}

TEST(Library, AgreesOnRandomShapes) {
  const auto all = questions();
  expect_agreement(all, 1e-9);
}

// The table of near bends against the chart of single bends by the same author: two right-angled bends that
// go on turning the same way without a space are one of 180 degrees, within the 10 % stated for the factor.
TEST(Library, ChartBearsOutJoinedBends) {
  const std::vector<double> ratios{1, 2, 3};
  std::vector<std::string> expressions;
  for (const double ratio : ratios)
    for (const double angle : {90.0, 180.0})
      expressions.push_back(
          call("F.bend_rounded(Di=0.1,angle=%.17g,bend_diameters=%.17g,Re=1e6,L_unimpeded=%.17g,"
               "method='Miller')",
               angle, ratio, 10));
  std::vector<double> theirs;
  ASSERT_NO_FATAL_FAILURE(ask(expressions, theirs));
  for (std::size_t i = 0; i < ratios.size(); ++i) {
    const BendPair pair{0, 0, 90 * degree, ratios[i], 90 * degree, ratios[i]};
    EXPECT_TRUE(close(interaction(pair).factor, theirs[2 * i + 1] / (2 * theirs[2 * i]), 0.10)) << ratios[i];
  }
}

} // namespace
} // namespace bellmouth::loss
