// SPDX-License-Identifier: GPL-3.0-or-later
// Random questions of what to buy: invented pieces, offers and prices, the same for the same number.
#pragma once

#include <bellmouth/buy/plan.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numbers>
#include <random>
#include <vector>

namespace bellmouth::test {

/// Draws whole numbers by remainder, which unlike std's distributions is the same everywhere.
class Draw {
public:
  explicit Draw(std::uint64_t number) : engine_(number) {}

  int from_to(int lowest, int highest) {
    return lowest + static_cast<int>(engine_() % static_cast<std::uint64_t>(highest - lowest + 1));
  }
  bool one_in(int count) { return from_to(1, count) == 1; }
  template <class T> T one_of(std::initializer_list<T> values) {
    return *(values.begin() + from_to(0, static_cast<int>(values.size()) - 1));
  }

private:
  std::mt19937_64 engine_;
};

/// What a random question is like.
struct Likes {
  int needs = 12, offers = 20;
  int families = 3; ///< sections that share no offer
  int suppliers = 3;
  bool postage = true;
  bool scarce = false; ///< much is there in small numbers only
  int whole_in = 4;    ///< one family in so many is of whole things
};

class RandomQuestion {
public:
  RandomQuestion(std::uint64_t number, Likes likes) : draw_(number), likes_(likes) {
    for (int i = 0; i < likes.suppliers; ++i) {
      buy::Postage postage;
      if (likes.postage) {
        postage.price_minor = draw_.from_to(3, 15) * 100;
        if (draw_.one_in(2))
          postage.free_from_minor = draw_.from_to(20, 150) * 100;
      }
      question_.postage.push_back(postage);
    }
    question_.kerf_m = draw_.one_of({0.0, 1.5e-3, 2.5e-3, 3e-3});
    for (int i = 0; i < likes.families; ++i)
      families_.push_back({draw_.one_in(likes.whole_in), draw_.one_of({60, 75, 95, 120}) * 1e-3, {}});
    for (int i = 0; i < likes.offers; ++i)
      add_offer(families_[static_cast<std::size_t>(i % likes.families)]);
    for (int i = 0; i < likes.needs; ++i)
      add_need(families_[static_cast<std::size_t>(draw_.from_to(0, likes.families - 1))]);
  }

  [[nodiscard]] buy::Question question() const { return question_; }

private:
  struct Family {
    bool whole = false;
    double radius_m = 0;
    std::vector<std::size_t> offers;
  };

  static double angle(int degrees) { return degrees * std::numbers::pi / 180; }

  buy::Body any_bend(const Family& family, bool bought) {
    const int short_mm = bought ? 50 : 10;
    const int long_mm = bought ? 150 : 60;
    const auto leg = [&] {
      return !bought && draw_.one_in(3) ? 0.0 : draw_.from_to(short_mm, long_mm) * 1e-3;
    };
    const int degrees =
        bought ? draw_.one_of({90, 90, 180, 180}) : draw_.one_of({30, 45, 60, 89, 90, 90, 90});
    return {leg(), family.radius_m, angle(degrees), leg()};
  }

  void add_offer(Family& family) {
    buy::Offer offer;
    if (likes_.suppliers > 0)
      offer.supplier = static_cast<std::size_t>(draw_.from_to(0, likes_.suppliers - 1));
    if (family.whole) {
      offer.pack = draw_.one_of({1, 1, 2, 4, 10});
      offer.price_minor = offer.pack * draw_.from_to(90, 400);
    } else {
      offer.form = buy::Form::sawn;
      // Each family has a length and a bend to begin with.
      const std::size_t before = family.offers.size();
      const int what = before == 0 ? 1 : before == 1 ? 10 : draw_.from_to(1, 10);
      if (what <= 4) {
        offer.body.straight_in_m = draw_.one_of({250, 300, 500, 600, 1000, 1500, 2000}) * 1e-3;
        offer.price_minor = 200 + std::lround(offer.body.straight_in_m * draw_.from_to(1500, 3500));
      } else if (what <= 5) {
        offer.by_metre = true;
        offer.price_minor = draw_.from_to(2500, 5000);
        if (draw_.one_in(2))
          offer.longest_m = draw_.one_of({0.5, 1.0, 3.0});
      } else {
        offer.body = any_bend(family, true);
        offer.price_minor = draw_.from_to(900, 3500);
        offer.pack = draw_.one_of({1, 1, 1, 2});
      }
    }
    const bool scarce = !offer.by_metre && family.offers.size() > 1 && draw_.one_in(likes_.scarce ? 2 : 8);
    if (scarce)
      offer.available = draw_.from_to(0, 2);
    if (scarce && draw_.one_in(2)) {
      offer.owned = true;
      offer.pack = 1;
      offer.price_minor = 0;
      offer.supplier.reset();
    }
    family.offers.push_back(question_.offers.size());
    question_.offers.push_back(offer);
  }

  void add_need(const Family& family) {
    buy::Need need;
    if (!family.whole) {
      need.form = buy::Form::sawn;
      if (draw_.one_in(3)) {
        need.body = any_bend(family, false);
      } else {
        need.body.straight_in_m = draw_.from_to(30, 420) * 1e-3;
        need.own_cuts = draw_.one_in(6) ? draw_.from_to(1, 4) : 0;
      }
    }
    for (const std::size_t offer : family.offers)
      if (!draw_.one_in(6))
        need.offers.push_back(offer);
    question_.needs.push_back(std::move(need));
  }

  Draw draw_;
  Likes likes_;
  std::vector<Family> families_;
  buy::Question question_;
};

[[nodiscard]] inline buy::Question random_question(std::uint64_t number, Likes likes = {}) {
  return RandomQuestion(number, likes).question();
}

} // namespace bellmouth::test
