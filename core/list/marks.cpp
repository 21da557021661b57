// SPDX-License-Identifier: GPL-3.0-or-later
// Clocking marks, and what clocking is counted from.
#include "parts.hpp"

#include <bellmouth/bay.hpp>
#include <bellmouth/bay/vectors.hpp>

#include <variant>

namespace bellmouth::list {
namespace {

/// The clocking of a piece that bends; nothing of others.
std::optional<double> bend_clocking_rad(const build::Shape& shape) {
  return std::visit(
      [](const auto& s) -> std::optional<double> {
        if constexpr (requires { s.radius_m; })
          return s.clocking_rad;
        else
          return std::nullopt;
      },
      shape);
}

Reference::Kind kind_at(const std::optional<build::Pose>& port) {
  if (!port)
    return Reference::Kind::port_unknown;
  const bay::Frame frame = bay::frame_of(*port);
  const bay::Vector& d = frame.direction;
  const bay::Vector up = bay::unit({-d[0] * d[2], -d[1] * d[2], 1 - d[2] * d[2]});
  constexpr double same = 1 - 1e-9; // a port straight up gives no number, which is not the same either
  return bay::dot(up, frame.reference) > same ? Reference::Kind::port_up : Reference::Kind::port_forward;
}

} // namespace

Reference reference_before(const Work& work, const build::Run& run, std::size_t row) {
  while (row-- > 0)
    if (bend_clocking_rad(run.pieces[row].shape))
      return {Reference::Kind::bend, reference(work, run, row)};
  const build::Port* const port = work.build.find(run.from);
  return {kind_at(port != nullptr ? port->pose : std::nullopt), std::nullopt};
}

void list_marks(const Work& work, Lists& lists) {
  for (std::size_t i = 0; i < work.runs.size(); ++i) {
    const build::Run& run = *work.runs[i];
    for (const joint::Joint& joint : work.fits[i].joints) {
      if (!joint.downstream.row)
        continue;
      const build::Piece& piece = run.pieces[*joint.downstream.row];
      const std::optional<double> clocking_rad = bend_clocking_rad(piece.shape);
      if (!clocking_rad)
        continue;
      MarkLine& line = lists.marks.emplace_back();
      line.piece = reference(work, run, *joint.downstream.row);
      line.title = build::title(piece);
      line.reference = reference_before(work, run, *joint.downstream.row);
      if (joint.upstream.row)
        line.before = reference(work, run, *joint.upstream.row);
      line.clocking_rad = shorter_way_rad(*clocking_rad);
      line.before_diameter_m = joint.upstream.outer_diameter_m;
      line.diameter_m = joint.downstream.outer_diameter_m;
      line.round_before_m = line.clocking_rad * line.before_diameter_m / 2;
      line.round_m = line.clocking_rad * line.diameter_m / 2;
    }
  }
}

} // namespace bellmouth::list
