// SPDX-License-Identifier: GPL-3.0-or-later
#include "patterns.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

namespace bellmouth::buy {
namespace {

constexpr double least_size_m = 1e-6;
/// Steps of one search for the best pattern before sums are tabled instead.
constexpr long most_steps_for_best = 20'000;
constexpr long most_steps_for_all = 300'000;

} // namespace

/// Depth first through the items in order of value for their length.
struct Cutter::Search {
  Cutter& cutter;
  double offcut_value;
  double bar; ///< what a pattern must be worth
  bool raise; ///< with each one found
  long steps_left;
  std::vector<int> counts{}; ///< of items
  double reached = 0;

  /// Calls found(counts, offcuts, value, room); stops when it answers false.
  template <class Found> bool run(const Found& found, std::size_t from, double room_m, double value) {
    for (std::size_t i = from; i < cutter.items_.size(); ++i) {
      if (--steps_left < 0)
        return false;
      const Item& item = cutter.items_[i];
      if (value + cutter.fractional(i, counts[i], room_m) < bar)
        return true;
      if (counts[i] >= item.demand || item.size_m > room_m + rounding_m)
        continue;
      ++counts[i];
      const double left_m = room_m - item.size_m;
      const double worth = value + item.value;
      if (const std::optional<int> offcuts = cutter.offcuts(counts, left_m)) {
        const double net = worth - offcut_value * *offcuts;
        if (net >= bar) {
          if (!found(counts, *offcuts, net, left_m))
            return false;
          if (raise)
            bar = net + std::abs(net) * 1e-12 + std::numeric_limits<double>::min();
        }
        if (!run(found, i, left_m, worth))
          return false;
      }
      --counts[i];
    }
    return true;
  }
};

Cutter::Cutter(const Question& question, const std::vector<Kind>& kinds, std::size_t offer)
    : question_(question), kinds_(kinds), offer_(offer),
      straight_(question.offers[offer].body.angle_rad <= 0),
      capacity_m_(question.offers[offer].body.length_m() + question.kerf_m) {
  const Body& body = question.offers[offer].body;
  for (std::size_t k = 0; k < kinds.size(); ++k) {
    const Kind& kind = kinds[k];
    if (!std::ranges::binary_search(kind.offers, offer))
      continue;
    double size_m = kind.piece.length_m(question.kerf_m) + question.kerf_m;
    if (!kind.piece.straight())
      size_m += body.radius_m * std::max(0.0, kind.piece.body.angle_rad - question.angle_short_rad);
    items_.push_back({k, std::max(size_m, least_size_m), static_cast<int>(kind.needs.size()), 0});
  }
}

void Cutter::rank(Values values) {
  for (Item& item : items_)
    item.value = values.of_kind[item.kind];
  std::ranges::sort(items_, [](const Item& a, const Item& b) {
    const double left = a.value * b.size_m;
    const double right = b.value * a.size_m;
    return left != right ? left > right : a.kind < b.kind;
  });
}

double Cutter::fractional(std::size_t from, int used_of_first, double room_m) const {
  double value = 0;
  for (std::size_t i = from; i < items_.size() && items_[i].value > 0; ++i) {
    const Item& item = items_[i];
    const double count = item.demand - (i == from ? used_of_first : 0);
    const double wanted_m = count * item.size_m;
    if (wanted_m > room_m + rounding_m)
      return value + item.value * std::max(0.0, (room_m + rounding_m) / item.size_m);
    value += count * item.value;
    room_m -= wanted_m;
  }
  return value;
}

std::optional<int> Cutter::offcuts(const std::vector<int>& counts, double room_m) {
  if (straight_)
    return room_m - question_.kerf_m > nothing_m ? 1 : 0;
  std::vector<int> of_kinds(kinds_.size());
  for (std::size_t i = 0; i < items_.size(); ++i)
    of_kinds[items_[i].kind] = counts[i];
  const auto known = laid_.find(of_kinds);
  int offcuts = -1;
  if (known != laid_.end()) {
    offcuts = known->second;
  } else {
    std::vector<Piece> pieces;
    for (std::size_t k = 0; k < of_kinds.size(); ++k)
      pieces.insert(pieces.end(), static_cast<std::size_t>(of_kinds[k]), kinds_[k].piece);
    const auto layout =
        lay_out(question_.offers[offer_].body, pieces, {question_.kerf_m, question_.angle_short_rad});
    if (layout)
      offcuts = static_cast<int>(layout->offcuts.size());
    laid_.emplace(std::move(of_kinds), offcuts);
  }
  return offcuts < 0 ? std::nullopt : std::optional(offcuts);
}

bool Cutter::full(const std::vector<int>& counts, double room_m) {
  std::vector<int> more = counts;
  for (std::size_t i = 0; i < items_.size(); ++i) {
    if (counts[i] >= items_[i].demand || items_[i].size_m > room_m + rounding_m)
      continue;
    ++more[i];
    if (straight_ || offcuts(more, room_m - items_[i].size_m))
      return false;
    --more[i];
  }
  return true;
}

Pattern Cutter::made(const std::vector<int>& counts, int offcuts) const {
  Pattern pattern{offer_, {}, 0, offcuts};
  for (std::size_t i = 0; i < items_.size(); ++i) {
    if (counts[i] > 0)
      pattern.counts.emplace_back(items_[i].kind, counts[i]);
    pattern.pieces += counts[i];
  }
  std::ranges::sort(pattern.counts);
  return pattern;
}

Cutter::Best Cutter::best(Values values, double more_than) {
  rank(values);
  Best best{std::nullopt, more_than};
  Search search{*this, values.offcut, more_than, true, most_steps_for_best};
  search.counts.assign(items_.size(), 0);
  const auto found = [&](const std::vector<int>& counts, int offcuts, double net, double) {
    best.pattern = made(counts, offcuts);
    best.at_most = net;
    return true;
  };
  if (!search.run(found, 0, capacity_m_, 0) && search.steps_left < 0)
    best.at_most = std::max(best.at_most, best_by_sums(values, best.at_most, best.pattern));
  return best;
}

/// All sums of sizes that are worth more than any smaller one. Exact for a straight body without offcuts
/// being counted, an upper bound otherwise.
double Cutter::best_by_sums(Values values, double more_than, std::optional<Pattern>& found) {
  struct State {
    double size_m = 0, value = 0;
    std::size_t item = 0;
    const State* before = nullptr;
  };
  std::vector<std::vector<State>> kept; // stays: the states point at earlier ones
  std::vector<const State*> front;
  kept.push_back({State{}});
  front.push_back(kept.back().data());
  for (std::size_t i = 0; i < items_.size() && items_[i].value > 0; ++i) {
    for (int n = 0; n < items_[i].demand; ++n) {
      std::vector<State> grown;
      for (const State* state : front)
        if (state->size_m + items_[i].size_m <= capacity_m_ + rounding_m)
          grown.push_back({state->size_m + items_[i].size_m, state->value + items_[i].value, i, state});
      if (grown.empty())
        break;
      kept.push_back(std::move(grown));
      std::vector<const State*> all = std::move(front);
      for (const State& state : kept.back())
        all.push_back(&state);
      std::ranges::sort(all, [](const State* a, const State* b) {
        return a->size_m != b->size_m ? a->size_m < b->size_m : a->value > b->value;
      });
      front.clear();
      double highest = -1;
      for (const State* state : all)
        if (state->value > highest) {
          front.push_back(state);
          highest = state->value;
        }
    }
  }
  const State* top = front.back();
  if (straight_ && top->value - values.offcut > more_than) {
    std::vector<int> counts(items_.size());
    double room_m = capacity_m_;
    for (const State* state = top; state->before != nullptr; state = state->before) {
      ++counts[state->item];
      room_m -= items_[state->item].size_m;
    }
    found = made(counts, *offcuts(counts, room_m));
  }
  return top->value;
}

bool Cutter::all(Values values, double at_least, bool only_full, std::size_t most,
                 std::vector<Pattern>& found) {
  rank(values);
  Search search{*this, values.offcut, at_least, false, most_steps_for_all};
  search.counts.assign(items_.size(), 0);
  const auto add = [&](const std::vector<int>& counts, int offcuts, double, double room_m) {
    if (only_full && !full(counts, room_m))
      return true;
    if (found.size() >= most)
      return false;
    found.push_back(made(counts, offcuts));
    return true;
  };
  return search.run(add, 0, capacity_m_, 0);
}

std::optional<Pattern> Cutter::pattern(std::vector<std::pair<std::size_t, int>> counts) {
  std::vector<int> of_items(items_.size());
  double room_m = capacity_m_;
  for (const auto& [kind, count] : counts) {
    const auto item = std::ranges::find(items_, kind, &Item::kind);
    if (item == items_.end())
      return std::nullopt;
    of_items[static_cast<std::size_t>(item - items_.begin())] = count;
    room_m -= item->size_m * count;
  }
  if (room_m < -rounding_m)
    return std::nullopt;
  const std::optional<int> left = offcuts(of_items, room_m);
  return left ? std::optional(made(of_items, *left)) : std::nullopt;
}

} // namespace bellmouth::buy
