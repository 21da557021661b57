// SPDX-License-Identifier: GPL-3.0-or-later
// Stock lists that come in and go out: a look first, then the good rows, and only when the button is pressed.
// Identities of the contract.
#include "sample.hpp"
#include "window_fixture.hpp"

#include <QAbstractItemModelTester>
#include <QCheckBox>
#include <QComboBox>
#include <QFile>
#include <QLabel>
#include <QPushButton>
#include <QSignalSpy>
#include <QStatusBar>
#include <QTabWidget>
#include <QTableView>
#include <QTemporaryDir>
#include <QTest>
#include <gtest/gtest.h>

#include <stock_import_dialog.hpp>
#include <stock_preview_model.hpp>
#include <stock_sheet.hpp>

namespace bellmouth::ui {
namespace {

class StockImport : public testing::Test {
protected:
  QTemporaryDir folder;
  QString file;
  Session session{test::sample_build()};
  StockImportDialog dialog{session, [this](QWidget*) { return file; },
                           [](StockView::Shipped which) {
                             return QString(BELLMOUTH_SHARED_DIR "/stock/") +
                                    (which == StockView::Shipped::inch ? "inch.json" : "metric.json");
                           }};

  void SetUp() override {
    dialog.show();
    ASSERT_TRUE(QTest::qWaitForWindowActive(&dialog));
  }
  template <class W> W* find(const QString& name) const {
    W* widget = dialog.findChild<W*>(name);
    EXPECT_NE(widget, nullptr) << name.toStdString();
    return widget;
  }
  QString file_with(const QString& name, const QByteArray& text) const {
    QFile made(folder.filePath(name));
    EXPECT_TRUE(made.open(QIODevice::WriteOnly));
    made.write(text);
    return made.fileName();
  }
  void choose_file(const QString& name, const QByteArray& text) {
    file = file_with(name, text);
    QTest::mouseClick(find<QPushButton>("import_choose"), Qt::LeftButton);
  }
  void choose(const QString& box_name, const QString& word) const {
    auto* box = find<QComboBox>(box_name);
    const int index = box->findText(word);
    ASSERT_GE(index, 0) << box_name.toStdString() << " " << word.toStdString();
    box->setCurrentIndex(index);
    emit box->activated(index);
  }
  [[nodiscard]] StockPreviewModel& rows() const {
    return *qobject_cast<StockPreviewModel*>(find<QTableView>("import_rows")->model());
  }
  [[nodiscard]] QPushButton* take() const { return find<QPushButton>("import_take"); }
  [[nodiscard]] QString counts() const { return find<QLabel>("import_counts")->text(); }
  [[nodiscard]] QString error() const { return find<QLabel>("import_error")->text(); }
};

const QByteArray table = "id,kind,name,material,OD [mm],wall [mm],price,per\n"
                         "t-1,tube,Tube A,aluminium,60,2,12.50,metre\n"
                         "t-2,tube,Tube B,aluminium,sixty,2,12.50,metre\n"
                         "t-3,tube,Tube C,aluminium,70,2,14.00,metre\n"
                         "t-4,tube,Tube D,aluminium,80,90,15.00,metre\n";

TEST_F(StockImport, TakesTheGoodRowsOnlyWhenPressed) {
  EXPECT_FALSE(take()->isEnabled());
  const build::Build before = session.build();
  choose_file("tubes.csv", table);
  EXPECT_TRUE(error().isEmpty()) << error().toStdString();
  ASSERT_EQ(rows().rowCount(), 4);
  EXPECT_TRUE(rows().reason(0).isEmpty()) << rows().reason(0).toStdString();
  EXPECT_TRUE(rows().reason(1).contains("sixty")) << rows().reason(1).toStdString();
  EXPECT_FALSE(rows().reason(3).isEmpty()) << "a wall thicker than the tube";
  EXPECT_TRUE(counts().contains("2 new")) << counts().toStdString();
  EXPECT_TRUE(counts().contains("2 bad rows stay out")) << counts().toStdString();
  EXPECT_EQ(take()->text().remove('&'), "Take the 2 good rows");
  EXPECT_EQ(session.build(), before) << "nothing is taken by looking";
  const QSignalSpy taken(&dialog, &StockImportDialog::taken);
  QTest::mouseClick(take(), Qt::LeftButton);
  EXPECT_FALSE(dialog.isVisible());
  ASSERT_EQ(taken.count(), 1);
  EXPECT_TRUE(taken[0][0].toString().contains("2 rows stayed out")) << taken[0][0].toString().toStdString();
  ASSERT_EQ(session.build().stock->size(), before.stock->size() + 2);
  const build::StockItem* item = session.build().find(build::StockId{"t-3"});
  ASSERT_NE(item, nullptr);
  EXPECT_NEAR(*item->outer_diameter_m, 0.070, 1e-12);
  EXPECT_EQ(item->price.minor, 1400);
  EXPECT_EQ(session.undo_text(), "Import stock from tubes.csv");
  session.undo();
  EXPECT_EQ(session.build(), before);
}

TEST_F(StockImport, BadRowsCanBeShownAlone) {
  choose_file("tubes.csv", table);
  const QAbstractItemModelTester tester(&rows(), QAbstractItemModelTester::FailureReportingMode::Fatal);
  find<QCheckBox>("import_only_bad")->click();
  ASSERT_EQ(rows().rowCount(), 2);
  EXPECT_EQ(rows().index(0, StockPreviewModel::number).data().toString(), "2");
  EXPECT_EQ(rows().index(1, StockPreviewModel::number).data().toString(), "4");
  // The reason of the picked row stands in full below.
  find<QTableView>("import_rows")->setCurrentIndex(rows().index(0, 0));
  EXPECT_TRUE(find<QLabel>("import_remarks")->text().contains("sixty"));
  find<QCheckBox>("import_only_bad")->click();
  EXPECT_EQ(rows().rowCount(), 4);
}

TEST_F(StockImport, ColumnsAreMappedByHand) {
  choose_file("odd.csv", "thing,what,colour,first,second,costs\n"
                         "a,tube,red,2.5,0.0625,12\n"
                         "b,tube,blue,3,0.0625,13\n");
  EXPECT_FALSE(take()->isEnabled());
  for (const auto& [column, field] :
       {std::pair{0, "id"}, {1, "kind"}, {2, "not used"}, {3, "outer diameter"}, {4, "wall"}, {5, "price"}})
    choose(QString("import_field_%1").arg(column), field);
  EXPECT_FALSE(take()->isEnabled()) << "neither material nor unit is said";
  choose("import_material", "mild steel");
  choose("import_per", "metre");
  choose("import_lengths", "in");
  EXPECT_EQ(find<QComboBox>("import_unit_3")->currentText(), "in");
  ASSERT_TRUE(take()->isEnabled()) << error().toStdString() << rows().reason(0).toStdString();
  QTest::mouseClick(take(), Qt::LeftButton);
  const build::StockItem* item = session.build().find(build::StockId{"a"});
  ASSERT_NE(item, nullptr);
  EXPECT_NEAR(*item->outer_diameter_m, 2.5 * 0.0254, 1e-12);
  EXPECT_EQ(item->material, build::Material::mild_steel);
}

TEST_F(StockImport, AColumnCanHaveAUnitOfItsOwn) {
  choose_file("tubes.csv", "id,kind,material,OD,wall,price,per\nx,tube,aluminium,60,2,1,metre\n");
  EXPECT_FALSE(take()->isEnabled()) << "no unit is guessed";
  choose("import_unit_3", "mm");
  choose("import_unit_4", "mm");
  EXPECT_TRUE(take()->isEnabled()) << rows().reason(0).toStdString();
  choose("import_unit_3", "in");
  EXPECT_FALSE(rows().reason(0).isEmpty()) << "60 in are more than a build allows";
}

TEST_F(StockImport, DecimalCommasAndSemicolonsAreRead) {
  choose_file("tubes.csv",
              "id;kind;material;OD [mm];wall [mm];price;per\nx;tube;aluminium;63,5;1,6;12,50;metre\n");
  EXPECT_EQ(find<QComboBox>("import_delimiter")->currentText(), "semicolon");
  EXPECT_EQ(find<QComboBox>("import_decimal")->currentText(), "comma");
  ASSERT_TRUE(take()->isEnabled()) << rows().reason(0).toStdString();
  choose("import_decimal", "point");
  EXPECT_FALSE(take()->isEnabled());
  choose("import_decimal", "comma");
  QTest::mouseClick(take(), Qt::LeftButton);
  ASSERT_NE(session.build().find(build::StockId{"x"}), nullptr);
  EXPECT_NEAR(*session.build().find(build::StockId{"x"})->outer_diameter_m, 0.0635, 1e-12);
}

TEST_F(StockImport, AsksWhatBecomesOfItemsThatTheBuildHas) {
  const build::StockItem before = session.build().stock->front();
  choose_file("tubes.csv", "id,kind,material,OD [mm],wall [mm],price,per\n" +
                               QByteArray(before.id.text.c_str()) + ",tube,aluminium,57,1.6,99.00,metre\n");
  auto* clash = find<QComboBox>("import_clash");
  ASSERT_TRUE(clash->isVisibleTo(&dialog));
  EXPECT_TRUE(counts().contains("1 changed")) << counts().toStdString();
  clash->setCurrentIndex(2);
  EXPECT_FALSE(take()->isEnabled()) << "the build's is kept: there is nothing to take";
  clash->setCurrentIndex(1);
  EXPECT_TRUE(take()->isEnabled());
  clash->setCurrentIndex(0);
  QTest::mouseClick(take(), Qt::LeftButton);
  EXPECT_EQ(session.build().find(before.id)->price.minor, 9900);
  EXPECT_EQ(session.build().stock->size(), test::sample_stock().size());
}

TEST_F(StockImport, TakesTheListsThatShip) {
  QTest::mouseClick(find<QPushButton>("import_metric"), Qt::LeftButton);
  EXPECT_TRUE(error().isEmpty()) << error().toStdString();
  const std::size_t before = session.build().stock->size();
  const std::size_t good = rows().preview().good.size();
  EXPECT_GT(good, 100U);
  EXPECT_TRUE(rows().preview().bad.empty());
  QTest::mouseClick(take(), Qt::LeftButton);
  EXPECT_EQ(session.build().stock->size(), before + good);
}

TEST_F(StockImport, AnEmptyBuildTakesTheCurrencyOfItsFirstList) {
  build::Build empty = build::with_stock(session.build(), {});
  build::Budget budget = empty.budget;
  budget.currency = {{'C', 'H', 'F'}};
  budget.limit.reset();
  session.replace(build::with_budget(empty, budget), {});
  QTest::mouseClick(find<QPushButton>("import_metric"), Qt::LeftButton);
  ASSERT_TRUE(take()->isEnabled()) << error().toStdString();
  EXPECT_TRUE(find<QLabel>("import_remarks")->text().contains("EUR"));
  QTest::mouseClick(take(), Qt::LeftButton);
  EXPECT_EQ(session.build().budget.currency.text(), "EUR");
  EXPECT_FALSE(session.build().stock->empty());
}

TEST_F(StockImport, SaysWhatIsWrongWithAFile) {
  const build::Build before = session.build();
  for (const auto& [name, text] : {std::pair<const char*, QByteArray>{"empty.csv", ""},
                                   {"no_list.json", "{\"format\": \"other\"}"},
                                   {"bytes.csv", QByteArray("\xff\xfe\x00\x41", 4)}}) {
    choose_file(name, text);
    EXPECT_FALSE(error().isEmpty()) << name;
    EXPECT_FALSE(take()->isEnabled()) << name;
  }
  file = folder.filePath("none.csv");
  QTest::mouseClick(find<QPushButton>("import_choose"), Qt::LeftButton);
  EXPECT_TRUE(error().contains("none.csv")) << error().toStdString();
  EXPECT_EQ(session.build(), before);
}

TEST_F(StockImport, EveryFieldHasANameToBeSpoken) {
  choose_file("tubes.csv", table);
  for (const QWidget* widget : dialog.findChildren<QWidget*>()) {
    if (!widget->isVisibleTo(&dialog) || (widget->focusPolicy() & Qt::TabFocus) == 0)
      continue;
    const auto* button = qobject_cast<const QAbstractButton*>(widget);
    EXPECT_TRUE(!widget->accessibleName().isEmpty() || (button != nullptr && !button->text().isEmpty()))
        << widget->objectName().toStdString() << " " << widget->metaObject()->className();
  }
}

TEST_F(Window, StockGoesOutAndComesBackAsItWas) {
  ASSERT_FALSE(session.apply(build::with_owned(session.build(), {"tube-57"}, 1.5), "own"));
  const build::Build before = session.build();
  for (const char* name : {"stock.csv", "stock.json"}) {
    file_to_save = temporary.filePath(name);
    trigger("export_stock");
    ASSERT_TRUE(QFile::exists(file_to_save)) << errors.join('\n').toStdString();
    ASSERT_FALSE(session.apply(build::with_stock(session.build(), {}), "empty"));
    file_to_open = file_to_save;
    trigger("import_stock");
    auto* dialog = find<StockImportDialog>("stock_import_dialog");
    QTest::mouseClick(dialog->findChild<QPushButton*>("import_choose"), Qt::LeftButton);
    auto* take = dialog->findChild<QPushButton*>("import_take");
    ASSERT_TRUE(take->isEnabled()) << name
                                   << dialog->findChild<QLabel*>("import_error")->text().toStdString();
    QTest::mouseClick(take, Qt::LeftButton);
    QCoreApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
    EXPECT_EQ(*session.build().stock, *before.stock) << name;
    EXPECT_EQ(session.build().owned, before.owned) << name;
    session.undo();
    session.undo();
    EXPECT_EQ(session.build(), before);
  }
}

TEST_F(Window, TheSheetOfAnItemStandsWhereTheEditorStands) {
  trigger("show_tab_stock");
  auto* stock = find<StockView>("tab_stock");
  stock->pick({"tube-57"});
  auto* table_view = find<QTableView>("stock_table");
  table_view->setFocus();
  QTest::keyClick(table_view, Qt::Key_Return);
  auto* sheet = find<StockSheet>("stock_sheet");
  EXPECT_TRUE(sheet->isVisible());
  EXPECT_FALSE(find<QWidget>("inspector")->isVisible());
  session.select(PickedPiece{test::first_run(), 0});
  EXPECT_FALSE(sheet->isVisible()) << "who picks a piece wants its fields";
  stock->open_picked();
  EXPECT_TRUE(sheet->isVisible());
  trigger("show_tab_lists");
  EXPECT_FALSE(sheet->isVisible());
}

TEST_F(Window, DeleteAndF2MeanTheItemWhileTheStockHasTheKeys) {
  session.select(PickedPiece{test::first_run(), 1});
  const std::size_t pieces = run().pieces.size(), items = session.build().stock->size();
  trigger("show_tab_stock");
  auto* stock = find<StockView>("tab_stock");
  stock->pick(session.build().stock->front().id);
  stock->duplicate();
  ASSERT_EQ(session.build().stock->size(), items + 1);
  auto* table_view = find<QTableView>("stock_table");
  table_view->setFocus();
  QTest::keyClick(table_view, Qt::Key_Delete);
  EXPECT_EQ(session.build().stock->size(), items);
  EXPECT_EQ(run().pieces.size(), pieces);
  QTest::keyClick(table_view, Qt::Key_F2);
  EXPECT_TRUE(find<StockSheet>("stock_sheet")->isVisible());
}

} // namespace
} // namespace bellmouth::ui
