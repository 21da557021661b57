// SPDX-License-Identifier: GPL-3.0-or-later
// Where everything of the chain view lies: a pure function of build, evaluation, scale and type.
#pragma once

#include <bellmouth/evaluate.hpp>

#include <QFontMetricsF>
#include <QPointF>
#include <QRectF>
#include <QString>

#include <cstddef>
#include <optional>
#include <vector>

namespace bellmouth::ui {

/// One thing on the path, in the direction of flow.
struct ChainItem {
  enum class Kind { open_inlet, machine, piece, empty_run, demand };
  Kind kind = Kind::machine;
  std::size_t step = 0; ///< index in the build's path; past its end for the demand
  build::MachineId machine{};
  build::RunId run{};
  std::size_t row = 0;
  QRectF body{};        ///< a piece: full length and outside diameter, what covers a spigot included
  double flow_left = 0; ///< what it adds to the centreline
  double flow_right = 0;
  QPointF on_host{}; ///< fittings: where on the host's centreline
  double host_diameter_m = 0;
  QString title{}, size{}; ///< the two lines of its label
  QRectF label{};          ///< where they stand; null when there is no room
  bool flexible = false, fitting = false;
  bool length_changes = false; ///< its right edge can be dragged
};

/// A spigot of a machine, to which a run joins.
struct ChainSpigot {
  QRectF box;
  bool beaded = false, faces_right = true;
};
/// The part of a spigot that a hose covers.
struct ChainCover {
  QRectF spigot;
  QPointF clamp; ///< on the centreline
  double clamp_diameter_m = 0;
  bool held = false; ///< it is a hose joint: a clamp goes on
};

/// A run as a whole, between the ends of the spigots that it joins.
struct ChainRun {
  build::RunId run;
  std::size_t step = 0;
  double left = 0, right = 0;
  QString dimension{}; ///< over its dimension line: name, length, drop; whole, or without drop, or the length
  QRectF dimension_text{}; ///< where that stands
};

/// A place between two rows where a piece can be put.
struct DropSlot {
  build::RunId run;
  std::size_t before_row = 0;
  double x = 0;
  friend bool operator==(const DropSlot&, const DropSlot&) = default;
};

struct ChainLayout {
  std::vector<ChainItem> items;
  std::vector<ChainSpigot> spigots;
  std::vector<ChainCover> covers;
  std::vector<ChainRun> runs;
  std::vector<DropSlot> places;
  double scale_px_m = 0;
  double axis_y = 0;      ///< of the centreline
  double dimension_y = 0; ///< of the dimension lines of runs
  double strip_y = 0;     ///< top of the velocity strip
  double label_y = 0;     ///< top of the labels
  double width = 0, height = 0;

  /// The topmost thing at a point: fittings lie over hoses, hoses over rigid pieces.
  [[nodiscard]] std::optional<std::size_t> item_at(QPointF point) const;
  /// Whether the point is within `reach` of the right edge of an item whose length can be dragged.
  [[nodiscard]] bool on_edge(std::size_t item, QPointF point, double reach) const;
  /// The place nearest to a point; none when the path has no run.
  [[nodiscard]] std::optional<DropSlot> place_at(QPointF point) const;
};

inline constexpr double strip_height_px = 7;

/// Lays the shown option out. `height` is what there is; the drawing is centred in it and may need more.
[[nodiscard]] ChainLayout lay_out_chain(const build::Build& build, const Evaluation& evaluation,
                                        double scale_px_m, double height, const QFontMetricsF& metrics);
/// The scale at which the path is as wide as `width`, within lowest and highest scale.
[[nodiscard]] double fitting_scale_px_m(const build::Build& build, const Evaluation& evaluation,
                                        double width);

inline constexpr double lowest_scale_px_m = 120, highest_scale_px_m = 2400;
/// Short paths are not blown up beyond this.
inline constexpr double highest_fitted_px_m = 1300;

} // namespace bellmouth::ui
