// SPDX-License-Identifier: GPL-3.0-or-later
// From a plan to a shopping list and its sums.
#include <bellmouth/buy.hpp>
#include <bellmouth/list/text.hpp>
#include <bellmouth/stock.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace bellmouth::buy {
namespace {

using build::StockItem;
using quantity::Money;

/// A line while it is being gathered.
struct Entry {
  build::StockKind kind;
  std::optional<std::size_t> item; ///< of the stock; unset: nothing serves it
  ShoppingLine line;
};

class Gatherer {
public:
  Gatherer(const build::Build& build, const Task& task, const Plan& plan)
      : build_(build), task_(task), plan_(plan) {}

  std::vector<ShoppingLine> lines() && {
    for (const Use& use : plan_.uses)
      add(use);
    for (const std::size_t need : plan_.unserved)
      add_unserved(need);
    std::ranges::stable_sort(entries_, {}, &Entry::kind);
    std::vector<ShoppingLine> lines;
    lines.reserve(entries_.size());
    for (Entry& entry : entries_) {
      std::ranges::stable_sort(entry.line.pieces, {}, [&](const build::PieceRef& ref) { return place(ref); });
      lines.push_back(std::move(entry.line));
    }
    return lines;
  }

private:
  /// Where a piece stands on the path.
  std::pair<std::size_t, std::size_t> place(const build::PieceRef& ref) const {
    const auto step = std::ranges::find(build_.path, build::PathStep{ref.run}.what(), &build::PathStep::what);
    return {static_cast<std::size_t>(step - build_.path.begin()), ref.row};
  }

  ShoppingLine& of(std::size_t number) {
    for (Entry& entry : entries_)
      if (entry.item == number)
        return entry.line;
    const StockItem& item = (*build_.stock)[number];
    ShoppingLine line;
    line.group = stock::kind_name(item.kind);
    line.description = item.name.empty() ? item.id.text : item.name;
    line.stock = item.id;
    line.supplier = item.supplier;
    line.pack = item.pack;
    line.per = item.per;
    line.unit_price = item.price;
    line.price = Money{0, item.price.currency};
    const auto owned = std::ranges::find(build_.owned, item.id, &build::Owned::stock);
    if (owned != build_.owned.end())
      line.paid = owned->paid;
    return entries_.emplace_back(Entry{item.kind, number, std::move(line)}).line;
  }

  void add(const Use& use) {
    const Source& source = task_.sources[use.offer];
    const StockItem& item = (*build_.stock)[source.item];
    ShoppingLine& line = of(source.item);
    std::size_t spares = 0;
    const auto serve = [&](std::size_t need) {
      const Part& part = task_.parts[need];
      if (part.spare)
        ++spares;
      else
        line.pieces.push_back(part.piece);
    };
    for (const Cut& cut : use.cuts)
      serve(cut.need);
    for (const std::size_t need : use.needs)
      serve(need);
    if (item.per == build::Per::metre) {
      double taken_m = use.length_m;
      if (source.owned) {
        taken_m = 0;
        for (const Cut& cut : use.cuts)
          taken_m += cut.to_m - cut.from_m + task_.question.kerf_m;
        taken_m = std::min(taken_m, use.length_m);
      }
      line.needed += taken_m;
      (source.owned ? line.owned : line.to_buy) += taken_m;
      if (!source.owned)
        line.price =
            quantity::add(*line.price, source.made_to_measure ? stock::price_of(item, taken_m)
                                                              : quantity::times(item.price, taken_m));
      return;
    }
    const double pieces = use.cuts.empty() ? static_cast<double>(use.needs.size()) : 1;
    line.needed += pieces;
    if (use.cuts.empty())
      line.spare += static_cast<double>(spares);
    if (source.owned) {
      line.owned += pieces;
    } else {
      line.to_buy += 1;
      line.price = quantity::add(*line.price, item.price);
    }
  }

  void add_unserved(std::size_t need) {
    const Part& part = task_.parts[need];
    if (part.spare)
      return;
    const build::Piece& piece = *build::find(build_, part.piece);
    const build::StockKind kind = part.clamp ? build::StockKind::clamp : stock::kind_of(piece.shape);
    const std::string words =
        part.clamp ? fmt::format("clamp for {} mm: none in stock", list::in_tenths(part.installed_diameter_m))
                   : list::description(piece) + why_not(piece);
    auto found = std::ranges::find_if(entries_, [&](const Entry& entry) {
      return !entry.item && entry.kind == kind && entry.line.description == words;
    });
    if (found == entries_.end()) {
      ShoppingLine line;
      line.group = stock::kind_name(kind);
      line.description = words;
      entries_.push_back(Entry{kind, std::nullopt, std::move(line)});
      found = entries_.end() - 1;
    }
    found->line.needed += 1;
    found->line.to_buy += 1;
    found->line.pieces.push_back(part.piece);
  }

  std::string why_not(const build::Piece& piece) const {
    if (piece.stock.text.empty())
      return ": nothing in stock serves it";
    return fmt::format(": neither {} serves it nor anything in stock that is as good", piece.stock.text);
  }

  const build::Build& build_;
  const Task& task_;
  const Plan& plan_;
  std::vector<Entry> entries_;
};

Money difference(Money a, Money b) {
  return quantity::add(a, {-b.minor, b.currency});
}

Totals totals_of(const build::Build& build, const Purchase& purchase) {
  const build::Budget& budget = build.budget;
  Totals totals;
  const Money none{0, budget.currency};
  totals.goods = {purchase.plan.goods_minor, budget.currency};
  totals.postage = {purchase.plan.postage_minor, budget.currency};
  totals.total = quantity::add(totals.goods, totals.postage);
  totals.tax = none;
  if (budget.tax) {
    totals.tax = tax_on(totals.total, *budget.tax);
    if (!budget.tax->prices_include)
      totals.total = quantity::add(totals.total, totals.tax);
  }
  totals.without_tax = difference(totals.total, totals.tax);
  totals.owned_value = totals.spent = none;
  for (const build::Owned& owned : build.owned)
    if (owned.paid)
      totals.spent = quantity::add(totals.spent, *owned.paid);
  totals.in_all = quantity::add(totals.total, totals.spent);
  if (budget.limit)
    totals.left = difference(*budget.limit, totals.in_all);
  for (const ShoppingLine& line : purchase.shopping) {
    if (!line.price) {
      ++totals.unpriced;
      continue;
    }
    const double packs = line.per == build::Per::metre ? line.owned : line.owned / line.pack;
    totals.owned_value = quantity::add(totals.owned_value, quantity::times(*line.unit_price, packs));
    auto category = std::ranges::find(totals.categories, line.group, &Category::group);
    if (category == totals.categories.end())
      category = totals.categories.insert(category, {line.group, none, none});
    category->planned = quantity::add(category->planned, *line.price);
    if (line.paid)
      category->paid = quantity::add(category->paid, *line.paid);
  }
  totals.suppliers = purchase.plan.suppliers;
  totals.offcuts = purchase.plan.offcuts;
  return totals;
}

} // namespace

Money tax_on(Money amount, const build::Tax& tax) {
  constexpr std::int64_t whole = 10000;
  const std::int64_t rate = tax.rate_basis_points;
  const std::int64_t of = tax.prices_include ? whole + rate : whole;
  // Half away from zero; amounts are within quantity::largest_minor, so that the product is within 64 bits.
  const std::int64_t twice = 2 * std::abs(amount.minor) * rate;
  const std::int64_t rounded = (twice + of) / (2 * of);
  return {amount.minor < 0 ? -rounded : rounded, amount.currency};
}

Purchase purchase(const list::Work& work, const Wishes& wishes) {
  Purchase result;
  result.task = task(work, wishes);
  result.plan = plan(result.task.question);
  result.shopping = Gatherer(work.build, result.task, result.plan).lines();
  result.totals = totals_of(work.build, result);
  return result;
}

Purchase purchase(const build::Build& build, const build::OptionId& id, const Wishes& wishes) {
  const build::Option* option = build.find(id);
  assert(option != nullptr);
  std::vector<const build::Run*> runs;
  for (const build::PathStep& step : build.path)
    if (const auto* run = std::get_if<build::RunId>(&step))
      runs.push_back(option->find(*run));
  const std::vector<joint::RunFit> fits = joint::fits(build, *option);
  return purchase(list::Work{build, *option, runs, fits}, wishes);
}

} // namespace bellmouth::buy
