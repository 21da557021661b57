// SPDX-License-Identifier: GPL-3.0-or-later
// Shopping list and totals.
#include "parts.hpp"

#include <bellmouth/list/text.hpp>
#include <bellmouth/stock.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>
#include <variant>

namespace bellmouth::list {
namespace {

using build::Piece;
using build::StockItem;
using build::StockKind;

/// Saw cuts that part a piece from a length of tube, its own mitres included.
int cuts_in_tube(const build::Shape& shape) {
  const auto* const mitred = std::get_if<build::MitredBend>(&shape);
  return 1 + (mitred != nullptr ? mitred->joints : 0);
}

/// Amount of an item that goes into a piece, the saw's share of tube by the metre included.
double needed_for(const StockItem& item, const Piece& piece) {
  const bool sawn = item.kind == StockKind::tube && item.per == build::Per::metre;
  return stock::amount_for(item, piece) + (sawn ? kerf_m * cuts_in_tube(piece.shape) : 0.0);
}

double owned_of(const build::Build& build, const build::StockId& id) {
  double quantity = 0;
  for (const build::Owned& owned : build.owned)
    if (owned.stock == id)
      quantity += owned.quantity;
  return quantity;
}

double to_buy(const StockItem& item, double missing) {
  constexpr double rounding = 1e-9; // 2.0000000001 pieces are two
  return item.per == build::Per::metre ? missing : std::ceil(missing - rounding) + 0.0; // never -0
}

quantity::Money difference(quantity::Money a, quantity::Money b) {
  assert(a.currency == b.currency);
  return {a.minor - b.minor, a.currency};
}

/// A shopping line while it is being gathered.
struct Need {
  StockKind kind;
  const StockItem* item = nullptr; ///< unset: `words` say what nothing in stock serves
  std::string words;
  double needed = 0;
  std::vector<build::PieceRef> pieces;
};

/// Gathers what is needed, in the order of first use.
class Needs {
public:
  explicit Needs(const Work& work) : work_(work) {
    std::size_t rows = 0;
    for (const build::Run* run : work.runs)
      rows += run->pieces.size();
    needs_.reserve(rows + 4);
  }

  void add_piece(const build::Run& run, std::size_t row) {
    const Piece& piece = run.pieces[row];
    const StockItem* const item = find(piece.stock);
    const bool served = item != nullptr && stock::serves(*item, piece);
    Need& need =
        served ? of(*item) : of(stock::kind_of(piece.shape), description(piece) + why_not(piece, item));
    need.needed += served ? needed_for(*item, piece) : 1.0;
    need.pieces.push_back(reference(work_, run, row));
  }

  void add_clamp(const build::Run& run, const joint::Joint& joint) {
    Need& need = joint.clamp != nullptr
                     ? of(*joint.clamp)
                     : of(StockKind::clamp, fmt::format("clamp for {} mm: none in stock",
                                                        in_tenths(joint.installed_diameter_m)));
    const int count = joint::clamps_needed(joint);
    need.needed += count;
    need.pieces.push_back(reference(work_, run, *joint.hose().row));
  }

  [[nodiscard]] std::vector<Need> by_kind() && {
    std::ranges::stable_sort(needs_, {}, &Need::kind);
    return std::move(needs_);
  }

private:
  static std::string why_not(const Piece& piece, const StockItem* item) {
    if (piece.stock.text.empty())
      return ": not chosen";
    return (item == nullptr ? ": not in stock is " : ": cannot be made of ") + piece.stock.text;
  }

  /// An item that is in use already is found without going through the stock.
  const StockItem* find(const build::StockId& id) const {
    if (id.text.empty())
      return nullptr;
    for (const Need& need : needs_)
      if (need.item != nullptr && need.item->id == id)
        return need.item;
    return work_.build.find(id);
  }

  Need& of(const StockItem& item) {
    for (Need& need : needs_)
      if (need.item == &item)
        return need;
    return needs_.emplace_back(item.kind, &item);
  }
  Need& of(StockKind kind, std::string words) {
    for (Need& need : needs_)
      if (need.item == nullptr && need.kind == kind && need.words == words)
        return need;
    return needs_.emplace_back(kind, nullptr, std::move(words));
  }

  const Work& work_;
  std::vector<Need> needs_;
};

ShoppingLine shopping_line(const build::Build& build, Need need) {
  ShoppingLine line;
  line.group = stock::kind_name(need.kind);
  line.needed = line.to_buy = need.needed;
  line.pieces = std::move(need.pieces);
  if (need.item == nullptr) {
    line.description = std::move(need.words);
    return line;
  }
  const StockItem& item = *need.item;
  line.description = item.name;
  line.stock = item.id;
  line.owned = std::min(owned_of(build, item.id), need.needed);
  line.to_buy = to_buy(item, need.needed - line.owned);
  line.per = item.per;
  line.unit_price = item.price;
  line.price = stock::price_of(item, line.to_buy);
  return line;
}

Totals totals_of(const build::Build& build, const std::vector<ShoppingLine>& shopping) {
  Totals totals;
  totals.total.currency = totals.owned_value.currency = build.budget.currency;
  for (const ShoppingLine& line : shopping) {
    if (!line.price) {
      ++totals.unpriced;
      continue;
    }
    const quantity::Money in_full =
        line.per == build::Per::metre
            ? quantity::times(*line.unit_price, line.needed)
            : quantity::times(*line.unit_price, static_cast<std::int64_t>(std::llround(line.needed)));
    totals.total = quantity::add(totals.total, *line.price);
    totals.owned_value = quantity::add(totals.owned_value, difference(in_full, *line.price));
  }
  if (build.budget.limit)
    totals.left = difference(*build.budget.limit, totals.total);
  return totals;
}

} // namespace

void list_purchases(const Work& work, Lists& lists) {
  Needs needs(work);
  for (std::size_t i = 0; i < work.runs.size(); ++i) {
    const build::Run& run = *work.runs[i];
    for (std::size_t row = 0; row < run.pieces.size(); ++row)
      needs.add_piece(run, row);
    for (const joint::Joint& joint : work.fits[i].joints)
      if (joint::clamps_needed(joint) > 0)
        needs.add_clamp(run, joint);
  }
  std::vector<Need> all = std::move(needs).by_kind();
  lists.shopping.reserve(all.size());
  for (Need& need : all)
    lists.shopping.push_back(shopping_line(work.build, std::move(need)));
  lists.totals = totals_of(work.build, lists.shopping);
}

} // namespace bellmouth::list
