// SPDX-License-Identifier: GPL-3.0-or-later
// The editor of what is picked. Identities of the contract; 2 1/4 in = 57.15 mm by definition of the inch.
#include "editor_fixture.hpp"

#include <QPushButton>
#include <QTableWidget>
#include <QWheelEvent>

#include <fact_list.hpp>
#include <new_piece.hpp>
#include <units.hpp>

namespace bellmouth::ui {
namespace {

class Editor : public test::EditorFixture {};

TEST_F(Editor, ChangesTheBoreOfAHose) {
  pick(0);
  type("piece_bore_line", "2 1/4 in");
  EXPECT_NEAR(std::get<build::Hose>(piece(0).shape).bore_m, 0.05715, 1e-12);
  EXPECT_EQ(session.undo_text(), "Change bore of hose, row 1");
  EXPECT_EQ(find<QLineEdit>("piece_bore_line")->text(), "57.15 mm");
  session.undo();
  EXPECT_EQ(find<QLineEdit>("piece_bore_line")->text(), "63.5 mm");
}

TEST_F(Editor, ChangesTheBoreOfATubeAndKeepsItsWall) {
  pick(1);
  type("piece_bore_line", "70");
  const auto& tube = std::get<build::Tube>(piece(1).shape);
  EXPECT_NEAR(tube.outer_diameter_m, 0.0732, 1e-12);
  EXPECT_NEAR(tube.wall_m, 1.6e-3, 1e-12);
}

TEST_F(Editor, TypingInOneFieldIsOneStep) {
  pick(1);
  for (const char* text : {"410", "420", "430"})
    type("piece_length_line", text);
  session.undo();
  EXPECT_EQ(session.build(), test::sample_build());
  EXPECT_FALSE(session.can_undo());
}

TEST_F(Editor, ComplainsAtTheFieldAndChangesNothing) {
  pick(1);
  type("piece_length_line", "-5 mm");
  EXPECT_EQ(session.build(), test::sample_build());
  auto* edit = find<QuantityEdit>("piece_length");
  EXPECT_FALSE(edit->error().isEmpty());
  EXPECT_TRUE(find<QLabel>("piece_length_error")->isVisible());
  EXPECT_EQ(edit->line()->text(), "-5 mm") << "what was typed is kept to be mended";
}

TEST_F(Editor, BeadsAreSteps) {
  pick(1);
  QTest::mouseClick(find<QCheckBox>("piece_bead_in"), Qt::LeftButton, {}, QPoint(8, 8));
  EXPECT_FALSE(std::get<build::Tube>(piece(1).shape).beads.in);
  session.undo();
  EXPECT_TRUE(find<QCheckBox>("piece_bead_in")->isChecked());
}

TEST_F(Editor, ShowsEveryKindWithoutChangingIt) {
  for (std::size_t shape = 0; shape < shape_count; ++shape) {
    const build::PieceRef at{session.option(), test::first_run(), 2};
    ASSERT_FALSE(session.apply(
        build::with_piece_inserted(session.build(), at, new_piece(shape, session.build(), at)), "Add"));
    pick(2);
    const build::Build before = session.build();
    int fields = 0;
    for (auto* edit : inspector.findChildren<QuantityEdit*>()) {
      if (!edit->isVisible())
        continue;
      ++fields;
      EXPECT_TRUE(edit->value()) << edit->objectName().toStdString();
      QTest::keyClick(edit->line(), Qt::Key_Return);
      EXPECT_TRUE(edit->error().isEmpty()) << edit->error().toStdString();
    }
    EXPECT_GE(fields, 2) << kind_name(shape);
    EXPECT_EQ(session.build(), before) << kind_name(shape);
    session.undo();
  }
}

TEST_F(Editor, EveryFieldOfEveryKindWrites) {
  // One step up in each field changes the build or is refused with a complaint at that field.
  for (std::size_t shape = 0; shape < shape_count; ++shape) {
    const build::PieceRef at{session.option(), test::first_run(), 2};
    ASSERT_FALSE(session.apply(
        build::with_piece_inserted(session.build(), at, new_piece(shape, session.build(), at)), "Add"));
    pick(2);
    for (auto* edit : inspector.findChildren<QuantityEdit*>()) {
      if (!edit->isVisible())
        continue;
      const build::Build before = session.build();
      QTest::keyClick(edit->line(), Qt::Key_Up);
      const bool changed = session.build() != before;
      EXPECT_NE(changed, !edit->error().isEmpty())
          << kind_name(shape) << ", " << edit->objectName().toStdString() << ": "
          << edit->error().toStdString();
      if (changed)
        session.undo();
    }
    session.undo();
  }
}

TEST_F(Editor, ChoosesStock) {
  pick(1);
  auto* stock = find<QComboBox>("piece_stock");
  const int index = stock->findData("tube-76");
  ASSERT_GE(index, 0);
  stock->setCurrentIndex(index);
  emit stock->activated(index);
  EXPECT_EQ(piece(1).stock.text, "tube-76");
  EXPECT_NEAR(std::get<build::Tube>(piece(1).shape).outer_diameter_m, 76e-3, 1e-12);
  EXPECT_NEAR(std::get<build::Tube>(piece(1).shape).length_m, 0.400, 1e-12);
}

TEST_F(Editor, RefusedStockLeavesTheChooserOnWhatIsStored) {
  build::Build short_hose = session.build();
  std::vector<build::StockItem> stock = *short_hose.stock;
  build::StockItem item = *short_hose.find(build::StockId{"hose-63"});
  item.id = {"hose-short"};
  item.length_m = 0.030;
  stock.push_back(item);
  short_hose.stock = std::move(stock);
  ASSERT_FALSE(session.apply(short_hose, "Add stock"));
  pick(0);
  auto* chooser = find<QComboBox>("piece_stock");
  const QString stored = chooser->currentText();
  const int index = chooser->findData("hose-short");
  ASSERT_GE(index, 0);
  chooser->setCurrentIndex(index);
  emit chooser->activated(index);
  EXPECT_EQ(session.build(), short_hose);
  EXPECT_EQ(chooser->currentText(), stored);
  QCoreApplication::processEvents();
  const auto* complaint = find<QLabel>("piece_stock_error");
  EXPECT_FALSE(complaint->text().isEmpty());
  EXPECT_FALSE(complaint->visibleRegion().isEmpty()) << "scrolled to";
}

TEST_F(Editor, WheelOverTheStockChooserChangesNothing) {
  pick(0);
  auto* chooser = find<QComboBox>("piece_stock");
  const build::Build before = session.build();
  QWheelEvent wheel({5, 5}, chooser->mapToGlobal(QPointF(5, 5)), {}, {0, -120}, Qt::NoButton, {},
                    Qt::NoScrollPhase, false);
  QApplication::sendEvent(chooser, &wheel);
  EXPECT_EQ(session.build(), before);
  EXPECT_EQ(chooser->focusPolicy(), Qt::StrongFocus) << "nor does the wheel give it the focus";
}

TEST_F(Editor, SpeaksOfTheBoreThatWasTyped) {
  pick(1);
  const build::Build before = session.build();
  type("piece_bore_line", "-5");
  EXPECT_EQ(find<QuantityEdit>("piece_bore")->error(), "found -5 mm; accepted: more than 0 mm");
  EXPECT_EQ(session.build(), before);
}

TEST_F(Editor, ShowsTheEvaluatedFigures) {
  pick(1);
  const auto* facts = inspector.findChild<QWidget*>("piece_editor")->findChild<FactList*>();
  const auto& row = session.evaluation().runs.front().flow.rows.at(1);
  EXPECT_EQ(facts->value("Velocity"), show_velocity(row.inlet.station.velocity_m_s));
  EXPECT_EQ(facts->value("Cut length"), "400.0 mm");
  const QString before = facts->value("Velocity");
  session.set_engine_speed(50);
  EXPECT_NE(facts->value("Velocity"), before);
}

TEST_F(Editor, ChangesAMachine) {
  session.select(PickedMachine{{"blower"}});
  type("machine_drive_ratio_line", "2.4");
  const auto& blower =
      std::get<machine::DisplacementBlower>(session.build().find(build::MachineId{"blower"})->kind);
  EXPECT_DOUBLE_EQ(blower.drive_ratio, 2.4);
  type("machine_adiabatic_efficiency_line", "");
  EXPECT_FALSE(std::get<machine::DisplacementBlower>(session.build().find(build::MachineId{"blower"})->kind)
                   .adiabatic_efficiency);
}

TEST_F(Editor, ChangesAPort) {
  session.select(PickedMachine{{"blower"}});
  find<QCheckBox>("port_blower_in_measured")->click();
  ASSERT_TRUE(session.build().find(build::PortId{"blower_in"})->pose);
  QTest::qWait(0); // the old fields go
  type("port_blower_in_x_line", "150 mm");
  type("port_blower_in_direction_line", "0 3 4");
  const build::Pose pose = *session.build().find(build::PortId{"blower_in"})->pose;
  EXPECT_DOUBLE_EQ(pose.position_m[0], 0.150);
  EXPECT_NEAR(pose.direction[1], 0.6, 1e-12);
  EXPECT_NEAR(pose.direction[2], 0.8, 1e-12);
  type("port_blower_in_direction_line", "0 0 0");
  EXPECT_FALSE(find<QLabel>("port_blower_in_direction_error")->text().isEmpty());
  EXPECT_EQ(*session.build().find(build::PortId{"blower_in"})->pose, pose);
}

TEST_F(Editor, ChangesTheBuild) {
  type("build_title_line", "Shed build");
  EXPECT_EQ(session.build().title, "Shed build");
  type("build_displacement_line", "1600 cc");
  EXPECT_NEAR(std::get<machine::Engine>(session.build().demand).displacement_m3, 1.6e-3, 1e-12);
  type("build_limit_line", "450");
  ASSERT_TRUE(session.build().budget.limit);
  EXPECT_EQ(session.build().budget.limit->minor, 45000);
  type("build_limit_line", "much");
  EXPECT_FALSE(find<QLabel>("build_limit_error")->text().isEmpty());
}

TEST_F(Editor, ChangesFromWeatherToAltitude) {
  auto* air = find<QComboBox>("build_ambient");
  emit air->activated(1);
  ASSERT_TRUE(std::holds_alternative<build::Altitude>(session.build().ambient));
  QTest::qWait(0);
  type("build_altitude_line", "1500 m");
  EXPECT_DOUBLE_EQ(std::get<build::Altitude>(session.build().ambient).altitude_m, 1500.0);
}

TEST_F(Editor, LagsAPieceAndKeepsWhatWasThere) {
  pick(1);
  EXPECT_FALSE(shown("piece_lagging_thickness"));
  click("piece_lagging");
  ASSERT_TRUE(piece(1).lagging);
  EXPECT_EQ(session.undo_text(), "Change lagging of tube, row 2");
  type("piece_lagging_thickness_line", "10 mm");
  type("piece_lagging_conductivity_line", "0.08 W/(m K)");
  EXPECT_EQ(piece(1).lagging, (build::Lagging{0.010, 0.08}));
  type("piece_lagging_conductivity_line", "0.001");
  EXPECT_FALSE(complaint_of("piece_lagging_conductivity").isEmpty());
  EXPECT_EQ(piece(1).lagging, (build::Lagging{0.010, 0.08}));
  click("piece_lagging");
  EXPECT_FALSE(piece(1).lagging);
  click("piece_lagging");
  EXPECT_EQ(piece(1).lagging, (build::Lagging{0.010, 0.08})) << "comes back as it was";
}

TEST_F(Editor, LagsTheWholeRun) {
  pick(1);
  EXPECT_FALSE(shown("lag_run"));
  click("piece_lagging");
  EXPECT_TRUE(shown("lag_run"));
  click("lag_run");
  for (std::size_t row = 0; row < 3; ++row)
    EXPECT_EQ(piece(row).lagging, piece(1).lagging);
  EXPECT_FALSE(shown("lag_run")) << "all alike";
  click("piece_lagging");
  EXPECT_TRUE(shown("lag_run"));
  click("lag_run");
  for (std::size_t row = 0; row < 3; ++row)
    EXPECT_FALSE(piece(row).lagging);
}

TEST_F(Editor, WhatIsKeptAsideIsThePiecesOwn) {
  pick(0);
  click("piece_lagging");
  type("piece_lagging_thickness_line", "10 mm");
  click("piece_lagging");
  pick(2); // another hose
  click("piece_lagging");
  ASSERT_TRUE(piece(2).lagging);
  EXPECT_NE(piece(2).lagging->thickness_m, 0.010);
}

TEST_F(Editor, ATypedFieldThatLeavesTheScreenChangesNothing) {
  pick(1);
  click("piece_lagging");
  auto* line = find<QLineEdit>("piece_lagging_thickness_line");
  line->setFocus();
  line->selectAll();
  QTest::keyClicks(line, "12");
  session.undo(); // from the menu; the field goes while something is typed in it
  QTest::qWait(0);
  EXPECT_FALSE(piece(1).lagging);
  EXPECT_FALSE(shown("piece_lagging_thickness"));
}

TEST_F(Editor, GivesAHoseALining) {
  pick(0);
  choose("piece_lining", 1);
  EXPECT_EQ(std::get<build::Hose>(piece(0).shape).lining, build::Lining::wire);
  session.undo();
  EXPECT_EQ(find<QComboBox>("piece_lining")->currentIndex(), 0);
}

TEST_F(Editor, GivesASensorATip) {
  const build::PieceRef at{session.option(), test::first_run(), 2};
  ASSERT_FALSE(session.apply(
      build::with_piece_inserted(session.build(), at, new_piece(9, session.build(), at)), "Add"));
  pick(2);
  EXPECT_EQ(inspector.findChild<QWidget*>("piece_lagging"), nullptr) << "fittings are not lagged";
  click("piece_tip");
  type("piece_tip_diameter_line", "6 mm");
  type("piece_tip_depth_line", "20 mm");
  EXPECT_EQ(std::get<build::SensorBoss>(piece(2).shape).tip, (build::Tip{0.006, 0.020}));
  type("piece_tip_depth_line", "90 mm"); // of a bore of 60.3 mm
  EXPECT_FALSE(complaint_of("piece_tip_depth").isEmpty());
  EXPECT_EQ(std::get<build::SensorBoss>(piece(2).shape).tip, (build::Tip{0.006, 0.020}));
}

TEST_F(Editor, WrappedTextHasTheHeightItNeedsAndNoMore) {
  for (const Selection& selection :
       {Selection(PickedPiece{test::first_run(), 1}), Selection(PickedRun{test::first_run()})}) {
    session.select(selection);
    QTest::qWait(20);
    int seen = 0;
    for (const auto* label : inspector.findChildren<QLabel*>()) {
      if (!label->isVisible() || !label->wordWrap() || label->text().isEmpty())
        continue;
      ++seen;
      const QRect needed = label->fontMetrics().boundingRect(QRect(0, 0, label->width(), QWIDGETSIZE_MAX),
                                                             Qt::TextWordWrap, label->text());
      EXPECT_NEAR(label->height(), needed.height(), 2) << label->text().toStdString();
    }
    EXPECT_GT(seen, 4);
  }
}

TEST_F(Editor, StartsInTheTopmostField) {
  inspector.activateWindow();
  inspector.focus_first();
  EXPECT_EQ(inspector.focusWidget(), find<QLineEdit>("build_title_line"));
  pick(1);
  inspector.focus_first();
  EXPECT_EQ(inspector.focusWidget(), find<QLineEdit>("piece_outer_diameter_line"));
}

TEST_F(Editor, GivesTheWholeRunASize) {
  session.select(PickedRun{test::first_run()});
  auto* sizes = find<QTableWidget>("run_sizes");
  ASSERT_EQ(sizes->rowCount(), 3);
  sizes->setCurrentCell(2, 0);
  QTest::mouseClick(find<QPushButton>("take_size"), Qt::LeftButton);
  EXPECT_NEAR(std::get<build::Tube>(piece(1).shape).outer_diameter_m, 76e-3, 1e-12);
  EXPECT_NEAR(std::get<build::Hose>(piece(0).shape).bore_m, 76e-3, 1e-12);
}

} // namespace
} // namespace bellmouth::ui
