// SPDX-License-Identifier: GPL-3.0-or-later
// Two options side by side. Identities: what is shown is what the two evaluations hold.
#include "view_sample.hpp"

#include <QAbstractItemModelTester>
#include <QComboBox>
#include <QLabel>
#include <QPushButton>
#include <QSignalSpy>
#include <QTableView>
#include <QTest>
#include <gtest/gtest.h>

#include <compare_view.hpp>
#include <comparison.hpp>

namespace bellmouth::ui {
namespace {

TEST(TextTableModel, KeepsTheRulesOfModelsWhileItChanges) {
  TextTableModel model;
  const QAbstractItemModelTester tester(&model, QAbstractItemModelTester::FailureReportingMode::Fatal);
  model.set_table({"a", "b"}, {{{"1"}, {"2"}}, {{"3"}, {"4"}}});
  model.set_table({"a", "c"}, {{{"1"}, {"5"}}, {{"3"}, {"4"}}});
  EXPECT_EQ(model.index(0, 1).data().toString(), "5");
  EXPECT_EQ(model.headerData(1, Qt::Horizontal, Qt::DisplayRole).toString(), "c");
  model.set_table({"a"}, {});
  EXPECT_EQ(model.rowCount(), 0);
  EXPECT_EQ(model.columnCount(), 1);
}

TEST(Comparison, NeedsAreTheLinesThatDiffer) {
  const build::Build build = test::full_build();
  const Evaluation small = evaluate(build, {"small"}), wide = evaluate(build, {"wide"});
  const buy::Purchase of_small = buy::purchase(build, {"small"}), of_wide = buy::purchase(build, {"wide"});
  const Known one{small, nullptr, &of_small}, two{wide, nullptr, &of_wide};
  const TextTable needs = Comparison{build, one, two}.needs();
  const auto row = std::ranges::find_if(
      needs.rows, [](const auto& cells) { return cells[0].text.startsWith("aluminium tube 70 x 2"); });
  ASSERT_NE(row, needs.rows.end()) << "only the wide option has the 70 mm tube";
  EXPECT_EQ((*row)[1].text, "–");
  EXPECT_TRUE(Comparison({build, one, one}).needs().rows.empty());
}

/// A closed form: by kind, with postage and what is spent, the differences add up to those of the sums.
TEST(Comparison, MoneyAddsUp) {
  const build::Build build = test::full_build();
  const Evaluation small = evaluate(build, {"small"}), wide = evaluate(build, {"wide"});
  const buy::Purchase of_small = buy::purchase(build, {"small"}), of_wide = buy::purchase(build, {"wide"});
  const TextTable money = Comparison{build, {small, nullptr, &of_small}, {wide, nullptr, &of_wide}}.money();
  std::int64_t parts = 0, whole = 0;
  for (const auto& row : money.rows) {
    const auto amount = quantity::read_money(row[1].text.toStdString(), build.budget.currency);
    ASSERT_TRUE(amount) << row[1].text.toStdString();
    if (row[0].text == "still to buy")
      whole = amount->minor;
    else if (whole == 0)
      parts += amount->minor;
  }
  EXPECT_GT(whole, 0);
  EXPECT_EQ(parts, whole);
  EXPECT_TRUE(Comparison({build, {small}, {wide}}).money().rows.empty()) << "nothing is known of money";
}

TEST(Comparison, FindingsOfOnlyOneAreShown) {
  const build::Build build = test::full_build();
  const Evaluation small = evaluate(build, {"small"}), wide = evaluate(build, {"wide"});
  const TextTable one_way = Comparison{build, {small}, {wide}}.findings(),
                  other_way = Comparison{build, {wide}, {small}}.findings();
  EXPECT_EQ(one_way.rows.size(), other_way.rows.size());
  EXPECT_FALSE(one_way.rows.empty());
  EXPECT_TRUE(Comparison({build, {wide}, {wide}}).findings().rows.empty());
}

TEST(Comparison, NothingThatTheChecksSayIsGood) {
  const build::Build build = test::full_build();
  const Evaluation small = evaluate(build, {"small"}), wide = evaluate(build, {"wide"});
  for (const auto& row : Comparison{build, {small}, {wide}}.findings().rows)
    EXPECT_LE(row[1].merit, 0) << row[3].text.toStdString();
}

TEST(Comparison, RunsHaveFourMeasuresEach) {
  const build::Build build = test::full_build();
  const Evaluation small = evaluate(build, {"small"}), wide = evaluate(build, {"wide"});
  EXPECT_EQ((Comparison{build, {small}, {wide}}.runs().rows.size()), 4 * small.runs.size());
}

TEST(CompareView, ShowsFiguresOfBothAndFollowsTheChoice) {
  Session session(build::with_option_copied(test::full_build(), {"small"}, {"third"}));
  CompareView view(session);
  test::show(view, 1200, 600);
  auto* chooser = view.findChild<QComboBox*>("compare_chooser");
  ASSERT_EQ(chooser->count(), 2);
  chooser->setCurrentIndex(chooser->findData("third"));
  emit chooser->activated(chooser->currentIndex());
  ASSERT_TRUE(session.rival());
  EXPECT_EQ(session.rival()->text, "third");
  auto* needs = view.findChild<QTableView*>("compare_needs_table");
  const auto wait = [&] { return QTest::qWaitFor([&] { return !session.purchase_is_due(); }); };
  ASSERT_TRUE(wait());
  EXPECT_EQ(needs->model()->rowCount(), 0) << "a copy needs the same";
  session.compare_with(build::OptionId{"wide"});
  ASSERT_TRUE(wait());
  EXPECT_GT(needs->model()->rowCount(), 0);
  EXPECT_EQ(view.findChild<QTableView*>("compare_figures_table")
                ->model()
                ->headerData(2, Qt::Horizontal, Qt::DisplayRole)
                .toString(),
            "wide");
}

TEST(CompareView, HiddenViewCatchesUpWhenShown) {
  Session session(test::full_build());
  CompareView view(session);
  test::show(view, 1200, 600);
  auto* figures = view.findChild<QTableView*>("compare_figures_table")->model();
  view.hide();
  session.show_option({"wide"});
  view.show();
  EXPECT_EQ(figures->headerData(1, Qt::Horizontal, Qt::DisplayRole).toString(), "wide");
}

TEST(CompareView, OffersACopyWhenThereIsOneOption) {
  Session session(build::with_option_removed(test::full_build(), {"wide"}));
  CompareView view(session);
  test::show(view, 1200, 600);
  EXPECT_TRUE(view.findChild<QLabel*>("compare_empty")->isVisible());
  const QSignalSpy spy(&view, &CompareView::copy_option_requested);
  QTest::mouseClick(view.findChild<QPushButton*>("compare_copy"), Qt::LeftButton);
  EXPECT_EQ(spy.count(), 1);
}

} // namespace
} // namespace bellmouth::ui
