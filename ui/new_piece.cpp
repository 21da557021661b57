// SPDX-License-Identifier: GPL-3.0-or-later
#include "new_piece.hpp"

#include <bellmouth/stock.hpp>

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <optional>
#include <span>
#include <utility>

namespace bellmouth::ui {

namespace {

using namespace build;

// Ordinary sizes of trade practice, used where stock has nothing that meets the neighbours.
constexpr double tube_wall_m = 1.6e-3;
constexpr double hose_wall_m = 5.0e-3;
constexpr double tube_length_m = 0.300;
constexpr double hose_length_m = 0.100;
constexpr double hump_hose_length_m = 0.125;
constexpr double hump_length_m = 0.030;
constexpr double leg_m = 0.075;
constexpr double quarter_turn_rad = std::numbers::pi / 2;
constexpr double valve_bore_m = 0.025;
constexpr const char* boss_thread = "M12x1.5";
/// Rigid ends this close are one size.
constexpr double same_size_m = 0.3e-3;
// A hose goes on a spigot that is up to so much larger than its bore, or so little smaller (trade practice).
constexpr double tightest_m = 1.0e-3;
constexpr double loosest_m = 0.25e-3;

/// What a neighbour offers: the outside diameter of its spigot, or of the spigot its hose takes, and the bore
/// there.
struct End {
  double spigot_m;
  double bore_m;
  bool hose;
  std::optional<Material> material; ///< of a rigid piece
};

End end_of(const Port& port) {
  return {port.outer_diameter_m, port.bore_m, false, std::nullopt};
}
End outlet_of(const Piece& piece) {
  if (is_flexible(piece.shape))
    return {bore_out_m(piece.shape), bore_out_m(piece.shape) - 2 * tube_wall_m, true, std::nullopt};
  return {outer_diameter_out_m(piece.shape), bore_out_m(piece.shape), false, piece.material};
}
End inlet_of(const Piece& piece) {
  if (is_flexible(piece.shape))
    return {bore_in_m(piece.shape), bore_in_m(piece.shape) - 2 * tube_wall_m, true, std::nullopt};
  return {outer_diameter_in_m(piece.shape), bore_in_m(piece.shape), false, piece.material};
}

/// The ends on either side of a gap in a run.
struct Gap {
  End upstream, downstream;
};

Gap gap_before(const Build& build, const Run& run, std::size_t row) {
  const Port* from = build.find(run.from);
  const Port* to = build.find(run.to);
  assert(from != nullptr && to != nullptr);
  Gap gap{end_of(*from), end_of(*to)};
  const auto pieces = std::span(run.pieces);
  const auto not_fitting = [](const Piece& piece) { return !is_fitting(piece.shape); };
  const auto behind = pieces.subspan(std::min(row, pieces.size()));
  const auto ahead = pieces.first(std::min(row, pieces.size()));
  if (const auto found = std::ranges::find_if(behind, not_fitting); found != behind.end())
    gap.downstream = inlet_of(*found);
  if (const auto found = std::find_if(ahead.rbegin(), ahead.rend(), not_fitting); found != ahead.rend())
    gap.upstream = outlet_of(*found);
  return gap;
}

bool same_size(double a_m, double b_m) {
  return std::abs(a_m - b_m) < same_size_m;
}

/// The size a taper ends in: what is downstream, or the next half inch up where both neighbours are alike.
double other_size_m(const Gap& gap) {
  constexpr double half_inch_m = 12.7e-3;
  return same_size(gap.upstream.spigot_m, gap.downstream.spigot_m) ? gap.upstream.spigot_m + half_inch_m
                                                                   : gap.downstream.spigot_m;
}

/// How far an end of a new piece is from the size that its neighbour asks for [m]; nothing when the two do
/// not go together.
std::optional<double> misfit_m(bool new_is_hose, double new_m, bool old_is_hose, double old_m) {
  if (new_is_hose == old_is_hose)
    return same_size(new_m, old_m) ? std::optional(std::abs(new_m - old_m)) : std::nullopt;
  const double interference_m = new_is_hose ? old_m - new_m : new_m - old_m;
  return interference_m >= -loosest_m && interference_m <= tightest_m
             ? std::optional(std::abs(interference_m))
             : std::nullopt;
}

/// The misfit of both ends of a piece in the gap.
std::optional<double> misfit_m(const Piece& piece, const Gap& gap, bool tapers) {
  const bool hose = is_flexible(piece.shape);
  const double in_m = hose ? bore_in_m(piece.shape) : outer_diameter_in_m(piece.shape);
  const double out_m = hose ? bore_out_m(piece.shape) : outer_diameter_out_m(piece.shape);
  const auto in = misfit_m(hose, in_m, gap.upstream.hose, gap.upstream.spigot_m);
  const auto out = tapers ? misfit_m(hose, out_m, gap.downstream.hose, other_size_m(gap))
                          : misfit_m(hose, out_m, gap.upstream.hose, gap.upstream.spigot_m);
  return in && out ? std::optional(*in + *out) : std::nullopt;
}

/// The item that fits best, among equals the cheapest.
std::optional<Piece> from_stock(const Build& build, const Shape& wanted, const Gap& gap, bool tapers) {
  std::optional<Piece> best;
  std::pair<double, std::int64_t> least{};
  for (const StockItem& item : *build.stock) {
    if (item.kind != stock::kind_of(wanted))
      continue;
    const Piece piece = stock::piece_of(item);
    const auto misfit = misfit_m(piece, gap, tapers);
    if (piece.shape.index() != wanted.index() || !misfit)
      continue;
    const std::pair cost{*misfit, stock::price_of(item, stock::amount_for(item, piece)).minor};
    if (!best || cost < least) {
      best = piece;
      least = cost;
    }
  }
  return best;
}

/// A bead wherever a hose may go; a weld to a neighbour wants none.
void bead(Shape& shape, const Gap& gap) {
  std::visit(
      [&](auto& rigid) {
        if constexpr (requires { rigid.beads; })
          rigid.beads = {!gap.upstream.material, !gap.downstream.material};
      },
      shape);
}

double wall_between(const End& end) {
  const double wall_m = 0.5 * (end.spigot_m - end.bore_m);
  // A cast spigot is thicker than any tube; a tube welded or hosed to it need not be.
  return std::clamp(wall_m, 1.0e-3, 3.0e-3);
}

double engagement_m(double bore_m) {
  return std::clamp(0.6 * bore_m, 0.025, 0.040);
}

Shape ordinary(std::size_t shape_index, const Gap& gap) {
  const double size_m = gap.upstream.spigot_m;
  const double next_m = other_size_m(gap);
  const double wall_m = wall_between(gap.upstream);
  const double radius_m = 1.5 * size_m;
  const double cover_in_m = engagement_m(size_m), cover_out_m = engagement_m(next_m);
  const Beads beads{true, true};
  const Engagement engagement{cover_in_m, cover_in_m};
  const std::array<Shape, shape_count> shapes{
      Tube{size_m, wall_m, tube_length_m, beads},
      TubeBend{size_m, wall_m, quarter_turn_rad, radius_m, leg_m, leg_m, 0, beads},
      MitredBend{size_m, wall_m, quarter_turn_rad, radius_m, 3, leg_m, leg_m, 0, beads},
      // 7 degrees to a side: long enough not to stall when it widens.
      Cone{size_m, next_m, wall_m, std::max(0.050, std::abs(next_m - size_m) / (2 * std::tan(0.122))), beads},
      Adapter{size_m, next_m, size_m - 2 * wall_m, next_m - 2 * wall_m, 0.060, beads},
      Hose{size_m, hose_wall_m, hose_length_m, engagement},
      HumpHose{size_m, hose_wall_m, hump_hose_length_m, hump_length_m, size_m + 0.015, engagement},
      HoseElbow{size_m, size_m, hose_wall_m, quarter_turn_rad, radius_m, leg_m, leg_m, 0, false, engagement},
      HoseReducer{size_m, next_m, hose_wall_m, hose_length_m, Engagement{cover_in_m, cover_out_m}},
      SensorBoss{0, 0, boss_thread}, ValveFlange{0, 0, valve_bore_m}};
  return shapes[shape_index];
}

/// Puts a fitting in the middle of the rigid piece it will sit on.
void seat(Shape& fitting, const Run& run, std::size_t row) {
  const auto ahead = std::span(run.pieces).first(std::min(row, run.pieces.size()));
  const auto host =
      std::find_if(ahead.rbegin(), ahead.rend(), [](const Piece& piece) { return !is_fitting(piece.shape); });
  if (host == ahead.rend())
    return;
  const double middle_m = 0.5 * full_length_m(host->shape);
  if (auto* boss = std::get_if<SensorBoss>(&fitting))
    boss->position_m = middle_m;
  if (auto* flange = std::get_if<ValveFlange>(&fitting)) {
    flange->position_m = middle_m;
    flange->bore_m = std::min(valve_bore_m, 0.5 * bore_in_m(host->shape));
  }
}

} // namespace

build::Piece new_piece(std::size_t shape_index, const build::Build& build, const build::PieceRef& before) {
  assert(shape_index < shape_count);
  const Option* option = build.find(before.option);
  const Run* run = option == nullptr ? nullptr : option->find(before.run);
  assert(run != nullptr);
  const Gap gap = gap_before(build, *run, before.row);
  Piece piece{ordinary(shape_index, gap), Material::aluminium, {}, {}};
  const bool tapers = std::holds_alternative<Cone>(piece.shape) ||
                      std::holds_alternative<Adapter>(piece.shape) ||
                      std::holds_alternative<HoseReducer>(piece.shape);
  if (is_fitting(piece.shape)) {
    seat(piece.shape, *run, before.row);
  } else if (auto bought = from_stock(build, piece.shape, gap, tapers)) {
    piece = *std::move(bought);
  } else if (is_flexible(piece.shape)) {
    piece.material = Material::silicone;
  } else {
    piece.material = gap.upstream.material.value_or(Material::aluminium);
  }
  bead(piece.shape, gap);
  return piece;
}

std::string_view kind_name(std::size_t shape_index) {
  static const std::array<Shape, shape_count> samples{Tube{},        TubeBend{},   MitredBend{}, Cone{},
                                                      Adapter{},     Hose{},       HumpHose{},   HoseElbow{},
                                                      HoseReducer{}, SensorBoss{}, ValveFlange{}};
  return build::kind_name(samples[shape_index]);
}

} // namespace bellmouth::ui
