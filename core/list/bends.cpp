// SPDX-License-Identifier: GPL-3.0-or-later
// Mandrel bends, and where the saw goes on them.
#include "parts.hpp"

#include <cmath>
#include <variant>

namespace bellmouth::list {
namespace {

/// Angles and lengths that differ by less are one: no saw cuts so little off.
constexpr double same_angle_rad = 0.5 * std::numbers::pi / 180;
constexpr double same_length_m = 0.25e-3;

OnArc on_arc(const build::TubeBend& bend, double angle_rad) {
  const double half_m = bend.outer_diameter_m / 2;
  return {angle_rad, (bend.radius_m - half_m) * angle_rad, bend.radius_m * angle_rad,
          (bend.radius_m + half_m) * angle_rad};
}

std::optional<BendLine::Cut> in_leg(const std::optional<double>& bought_m, double kept_m) {
  if (!bought_m || *bought_m - kept_m <= same_length_m)
    return std::nullopt;
  BendLine::Cut cut;
  cut.from_arc_m = kept_m;
  return cut;
}

BendLine::Cut in_arc(const OnArc& place) {
  BendLine::Cut cut;
  cut.in_arc = true;
  cut.place = place;
  return cut;
}

/// Whether the legs of an item reach.
bool reach(const std::optional<double>& first_m, const std::optional<double>& second_m, double in_m,
           double out_m) {
  const auto enough = [](const std::optional<double>& stated_m, double wanted_m) {
    return !stated_m || wanted_m <= *stated_m + same_length_m;
  };
  return enough(first_m, in_m) && enough(second_m, out_m);
}

void find_cuts(const build::TubeBend& bend, const build::StockItem& item, BendLine& line) {
  line.stock = item.id;
  line.turned = !reach(item.leg_in_m, item.leg_out_m, bend.leg_in_m, bend.leg_out_m);
  line.cut_in = in_leg(line.turned ? item.leg_out_m : item.leg_in_m, bend.leg_in_m);
  line.cut_out = in_leg(line.turned ? item.leg_in_m : item.leg_out_m, bend.leg_out_m);
  if (!item.angle_rad || *item.angle_rad - bend.angle_rad <= same_angle_rad)
    return;
  // Cut down: the end without a leg lies in the arc.
  (bend.leg_out_m > 0 ? line.cut_in : line.cut_out) = in_arc(line.arc);
}

} // namespace

void list_bends(const Work& work, Lists& lists) {
  for (const build::Run* const run : work.runs)
    for (std::size_t row = 0; row < run->pieces.size(); ++row) {
      const build::Piece& piece = run->pieces[row];
      const auto* const bend = std::get_if<build::TubeBend>(&piece.shape);
      if (bend == nullptr)
        continue;
      BendLine& line = lists.bends.emplace_back();
      line.piece = reference(work, *run, row);
      line.title = build::title(piece);
      line.outer_diameter_m = bend->outer_diameter_m;
      line.radius_m = bend->radius_m;
      line.leg_in_m = bend->leg_in_m;
      line.leg_out_m = bend->leg_out_m;
      line.setback_m = bend->radius_m * std::tan(bend->angle_rad / 2);
      line.arc = on_arc(*bend, bend->angle_rad);
      if (const build::StockItem* const item = item_for(work, piece))
        find_cuts(*bend, *item, line);
    }
}

} // namespace bellmouth::list
