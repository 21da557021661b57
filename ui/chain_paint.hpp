// SPDX-License-Identifier: GPL-3.0-or-later
// Draws a laid-out chain: for the screen, and for whoever wants the same picture on paper.
#pragma once

#include "chain_layout.hpp"
#include "session.hpp"
#include "theme.hpp"

#include <optional>

class QPainter;

namespace bellmouth::ui {

/// What is drawn and what of it is marked.
struct ChainScene {
  const build::Build& build;
  const Evaluation& evaluation;
  const ChainLayout& chain;
  const Selection& selection;
  const Theme& colours;
  bool focused = false;
  std::optional<std::size_t> hovered{};     ///< item
  std::optional<DropSlot> drop{};           ///< where a piece would go
  std::optional<QString> length_read_out{}; ///< beside the selected piece, during a drag
};

/// Draws what meets `clip`, in the coordinates of the layout.
void paint_chain(QPainter& painter, const ChainScene& scene, const QRectF& clip);
/// The key to the velocity strip, right-aligned in a box.
void paint_velocity_key(QPainter& painter, const QRectF& box, const Theme& colours);

/// The item that is selected; none for a run or nothing.
[[nodiscard]] std::optional<std::size_t> selected_item(const ChainLayout& chain, const Selection& selection);
[[nodiscard]] std::optional<Selection> selection_of(const ChainItem& item);

} // namespace bellmouth::ui
