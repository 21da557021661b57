// SPDX-License-Identifier: GPL-3.0-or-later
// The view of the bay in the window: its share of the room, and where its questions lead.
#include "window_fixture.hpp"

#include <QPushButton>
#include <QTabWidget>

#include <bay_view.hpp>
#include <chain_view.hpp>

namespace bellmouth::ui {
namespace {

class BayInWindow : public Window {};

TEST_F(BayInWindow, HasMoreOfTheHeightThanOtherViews) {
  window->resize(1280, 800);
  trigger("show_tab_path");
  QCoreApplication::processEvents();
  const int height_elsewhere = find<QTabWidget>("tabs")->height();
  trigger("show_tab_bay");
  QCoreApplication::processEvents();
  const int height_of_bay = find<QTabWidget>("tabs")->height();
  EXPECT_GT(height_of_bay, height_elsewhere);
  trigger("show_tab_path");
  QCoreApplication::processEvents();
  EXPECT_EQ(find<QTabWidget>("tabs")->height(), height_elsewhere) << "as it was";
}

TEST_F(BayInWindow, CanHaveTheWholeWindow) {
  trigger("bay_alone");
  QCoreApplication::processEvents();
  EXPECT_EQ(find<QTabWidget>("tabs")->currentWidget()->objectName(), "tab_bay");
  EXPECT_FALSE(find<ChainView>("chain_view")->isVisible());
  EXPECT_FALSE(find<QWidget>("inspector")->isVisible());
  EXPECT_TRUE(find<QAction>("bay_alone")->isChecked());
  trigger("bay_alone");
  EXPECT_TRUE(find<ChainView>("chain_view")->isVisible());
  EXPECT_TRUE(find<QWidget>("inspector")->isVisible());
}

TEST_F(BayInWindow, GivesTheRoomBackForOtherViewsAndForEditing) {
  trigger("bay_alone");
  trigger("show_tab_lists");
  EXPECT_TRUE(find<ChainView>("chain_view")->isVisible());
  trigger("bay_alone");
  trigger("edit_piece");
  EXPECT_TRUE(find<QWidget>("inspector")->isVisible());
}

TEST_F(BayInWindow, AsksForMeasuresWhereThereAreNone) {
  session.replace(bellmouth::test::compressor_build(), {});
  trigger("show_tab_bay");
  QCoreApplication::processEvents();
  QTest::mouseClick(find<QPushButton>("measure_ports"), Qt::LeftButton);
  EXPECT_EQ(find<QTabWidget>("tabs")->currentWidget()->objectName(), "tab_measures");
}

} // namespace
} // namespace bellmouth::ui
