// SPDX-License-Identifier: GPL-3.0-or-later
// The lists on screen: the same as the core's tables, with what is owned typed in. Identities of the
// contract.
#include "view_sample.hpp"

#include <QAbstractItemModelTester>
#include <QClipboard>
#include <QGuiApplication>
#include <QLabel>
#include <QPushButton>
#include <QSignalSpy>
#include <QTabBar>
#include <QTableView>
#include <QTest>
#include <gtest/gtest.h>

#include <lists_view.hpp>
#include <units.hpp>

namespace bellmouth::ui {
namespace {

class Lists : public testing::Test {
protected:
  Lists() { test::show(view, 1100, 500); }
  [[nodiscard]] int owned_column() const { return qobject_cast<ListModel*>(table->model())->owned_column(); }
  /// The row of a stock item on the shopping list.
  [[nodiscard]] int row_of(const char* stock) const {
    const auto& lines = session.evaluation().lists.shopping;
    const auto found = std::ranges::find_if(
        lines, [&](const list::ShoppingLine& line) { return line.stock && line.stock->text == stock; });
    EXPECT_NE(found, lines.end());
    return static_cast<int>(found - lines.begin());
  }

  Session session{test::full_build()};
  ListsView view{session};
  QTableView* table = view.findChild<QTableView*>("lists_table");
  QTabBar* tabs = view.findChild<QTabBar*>("lists_tabs");
};

TEST_F(Lists, EveryTabShowsItsTable) {
  const auto tables = list::tables(session.evaluation().lists);
  ASSERT_GE(tables.size(), static_cast<std::size_t>(tabs->count()));
  for (int tab = 0; tab < tabs->count(); ++tab) {
    tabs->setCurrentIndex(tab);
    const list::Table& expected = tables[static_cast<std::size_t>(tab)];
    ASSERT_EQ(table->model()->rowCount(), static_cast<int>(expected.rows.size())) << expected.name;
    ASSERT_EQ(table->model()->columnCount(), static_cast<int>(expected.header.size()));
    for (int row = 0; row < table->model()->rowCount(); ++row)
      for (int column = 0; column < table->model()->columnCount(); ++column) {
        const QModelIndex cell = table->model()->index(row, column);
        if (cell.flags() & Qt::ItemIsEditable)
          continue; // what is owned comes from the build
        EXPECT_EQ(cell.data().toString().toStdString(),
                  expected.rows[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)]);
      }
  }
}

TEST_F(Lists, ModelKeepsTheRulesOfModelsThroughEdits) {
  const QAbstractItemModelTester tester(table->model(),
                                        QAbstractItemModelTester::FailureReportingMode::Fatal);
  session.show_option({"wide"});
  for (int tab = 0; tab < tabs->count(); ++tab)
    tabs->setCurrentIndex(tab);
  ASSERT_FALSE(session.apply(test::with_empty_run(session.build(), test::cold_side), "empty a run"));
  for (int tab = 0; tab < tabs->count(); ++tab)
    tabs->setCurrentIndex(tab);
  session.undo();
}

TEST_F(Lists, RowPicksItsFirstPieceOnEveryTab) {
  for (int tab = 0; tab < tabs->count(); ++tab) {
    tabs->setCurrentIndex(tab);
    auto* model = qobject_cast<ListModel*>(table->model());
    for (int row = 0; row < model->rowCount(); ++row) {
      const auto piece = model->piece(row);
      ASSERT_TRUE(piece) << tab << " " << row;
      session.select(std::monostate{});
      table->setCurrentIndex({});
      table->setCurrentIndex(model->index(row, 0));
      EXPECT_EQ(session.selection(), Selection(PickedPiece{piece->run, piece->row}));
    }
  }
}

TEST_F(Lists, OwnedThingsAreTypedInAndUndone) {
  const int row = row_of("hose-63");
  const QModelIndex cell = table->model()->index(row, owned_column());
  ASSERT_TRUE(cell.flags() & Qt::ItemIsEditable);
  ASSERT_TRUE(table->model()->setData(cell, "1"));
  EXPECT_EQ(session.evaluation().lists.shopping[static_cast<std::size_t>(row)].owned, 1);
  EXPECT_EQ(session.evaluation().lists.shopping[static_cast<std::size_t>(row)].to_buy, 0);
  EXPECT_TRUE(session.undo_text().startsWith("Change how much is owned of"));
  session.undo();
  EXPECT_EQ(session.evaluation().lists.shopping[static_cast<std::size_t>(row)].to_buy, 1);
}

TEST_F(Lists, MoreThanIsNeededStaysAsTyped) {
  const QSignalSpy spy(&view, &ListsView::message);
  const QModelIndex cell = table->model()->index(row_of("hose-63"), owned_column());
  ASSERT_TRUE(table->model()->setData(cell, "5"));
  EXPECT_EQ(cell.data().toString(), "5");
  const auto& owned = session.build().owned;
  const auto entry = std::ranges::find(owned, build::StockId{"hose-63"}, &build::Owned::stock);
  ASSERT_NE(entry, owned.end());
  EXPECT_EQ(entry->quantity, 5);
  EXPECT_EQ(session.evaluation().lists.shopping[static_cast<std::size_t>(cell.row())].to_buy, 0);
  ASSERT_EQ(spy.count(), 1);
  EXPECT_TRUE(spy[0][0].toString().isEmpty()) << "an older complaint goes away";
}

TEST_F(Lists, WrongOwnedTextIsRefusedAndSaid) {
  const QSignalSpy spy(&view, &ListsView::message);
  const QModelIndex cell = table->model()->index(row_of("hose-63"), owned_column());
  for (const char* wrong : {"many", "-1", ""})
    EXPECT_FALSE(table->model()->setData(cell, wrong)) << wrong;
  EXPECT_EQ(spy.count(), 3);
  EXPECT_FALSE(session.can_undo());
}

TEST_F(Lists, TotalsLineSaysBudget) {
  const QString text = view.findChild<QLabel*>("lists_totals")->text();
  const list::Totals& totals = session.evaluation().lists.totals;
  EXPECT_TRUE(text.contains(show_money(totals.total)));
  EXPECT_TRUE(text.contains(show_money(*totals.left)));
  EXPECT_TRUE(text.contains("900.00 EUR"));
}

TEST_F(Lists, CopyPutsTheTableOnTheClipboard) {
  tabs->setCurrentIndex(2);
  const QSignalSpy spy(&view, &ListsView::message);
  QTest::mouseClick(view.findChild<QPushButton*>("lists_copy"), Qt::LeftButton);
  const QStringList lines = QGuiApplication::clipboard()->text().split('\n', Qt::SkipEmptyParts);
  EXPECT_EQ(lines.size(), table->model()->rowCount() + 1);
  ASSERT_EQ(spy.count(), 1);
  EXPECT_TRUE(spy[0][0].toString().contains("copied"));
  for (const QString& line : lines)
    EXPECT_EQ(line.count('\t'), table->model()->columnCount() - 1);
}

TEST_F(Lists, ExportAsksTheWindow) {
  const QSignalSpy spy(&view, &ListsView::export_requested);
  QTest::mouseClick(view.findChild<QPushButton*>("lists_export"), Qt::LeftButton);
  EXPECT_EQ(spy.count(), 1);
}

} // namespace
} // namespace bellmouth::ui
