// SPDX-License-Identifier: GPL-3.0-or-later
// From a plan to a shopping list and its sums.
#include <bellmouth/buy.hpp>
#include <bellmouth/list/text.hpp>
#include <bellmouth/stock.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <span>

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
    for (auto first = plan_.uses.begin(); first != plan_.uses.end();) {
      const auto last =
          std::find_if(first, plan_.uses.end(), [&](const Use& use) { return use.offer != first->offer; });
      add({first, last});
      first = last;
    }
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

  /// All uses of one offer.
  void add(std::span<const Use> uses) {
    const Offer& offer = task_.question.offers[uses.front().offer];
    const Source& source = task_.sources[uses.front().offer];
    const bool by_metre = (*build_.stock)[source.item].per == build::Per::metre;
    ShoppingLine& line = of(source.item);
    double taken = 0; // metres, or pieces
    for (const Use& use : uses) {
      for (const Cut& cut : use.cuts)
        serve(line, cut.need, use.cuts.size() == 1);
      for (const std::size_t need : use.needs)
        serve(line, need, true);
      if (!by_metre)
        taken += use.cuts.empty() ? static_cast<double>(use.needs.size()) : 1;
      else
        taken += source.owned ? sawn_off_m(use) : use.length_m;
    }
    line.needed += taken;
    if (source.owned) {
      line.owned += taken;
      return;
    }
    line.price = quantity::add(*line.price, {goods_minor(offer, uses), line.price->currency});
    const auto packs = (static_cast<std::int64_t>(uses.size()) + offer.pack - 1) / offer.pack;
    if (by_metre)
      line.to_buy += taken;
    else
      line.to_buy += static_cast<double>(offer.form == Form::whole ? std::ssize(uses) : packs);
  }

  /// `alone`: a spare one is a thing of its own, not a part of one that serves pieces.
  void serve(ShoppingLine& line, std::size_t need, bool alone) const {
    const Part& part = task_.parts[need];
    if (!part.spare)
      line.pieces.push_back(part.piece);
    else if (alone && line.per == build::Per::each)
      line.spare += 1;
  }

  /// What is taken from a length: no more than there is, since the last cut may be its end.
  double sawn_off_m(const Use& use) const {
    double sawn_m = 0;
    for (const Cut& cut : use.cuts)
      sawn_m += cut.to_m - cut.from_m + task_.question.kerf_m;
    return std::min(sawn_m, use.length_m);
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
