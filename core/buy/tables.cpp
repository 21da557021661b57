// SPDX-License-Identifier: GPL-3.0-or-later
// The shopping list and the sums as tables for people.
#include <bellmouth/buy/bound.hpp>
#include <bellmouth/list/text.hpp>

#include <spdlog/fmt/fmt.h>

#include <cmath>

namespace bellmouth::buy {
namespace {

using quantity::Money;

std::string money(const std::optional<Money>& amount) {
  return amount ? quantity::write(*amount) : std::string();
}
/// Pieces as whole numbers, metres to a tenth of a millimetre.
std::string amount(double value, build::Per per) {
  return per == build::Per::metre ? quantity::write_fixed(quantity::Dimension::length, value, "m", 4, false)
                                  : fmt::format("{}", std::round(value * 1e6) / 1e6);
}
std::string unit(const ShoppingLine& line) {
  if (line.per == build::Per::metre)
    return "m";
  return line.pack == 1 ? "pieces" : fmt::format("packs of {}", line.pack);
}

list::Table shopping_table(const Purchase& purchase) {
  list::Table table{"shopping",
                    {"kind", "item", "stock", "supplier", "needed", "spare", "owned", "to buy", "unit",
                     "unit price", "price", "paid", "for"},
                    {}};
  for (const ShoppingLine& line : purchase.shopping) {
    table.rows.push_back({line.group, line.description, line.stock ? line.stock->text : "", line.supplier,
                          amount(line.needed, line.per), amount(line.spare, build::Per::each),
                          amount(line.owned, line.per), amount(line.to_buy, line.per), unit(line),
                          money(line.unit_price), money(line.price), money(line.paid),
                          list::places(line.pieces)});
    table.pieces.push_back(line.pieces);
  }
  return table;
}

list::Table totals_table(const Purchase& purchase) {
  const Totals& totals = purchase.totals;
  list::Table table{"totals", {"what", "amount"}, {}};
  const auto row = [&](std::string what, std::string value) {
    table.rows.push_back({std::move(what), std::move(value)});
    table.pieces.emplace_back();
  };
  for (const Category& category : totals.categories)
    row(category.group, money(category.planned));
  row("goods", money(totals.goods));
  row("postage", money(totals.postage));
  row("tax", money(totals.tax));
  row("to buy, with tax", money(totals.total));
  row("to buy, without tax", money(totals.without_tax));
  row("owned and used, worth", money(totals.owned_value));
  row("spent", money(totals.spent));
  row("spent and to buy", money(totals.in_all));
  if (totals.left)
    row("left of the budget", money(totals.left));
  row("lines that nothing in stock serves", fmt::format("{}", totals.unpriced));
  row("suppliers", fmt::format("{}", totals.suppliers));
  row("offcuts", fmt::format("{}", totals.offcuts));
  row("proven the least", purchase.plan.proven ? "yes" : "no");
  if (!purchase.plan.proven)
    row("nothing is possible below", bound_text(purchase));
  return table;
}

} // namespace

std::string bound_text(const Purchase& purchase) {
  const double bound = purchase.plan.bound;
  switch (purchase.task.question.aim) {
  case Aim::money:
    return quantity::write({static_cast<std::int64_t>(bound), purchase.totals.goods.currency});
  case Aim::suppliers:
    return fmt::format("{:.0f} suppliers", bound);
  case Aim::offcuts:
    break;
  }
  return fmt::format("{:.0f} offcuts", bound);
}

std::vector<list::Table> tables(const Purchase& purchase) {
  return {shopping_table(purchase), totals_table(purchase)};
}

} // namespace bellmouth::buy
