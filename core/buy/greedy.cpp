// SPDX-License-Identifier: GPL-3.0-or-later
#include "greedy.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <map>
#include <numeric>
#include <tuple>
#include <utility>

namespace bellmouth::buy {
namespace {

enum class Rule { further_money, share_of_body };

class Greedy {
public:
  Greedy(const Question& question, Rule rule) : question_(question), rule_(rule) {}

  Choice serve(const std::vector<Kind>& kinds) {
    std::vector<const Kind*> order;
    for (const Kind& kind : kinds)
      order.push_back(&kind);
    std::ranges::stable_sort(order, std::greater<>{},
                             [](const Kind* kind) { return kind->piece.body.length_m(); });
    for (const Kind* kind : order)
      for (const std::size_t need : kind->needs)
        if (!put_in_open_body(need, *kind) && !open(need, *kind))
          choice_.unserved.push_back(need);
    return std::move(choice_);
  }

private:
  bool put_in_open_body(std::size_t need, const Kind& kind) {
    Portion* best = nullptr;
    double least_left_m = std::numeric_limits<double>::infinity();
    for (Portion& portion : choice_.portions) {
      if (!one_by_one(question_.offers[portion.offer]) ||
          !std::ranges::binary_search(kind.offers, portion.offer))
        continue;
      portion.needs.push_back(need);
      if (const auto layout = layout_of(question_, portion.offer, portion.needs)) {
        const double left_m =
            std::accumulate(layout->offcuts.begin(), layout->offcuts.end(), 0.0,
                            [](double sum_m, const Body& offcut) { return sum_m + offcut.length_m(); });
        if (left_m < least_left_m) {
          least_left_m = left_m;
          best = &portion;
        }
      }
      portion.needs.pop_back();
    }
    if (best == nullptr)
      return false;
    best->needs.push_back(need);
    return true;
  }

  /// Further money for one more need, and what that is to be compared by.
  std::tuple<double, bool, int> price_of(std::size_t offer_number, const Kind& kind) const {
    const Offer& offer = question_.offers[offer_number];
    const auto price = static_cast<double>(offer.price_minor);
    const double wanted_m = kind.piece.length_m(question_.kerf_m) + question_.kerf_m;
    if (offer.by_metre)
      return {price * wanted_m, !offer.owned, 0};
    const auto used = used_.find(offer_number);
    const bool pack_is_open = used != used_.end() && used->second % offer.pack != 0;
    double further = pack_is_open ? 0.0 : price;
    if (rule_ == Rule::share_of_body && offer.form == Form::sawn) {
      const double length_m = kind.piece.body.length_m() + question_.kerf_m;
      further = price / offer.pack * length_m / (offer.body.length_m() + question_.kerf_m);
    } else if (rule_ == Rule::share_of_body) {
      further = price / offer.pack;
    }
    return {further, !offer.owned, 1};
  }

  bool open(std::size_t need, const Kind& kind) {
    auto best = std::tuple{std::numeric_limits<double>::infinity(), true, 2};
    const Offer* chosen = nullptr;
    std::size_t number = 0;
    for (const std::size_t offer_number : kind.offers) {
      const Offer& offer = question_.offers[offer_number];
      if (offer.available && used_[offer_number] >= static_cast<std::int64_t>(*offer.available) * offer.pack)
        continue;
      const auto price = price_of(offer_number, kind);
      if (chosen == nullptr || price < best) {
        best = price;
        chosen = &offer;
        number = offer_number;
      }
    }
    if (chosen == nullptr)
      return false;
    ++used_[number];
    const auto portion = std::ranges::find(choice_.portions, number, &Portion::offer);
    if (!one_by_one(*chosen) && portion != choice_.portions.end())
      portion->needs.push_back(need);
    else
      choice_.portions.push_back({number, {need}});
    return true;
  }

  const Question& question_;
  Rule rule_;
  Choice choice_;
  std::map<std::size_t, std::int64_t> used_; ///< bodies or whole things of each offer
};

} // namespace

Choice greedy_choice(const Job& job, const std::vector<Kind>& kinds) {
  Choice first = Greedy(job.question, Rule::further_money).serve(kinds);
  Choice second = Greedy(job.question, Rule::share_of_body).serve(kinds);
  return worth_of(job.question, second) < worth_of(job.question, first) ? second : first;
}

} // namespace bellmouth::buy
