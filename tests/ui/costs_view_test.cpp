// SPDX-License-Identifier: GPL-3.0-or-later
// What the parts cost and how far the figures are trusted: when the session weighs, and the tables and bands
// made of it. Identities with what core hands out.
#include "view_sample.hpp"

#include <QLabel>
#include <QSignalSpy>
#include <QTabBar>
#include <QTest>
#include <gtest/gtest.h>

#include <algorithm>
#include <compare_view.hpp>
#include <comparison.hpp>
#include <costs_view.hpp>
#include <figures.hpp>
#include <figures_band.hpp>
#include <set>
#include <units.hpp>
#include <weighing_tables.hpp>

namespace bellmouth::ui {
namespace {

/// Runs the events that wait until the session has announced a weighing.
void wait_for_weighing(Session& session) {
  QTRY_VERIFY_WITH_TIMEOUT(!session.weighing_is_due(), 5000);
}

using test::choking_build;
using test::named;

TEST(SessionWeighing, FollowsAnEvaluationWithoutHoldingItUp) {
  Session session(test::full_build());
  EXPECT_TRUE(session.weighing_is_due());
  std::vector<Changes> heard;
  QObject::connect(&session, &Session::changed, &session, [&](Changes changes) { heard.push_back(changes); });
  ASSERT_FALSE(session.apply(build::with_title(session.build(), "a"), "t"));
  ASSERT_FALSE(session.apply(build::with_title(session.build(), "b"), "t"));
  ASSERT_EQ(heard.size(), 2U);
  for (const Changes changes : heard)
    EXPECT_FALSE(changes & Change::weighing) << "not within the edit";
  wait_for_weighing(session);
  ASSERT_EQ(heard.size(), 3U) << "once for both";
  EXPECT_EQ(heard.back(), Changes(Change::weighing));
  session.select(PickedRun{test::suction});
  EXPECT_FALSE(session.weighing_is_due()) << "picking changes no figure";
}

TEST(SessionWeighing, IsThatOfTheShownOptionAndOfItsRival) {
  Session session(test::full_build());
  const auto drops = [](const Evaluation& evaluation, const Weighing* weighing) {
    ASSERT_NE(weighing, nullptr);
    ASSERT_EQ(weighing->bands.run_drops_Pa.size(), evaluation.runs.size());
    for (std::size_t run = 0; run < evaluation.runs.size(); ++run)
      EXPECT_NEAR(weighing->bands.run_drops_Pa[run].value, evaluation.runs[run].flow.drop_Pa, 1e-3);
  };
  drops(session.evaluation(), session.weighing());
  drops(*session.rival_evaluation(), session.rival_weighing());
  session.show_option({"wide"});
  drops(session.evaluation(), session.weighing());
  ASSERT_FALSE(session.set_engine_speed(50));
  drops(session.evaluation(), session.weighing());
  drops(*session.rival_evaluation(), session.rival_weighing());
  session.compare_with(std::nullopt);
  EXPECT_EQ(session.rival_weighing(), nullptr);
}

TEST(SessionWeighing, IsNothingWhereTheFlowIsNotUsable) {
  const Session session(choking_build());
  EXPECT_EQ(session.weighing(), nullptr);
  EXPECT_NE(session.rival_weighing(), nullptr) << "the other option still flows";
}

TEST(Figures, HaveTheBandsOfTheWeighing) {
  const build::Build build = test::full_build();
  const Evaluation evaluation = evaluate(build, {"small"});
  const auto weighing = weigh(build, evaluation);
  ASSERT_TRUE(weighing);
  const auto all = figures(build, {evaluation, &*weighing});
  const double ambient_Pa = build::ambient_air(build.ambient).pressure_Pa;
  const flow::Banded& pressure = weighing->bands.manifold_pressure_Pa;
  const QString low = show_pressure_gauge(pressure.low, ambient_Pa),
                high = show_pressure_gauge(pressure.high, ambient_Pa);
  EXPECT_EQ(named(all, "manifold_pressure").detail,
            QString("band %1 to %2").arg(low.section(' ', 0, 0), high.section(' ', 0, 1)));
  EXPECT_TRUE(named(all, "manifold_pressure").tip.contains(show_pressure_abs(pressure.value)))
      << "what stood in the second line is still to be found";
  const Figure& crank = named(all, "crank_power");
  EXPECT_DOUBLE_EQ(*crank.number, evaluation.path.point.crank_power_W);
  EXPECT_TRUE(crank.unit.endsWith("est.")) << "it is no measurement, and says so";
  for (const char* key : {"air_flow", "manifold_pressure", "charge_temperature", "crank_power"}) {
    EXPECT_TRUE(named(all, key).detail.startsWith("band ")) << key;
    EXPECT_EQ(named(figures(build, {evaluation}), key).band, QString())
        << key << ": nothing weighed, no band";
  }
  EXPECT_EQ(named(all, "duct_volume").detail, "responds in " + show_time(*evaluation.response_time_s));
}

TEST(Figures, HeatOfTheBayIsThereWhereItsAirIsStated) {
  build::Build build = test::full_build();
  build.bay.reset();
  const auto has_heat = [](const std::vector<Figure>& all) {
    return std::ranges::find(all, "bay_heat", &Figure::key) != all.end();
  };
  EXPECT_FALSE(has_heat(figures(build, {evaluate(build, {"small"})})));
  build.bay.emplace().temperature_K = 353.15;
  const Evaluation evaluation = evaluate(build, {"small"});
  double heat_W = 0;
  for (const RunResult& run : evaluation.runs)
    heat_W += run.flow.heat_W;
  EXPECT_NE(heat_W, 0);
  EXPECT_DOUBLE_EQ(*named(figures(build, {evaluation}), "bay_heat").number, heat_W);
}

TEST(Figures, AFixedFlowHasNoCrankPower) {
  for (const build::Build& build : bellmouth::test::all_sample_builds()) {
    const auto all = figures(build, {evaluate(build, build.options.front().id)});
    const bool shown = std::ranges::find(all, "crank_power", &Figure::key) != all.end();
    EXPECT_EQ(shown, std::holds_alternative<machine::Engine>(build.demand)) << build.title;
  }
}

TEST(FiguresBand, KeepsTheOldBandUntilTheNewOneIsWeighed) {
  Session session(test::full_build());
  FiguresBand band(session);
  test::show(band, 1280, 200);
  wait_for_weighing(session);
  const auto* tile = band.findChild<FigureTile*>("figure_manifold_pressure");
  ASSERT_NE(tile, nullptr);
  const QString before = tile->figure().detail;
  EXPECT_TRUE(before.startsWith("band ")) << before.toStdString();
  ASSERT_FALSE(session.set_engine_speed(50));
  EXPECT_EQ(tile->figure().detail, before) << "no flicker";
  wait_for_weighing(session);
  EXPECT_NE(tile->figure().detail, before);
  EXPECT_TRUE(tile->figure().detail.startsWith("band "));
}

TEST(WeighingTables, HaveARowForEverything) {
  for (const build::Build& build : bellmouth::test::all_sample_builds()) {
    const Evaluation evaluation = evaluate(build, build.options.front().id);
    const auto weighing = weigh(build, evaluation);
    ASSERT_TRUE(weighing) << build.title;
    std::size_t expected = 1; // all the ducting
    for (const RunResult& run : evaluation.runs)
      expected += 1 + run.flow.rows.size();
    for (const build::PathStep& step : build.path)
      if (const auto* id = std::get_if<build::MachineId>(&step))
        expected += build::is_blower(build.find(*id)->kind) ? 0 : 1;
    const Ranking costs = costs_ranking(build, evaluation, *weighing);
    EXPECT_EQ(costs.rows.size(), expected) << build.title;
    EXPECT_TRUE(costs.rows.back().last);
    for (const RankedRow& row : costs.rows)
      EXPECT_EQ(row.cells.size(), costs.columns.size());
    const Ranking doubts = doubts_ranking(*weighing);
    EXPECT_EQ(doubts.rows.size(), weighing->bands.doubts.size() + 1) << build.title;
    for (const RankedRow& row : doubts.rows)
      EXPECT_EQ(row.cells.size(), doubts.columns.size());
  }
}

TEST(WeighingTables, RankByWhatCoreFound) {
  const build::Build build = test::full_build();
  const Evaluation evaluation = evaluate(build, {"small"});
  const auto weighing = weigh(build, evaluation);
  ASSERT_TRUE(weighing);
  const Ranking costs = costs_ranking(build, evaluation, *weighing);
  const auto of = [&](const Selection& selection) -> const RankedRow& {
    return *std::ranges::find(costs.rows, selection, &RankedRow::leads_to);
  };
  const RankedRow& suction = of(PickedRun{test::suction});
  EXPECT_DOUBLE_EQ(*suction.cells[cost_power].rank, weighing->costs.runs[0].whole.power_W);
  EXPECT_DOUBLE_EQ(*suction.cells[cost_drop].rank, weighing->bands.run_drops_Pa[0].value);
  const RankedRow& piece = of(PickedPiece{test::hot_side, 1});
  EXPECT_DOUBLE_EQ(*piece.cells[cost_pressure].rank, weighing->costs.runs[1].rows[1].pressure_Pa);
  EXPECT_TRUE(piece.cells[cost_pressure].text.startsWith("−"))
      << "behind a displacement blower less loss lowers the pressure";
  EXPECT_DOUBLE_EQ(*costs.rows.back().cells[cost_power].rank, weighing->costs.ducting.power_W);
  EXPECT_TRUE(costs_words(build).contains("displacement blower"));
}

TEST(WeighingTables, FollowTheUnits) {
  const build::Build build = test::full_build();
  const Evaluation evaluation = evaluate(build, {"small"});
  const auto weighing = weigh(build, evaluation);
  ASSERT_TRUE(weighing);
  use_units({.pressure = UnitChoice::Pressure::psi, .flow = UnitChoice::Flow::imperial});
  const Ranking costs = costs_ranking(build, evaluation, *weighing);
  use_units({});
  EXPECT_EQ(costs.columns[cost_power].title, "Power, hp");
  EXPECT_EQ(costs.columns[cost_pressure].title, "Manifold, psi");
}

class Costs : public testing::Test {
protected:
  Costs() {
    test::show(view, 930, 420);
    wait_for_weighing(session);
  }
  Session session{test::full_build()};
  CostsView view{session};
  RankedTable* costs = view.findChild<RankedTable*>("costs_table");
  RankedTable* doubts = view.findChild<RankedTable*>("doubts_table");
  QLabel* words = view.findChild<QLabel*>("costs_words");

  static std::vector<double> ranks(const QTableView& table, int column) {
    std::vector<double> all;
    for (int row = 0; row + 1 < table.model()->rowCount(); ++row)
      all.push_back(table.model()->index(row, column).data(RankedModel::rank_role).toDouble());
    return all;
  }
};

TEST_F(Costs, PutsTheDearestAndTheWidestFirst) {
  const auto powers = ranks(*costs, cost_power), reaches = ranks(*doubts, doubt_power);
  ASSERT_GT(powers.size(), 5U);
  ASSERT_GT(reaches.size(), 5U);
  EXPECT_TRUE(std::ranges::is_sorted(powers, std::ranges::greater()));
  EXPECT_TRUE(std::ranges::is_sorted(reaches, std::ranges::greater()));
  const int last = costs->model()->rowCount() - 1;
  EXPECT_EQ(costs->model()->index(last, cost_where).data().toString(), "All the ducting");
}

TEST_F(Costs, AClickPicksThePiece) {
  std::set<std::size_t> kinds;
  for (int row = 0; row < costs->model()->rowCount(); ++row) {
    const QModelIndex index = costs->model()->index(row, cost_where);
    const Selection leads_to = costs->row(index).leads_to;
    costs->scrollTo(index);
    session.select(std::monostate{});
    QTest::mouseClick(costs->viewport(), Qt::LeftButton, {}, costs->visualRect(index).center());
    EXPECT_EQ(session.selection(), leads_to) << row;
    kinds.insert(leads_to.index());
  }
  EXPECT_EQ(kinds.size(), 4U) << "pieces, runs, machines, and all the ducting that leads nowhere";
}

TEST_F(Costs, SwitchesBetweenItsTables) {
  EXPECT_TRUE(costs->isVisible());
  const QString before = words->text();
  view.findChild<QTabBar*>("costs_which")->setCurrentIndex(1);
  EXPECT_TRUE(doubts->isVisible());
  EXPECT_FALSE(costs->isVisible());
  EXPECT_NE(words->text(), before);
  EXPECT_FALSE(words->text().isEmpty());
}

TEST_F(Costs, FollowsEditsAndSaysWhyThereIsNothing) {
  const auto before = ranks(*costs, cost_power);
  session.show_option({"wide"});
  wait_for_weighing(session);
  EXPECT_NE(ranks(*costs, cost_power), before);
  session.show_option({"small"});
  ASSERT_FALSE(session.apply(choking_build(), "narrow"));
  wait_for_weighing(session);
  const auto* empty = view.findChild<QLabel*>("costs_empty");
  EXPECT_TRUE(empty->isVisible());
  EXPECT_TRUE(empty->text().startsWith("The air chokes")) << empty->text().toStdString();
  EXPECT_FALSE(words->isVisible());
}

TEST_F(Costs, WithoutAnEngineThereIsNoPowerToWin) {
  const auto all = bellmouth::test::all_sample_builds();
  const auto bench = std::ranges::find_if(
      all, [](const build::Build& build) { return std::holds_alternative<build::FixedFlow>(build.demand); });
  ASSERT_NE(bench, all.end());
  session.replace(*bench, {});
  wait_for_weighing(session);
  EXPECT_TRUE(costs->isColumnHidden(cost_power));
  EXPECT_FALSE(costs->isColumnHidden(cost_pressure));
  EXPECT_TRUE(std::ranges::is_sorted(ranks(*costs, cost_drop), std::ranges::greater()));
  session.replace(test::full_build(), {});
  wait_for_weighing(session);
  EXPECT_FALSE(costs->isColumnHidden(cost_power));
}

TEST(Comparison, FiguresCarryBands) {
  const build::Build build = test::full_build();
  const Evaluation small = evaluate(build, {"small"}), wide = evaluate(build, {"wide"});
  const auto one = weigh(build, small), other = weigh(build, wide);
  ASSERT_TRUE(one && other);
  const TextTable table = Comparison{build, {small, &*one}, {wide, &*other}}.figures();
  const auto row = std::ranges::find_if(
      table.rows, [](const std::vector<TextCell>& cells) { return cells[0].text == "Crank power"; });
  ASSERT_NE(row, table.rows.end());
  for (const auto& [cell, weighing] : {std::pair{1, &*one}, std::pair{2, &*other}}) {
    const flow::Banded& power = weighing->bands.crank_power_W;
    EXPECT_EQ((*row)[static_cast<std::size_t>(cell)].text,
              QString("%1 est. (%2 to %3)")
                  .arg(show_power(power.value), show_power(power.low).section(' ', 0, 0),
                       show_power(power.high).section(' ', 0, 0)));
  }
}

} // namespace
} // namespace bellmouth::ui
