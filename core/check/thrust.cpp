// SPDX-License-Identifier: GPL-3.0-or-later
// What pressure does to joints and bends, and whether they are held.
#include "context.hpp"
#include "words.hpp"

#include <bellmouth/build/vectors.hpp>
#include <bellmouth/joint/hoses.hpp>
#include <bellmouth/joint/statics.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

namespace bellmouth::check {

namespace {

using enum Severity;
using joint::Joint;

/// Whether the estimate of what holds a joint lets it go. Of plain ends that want a bead more is not said.
void check_hold(Context& c, const RunView& run, const Joint& joint, const joint::Load& load) {
  if (!load.held_known || !above(load.parting_force_N, load.held_low_N))
    return;
  const bool over = above(load.parting_force_N, load.held_high_N);
  const bool plain = !joint.spigot().beaded;
  if (!over && plain && above(load.gauge_Pa, c.limits.bead_from_gauge_Pa))
    return;
  c.add_at_joint(
      Id::joint_may_part, over ? stop : caution, run, joint,
      fmt::format("{} at {} gauge try to part it; clamp{} hold {} to {} by estimate.",
                  newtons(load.parting_force_N), kilopascals(load.gauge_Pa),
                  plain ? " and friction" : " and bead", newtons(load.held_low_N), newtons(load.held_high_N)),
      over ? "It blows off however well it is put together. Tie the tubes across the hose, take a "
             "stronger clamp, or weld."
           : "A film of oil, or a hose that has set, is enough for it to blow off. Clean both "
             "with a solvent that leaves nothing, roll a bead, and tie the tubes across the hose.");
}

/// The worst joint of a run that ought to be tied.
void check_parting(Context& c, const RunView& run) {
  const Joint* worst = nullptr;
  joint::Load most;
  int count = 0;
  for (const auto& joint : run.fit->joints) {
    if (joint.kind != joint::Kind::hose)
      continue;
    const auto& hose = run.run->pieces[*joint.hose().row];
    const joint::Load load = joint::load(joint, c.gauge_Pa(run, joint), c.limits,
                                         joint::working_gauge_Pa(hose, c.item(hose), c.limits).value);
    check_hold(c, run, joint, load);
    if (!above(load.parting_force_N, c.limits.parting_force_N) &&
        !above(load.gauge_Pa, c.limits.tie_bar_gauge_Pa))
      continue;
    ++count;
    if (worst == nullptr || above(load.parting_force_N, most.parting_force_N)) {
      worst = &joint;
      most = load;
    }
  }
  if (worst != nullptr)
    c.add_at_joint(Id::parting_force, caution, run, *worst,
                   fmt::format("{} try to part this joint at {} gauge ({} above {} or {} in this run).",
                               newtons(most.parting_force_N), kilopascals(most.gauge_Pa),
                               count == 1 ? "1 joint" : fmt::format("{} joints", count),
                               newtons(c.limits.parting_force_N), kilopascals(c.limits.tie_bar_gauge_Pa)),
                   "Tie the two tubes together across the hose with tabs and a bar, or bracket both.");
}

/// "forward and up": the sides that a direction leans to by more than 20 degrees, the most first.
std::string towards(const build::Vector& force) {
  static constexpr std::array<std::array<std::string_view, 2>, 3> names{
      {{"forward", "back"}, {"left", "right"}, {"up", "down"}}};
  std::array<std::size_t, 3> order{0, 1, 2};
  std::ranges::stable_sort(order, std::greater(), [&](std::size_t axis) { return std::abs(force[axis]); });
  constexpr double leaning = 0.342; // sine of 20 degrees
  const double least_N = leaning * build::length(force);
  std::string text;
  for (const std::size_t axis : order)
    if (text.empty() || std::abs(force[axis]) >= least_N)
      text += (text.empty() ? "" : " and ") + std::string(names[axis][force[axis] < 0 ? 1 : 0]);
  return text;
}

void check_bend(Context& c, const RunView& run, const bay::Room& room, std::size_t row) {
  const auto& shape = run.shape(row);
  const double angle_rad = build::angle_rad(shape);
  if (angle_rad <= 0 || !build::is_rigid(shape))
    return;
  const auto& flow = run.flow->rows[row];
  const bool placed = room.radius_in_m > 0;
  const auto section = [&](const flow::Section& at, double pressed_m, const build::Vector& direction) {
    return joint::CrossSection{.direction = direction,
                               .gauge_Pa = at.station.static_pressure_Pa - c.ambient_Pa,
                               .pressed_diameter_m = pressed_m,
                               .mass_flow_kg_s = at.station.mass_flow_kg_s,
                               .velocity_m_s = at.station.velocity_m_s};
  };
  const build::Vector in = placed ? room.frame.direction : build::Vector{1, 0, 0};
  const build::Vector out = placed ? bay::followed(room.frame, room.track).direction
                                   : build::Vector{std::cos(angle_rad), std::sin(angle_rad), 0};
  const auto inlet = section(flow.inlet, build::outer_diameter_in_m(shape), in);
  if (inlet.gauge_Pa <= 0)
    return;
  const build::Vector force =
      joint::resultant_N(inlet, section(flow.outlet, build::outer_diameter_out_m(shape), out));
  const double thrust_N = build::length(force);
  if (above(thrust_N, c.limits.bend_thrust_N))
    c.add_at_row(
        Id::bend_thrust, note, run, row,
        fmt::format("{} push this bend outwards{} at {} gauge.", newtons(thrust_N),
                    placed ? ", " + towards(force) + "," : "", kilopascals(inlet.gauge_Pa)),
        "Between two hoses nothing holds it. Brace it against that push, to the part that its stiffer "
        "end belongs to.");
}

} // namespace

void check_thrust(Context& c) {
  for (std::size_t i = 0; i < c.runs.size(); ++i) {
    const RunView& run = c.runs[i];
    if (run.flow == nullptr)
      continue;
    check_parting(c, run);
    for (std::size_t row = 0; row < run.rows(); ++row)
      check_bend(c, run, c.facts.rooms[i].rows[row], row);
  }
}

} // namespace bellmouth::check
