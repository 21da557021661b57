// SPDX-License-Identifier: GPL-3.0-or-later
// Tables that their user sorts. Identities of the contract.
#include "view_sample.hpp"

#include <QAbstractItemModelTester>
#include <QHeaderView>
#include <QSignalSpy>
#include <QTest>
#include <gtest/gtest.h>

#include <ranked_table.hpp>

namespace bellmouth::ui {
namespace {

Ranking ranking_of(const std::vector<double>& numbers) {
  Ranking ranking{{{"name", false, {}}, {"size", true, {}}}, {}};
  for (const double number : numbers)
    ranking.rows.push_back({.cells = {{QString("n%1").arg(number), {}}, {QString::number(number), number}},
                            .tip = {},
                            .leads_to = {}});
  return ranking;
}

QStringList order_of(const QTableView& table) {
  QStringList order;
  for (int row = 0; row < table.model()->rowCount(); ++row)
    order << table.model()->index(row, 1).data().toString();
  return order;
}

TEST(RankedModel, KeepsTheRulesOfModelsWhileItChanges) {
  RankedModel model;
  RankedOrder order;
  order.setSourceModel(&model);
  const auto mode = QAbstractItemModelTester::FailureReportingMode::Fatal;
  const QAbstractItemModelTester model_tester(&model, mode), order_tester(&order, mode);
  order.sort(1, Qt::DescendingOrder);
  model.set_ranking(ranking_of({1, 3, 2}));
  model.set_ranking(ranking_of({4, 3, 9}));
  EXPECT_EQ(order.index(0, 1).data().toString(), "9") << "sorted anew though the shape is the same";
  model.set_ranking(ranking_of({1}));
  EXPECT_EQ(order.rowCount(), 1);
  model.set_ranking({});
  EXPECT_EQ(order.rowCount(), 0);
}

TEST(RankedTable, SortsNumbersBySizeEitherWay) {
  RankedTable table("t", "T");
  table.sort_by(1, Qt::DescendingOrder);
  table.show_ranking(ranking_of({2, -7, 10, 9}));
  EXPECT_EQ(order_of(table), (QStringList{"10", "9", "2", "-7"})) << "sorted before there were rows";
  table.sort_by(1, Qt::AscendingOrder);
  EXPECT_EQ(order_of(table), (QStringList{"-7", "2", "9", "10"}));
}

TEST(RankedTable, LastRowsStayLastEitherWay) {
  Ranking ranking = ranking_of({2, 5, 3});
  ranking.rows.front().last = true;
  RankedTable table("t", "T");
  table.show_ranking(ranking);
  table.sort_by(1, Qt::AscendingOrder);
  EXPECT_EQ(order_of(table), (QStringList{"3", "5", "2"}));
  table.sort_by(1, Qt::DescendingOrder);
  EXPECT_EQ(order_of(table), (QStringList{"5", "3", "2"}));
}

TEST(RankedTable, AClickOnTheHeadSortsAndOneOnARowPicks) {
  RankedTable table("t", "T");
  table.show_ranking(ranking_of({2, 10, 9}));
  test::show(table, 400, 200);
  std::vector<QString> picked;
  QObject::connect(&table, &RankedTable::picked, &table,
                   [&](const RankedRow& row) { picked.push_back(row.cells[1].text); });
  auto* head = table.horizontalHeader();
  QTest::mouseClick(head->viewport(), Qt::LeftButton, {},
                    {head->sectionViewportPosition(1) + 20, head->height() / 2});
  const QStringList order = order_of(table);
  EXPECT_TRUE(order == QStringList({"2", "9", "10"}) || order == QStringList({"10", "9", "2"}))
      << order.join(' ').toStdString();
  QTest::mouseClick(table.viewport(), Qt::LeftButton, {},
                    table.visualRect(table.model()->index(1, 0)).center());
  ASSERT_FALSE(picked.empty());
  EXPECT_EQ(picked.back(), "9");
  QTest::keyClick(&table, Qt::Key_Down);
  EXPECT_EQ(picked.back(), order.back());
}

} // namespace
} // namespace bellmouth::ui
