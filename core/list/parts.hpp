// SPDX-License-Identifier: GPL-3.0-or-later
// The parts of make(): each writes its own lists.
#pragma once

#include <bellmouth/build/thresholds.hpp>
#include <bellmouth/list.hpp>

namespace bellmouth::list {

[[nodiscard]] inline build::PieceRef reference(const Work& work, const build::Run& run, std::size_t row) {
  return {work.option.id, run.id, row};
}
/// What the clocking of a row is counted from: the last bend before it, or the port.
[[nodiscard]] Reference reference_before(const Work& work, const build::Run& run, std::size_t row);
/// An angle the shorter way round: above -180 up to 180 degrees.
[[nodiscard]] double shorter_way_rad(double angle_rad);
/// The stock item that a piece is bought as, where it serves the piece; else nullptr.
[[nodiscard]] const build::StockItem* item_for(const Work& work, const build::Piece& piece);
/// A segmented bend that is bought welded.
[[nodiscard]] bool bought_welded(const Work& work, const build::Piece& piece);

/// The air at the joints; nothing without a usable operating point.
class Air {
public:
  explicit Air(const Work& work);
  /// Static gauge pressure in a joint of a run: in the hose, else in the piece behind it or before it.
  [[nodiscard]] std::optional<double> gauge_Pa(std::size_t run, const joint::Joint& joint) const;
  [[nodiscard]] std::optional<double> gauge_Pa(std::size_t run, std::size_t row) const;
  /// Total temperature, the higher of the two ends.
  [[nodiscard]] std::optional<double> temperature_K(std::size_t run, std::size_t row) const;

private:
  const flow::PathFlow* flow_ = nullptr;
  double ambient_Pa_ = 0;
};

void list_cuts(const Work& work, Lists& lists);
void list_bends(const Work& work, Lists& lists);
void list_wedges(const Work& work, const trade::Limits& limits, Lists& lists);
void list_marks(const Work& work, Lists& lists);
void list_clamps(const Work& work, const trade::Limits& limits, Lists& lists);
void list_beads(const Work& work, const trade::Limits& limits, Lists& lists);
void list_joints(const Work& work, const trade::Limits& limits, const Air& air, Lists& lists);
void list_welds(const Work& work, const Air& air, Lists& lists);
void list_reducers(const Work& work, Lists& lists);
void list_fittings(const Work& work, Lists& lists);
void list_masses(const Work& work, Lists& lists);

} // namespace bellmouth::list
