// SPDX-License-Identifier: GPL-3.0-or-later
// Text can be read. Contrast after WCAG 2.1, definitions of contrast ratio and relative luminance; the bar
// of 4.5 : 1 is success criterion 1.4.3.
#include <QApplication>
#include <QListView>
#include <QMenu>
#include <QStandardItemModel>
#include <QTreeView>
#include <gtest/gtest.h>

#include <cmath>
#include <theme.hpp>

namespace bellmouth::ui {
namespace {

double luminance(const QColor& colour) {
  const auto linear = [](double share) {
    return share <= 0.03928 ? share / 12.92 : std::pow((share + 0.055) / 1.055, 2.4);
  };
  return 0.2126 * linear(colour.redF()) + 0.7152 * linear(colour.greenF()) + 0.0722 * linear(colour.blueF());
}
double contrast(const QColor& a, const QColor& b) {
  const double high = std::max(luminance(a), luminance(b)), low = std::min(luminance(a), luminance(b));
  return (high + 0.05) / (low + 0.05);
}

TEST(Theme, BlackOnWhiteHasTheGreatestContrast) {
  EXPECT_NEAR(contrast(Qt::black, Qt::white), 21.0, 1e-6); // WCAG 2.1: 1 to 21
}

TEST(Theme, EveryTextRoleIsReadable) {
  for (const Look look : {Look::light, Look::dark}) {
    const Theme& colours = theme(look);
    const std::pair<const char*, QColor> roles[] = {{"text", colours.text},
                                                    {"muted_text", colours.muted_text},
                                                    {"accent", colours.accent},
                                                    {"good", colours.good},
                                                    {"caution", colours.caution},
                                                    {"stop", colours.stop},
                                                    {"pressure", colours.pressure},
                                                    {"velocity", colours.velocity},
                                                    {"temperature", colours.temperature},
                                                    {"rival", colours.rival}};
    for (const auto& [name, colour] : roles)
      for (const QColor& surface : {colours.background, colours.panel})
        EXPECT_GE(contrast(colour, surface), 4.5) << name << " on " << surface.name().toStdString() << ", "
                                                  << (look == Look::light ? "light" : "dark");
    EXPECT_GE(contrast(colours.text, colours.raised), 4.5);
    EXPECT_GE(contrast(colours.text, colours.selected), 4.5);
    EXPECT_GE(contrast(colours.on_accent, colours.accent), 4.5);
    for (const QColor& fill : {colours.rigid, colours.hose, colours.machine, colours.fitting})
      EXPECT_GE(contrast(colours.on_piece, fill), 4.5) << fill.name().toStdString();
  }
}

TEST(Theme, HighlightedTextIsReadable) {
  for (const Look look : {Look::light, Look::dark}) {
    use_look(look);
    const QTreeView rows;
    const QMenu menu;
    for (const QPalette& palette : {QApplication::palette(), rows.palette(), menu.palette()})
      for (const auto group : {QPalette::Active, QPalette::Inactive})
        EXPECT_GE(contrast(palette.color(group, QPalette::HighlightedText),
                           palette.color(group, QPalette::Highlight)),
                  4.5);
  }
  use_look(Look::light);
}

// As drawn, in a view whose look was switched while it was shown.
TEST(Theme, PickedRowIsDrawnReadably) {
  QStandardItemModel model(1, 1);
  model.setItem(0, 0, new QStandardItem(QString(8, QChar(0x2588)))); // full blocks: their whole colour
  QListView rows;
  rows.setModel(&model);
  rows.setCurrentIndex(model.index(0, 0));
  rows.resize(200, 60);
  rows.show();
  for (const Look look : {Look::light, Look::dark}) {
    use_look(look);
    QCoreApplication::processEvents();
    const QImage image = rows.viewport()->grab().toImage();
    const QRect row = rows.visualRect(model.index(0, 0));
    const QColor behind = image.pixelColor(row.right() - 3, row.center().y()),
                 text = image.pixelColor(row.left() + 20, row.center().y());
    EXPECT_GE(contrast(text, behind), 4.5)
        << text.name().toStdString() << " on " << behind.name().toStdString();
  }
  use_look(Look::light);
}

TEST(Theme, FollowsThePalette) {
  use_look(Look::dark);
  EXPECT_EQ(theme().look, Look::dark);
  use_look(Look::light);
  EXPECT_EQ(theme().look, Look::light);
}

TEST(Theme, IconsTakeTheTextColour) {
  for (const Look look : {Look::light, Look::dark}) {
    use_look(look);
    const QImage image = icon("save").pixmap(24, 24).toImage();
    ASSERT_FALSE(image.isNull());
    int opaque = 0;
    for (int y = 0; y < image.height(); ++y)
      for (int x = 0; x < image.width(); ++x)
        if (image.pixelColor(x, y).alpha() == 255) {
          ++opaque;
          EXPECT_EQ(image.pixelColor(x, y).name(), theme().text.name());
        }
    EXPECT_GT(opaque, 10);
  }
  use_look(Look::light);
}

} // namespace
} // namespace bellmouth::ui
