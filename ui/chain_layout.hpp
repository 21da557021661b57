// SPDX-License-Identifier: GPL-3.0-or-later
// Where everything of the chain view lies: a pure function of build, evaluation and scale.
#pragma once

#include <bellmouth/evaluate.hpp>

#include <QPointF>
#include <QRectF>

#include <cstddef>
#include <optional>
#include <variant>
#include <vector>

namespace bellmouth::ui {

/// One thing on the path: a machine, a row of a run, or the empty place of a run without pieces.
struct ChainItem {
  enum class Kind { machine, piece, empty_run, engine, inlet };
  Kind kind = Kind::machine;
  std::size_t step = 0; ///< index in the build's path; past its end for the engine
  std::optional<build::MachineId> machine;
  std::optional<build::RunId> run;
  std::size_t row = 0;
  QRectF body;                   ///< full length and outside diameter; of a hose the covers included
  QRectF label;                  ///< where its text may stand
  QPointF centre_in, centre_out; ///< centreline at its ends, covers included
};

/// A run as a whole: from port to port.
struct ChainRun {
  build::RunId run;
  std::size_t step = 0;
  double left = 0, right = 0;
  std::size_t first_item = 0, items = 0; ///< its pieces in ChainLayout::items
};

/// A place between two rows where a piece can be dropped.
struct DropSlot {
  build::RunId run;
  std::size_t before_row = 0;
  double x = 0;
  friend bool operator==(const DropSlot&, const DropSlot&) = default;
};

struct ChainLayout {
  std::vector<ChainItem> items; ///< in the direction of flow
  std::vector<ChainRun> runs;
  std::vector<DropSlot> slots_;
  double scale_px_m = 0;
  double axis_y = 0; ///< of the centreline
  double width = 0, height = 0;

  /// The topmost item at a point: fittings before hoses before rigid pieces.
  [[nodiscard]] std::optional<std::size_t> item_at(QPointF point) const;
  /// The straight tube or hose whose right edge is within `reach` of the point.
  [[nodiscard]] std::optional<std::size_t> edge_at(QPointF point, double reach) const;
  [[nodiscard]] std::optional<DropSlot> slot_at(QPointF point) const;
};
} // namespace bellmouth::ui
