// SPDX-License-Identifier: GPL-3.0-or-later
#include "choice.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>
#include <numeric>
#include <utility>

namespace bellmouth::buy {
namespace {

Sawing sawing_of(const Question& question) {
  return {question.kerf_m, question.angle_short_rad};
}

std::vector<Use> lengths_of(const Question& question, const Portion& portion) {
  const Offer& offer = question.offers[portion.offer];
  std::vector<std::size_t> longest_first = portion.needs;
  const auto taken_m = [&](std::size_t need) {
    const Need& wanted = question.needs[need];
    return Piece{wanted.body, wanted.own_cuts}.length_m(question.kerf_m) + question.kerf_m;
  };
  std::ranges::stable_sort(longest_first, std::greater<>{}, taken_m);
  std::vector<Use> uses;
  for (const std::size_t need : longest_first) {
    const double wanted_m = taken_m(need);
    auto use = std::ranges::find_if(
        uses, [&](const Use& open) { return open.length_m + wanted_m <= offer.longest_m + rounding_m; });
    if (use == uses.end()) {
      uses.emplace_back().offer = portion.offer;
      use = uses.end() - 1;
    }
    use->cuts.push_back({need, use->length_m, use->length_m + wanted_m - question.kerf_m});
    use->length_m += wanted_m;
  }
  return uses;
}

} // namespace

Worth operator+(const Worth& a, const Worth& b) {
  return {a.unserved + b.unserved, a.aim + b.aim, a.money_minor + b.money_minor, a.bought + b.bought,
          a.offcuts + b.offcuts};
}

Worth operator-(const Worth& a, const Worth& b) {
  return {a.unserved - b.unserved, a.aim - b.aim, a.money_minor - b.money_minor, a.bought - b.bought,
          a.offcuts - b.offcuts};
}

std::int64_t goods_minor(const Offer& offer, std::span<const Use> uses) {
  const quantity::Money price{offer.price_minor, {}};
  if (offer.by_metre) {
    const double length_m = std::accumulate(
        uses.begin(), uses.end(), 0.0, [](double sum_m, const Use& use) { return sum_m + use.length_m; });
    // A length in tenths of a millimetre is not held exactly: what is half a minor unit by its digits stays
    // so.
    constexpr double digits = 1 + 1e-12;
    return quantity::times(price, length_m * digits).minor;
  }
  const auto count = static_cast<std::int64_t>(uses.size());
  if (offer.form == Form::whole) // each use is a pack
    return quantity::times(price, count).minor;
  return quantity::times(price, (count + offer.pack - 1) / offer.pack).minor;
}

bool fits(const Question& question, const Need& need, const Offer& offer) {
  if (need.form != offer.form || offer.available == 0)
    return false;
  if (need.form == Form::whole)
    return true;
  const Piece piece{need.body, need.own_cuts};
  if (offer.by_metre)
    return piece.straight() &&
           piece.length_m(question.kerf_m) + question.kerf_m <= offer.longest_m + rounding_m;
  return lay_out(offer.body, {&piece, 1}, sawing_of(question)).has_value();
}

std::optional<Layout> layout_of(const Question& question, std::size_t offer,
                                std::span<const std::size_t> needs) {
  std::vector<Piece> pieces;
  for (const std::size_t need : needs)
    pieces.push_back({question.needs[need].body, question.needs[need].own_cuts});
  std::optional<Layout> layout = lay_out(question.offers[offer].body, pieces, sawing_of(question));
  if (layout)
    for (Cut& cut : layout->cuts)
      cut.need = needs[cut.need];
  return layout;
}

std::vector<Use> uses_of(const Question& question, const Portion& portion) {
  const Offer& offer = question.offers[portion.offer];
  if (offer.by_metre)
    return lengths_of(question, portion);
  if (offer.form == Form::whole) {
    std::vector<Use> packs;
    for (std::size_t i = 0; i < portion.needs.size(); ++i) {
      if (i % static_cast<std::size_t>(offer.pack) == 0)
        packs.emplace_back().offer = portion.offer;
      packs.back().needs.push_back(portion.needs[i]);
    }
    return packs;
  }
  std::optional<Layout> layout = layout_of(question, portion.offer, portion.needs);
  assert(layout);
  Use use;
  use.offer = portion.offer;
  use.length_m = offer.body.length_m();
  use.cuts = std::move(layout->cuts);
  use.offcuts = std::move(layout->offcuts);
  return {std::move(use)};
}

Worth worth_of(const Question& question, const Choice& choice, std::vector<std::int64_t>* goods_of_supplier) {
  Worth worth;
  worth.unserved = static_cast<std::int64_t>(choice.unserved.size());
  std::map<std::size_t, std::vector<Use>> uses;
  for (const Portion& portion : choice.portions) {
    if (!question.offers[portion.offer].owned)
      worth.bought += static_cast<std::int64_t>(portion.needs.size());
    for (Use& use : uses_of(question, portion)) {
      worth.offcuts += static_cast<std::int64_t>(use.offcuts.size());
      uses[portion.offer].push_back(std::move(use));
    }
  }
  for (const auto& [number, of_it] : uses) {
    const Offer& offer = question.offers[number];
    const std::int64_t goods = goods_minor(offer, of_it);
    worth.money_minor += goods;
    if (goods_of_supplier != nullptr && offer.supplier)
      (*goods_of_supplier)[*offer.supplier] += goods;
  }
  if (question.aim == Aim::offcuts)
    worth.aim = worth.offcuts;
  return worth;
}

} // namespace bellmouth::buy
