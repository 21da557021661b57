// SPDX-License-Identifier: GPL-3.0-or-later
#include "parts.hpp"

#include <bellmouth/stock.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>
#include <variant>

namespace bellmouth::list {

double shorter_way_rad(double angle_rad) {
  constexpr double round = 2 * std::numbers::pi;
  constexpr double half = std::numbers::pi, rounding = 1e-12;
  const double turned = std::remainder(angle_rad, round); // -180 to 180 degrees
  return turned <= -half + rounding ? turned + round : turned;
}

const build::StockItem* item_for(const Work& work, const build::Piece& piece) {
  if (piece.stock.text.empty())
    return nullptr;
  const build::StockItem* const item = work.build.find(piece.stock);
  return item != nullptr && stock::serves(*item, piece) ? item : nullptr;
}

bool bought_welded(const Work& work, const build::Piece& piece) {
  if (!std::holds_alternative<build::MitredBend>(piece.shape))
    return false;
  const build::StockItem* const item = item_for(work, piece);
  return item != nullptr && item->kind == build::StockKind::mitred_bend;
}

Air::Air(const Work& work) {
  if (work.flow == nullptr || !work.flow->point.usable() || work.flow->runs.size() != work.runs.size())
    return;
  flow_ = work.flow;
  const auto* const weather = std::get_if<build::Weather>(&work.build.ambient);
  ambient_Pa_ =
      weather != nullptr ? weather->pressure_Pa : build::ambient_air(work.build.ambient).pressure_Pa;
}

std::optional<double> Air::gauge_Pa(std::size_t run, const joint::Joint& joint) const {
  if (flow_ == nullptr)
    return std::nullopt;
  const bool at_outlet =
      joint.kind == joint::Kind::hose ? joint.upstream.flexible : !joint.downstream.row.has_value();
  const auto& row = at_outlet ? joint.upstream.row : joint.downstream.row;
  if (!row)
    return std::nullopt; // port to port
  const flow::PieceFlow& piece = flow_->runs[run].rows[*row];
  return (at_outlet ? piece.outlet : piece.inlet).station.static_pressure_Pa - ambient_Pa_;
}

std::optional<double> Air::gauge_Pa(std::size_t run, std::size_t row) const {
  if (flow_ == nullptr)
    return std::nullopt;
  return flow_->runs[run].rows[row].inlet.station.static_pressure_Pa - ambient_Pa_;
}

std::optional<double> Air::temperature_K(std::size_t run, std::size_t row) const {
  if (flow_ == nullptr)
    return std::nullopt;
  const flow::PieceFlow& piece = flow_->runs[run].rows[row];
  return std::max(piece.inlet.station.total_temperature_K, piece.outlet.station.total_temperature_K);
}

Lists make(const Work& work) {
  assert(work.runs.size() == work.fits.size());
  const trade::Limits limits = build::limits_of(work.build);
  const Air air(work);
  Lists lists;
  list_cuts(work, lists);
  list_bends(work, lists);
  list_wedges(work, limits, lists);
  list_marks(work, lists);
  list_clamps(work, limits, lists);
  list_beads(work, limits, lists);
  list_joints(work, limits, air, lists);
  list_welds(work, air, lists);
  list_reducers(work, lists);
  list_fittings(work, lists);
  list_masses(work, lists);
  return lists;
}

} // namespace bellmouth::list
