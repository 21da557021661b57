// SPDX-License-Identifier: GPL-3.0-or-later
// Whether the joints fit, hold and can be clamped.
#include "context.hpp"
#include "words.hpp"

#include <bellmouth/build/fittings.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>

namespace bellmouth::check {

namespace {

using enum Severity;
using joint::Joint;

void check_wrong(Context& c, const RunView& run, const Joint& joint) {
  const auto& a = joint.upstream;
  const auto& b = joint.downstream;
  if (a.flexible && b.flexible)
    c.add_at_joint(Id::wrong_joint, stop, run, joint, "Two hose ends meet.",
                   "A hose needs a spigot. Put a tube of at least twice the engagement between them.");
  else
    c.add_at_joint(
        Id::wrong_joint, stop, run, joint,
        fmt::format("Rigid ends of {} and {} meet.", millimetres(a.outer_diameter_m),
                    millimetres(b.outer_diameter_m)),
        "Only ends of one size can be welded. Put a cone, an adapter or a hose reducer between them.");
}

void check_weld(Context& c, const RunView& run, const Joint& joint) {
  const auto beaded_piece = [](const joint::End& end) { return end.row && end.beaded; };
  if (beaded_piece(joint.upstream) || beaded_piece(joint.downstream))
    c.add_at_joint(Id::bead_at_weld, note, run, joint, "An end that is welded carries a bead.",
                   "The ends do not lie flush, and the bead is work for nothing. Take it off this end.");
}

void check_fit(Context& c, const RunView& run, const Joint& joint) {
  const double loose_m = -joint.interference_m;
  const auto sizes = [&] {
    return fmt::format("Hose bore {} on a spigot of {}: ", millimetres(joint.hose().bore_m),
                       millimetres(joint.spigot().outer_diameter_m));
  };
  if (above(loose_m, c.limits.loose_caution_m))
    c.add_at_joint(Id::hose_loose, above(loose_m, c.limits.loose_stop_m) ? stop : caution, run, joint,
                   sizes() + millimetres(loose_m) + " loose.",
                   "The clamp folds the hose instead of closing it, and the fold leaks. Neighbouring sizes "
                   "such as 63, 63.5 and 65 mm "
                   "are easily mistaken: take the hose whose bore equals the tube's outside diameter or is "
                   "up to 1 mm smaller.");
  else if (above(-loose_m, c.limits.tight_caution_m))
    c.add_at_joint(
        Id::hose_tight, above(-loose_m, c.limits.tight_stop_m) ? stop : caution, run, joint,
        sizes() + millimetres(-loose_m) + " of stretch.",
        "So much stretch thins the wall and may tear the plies. Take the next larger bore, or a reducer.");
}

void check_engagement(Context& c, const RunView& run, const Joint& joint) {
  const double in_m = joint.engagement_m;
  if (below(in_m, c.limits.engagement_caution_m))
    c.add_at_joint(Id::short_engagement, below(in_m, c.limits.engagement_stop_m) ? stop : caution, run, joint,
                   fmt::format("The spigot goes {} into the hose; {} are wanted, {} are the least.",
                               millimetres(in_m), millimetres(c.limits.engagement_caution_m),
                               millimetres(c.limits.engagement_stop_m)),
                   "Bead, clamp and some 6 mm of hose beyond the clamp need that room. Take a longer hose, "
                   "or cut the tube longer.");
  const auto& spigot = joint.spigot();
  if (above(in_m, spigot.land_m))
    c.add_at_joint(Id::no_straight_end, below(spigot.land_m, c.limits.engagement_stop_m) ? stop : caution,
                   run, joint,
                   fmt::format("The hose covers {} but only {} of the rigid end are straight.",
                               millimetres(in_m), millimetres(spigot.land_m)),
                   "A hose does not seal on an arc or a taper. Leave a straight leg on the bend, or weld a "
                   "short tube to it.");
  const auto& hose = joint.hose();
  const auto& shape = run.shape(*hose.row);
  if (!above(in_m, hose.land_m))
    return;
  if (std::holds_alternative<build::HumpHose>(shape))
    c.add_at_joint(
        Id::tube_in_hump, stop, run, joint,
        fmt::format("The spigot goes {} in, the hump begins after {}.", millimetres(in_m),
                    millimetres(hose.land_m)),
        "A tube end inside the hump chafes it through and takes away its movement. Shorten the engagement.");
  else if (build::angle_rad(shape) > 0)
    c.add_at_joint(
        Id::no_straight_end, caution, run, joint,
        fmt::format("The spigot goes {} in, the hose's leg is {} long.", millimetres(in_m),
                    millimetres(hose.land_m)),
        "The spigot's end lies in the bend, narrows it and cuts the hose. Take an elbow with a longer leg.");
}

void check_bead(Context& c, const RunView& run, const Joint& joint) {
  const double gauge_Pa = c.gauge_Pa(run, joint);
  if (joint.spigot().beaded || !above(gauge_Pa, c.limits.bead_from_gauge_Pa))
    return;
  const double force_N = joint::parting_force_N(gauge_Pa, joint.spigot().outer_diameter_m);
  c.add_at_joint(
      Id::tube_without_bead, above(force_N, c.limits.bead_stop_force_N) ? stop : caution, run, joint,
      fmt::format("Plain end of {} under {} gauge: {} push the hose off.",
                  millimetres(joint.spigot().outer_diameter_m), kilopascals(gauge_Pa), newtons(force_N)),
      "A clamp alone slips on a smooth or oily tube. Roll a bead, or weld two low ridges and dress them "
      "smooth, and set "
      "the clamp behind it.");
}

void check_clamp(Context& c, const RunView& run, const Joint& joint, bool stock_has_clamps) {
  if (joint.clamp == nullptr) {
    if (stock_has_clamps)
      c.add_at_joint(Id::no_clamp, caution, run, joint,
                     fmt::format("No clamp in stock goes round {}.", millimetres(joint.installed_diameter_m)),
                     "The size is the spigot's outside diameter plus twice the hose's wall. Add such a clamp "
                     "to the stock.");
    return;
  }
  const auto& clamp = *joint.clamp;
  if (!clamp.clamp_min_m || !clamp.clamp_max_m || *clamp.clamp_max_m <= *clamp.clamp_min_m)
    return;
  const double share =
      (joint.installed_diameter_m - *clamp.clamp_min_m) / (*clamp.clamp_max_m - *clamp.clamp_min_m);
  if (below(share, c.limits.clamp_span_low) || above(share, c.limits.clamp_span_high))
    c.add_at_joint(Id::clamp_off_middle, note, run, joint,
                   fmt::format("The best clamp in stock, {} to {}, works at {:.0f} % of its range on {}.",
                               millimetres(*clamp.clamp_min_m), millimetres(*clamp.clamp_max_m), 100 * share,
                               millimetres(joint.installed_diameter_m)),
                   "Near the ends of its range a clamp goes oval or runs out of thread. Measure the hose on "
                   "the tube before buying.");
}

/// A hose between two rigid ends: the gap between them.
void check_gap(Context& c, const RunView& run, std::size_t row) {
  const auto& shape = run.shape(row);
  const auto* hump = std::get_if<build::HumpHose>(&shape);
  if (hump == nullptr && !std::holds_alternative<build::Hose>(shape))
    return;
  const double gap_m = run.fit->rows[row].centreline_length_m;
  if (below(gap_m, c.limits.tube_gap_least_m))
    c.add_at_row(
        Id::tube_ends_touch, gap_m <= 0 ? stop : caution, run, row,
        gap_m <= 0 ? fmt::format("The engagements are {} longer together than the hose.", millimetres(-gap_m))
                   : fmt::format("{} between the tube ends.", millimetres(gap_m)),
        "Tubes that touch pass on every shake, chafe, and push the joint open when they get warm. Leave 5 to "
        "12 mm.");
  const double most_m =
      std::min(c.limits.tube_gap_most_m, c.limits.tube_gap_most_bores * build::bore_in_m(shape)) +
      (hump == nullptr ? 0 : hump->hump_length_m);
  if (above(gap_m, most_m))
    c.add_at_row(Id::tube_gap_wide, caution, run, row,
                 fmt::format("{} between the tube ends; {} are the most for this hose.", millimetres(gap_m),
                             millimetres(most_m)),
                 "Unsupported hose swells under pressure, flattens under suction and is a step in the bore. "
                 "Cut the tubes longer.");
}

/// A rigid piece between its joints: hoses from both sides, and what is welded on between them.
void check_rigid(Context& c, const RunView& run, std::size_t row, const Joint& before, const Joint& behind) {
  const double length_m = build::full_length_m(run.shape(row));
  const double covered_in_m = before.kind == joint::Kind::hose ? before.engagement_m : 0;
  const double covered_out_m = behind.kind == joint::Kind::hose ? behind.engagement_m : 0;
  if (above(covered_in_m + covered_out_m, length_m))
    c.add_at_row(Id::no_straight_end, stop, run, row,
                 fmt::format("The hoses cover {} and {} of a piece {} long.", millimetres(covered_in_m),
                             millimetres(covered_out_m), millimetres(length_m)),
                 "The two hoses meet on it. Cut it longer, or use one hose.");
  const double room_m = c.limits.fitting_from_hose_m;
  const double from_m = covered_in_m > 0 ? covered_in_m + room_m : 0;
  const double to_m = covered_out_m > 0 ? length_m - covered_out_m - room_m : length_m;
  for (std::size_t at = row + 1; at < run.rows() && build::is_fitting(run.shape(at)); ++at) {
    const double position_m = build::position_m(run.shape(at));
    if (below(position_m, from_m) || above(position_m, to_m))
      c.add_at_row(Id::fitting_under_hose, stop, run, at,
                   fmt::format("It sits {} along its host, which is free from {} to {}.",
                               millimetres(position_m), millimetres(from_m),
                               millimetres(std::max(to_m, 0.0))),
                   "Weld and clamp need the room. Move it, or put it on another piece.");
  }
}

/// Pressure on the joints and bends of a run: the worst of each.
void check_thrust(Context& c, const RunView& run) {
  if (run.flow == nullptr)
    return;
  const Joint* worst = nullptr;
  double worst_N = c.limits.parting_force_N;
  int count = 0;
  for (const auto& joint : run.fit->joints) {
    if (joint.kind != joint::Kind::hose)
      continue;
    const double force_N = joint::parting_force_N(c.gauge_Pa(run, joint), joint.spigot().outer_diameter_m);
    count += above(force_N, c.limits.parting_force_N) ? 1 : 0;
    if (above(force_N, worst_N)) {
      worst_N = force_N;
      worst = &joint;
    }
  }
  if (worst != nullptr)
    c.add_at_joint(Id::parting_force, caution, run, *worst,
                   fmt::format("{} try to part this joint ({} above {} in this run).", newtons(worst_N),
                               count == 1 ? "1 joint" : fmt::format("{} joints", count),
                               newtons(c.limits.parting_force_N)),
                   "Tie the two tubes together across the hose with tabs and a bar, or bracket both.");
  for (std::size_t row = 0; row < run.rows(); ++row) {
    const double angle_rad = build::angle_rad(run.shape(row));
    if (angle_rad <= 0 || !build::is_rigid(run.shape(row)))
      continue;
    const double gauge_Pa = run.flow->rows[row].inlet.station.static_pressure_Pa - c.ambient_Pa;
    const double thrust_N =
        joint::bend_thrust_N(gauge_Pa, build::outer_diameter_in_m(run.shape(row)), angle_rad);
    if (above(thrust_N, c.limits.bend_thrust_N))
      c.add_at_row(
          Id::bend_thrust, note, run, row,
          fmt::format("{} push this bend outwards at {} gauge.", newtons(thrust_N), kilopascals(gauge_Pa)),
          "Between two hoses nothing holds it. Brace it to the part that its stiffer end belongs to.");
  }
}

} // namespace

void check_joints(Context& c) {
  const bool stock_has_clamps = [&] {
    const auto& stock = *c.facts.build.stock;
    return std::ranges::any_of(stock, [](const auto& item) { return item.kind == build::StockKind::clamp; });
  }();
  for (const auto& run : c.runs) {
    const Joint* before = nullptr;
    for (const auto& joint : run.fit->joints) {
      if (joint.kind == joint::Kind::wrong)
        check_wrong(c, run, joint);
      if (joint.kind == joint::Kind::weld)
        check_weld(c, run, joint);
      if (joint.kind == joint::Kind::hose) {
        check_fit(c, run, joint);
        check_engagement(c, run, joint);
        check_bead(c, run, joint);
        check_clamp(c, run, joint, stock_has_clamps);
      }
      if (const auto row = joint.upstream.row; row && before != nullptr) {
        if (!joint.upstream.flexible)
          check_rigid(c, run, *row, *before, joint);
        else if (before->kind == joint::Kind::hose && joint.kind == joint::Kind::hose)
          check_gap(c, run, *row);
      }
      before = &joint;
    }
    check_thrust(c, run);
  }
}

} // namespace bellmouth::check
