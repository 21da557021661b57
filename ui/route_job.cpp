// SPDX-License-Identifier: GPL-3.0-or-later
#include "route_job.hpp"

#include <QMetaObject>

#include <algorithm>
#include <utility>

namespace bellmouth::ui {

namespace {

/// Proposals for answers, each made once.
class Proposals {
public:
  Proposals(const RouteSource& source, const RouteTask& task) : source_(source), task_(task) {}

  [[nodiscard]] bool hold(const std::vector<way::Answer>& answers) const {
    return std::ranges::equal(answers, made_, {}, &way::Answer::way,
                              [](const find::Proposal& each) -> const way::Way& { return each.answer.way; });
  }
  void make(const std::vector<way::Answer>& answers) {
    std::vector<find::Proposal> made;
    for (const way::Answer& answer : answers) {
      const auto known = std::ranges::find(
          made_, answer.way, [](const find::Proposal& each) -> const auto& { return each.answer.way; });
      made.push_back(known != made_.end() ? *known : source_.proposal(task_.build, task_.question, answer));
    }
    made_ = std::move(made);
  }
  [[nodiscard]] const std::vector<find::Proposal>& made() const { return made_; }

private:
  const RouteSource& source_;
  const RouteTask& task_;
  std::vector<find::Proposal> made_;
};

} // namespace

RouteJob::RouteJob(RouteSource source, QObject* parent) : QObject(parent), source_(std::move(source)) {}

RouteJob::~RouteJob() {
  then_why_ = false;
  // Joined here and not with the member, so that the thread posts to an object that is still whole.
  thread_.request_stop();
  if (thread_.joinable())
    thread_.join();
}

void RouteJob::start(RouteTask task) {
  if (running_) {
    next_ = std::move(task);
    then_why_ = false;
    thread_.request_stop();
  } else {
    launch(std::move(task));
  }
}

void RouteJob::stop(bool then_why) {
  next_.reset();
  then_why_ = then_why;
  thread_.request_stop();
}

void RouteJob::launch(RouteTask task) {
  running_ = true;
  then_why_ = false;
  thread_ =
      std::jthread([this, task = std::move(task)](const std::stop_token& stopped) { run(task, stopped); });
}

void RouteJob::run(const RouteTask& task, const std::stop_token& stopped) {
  // How far it is is told no more often than anybody can read, by the search's own time.
  constexpr double least_pause_s = 0.05;
  double told_s = -least_pause_s;
  Proposals proposals(source_, task);
  const way::Found found = source_.search(task.question.problem, task.effort, [&](const way::Found& now) {
    if (stopped.stop_requested())
      return false;
    const bool others = !proposals.hold(now.answers);
    if (others)
      proposals.make(now.answers);
    else if (now.seconds - told_s < least_pause_s)
      return true;
    told_s = now.seconds;
    {
      // What has not been told yet is brought up to date; copies are made only where they are needed.
      const std::scoped_lock lock(mutex_);
      if (waiting_ && !others) {
        waiting_->found.rounds = now.rounds;
        waiting_->found.seconds = now.seconds;
        waiting_->found.least_cost = now.least_cost;
        return true;
      }
    }
    hand_over(std::make_unique<RouteNews>(RouteNews{now, proposals.made(), {}, false}));
    return true;
  });
  proposals.make(found.answers);
  auto news = std::make_shared<RouteNews>(RouteNews{found, proposals.made(), {}, stopped.stop_requested()});
  if (found.answers.empty() && (!news->stopped || then_why_)) {
    QMetaObject::invokeMethod(
        this,
        [this] {
          if (!next_)
            emit asks_why();
        },
        Qt::QueuedConnection);
    news->reasons = source_.reasons(task.build, task.question, found);
  }
  QMetaObject::invokeMethod(
      this, [this, news = std::shared_ptr<const RouteNews>(std::move(news))] { end(news); },
      Qt::QueuedConnection);
}

void RouteJob::hand_over(std::unique_ptr<RouteNews> news) {
  const std::scoped_lock lock(mutex_);
  const bool told = std::exchange(waiting_, std::move(news)) == nullptr;
  if (told)
    QMetaObject::invokeMethod(this, &RouteJob::deliver, Qt::QueuedConnection);
}

void RouteJob::deliver() {
  std::shared_ptr<const RouteNews> news;
  {
    const std::scoped_lock lock(mutex_);
    news = std::move(waiting_);
  }
  if (news && !next_)
    emit progressed(news);
}

void RouteJob::end(const std::shared_ptr<const RouteNews>& news) {
  thread_.join();
  running_ = false;
  if (auto next = std::exchange(next_, std::nullopt))
    launch(std::move(*next));
  else
    emit finished(news);
}

} // namespace bellmouth::ui
