// SPDX-License-Identifier: GPL-3.0-or-later
// Fewer cuts for somewhat more change.
#include "attempt.hpp"
#include "sizes.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>
#include <utility>

namespace bellmouth::route {
namespace {

/// weight x change^2 of one size, as the search weighs it.
double cost(const Task& task, const Freedom& freedom, const build::Run& altered) {
  const auto size = [&](const build::Run& run) {
    return *value(run.pieces[freedom.row].shape, freedom.what);
  };
  double change = size(altered) - size(task.run);
  if (freedom.what == What::clocking)
    change = std::remainder(change, 2 * std::numbers::pi);
  if (is_angle(freedom.what))
    change *= arm_m;
  return freedom.weight * change * change;
}

double cost(const Task& task, const build::Run& altered) {
  double sum = 0;
  for (const Freedom& freedom : task.freedoms)
    sum += cost(task, freedom, altered);
  return sum;
}

} // namespace

Attempt with_few_changes(const Task& task, Attempt found) {
  const double most = few_times * few_times * cost(task, found.run);
  std::vector<Freedom> free = task.freedoms;
  std::erase_if(free, [&](const Freedom& each) { return cost(task, each, found.run) == 0; });
  std::vector<Freedom> needed;
  // What does not lie within its limits cannot stay as it is.
  std::ranges::copy_if(free, std::back_inserter(needed), [&](const Freedom& each) {
    return !holds(each, *value(task.run.pieces[each.row].shape, each.what));
  });
  const Trouble light{.effort = {.starts = 6, .others = 0}, .ways = 2, .rounds = 10};
  for (;;) {
    const Freedom* least = nullptr;
    for (const Freedom& each : free)
      if (std::ranges::find(needed, each) == needed.end() &&
          (least == nullptr || cost(task, each, found.run) < cost(task, *least, found.run)))
        least = &each;
    if (least == nullptr)
      return found;
    const Freedom held = *least;
    std::vector<Freedom> without = free;
    std::erase(without, held);
    Attempt next = attempt({task.build, task.option, task.run, without, task.wanted}, light);
    next.evaluations += found.evaluations;
    if (next.stop == Stop::met && cost(task, next.run) <= most) {
      free = std::move(without);
      found = std::move(next);
    } else {
      found.evaluations = next.evaluations;
      needed.push_back(held);
    }
  }
}

} // namespace bellmouth::route
