// SPDX-License-Identifier: GPL-3.0-or-later
#include "group.hpp"

#include "greedy.hpp"
#include "master.hpp"
#include "nodes.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>
#include <utility>

namespace bellmouth::buy {
namespace {

/// A sum of whole numbers from a linear programme may be this much off, absolute and by its size.
constexpr double sum_rounding = 1e-3;
constexpr double relative_rounding = 1e-9;
/// A column must be worth this share of the largest dual to go in.
constexpr double least_gain = 1e-9;
/// Patterns that one programme takes at most.
constexpr std::size_t most_patterns = 4000;
constexpr std::size_t most_near_patterns = 400;
/// Branches tried to better a plan with the patterns at hand, and to put equal plans in order.
constexpr int nodes_for_better = 1000;
constexpr int nodes_for_order = 1000;
constexpr int all_nodes = std::numeric_limits<int>::max() / 2;
/// How often the distance from bound to plan is halved to find patterns close to the bound.
constexpr int halvings = 12;
/// How often the penalty for what is missing is made tenfold.
constexpr int penalty_steps = 4;
constexpr double least_missing = 1e-7;

std::int64_t whole_above(double value) {
  return static_cast<std::int64_t>(
      std::ceil(value - std::max(sum_rounding, relative_rounding * std::abs(value))));
}

/// Where a worth holds a goal's value.
std::int64_t& part_of(Worth& worth, Goal goal) {
  if (goal == Goal::unserved)
    return worth.unserved;
  return goal == Goal::money ? worth.money_minor : worth.aim;
}

std::int64_t part_of(const Worth& worth, Goal goal) {
  Worth copy = worth;
  return part_of(copy, goal);
}

/// Finds and proves the least of one goal after another. Patterns are found as the relaxed programme asks for
/// them (columns); its value is a bound. Patterns whose reduced cost is larger than the distance from bound
/// to best plan are in no better plan: where the others are few, one integer programme over all of them
/// decides; where not, the number of packs of an offer is split into "at most" and "at least".
class Search {
public:
  Search(const Job& job, const std::vector<Kind>& kinds, std::optional<Worth> below, Clock::time_point until)
      : job_(job), kinds_(kinds), below_(below), until_(until) {
    std::set<std::size_t> offers;
    for (const Kind& kind : kinds) {
      needs_ += kind.needs.size();
      for (const std::size_t offer : kind.offers)
        if (one_by_one(job.question.offers[offer]))
          offers.insert(offer);
    }
    for (const std::size_t offer : offers)
      cutters_.emplace_back(job.question, kinds, offer);
    consider(greedy_choice(job, kinds));
  }

  Solved run() {
    Solved solved;
    std::vector<Goal> goals;
    if (!best_ || worth_.unserved > 0)
      goals.push_back(Goal::unserved);
    else
      caps_.push_back({Goal::unserved, 0});
    if (job_.question.aim == Aim::offcuts)
      goals.push_back(Goal::offcuts);
    goals.push_back(Goal::money);
    solved.proven = true;
    for (const Goal goal : goals) {
      const std::optional<std::int64_t> least = solve(goal);
      if (!least) // proven: there is no choice, or none that is wanted
        return solved;
      part_of(solved.least, goal) = *least;
      if (!best_ || value_of(goal, worth_) > *least) {
        solved.proven = false;
        break;
      }
      caps_.push_back({goal, *least});
      if (below_ && *least < part_of(*below_, goal))
        below_.reset(); // it is better already
    }
    if (solved.proven && best_)
      put_in_order();
    solved.choice = best_;
    solved.worth = worth_;
    return solved;
  }

private:
  bool late() const { return Clock::now() >= until_; }

  bool exactly() const { return job_.question.aim == Aim::offcuts || !job_.at_least.empty(); }

  /// Keeps a choice that is better than the best so far.
  bool consider(Choice choice) {
    std::vector<std::int64_t> goods(job_.question.postage.size(), 0);
    const Worth worth = worth_of(job_.question, choice, &goods);
    for (const AtLeast& least : job_.at_least)
      if (goods[least.supplier] < least.goods_minor)
        return false;
    if (best_ && !(worth < worth_))
      return false;
    best_ = std::move(choice);
    worth_ = worth;
    return true;
  }

  /// Only what is less than this is worth finding.
  double wanted_below(Goal goal) const {
    double wanted =
        best_ ? static_cast<double>(value_of(goal, worth_)) : std::numeric_limits<double>::infinity();
    if (below_ && goal != Goal::order) {
      const std::int64_t part = part_of(*below_, goal);
      wanted = std::min(wanted, static_cast<double>(goal == Goal::money ? part : part + 1));
    }
    return wanted;
  }

  bool closed(Goal goal, double bound) const {
    return static_cast<double>(whole_above(bound)) >= wanted_below(goal);
  }

  Master::Settings settings(Goal goal, bool exactly, double penalty) const {
    return {goal, caps_, exactly, penalty};
  }

  double first_penalty(Goal goal) const {
    if (wanted_below(goal) < std::numeric_limits<double>::infinity())
      return std::max(wanted_below(goal), 0.0) + 1;
    double dearest = 1;
    for (const Kind& kind : kinds_)
      for (const std::size_t offer : kind.offers)
        dearest = std::max(dearest, static_cast<double>(job_.question.offers[offer].price_minor));
    return dearest + 1;
  }

  /// Those of the best choice, and each kind alone out of what is cheapest for it.
  void add_first_patterns(Master& master) {
    std::vector<std::pair<double, std::optional<Pattern>>> alone(kinds_.size());
    for (Cutter& cutter : cutters_) {
      const Offer& offer = job_.question.offers[cutter.offer()];
      const double price = static_cast<double>(offer.price_minor) / offer.pack;
      for (std::size_t k = 0; k < kinds_.size(); ++k)
        if (!alone[k].second || price < alone[k].first)
          if (const auto single = cutter.pattern({{k, 1}}))
            alone[k] = {price, single};
      if (!best_)
        continue;
      for (const Portion& portion : best_->portions)
        if (portion.offer == cutter.offer())
          if (const auto known = cutter.pattern(counts_of(portion)))
            master.add(*known);
    }
    for (const auto& [price, single] : alone)
      if (single)
        master.add(*single);
  }

  std::vector<std::pair<std::size_t, int>> counts_of(const Portion& portion) const {
    std::map<std::size_t, int> counts;
    for (const std::size_t need : portion.needs)
      for (std::size_t k = 0; k < kinds_.size(); ++k)
        if (std::ranges::binary_search(kinds_[k].needs, need))
          ++counts[k];
    return {counts.begin(), counts.end()};
  }

  static void limit(Master& master, const Node& node) {
    for (const auto& [offer, column] : master.packs()) {
      const auto limits = node.packs.find(offer);
      if (limits != node.packs.end())
        master.programme().set_column_bounds(column, limits->second.lower, limits->second.upper);
      else
        master.programme().set_column_bounds(column, 0, master.most_packs(offer));
    }
  }

  /// Solves the relaxed programme of a node with all patterns that matter; a bound, or nullopt when stopped.
  std::optional<double> relax(Master& master, Goal goal) {
    double penalty = first_penalty(goal);
    master.set_penalty(penalty);
    for (int step = 0;;) {
      if (late() || master.programme().solve_relaxed(until_) != Outcome::optimal)
        return std::nullopt;
      const std::vector<double> values = master.kind_values();
      const double gain = least_gain * (1 + std::ranges::max(values));
      const double offcut_cost = master.offcut_cost();
      bool added = false;
      double unsure = 0;
      for (Cutter& cutter : cutters_) {
        const double body_cost = master.body_cost(cutter.offer());
        const Cutter::Best best = cutter.best({values, offcut_cost}, body_cost + gain);
        if (best.pattern && master.add(*best.pattern))
          added = true;
        else if (const double more = best.at_most - body_cost - gain; more > gain)
          unsure += more * master.most_packs(cutter.offer()) * job_.question.offers[cutter.offer()].pack;
      }
      if (added)
        continue;
      const double bound = master.programme().objective() - unsure - 2 * gain * static_cast<double>(needs_);
      if (master.missing() > least_missing && !closed(goal, bound) && step++ < penalty_steps) {
        penalty *= 10;
        master.set_penalty(penalty);
        continue;
      }
      return bound;
    }
  }

  /// All patterns that may be in a choice of `at_most`; nullopt if they are too many. After relax().
  std::optional<std::vector<Pattern>> patterns_within(const Master& master, double distance, bool only_full,
                                                      std::size_t most = most_patterns) {
    std::vector<Pattern> found;
    const std::vector<double> values = master.kind_values();
    const double offcut_cost = master.offcut_cost();
    const double slack = sum_rounding + least_gain * (1 + std::ranges::max(values));
    for (Cutter& cutter : cutters_)
      if (!cutter.all({values, offcut_cost}, master.body_cost(cutter.offer()) - distance - slack, only_full,
                      most, found))
        return std::nullopt;
    return found;
  }

  enum class Verdict { closed, open };

  /// Decides a node by one integer programme over all patterns that matter, if they are few.
  Verdict decide(const Master& relaxed, Goal goal, const Node& node, double bound) {
    const double wanted = wanted_below(goal) - 1;
    if (wanted == std::numeric_limits<double>::infinity() && !cutters_.empty())
      return Verdict::open;
    const auto patterns = patterns_within(relaxed, cutters_.empty() ? 0 : wanted - bound, only_full(goal));
    if (!patterns)
      return Verdict::open;
    Master whole(job_, kinds_, settings(goal, exactly(), 0));
    for (const Pattern& pattern : *patterns)
      whole.add(pattern);
    limit(whole, node);
    const Programme::Whole result = whole.programme().solve_whole(effort(until_, all_nodes), wanted + 0.5);
    if (!result.values.empty())
      consider(whole.choice(result.values));
    return result.outcome == Outcome::optimal || result.outcome == Outcome::infeasible ? Verdict::closed
                                                                                       : Verdict::open;
  }

  /// Looks for a better choice in a node among the patterns that come next to the relaxed solution, then
  /// anywhere among those that are close to the bound.
  bool better(const Master& relaxed, Goal goal, const Node& node, double bound) {
    const auto left = until_ - Clock::now();
    const Clock::time_point soon = until_ == Clock::time_point::max() ? until_ : Clock::now() + left / 4;
    const auto look = [&](const Master& master) {
      const Programme::Whole result =
          master.programme().solve_whole(effort(soon, nodes_for_better), wanted_below(goal) - 0.5);
      return !result.values.empty() && consider(master.choice(result.values));
    };
    Master whole(job_, kinds_, settings(goal, exactly(), 0));
    for (const Pattern& pattern : relaxed.nearest(most_near_patterns))
      whole.add(pattern);
    limit(whole, node);
    const bool found = look(whole);
    if (closed(goal, bound))
      return found;
    double distance = wanted_below(goal) - bound;
    for (int i = 0; i < halvings && distance < std::numeric_limits<double>::infinity(); ++i, distance /= 2)
      if (const auto patterns = patterns_within(relaxed, distance, only_full(goal), most_near_patterns)) {
        for (const Pattern& pattern : *patterns)
          whole.add(pattern);
        break;
      }
    limit(whole, {});
    return look(whole) || found;
  }

  Programme::Effort effort(Clock::time_point until, int nodes) const {
    return {until, nodes, !job_.at_least.empty()};
  }

  bool only_full(Goal goal) const { return goal == Goal::money && !exactly(); }

  /// The offer whose packs are furthest from a whole number, by what they cost.
  std::optional<std::pair<std::size_t, double>> split(const Master& master) const {
    std::optional<std::pair<std::size_t, double>> chosen;
    double highest = 0;
    for (const auto& [offer, column] : master.packs()) {
      const double packs = master.programme().value(column);
      const double off = std::abs(packs - std::round(packs));
      const double score = off * (1 + static_cast<double>(job_.question.offers[offer].price_minor));
      if (off > 1e-6 && score > highest) {
        highest = score;
        chosen = std::pair{offer, packs};
      }
    }
    return chosen;
  }

  /// The least of a goal, as far as it is known; nullopt if it is proven that there is no choice.
  std::optional<std::int64_t> solve(Goal goal) {
    if (best_ && value_of(goal, worth_) == 0)
      return 0;
    if (late())
      return 0;
    Master master(job_, kinds_, settings(goal, exactly(), first_penalty(goal)));
    add_first_patterns(master);
    Nodes nodes;
    double unresolved = std::numeric_limits<double>::infinity();

    while (std::optional<Node> node = nodes.take()) {
      if (closed(goal, node->bound))
        continue;
      limit(master, *node);
      const std::optional<double> bound = relax(master, goal);
      if (!bound) {
        unresolved = std::min(unresolved, node->bound);
        if (late())
          break;
        continue;
      }
      node->bound = std::max(node->bound, *bound);
      if (closed(goal, node->bound))
        continue;
      if (!best_ && master.missing() > least_missing)
        continue; // at whatever penalty: it is impossible
      const auto fraction = split(master);
      if (decide(master, goal, *node, *bound) == Verdict::closed)
        continue;
      if (!fraction) {
        if (better(master, goal, *node, *bound))
          nodes.stop_diving();
        if (closed(goal, node->bound) || decide(master, goal, *node, *bound) == Verdict::closed)
          continue;
      }
      if (fraction)
        nodes.split(*node, fraction->first, fraction->second, master.most_packs(fraction->first));
      else
        unresolved = std::min(unresolved, node->bound);
    }
    unresolved = std::min(unresolved, nodes.bound());
    const bool resolved = unresolved == std::numeric_limits<double>::infinity();
    if (resolved && (!best_ || (below_ && exceeds(goal, value_of(goal, worth_)))))
      return std::nullopt;
    const std::int64_t least =
        resolved ? value_of(goal, worth_) : std::max<std::int64_t>(0, whole_above(unresolved));
    return best_ ? std::min(least, value_of(goal, worth_)) : least;
  }

  /// Whether a value is not what is wanted at most.
  bool exceeds(Goal goal, std::int64_t value) const {
    const std::int64_t part = part_of(*below_, goal);
    return goal == Goal::money ? value >= part : value > part;
  }

  /// Among choices of equal money, more from what is owned and fewer offcuts.
  void put_in_order() {
    if (late() || value_of(Goal::order, worth_) == 0)
      return;
    Master relaxed(job_, kinds_, settings(Goal::money, true, first_penalty(Goal::money)));
    add_first_patterns(relaxed);
    const std::optional<double> bound = relax(relaxed, Goal::money);
    if (!bound)
      return;
    const auto patterns = patterns_within(relaxed, static_cast<double>(worth_.money_minor) - *bound, false);
    if (!patterns)
      return;
    Master whole(job_, kinds_, settings(Goal::order, true, 0));
    for (const Pattern& pattern : *patterns)
      whole.add(pattern);
    const Programme::Whole result =
        whole.programme().solve_whole(effort(until_, nodes_for_order), wanted_below(Goal::order) - 0.5);
    if (!result.values.empty())
      consider(whole.choice(result.values));
  }

  const Job& job_;
  const std::vector<Kind>& kinds_;
  std::optional<Worth> below_; ///< only choices better than this are wanted
  Clock::time_point until_;
  std::vector<Cutter> cutters_;
  std::size_t needs_ = 0;
  std::vector<Cap> caps_;
  std::optional<Choice> best_;
  Worth worth_;
};

} // namespace

Solved solve(const Job& job, std::optional<Worth> below, Clock::time_point until) {
  std::vector<Kind> kinds = kinds_of(job);
  std::vector<std::size_t> without;
  std::erase_if(kinds, [&](const Kind& kind) {
    if (!kind.offers.empty())
      return false;
    without.insert(without.end(), kind.needs.begin(), kind.needs.end());
    return true;
  });
  if (below)
    below->unserved -= static_cast<std::int64_t>(without.size());
  Solved solved;
  if (kinds.empty()) {
    solved.proven = true;
    if (job.at_least.empty())
      solved.choice = Choice{};
  } else {
    solved = Search(job, kinds, below, until).run();
  }
  if (solved.choice)
    solved.choice->unserved.insert(solved.choice->unserved.end(), without.begin(), without.end());
  solved.worth.unserved += static_cast<std::int64_t>(without.size());
  solved.least.unserved += static_cast<std::int64_t>(without.size());
  return solved;
}

} // namespace bellmouth::buy
