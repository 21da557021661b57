// SPDX-License-Identifier: GPL-3.0-or-later
// The findings as a list: order, filter, and where a click leads. Identities of the contract.
#include "view_sample.hpp"

#include <QAbstractItemModelTester>
#include <QComboBox>
#include <QLabel>
#include <QListView>
#include <QTest>
#include <gtest/gtest.h>

#include <findings_view.hpp>

namespace bellmouth::ui {
namespace {

check::Finding finding(check::Severity severity, const char* message) {
  check::Finding made;
  made.rule = "rule";
  made.severity = severity;
  made.message = message;
  return made;
}

class Findings : public testing::Test {
protected:
  Findings() { test::show(view, 700, 500); }
  Session session{test::full_build()};
  FindingsView view{session};
  QListView* list = view.findChild<QListView*>("findings_list");
  QComboBox* least = view.findChild<QComboBox*>("findings_least");
};

TEST(FindingsModel, KeepsTheRulesOfModelsWhileItChanges) {
  FindingsModel model;
  FindingsFilter filter;
  filter.setSourceModel(&model);
  const auto mode = QAbstractItemModelTester::FailureReportingMode::Fatal;
  const QAbstractItemModelTester model_tester(&model, mode), filter_tester(&filter, mode);
  using enum check::Severity;
  model.set_findings({finding(note, "a"), finding(stop, "b"), finding(caution, "c"), finding(stop, "d")});
  filter.set_least(caution);
  EXPECT_EQ(filter.rowCount(), 3);
  model.set_findings({finding(note, "a")});
  EXPECT_EQ(filter.rowCount(), 0);
  filter.set_least(note);
  EXPECT_EQ(filter.rowCount(), 1);
}

TEST(FindingsModel, PutsTheWorstFirstAndKeepsTheOrderWithin) {
  FindingsModel model;
  using enum check::Severity;
  model.set_findings({finding(note, "a"), finding(stop, "b"), finding(caution, "c"), finding(stop, "d")});
  QStringList order;
  for (int row = 0; row < model.rowCount(); ++row)
    order << model.index(row, 0).data().toString();
  EXPECT_EQ(order, (QStringList{"b", "d", "c", "a"}));
  EXPECT_EQ(model.count(stop), 2);
}

TEST_F(Findings, ShowsAllOfTheEvaluation) {
  ASSERT_FALSE(session.evaluation().findings.empty());
  EXPECT_EQ(static_cast<std::size_t>(list->model()->rowCount()), session.evaluation().findings.size());
}

TEST_F(Findings, AClickPicksWhatItPointsAt) {
  int pieces = 0;
  for (int row = 0; row < list->model()->rowCount(); ++row) {
    const QModelIndex index = list->model()->index(row, 0);
    list->scrollTo(index);
    session.select(std::monostate{});
    QTest::mouseClick(list->viewport(), Qt::LeftButton, {}, list->visualRect(index).center());
    const auto found = std::ranges::find_if(session.evaluation().findings, [&](const check::Finding& f) {
      return QString::fromStdString(f.message) == index.data(FindingsModel::message_role).toString() &&
             QString::fromStdString(f.where.text) == index.data(FindingsModel::where_role).toString();
    });
    ASSERT_NE(found, session.evaluation().findings.end());
    if (found->where.piece) {
      EXPECT_EQ(session.selection(),
                Selection(PickedPiece{found->where.piece->run, found->where.piece->row}));
      ++pieces;
    } else if (found->where.machine) {
      EXPECT_EQ(session.selection(), Selection(PickedMachine{*found->where.machine}));
    }
  }
  EXPECT_GT(pieces, 3);
}

TEST_F(Findings, TheFilterLeavesOutWhatIsLess) {
  least->setCurrentIndex(2);
  for (int row = 0; row < list->model()->rowCount(); ++row)
    EXPECT_EQ(list->model()->index(row, 0).data(FindingsModel::severity_role).toInt(),
              static_cast<int>(check::Severity::stop));
  least->setCurrentIndex(0);
  EXPECT_EQ(static_cast<std::size_t>(list->model()->rowCount()), session.evaluation().findings.size());
}

TEST_F(Findings, RowsAreAsTallAsTheirWords) {
  const QModelIndex first = list->model()->index(0, 0);
  const int at_full_width = list->visualRect(first).height();
  test::show(view, 320, 500);
  EXPECT_GT(list->visualRect(first).height(), at_full_width) << "wrapped";
}

TEST_F(Findings, TheScrollBarChangesNoHeight) {
  const auto heights = [this] {
    std::vector<int> all;
    for (int row = 0; row < list->model()->rowCount(); ++row)
      all.push_back(list->visualRect(list->model()->index(row, 0)).height());
    return all;
  };
  list->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  test::show(view, 401, 300);
  const auto without = heights();
  list->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOn);
  test::show(view, 400, 300);
  test::show(view, 401, 300);
  EXPECT_EQ(heights(), without);
}

TEST_F(Findings, SaysHowManyThereAre) {
  int stops = 0;
  for (const check::Finding& f : session.evaluation().findings)
    stops += f.severity == check::Severity::stop ? 1 : 0;
  EXPECT_TRUE(view.findChild<QLabel*>("findings_count")->text().startsWith(QString("%1 stop").arg(stops)));
}

} // namespace
} // namespace bellmouth::ui
