// SPDX-License-Identifier: GPL-3.0-or-later
// What the tests of the view of the bay share.
#pragma once

#include "view_sample.hpp"

#include <QApplication>
#include <QTest>
#include <gtest/gtest.h>

#include <bay_view.hpp>
#include <piece_text.hpp>

namespace bellmouth::ui::test {

/// The full build without what has no bounds: there is ground to click on.
inline build::Build open_build() {
  build::Build build = full_build();
  std::erase_if(build.keep_outs, [](const build::KeepOut& keep_out) {
    return std::holds_alternative<build::HalfSpace>(keep_out.shape);
  });
  return build;
}

/// A bay view of that build, shown.
class Bay : public testing::Test {
protected:
  Session session{open_build()};
  BayView view{session};
  BayCanvas& canvas = view.canvas();

  void SetUp() override { show(view, 1000, 640); }

  [[nodiscard]] QPointF seen(const build::Vector& point_m) const {
    const BayLookout lookout = canvas.lookout();
    return lookout.camera.project(point_m, lookout.viewport).pixel;
  }
  /// The middle of a piece's centreline.
  [[nodiscard]] build::Vector middle_of(const build::RunId& run, std::size_t row) const {
    const RunResult& result = *find_run(session.evaluation(), run);
    const build::Shape& shape = pieces_of(session, run)[row].shape;
    const joint::Row& fit = result.fit.rows[row];
    const bay::Track track = bay::track(shape, fit.cover_in_m, fit.cover_out_m);
    return bay::along(result.frames[row], track, track.length_m() / 2).position_m;
  }
  void click(QPointF point, Qt::MouseButton button = Qt::LeftButton) {
    QTest::mouseMove(&canvas, point.toPoint());
    QTest::mouseClick(&canvas, button, {}, point.toPoint());
  }
  /// Pixels of the picture that differ.
  static int difference(const QImage& a, const QImage& b) {
    int count = 0;
    for (int y = 0; y < a.height(); ++y)
      for (int x = 0; x < a.width(); ++x)
        count += a.pixel(x, y) != b.pixel(x, y);
    return count;
  }
};

} // namespace bellmouth::ui::test
