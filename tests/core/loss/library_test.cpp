// SPDX-License-Identifier: GPL-3.0-or-later
// Other method: the laws against Debian's python3-fluids, asked at the time of the test, on shapes that no
// table holds. Without the library the test fails.
#include "support/close.hpp"

#include <bellmouth/loss.hpp>
#include <bellmouth/loss/interaction.hpp>

#include <cstdio>
#include <memory>
#include <numbers>
#include <random>
#include <sstream>
#include <string>
#include <vector>

namespace bellmouth::loss {
namespace {

using test::close;

constexpr double degree = std::numbers::pi / 180;

struct Question {
  std::string python; ///< an expression in the library's terms, with F = fluids.fittings
  double ours;
};

std::string call(const char* format, double a, double b, double c) {
  char text[200];
  std::snprintf(text, sizeof text, format, a, b, c);
  return text;
}

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

struct ClosePipe {
  void operator()(FILE* pipe) const { pclose(pipe); }
};

/// What the library answers, in order; fails the test if it does not answer all.
void ask(const std::vector<std::string>& expressions, std::vector<double>& answers) {
  std::string program = "import fluids,fluids.friction\nimport fluids.fittings as F\n";
  for (const std::string& expression : expressions)
    program += "print(repr(float(" + expression + ")))\n";
  const std::string file = testing::TempDir() + "bellmouth_library_test.py";
  {
    const std::unique_ptr<FILE, int (*)(FILE*)> script(std::fopen(file.c_str(), "w"), &std::fclose);
    ASSERT_NE(script, nullptr);
    ASSERT_GE(std::fputs(program.c_str(), script.get()), 0);
  }
  std::string output;
  {
    const std::unique_ptr<FILE, ClosePipe> pipe(
        popen(("/usr/bin/python3 -I '" + file + "' 2>&1").c_str(), "r"));
    ASSERT_NE(pipe, nullptr);
    char buffer[4096];
    while (std::fgets(buffer, sizeof buffer, pipe.get()) != nullptr)
      output += buffer;
  }
  std::istringstream lines(output);
  for (double answer = 0; answers.size() < expressions.size(); answers.push_back(answer))
    ASSERT_TRUE(lines >> answer) << output.substr(0, 400);
}

TEST(Library, AgreesOnRandomShapes) {
  const auto all = questions();
  std::vector<std::string> expressions;
  for (const Question& question : all)
    expressions.push_back(question.python);
  std::vector<double> theirs;
  ASSERT_NO_FATAL_FAILURE(ask(expressions, theirs));
  for (std::size_t i = 0; i < all.size(); ++i)
    EXPECT_TRUE(close(all[i].ours, theirs[i], 1e-9)) << all[i].python;
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
