// SPDX-License-Identifier: GPL-3.0-or-later
#include "kinds.hpp"

#include <algorithm>
#include <set>

namespace bellmouth::buy {
namespace {

/// Whether whatever is cut out of `dear` comes out of `cheap` for less money.
bool beats(const Offer& cheap, const Offer& dear) {
  if (!one_by_one(cheap) || !one_by_one(dear) || cheap.pack != 1 || dear.pack != 1 || cheap.available)
    return false;
  if (cheap.price_minor >= dear.price_minor)
    return false;
  const bool straight = cheap.body.angle_rad <= 0 && dear.body.angle_rad <= 0;
  return straight ? cheap.body.length_m() >= dear.body.length_m() : cheap.body == dear.body;
}

void leave_out_beaten(const Question& question, std::vector<Kind>& kinds) {
  std::set<std::size_t> offers;
  for (const Kind& kind : kinds)
    offers.insert(kind.offers.begin(), kind.offers.end());
  const auto takes = [&](std::size_t offer, const Kind& kind) {
    return std::ranges::binary_search(kind.offers, offer);
  };
  for (const std::size_t dear : offers) {
    const bool beaten = std::ranges::any_of(offers, [&](std::size_t cheap) {
      return beats(question.offers[cheap], question.offers[dear]) &&
             std::ranges::all_of(kinds,
                                 [&](const Kind& kind) { return !takes(dear, kind) || takes(cheap, kind); });
    });
    if (beaten)
      for (Kind& kind : kinds)
        std::erase(kind.offers, dear);
  }
}

} // namespace

std::vector<Kind> kinds_of(const Job& job) {
  const Question& question = job.question;
  std::vector<Kind> kinds;
  std::vector<std::vector<std::size_t>> asked; // of each kind, before fitting
  for (const std::size_t number : job.needs) {
    const Need& need = question.needs[number];
    std::vector<std::size_t> offers;
    for (const std::size_t offer : need.offers)
      if (job.allowed[offer])
        offers.push_back(offer);
    std::ranges::sort(offers);
    std::size_t at = 0;
    while (at < kinds.size()) {
      const Need& first = question.needs[kinds[at].needs.front()];
      if (first.form == need.form && (need.form == Form::whole || first.body == need.body) &&
          first.own_cuts == need.own_cuts && asked[at] == offers)
        break;
      ++at;
    }
    if (at == kinds.size()) {
      Kind kind{need.form, {need.body, need.own_cuts}, {}, {}, false};
      for (const std::size_t offer : offers)
        if (fits(question, need, question.offers[offer]))
          kind.offers.push_back(offer);
      kinds.push_back(std::move(kind));
      asked.push_back(std::move(offers));
    }
    kinds[at].needs.push_back(number);
  }
  if (question.aim != Aim::offcuts && job.at_least.empty())
    leave_out_beaten(question, kinds);
  for (Kind& kind : kinds)
    kind.endless = std::ranges::any_of(
        kind.offers, [&](std::size_t offer) { return !question.offers[offer].available.has_value(); });
  return kinds;
}

} // namespace bellmouth::buy
