// SPDX-License-Identifier: GPL-3.0-or-later
#include "run_edit.hpp"

#include <bellmouth/build/edits.hpp>

#include <algorithm>
#include <cassert>
#include <utility>

namespace bellmouth::build {

namespace {

/// The place of a fitting along its host.
double& position_m(Shape& fitting) {
  if (auto* boss = std::get_if<SensorBoss>(&fitting))
    return boss->position_m;
  return std::get<ValveFlange>(fitting).position_m;
}

std::ptrdiff_t signed_row(std::size_t row) {
  return static_cast<std::ptrdiff_t>(row);
}

} // namespace

Build with_tube_split(const Build& build, const PieceRef& ref, double at_m) {
  return with_run(build, ref.option, ref.run, [&](Run& run) {
    Piece& first = run.pieces[ref.row];
    Piece second = first;
    auto &upstream = std::get<Tube>(first.shape), &downstream = std::get<Tube>(second.shape);
    assert(at_m > 0 && at_m < upstream.length_m);
    downstream.length_m -= at_m;
    downstream.beads.in = false;
    upstream.length_m = at_m;
    upstream.beads.out = false;
    const auto begin = run.pieces.begin() + signed_row(ref.row) + 1;
    const auto end = begin + signed_row(rows_with_fittings(run, ref.row)) - 1;
    const auto cut =
        std::stable_partition(begin, end, [&](Piece& fitting) { return position_m(fitting.shape) <= at_m; });
    for (auto fitting = cut; fitting != end; ++fitting)
      position_m(fitting->shape) -= at_m;
    run.pieces.insert(cut, std::move(second));
  });
}

Shape turned_round(const Shape& shape) {
  return std::visit(
      []<class S>(S s) -> Shape {
        if constexpr (requires { s.outer_diameter_in_m; })
          std::swap(s.outer_diameter_in_m, s.outer_diameter_out_m);
        if constexpr (requires { s.bore_in_m; })
          std::swap(s.bore_in_m, s.bore_out_m);
        if constexpr (requires { s.leg_in_m; })
          std::swap(s.leg_in_m, s.leg_out_m);
        if constexpr (requires { s.beads; })
          std::swap(s.beads.in, s.beads.out);
        if constexpr (requires { s.engagement; })
          std::swap(s.engagement.in_m, s.engagement.out_m);
        if constexpr (requires { s.connection_in; })
          std::swap(s.connection_in, s.connection_out);
        return s;
      },
      shape);
}

bool ends_differ(const Shape& shape) {
  return turned_round(shape) != shape;
}

Build with_piece_turned_round(const Build& build, const PieceRef& ref) {
  return with_run(build, ref.option, ref.run, [&](Run& run) {
    Piece& host = run.pieces[ref.row];
    host.shape = turned_round(host.shape);
    const double length_m = full_length_m(host.shape);
    const std::size_t behind = ref.row + rows_with_fittings(run, ref.row);
    for (std::size_t row = ref.row + 1; row < behind; ++row) {
      double& place_m = position_m(run.pieces[row].shape);
      place_m = length_m - place_m;
    }
  });
}

} // namespace bellmouth::build
