// SPDX-License-Identifier: GPL-3.0-or-later
// Budget, prices, and what the stock cannot serve.
#include "rule_list.hpp"
#include "waive.hpp"
#include "words.hpp"

#include <bellmouth/buy/bound.hpp>
#include <bellmouth/stock.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <set>

namespace bellmouth::check {

namespace {

using enum Severity;
using quantity::Money;

class Buyer {
public:
  Buyer(const build::Build& build, const buy::Purchase& purchase)
      : build_(build), purchase_(purchase), totals_(purchase.totals) {}

  std::vector<Finding> findings() && {
    check_budget();
    check_lines();
    check_chosen();
    check_bends();
    check_postage();
    if (!purchase_.plan.proven)
      add(Id::plan_not_proven, note, in_general("buying plan"),
          fmt::format("The plan costs {}; nothing below {} is possible.",
                      quantity::write(quantity::add(totals_.goods, totals_.postage)),
                      buy::bound_text(purchase_)),
          "The time for planning was over. The plan can be bought as it is.");
    std::ranges::stable_sort(found_, std::greater(), &Finding::severity);
    waive(build_, found_);
    return std::move(found_);
  }

private:
  static Where in_general(std::string text) { return {std::move(text), std::nullopt, std::nullopt}; }
  static Where shopping_list() { return in_general("shopping list"); }
  Where at(const build::PieceRef& ref) const {
    const build::Piece& piece = *build::find(build_, ref);
    return {fmt::format("{}, row {} ({})", words(ref.run.text), ref.row + 1, build::title(piece)), ref,
            std::nullopt};
  }

  void add(Id id, Severity severity, Where where, std::string message, std::string reason) {
    found_.push_back({rule(id).key, severity, std::move(where), std::move(message), std::move(reason)});
  }

  void check_budget() {
    if (!totals_.left || totals_.left->minor >= 0)
      return;
    const Money over{-totals_.left->minor, totals_.left->currency};
    const auto dearest = std::ranges::max_element(
        totals_.categories, {}, [](const buy::Category& each) { return each.planned.minor; });
    const std::string most = dearest == totals_.categories.end()
                                 ? std::string()
                                 : fmt::format(" Most of it goes into {}s: {}.", dearest->group,
                                               quantity::write(dearest->planned));
    add(Id::over_budget, caution, shopping_list(),
        fmt::format("{} to buy and {} spent are {} over the budget of {}.", quantity::write(totals_.total),
                    quantity::write(totals_.spent), quantity::write(over),
                    quantity::write(*build_.budget.limit)),
        "Fewer joints and bends that are cut down save money soonest." + most);
  }

  void check_lines() {
    std::set<build::StockId> free;
    for (const buy::ShoppingLine& line : purchase_.shopping) {
      if (!line.price)
        add(Id::unpriced, caution, line.pieces.empty() ? shopping_list() : at(line.pieces.front()),
            fmt::format("{}; {} of it {} needed.", line.description, line.needed,
                        line.needed == 1 ? "is" : "are"),
            "The total leaves it out. Add a stock item of that size with its price, or change the piece.");
      else if (line.to_buy > 0 && line.unit_price->minor == 0 && free.insert(*line.stock).second)
        add(Id::price_of_nothing, note, shopping_list(),
            fmt::format("{} has a price of nothing.", line.description),
            "The plan takes it for a gift and the total is too low. Give it its price, or say that it is "
            "owned.");
    }
  }

  /// What pieces name for their stock.
  void check_chosen() {
    int without = 0;
    std::optional<build::PieceRef> first;
    for (const buy::Part& part : purchase_.task.parts) {
      if (part.clamp || part.spare)
        continue;
      const build::Piece& piece = *build::find(build_, part.piece);
      if (piece.stock.text.empty()) {
        ++without;
        if (!first)
          first = part.piece;
        continue;
      }
      const build::StockItem* item = build_.find(piece.stock);
      if (item != nullptr && !stock::serves(*item, piece) && !stock::has_section_of(*item, piece))
        add(Id::stock_does_not_serve, caution, at(part.piece),
            fmt::format("It names {}, of which it cannot be made.", piece.stock.text),
            "The sizes differ. Choose another item, or take the piece's sizes from the stock.");
    }
    if (without > 0)
      add(Id::stock_not_chosen, note, at(*first),
          fmt::format("{} {} no stock item.", without, without == 1 ? "piece names" : "pieces name"),
          "The buying plan takes what costs least among all that have the sizes. Choose the item where the "
          "make matters: plies, lining, rating.");
  }

  void check_bends() {
    for (const buy::Use& use : purchase_.plan.uses)
      for (const buy::Cut& cut : use.cuts) {
        constexpr double tells_rad = 0.1 * 0.017453292519943295; // a tenth of a degree cannot be sawn
        if (cut.short_by_rad < tells_rad)
          continue;
        const buy::Source& source = purchase_.task.sources[use.offer];
        add(Id::bend_falls_short, note, at(purchase_.task.parts[cut.need].piece),
            fmt::format("Cut from {} it turns {} less than drawn.", (*build_.stock)[source.item].name,
                        degrees(cut.short_by_rad)),
            "The saw takes its kerf out of the arc. Take the difference up in the hoses, or buy a bend for "
            "it "
            "alone.");
      }
  }

  void check_postage() {
    std::vector<std::int64_t> goods(purchase_.task.suppliers.size(), 0);
    for (const buy::ShoppingLine& line : purchase_.shopping) {
      const auto label = std::ranges::find(purchase_.task.suppliers, line.supplier);
      if (label != purchase_.task.suppliers.end() && line.price)
        goods[static_cast<std::size_t>(label - purchase_.task.suppliers.begin())] += line.price->minor;
    }
    for (std::size_t i = 0; i < goods.size(); ++i) {
      const buy::Postage& postage = purchase_.task.question.postage[i];
      if (goods[i] == 0 || postage.price_minor == 0 || !postage.free_from_minor)
        continue;
      const std::int64_t missing = *postage.free_from_minor - goods[i];
      if (missing > 0 && missing <= postage.price_minor)
        add(Id::near_free_postage, note, shopping_list(),
            fmt::format("{} more from {} would save {} of postage.",
                        quantity::write(Money{missing, build_.budget.currency}), purchase_.task.suppliers[i],
                        quantity::write(Money{postage.price_minor, build_.budget.currency})),
            "Spare clamps are never wrong.");
    }
  }

  const build::Build& build_;
  const buy::Purchase& purchase_;
  const buy::Totals& totals_;
  std::vector<Finding> found_;
};

} // namespace

std::vector<Finding> check_purchase(const build::Build& build, const buy::Purchase& purchase) {
  return Buyer(build, purchase).findings();
}

} // namespace bellmouth::check
