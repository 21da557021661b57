// SPDX-License-Identifier: GPL-3.0-or-later
// Finding routes from the window, with the search of the core. Identities of the contract.
#include "route_sample.hpp"
#include "window_fixture.hpp"

#include <QComboBox>
#include <QPushButton>
#include <QTabWidget>

#include <bay_view.hpp>
#include <piece_text.hpp>
#include <route_list.hpp>
#include <route_panel.hpp>

namespace bellmouth::ui {
namespace {

class RouteWindow : public Window {
protected:
  void open_hatchback() {
    auto build = build::load_build(BELLMOUTH_DEMO_DIR "/1-hill-road-hatchback.json");
    ASSERT_TRUE(build);
    session.replace(*build, {});
  }
  const RouteSearch& search() const { return find<RoutePanel>("route_panel")->search(); }
};

TEST_F(RouteWindow, FindsRoutesAndTakesOneInOneStep) {
  open_hatchback();
  const build::Build before = session.build();
  const build::OptionId option = session.option();
  trigger("show_tab_lists");
  trigger("find_routes");
  EXPECT_EQ(find<QTabWidget>("tabs")->currentWidget()->objectName(), "tab_bay");
  EXPECT_TRUE(find<QWidget>("route_panel")->isVisible());
  ASSERT_TRUE(test::comes_true([&] { return !search().routes().empty(); }));
  find<QPushButton>("route_find")->click();
  ASSERT_TRUE(test::comes_true([&] { return search().state() == RouteSearch::State::ended; }));
  auto* list = find<RouteList>("route_list");
  list->setFocus();
  QTest::keyClick(list, Qt::Key_Home);
  EXPECT_NE(find<BayView>("tab_bay")->canvas().bay().ghost(), nullptr);
  QTest::keyClick(list, Qt::Key_Return);
  ASSERT_NE(session.option(), option);
  const find::Proposal& route = search().routes().front();
  const RunResult* run = find_run(session.evaluation(), search().question()->ask.run);
  ASSERT_NE(run, nullptr);
  ASSERT_TRUE(run->meeting);
  EXPECT_LT(run->meeting->gap_m, 1e-3) << "it meets its port";
  EXPECT_NEAR(run->length_m, route.length_m, 1e-9) << "what was said of it holds in the build";
  EXPECT_NEAR(run->flow.volume_m3, route.volume_m3, 1e-12);
  find<QPushButton>("route_compare")->click();
  EXPECT_EQ(find<QTabWidget>("tabs")->currentWidget()->objectName(), "tab_compare");
  EXPECT_EQ(session.rival(), option);
  trigger("undo");
  EXPECT_EQ(session.build(), before);
}

TEST_F(RouteWindow, SaysWhatIsMissing) {
  trigger("find_routes"); // no port is measured
  EXPECT_TRUE(find<QWidget>("route_error")->isVisible());
  EXPECT_EQ(search().state(), RouteSearch::State::idle);
}

TEST_F(RouteWindow, TakesThePickedRunOrThatOfThePickedPort) {
  open_hatchback();
  const build::Option& option = *session.build().find(session.option());
  const build::Run& second = *option.runs[1];
  session.select(PickedPiece{second.id, 0});
  trigger("find_routes");
  EXPECT_EQ(search().question()->ask.run, second.id);
  const build::Run& third = *option.runs[2];
  session.select(PickedPort{third.to});
  trigger("find_routes");
  EXPECT_EQ(search().question()->ask.run, third.id);
  auto* runs = find<QComboBox>("route_run");
  runs->setCurrentIndex(1);
  emit runs->activated(1);
  EXPECT_EQ(session.selection(), Selection(PickedRun{second.id})) << "what is chosen in the panel is picked";
  trigger("find_routes");
  EXPECT_EQ(search().question()->ask.run, second.id);
}

TEST_F(RouteWindow, GivesThePlaceBackToTheEditor) {
  EXPECT_TRUE(find<QWidget>("inspector")->isVisible());
  trigger("show_routes");
  EXPECT_TRUE(find<QWidget>("route_panel")->isVisible());
  EXPECT_TRUE(find<QAction>("show_routes")->isChecked());
  trigger("edit_build");
  EXPECT_TRUE(find<QWidget>("inspector")->isVisible());
  EXPECT_FALSE(find<QAction>("show_routes")->isChecked());
  trigger("show_routes");
  trigger("bay_alone");
  EXPECT_TRUE(find<QWidget>("route_panel")->isVisible()) << "beside the bay it stays";
  find<QWidget>("route_close")->setFocus();
  QTest::keyClick(find<QWidget>("route_close"), Qt::Key_Space);
  EXPECT_FALSE(find<QWidget>("route_panel")->isVisible());
  EXPECT_FALSE(find<QWidget>("inspector")->isVisible());
  trigger("bay_alone");
  EXPECT_TRUE(find<QWidget>("inspector")->isVisible());
}

} // namespace
} // namespace bellmouth::ui
