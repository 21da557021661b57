// SPDX-License-Identifier: GPL-3.0-or-later
// The bay seen square on: runs where they lie, ports, keep-outs.
#pragma once

#include "session.hpp"
#include "theme.hpp"

#include <bellmouth/evaluate.hpp>

#include <QFontMetricsF>
#include <QPointF>
#include <QRectF>

#include <optional>
#include <vector>

class QPainter;

namespace bellmouth::ui {

/// From above (x to the right, y up) or from the right-hand side of the vehicle (x to the right, z up).
enum class BaySide { above, side };

/// Which way a pane looks, where in the bay its middle is, and how large.
struct BayPane {
  BaySide side = BaySide::above;
  QRectF box;
  build::Vector middle_m{};
  double scale_px_m = 500;

  [[nodiscard]] QPointF project(const build::Vector& point_m) const;
  [[nodiscard]] QPointF project_direction(const build::Vector& direction) const; ///< y down, not scaled
};

/// The centreline of a placed piece as close points.
struct PlacedPiece {
  PickedPiece picked;
  bool flexible = false;
  double diameter_m = 0;
  std::vector<build::Vector> centreline_m;
};
/// All pieces of the runs whose start is measured.
[[nodiscard]] std::vector<PlacedPiece> placed_pieces(const build::Build& build, const Evaluation& evaluation);

struct BayExtent {
  build::Vector low_m{}, high_m{};
};
/// What holds all ports, pieces and bounded keep-outs; none when no port is measured.
[[nodiscard]] std::optional<BayExtent> bay_extent(const build::Build& build,
                                                  const std::vector<PlacedPiece>& pieces);

/// A name, and the boxes in which it may stand, best first.
struct BayLabel {
  QString text;
  std::vector<QRectF> places;
};
/// A box for each label in turn, within the pane and clear of the boxes before it and of `taken`; null where
/// a label finds no room.
[[nodiscard]] std::vector<QRectF> place_bay_labels(const std::vector<BayLabel>& labels, const QRectF& pane,
                                                   std::vector<QRectF> taken);

struct BayScene {
  const build::Build& build;
  const Evaluation& evaluation;
  const std::vector<PlacedPiece>& pieces;
  const Selection& selection;
  const Theme& colours;
};
void paint_bay(QPainter& painter, const BayScene& scene, const BayPane& pane);
/// The piece at a point of the pane.
[[nodiscard]] std::optional<PickedPiece> piece_at(const std::vector<PlacedPiece>& pieces, const BayPane& pane,
                                                  QPointF point);
/// How each run ends, one line each: "suction ends 12.3 mm and 4.2° off its port".
[[nodiscard]] QStringList meeting_lines(const Evaluation& evaluation);

} // namespace bellmouth::ui
