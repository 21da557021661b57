// SPDX-License-Identifier: GPL-3.0-or-later
#include "route_search.hpp"

#include "piece_text.hpp"

#include <algorithm>
#include <cassert>
#include <thread>
#include <utility>

namespace bellmouth::ui {

namespace {

/// What the question was made of: routes do not depend on other options.
build::Build asked_part(build::Build build, const build::OptionId& option) {
  std::erase_if(build.options, [&](const build::Option& each) { return each.id != option; });
  build.title.clear();
  build.note.clear();
  build.photographs.clear();
  build.budget.limit.reset();
  return build;
}

/// One core is left to the window where there are enough.
unsigned search_threads() {
  constexpr unsigned most = 8;
  const unsigned cores = std::max(1U, std::thread::hardware_concurrency());
  return std::min(most, cores > 2 ? cores - 1 : cores);
}

const way::Way& way_of(const way::Answer& answer) {
  return answer.way;
}
const way::Way& way_of_proposal(const find::Proposal& proposal) {
  return proposal.answer.way;
}

} // namespace

RouteSearch::RouteSearch(Session& session, RouteSource source, QObject* parent)
    : QObject(parent), session_(session), source_(source), job_(std::move(source)) {
  connect(&job_, &RouteJob::progressed, this, [this](const std::shared_ptr<const RouteNews>& news) {
    if (state_ == State::searching)
      take_in(*news);
  });
  connect(&job_, &RouteJob::asks_why, this, [this] {
    if (state_ != State::searching || !pool_.empty())
      return;
    state_ = State::asking;
    emit state_changed();
  });
  connect(&job_, &RouteJob::finished, this, [this](const std::shared_ptr<const RouteNews>& news) {
    if (state_ != State::searching && state_ != State::asking)
      return;
    state_ = State::ended;
    progress_.stopped = news->stopped;
    reasons_ = news->reasons;
    take_in(*news);
  });
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (changes & Change::document)
      check_stale();
  });
}

find::Ask RouteSearch::usual(const build::RunId& run) const {
  return source_.usual(session_.build(), session_.option(), run);
}

std::optional<Error> RouteSearch::start(const find::Ask& ask, double seconds) {
  auto question = source_.question(session_.build(), ask);
  if (!question)
    return question.error();
  clear();
  base_ = session_.build();
  question_ = std::move(*question);
  seconds_ = seconds;
  launch();
  emit routes_changed();
  return std::nullopt;
}

void RouteSearch::launch() {
  state_ = State::searching;
  progress_ = {};
  progress_.seconds_allowed = seconds_;
  reasons_.clear();
  job_.start({base_, *question_, {.seconds = seconds_, .threads = search_threads(), .best = wanted}});
  emit state_changed();
}

void RouteSearch::set_matters(const find::Matters& matters) {
  if (!question_ || question_->ask.matters == matters)
    return;
  question_->ask.matters = matters;
  question_->problem.weights = source_.weights(base_, question_->ask);
  rank();
  if (!stale_)
    launch();
}

void RouteSearch::stop() {
  job_.stop(true);
}

void RouteSearch::clear() {
  job_.stop();
  state_ = State::idle;
  question_.reset();
  progress_ = {};
  pool_.clear();
  known_.clear();
  held_.reset();
  routes_.clear();
  reasons_.clear();
  stale_ = false;
  emit routes_changed();
  emit state_changed();
}

void RouteSearch::take_in(const RouteNews& news) {
  progress_.rounds = news.found.rounds;
  progress_.seconds = news.found.seconds;
  progress_.least_cost = news.found.least_cost;
  progress_.exhausted = news.found.exhausted;
  for (const find::Proposal& proposal : news.proposals)
    if (std::ranges::find(known_, proposal.answer.way, way_of_proposal) == known_.end())
      known_.push_back(proposal);
  bool more = false;
  for (const std::vector<way::Answer>* all : {&news.found.answers, &news.found.others})
    for (const way::Answer& answer : *all)
      if (std::ranges::find(pool_, answer.way, way_of) == pool_.end()) {
        pool_.push_back(answer);
        more = true;
      }
  if (more)
    rank();
  emit state_changed();
}

void RouteSearch::rank() {
  way::Found all;
  all.answers = pool_;
  const way::Found ranked = source_.ranked(question_->problem, all, wanted);
  std::vector<find::Proposal> routes;
  for (const way::Answer& answer : ranked.answers)
    routes.push_back(proposal_of(answer));
  find::put_in_order(*question_, routes);
  progress_.best_cost = routes.empty() ? std::nullopt : std::optional(find::cost(*question_, routes.front()));
  if (held_ && std::ranges::find(routes, *held_, way_of_proposal) == routes.end())
    if (const auto held = std::ranges::find(known_, *held_, way_of_proposal); held != known_.end())
      routes.push_back(*held);
  source_.tell_apart(base_, *question_, routes);
  const auto same = [](const find::Proposal& a, const find::Proposal& b) {
    return a.answer.way == b.answer.way && a.differs == b.differs;
  };
  const bool differ = !std::ranges::equal(routes, routes_, same);
  routes_ = std::move(routes);
  // What is far down now may come up again when something else matters, but not all of it is worth keeping.
  constexpr std::size_t most_kept = 200;
  pool_ = ranked.answers;
  for (const way::Answer& answer : ranked.others)
    if (pool_.size() < most_kept)
      pool_.push_back(answer);
  if (differ)
    emit routes_changed();
}

const find::Proposal& RouteSearch::proposal_of(const way::Answer& answer) {
  const auto known = std::ranges::find(known_, answer.way, way_of_proposal);
  if (known != known_.end())
    return *known;
  known_.push_back(source_.proposal(base_, *question_, answer));
  return known_.back();
}

void RouteSearch::check_stale() {
  if (!question_)
    return;
  const build::OptionId& option = question_->ask.option;
  const bool stale =
      session_.build() != base_ && asked_part(session_.build(), option) != asked_part(base_, option);
  if (stale == stale_)
    return;
  stale_ = stale;
  if (stale)
    job_.stop();
  emit state_changed();
}

build::OptionId RouteSearch::free_name(const build::Build& build) const {
  for (int number = 1;; ++number) {
    build::OptionId name{question_->ask.option.text + " route " + std::to_string(number)};
    if (build.find(name) == nullptr)
      return name;
  }
}

std::shared_ptr<const RouteGhost> RouteSearch::ghost(std::size_t route) const {
  const build::OptionId name = free_name(base_);
  build::Build build = source_.with_proposal(base_, *question_, routes_.at(route), name);
  const double speed = session_.engine_speed_rev_s();
  Evaluation evaluation = evaluate(build, name, speed > 0 ? std::optional(speed) : std::nullopt);
  return std::make_shared<const RouteGhost>(
      RouteGhost{std::move(build), std::move(evaluation), question_->ask.run});
}

Result<build::OptionId> RouteSearch::take(std::size_t route) {
  assert(question_ && !stale_);
  const build::OptionId from = question_->ask.option;
  const build::RunId run = question_->ask.run;
  const build::OptionId name = free_name(session_.build());
  build::Build next = source_.with_proposal(session_.build(), *question_, routes_.at(route), name);
  if (auto error = session_.apply(std::move(next), tr("Take a route for %1").arg(run_name(run))))
    return tl::unexpected(std::move(*error));
  session_.show_option(name);
  session_.compare_with(from);
  session_.select(PickedRun{run});
  return name;
}

} // namespace bellmouth::ui
