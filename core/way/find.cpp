// SPDX-License-Identifier: GPL-3.0-or-later
#include "worker.hpp"

#include <bellmouth/way/find.hpp>

#include <algorithm>
#include <array>
#include <atomic>
#include <cassert>
#include <chrono>
#include <cmath>
#include <iterator>
#include <memory>
#include <mutex>
#include <thread>
#include <utility>

namespace bellmouth::way {

namespace {

constexpr double no_limit = std::numeric_limits<double>::infinity();
/// How much dearer some regions are made than others when another passage is sought.
constexpr double passage_liking = 2;
constexpr int crossings = 4;
/// A path is sought in this round, and then every so many; a third as often once there is a way.
constexpr std::size_t first_passage_round = 2, passage_every = 8, most_paths = 24;
/// A way is made better at length if it costs no more than this times the best.
constexpr double promising = 1.25;
constexpr std::size_t most_strays = 12, most_goods = 12, most_others = 60;

class Clock {
public:
  [[nodiscard]] double seconds() const {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - began_).count();
  }

private:
  std::chrono::steady_clock::time_point began_ = std::chrono::steady_clock::now();
};

bool cheaper(const Answer& a, const Answer& b) {
  return a.figures.cost < b.figures.cost;
}

/// Keeps ways sorted by cost, no two the same. Returns whether it was taken.
bool take(const Problem& problem, std::vector<Answer>& answers, Answer answer) {
  // One way can be the same as several that are not the same as each other.
  const auto is_same = [&](const Answer& known) { return same(problem, known.way, answer.way); };
  if (std::ranges::any_of(answers,
                          [&](const Answer& known) { return !cheaper(answer, known) && is_same(known); }))
    return false;
  std::erase_if(answers, is_same);
  answers.insert(std::ranges::upper_bound(answers, answer, cheaper), std::move(answer));
  return true;
}

/// Drops the dearest that is not the best by any single measure, so that other weights find something.
void thin_out(std::vector<Answer>& answers, std::size_t most) {
  while (answers.size() > most) {
    const auto is_best_by = [&](const Answer& answer, auto measure) {
      return std::ranges::none_of(
          answers, [&](const Answer& other) { return measure(other.figures) < measure(answer.figures); });
    };
    std::size_t drop = answers.size() - 1;
    while (drop > 0) {
      const Answer& answer = answers[drop];
      if (!is_best_by(answer, [](const Figures& f) { return f.price; }) &&
          !is_best_by(answer, [](const Figures& f) { return f.loss; }) &&
          !is_best_by(answer, [](const Figures& f) { return static_cast<double>(f.joints); }) &&
          !is_best_by(answer, [](const Figures& f) { return f.length_m; }))
        break;
      --drop;
    }
    answers.erase(answers.begin() + static_cast<std::ptrdiff_t>(drop > 0 ? drop : answers.size() - 1));
  }
}

/// Whether two polygons go much the same way.
bool are_alike(const Corners& a, const Corners& b, std::size_t turns) {
  constexpr double alike_m = 40e-3;
  for (std::size_t i = 0; i < turns; ++i)
    if (bay::length(bay::minus(a[i], b[i])) > alike_m)
      return false;
  return true;
}

/// What a unit does.
struct Job {
  enum class Kind { fresh, stray, good, better, passage, along, crossed } kind = Kind::fresh;
  std::size_t turns = 0, from = 0; ///< from: which stray, good one or path
  std::uint64_t number = 0;
};

class Search {
public:
  Search(const Problem& problem, const Effort& effort, const Watch& watch)
      : problem_(problem), effort_(effort), watch_(watch), field_(problem, effort.seed) {
    const unsigned threads = std::max(effort.threads, 1U);
    for (unsigned i = 0; i < threads; ++i)
      workers_.push_back(std::make_unique<Worker>(field_));
  }

  Found run() {
    bool goes_on = true;
    while (goes_on && found_.rounds < effort_.rounds && clock_.seconds() < effort_.seconds) {
      const std::optional<std::vector<Job>> jobs = round();
      if (!jobs) {
        found_.exhausted = true;
        break;
      }
      work(*jobs);
      ++found_.rounds;
      settle_strays();
      publish();
      goes_on = !stopped_ && (!watch_ || watch_(found_));
    }
    publish();
    if (all_.empty())
      found_.nearly = nearly();
    return std::move(found_);
  }

private:
  /// Of a good way by its place in order; infinite where there are not so many.
  [[nodiscard]] double cost_of(std::size_t place) const {
    if (place < all_.size())
      return all_[place].figures.cost;
    return no_limit;
  }
  /// What a way must cost less than to be among those wanted.
  [[nodiscard]] double useful() const { return cost_of(effort_.best - 1); }

  /// The work of the next round; unset where nothing is left that could be of use. It depends on what was
  /// known after the last, and on nothing else.
  std::optional<std::vector<Job>> round() {
    useful_ = useful();
    const double best = cost_of(0);
    std::vector<Job> jobs;
    const auto add = [&](Job::Kind kind, std::size_t turns, std::size_t from) {
      jobs.push_back({kind, turns, from, next_number_++});
    };
    // What takes longest comes first, so that no thread is left waiting for another's.
    std::size_t bettered = 0;
    for (std::size_t i = 0; i < goods_.size() && bettered < 2; ++i)
      if (!goods_[i].is_bettered && goods_[i].figures.cost < promising * goods_.front().figures.cost) {
        add(Job::Kind::better, 0, i);
        ++bettered;
      }
    if (!goods_.empty())
      add(Job::Kind::good, 0, found_.rounds % goods_.size());
    // Two turns reach most places; then three, and so on; one turn needs luck.
    static constexpr std::array<std::size_t, most_turns + 1> order{2, 3, 1, 4, 0, 5, 6, 7, 8};
    const double nearest = nearest_stray();
    bool is_done = true;
    for (const std::size_t turns : order) {
      if (turns < problem_.rules.least_bends || turns > problem_.rules.most_bends)
        continue;
      const double least = field_.choice.least_cost(turns);
      if (least >= useful_)
        continue;
      is_done = false;
      // What cannot be the best but only one of those wanted is tried less often; so is what has no freedom,
      // and what has come nowhere near while others have.
      const auto& strays = strays_[turns];
      const bool is_hopeless =
          !reached_[turns] && found_.rounds > 6 && (strays.empty() || strays.front().wrong > 25 * nearest);
      const bool is_rare = turns < 2 || least >= best || is_hopeless;
      const std::size_t every = is_rare ? 8 : turns > 4 ? 3 : turns > 3 ? 2 : 1;
      if (found_.rounds % every != 0)
        continue;
      if (!paths_.empty() && turns >= 2)
        add(Job::Kind::along, turns, (found_.rounds / every) % paths_.size());
      add(Job::Kind::fresh, turns, 0);
      Random random(effort_.seed, ~next_number_);
      for (std::size_t i = 0; i < (is_rare ? 1 : 3) && !strays.empty(); ++i) {
        const double share = random.share();
        add(Job::Kind::stray, turns,
            std::min(strays.size() - 1,
                     static_cast<std::size_t>(share * share * static_cast<double>(strays.size()))));
      }
    }
    if (is_done)
      return std::nullopt;
    if (std::ranges::any_of(strays_, [](const auto& strays) { return !strays.empty(); }))
      for (int i = 0; i < crossings; ++i)
        add(Job::Kind::crossed, 0, 0);
    const std::size_t every = all_.empty() ? passage_every : 3 * passage_every;
    if (found_.rounds % every == first_passage_round && paths_.size() < most_paths)
      add(Job::Kind::passage, 0, 0);
    return jobs;
  }

  /// One of all strays; there must be some.
  [[nodiscard]] const Draft* any_stray(Random& random) const {
    for (;;) {
      const auto& strays = strays_[random.below(strays_.size())];
      if (!strays.empty())
        return &strays[random.below(strays.size())];
    }
  }

  /// How near any number of turns has come that has not reached the port yet [m2].
  [[nodiscard]] double nearest_stray() const {
    double result = no_limit;
    for (std::size_t turns = 0; turns < strays_.size(); ++turns)
      if (reached_[turns])
        return 0;
      else if (!strays_[turns].empty())
        result = std::min(result, strays_[turns].front().wrong);
    return result;
  }

  Yield done(Worker& worker, const Job& job) const {
    Random random(effort_.seed, job.number);
    switch (job.kind) {
    case Job::Kind::fresh:
      return worker.fresh(job.turns, random);
    case Job::Kind::stray:
      return worker.altered(strays_[job.turns][job.from], nullptr, random);
    case Job::Kind::crossed: {
      const Draft* other = any_stray(random);
      return worker.altered(*any_stray(random), other, random);
    }
    case Job::Kind::good:
      return worker.altered(goods_[job.from].draft, nullptr, random);
    case Job::Kind::passage:
      return worker.passage_drawn(paths_.empty() ? 0 : passage_liking, random);
    case Job::Kind::along:
      return worker.along(paths_[job.from], job.turns, random);
    case Job::Kind::better:
      return worker.bettered(goods_[job.from], random);
    }
    return {};
  }

  /// Does the jobs of a round; their yields are taken in the order of the jobs.
  void work(const std::vector<Job>& jobs) {
    std::atomic<std::size_t> next = 0;
    std::size_t taken = 0;
    std::vector<std::optional<Yield>> yields(jobs.size());
    std::mutex mutex;
    pending_strays_.clear();
    pending_goods_.clear();
    pending_paths_.clear();
    const auto serve = [&](Worker& worker) {
      for (std::size_t i = next++; i < jobs.size(); i = next++) {
        if (out_of_time())
          return;
        Yield yield = done(worker, jobs[i]);
        const std::lock_guard lock(mutex);
        yields[i] = std::move(yield);
        for (; taken < jobs.size() && yields[taken]; ++taken)
          take_yield(*yields[taken]);
      }
    };
    std::vector<std::jthread> others;
    for (std::size_t i = 1; i < workers_.size(); ++i)
      others.emplace_back([&, i] { serve(*workers_[i]); });
    serve(*workers_[0]);
  }

  [[nodiscard]] bool out_of_time() {
    if (stopped_)
      return true;
    if (clock_.seconds() >= effort_.seconds)
      stopped_ = true;
    return stopped_;
  }

  void take_yield(Yield& yield) {
    if (yield.path)
      pending_paths_.push_back(std::move(*yield.path));
    for (Draft& stray : yield.strays)
      pending_strays_.push_back(stray);
    for (Candidate& candidate : yield.ways) {
      Answer answer{candidate.way, candidate.figures, {}, 0};
      if (all_.size() >= effort_.best + most_others && !cheaper(answer, all_.back()))
        continue;
      const bool is_known = std::ranges::any_of(all_, [&](const Answer& known) {
        return !cheaper(answer, known) && same(problem_, known.way, answer.way);
      });
      if (is_known && !candidate.is_bettered)
        continue;
      answer.judgement = judge(problem_, answer.way);
      if (!answer.judgement.good())
        continue;
      reached_[answer.way.turns.size()] = true;
      answer.found_s = clock_.seconds();
      if (!found_.first_s)
        found_.first_s = answer.found_s;
      const bool is_best = all_.empty() || cheaper(answer, all_.front());
      const bool is_bettered = candidate.is_bettered;
      if (take(problem_, all_, std::move(answer)))
        thin_out(all_, effort_.best + most_others);
      else if (!is_bettered)
        continue;
      pending_goods_.push_back(std::move(candidate));
      if (is_best && watch_) {
        publish();
        if (!watch_(found_))
          stopped_ = true;
      }
    }
  }

  /// Keeps the most promising strays of each number of turns, no two alike; and the best of the good.
  void settle_strays() {
    std::ranges::move(pending_paths_, std::back_inserter(paths_));
    for (Draft& stray : pending_strays_) {
      auto& strays = strays_[stray.pattern.turns];
      if (strays.size() == most_strays && stray.wrong >= strays.back().wrong)
        continue;
      const Corners corners = corners_of(problem_, stray.pattern, stray.chain);
      const auto known = std::ranges::find_if(strays, [&](const Draft& other) {
        return are_alike(corners, corners_of(problem_, other.pattern, other.chain), stray.pattern.turns);
      });
      if (known != strays.end()) {
        if (known->wrong <= stray.wrong)
          continue;
        strays.erase(known);
      }
      strays.insert(std::ranges::upper_bound(strays, stray.wrong, {}, &Draft::wrong), stray);
      if (strays.size() > most_strays)
        strays.pop_back();
    }
    const auto cost = [](const Candidate& c) { return c.figures.cost; };
    for (Candidate& good : pending_goods_) {
      const auto known = std::ranges::find_if(
          goods_, [&](const Candidate& other) { return same(problem_, other.way, good.way); });
      if (known != goods_.end()) {
        if (known->figures.cost < good.figures.cost ||
            (known->figures.cost == good.figures.cost && known->is_bettered))
          continue;
        goods_.erase(known);
      }
      goods_.insert(std::ranges::upper_bound(goods_, good.figures.cost, {}, cost), std::move(good));
      if (goods_.size() > most_goods)
        goods_.pop_back();
    }
  }

  /// Brings what is told up to date.
  void publish() {
    const std::size_t best = std::min(effort_.best, all_.size());
    found_.answers.assign(all_.begin(), all_.begin() + static_cast<std::ptrdiff_t>(best));
    found_.others.assign(all_.begin() + static_cast<std::ptrdiff_t>(best), all_.end());
    found_.seconds = clock_.seconds();
    found_.least_cost = cost_of(0);
    for (std::size_t turns = problem_.rules.least_bends; turns <= problem_.rules.most_bends; ++turns)
      found_.least_cost = std::min(found_.least_cost, field_.choice.least_cost(turns));
  }

  std::optional<Nearly> nearly() const {
    std::optional<Nearly> result;
    for (const auto& strays : strays_)
      for (const Draft& stray : strays) {
        auto way = field_.choice.dressed(stray.pattern, stray.chain);
        if (!way)
          continue;
        Judgement judgement = judge(problem_, *way);
        double lacks_m = judgement.end_gap_m;
        for (const Nearness& near : judgement.nearest)
          lacks_m = std::max(lacks_m, -near.margin_m);
        lacks_m = std::max(lacks_m, -judgement.self_room_m.value_or(0));
        if (!result || lacks_m < result->lacks_m)
          result = Nearly{std::move(*way), std::move(judgement), lacks_m};
      }
    return result;
  }

  const Problem& problem_;
  const Effort& effort_;
  const Watch& watch_;
  Clock clock_;
  Field field_;
  std::vector<std::unique_ptr<Worker>> workers_;
  std::vector<Answer> all_; ///< good ways, least cost first
  std::array<std::vector<Draft>, most_turns + 1> strays_;
  std::array<bool, most_turns + 1> reached_{}; ///< by number of turns: there is a good way
  std::vector<Candidate> goods_;
  std::vector<Path> paths_, pending_paths_;
  std::vector<Draft> pending_strays_;
  std::vector<Candidate> pending_goods_;
  std::uint64_t next_number_ = 0;
  double useful_ = no_limit;
  std::atomic<bool> stopped_ = false;
  Found found_;
};

} // namespace

Found find(const Problem& problem, const Effort& effort, const Watch& watch) {
  assert(!validate(problem));
  return Search(problem, effort, watch).run();
}

Found ranked(const Problem& problem, const Found& found, std::size_t best) {
  Found result = found;
  std::vector<Answer> all;
  for (const auto* list : {&found.answers, &found.others})
    for (Answer answer : *list) {
      answer.figures = figures(problem, answer.way);
      take(problem, all, std::move(answer));
    }
  best = std::min(best, all.size());
  result.answers.assign(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(best));
  result.others.assign(all.begin() + static_cast<std::ptrdiff_t>(best), all.end());
  return result;
}

} // namespace bellmouth::way
