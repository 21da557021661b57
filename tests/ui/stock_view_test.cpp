// SPDX-License-Identifier: GPL-3.0-or-later
// The stock as its user has it: searched, sorted, typed in, undone. Identities of the contract.
#include "view_sample.hpp"

#include <QAbstractItemModelTester>
#include <QCheckBox>
#include <QComboBox>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSignalSpy>
#include <QTableView>
#include <QTest>
#include <gtest/gtest.h>
#include <quantity_edit.hpp>

#include <stock_sheet.hpp>
#include <stock_text.hpp>
#include <stock_view.hpp>
#include <units.hpp>

namespace bellmouth::ui {
namespace {

using build::StockKind;

class Stock : public testing::Test {
protected:
  Session session{test::full_build()};
  bool may_remove = false;
  QStringList asked, said;
  StockView view{session, [this](QWidget*, const QString& what) {
                   asked << what;
                   return may_remove;
                 }};
  StockSheet* sheet = view.sheet();
  QTableView* table = view.findChild<QTableView*>("stock_table");

  void SetUp() override {
    QObject::connect(&view, &StockView::message, &view, [this](const QString& text) { said << text; });
    QObject::connect(&view, &StockView::sheet_requested, &view, [this] {
      sheet->setParent(nullptr);
      sheet->resize(340, 700);
      sheet->show();
    });
    QObject::connect(&view, &StockView::sheet_closed, &view, [this] { sheet->hide(); });
    test::show(view, 930, 420);
    ASSERT_TRUE(QTest::qWaitForWindowActive(&view));
  }
  void TearDown() override { sheet->setParent(&view); }

  template <class W> W* find(const QString& name) const {
    W* widget = view.findChild<W*>(name);
    EXPECT_NE(widget, nullptr) << name.toStdString();
    return widget;
  }
  template <class W> W* in_sheet(const QString& name) const {
    W* widget = sheet->findChild<W*>(name);
    EXPECT_NE(widget, nullptr) << name.toStdString();
    return widget;
  }
  [[nodiscard]] const build::StockItem& item(const char* id) const {
    const build::StockItem* found = session.build().find(build::StockId{id});
    EXPECT_NE(found, nullptr) << id;
    return *found;
  }
  /// An item with a wall that pieces of the option shown are bought as, and of which nothing is owned.
  [[nodiscard]] build::StockId used_item() const {
    for (const auto& run : session.build().find(session.option())->runs)
      for (const build::Piece& piece : run->pieces)
        if (const build::StockItem* of = session.build().find(piece.stock); of != nullptr && of->wall_m)
          if (never_owned(of->id))
            return of->id;
    ADD_FAILURE() << "nothing of the sample is bought from stock";
    return {};
  }
  [[nodiscard]] static bool never_owned(const build::StockId& id) {
    const build::Build sample = test::full_build();
    return std::ranges::find(sample.owned, id, &build::Owned::stock) == sample.owned.end();
  }
  [[nodiscard]] QString cell(int row, int column) const {
    return table->model()->index(row, column).data().toString();
  }
  void search(const QString& words) const {
    auto* line = find<QLineEdit>("stock_search");
    line->clear();
    QTest::keyClicks(line, words);
  }
  void type_in_cell(int column, const QString& text) const {
    table->setFocus();
    table->setCurrentIndex(table->currentIndex().siblingAtColumn(column));
    QTest::keyClick(table, Qt::Key_F2);
    auto* line = table->findChild<QLineEdit*>("sheet_line");
    ASSERT_NE(line, nullptr);
    line->selectAll();
    if (text.isEmpty())
      QTest::keyClick(line, Qt::Key_Delete);
    QTest::keyClicks(line, text);
    QTest::keyClick(line, Qt::Key_Return);
    QCoreApplication::processEvents();
    QCoreApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete); // the editor of the cell
  }
  void type_in_sheet(const QString& name, const QString& text) const {
    auto* line = in_sheet<QLineEdit>(name + "_line");
    ASSERT_TRUE(line->isVisibleTo(sheet)) << name.toStdString();
    line->setFocus();
    line->selectAll();
    if (text.isEmpty())
      QTest::keyClick(line, Qt::Key_Delete);
    QTest::keyClicks(line, text);
    QTest::keyClick(line, Qt::Key_Return);
  }
  [[nodiscard]] double owned(const build::StockId& id) const {
    const auto& all = session.build().owned;
    const auto found = std::ranges::find(all, id, &build::Owned::stock);
    return found == all.end() ? 0 : found->quantity;
  }
};

TEST_F(Stock, ShowsEveryItemInTheUnitsOfTheUser) {
  ASSERT_EQ(table->model()->rowCount(), static_cast<int>(session.build().stock->size()));
  view.pick(used_item());
  const build::StockItem& picked = *session.build().find(used_item());
  const int row = table->currentIndex().row();
  EXPECT_EQ(cell(row, StockModel::kind), stock_kind_word(picked.kind));
  EXPECT_EQ(cell(row, StockModel::price), show_money(picked.price));
  EXPECT_FALSE(cell(row, StockModel::used).isEmpty());
  const QString metric = cell(row, StockModel::sizes);
  use_units({.length = UnitChoice::Length::inches});
  session.show_everything_anew();
  EXPECT_NE(cell(row, StockModel::sizes), metric);
  EXPECT_TRUE(table->model()->headerData(StockModel::sizes, Qt::Horizontal).toString().endsWith(", in"));
  use_units({});
  session.show_everything_anew();
  EXPECT_EQ(cell(row, StockModel::sizes), metric);
}

TEST_F(Stock, ModelKeepsTheRulesOfModels) {
  const QAbstractItemModelTester tester(table->model(),
                                        QAbstractItemModelTester::FailureReportingMode::Fatal);
  search("hose");
  view.show_all();
  view.add(StockKind::clamp);
  view.duplicate();
  session.undo();
  may_remove = true;
  view.pick(used_item());
  view.remove();
  session.undo();
  ASSERT_FALSE(session.apply(build::with_stock(session.build(), {}), "empty"));
  session.undo();
  EXPECT_EQ(table->model()->rowCount(), static_cast<int>(session.build().stock->size()));
}

TEST_F(Stock, FindsWhatHasAllTheWords) {
  search("hose 63");
  ASSERT_GT(table->model()->rowCount(), 0);
  ASSERT_LT(table->model()->rowCount(), static_cast<int>(session.build().stock->size()));
  for (int row = 0; row < table->model()->rowCount(); ++row) {
    const QString all = cell(row, StockModel::kind) + cell(row, StockModel::name) +
                        cell(row, StockModel::sizes) +
                        table->model()->index(row, 0).data(Qt::ToolTipRole).toString();
    EXPECT_TRUE(all.contains("hose", Qt::CaseInsensitive)) << all.toStdString();
    EXPECT_TRUE(all.contains("63")) << all.toStdString();
  }
  search("no such thing");
  EXPECT_EQ(table->model()->rowCount(), 0);
  EXPECT_TRUE(find<QWidget>("stock_nothing_found")->isVisibleTo(&view));
  QTest::mouseClick(find<QPushButton>("stock_show_all"), Qt::LeftButton);
  EXPECT_EQ(table->model()->rowCount(), static_cast<int>(session.build().stock->size()));
  EXPECT_TRUE(table->isVisibleTo(&view));
}

TEST_F(Stock, ShowsOneKindOneSupplierWhatIsOwnedOrUsed) {
  build::Build build = session.build();
  std::vector<build::StockItem> stock = *build.stock;
  stock[0].supplier = "Yard";
  ASSERT_FALSE(session.apply(build::with_stock(build, stock), "name a supplier"));
  auto* suppliers = find<QComboBox>("stock_supplier");
  suppliers->setCurrentIndex(suppliers->findText("Yard"));
  ASSERT_EQ(table->model()->rowCount(), 1);
  EXPECT_EQ(cell(0, StockModel::supplier), "Yard");
  view.show_all();
  find<QComboBox>("stock_kind")->setCurrentIndex(1 + static_cast<int>(StockKind::hose));
  const auto hoses = std::ranges::count(*session.build().stock, StockKind::hose, &build::StockItem::kind);
  EXPECT_EQ(table->model()->rowCount(), hoses);
  view.show_all();
  ASSERT_FALSE(session.apply(build::with_owned(session.build(), stock[1].id, 2), "own"));
  find<QCheckBox>("stock_owned_only")->click();
  std::size_t having = 0;
  for (const build::Owned& each : session.build().owned)
    having += each.quantity > 0 ? 1U : 0U;
  EXPECT_EQ(table->model()->rowCount(), static_cast<int>(having));
  view.show_all();
  find<QCheckBox>("stock_used_only")->click();
  EXPECT_EQ(table->model()->rowCount(),
            static_cast<int>(
                stock_uses(*session.build().find(session.option()), session.evaluation().lists).size()));
  EXPECT_TRUE(find<QLabel>("stock_count")->text().contains(" of "));
}

TEST_F(Stock, SortsByWhatTheCellsMean) {
  table->sortByColumn(StockModel::price, Qt::AscendingOrder);
  const auto price = [&](int row) {
    return quantity::read_money(cell(row, StockModel::price).toStdString(), session.build().budget.currency)
        ->minor;
  };
  for (int row = 1; row < table->model()->rowCount(); ++row)
    EXPECT_LE(price(row - 1), price(row)) << row;
  build::Build build = session.build();
  for (const double size_mm : {9.5, 100.0, 57.0}) {
    build::StockItem tube = ordinary_item(StockKind::tube, build.budget.currency);
    tube.id = free_stock_id(build, "tube");
    tube.outer_diameter_m = size_mm * 1e-3;
    build = with_item_inserted(build, 0, tube);
  }
  ASSERT_FALSE(session.apply(build, "more tubes"));
  table->sortByColumn(StockModel::sizes, Qt::DescendingOrder);
  find<QComboBox>("stock_kind")->setCurrentIndex(1 + static_cast<int>(StockKind::tube));
  const auto diameter = [&](int row) {
    const QString text = cell(row, StockModel::sizes);
    return text.mid(1, text.indexOf(' ') - 1).toDouble();
  };
  ASSERT_GT(table->model()->rowCount(), 3);
  for (int row = 1; row < table->model()->rowCount(); ++row)
    EXPECT_GE(diameter(row - 1), diameter(row)) << row;
}

TEST_F(Stock, WhatIsOwnedAndPaidIsTypedInTheTable) {
  view.pick(used_item());
  const bool metres = session.build().find(used_item())->per == build::Per::metre;
  type_in_cell(StockModel::owned, metres ? "1.5 m" : "2");
  EXPECT_EQ(owned(used_item()), metres ? 1.5 : 2.0);
  EXPECT_TRUE(session.undo_text().startsWith("Change how much is owned of"));
  type_in_cell(StockModel::paid, "12.50");
  const auto& entry = *std::ranges::find(session.build().owned, used_item(), &build::Owned::stock);
  ASSERT_TRUE(entry.paid);
  EXPECT_EQ(entry.paid->minor, 1250);
  type_in_cell(StockModel::owned, "");
  EXPECT_EQ(owned(used_item()), 0);
  session.undo();
  session.undo();
  session.undo();
  EXPECT_FALSE(session.can_undo());
}

TEST_F(Stock, WhatIsRefusedStaysInItsCellUntilItIsMended) {
  view.pick(used_item());
  type_in_cell(StockModel::owned, "many");
  EXPECT_EQ(table->currentIndex().data().toString(), "many");
  auto* error = find<QLabel>("stock_error");
  EXPECT_TRUE(error->isVisibleTo(&view));
  EXPECT_TRUE(error->text().contains("many")) << error->text().toStdString();
  EXPECT_FALSE(session.can_undo());
  table->setFocus();
  QTest::keyClick(table, Qt::Key_Escape);
  EXPECT_FALSE(error->isVisibleTo(&view));
  EXPECT_NE(table->currentIndex().data().toString(), "many");
  type_in_cell(StockModel::paid, "5");
  EXPECT_TRUE(error->isVisibleTo(&view)) << "nothing is owned yet, so nothing can have been paid";
}

TEST_F(Stock, EnterOpensTheItemAndItsFieldsAreTyped) {
  view.pick(used_item());
  table->setFocus();
  QTest::keyClick(table, Qt::Key_Return);
  ASSERT_TRUE(sheet->isVisible());
  EXPECT_EQ(sheet->item(), used_item());
  const build::StockId id = used_item();
  const double wall_before = *session.build().find(id)->wall_m;
  type_in_sheet("stock_item_wall", "1/8 in");
  EXPECT_NEAR(*session.build().find(id)->wall_m, 3.175e-3, 1e-12);
  EXPECT_TRUE(session.undo_text().startsWith("Change wall of")) << session.undo_text().toStdString();
  type_in_sheet("stock_item_wall", "3 mm");
  session.undo();
  EXPECT_EQ(*session.build().find(id)->wall_m, wall_before) << "typing in one field is one step";
  type_in_sheet("stock_item_wall", "500 mm");
  EXPECT_EQ(*session.build().find(id)->wall_m, wall_before);
  EXPECT_FALSE(in_sheet<QLabel>("stock_item_wall_error")->text().isEmpty());
  type_in_sheet("stock_item_price", "99.90");
  EXPECT_EQ(session.build().find(id)->price.minor, 9990);
}

TEST_F(Stock, ANewIdIsFollowedByAllThatNamesIt) {
  const build::StockId before = used_item();
  ASSERT_FALSE(session.apply(build::with_owned(session.build(), before, 1), "own"));
  view.pick(before);
  view.open_picked();
  type_in_sheet("stock_item_id", "another-name");
  EXPECT_EQ(session.build().find(before), nullptr);
  EXPECT_EQ(owned({"another-name"}), 1);
  EXPECT_EQ(used_item(), build::StockId{"another-name"});
  EXPECT_EQ(sheet->item(), build::StockId{"another-name"});
  session.undo();
  EXPECT_EQ(sheet->item(), before);
  EXPECT_EQ(used_item(), before);
}

TEST_F(Stock, ItemsAreAddedDuplicatedAndRemoved) {
  const build::Build before = session.build();
  for (int kind = 0; kind < stock_kind_count; ++kind)
    find<QAction>(QString("stock_add_%1").arg(kind))->trigger();
  EXPECT_EQ(session.build().stock->size(), before.stock->size() + stock_kind_count);
  for (int kind = stock_kind_count - 1; kind >= 0; --kind) { // the last first: each is taken back
    EXPECT_TRUE(std::ranges::any_of(*session.build().stock, [&](const build::StockItem& each) {
      return static_cast<int>(each.kind) == kind && each.price.minor == 0;
    }));
    session.undo();
  }
  EXPECT_EQ(session.build(), before);
  view.pick(before.stock->front().id);
  QTest::mouseClick(find<QPushButton>("stock_duplicate"), Qt::LeftButton);
  ASSERT_EQ(session.build().stock->size(), before.stock->size() + 1);
  EXPECT_EQ(view.picked(), (*session.build().stock)[1].id) << "the copy is picked";
  EXPECT_EQ((*session.build().stock)[1].price, before.stock->front().price);
  table->setFocus();
  QTest::keyClick(table, Qt::Key_Delete);
  EXPECT_EQ(*session.build().stock, *before.stock);
  EXPECT_TRUE(asked.isEmpty()) << "nothing is bought as the copy";
}

TEST_F(Stock, AsksBeforeAnItemInUseIsRemoved) {
  const build::Build before = session.build();
  const build::StockId id = used_item();
  view.pick(id);
  QTest::mouseClick(find<QPushButton>("stock_remove"), Qt::LeftButton);
  ASSERT_EQ(asked.size(), 1);
  const BoughtAs bought = bought_as_anywhere(before, id);
  EXPECT_TRUE(bought.pieces == 1 ? asked[0].contains("One piece")
                                 : asked[0].contains(QString::number(bought.pieces)))
      << asked[0].toStdString();
  EXPECT_EQ(session.build(), before);
  may_remove = true;
  QTest::mouseClick(find<QPushButton>("stock_remove"), Qt::LeftButton);
  EXPECT_EQ(session.build().find(id), nullptr);
  EXPECT_EQ(bought_as_anywhere(session.build(), id).pieces, 0);
  session.undo();
  EXPECT_EQ(session.build(), before);
}

TEST_F(Stock, LeadsToWhereAnItemIsUsed) {
  const build::StockId id = used_item();
  view.pick(id);
  const auto uses = stock_uses(*session.build().find(session.option()), session.evaluation().lists);
  const std::vector<build::PieceRef>& pieces = uses.at(id.text).pieces;
  auto* button = find<QPushButton>("stock_where_used");
  ASSERT_TRUE(button->isEnabled());
  for (std::size_t i = 0; i <= pieces.size(); ++i) {
    QTest::mouseClick(button, Qt::LeftButton);
    const build::PieceRef& at = pieces[i % pieces.size()];
    EXPECT_EQ(session.selection(), Selection(PickedPiece{at.run, at.row})) << i;
  }
  EXPECT_EQ(view.picked(), id);
}

TEST_F(Stock, OffcutsAreTypedInTheSheet) {
  const auto& stock = *session.build().stock;
  const auto tube = std::ranges::find(stock, StockKind::tube, &build::StockItem::kind);
  ASSERT_NE(tube, stock.end());
  const build::StockId id = tube->id;
  const auto before = offcuts_of(session.build(), id).size();
  view.pick(id);
  view.open_picked();
  in_sheet<QPushButton>("add_offcut")->click();
  auto* offcuts = in_sheet<QTableView>("stock_offcuts_table");
  ASSERT_EQ(offcuts->model()->rowCount(), static_cast<int>(before) + 1);
  const auto last = static_cast<int>(before);
  ASSERT_TRUE(offcuts->model()->setData(offcuts->model()->index(last, 1), "12 in"));
  EXPECT_NEAR(offcuts_of(session.build(), id).back().straight_in_m, 0.3048, 1e-12);
  EXPECT_FALSE(offcuts->model()->setData(offcuts->model()->index(last, 0), "0"));
  EXPECT_FALSE(in_sheet<QLabel>("stock_offcuts_error")->text().isEmpty());
  ASSERT_TRUE(offcuts->model()->setData(offcuts->model()->index(last, 0), "3"));
  EXPECT_EQ(offcuts_of(session.build(), id).back().count, 3);
  in_sheet<QPushButton>("remove_offcut")->click();
  EXPECT_EQ(offcuts_of(session.build(), id).size(), before);
}

TEST_F(Stock, AnotherKindKeepsTheSizesThatItHasToo) {
  view.pick(used_item());
  view.open_picked();
  const build::StockItem before = *session.build().find(used_item());
  for (int kind = 0; kind < stock_kind_count; ++kind) {
    auto* box = in_sheet<QComboBox>("stock_item_kind");
    box->setCurrentIndex(kind);
    emit box->activated(kind);
    EXPECT_EQ(static_cast<int>(session.build().find(before.id)->kind), kind)
        << in_sheet<QLabel>("stock_item_kind_error")->text().toStdString();
    if (session.can_undo() && kind != static_cast<int>(before.kind))
      session.undo();
    EXPECT_EQ(*session.build().find(before.id), before);
  }
}

TEST_F(Stock, KeysReachTheSearchAndTheRows) {
  table->setFocus();
  QTest::keySequence(&view, QKeySequence::Find);
  EXPECT_TRUE(find<QLineEdit>("stock_search")->hasFocus());
  QTest::keyClick(find<QLineEdit>("stock_search"), Qt::Key_Down);
  EXPECT_TRUE(table->hasFocus());
  EXPECT_TRUE(view.picked());
}

TEST_F(Stock, AnEmptyStockOffersTheLists) {
  ASSERT_FALSE(session.apply(build::with_stock(session.build(), {}), "empty"));
  EXPECT_TRUE(find<QWidget>("stock_empty")->isVisibleTo(&view));
  const QSignalSpy shipped(&view, &StockView::shipped_requested), file(&view, &StockView::import_requested);
  QTest::mouseClick(find<QPushButton>("stock_take_metric"), Qt::LeftButton);
  QTest::mouseClick(find<QPushButton>("stock_take_inch"), Qt::LeftButton);
  QTest::mouseClick(find<QPushButton>("stock_take_file"), Qt::LeftButton);
  EXPECT_EQ(shipped.count(), 2);
  EXPECT_EQ(file.count(), 1);
  session.undo();
  EXPECT_TRUE(table->isVisibleTo(&view));
}

TEST_F(Stock, EveryFieldHasANameToBeSpokenAndATip) {
  view.pick(used_item());
  view.open_picked();
  for (const QWidget* around : std::initializer_list<const QWidget*>{&view, sheet})
    for (const QWidget* widget : around->findChildren<QWidget*>()) {
      if (!widget->isVisibleTo(around) || (widget->focusPolicy() & Qt::TabFocus) == 0)
        continue;
      const auto* button = qobject_cast<const QAbstractButton*>(widget);
      EXPECT_TRUE(!widget->accessibleName().isEmpty() || (button != nullptr && !button->text().isEmpty()))
          << widget->objectName().toStdString() << " " << widget->metaObject()->className();
    }
}

} // namespace
} // namespace bellmouth::ui
