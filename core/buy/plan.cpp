// SPDX-License-Identifier: GPL-3.0-or-later
#include "programme.hpp"
#include "suppliers.hpp"

#include <bellmouth/buy/plan.hpp>

#include <algorithm>
#include <cassert>
#include <utility>

namespace bellmouth::buy {
namespace {

Clock::time_point deadline(double seconds) {
  constexpr double for_ever = 1e8;
  if (seconds >= for_ever)
    return Clock::time_point::max();
  return Clock::now() + std::chrono::duration_cast<Clock::duration>(std::chrono::duration<double>(seconds));
}

std::int64_t counted(Aim aim, const Worth& worth) {
  return aim == Aim::money ? worth.money_minor : worth.aim;
}

Plan written_out(const Question& question, Decided decided) {
  Plan plan;
  std::ranges::stable_sort(decided.choice.portions, {}, &Portion::offer);
  std::vector<std::int64_t> goods(question.postage.size(), 0);
  std::vector<bool> used(question.postage.size(), false);
  for (std::size_t i = 0; i < decided.choice.portions.size();) {
    const std::size_t number = decided.choice.portions[i].offer;
    const Offer& offer = question.offers[number];
    const std::size_t first = plan.uses.size();
    for (; i < decided.choice.portions.size() && decided.choice.portions[i].offer == number; ++i)
      for (Use& use : uses_of(question, decided.choice.portions[i]))
        plan.uses.push_back(std::move(use));
    const std::int64_t cost = goods_minor(offer, std::span(plan.uses).subspan(first));
    plan.goods_minor += cost;
    if (offer.supplier) {
      goods[*offer.supplier] += cost;
      used[*offer.supplier] = true;
    }
  }
  for (const Use& use : plan.uses)
    plan.offcuts += static_cast<int>(use.offcuts.size());
  for (std::size_t s = 0; s < used.size(); ++s) {
    if (!used[s])
      continue;
    ++plan.suppliers;
    plan.postage_minor += postage_of(question.postage[s], goods[s]);
  }
  plan.unserved = std::move(decided.choice.unserved);
  std::ranges::sort(plan.unserved);
  plan.proven = !decided.least.main_less(decided.worth);
  // Were fewer left unserved, any value of the aim would do.
  const bool same_needs = decided.least.unserved == decided.worth.unserved;
  plan.bound = same_needs ? static_cast<double>(counted(question.aim, decided.least)) : 0.0;
  assert(plan.goods_minor + plan.postage_minor == decided.worth.money_minor);
  return plan;
}

} // namespace

Plan plan(const Question& question) {
  assert(!validate(question));
  const Clock::time_point until = deadline(question.seconds);
  Decided decided;
  with_solver([&] { decided = decide(question, until); });
  return written_out(question, std::move(decided));
}

} // namespace bellmouth::buy
