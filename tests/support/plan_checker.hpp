// SPDX-License-Identifier: GPL-3.0-or-later
// Whether a buying plan can be carried out and costs what it says. Written against the words of
// bellmouth/buy/plan.hpp, by intervals along each body; nothing is known of how a plan is found.
#pragma once

#include <bellmouth/buy/plan.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <map>
#include <string>
#include <vector>

namespace bellmouth::test {

/// Lists what is wrong with a plan; nothing for a good one.
class PlanChecker {
public:
  PlanChecker(const buy::Question& question, const buy::Plan& plan) : question_(question), plan_(plan) {}

  [[nodiscard]] std::vector<std::string> faults() {
    for (const buy::Use& use : plan_.uses)
      check(use);
    for (const std::size_t need : plan_.unserved)
      ++served_[need];
    for (std::size_t i = 0; i < question_.needs.size(); ++i)
      expect(served_[i] == 1, fmt::format("need {} is there {} times", i, served_[i]));
    check_totals();
    check_bound();
    return faults_;
  }

private:
  static constexpr double slack_m = 2e-6;
  static constexpr double slack_rad = 1e-6;

  void expect(bool good, std::string fault) {
    if (!good)
      faults_.push_back(std::move(fault));
  }

  const buy::Offer& offer_of(const buy::Use& use) const { return question_.offers.at(use.offer); }

  void serve(std::size_t need, const buy::Use& use) {
    ++served_[need];
    expect(std::ranges::count(question_.needs.at(need).offers, use.offer) == 1,
           fmt::format("need {} does not name offer {}", need, use.offer));
    expect(question_.needs.at(need).form == offer_of(use).form, fmt::format("need {} of another form", need));
  }

  void check(const buy::Use& use) {
    const buy::Offer& offer = offer_of(use);
    for (const std::size_t need : use.needs)
      serve(need, use);
    for (const buy::Cut& cut : use.cuts)
      serve(cut.need, use);
    if (offer.form == buy::Form::whole) {
      expect(use.cuts.empty() && use.offcuts.empty() && !use.needs.empty() &&
                 use.needs.size() <= static_cast<std::size_t>(offer.pack),
             fmt::format("a pack of offer {} with {} needs", use.offer, use.needs.size()));
      return;
    }
    expect(use.needs.empty() && !use.cuts.empty(), fmt::format("a body of offer {} without cuts", use.offer));
    if (offer.by_metre)
      check_length(use);
    else
      check_body(use);
  }

  void check_length(const buy::Use& use) {
    double length_m = 0;
    for (const buy::Cut& cut : use.cuts) {
      const buy::Need& need = question_.needs[cut.need];
      expect(std::abs(cut.from_m - length_m) < slack_m, fmt::format("need {} off its place", cut.need));
      expect(need.body.angle_rad == 0, fmt::format("bent need {} from a length", cut.need));
      length_m += need.body.length_m() + need.own_cuts * question_.kerf_m;
      expect(std::abs(cut.to_m - length_m) < slack_m, fmt::format("need {} of another length", cut.need));
      length_m += question_.kerf_m;
    }
    expect(std::abs(use.length_m - length_m) < slack_m, "a length that is not what its cuts want");
    expect(use.length_m <= offer_of(use).longest_m + slack_m, "a length longer than what is sold");
    expect(use.offcuts.empty(), "offcuts of a length that was bought to fit");
  }

  struct Part {
    double in_m = 0, arc_m = 0, out_m = 0;
    double length_m() const { return in_m + arc_m + out_m; }
  };
  /// What of a body lies between two places.
  static Part part(const buy::Body& body, double from_m, double to_m) {
    const double arc_from_m = body.straight_in_m;
    const double arc_to_m = arc_from_m + body.radius_m * body.angle_rad;
    const auto overlap = [&](double a, double b) {
      return std::max(0.0, std::min(to_m, b) - std::max(from_m, a));
    };
    return {overlap(0, arc_from_m), overlap(arc_from_m, arc_to_m), overlap(arc_to_m, body.length_m())};
  }

  void check_body(const buy::Use& use) {
    const buy::Body& body = offer_of(use).body;
    expect(std::abs(use.length_m - body.length_m()) < slack_m, "a body of another length");
    double end_m = 0;
    bool first = true;
    std::vector<Part> left;
    const auto leave = [&](double from_m, double to_m) {
      if (to_m - from_m > buy::nothing_m)
        left.push_back(part(body, from_m, to_m));
    };
    std::vector<const buy::Cut*> bent;
    for (const buy::Cut& cut : use.cuts) {
      const double kerf_m = first ? 0 : question_.kerf_m;
      expect(cut.from_m >= end_m + kerf_m - slack_m && cut.to_m <= body.length_m() + slack_m,
             fmt::format("need {} from {} to {} m does not lie free", cut.need, cut.from_m, cut.to_m));
      leave(end_m + kerf_m, cut.from_m - question_.kerf_m);
      end_m = cut.to_m;
      first = false;
      check_piece(body, cut);
      if (question_.needs[cut.need].body.angle_rad > 0)
        bent.push_back(&cut);
    }
    leave(end_m + question_.kerf_m, body.length_m());
    check_shortness(bent, left);
    check_offcuts(use, left);
  }

  void check_piece(const buy::Body& body, const buy::Cut& cut) {
    const buy::Need& need = question_.needs[cut.need];
    const Part made = part(body, cut.from_m, cut.to_m);
    const std::string name = fmt::format("need {}", cut.need);
    if (need.body.angle_rad == 0) {
      expect(std::abs(cut.to_m - cut.from_m - need.body.length_m() - need.own_cuts * question_.kerf_m) <
                 slack_m,
             name + " of another length");
      expect(made.arc_m < slack_m || body.angle_rad == 0, name + " is straight, out of an arc");
      return;
    }
    const double in_m = cut.turned ? need.body.straight_out_m : need.body.straight_in_m;
    const double out_m = cut.turned ? need.body.straight_in_m : need.body.straight_out_m;
    expect(std::abs(made.in_m - in_m) < slack_m && std::abs(made.out_m - out_m) < slack_m,
           fmt::format("{} has straight ends of {} and {} m", name, made.in_m, made.out_m));
    const double short_rad = need.body.angle_rad - made.arc_m / body.radius_m;
    expect(std::abs(short_rad - cut.short_by_rad) < slack_rad, name + " falls short by another angle");
    expect(short_rad <= question_.angle_short_rad + slack_rad, name + " falls short by too much");
    const bool both_ends = in_m > slack_m && out_m > slack_m;
    expect(-short_rad <= (both_ends ? buy::same_angle_rad : buy::nothing_m / body.radius_m) + slack_rad,
           name + " has more angle than wanted");
  }

  /// No more is missing than must be, and the same from each.
  void check_shortness(const std::vector<const buy::Cut*>& bent, const std::vector<Part>& left) {
    for (const buy::Cut* cut : bent) {
      if (cut->short_by_rad < slack_rad)
        continue;
      expect(std::abs(cut->short_by_rad - bent.front()->short_by_rad) < slack_rad, "not the same from each");
      for (const Part& part : left)
        expect(part.arc_m < slack_m, "a piece falls short though there is arc left");
    }
    for (std::size_t i = 1; i < bent.size(); ++i)
      if (bent[i]->short_by_rad > slack_rad)
        expect(std::abs(bent[i]->from_m - bent[i - 1]->to_m - question_.kerf_m) < slack_m,
               "a piece falls short by more than a kerf takes");
  }

  void check_offcuts(const buy::Use& use, const std::vector<Part>& left) {
    expect(use.offcuts.size() == left.size(),
           fmt::format("{} offcuts of offer {}, {} wanted", use.offcuts.size(), use.offer, left.size()));
    for (std::size_t i = 0; i < std::min(left.size(), use.offcuts.size()); ++i) {
      const buy::Body& offcut = use.offcuts[i];
      const double arc_m = offcut.radius_m * offcut.angle_rad;
      const bool same_length = std::abs(offcut.length_m() - left[i].length_m()) < slack_m;
      // A sliver of arc on a straight offcut is no arc.
      const bool same_shape = left[i].arc_m <= buy::nothing_m
                                  ? arc_m == 0
                                  : std::abs(arc_m - left[i].arc_m) < slack_m &&
                                        std::abs(offcut.straight_in_m - left[i].in_m) < slack_m;
      expect(same_length && same_shape, fmt::format("offcut {} of offer {} is another", i, use.offer));
    }
  }

  void check_totals() {
    std::map<std::size_t, std::int64_t> things;
    std::map<std::size_t, double> metres;
    int offcuts = 0;
    for (const buy::Use& use : plan_.uses) {
      ++things[use.offer];
      metres[use.offer] += use.length_m;
      offcuts += static_cast<int>(use.offcuts.size());
    }
    std::int64_t goods = 0;
    std::map<std::size_t, std::int64_t> of_supplier;
    for (const auto& [number, count] : things) {
      const buy::Offer& offer = question_.offers[number];
      std::int64_t packs = count;
      if (offer.form == buy::Form::sawn)
        packs = (count + offer.pack - 1) / offer.pack;
      std::int64_t cost = packs * offer.price_minor;
      if (offer.by_metre) // in hundredths of a micrometre, half a minor unit counts as one
        cost = (2 * std::llround(metres[number] * 1e8) * offer.price_minor + 100'000'000) / 200'000'000;
      expect(!offer.available || packs <= *offer.available,
             fmt::format("more of offer {} than there is", number));
      goods += cost;
      if (offer.supplier)
        of_supplier[*offer.supplier] += cost;
    }
    std::int64_t postage = 0;
    for (const auto& [supplier, of_it] : of_supplier) {
      const buy::Postage& terms = question_.postage[supplier];
      postage += terms.free_from_minor && of_it >= *terms.free_from_minor ? 0 : terms.price_minor;
    }
    expect(plan_.goods_minor == goods, fmt::format("goods of {}, not {}", goods, plan_.goods_minor));
    expect(plan_.postage_minor == postage,
           fmt::format("postage of {}, not {}", postage, plan_.postage_minor));
    expect(plan_.suppliers == static_cast<int>(of_supplier.size()), "another number of suppliers");
    expect(plan_.offcuts == offcuts, "another number of offcuts");
  }

  void check_bound() {
    double value = static_cast<double>(plan_.goods_minor + plan_.postage_minor);
    if (question_.aim == buy::Aim::suppliers)
      value = plan_.suppliers;
    if (question_.aim == buy::Aim::offcuts)
      value = plan_.offcuts;
    expect(plan_.bound <= value, fmt::format("a bound of {} above {}", plan_.bound, value));
    expect(!plan_.proven || plan_.bound == value,
           fmt::format("proven, and a bound of {} below {}", plan_.bound, value));
  }

  const buy::Question& question_;
  const buy::Plan& plan_;
  std::map<std::size_t, int> served_;
  std::vector<std::string> faults_;
};

/// All faults of a plan in lines; empty for a good one.
[[nodiscard]] inline std::string faults(const buy::Question& question, const buy::Plan& plan) {
  std::string text;
  for (const std::string& fault : PlanChecker(question, plan).faults())
    text += fault + "\n";
  return text;
}

} // namespace bellmouth::test
