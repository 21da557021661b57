// SPDX-License-Identifier: GPL-3.0-or-later
// The lists on screen: the same as the core's tables, with what is owned and paid typed in. Identities of the
// contract.
#include "view_sample.hpp"

#include <QAbstractItemModelTester>
#include <QClipboard>
#include <QComboBox>
#include <QGuiApplication>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QSignalSpy>
#include <QTableView>
#include <QTest>
#include <gtest/gtest.h>

#include <lists_view.hpp>
#include <units.hpp>

namespace bellmouth::ui {
namespace {

class Lists : public testing::Test {
protected:
  Lists() {
    test::show(view, 1100, 500);
    wait();
  }
  void wait() {
    ASSERT_TRUE(QTest::qWaitFor([this] { return !session.purchase_is_due(); }));
    QCoreApplication::processEvents();
  }
  [[nodiscard]] ListModel& model() const { return *qobject_cast<ListModel*>(table->model()); }
  /// The cell of a stock item on the shopping list.
  [[nodiscard]] QModelIndex cell(const char* stock, int column) const {
    for (int row = 0; row < model().rowCount(); ++row)
      if (model().row(row).stock && model().row(row).stock->text == stock)
        return model().index(row, column);
    ADD_FAILURE() << stock;
    return {};
  }
  [[nodiscard]] QModelIndex owned(const char* stock) const {
    return cell(stock, model().table().owned_column);
  }
  [[nodiscard]] QModelIndex paid(const char* stock) const { return cell(stock, model().table().paid_column); }
  [[nodiscard]] const buy::ShoppingLine& line(const char* stock) const {
    const auto& lines = session.purchase().shopping;
    const auto found = std::ranges::find_if(
        lines, [&](const buy::ShoppingLine& each) { return each.stock && each.stock->text == stock; });
    EXPECT_NE(found, lines.end()) << stock;
    return *found;
  }
  [[nodiscard]] const build::Owned* owned_entry(const char* stock) const {
    const auto& all = session.build().owned;
    const auto found = std::ranges::find(all, build::StockId{stock}, &build::Owned::stock);
    return found == all.end() ? nullptr : &*found;
  }

  Session session{test::full_build()};
  ListsView view{session};
  QTableView* table = view.findChild<QTableView*>("lists_table");
  QListWidget* names = view.findChild<QListWidget*>("lists_names");
};

TEST_F(Lists, EachOfTheCoresTablesIsShown) {
  QStringList titles;
  for (int i = 0; i < names->count(); ++i)
    titles << names->item(i)->text().section(" (", 0, 0);
  EXPECT_EQ(titles,
            (QStringList{"Shopping", "Sawing", "Cuts", "Bends", "Wedges", "Clocking marks", "Joints",
                         "Clamps", "Beads", "Welds", "Changes of bore", "Bosses and flanges", "Mass"}));
  for (const list::Table& expected : list::tables(session.evaluation().lists)) {
    view.show_list(QString::fromStdString(expected.name));
    if (model().table().key.toStdString() != expected.name)
      continue; // about buying, which has tables of its own
    ASSERT_EQ(model().rowCount(), static_cast<int>(expected.rows.size())) << expected.name;
    ASSERT_EQ(model().columnCount(), static_cast<int>(expected.header.size()));
    for (int row = 0; row < model().rowCount(); ++row)
      for (int column = 0; column < model().columnCount(); ++column)
        EXPECT_EQ(model().index(row, column).data().toString().toStdString(),
                  expected.rows[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)]);
  }
}

TEST_F(Lists, ShoppingIsGroupedAndComplete) {
  std::size_t lines = 0;
  QString group;
  for (int row = 0; row < model().rowCount(); ++row) {
    if (model().row(row).heading) {
      group = model().row(row).cells.front();
      continue;
    }
    const buy::ShoppingLine& expected = session.purchase().shopping.at(lines++);
    EXPECT_EQ(group.toLower().toStdString(), expected.group);
    EXPECT_EQ(model().row(row).cells.front().toStdString(), expected.description);
    EXPECT_EQ(model().row(row).pieces, expected.pieces);
  }
  EXPECT_EQ(lines, session.purchase().shopping.size());
}

TEST_F(Lists, ModelKeepsTheRulesOfModelsThroughEdits) {
  const QAbstractItemModelTester tester(table->model(),
                                        QAbstractItemModelTester::FailureReportingMode::Fatal);
  session.show_option({"wide"});
  for (int list = 0; list < names->count(); ++list)
    names->setCurrentRow(list);
  ASSERT_FALSE(session.apply(test::with_empty_run(session.build(), test::cold_side), "empty a run"));
  for (int list = 0; list < names->count(); ++list)
    names->setCurrentRow(list);
  session.undo();
  wait();
}

TEST_F(Lists, ARowLeadsToEachOfItsPieces) {
  int several = 0;
  for (int list = 0; list < names->count(); ++list) {
    names->setCurrentRow(list);
    for (int row = 0; row < model().rowCount(); ++row) {
      const auto pieces = model().row(row).pieces;
      if (pieces.empty())
        continue;
      const auto picked = [](const build::PieceRef& piece) {
        return Selection(PickedPiece{piece.run, piece.row});
      };
      session.select(std::monostate{});
      table->setCurrentIndex({});
      table->setCurrentIndex(model().index(row, 0));
      EXPECT_EQ(session.selection(), picked(pieces.front()));
      auto* next = view.findChild<QPushButton*>("lists_next");
      ASSERT_EQ(next->isVisible(), pieces.size() > 1);
      if (pieces.size() == 1)
        continue;
      ++several;
      for (std::size_t i = 1; i <= pieces.size(); ++i) {
        EXPECT_EQ(next->text(), QString("Next piece (%1 of %2)").arg(i).arg(pieces.size()));
        QTest::mouseClick(next, Qt::LeftButton);
        EXPECT_EQ(session.selection(), picked(pieces[i % pieces.size()]));
      }
    }
  }
  EXPECT_GT(several, 2);
}

TEST_F(Lists, ClickingARowAgainPicksItsNextPiece) {
  view.show_list("clamps");
  int row = 0;
  while (row < model().rowCount() && model().row(row).pieces.size() < 2)
    ++row;
  ASSERT_LT(row, model().rowCount());
  const auto pieces = model().row(row).pieces;
  const auto click = [&] {
    QTest::mouseClick(table->viewport(), Qt::LeftButton, {},
                      table->visualRect(model().index(row, 0)).center());
    QTest::qWait(QApplication::doubleClickInterval() + 50);
  };
  table->setCurrentIndex({});
  click();
  EXPECT_EQ(session.selection(), Selection(PickedPiece{pieces[0].run, pieces[0].row}));
  click();
  EXPECT_EQ(session.selection(), Selection(PickedPiece{pieces[1].run, pieces[1].row}));
}

TEST_F(Lists, OwnedThingsAreTypedInAndUndone) {
  const double before = line("hose-63").to_buy;
  ASSERT_GT(before, 0);
  ASSERT_TRUE(owned("hose-63").flags() & Qt::ItemIsEditable);
  ASSERT_TRUE(model().setData(owned("hose-63"), "9"));
  EXPECT_EQ(line("hose-63").to_buy, 0);
  EXPECT_TRUE(session.undo_text().startsWith("Change how much is owned of"));
  wait();
  EXPECT_EQ(owned("hose-63").data().toString(), "9") << "all that is owned, not only what is needed";
  session.undo();
  EXPECT_EQ(line("hose-63").to_buy, before);
}

TEST_F(Lists, WhatWasPaidIsSpent) {
  ASSERT_TRUE(model().setData(owned("hose-63"), "2"));
  wait();
  ASSERT_TRUE(model().setData(paid("hose-63"), "21.40"));
  ASSERT_NE(owned_entry("hose-63"), nullptr);
  EXPECT_EQ(owned_entry("hose-63")->paid->minor, 2140);
  EXPECT_EQ(owned_entry("hose-63")->quantity, 2);
  wait();
  EXPECT_EQ(session.purchase().totals.spent.minor, 2140);
  EXPECT_TRUE(view.findChild<QLabel*>("lists_totals")->text().contains("spent 21.40 EUR"));
  ASSERT_TRUE(model().setData(paid("hose-63"), ""));
  EXPECT_FALSE(owned_entry("hose-63")->paid);
}

TEST_F(Lists, WrongTextIsRefusedAndSaid) {
  const QSignalSpy spy(&view, &ListsView::message);
  int told = 0;
  for (const char* wrong : {"many", "-1"}) {
    model().setData(owned("hose-63"), wrong);
    EXPECT_EQ(spy.count(), ++told) << wrong;
    EXPECT_TRUE(spy.last()[0].toString().startsWith("Owned: ")) << wrong;
  }
  for (const char* wrong : {"much", "-3", "3 USD", "12.50"}) {
    model().setData(paid("hose-63"), wrong);
    EXPECT_EQ(spy.count(), ++told) << wrong << ", and nothing of it is owned";
    EXPECT_TRUE(spy.last()[0].toString().startsWith("Paid: ")) << wrong;
  }
  EXPECT_FALSE(session.can_undo());
  ASSERT_TRUE(model().setData(owned("hose-63"), "1"));
  EXPECT_TRUE(spy.last()[0].toString().isEmpty()) << "an older complaint goes away";
}

TEST_F(Lists, MoneyIsSaid) {
  const QString text = view.findChild<QLabel*>("lists_totals")->text();
  const buy::Totals& totals = session.purchase().totals;
  EXPECT_TRUE(text.contains(show_money(totals.total)));
  EXPECT_TRUE(text.contains(show_money(totals.goods)));
  ASSERT_TRUE(totals.left);
  EXPECT_TRUE(text.contains(show_money({std::abs(totals.left->minor), totals.left->currency})));
  EXPECT_TRUE(text.contains("900.00 EUR"));
  EXPECT_EQ(text.contains("proven: no plan costs less"), session.purchase().plan.proven);
  view.show_list("joints");
  EXPECT_FALSE(view.findChild<QLabel*>("lists_totals")->isVisible()) << "not below what is no money";
}

TEST_F(Lists, ThePlanIsForWhatIsChosen) {
  auto* aim = view.findChild<QComboBox*>("lists_aim");
  ASSERT_EQ(aim->count(), 3);
  for (int i = 0; i < aim->count(); ++i) {
    const auto which = static_cast<buy::Aim>(aim->itemData(i).toInt());
    EXPECT_TRUE(aim->itemText(i).contains(show_money(session.purchase_with(which).totals.total)))
        << aim->itemText(i).toStdString();
  }
  aim->setCurrentIndex(2);
  emit aim->activated(2);
  wait();
  EXPECT_EQ(session.aim(), buy::Aim::offcuts);
  EXPECT_EQ(session.purchase().task.question.aim, buy::Aim::offcuts);
  EXPECT_LE(session.purchase().totals.offcuts, session.purchase_with(buy::Aim::money).totals.offcuts);
}

TEST_F(Lists, CopyPutsTheTableOnTheClipboard) {
  view.show_list("clamps");
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

TEST_F(Lists, PrintAndBudgetAskTheWindow) {
  const QSignalSpy print(&view, &ListsView::print_requested), budget(&view, &ListsView::budget_requested);
  QTest::mouseClick(view.findChild<QPushButton*>("lists_print"), Qt::LeftButton);
  QTest::mouseClick(view.findChild<QPushButton*>("lists_budget"), Qt::LeftButton);
  EXPECT_EQ(print.count(), 1);
  EXPECT_EQ(budget.count(), 1);
}

/// Identity: what is written is what is shown, and the sums beside it.
TEST_F(Lists, FilesHoldWhatIsShown) {
  const auto files = file_tables(session.build(), session.evaluation(), session.purchase());
  std::vector<std::string> written;
  for (const list::Table& file : files)
    written.push_back(file.name);
  for (int list = 0; list < names->count(); ++list) {
    names->setCurrentRow(list);
    EXPECT_EQ(std::ranges::count(written, model().table().key.toStdString()), 1)
        << model().table().key.toStdString();
  }
  EXPECT_EQ(std::ranges::count(written, "totals"), 1);
  EXPECT_EQ(written.size(), static_cast<std::size_t>(names->count()) + 1);
}

} // namespace
} // namespace bellmouth::ui
