// SPDX-License-Identifier: GPL-3.0-or-later
// The fields of ports and keep-outs, of the engine's movement, clearances and states. Closed forms by hand.
#include "editor_fixture.hpp"
#include "support/sample_builds.hpp"

#include <QPushButton>
#include <QTabWidget>
#include <QTableView>

#include <measures_view.hpp>
#include <numbers>
#include <sheet.hpp>

namespace bellmouth::ui::test {
namespace {

constexpr double deg = std::numbers::pi / 180;

class BayEditors : public EditorFixture {
protected:
  BayEditors() : EditorFixture(bellmouth::test::sample_build()) {}
  void pick_keep_out(const char* name) {
    const auto& all = session.build().keep_outs;
    for (std::size_t i = 0; i < all.size(); ++i)
      if (all[i].name == name) {
        session.select(PickedKeepOut{i});
        index = i;
        return;
      }
    ADD_FAILURE() << name;
  }
  [[nodiscard]] const build::KeepOut& keep_out() const { return session.build().keep_outs.at(index); }
  template <class S> [[nodiscard]] const S& shape() const { return std::get<S>(keep_out().shape); }
  std::size_t index = 0;
};

void expect_vector(const build::Vector& got, const build::Vector& wanted) {
  for (std::size_t i = 0; i < 3; ++i)
    EXPECT_NEAR(got[i], wanted[i], 1e-9) << "component " << i;
}

TEST_F(BayEditors, APortIsEditedWhereItIsPicked) {
  session.select(PickedPort{{"blower_out"}});
  type("port_blower_out_place_line", "100 mm ahead of blower in");
  expect_vector(session.build().find(build::PortId{"blower_out"})->pose->position_m, {0.35, 0.25, 0.3});
  type("port_blower_out_direction_line", "30 deg up from forward");
  expect_vector(session.build().find(build::PortId{"blower_out"})->pose->direction,
                {std::cos(30 * deg), 0, 0.5});
  type("port_blower_out_free_straight_line", "50 mm");
  EXPECT_NEAR(session.build().find(build::PortId{"blower_out"})->free_straight_m, 0.05, 1e-12);
  choose("port_blower_out_known", 2);
  type("port_blower_out_tolerance_line", "2");
  type("port_blower_out_survey_note_line", "tape");
  EXPECT_EQ(session.build().find(build::PortId{"blower_out"})->survey, (build::Survey{true, 0.002, "tape"}));
  type("port_blower_out_place_line", "behind nothing");
  EXPECT_FALSE(complaint_of("port_blower_out_place").isEmpty());
}

TEST_F(BayEditors, ABoxIsTurnedAndSized) {
  pick_keep_out("battery");
  EXPECT_EQ(find<QLineEdit>("keep_out_size_x_line")->text(), "240 mm");
  EXPECT_FALSE(shown("keep_out_corner_low")) << "corners are those of a box that is not turned";
  type("keep_out_turned_left_line", "0");
  expect_vector(shape<build::Box>().axes[0], {1, 0, 0});
  type("keep_out_nose_up_line", "90 deg");
  expect_vector(shape<build::Box>().axes[0], {0, 0, 1});
  type("keep_out_size_x_line", "10 in");
  EXPECT_NEAR(shape<build::Box>().half_size_m[0], 0.127, 1e-12);
  EXPECT_FALSE(build::validate(session.build()));
}

TEST_F(BayEditors, ABoxIsTypedByTwoCorners) {
  build::KeepOut box;
  box.name = "ecu";
  box.shape = build::Box{.centre_m = {0, 0, 0}, .half_size_m = {1, 1, 1}};
  ASSERT_FALSE(session.apply(build::with_keep_out_inserted(session.build(), 0, box), "Add"));
  pick_keep_out("ecu");
  ASSERT_TRUE(shown("keep_out_corner_low"));
  type("keep_out_corner_low_line", "100 -50 0");
  type("keep_out_corner_high_line", "400 150 200");
  expect_vector(shape<build::Box>().centre_m, {0.25, 0.05, 0.1});
  expect_vector(shape<build::Box>().half_size_m, {0.15, 0.1, 0.1});
}

TEST_F(BayEditors, OtherShapesHaveTheirFields) {
  pick_keep_out("fan belt");
  type("keep_out_to_line", "100 mm left of here");
  expect_vector(shape<build::Cylinder>().to_m, {0.35, 0.3, 0.1});
  type("keep_out_diameter_line", "4 in");
  EXPECT_NEAR(shape<build::Cylinder>().radius_m, 0.0508, 1e-12);
  pick_keep_out("bonnet");
  type("keep_out_normal_line", "80 deg up from forward");
  expect_vector(shape<build::HalfSpace>().normal, {std::cos(80 * deg), 0, std::sin(80 * deg)});
  pick_keep_out("inner wing");
  EXPECT_EQ(find<QLineEdit>("keep_out_turned_left_line")->text(), "90°");
  find<QCheckBox>("keep_out_mirrored")->click();
  expect_vector(shape<build::Scan>().axes[1], {1, 0, 0});
  type("keep_out_turned_left_line", "0");
  expect_vector(shape<build::Scan>().axes[1], {0, -1, 0});
  choose("keep_out_unit", 0);
  EXPECT_EQ(shape<build::Scan>().unit, mesh::Unit::millimetre);
}

TEST_F(BayEditors, StatesAndOwnersAreChosen) {
  pick_keep_out("battery");
  find<QCheckBox>("keep_out_state_1")->click();
  ASSERT_EQ(keep_out().states.size(), 1U);
  EXPECT_EQ(keep_out().states.front().text, "engine rocked");
  find<QCheckBox>("keep_out_state_1")->click();
  EXPECT_TRUE(keep_out().states.empty());
  choose("keep_out_machine", 3);
  EXPECT_EQ(keep_out().machine->text, "cooler");
  choose("keep_out_class", 2);
  EXPECT_EQ(keep_out().keep_out_class, build::KeepOutClass::hot);
  EXPECT_EQ(session.undo_text(), "Change class of battery");
}

TEST_F(BayEditors, AHoseSaysHowMuchItGives) {
  start_with(sample_build());
  pick(0);
  EXPECT_TRUE(shown("piece_give_hose"));
  find<QCheckBox>("piece_give")->click();
  type("piece_give_angle_line", "3 deg");
  ASSERT_TRUE(piece(0).give);
  EXPECT_NEAR(piece(0).give->angle_rad, 3 * deg, 1e-12);
  find<QCheckBox>("piece_give")->click();
  EXPECT_FALSE(piece(0).give);
}

class Movement : public testing::Test {
protected:
  Session session{sample_build()};
  MeasuresView view{session};

  void SetUp() override {
    view.resize(900, 500);
    view.show();
    view.findChild<QTabWidget*>("measures_pages")->setCurrentIndex(2);
  }
  void type(const char* name, const QString& text) {
    auto* line = view.findChild<QLineEdit*>(name);
    ASSERT_NE(line, nullptr) << name;
    line->selectAll();
    QTest::keyClicks(line, text);
    QTest::keyClick(line, Qt::Key_Return);
  }
  SheetModel& states() { return view.findChild<Sheet*>("states")->model(); }
};

TEST_F(Movement, IsTypedAsAWayAtADistance) {
  EXPECT_FALSE(session.build().movement);
  view.findChild<QCheckBox*>("measures_movement")->click();
  ASSERT_TRUE(session.build().movement);
  EXPECT_NEAR(session.build().movement->roll_rad, 15.0 / 400, 1e-12);
  type("measures_roll_line", "10 mm at 500 mm");
  EXPECT_NEAR(session.build().movement->roll_rad, 0.02, 1e-12);
  type("measures_axis_direction_line", "left");
  EXPECT_EQ(session.build().movement->axis_direction, (build::Vector{0, 1, 0}));
  type("measures_axis_point_line", "0 0 -150");
  EXPECT_NEAR(session.build().movement->axis_point_m[2], -0.15, 1e-12);
  type("measures_shake_line", "3 mm");
  EXPECT_NEAR(session.build().movement->shake_m, 3e-3, 1e-12);
  type("measures_roll_line", "15 mm at 0 mm");
  EXPECT_FALSE(view.findChild<QLabel*>("measures_roll_error")->text().isEmpty());
}

TEST_F(Movement, ClearancesGoBackToTheUsual) {
  type("measures_clearance_hot_line", "50 mm");
  ASSERT_TRUE(session.build().clearances);
  EXPECT_NEAR(session.build().clearances->hot_m, 50e-3, 1e-12);
  EXPECT_EQ(session.build().clearances->fixed_m, build::ClearanceLimits().fixed_m);
  view.findChild<QPushButton*>("usual_clearances")->click();
  EXPECT_FALSE(session.build().clearances);
}

TEST_F(Movement, StatesAreAddedRenamedAndTakenAway) {
  view.findChild<QPushButton*>("add_state")->click();
  view.findChild<QPushButton*>("add_state")->click();
  ASSERT_EQ(session.build().states.size(), 2U);
  EXPECT_EQ(session.build().states[1].roll, 1) << "the engine is rocked in it";
  EXPECT_TRUE(states().setData(states().index(0, 0), "wheels at full lock"));
  EXPECT_EQ(session.build().states[0].id.text, "wheels at full lock");
  EXPECT_FALSE(states().setData(states().index(1, 0), "wheels at full lock"));
  EXPECT_TRUE(states().setData(states().index(0, 1), "-50 %"));
  EXPECT_NEAR(session.build().states[0].roll, -0.5, 1e-12);
  EXPECT_FALSE(states().setData(states().index(0, 1), "300 %"));
  view.findChild<QPushButton*>("remove_state")->click();
  EXPECT_EQ(session.build().states.size(), 1U);
  EXPECT_EQ(session.undo_text().left(12), "Remove state");
}

} // namespace
} // namespace bellmouth::ui::test
