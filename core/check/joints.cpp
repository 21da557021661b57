// SPDX-License-Identifier: GPL-3.0-or-later
// Whether the ends that meet fit each other.
#include "context.hpp"
#include "words.hpp"

#include <bellmouth/build/fittings.hpp>
#include <bellmouth/joint/pipes.hpp>
#include <bellmouth/joint/statics.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace bellmouth::check {

namespace {

using enum Severity;
using joint::Joint;

std::string words_of(const joint::End& end) {
  using Form = build::Connection::Kind;
  if (end.flexible)
    return "A hose end of " + millimetres(end.bore_m);
  switch (end.connection.kind) {
  case Form::flange:
    return fmt::format("A flange \"{}\"", end.connection.size);
  case Form::thread:
    return fmt::format("A thread \"{}\"", end.connection.size);
  case Form::spigot:
    break;
  }
  return "A rigid end of " + millimetres(end.outer_diameter_m);
}

void check_wrong(Context& c, const RunView& run, const Joint& joint) {
  const auto& a = joint.upstream;
  const auto& b = joint.downstream;
  std::string second = words_of(b);
  second[0] = 'a';
  std::string message;
  std::string_view reason;
  if (a.flexible && b.flexible) {
    message = "Two hose ends meet.";
    reason = "A hose needs a spigot. Put a tube of at least twice the engagement between them.";
  } else if (a.connection == b.connection) {
    message = fmt::format("Rigid ends of {} and {} meet.", millimetres(a.outer_diameter_m),
                          millimetres(b.outer_diameter_m));
    reason = "Only ends of one size can be welded. Put a cone, an adapter or a hose reducer between them.";
  } else {
    message = fmt::format("{} meets {}.", words_of(a), second);
    reason = a.connection.kind == b.connection.kind
                 ? "Both must be of one size, and said in the same words. Put an adapter between them."
                 : "Flange goes on flange, thread in thread, hose on a spigot. Put an adapter between them.";
  }
  c.add_at_joint(Id::wrong_joint, stop, run, joint, std::move(message), std::string(reason));
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

/// Sizes that are told once for each pair of bore and spigot.
class Sizes {
public:
  explicit Sizes(Context& c) : c_(c) {}

  void look_at(const RunView& run, const Joint& joint) {
    const double spigot_m = joint.spigot().outer_diameter_m, bore_m = joint.hose().bore_m;
    const Pair pair{spigot_m, bore_m};
    if (std::ranges::find(seen_, pair) != seen_.end())
      return;
    seen_.push_back(pair);
    const joint::PipeSize* pipe = joint::find_pipe(spigot_m);
    if (pipe != nullptr && !pipe->also_tube)
      c_.add_at_joint(
          Id::pipe_size, note, run, joint,
          fmt::format("A spigot of {} is {} in pipe (DN {}), not tube of that name; the hose on it has {}.",
                      millimetres(spigot_m), pipe->nominal_inch, pipe->nominal_mm, millimetres(bore_m)),
          "Pipe is named by a nominal bore, tube by its outside, hose by its bore. Measure the outside, and "
          "order hose and clamps by that.");
    else if (const double off_m = std::abs(joint.interference_m);
             above(off_m, c_.limits.near_miss_least_m) && below(off_m, c_.limits.near_miss_most_m) &&
             !above(joint.interference_m, c_.limits.tight_caution_m) &&
             !above(-joint.interference_m, c_.limits.loose_caution_m))
      c_.add_at_joint(
          Id::near_miss_size, note, run, joint,
          fmt::format("Hose of {} on a spigot of {}: it goes, but the sizes are easily mistaken.",
                      millimetres(bore_m), millimetres(spigot_m)),
          "Sizes such as 63, 63.5 and 65 mm, or 76 and 76.2 mm, are sold under one name. Read the "
          "figures, not the name, when ordering, and measure what comes.");
  }

private:
  struct Pair {
    double spigot_m, bore_m;
    friend bool operator==(const Pair&, const Pair&) = default;
  };
  Context& c_;
  std::vector<Pair> seen_;
};

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
  const joint::Load load = joint::load(joint, gauge_Pa, c.limits);
  const double force_N = load.parting_force_N;
  c.add_at_joint(
      Id::tube_without_bead, above(force_N, c.limits.bead_stop_force_N) ? stop : caution, run, joint,
      fmt::format("Plain end of {} under {} gauge: {} push the hose off{}.",
                  millimetres(joint.spigot().outer_diameter_m), kilopascals(gauge_Pa), newtons(force_N),
                  load.held_known ? fmt::format("; its clamp holds {} oily and {} dry by estimate",
                                                newtons(load.held_low_N), newtons(load.held_high_N))
                                  : std::string()),
      "A clamp alone slips on a smooth or oily tube. Roll a bead, or weld two low ridges and dress them "
      "smooth, and set "
      "the clamp behind it.");
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

} // namespace

void check_joints(Context& c) {
  Sizes sizes(c);
  for (const auto& run : c.runs) {
    const Joint* before = nullptr;
    for (const auto& joint : run.fit->joints) {
      if (joint.kind == joint::Kind::wrong)
        check_wrong(c, run, joint);
      if (joint.kind == joint::Kind::weld)
        check_weld(c, run, joint);
      if (joint.kind == joint::Kind::hose) {
        check_fit(c, run, joint);
        sizes.look_at(run, joint);
        check_engagement(c, run, joint);
        check_bead(c, run, joint);
      }
      if (const auto row = joint.upstream.row; row && before != nullptr) {
        if (!joint.upstream.flexible)
          check_rigid(c, run, *row, *before, joint);
        else if (before->kind == joint::Kind::hose && joint.kind == joint::Kind::hose)
          check_gap(c, run, *row);
      }
      before = &joint;
    }
  }
}

} // namespace bellmouth::check
