// SPDX-License-Identifier: GPL-3.0-or-later
// Routes that are made up: a search that the test holds in its hand.
#pragma once

#include "view_sample.hpp"

#include <QCoreApplication>
#include <QEventLoop>
#include <QSignalSpy>

#include <atomic>
#include <chrono>
#include <numbers>
#include <route_source.hpp>
#include <thread>

namespace bellmouth::ui::test {

inline constexpr int patience_ms = 60'000;

/// A straight, a quarter turn of 90 mm, a straight: in the way that `number` says.
inline way::Way made_up_way(int number) {
  return {.turns = {{0, std::numbers::pi / 2, 0.3 * number, {}}},
          .straights_m = {0.100 + 0.020 * number, 0.150},
          .reduction = {}};
}
/// The higher the number, the dearer and the shorter.
inline way::Answer made_up_answer(int number) {
  way::Answer answer;
  answer.way = made_up_way(number);
  answer.figures = {
      .length_m = 1.0 - 0.1 * number, .price = 10.0 + number, .loss = 0.1, .joints = 2, .cost = 0};
  return answer;
}
inline int number_of(const way::Way& way) {
  return static_cast<int>(std::lround((way.straights_m[0] - 0.100) / 0.020));
}
inline way::Found found_of(const std::vector<int>& numbers) {
  way::Found found;
  for (const int number : numbers)
    found.answers.push_back(made_up_answer(number));
  found.rounds = numbers.size();
  return found;
}

/// What the search does, and what was asked of it.
struct MadeUp {
  std::vector<way::Found> steps;     ///< told one after the other
  std::atomic<bool> goes_on = false; ///< behind the last step, until it is stopped
  std::atomic<int> searches = 0, made = 0, reasons_asked = 0;
  std::atomic<int> searching = 0; ///< searches that have not ended
  std::vector<find::Reason> reasons;
  std::optional<Error> refused; ///< in place of a question
  std::vector<find::Ask> asked;

  [[nodiscard]] RouteSource source();
};

inline double cost_of(const way::Weights& weights, const way::Figures& figures) {
  return weights.price * figures.price + weights.loss * figures.loss + weights.joint * figures.joints +
         weights.per_m * figures.length_m;
}
inline way::Weights weights_of(const find::Matters& matters) {
  return {.price = matters.price, .loss = matters.drop, .joint = matters.joints, .per_m = matters.length};
}
/// The run that would be: a tube as long as the way's first straight.
inline build::Run run_of(const build::Build& build, const find::Ask& ask, const way::Way& way) {
  build::Run run = *build.find(ask.option)->find(ask.run);
  build::Piece tube;
  tube.shape = build::Tube{63.5e-3, 1.65e-3, way.straights_m[0], {true, true}};
  run.pieces = {tube};
  return run;
}

inline RouteSource MadeUp::source() {
  RouteSource source;
  source.usual = [](const build::Build& build, const build::OptionId& option, const build::RunId& run) {
    find::Ask ask;
    ask.option = option;
    ask.run = run;
    ask.tube = stock::tube_sizes(build).front();
    return ask;
  };
  source.question = [this](const build::Build& build, const find::Ask& ask) -> Result<find::Question> {
    asked.push_back(ask);
    if (refused)
      return tl::unexpected(*refused);
    find::Question question;
    question.ask = ask;
    const build::Run& run = *build.find(ask.option)->find(ask.run);
    const build::Port &from = *build.find(run.from), &to = *build.find(run.to);
    const auto end = [](const build::Port& port) {
      return way::End{port.pose->position_m, port.pose->direction, port.outer_diameter_m, port.mounting, 0};
    };
    question.problem.start = end(from);
    question.problem.end = end(to);
    question.problem.reference = bay::frame_of(*from.pose).reference;
    question.problem.bends = {
        {.id = "bend", .outer_diameter_m = 63.5e-3, .angle_rad = std::numbers::pi / 2, .radius_m = 90e-3}};
    question.problem.keep_outs.push_back({"box", build::Box{{0.3, 0, 0.2}, {0.1, 0.1, 0.1}}, 0.01, 0, 0});
    question.problem.weights = weights_of(ask.matters);
    return question;
  };
  source.weights = [](const build::Build&, const find::Ask& ask) { return weights_of(ask.matters); };
  source.search = [this](const way::Problem&, const way::Effort&, const way::Watch& watch) {
    ++searches;
    ++searching;
    way::Found last;
    bool on = true;
    for (const way::Found& step : steps) {
      last = step;
      on = on && watch(step);
    }
    while (on && goes_on) {
      ++last.rounds;
      last.seconds += 0.1;
      on = watch(last);
      std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    --searching;
    return last;
  };
  source.ranked = [](const way::Problem& problem, const way::Found& found, std::size_t best) {
    way::Found ranked = found;
    std::vector<way::Answer> all = found.answers;
    all.insert(all.end(), found.others.begin(), found.others.end());
    for (way::Answer& answer : all)
      answer.figures.cost = cost_of(problem.weights, answer.figures);
    std::ranges::stable_sort(all, {}, [](const way::Answer& answer) { return answer.figures.cost; });
    const auto shown = static_cast<std::ptrdiff_t>(std::min(best, all.size()));
    ranked.answers.assign(all.begin(), all.begin() + shown);
    ranked.others.assign(all.begin() + shown, all.end());
    return ranked;
  };
  source.proposal = [this](const build::Build& build, const find::Question& question,
                           const way::Answer& answer) {
    ++made;
    find::Proposal proposal;
    proposal.answer = answer;
    proposal.run = run_of(build, question.ask, answer.way);
    proposal.price = {std::lround(100 * answer.figures.price), build.budget.currency};
    proposal.drop_Pa = 420;
    proposal.joints = answer.figures.joints;
    proposal.length_m = answer.figures.length_m;
    proposal.volume_m3 = 2e-3;
    return proposal;
  };
  source.tell_apart = [](const build::Build&, const find::Question&, std::vector<find::Proposal>& proposals) {
    for (find::Proposal& each : proposals)
      each.differs = "made up " + std::to_string(number_of(each.answer.way));
  };
  source.with_proposal = [](const build::Build& build, const find::Question& question,
                            const find::Proposal& proposal, const build::OptionId& name) {
    build::Build next = build::with_option_copied(build, question.ask.option, name);
    for (build::Option& option : next.options)
      if (option.id == name)
        for (build::Shared<build::Run>& run : option.runs)
          if (run->id == question.ask.run)
            run = proposal.run;
    return next;
  };
  source.reasons = [this](const build::Build&, const find::Question&, const way::Found&) {
    ++reasons_asked;
    return reasons;
  };
  return source;
}

/// Lets events come until something holds; whether it did.
template <class Condition> bool comes_true(const Condition& condition) {
  for (int waited = 0; waited < patience_ms && !condition(); ++waited) {
    QCoreApplication::processEvents(QEventLoop::AllEvents);
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  return condition();
}

} // namespace bellmouth::ui::test
