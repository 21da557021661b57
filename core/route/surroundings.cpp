// SPDX-License-Identifier: GPL-3.0-or-later
#include "surroundings.hpp"

#include <algorithm>
#include <cassert>

namespace bellmouth::route {
namespace {

bay::RunRoom room_of(const build::Build& build, const build::Run& run) {
  const Lay lies = lay(build, run);
  return bay::room(build, run, lies.tracks, lies.frames);
}

/// The surfaces' nearest points lie on the line that leads away, unless they touch; at rest the piece's
/// centreline and surface give it even then.
Vector away_from(const bay::Gap& gap, const bay::Room& room, bool at_rest, double shake_m) {
  Vector away = plus(gap.on_piece_m, -1, gap.on_neighbour_m);
  double sign = gap.distance_m + shake_m < 0 ? -1 : 1;
  if (at_rest) {
    const Vector centre = bay::along(room.frame, room.track, gap.along_m).position_m;
    away = plus(centre, -1, gap.on_piece_m);
    sign = gap.distance_m + length(away) < 0 ? -1 : 1;
  }
  const double far = length(away);
  return far > 0 ? times(sign / far, away) : Vector{};
}

} // namespace

Surroundings::Surroundings(const Task& task) : task_(task) {
  const build::Option* const option = task.build.find(task.option);
  assert(option != nullptr);
  for (const auto& run : option->runs) {
    if (run->id == task.run.id)
      at_ = rooms_.size();
    rooms_.push_back(room_of(task.build, *run));
  }
}

std::vector<Near> Surroundings::near(const build::Run& run) {
  rooms_[at_] = room_of(task_.build, run);
  const auto& movement = task_.build.movement;
  std::vector<Near> all;
  for (std::size_t state = 0; state <= task_.build.states.size(); ++state) {
    const bool at_rest = state == 0;
    const auto id = at_rest ? std::nullopt : std::optional(task_.build.states[state - 1].id);
    const bool rolled = !at_rest && movement && task_.build.states[state - 1].roll != 0;
    const bay::RunClearance found = bay::clearances(task_.build, rooms_, id)[at_];
    const auto add = [&](const bay::Gap& gap) {
      Near each{state, gap,
                away_from(gap, rooms_[at_].rows[gap.row], !rolled, rolled ? movement->shake_m : 0)};
      if (std::ranges::none_of(all, [&](const Near& other) { return each.same_pair(other); }))
        all.push_back(std::move(each));
    };
    std::ranges::for_each(found.tight, add);
    for (const auto& gap : found.nearest)
      if (gap)
        add(*gap);
  }
  return all;
}

} // namespace bellmouth::route
