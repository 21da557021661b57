// SPDX-License-Identifier: GPL-3.0-or-later
#include "master.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <set>
#include <utility>

namespace bellmouth::buy {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
/// An amount less than this below half a minor unit counts as half of one: lengths are read to 0.01 mm.
constexpr double money_rounding = 1e-6;
/// Needs served by what is not owned count more than all offcuts there can be.
constexpr std::int64_t needs_before_offcuts = 1000;

} // namespace

std::int64_t value_of(Goal goal, const Worth& worth) {
  switch (goal) {
  case Goal::unserved:
    return worth.unserved;
  case Goal::offcuts:
    return worth.offcuts;
  case Goal::money:
    return worth.money_minor;
  case Goal::order:
    break;
  }
  return worth.bought * needs_before_offcuts + worth.offcuts;
}

Master::Master(const Job& job, const std::vector<Kind>& kinds, Settings settings)
    : job_(job), kinds_(kinds), settings_(std::move(settings)) {
  for (const Kind& kind : kinds) {
    const auto demand = static_cast<double>(kind.needs.size());
    programme_.add_row(demand, settings_.exactly ? demand : infinity);
  }
  for (const Cap& cap : settings_.caps)
    cap_rows_.push_back(programme_.add_row(-infinity, static_cast<double>(cap.at_most)));
  for (const AtLeast& least : job.at_least)
    least_rows_.push_back(programme_.add_row(static_cast<double>(least.goods_minor), infinity));
  for (const Floor& floor : job.floors)
    floor_rows_.push_back(programme_.add_row(static_cast<double>(floor.goods_minor), infinity));
  std::set<std::size_t> offers;
  for (std::size_t k = 0; k < kinds.size(); ++k) {
    offers.insert(kinds[k].offers.begin(), kinds[k].offers.end());
    if (!kinds[k].endless)
      add({What::unserved, k, 0}, 0, static_cast<double>(kinds[k].needs.size()), {{static_cast<int>(k), 1}});
  }
  for (const std::size_t offer : offers)
    add_offer(offer);
  if (settings_.penalty <= 0)
    return;
  for (std::size_t k = 0; k < kinds.size(); ++k)
    add_missing(static_cast<int>(k), 1);
  for (const int row : cap_rows_)
    add_missing(row, -1);
  for (const int row : least_rows_)
    add_missing(row, 1);
  for (const int row : floor_rows_)
    add_missing(row, 1);
}

void Master::add_missing(int row, double sign) {
  columns_.push_back({What::missing});
  const Entry entry{row, sign};
  programme_.add_column(settings_.penalty, 0, infinity, {&entry, 1});
}

void Master::add_offer(std::size_t number) {
  const Offer& offer = job_.question.offers[number];
  const bool tight = !job_.at_least.empty(); // nothing may be bought only to reach an amount
  if (offer.by_metre) {
    const int row = programme_.add_row(-0.5 + money_rounding, tight ? 0.5 : infinity);
    add({What::rounded, 0, number}, 0, infinity, {{row, 1}});
    for (std::size_t k = 0; k < kinds_.size(); ++k) {
      if (!std::ranges::binary_search(kinds_[k].offers, number))
        continue;
      const double length_m = kinds_[k].piece.length_m(job_.question.kerf_m) + job_.question.kerf_m;
      add({What::served, k, number}, 0, static_cast<double>(kinds_[k].needs.size()),
          {{static_cast<int>(k), 1}, {row, -length_m * static_cast<double>(offer.price_minor)}});
    }
    return;
  }
  const double pack = offer.pack;
  const int row = programme_.add_row(offer.pack == 1 ? 0 : -infinity, 0);
  body_rows_[number] = row;
  std::vector<Entry> entries{{row, -pack}};
  if (tight && offer.pack > 1) {
    full_rows_[number] = programme_.add_row(1 - pack, infinity);
    entries.push_back({full_rows_[number], -pack});
  }
  packs_[number] = add({What::packs, 0, number}, 0, most_packs(number), entries);
  if (offer.form == Form::sawn)
    return;
  for (std::size_t k = 0; k < kinds_.size(); ++k) {
    if (!std::ranges::binary_search(kinds_[k].offers, number))
      continue;
    std::vector<Entry> served{{static_cast<int>(k), 1}, {row, 1}};
    if (const auto full = full_rows_.find(number); full != full_rows_.end())
      served.push_back({full->second, 1});
    add({What::served, k, number}, 0, static_cast<double>(kinds_[k].needs.size()), std::move(served));
  }
}

int Master::most_packs(std::size_t offer) const {
  std::size_t needs = 0;
  for (const Kind& kind : kinds_)
    if (std::ranges::binary_search(kind.offers, offer))
      needs += kind.needs.size();
  const Offer& of = job_.question.offers[offer];
  const auto pack = static_cast<std::size_t>(of.pack);
  // Each use serves one need at least.
  const int packs = static_cast<int>((needs + pack - 1) / pack);
  return of.available ? std::min(packs, *of.available) : packs;
}

double Master::factor(Goal goal, const Column& column) const {
  const Offer& offer = job_.question.offers[column.offer];
  switch (goal) {
  case Goal::unserved:
    return column.what == What::unserved ? 1 : 0;
  case Goal::offcuts:
    return column.what == What::pattern ? column.pattern.offcuts : 0;
  case Goal::money:
    if (column.what == What::packs)
      return static_cast<double>(offer.price_minor);
    return column.what == What::rounded ? 1 : 0;
  case Goal::order:
    break;
  }
  const double bought = offer.owned ? 0 : static_cast<double>(needs_before_offcuts);
  if (column.what == What::pattern)
    return bought * column.pattern.pieces + column.pattern.offcuts;
  return column.what == What::served ? bought : 0;
}

int Master::add(Column column, double lower, double upper, std::vector<Entry> entries) {
  for (std::size_t i = 0; i < settings_.caps.size(); ++i)
    if (const double by = factor(settings_.caps[i].goal, column); by != 0)
      entries.push_back({cap_rows_[i], by});
  if (column.what == What::packs || column.what == What::rounded) {
    const double money = factor(Goal::money, column);
    for (std::size_t i = 0; i < least_rows_.size(); ++i)
      if (job_.question.offers[column.offer].supplier == job_.at_least[i].supplier)
        entries.push_back({least_rows_[i], money});
    for (std::size_t i = 0; i < floor_rows_.size(); ++i)
      if (job_.floors[i].offers[column.offer])
        entries.push_back({floor_rows_[i], money});
  }
  const int number = programme_.add_column(factor(settings_.goal, column), lower, upper, entries);
  columns_.push_back(std::move(column));
  return number;
}

bool Master::add(const Pattern& pattern) {
  std::vector<Pattern>& known = known_[pattern.offer];
  if (std::ranges::find(known, pattern) != known.end())
    return false;
  known.push_back(pattern);
  std::vector<Entry> entries;
  for (const auto& [kind, count] : pattern.counts)
    entries.push_back({static_cast<int>(kind), static_cast<double>(count)});
  entries.push_back({body_rows_.at(pattern.offer), 1});
  if (const auto full = full_rows_.find(pattern.offer); full != full_rows_.end())
    entries.push_back({full->second, 1});
  add({What::pattern, 0, pattern.offer, pattern}, 0, infinity, std::move(entries));
  return true;
}

void Master::set_penalty(double penalty) {
  for (std::size_t i = 0; i < columns_.size(); ++i)
    if (columns_[i].what == What::missing)
      programme_.set_cost(static_cast<int>(i), penalty);
}

double Master::missing() const {
  double missing = 0;
  for (std::size_t i = 0; i < columns_.size(); ++i)
    if (columns_[i].what == What::missing)
      missing += programme_.value(static_cast<int>(i));
  return missing;
}

std::vector<Pattern> Master::nearest(std::size_t most) const {
  std::vector<std::pair<double, std::size_t>> order;
  for (std::size_t i = 0; i < columns_.size(); ++i)
    if (columns_[i].what == What::pattern)
      order.emplace_back(programme_.reduced_cost(static_cast<int>(i)), i);
  std::ranges::sort(order);
  order.resize(std::min(order.size(), most));
  std::vector<Pattern> nearest;
  for (const auto& [cost, column] : order)
    nearest.push_back(columns_[column].pattern);
  return nearest;
}

std::vector<double> Master::kind_values() const {
  std::vector<double> values;
  for (std::size_t k = 0; k < kinds_.size(); ++k)
    values.push_back(programme_.dual(static_cast<int>(k)));
  return values;
}

double Master::offcut_cost() const {
  double cost = settings_.goal == Goal::offcuts ? 1 : 0;
  for (std::size_t i = 0; i < settings_.caps.size(); ++i)
    if (settings_.caps[i].goal == Goal::offcuts)
      cost -= programme_.dual(cap_rows_[i]);
  return std::max(cost, 0.0);
}

double Master::body_cost(std::size_t offer) const {
  double cost = -programme_.dual(body_rows_.at(offer));
  if (const auto full = full_rows_.find(offer); full != full_rows_.end())
    cost -= programme_.dual(full->second);
  return cost;
}

Choice Master::choice(const std::vector<double>& values) const {
  std::vector<std::size_t> order; // of columns
  for (std::size_t i = 0; i < columns_.size(); ++i)
    if ((columns_[i].what == What::pattern || columns_[i].what == What::served) && values[i] > 0.5)
      order.push_back(i);
  std::ranges::stable_sort(order, {}, [&](std::size_t i) {
    return std::pair{!job_.question.offers[columns_[i].offer].owned, columns_[i].offer};
  });
  std::vector<std::size_t> next(kinds_.size(), 0);
  const auto take = [&](Portion& portion, std::size_t kind, int count) {
    for (; count > 0 && next[kind] < kinds_[kind].needs.size(); --count)
      portion.needs.push_back(kinds_[kind].needs[next[kind]++]);
  };
  Choice choice;
  for (const std::size_t i : order) {
    const Column& column = columns_[i];
    const auto times = static_cast<int>(values[i] + 0.5);
    if (column.what == What::pattern) {
      for (int n = 0; n < times; ++n) {
        Portion portion{column.offer, {}};
        for (const auto& [kind, count] : column.pattern.counts)
          take(portion, kind, count);
        if (!portion.needs.empty())
          choice.portions.push_back(std::move(portion));
      }
      continue;
    }
    if (choice.portions.empty() || choice.portions.back().offer != column.offer)
      choice.portions.push_back({column.offer, {}});
    take(choice.portions.back(), column.kind, times);
    if (choice.portions.back().needs.empty())
      choice.portions.pop_back();
  }
  for (std::size_t k = 0; k < kinds_.size(); ++k)
    choice.unserved.insert(choice.unserved.end(),
                           kinds_[k].needs.begin() + static_cast<std::ptrdiff_t>(next[k]),
                           kinds_[k].needs.end());
  return choice;
}

} // namespace bellmouth::buy
