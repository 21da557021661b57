// SPDX-License-Identifier: GPL-3.0-or-later
// Kind: closed form. The solver behind the plan, and what becomes of its errors.
#include "../../../core/buy/programme.hpp"

#include <gtest/gtest.h>

#include <array>
#include <limits>
#include <stdexcept>
#include <vector>

namespace bellmouth {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr buy::Clock::time_point never = buy::Clock::time_point::max();

/// 3 x + 4 y least with 2 x + 3 y >= 7.5: relaxed 10 with y = 2.5, in whole numbers 11 with x = 1 and y = 2.
void fill(buy::Programme& programme) {
  const int row = programme.add_row(7.5, infinity);
  const std::array<buy::Entry, 1> two{{{row, 2}}};
  const std::array<buy::Entry, 1> three{{{row, 3}}};
  programme.add_column(3, 0, infinity, two);
  programme.add_column(4, 0, infinity, three);
}

TEST(Programme, IsSolvedRelaxedAndInWholeNumbers) {
  buy::with_solver([] {
    buy::Programme programme;
    fill(programme);
    ASSERT_EQ(programme.solve_relaxed(never), buy::Outcome::optimal);
    EXPECT_DOUBLE_EQ(programme.objective(), 10);
    EXPECT_DOUBLE_EQ(programme.dual(0), 4.0 / 3);
    const auto whole = programme.solve_whole({never, 1000}, infinity);
    EXPECT_EQ(whole.outcome, buy::Outcome::optimal);
    ASSERT_EQ(whole.values.size(), 2U);
    EXPECT_EQ(3 * whole.values[0] + 4 * whole.values[1], 11) << "x = 1 and y = 2: 2 + 6 >= 7.5";
    EXPECT_EQ(programme.solve_whole({never, 1000}, 10.5).outcome, buy::Outcome::infeasible);
  });
}

TEST(Programme, OutlivesAnErrorOfItsSolver) {
  buy::with_solver([] {
    buy::Programme programme;
    fill(programme);
    const std::array<buy::Entry, 1> no_such_row{{{41, 1}}};
    programme.add_column(1, 0, 1, no_such_row); // GLPK would abort the program
    EXPECT_EQ(programme.solve_relaxed(never), buy::Outcome::failed);
    EXPECT_EQ(programme.solve_whole({never, 1000}, infinity).outcome, buy::Outcome::failed);
    buy::Programme another;
    fill(another);
    EXPECT_EQ(another.solve_relaxed(never), buy::Outcome::failed);
  });
  buy::with_solver([] {
    buy::Programme programme;
    fill(programme);
    EXPECT_EQ(programme.solve_relaxed(never), buy::Outcome::optimal);
  });
}

TEST(Programme, HandsOnWhatIsThrown) {
  EXPECT_THROW(buy::with_solver([] { throw std::runtime_error("full"); }), std::runtime_error);
}

} // namespace
} // namespace bellmouth
