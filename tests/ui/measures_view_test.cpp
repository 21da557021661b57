// SPDX-License-Identifier: GPL-3.0-or-later
// The tables of the bay as their user has them: cells typed, rows picked, buttons pressed.
#include "sample.hpp"
#include "support/sample_builds.hpp"

#include <QAbstractButton>
#include <QAbstractItemModelTester>
#include <QAction>
#include <QApplication>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTabWidget>
#include <QTableView>
#include <QTest>
#include <gtest/gtest.h>

#include <bay_text.hpp>
#include <cmath>
#include <measures_view.hpp>
#include <sheet.hpp>

namespace bellmouth::ui {
namespace {

enum PortColumn {
  port_forward = 3,
  port_left,
  port_up,
  port_direction,
  port_bore,
  port_known = 10,
  port_tolerance
};
enum KeepOutColumn {
  name,
  kind,
  class_,
  clearance,
  forward,
  left,
  up,
  size,
  mounting,
  owner,
  states,
  known,
  tolerance
};

class Measures : public testing::Test {
protected:
  Session session{bellmouth::test::sample_build()};
  MeasuresView view{session};
  QString said;

  void SetUp() override {
    QObject::connect(&view, &MeasuresView::message, &view, [this](const QString& text) { said = text; });
    view.resize(900, 400);
    view.show();
  }
  template <class W> W* find(const QString& object_name) const {
    W* widget = view.findChild<W*>(object_name);
    EXPECT_NE(widget, nullptr) << object_name.toStdString();
    return widget;
  }
  Sheet& ports() const { return *find<Sheet>("ports"); }
  Sheet& keep_outs() const { return *find<Sheet>("keep_outs"); }
  static QString cell(Sheet& sheet, int row, int column) {
    return sheet.model().index(row, column).data().toString();
  }
  static bool type(Sheet& sheet, int row, int column, const QString& text) {
    return sheet.model().setData(sheet.model().index(row, column), text);
  }
  QString error(const char* sheet) const { return find<QLabel>(QString(sheet) + "_error")->text(); }
  const build::Port& port(std::size_t row) const { return session.build().ports.at(row); }
  const build::KeepOut& keep_out(std::size_t row) const { return session.build().keep_outs.at(row); }
  /// The first keep-out of a shape.
  template <class S> int row_of() const {
    const auto& all = session.build().keep_outs;
    for (std::size_t i = 0; i < all.size(); ++i)
      if (std::holds_alternative<S>(all[i].shape))
        return static_cast<int>(i);
    ADD_FAILURE();
    return 0;
  }
};

/// The height of its place.
double height_of(const build::KeepOut& keep_out) {
  return place_of_shape(keep_out)[2];
}
void expect_place(const build::Vector& got, const build::Vector& wanted) {
  for (std::size_t i = 0; i < 3; ++i)
    EXPECT_NEAR(got[i], wanted[i], 1e-12) << "component " << i;
}

TEST_F(Measures, ModelsHoldWhatQtAsksOfThem) {
  QAbstractItemModelTester port_tester(&ports().model()), keep_out_tester(&keep_outs().model());
  EXPECT_EQ(ports().model().rowCount(), static_cast<int>(session.build().ports.size()));
  EXPECT_EQ(keep_outs().model().rowCount(), static_cast<int>(session.build().keep_outs.size()));
  type(ports(), 0, port_up, "220");
  view.add(NewShape::box);
  session.undo();
}

TEST_F(Measures, ACoordinateIsTyped) {
  const build::Vector before = port(1).pose->position_m;
  EXPECT_TRUE(type(ports(), 1, port_up, "12 in"));
  expect_place(port(1).pose->position_m, {before[0], before[1], 0.3048});
  EXPECT_EQ(session.undo_text(), "Change place of blower in");
  session.undo();
  expect_place(port(1).pose->position_m, before);
}

TEST_F(Measures, APlaceIsTypedFromAnotherPort) {
  const build::Vector outlet = session.build().find(build::PortId{"blower_out"})->pose->position_m;
  EXPECT_TRUE(type(ports(), 0, port_left, "120 mm below and 40 mm left of the blower outlet"));
  expect_place(port(0).pose->position_m, {outlet[0], outlet[1] + 0.04, outlet[2] - 0.12});
}

TEST_F(Measures, WhatIsRefusedStaysInItsCellUntilItIsMended) {
  const build::Build before = session.build();
  EXPECT_FALSE(type(ports(), 0, port_forward, "120 mm below nothing"));
  EXPECT_EQ(session.build(), before);
  EXPECT_EQ(cell(ports(), 0, port_forward), "120 mm below nothing");
  EXPECT_TRUE(error("ports").contains("blower out")) << error("ports").toStdString();
  // Another edit leaves it there.
  EXPECT_TRUE(type(ports(), 1, port_bore, "50"));
  EXPECT_EQ(cell(ports(), 0, port_forward), "120 mm below nothing");
  EXPECT_TRUE(type(ports(), 0, port_forward, "700"));
  EXPECT_EQ(cell(ports(), 0, port_forward), "700");
  EXPECT_TRUE(error("ports").isEmpty());
}

TEST_F(Measures, EscapeBringsBackWhatHolds) {
  EXPECT_FALSE(type(ports(), 0, port_bore, "wide"));
  auto* table = find<QTableView>("ports_table");
  table->setCurrentIndex(ports().model().index(0, port_bore));
  QTest::keyClick(table, Qt::Key_Escape);
  EXPECT_EQ(cell(ports(), 0, port_bore), "73");
  EXPECT_TRUE(error("ports").isEmpty());
}

TEST_F(Measures, ABuildThatWouldBeInvalidIsRefusedAtTheCell) {
  EXPECT_FALSE(type(ports(), 0, port_bore, "80"));
  EXPECT_TRUE(error("ports").contains("bore below the outside diameter")) << error("ports").toStdString();
}

TEST_F(Measures, CellsAreTypedWithTheKeyboard) {
  auto* table = find<QTableView>("ports_table");
  table->setCurrentIndex(ports().model().index(0, port_up));
  QTest::keyClick(table, Qt::Key_Return);
  auto* line = table->findChild<QLineEdit*>("sheet_line");
  ASSERT_NE(line, nullptr);
  EXPECT_FALSE(line->accessibleName().isEmpty());
  line->selectAll();
  QTest::keyClicks(line, "210");
  QTest::keyClick(line, Qt::Key_Return);
  QApplication::processEvents();
  EXPECT_NEAR(port(0).pose->position_m[2], 0.210, 1e-12);
}

TEST_F(Measures, DirectionsAreTypedInWords) {
  EXPECT_EQ(cell(ports(), 0, port_direction), "back");
  EXPECT_TRUE(type(ports(), 0, port_direction, "up and back"));
  EXPECT_NEAR(port(0).pose->direction[2], std::sqrt(0.5), 1e-12);
  EXPECT_EQ(cell(ports(), 0, port_direction), "45° up from back");
  EXPECT_FALSE(type(ports(), 0, port_direction, "sideways"));
}

TEST_F(Measures, APortWithoutAPlaceTakesAWholeOneOnly) {
  build::Port unplaced = port(0);
  unplaced.pose.reset();
  ASSERT_FALSE(session.apply(build::with_port(session.build(), unplaced), "Forget"));
  EXPECT_EQ(cell(ports(), 0, port_forward), "");
  EXPECT_FALSE(type(ports(), 0, port_forward, "300"));
  EXPECT_FALSE(type(ports(), 0, port_direction, "up"));
  EXPECT_TRUE(type(ports(), 0, port_forward, "300 -150 350"));
  expect_place(port(0).pose->position_m, {0.3, -0.15, 0.35});
}

TEST_F(Measures, HowItIsKnownIsSaid) {
  EXPECT_TRUE(type(ports(), 1, port_known, "assumed"));
  EXPECT_FALSE(port(1).survey->measured);
  EXPECT_TRUE(type(ports(), 1, port_tolerance, "1/8 in"));
  EXPECT_NEAR(port(1).survey->tolerance_m, 0.003175, 1e-12);
  EXPECT_TRUE(type(ports(), 1, port_known, "not said"));
  EXPECT_FALSE(port(1).survey);
}

TEST_F(Measures, KeepOutsAreTyped) {
  const int box = row_of<build::Box>(), cylinder = row_of<build::Cylinder>();
  const auto at = static_cast<std::size_t>(box);
  EXPECT_TRUE(type(keep_outs(), box, size, "400 x 200 x 150 mm"));
  expect_place(std::get<build::Box>(keep_out(at).shape).half_size_m, {0.2, 0.1, 0.075});
  EXPECT_EQ(cell(keep_outs(), box, size), "400 × 200 × 150");
  EXPECT_FALSE(type(keep_outs(), box, size, "400 x 0 x 150"));
  EXPECT_TRUE(error("keep_outs").contains("above zero")) << error("keep_outs").toStdString();
  EXPECT_TRUE(type(keep_outs(), box, size, "400 x 200 x 150 mm"));
  EXPECT_TRUE(type(keep_outs(), box, clearance, "5"));
  EXPECT_NEAR(*keep_out(at).clearance_m, 5e-3, 1e-12);
  EXPECT_TRUE(type(keep_outs(), box, clearance, ""));
  EXPECT_FALSE(keep_out(at).clearance_m);
  EXPECT_EQ(cell(keep_outs(), box, clearance), "12"); // as the build says for fixed things
  EXPECT_TRUE(type(keep_outs(), box, class_, "hot"));
  EXPECT_EQ(cell(keep_outs(), box, clearance), "60");
  EXPECT_TRUE(type(keep_outs(), box, states, "engine rocked, wheels left"));
  EXPECT_EQ(keep_out(at).states.size(), 2U);
  EXPECT_FALSE(type(keep_outs(), box, states, "flying"));
  EXPECT_TRUE(error("keep_outs").contains("wheels left")) << error("keep_outs").toStdString();
  EXPECT_TRUE(type(keep_outs(), box, owner, "Front cooler"));
  EXPECT_EQ(keep_out(at).machine->text, "cooler");

  const auto& before = std::get<build::Cylinder>(keep_out(static_cast<std::size_t>(cylinder)).shape);
  const build::Vector way{before.to_m[0] - before.from_m[0], before.to_m[1] - before.from_m[1],
                          before.to_m[2] - before.from_m[2]};
  EXPECT_TRUE(type(keep_outs(), cylinder, forward, "100 mm above blower out"));
  const auto& moved = std::get<build::Cylinder>(keep_out(static_cast<std::size_t>(cylinder)).shape);
  expect_place(moved.to_m, {moved.from_m[0] + way[0], moved.from_m[1] + way[1], moved.from_m[2] + way[2]});
}

TEST_F(Measures, SelectionIsThatOfTheSession) {
  auto* table = find<QTableView>("keep_outs_table");
  table->setCurrentIndex(keep_outs().model().index(1, name));
  EXPECT_EQ(session.selection(), Selection(PickedKeepOut{1}));
  session.select(PickedPort{port(2).id});
  EXPECT_EQ(ports().picked_row(), 2);
  EXPECT_FALSE(keep_outs().picked_row());
  EXPECT_EQ(find<QTabWidget>("measures_pages")->currentIndex(), 0);
  session.select(PickedKeepOut{0});
  EXPECT_EQ(keep_outs().picked_row(), 0);
  EXPECT_FALSE(ports().picked_row());
  EXPECT_EQ(find<QTabWidget>("measures_pages")->currentIndex(), 1);
}

TEST_F(Measures, EachShapeIsAddedInOneStepAndClearOfThePorts) {
  for (const char* action : {"add_box", "add_cylinder", "add_sphere", "add_half_space"}) {
    const std::size_t before = session.build().keep_outs.size();
    find<QAction>(action)->trigger();
    ASSERT_EQ(session.build().keep_outs.size(), before + 1) << action;
    EXPECT_EQ(session.selection(), Selection(PickedKeepOut{before}));
    EXPECT_TRUE(session.undo_text().startsWith("Add ")) << session.undo_text().toStdString();
    EXPECT_TRUE(said.contains("below the ports"));
    for (const build::Port& each : session.build().ports)
      EXPECT_GT(each.pose->position_m[2], height_of(keep_out(before))) << action;
    session.undo();
    EXPECT_EQ(session.build().keep_outs.size(), before);
  }
}

TEST_F(Measures, ButtonsCopyMirrorAndRemove) {
  const int box = row_of<build::Box>();
  const auto at = static_cast<std::size_t>(box);
  const std::size_t count = session.build().keep_outs.size();
  EXPECT_FALSE(find<QPushButton>("remove_keep_out")->isEnabled());
  session.select(PickedKeepOut{at});
  const build::KeepOut original = keep_out(at);
  find<QPushButton>("duplicate_keep_out")->click();
  ASSERT_EQ(session.build().keep_outs.size(), count + 1);
  EXPECT_EQ(keep_out(at + 1).shape, original.shape);
  EXPECT_EQ(session.selection(), Selection(PickedKeepOut{at + 1}));
  find<QPushButton>("remove_keep_out")->click();
  EXPECT_EQ(session.build().keep_outs.size(), count);

  session.select(PickedKeepOut{at});
  auto* plane = find<QLineEdit>("mirror_plane_line");
  plane->selectAll();
  QTest::keyClicks(plane, "100 mm");
  QTest::keyClick(plane, Qt::Key_Return);
  find<QPushButton>("mirror_keep_out")->click();
  ASSERT_EQ(session.build().keep_outs.size(), count + 1);
  const build::Vector centre = std::get<build::Box>(original.shape).centre_m;
  expect_place(std::get<build::Box>(keep_out(at + 1).shape).centre_m,
               {centre[0], 0.2 - centre[1], centre[2]});
  EXPECT_EQ(keep_out(at), original);
}

TEST_F(Measures, TheWholeBayIsMirroredInOneStep) {
  const build::Build before = session.build();
  find<QPushButton>("mirror_bay")->click();
  EXPECT_EQ(session.build(), build::with_bay_mirrored(before, 0));
  EXPECT_TRUE(said.contains("photographs were taken out"));
  session.undo();
  EXPECT_EQ(session.build(), before);
}

TEST_F(Measures, CatchesUpWhenItIsShownAgain) {
  view.hide();
  session.select(PickedKeepOut{0});
  ASSERT_FALSE(session.apply(build::with_keep_out_removed(session.build(), 1), "Remove"));
  view.show();
  EXPECT_EQ(keep_outs().model().rowCount(), static_cast<int>(session.build().keep_outs.size()));
  EXPECT_EQ(keep_outs().picked_row(), 0);
}

TEST_F(Measures, AClickBesideTheRowsPicksNothing) {
  session.select(PickedKeepOut{1});
  find<QTableView>("keep_outs_table")->clearSelection();
  EXPECT_EQ(session.selection(), Selection(std::monostate{}));
}

TEST_F(Measures, EmptyTablesSayWhatToDoNext) {
  session.replace(test::sample_build(), {});
  EXPECT_TRUE(find<QLabel>("keep_outs_empty")->text().contains("Add a box"));
  EXPECT_TRUE(find<QLabel>("photographs_empty")->text().contains("two points"));
  EXPECT_TRUE(find<QLabel>("states_empty")->text().contains("bonnet shut"));
}

TEST_F(Measures, EveryFieldHasANameToBeSpoken) {
  auto* pages = find<QTabWidget>("measures_pages");
  for (int page = 0; page < pages->count(); ++page) {
    pages->setCurrentIndex(page);
    for (const QWidget* widget : view.findChildren<QWidget*>()) {
      if (!widget->isVisibleTo(&view) || (widget->focusPolicy() & Qt::TabFocus) == 0)
        continue;
      const auto* button = qobject_cast<const QAbstractButton*>(widget);
      EXPECT_TRUE(!widget->accessibleName().isEmpty() || (button != nullptr && !button->text().isEmpty()))
          << widget->objectName().toStdString() << " " << widget->metaObject()->className();
    }
  }
}

} // namespace
} // namespace bellmouth::ui
