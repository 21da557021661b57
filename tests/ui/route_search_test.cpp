// SPDX-License-Identifier: GPL-3.0-or-later
// The routes of a run: their order, whether they still hold, and taking one. Identities of the contract.
#include "route_sample.hpp"

#include <QSignalSpy>

#include <piece_text.hpp>
#include <route_search.hpp>

namespace bellmouth::ui {
namespace {

using State = RouteSearch::State;

class Search : public testing::Test {
protected:
  test::MadeUp made_up;
  Session session{test::full_build()};
  std::unique_ptr<RouteSearch> search = std::make_unique<RouteSearch>(session, made_up.source());

  void begin(double price_matters = 1) {
    find::Ask ask = search->usual(test::cold_side);
    ask.matters = {price_matters, 0, 0, 1};
    ASSERT_FALSE(search->start(ask, 1));
  }
  void run_to_end() {
    begin();
    ASSERT_TRUE(test::comes_true([&] { return search->state() == State::ended; }));
  }
  std::vector<int> order() const {
    std::vector<int> numbers;
    for (const find::Proposal& route : search->routes())
      numbers.push_back(test::number_of(route.answer.way));
    return numbers;
  }
  void change_the_stock() {
    build::Build next = session.build();
    std::vector<build::StockItem> stock = *next.stock;
    stock.front().name += " of another kind";
    next.stock = stock;
    ASSERT_FALSE(session.apply(next, "Change stock"));
  }
};

TEST_F(Search, PutsTheBestFirst) {
  made_up.steps = {test::found_of({4}), test::found_of({4, 1, 2})};
  run_to_end();
  EXPECT_EQ(order(), (std::vector{1, 2, 4}));
  ASSERT_TRUE(search->progress().best_cost);
  EXPECT_DOUBLE_EQ(*search->progress().best_cost, 11.0 + 0.9);
}

TEST_F(Search, KeepsWhatItFoundBefore) {
  made_up.steps = {test::found_of({3, 4})};
  run_to_end();
  made_up.steps = {test::found_of({1, 2})};
  search->set_matters({2, 0, 0, 1});
  ASSERT_TRUE(test::comes_true([&] { return search->state() == State::ended; }));
  EXPECT_EQ(order(), (std::vector{1, 2, 3, 4})) << "what another search found is not lost";
}

TEST_F(Search, ReordersAtOnceByWhatMatters) {
  made_up.steps = {test::found_of({0, 1, 2, 3, 4, 5, 6})};
  run_to_end();
  EXPECT_EQ(order(), (std::vector{0, 1, 2, 3, 4}));
  made_up.goes_on = true;
  search->set_matters({0, 0, 0, 1}); // only length: the higher the number, the shorter
  EXPECT_EQ(order(), (std::vector{6, 5, 4, 3, 2})) << "without waiting for anything";
  EXPECT_EQ(search->state(), State::searching) << "and it searches on";
  ASSERT_TRUE(test::comes_true([&] { return made_up.searches == 2; }));
  search->stop();
  ASSERT_TRUE(test::comes_true([&] { return search->state() == State::ended; }));
  EXPECT_TRUE(search->progress().stopped);
  EXPECT_EQ(search->question()->ask.matters, (find::Matters{0, 0, 0, 1}));
}

TEST_F(Search, RefusesWhatIsNoQuestion) {
  made_up.refused =
      Error{.place = {}, .found = "a port without a place", .accepted = "measured ports", .line = {}};
  const auto error = search->start(search->usual(test::cold_side), 1);
  ASSERT_TRUE(error);
  EXPECT_EQ(error->found, "a port without a place");
  EXPECT_EQ(search->state(), State::idle);
}

TEST_F(Search, AnEditStopsItAndMakesRoutesStale) {
  made_up.steps = {test::found_of({1})};
  made_up.goes_on = true;
  begin();
  ASSERT_TRUE(test::comes_true([&] { return !search->routes().empty(); }));
  EXPECT_FALSE(search->stale());
  change_the_stock();
  EXPECT_TRUE(search->stale());
  ASSERT_TRUE(test::comes_true([&] { return search->state() == State::ended; }));
  EXPECT_EQ(made_up.searching, 0);
  EXPECT_EQ(order(), std::vector{1}) << "they are still shown";
  session.undo();
  EXPECT_FALSE(search->stale()) << "the build is again as it was asked of";
}

TEST_F(Search, OtherOptionsAndTheTitleDoNotMatter) {
  made_up.steps = {test::found_of({1})};
  run_to_end();
  ASSERT_FALSE(session.apply(build::with_option_renamed(session.build(), {"wide"}, {"broad"}), "Rename"));
  EXPECT_FALSE(search->stale());
  ASSERT_FALSE(session.apply(build::with_title(session.build(), "Another"), "Title"));
  EXPECT_FALSE(search->stale());
  ASSERT_FALSE(session.apply(build::with_option_renamed(session.build(), {"small"}, {"slim"}), "Rename"));
  EXPECT_TRUE(search->stale()) << "the option that was asked of is another";
}

TEST_F(Search, TakesARouteInOneStep) {
  made_up.steps = {test::found_of({1, 2})};
  run_to_end();
  const build::Build before = session.build();
  const auto made = search->take(1);
  ASSERT_TRUE(made);
  EXPECT_EQ(made->text, "small route 1");
  EXPECT_EQ(session.option(), *made);
  EXPECT_EQ(session.rival(), build::OptionId{"small"}) << "ready to be compared";
  EXPECT_EQ(session.selection(), Selection(PickedRun{test::cold_side}));
  EXPECT_EQ(session.undo_text(), "Take a route for cold side");
  const build::Option* option = session.build().find(*made);
  EXPECT_EQ(option->find(test::cold_side)->pieces, search->routes()[1].run.pieces);
  EXPECT_EQ(*option->find(test::hot_side),
            *session.build().find(build::OptionId{"small"})->find(test::hot_side));
  EXPECT_FALSE(search->stale()) << "another can be taken";
  const auto second = search->take(0);
  ASSERT_TRUE(second);
  EXPECT_EQ(second->text, "small route 2");
  session.undo();
  session.undo();
  EXPECT_EQ(session.build(), before);
}

TEST_F(Search, ShowsARouteAsItWouldBe) {
  made_up.steps = {test::found_of({2})};
  run_to_end();
  const build::Build before = session.build();
  const auto ghost = search->ghost(0);
  EXPECT_EQ(session.build(), before);
  EXPECT_EQ(ghost->run, test::cold_side);
  const RunResult* run = find_run(ghost->evaluation, test::cold_side);
  ASSERT_NE(run, nullptr);
  EXPECT_NEAR(run->length_m, test::made_up_way(2).straights_m[0], 1e-12);
}

TEST_F(Search, SaysWhyThereIsNone) {
  made_up.steps = {test::found_of({})};
  find::Ask relaxed = search->usual(test::cold_side);
  relaxed.most_bends = 3;
  made_up.reasons = {{"Three bends would do.", relaxed, {}}};
  QSignalSpy spy(search.get(), &RouteSearch::state_changed);
  run_to_end();
  EXPECT_TRUE(search->routes().empty());
  ASSERT_EQ(search->reasons().size(), 1U);
  EXPECT_EQ(search->reasons().front().ask->most_bends, 3U);
}

} // namespace
} // namespace bellmouth::ui
