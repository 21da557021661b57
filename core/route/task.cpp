// SPDX-License-Identifier: GPL-3.0-or-later
#include "task.hpp"

#include "sizes.hpp"

#include <bellmouth/joint.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace bellmouth::route {
namespace {

constexpr double turn_rad = 2 * std::numbers::pi;
/// A change below this is none [m or rad].
constexpr double no_change = 1e-9;

/// A size within its limits; a clocking comes round.
double settled(const Freedom& freedom, double present, double change) {
  double size = present + change;
  if (std::abs(change) <= no_change && holds(freedom, present))
    return present;
  if (freedom.what == What::clocking && freedom.high - freedom.low >= turn_rad - 1e-9) {
    while (size > freedom.high)
      size -= turn_rad;
    while (size < freedom.low)
      size += turn_rad;
  }
  return std::clamp(size, freedom.low, freedom.high);
}

} // namespace

Lay lay(const build::Build& build, const build::Run& run) {
  const build::Port* const from = build.find(run.from);
  const build::Port* const to = build.find(run.to);
  assert(from != nullptr && to != nullptr);
  Lay found;
  found.tracks = joint::tracks(run, joint::fit(build, run));
  found.frames = bay::place(from->pose, found.tracks);
  found.meeting = bay::meeting(found.frames, to->pose);
  return found;
}

bool within(const bay::Meeting& meeting, const Wanted& wanted) {
  return meeting.gap_m <= wanted.gap_m && meeting.angle_rad <= wanted.angle_rad;
}

std::vector<double> present_sizes(const Task& task) {
  std::vector<double> sizes;
  for (const Freedom& each : task.freedoms)
    sizes.push_back(*value(task.run.pieces[each.row].shape, each.what));
  return sizes;
}

bool holds(const Freedom& freedom, double size) {
  return size >= freedom.low && size <= freedom.high;
}

std::vector<Plane> host_planes(const Task& task, const Closing& closing) {
  constexpr double clear_m = 1e-6, heavy = 1000;
  std::vector<Plane> planes;
  for (std::size_t row = 0; row < task.run.pieces.size(); ++row) {
    const build::Shape& shape = task.run.pieces[row].shape;
    const double last_m = last_fitting_m(task.run, row);
    if (last_m <= 0 || !value(shape, What::angle))
      continue;
    Plane plane{std::vector<double>(task.freedoms.size()),
                heavy * (last_m + clear_m - build::full_length_m(shape))};
    for (std::size_t i = 0; i < plane.a.size(); ++i)
      if (const Freedom& each = task.freedoms[i]; each.row == row && each.what != What::clocking)
        plane.a[i] = heavy * (each.what == What::angle ? radius_m(shape) : 1.0) / closing.scale(i);
    planes.push_back(std::move(plane));
  }
  return planes;
}

build::Run written_into(const Task& task, const std::vector<double>& present, const Closing& closing,
                        const Found& found) {
  build::Run run = task.run;
  for (std::size_t i = 0; i < task.freedoms.size(); ++i) {
    const Freedom& each = task.freedoms[i];
    build::Shape& shape = run.pieces[each.row].shape;
    shape = with_value(shape, each.what, settled(each, present[i], closing.change(found, i)));
  }
  return run;
}

std::vector<Binding> bindings(const Task& task, Closing& closing, const Found& found) {
  std::vector<Binding> all;
  const std::vector<int> sides = closing.binding(found);
  for (std::size_t i = 0; i < sides.size(); ++i)
    if (sides[i] != 0)
      all.push_back({task.freedoms[i], sides[i] > 0});
  return all;
}

} // namespace bellmouth::route
