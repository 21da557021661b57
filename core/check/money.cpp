// SPDX-License-Identifier: GPL-3.0-or-later
// Budget and prices.
#include "context.hpp"

#include <spdlog/fmt/fmt.h>

namespace bellmouth::check {

void check_money(Context& context) {
  const auto& totals = context.facts.lists.totals;
  if (totals.left && totals.left->minor < 0)
    context.add_at_whole(
        Id::over_budget, Severity::caution, "shopping list",
        fmt::format("{} to buy is {} over the budget.", quantity::write(totals.total),
                    quantity::write({-totals.left->minor, totals.left->currency})),
        "See the shopping list for what costs most; fewer joints and cut-down bends save money soonest.");
  if (totals.unpriced > 0)
    context.add_at_whole(
        Id::unpriced, Severity::note, "shopping list",
        fmt::format("{} {} no price.", totals.unpriced, totals.unpriced == 1 ? "line has" : "lines have"),
        "The total leaves them out. Choose a stock item for them, or add one with a price.");
}

} // namespace bellmouth::check
