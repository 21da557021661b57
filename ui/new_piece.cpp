// SPDX-License-Identifier: GPL-3.0-or-later
#include "new_piece.hpp"

#include <bellmouth/stock.hpp>

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
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
/// Ends this close are one size.
constexpr double same_size_m = 0.5e-3;

/// What a neighbour offers: the outside diameter of its spigot, or of the spigot its hose takes, and the bore
/// there.
struct End {
  double spigot_m;
  double bore_m;
  std::optional<Material> material; ///< of a rigid piece
};

End end_of(const Port& port) {
  return {port.outer_diameter_m, port.bore_m, std::nullopt};
}
End outlet_of(const Piece& piece) {
  if (is_flexible(piece.shape))
    return {bore_out_m(piece.shape), bore_out_m(piece.shape) - 2 * tube_wall_m, std::nullopt};
  return {outer_diameter_out_m(piece.shape), bore_out_m(piece.shape), piece.material};
}
End inlet_of(const Piece& piece) {
  if (is_flexible(piece.shape))
    return {bore_in_m(piece.shape), bore_in_m(piece.shape) - 2 * tube_wall_m, std::nullopt};
  return {outer_diameter_in_m(piece.shape), bore_in_m(piece.shape), piece.material};
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

/// Whether both ends of a piece have the sizes the gap asks for.
bool suits(const Piece& piece, const Gap& gap, bool tapers) {
  const bool hose = is_flexible(piece.shape);
  const double in_m = hose ? bore_in_m(piece.shape) : outer_diameter_in_m(piece.shape);
  const double out_m = hose ? bore_out_m(piece.shape) : outer_diameter_out_m(piece.shape);
  return same_size(in_m, gap.upstream.spigot_m) &&
         same_size(out_m, tapers ? other_size_m(gap) : gap.upstream.spigot_m);
}

std::optional<Piece> from_stock(const Build& build, const Shape& wanted, const Gap& gap, bool tapers) {
  std::optional<Piece> best;
  double best_price = 0;
  for (const StockItem& item : *build.stock) {
    if (item.kind != stock::kind_of(wanted))
      continue;
    const Piece piece = stock::piece_of(item);
    if (piece.shape.index() != wanted.index() || !suits(piece, gap, tapers))
      continue;
    const double price = static_cast<double>(stock::price_of(item, stock::amount_for(item, piece)).minor);
    if (!best || price < best_price) {
      best = piece;
      best_price = price;
    }
  }
  return best;
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
  return piece;
}

std::string_view kind_name(std::size_t shape_index) {
  static const std::array<Shape, shape_count> samples{Tube{},        TubeBend{},   MitredBend{}, Cone{},
                                                      Adapter{},     Hose{},       HumpHose{},   HoseElbow{},
                                                      HoseReducer{}, SensorBoss{}, ValveFlange{}};
  return build::kind_name(samples[shape_index]);
}

} // namespace bellmouth::ui
