// SPDX-License-Identifier: GPL-3.0-or-later
#include "attempt.hpp"

#include "passage.hpp"
#include "surroundings.hpp"

#include <algorithm>

namespace bellmouth::route {
namespace {

/// Whether the run as it is keeps off everything as far as it must.
bool is_clear(const Task& task) {
  return std::ranges::none_of(Surroundings(task).near(task.run),
                              [](const Near& each) { return each.gap.margin_m() < 0; });
}

} // namespace

Attempt attempt(const Task& task, const Trouble& trouble) {
  Attempt result;
  result.run = task.run;
  Lay now = lay(task.build, task.run);
  result.meeting = now.meeting;
  if (!now.meeting)
    return result;
  const std::vector<double> present = present_sizes(task);
  bool inside = true;
  for (std::size_t i = 0; i < present.size(); ++i)
    inside &= holds(task.freedoms[i], present[i]);
  result.stop = Stop::met;
  if (inside && within(*now.meeting, task.wanted) && (!task.wanted.keep_clear || is_clear(task)))
    return result;

  Closing closing(Chain(now.frames.front(), std::move(now.tracks), task.freedoms),
                  *task.build.find(task.run.to)->pose, task.freedoms, present);
  closing.set_planes(host_planes(task, closing));
  Found found = closing.find(trouble.effort);
  result.run = written_into(task, present, closing, found);
  result.meeting = lay(task.build, result.run).meeting;
  if (!within(*result.meeting, task.wanted)) {
    result.stop = Stop::out_of_reach;
    result.binding = bindings(task, closing, found);
  } else if (task.wanted.keep_clear) {
    result = passage(task, trouble, closing, present, found);
    if (result.stop == Stop::met)
      result.binding.clear();
    result.meeting = lay(task.build, result.run).meeting;
  }
  result.evaluations = closing.evaluations();
  return result;
}

} // namespace bellmouth::route
