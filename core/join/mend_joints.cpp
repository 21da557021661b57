// SPDX-License-Identifier: GPL-3.0-or-later
// Ends that do not fit, and how far spigots go in.
#include "mending.hpp"
#include "seat.hpp"
#include "words.hpp"

#include <bellmouth/joint/statics.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>
#include <ranges>

namespace bellmouth::join {

namespace {

/// The length of tube that a hose sits on, and what stands free of it for the weld behind.
constexpr double free_tube_m = 10e-3;

/// Cuts the tube of a row longer, within its stock.
bool lengthen_tube(Mending& mending, RunWork& work, std::size_t row, double length_m) {
  build::Piece piece = work.run().pieces[row];
  auto* tube = std::get_if<build::Tube>(&piece.shape);
  if (tube == nullptr || !above(length_m, tube->length_m))
    return false;
  const double before_m = tube->length_m;
  tube->length_m = length_m;
  const build::StockItem* item = piece.stock.text.empty() ? nullptr : mending.build.find(piece.stock);
  if (item != nullptr && !stock::serves(*item, piece)) {
    const auto others = stock::choices(mending.build, piece);
    if (others.empty())
      return false;
    piece.stock = others.front()->id;
  }
  std::string step =
      fmt::format("{}: {} long instead of {}", work.name(row), millimetres(length_m), millimetres(before_m));
  work.replace(row, std::move(piece), std::move(step));
  return true;
}

/// Gives the bend under a hose a leg that the hose can sit on, where what it is bought as has one.
bool lengthen_leg(Mending& mending, RunWork& work, std::size_t row, bool at_outlet) {
  build::Piece piece = work.run().pieces[row];
  const double want_m = mending.limits.engagement_caution_m;
  double* leg_m = std::visit(
      [&](auto& shape) -> double* {
        if constexpr (requires {
                        shape.leg_in_m;
                        shape.outer_diameter_m;
                      })
          return at_outlet ? &shape.leg_out_m : &shape.leg_in_m;
        else
          return nullptr;
      },
      piece.shape);
  if (leg_m == nullptr || !below(*leg_m, want_m))
    return false;
  const double before_m = *leg_m;
  *leg_m = want_m;
  const build::StockItem* item = piece.stock.text.empty() ? nullptr : mending.build.find(piece.stock);
  if (item == nullptr || !stock::serves(*item, piece)) {
    const auto others = stock::choices(mending.build, piece);
    if (others.empty())
      return false;
    piece.stock = others.front()->id;
  }
  std::string step = fmt::format("{}: a leg of {} at its {} instead of {}", work.name(row),
                                 millimetres(want_m), at_outlet ? "outlet" : "inlet", millimetres(before_m));
  work.replace(row, std::move(piece), std::move(step));
  return true;
}

/// Welds a short tube to the rigid end that a hose cannot sit on.
bool weld_tube_on(Mending& mending, RunWork& work, std::size_t index) {
  const joint::Joint joint = work.fit().joints[index];
  const joint::End& spigot = joint.spigot();
  if (joint.kind != joint::Kind::hose || !spigot.row)
    return false;
  const build::Piece& old = work.run().pieces[*spigot.row];
  if (!build::is_rigid(old.shape))
    return false;
  const double length_m = mending.limits.engagement_caution_m + free_tube_m;
  const Part* best = nullptr;
  for (const Part& part : mending.shop.tubes()) {
    const auto& tube = std::get<build::Tube>(part.piece.shape);
    const bool same = part.piece.material == old.material &&
                      std::abs(tube.outer_diameter_m - spigot.outer_diameter_m) <= joint::weld_mismatch_m;
    if (!same || below(Shop::longest_m(*part.item), length_m))
      continue;
    const auto wall_off_m = [&](const Part& each) {
      return std::abs(build::wall_m(each.piece.shape) - build::wall_m(old.shape));
    };
    if (best == nullptr || wall_off_m(part) < wall_off_m(*best))
      best = &part;
  }
  if (best == nullptr)
    return false;
  build::Piece piece = best->piece;
  auto& tube = std::get<build::Tube>(piece.shape);
  tube.length_m = length_m;
  (joint.upstream.flexible ? tube.beads.in : tube.beads.out) = spigot.beaded;
  std::string step =
      fmt::format("{}: weld {} to its {}", work.name(*spigot.row), described(mending.build, piece),
                  joint.upstream.flexible ? "inlet" : "outlet");
  const std::size_t at = joint.upstream.flexible ? *spigot.row : *joint.hose().row;
  work.insert_before(at, {std::move(piece)});
  work.say(at, std::move(step));
  work.take_beads_off_welds();
  return true;
}

} // namespace

bool mend_wrong_joint(Mending& mending) {
  RunWork* work = mending.run();
  if (work == nullptr)
    return false;
  const auto joints = mending.joints();
  const auto wrong = std::ranges::find_if(
      joints, [&](std::size_t index) { return work->fit().joints[index].kind == joint::Kind::wrong; });
  if (wrong == joints.end() || !work->put_in(*wrong))
    return false;
  work->set_engagements(Ends::at_new_pieces);
  return true;
}

bool mend_rigid_run(Mending& mending) {
  RunWork* work = mending.run();
  if (work == nullptr)
    return false;
  if (work->put_in_what_is_missing()) // at the ports
    return true;
  const std::size_t joints = work->fit().joints.size();
  for (std::size_t index = 0; index < joints; ++index)
    if (work->part_weld(index))
      return true;
  return false;
}

bool mend_rigid_at_blower(Mending& mending) {
  RunWork* work = mending.run();
  return work != nullptr && !work->fit().joints.empty() && (work->put_in(0) || work->part_weld(0));
}

bool mend_bead_at_weld(Mending& mending) {
  RunWork* work = mending.run();
  if (work == nullptr)
    return false;
  bool any = false;
  for (const std::size_t index : mending.joints())
    any = work->take_bead_off_weld(index) || any;
  return any;
}

bool mend_hose_size(Mending& mending) {
  RunWork* work = mending.run();
  const auto row = mending.row();
  if (work == nullptr || !row || !build::is_flexible(work->shape(*row)) || !work->replace_misfit(*row))
    return false;
  work->set_engagements(Ends::at_new_pieces);
  return true;
}

bool mend_engagement(Mending& mending) {
  RunWork* work = mending.run();
  const auto row = mending.row();
  return work != nullptr && row && build::is_flexible(work->shape(*row)) && work->set_engagement(*row);
}

bool mend_short_end(Mending& mending) {
  RunWork* work = mending.run();
  const auto row = mending.row();
  if (work == nullptr || !row)
    return false;
  const auto joints = mending.joints();
  if (build::is_rigid(work->shape(*row))) { // two hoses meet on it
    double covered_m = free_tube_m;
    for (const std::size_t index : joints)
      covered_m += std::max(work->fit().joints[index].engagement_m, mending.limits.engagement_caution_m);
    return lengthen_tube(mending, *work, *row, covered_m);
  }
  // The hose's joints from the last, so that what is put in moves none that is still to be looked at.
  bool any = false;
  for (const std::size_t index : std::views::reverse(joints)) {
    const joint::Joint& joint = work->fit().joints[index];
    if (joint.kind != joint::Kind::hose || !above(joint.engagement_m, joint.spigot().land_m) ||
        !below(joint.spigot().land_m, mending.limits.engagement_caution_m))
      continue;
    if (const auto spigot = joint.spigot().row)
      any = lengthen_leg(mending, *work, *spigot, !joint.upstream.flexible) ||
            weld_tube_on(mending, *work, index) || any;
  }
  const bool has_new = work->run().pieces.size() > mending.option.find(work->run().id)->pieces.size();
  return (has_new ? work->set_engagements(Ends::at_new_pieces) : work->set_engagement(*row)) || any;
}

bool mend_plain_end(Mending& mending) {
  RunWork* work = mending.run();
  if (work == nullptr)
    return false;
  const std::vector<double> gauge_Pa = mending.gauges_Pa(work->run().id);
  bool any = false;
  for (const std::size_t index : mending.joints())
    if (above(gauge_Pa[index], mending.limits.bead_from_gauge_Pa))
      any = work->roll_bead(index) || any;
  return any;
}

bool mend_hold(Mending& mending) {
  RunWork* work = mending.run();
  bool any = false;
  if (work != nullptr)
    for (const std::size_t index : mending.joints())
      any = work->roll_bead(index) || any;
  return any;
}

bool mend_band_room(Mending& mending) {
  RunWork* work = mending.run();
  const auto row = mending.row();
  if (work == nullptr || !row)
    return false;
  const trade::Limits& limits = mending.limits;
  double want_m = limits.engagement_caution_m;
  for (const std::size_t index : mending.joints()) {
    const joint::Joint& joint = work->fit().joints[index];
    if (joint.kind != joint::Kind::hose || joint.clamp == nullptr)
      continue;
    const double bead_m = joint.spigot().beaded ? limits.bead_from_end_m + limits.bead_width_m / 2
                                                : limits.clamp_from_hose_end_m;
    want_m = std::max(want_m, bead_m + joint.clamp->band_width_m.value_or(limits.clamp_band_m) +
                                  limits.clamp_from_hose_end_m);
  }
  return work->set_engagement(*row, want_m);
}

bool mend_warm_gap(Mending& mending) {
  RunWork* work = mending.run();
  const auto row = mending.row();
  if (work == nullptr || !row)
    return false;
  build::Piece piece = work->run().pieces[*row];
  auto* hose = std::get_if<build::Hose>(&piece.shape);
  if (hose == nullptr)
    return false;
  const double gap_m = hose->length_m - hose->engagement.in_m - hose->engagement.out_m;
  const double wider_m = widest_gap_m(mending.limits, piece.shape) - gap_m;
  const build::StockItem* item = piece.stock.text.empty() ? nullptr : mending.build.find(piece.stock);
  const double longest_m = item != nullptr ? Shop::longest_m(*item) : hose->length_m + wider_m;
  const double longer_m = std::min(wider_m, longest_m - hose->length_m);
  if (!above(wider_m, 0))
    return false;
  // First a longer hose; what it does not give comes off engagements that are longer than wanted.
  double left_m = wider_m - std::max(longer_m, 0.0);
  hose->length_m += std::max(longer_m, 0.0);
  for (double* engagement_m : {&hose->engagement.in_m, &hose->engagement.out_m}) {
    const double off_m = std::clamp(*engagement_m - mending.limits.engagement_caution_m, 0.0, left_m);
    *engagement_m -= off_m;
    left_m -= off_m;
  }
  if (!below(left_m, wider_m))
    return false;
  std::string step = fmt::format("{}: a gap of {} instead of {} between the tubes", work->name(*row),
                                 millimetres(gap_m + wider_m - left_m), millimetres(gap_m));
  work->replace(*row, std::move(piece), std::move(step));
  return true;
}

} // namespace bellmouth::join
