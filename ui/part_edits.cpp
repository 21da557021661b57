// SPDX-License-Identifier: GPL-3.0-or-later
#include "part_edits.hpp"

#include <bellmouth/stock.hpp>

#include <algorithm>
#include <cassert>
#include <utility>

namespace bellmouth::ui {

build::Build with_machine_replaced(const build::Build& build, build::Machine machine) {
  build::Build next = build;
  const auto found = std::ranges::find(next.machines, machine.id, &build::Machine::id);
  assert(found != next.machines.end());
  for (build::Port& port : next.ports)
    if (port.machine == machine.id)
      port.mounting = machine.mounting;
  *found = std::move(machine);
  return next;
}

build::Build with_piece_doubled(const build::Build& build, const build::PieceRef& ref) {
  const build::Run& run = *build.find(ref.option)->find(ref.run);
  const build::PieceRef copy{ref.option, ref.run, ref.row + build::rows_with_fittings(run, ref.row)};
  const build::Build doubled = build::with_piece_duplicated(build, ref);
  const auto without_bead = [](build::Piece piece, bool build::Beads::*end) {
    std::visit(
        [end]<class S>(S& shape) {
          if constexpr (requires { shape.beads; })
            shape.beads.*end = false;
        },
        piece.shape);
    return piece;
  };
  const build::Build half =
      build::with_piece_replaced(doubled, ref, without_bead(*build::find(doubled, ref), &build::Beads::out));
  return build::with_piece_replaced(half, copy, without_bead(*build::find(half, copy), &build::Beads::in));
}

build::Piece bought_as(const build::Piece& piece, const build::StockItem& item) {
  build::Piece next = stock::piece_of(item);
  assert(next.shape.index() == piece.shape.index());
  next.stock = item.id;
  next.label = piece.label;
  next.lagging = piece.lagging;
  std::visit(
      [&]<class S>(S& shape) {
        const S& old = std::get<S>(piece.shape);
        const bool by_the_metre = item.per == build::Per::metre;
        if constexpr (requires { shape.length_m; }) {
          const bool whole = std::is_same_v<S, build::Cone> || std::is_same_v<S, build::Adapter>;
          if (!item.length_m || by_the_metre || (!whole && old.length_m <= *item.length_m))
            shape.length_m = old.length_m;
        }
        if constexpr (requires { shape.leg_in_m; }) {
          shape.leg_in_m = item.leg_in_m ? std::min(old.leg_in_m, shape.leg_in_m) : old.leg_in_m;
          shape.leg_out_m = item.leg_out_m ? std::min(old.leg_out_m, shape.leg_out_m) : old.leg_out_m;
          shape.clocking_rad = old.clocking_rad;
          // A bend of metal can be cut down; a moulded elbow is what it is.
          if (!build::is_flexible(piece.shape) || !item.angle_rad)
            shape.angle_rad = item.angle_rad ? std::min(old.angle_rad, shape.angle_rad) : old.angle_rad;
          if (!item.radius_m)
            shape.radius_m = old.radius_m;
        }
        if constexpr (requires { shape.joints; })
          shape.joints = old.joints;
        if constexpr (requires { shape.beads; })
          shape.beads = old.beads;
        if constexpr (requires { shape.engagement; })
          shape.engagement = old.engagement;
        if constexpr (requires { shape.lining; })
          shape.lining = old.lining;
        if constexpr (requires { shape.tip; })
          shape.tip = old.tip;
        if constexpr (requires { shape.position_m; }) {
          shape.position_m = old.position_m;
          shape.clocking_rad = old.clocking_rad;
        }
      },
      next.shape);
  return next;
}

} // namespace bellmouth::ui
