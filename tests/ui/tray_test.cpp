// SPDX-License-Identifier: GPL-3.0-or-later
// The tray of kinds: what it carries, what it asks for.
#include "view_sample.hpp"

#include <QAbstractItemModelTester>
#include <QMimeData>
#include <QPainter>
#include <QSignalSpy>
#include <QTest>
#include <gtest/gtest.h>

#include <memory>
#include <new_piece.hpp>
#include <piece_art.hpp>
#include <tray.hpp>

namespace bellmouth::ui {
namespace {

TEST(Tray, ModelKeepsTheRulesOfModels) {
  TrayModel model;
  const QAbstractItemModelTester tester(&model, QAbstractItemModelTester::FailureReportingMode::Fatal);
  EXPECT_EQ(model.rowCount(), static_cast<int>(shape_count));
}

TEST(Tray, EveryKindCarriesItsIndex) {
  TrayModel model;
  for (int row = 0; row < model.rowCount(); ++row) {
    const std::unique_ptr<QMimeData> data(model.mimeData({model.index(row, 0)}));
    EXPECT_EQ(data->data(piece_mime_type).toInt(), row);
    EXPECT_EQ(sample_shape(static_cast<std::size_t>(row)).index(), static_cast<std::size_t>(row));
  }
}

TEST(Tray, EnterAndDoubleClickAskForThePickedKind) {
  Session session(test::full_build());
  Tray tray(session);
  test::show(tray, 200, 600);
  const QSignalSpy spy(&tray, &Tray::add_requested);
  tray.setCurrentIndex(tray.model()->index(5, 0));
  QTest::keyClick(&tray, Qt::Key_Return);
  ASSERT_EQ(spy.count(), 1);
  EXPECT_EQ(spy[0][0].value<std::size_t>(), 5U);
  const QPoint where = tray.visualRect(tray.model()->index(1, 0)).center();
  QTest::mouseClick(tray.viewport(), Qt::LeftButton, {}, where);
  QTest::mouseDClick(tray.viewport(), Qt::LeftButton, {}, where);
  ASSERT_EQ(spy.count(), 2);
  EXPECT_EQ(spy[1][0].value<std::size_t>(), 1U);
}

// Each kind is drawn, inside its box, and unlike every other kind; in both looks.
TEST(PieceArt, KindsCanBeToldApart) {
  for (const Look look : {Look::light, Look::dark}) {
    std::vector<QImage> drawn;
    for (std::size_t kind = 0; kind < shape_count; ++kind) {
      QImage image(104, 76, QImage::Format_ARGB32_Premultiplied);
      image.fill(Qt::transparent);
      QPainter painter(&image);
      draw_sample(painter, kind, QRectF(4, 4, 96, 68), theme(look));
      painter.end();
      for (int x = 0; x < image.width(); ++x)
        for (const int y : {0, image.height() - 1})
          ASSERT_EQ(image.pixelColor(x, y).alpha(), 0) << kind_name(kind) << " leaves its box";
      for (const QImage& other : drawn)
        EXPECT_NE(image, other) << kind_name(kind);
      drawn.push_back(image);
    }
  }
}

} // namespace
} // namespace bellmouth::ui
