// SPDX-License-Identifier: GPL-3.0-or-later
// A search on a thread of its own: what is told, and that it ends. Identities with what the search was made
// to say.
#include "route_sample.hpp"

#include <QThread>

#include <route_job.hpp>

namespace bellmouth::ui {
namespace {

using News = std::shared_ptr<const RouteNews>;

class Job : public testing::Test {
protected:
  test::MadeUp made_up;
  build::Build build = test::full_build();
  std::unique_ptr<RouteJob> job;
  std::vector<News> told, ended;
  int asked_why = 0;
  bool on_own_thread = true;

  void SetUp() override {
    job = std::make_unique<RouteJob>(made_up.source());
    const auto keep = [this](std::vector<News>& to) {
      return [this, &to](const News& news) {
        on_own_thread = on_own_thread && QThread::currentThread() == QCoreApplication::instance()->thread();
        to.push_back(news);
      };
    };
    QObject::connect(job.get(), &RouteJob::progressed, job.get(), keep(told));
    QObject::connect(job.get(), &RouteJob::finished, job.get(), keep(ended));
    QObject::connect(job.get(), &RouteJob::asks_why, job.get(), [this] { ++asked_why; });
  }
  RouteTask task(double price_matters = 1) {
    const RouteSource source = made_up.source();
    find::Ask ask = source.usual(build, {"small"}, test::cold_side);
    ask.matters.price = price_matters;
    return {build, *source.question(build, ask), {}};
  }
  static std::vector<int> numbers(const News& news) {
    std::vector<int> all;
    for (const find::Proposal& proposal : news->proposals)
      all.push_back(test::number_of(proposal.answer.way));
    return all;
  }
};

TEST_F(Job, TellsWhatIsFoundAndThenTheEnd) {
  made_up.steps = {test::found_of({3}), test::found_of({2, 3})};
  job->start(task());
  EXPECT_TRUE(job->running());
  ASSERT_TRUE(test::comes_true([&] { return !ended.empty(); }));
  EXPECT_FALSE(job->running());
  EXPECT_TRUE(on_own_thread);
  ASSERT_FALSE(told.empty());
  EXPECT_EQ(numbers(told.back()), (std::vector{2, 3}));
  EXPECT_EQ(numbers(ended.front()), (std::vector{2, 3}));
  EXPECT_EQ(ended.size(), 1U);
  EXPECT_FALSE(ended.front()->stopped);
  EXPECT_EQ(asked_why, 0);
  EXPECT_EQ(made_up.made, 2) << "each way becomes pieces once";
}

TEST_F(Job, StopsWhenItIsAsked) {
  made_up.steps = {test::found_of({1})};
  made_up.goes_on = true;
  job->start(task());
  ASSERT_TRUE(test::comes_true([&] { return !told.empty(); }));
  EXPECT_TRUE(ended.empty());
  job->stop();
  ASSERT_TRUE(test::comes_true([&] { return !ended.empty(); }));
  EXPECT_TRUE(ended.front()->stopped);
  EXPECT_EQ(numbers(ended.front()), std::vector{1});
  EXPECT_EQ(made_up.searching, 0);
}

TEST_F(Job, GoesOnToTellHowFarItIs) {
  made_up.steps = {test::found_of({1})};
  made_up.goes_on = true;
  job->start(task());
  ASSERT_TRUE(test::comes_true([&] { return told.size() > 3; }));
  EXPECT_GT(told.back()->found.rounds, told.front()->found.rounds);
  EXPECT_EQ(made_up.made, 1);
}

TEST_F(Job, TellsNothingMoreOfASearchThatIsReplaced) {
  made_up.steps = {test::found_of({1})};
  made_up.goes_on = true;
  job->start(task());
  ASSERT_TRUE(test::comes_true([&] { return !told.empty(); }));
  job->start(task(2));
  const auto before = told.size();
  EXPECT_EQ(told.size(), before);
  ASSERT_TRUE(test::comes_true([&] { return told.size() > before; }));
  EXPECT_EQ(made_up.searches, 2);
  EXPECT_TRUE(ended.empty()) << "one search has taken the other's place";
  job->stop();
  ASSERT_TRUE(test::comes_true([&] { return !ended.empty(); }));
  EXPECT_EQ(ended.size(), 1U);
}

TEST_F(Job, LooksForReasonsWhereThereIsNoRoute) {
  made_up.steps = {test::found_of({})};
  made_up.reasons = {{"Too narrow.", {}, {}}};
  job->start(task());
  ASSERT_TRUE(test::comes_true([&] { return !ended.empty(); }));
  EXPECT_EQ(asked_why, 1);
  ASSERT_EQ(ended.front()->reasons.size(), 1U);
  EXPECT_EQ(ended.front()->reasons.front().text, "Too narrow.");
}

TEST_F(Job, AsksNoReasonsOfASearchThatWasStopped) {
  made_up.steps = {test::found_of({})};
  made_up.goes_on = true;
  job->start(task());
  ASSERT_TRUE(test::comes_true([&] { return !told.empty(); }));
  job->stop();
  ASSERT_TRUE(test::comes_true([&] { return !ended.empty(); }));
  EXPECT_EQ(made_up.reasons_asked, 0);
  EXPECT_EQ(asked_why, 0);
}

TEST_F(Job, LooksForReasonsOfASearchThatWasStoppedForThem) {
  made_up.steps = {test::found_of({})};
  made_up.goes_on = true;
  job->start(task());
  ASSERT_TRUE(test::comes_true([&] { return !told.empty(); }));
  job->stop(true);
  ASSERT_TRUE(test::comes_true([&] { return !ended.empty(); }));
  EXPECT_TRUE(ended.front()->stopped);
  EXPECT_EQ(made_up.reasons_asked, 1);
}

TEST_F(Job, EndsItsThreadWhenItIsDestroyed) {
  made_up.steps = {test::found_of({1})};
  made_up.goes_on = true;
  job->start(task());
  ASSERT_TRUE(test::comes_true([&] { return !told.empty(); }));
  job.reset();
  EXPECT_EQ(made_up.searching, 0);
}

} // namespace
} // namespace bellmouth::ui
