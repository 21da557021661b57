// SPDX-License-Identifier: GPL-3.0-or-later
#include "passage.hpp"

#include "surroundings.hpp"

#include <algorithm>
#include <limits>

namespace bellmouth::route {
namespace {

class Passage {
public:
  Passage(const Task& task, const Trouble& trouble, Closing& closing, const std::vector<double>& present)
      : task_(task), trouble_(trouble), closing_(closing), present_(present), surroundings_(task),
        before_(surroundings_.near(task.run)) {}

  /// From a run that meets its port to one that is clear as well, or the nearest to it.
  Attempt find(const Found& first) {
    Attempt best;
    const bool was_clear =
        std::ranges::none_of(before_, [](const Near& each) { return each.gap.margin_m() < 0; });
    for (const bool as_required : {true, false}) {
      as_required_ = as_required;
      for (int way = 0; way < trouble_.ways; ++way) {
        closing_.set_planes(host_planes(task_, closing_));
        Found found = way == 0 ? first : closing_.find_from(way);
        if (follow(std::move(found), best))
          return best;
      }
      if (was_clear)
        break;
    }
    return best;
  }

private:
  const Task& task_;
  const Trouble& trouble_;
  Closing& closing_;
  const std::vector<double>& present_;
  Surroundings surroundings_;
  std::vector<Near> before_;
  bool as_required_ = true; ///< else: no nearer than before will do

  double least_m(const Near& near) const {
    if (!as_required_)
      for (const Near& each : before_)
        if (each.same_pair(near))
          return std::min(near.gap.required_m, each.gap.distance_m);
    return near.gap.required_m;
  }
  double short_m(const Near& near) const { return least_m(near) - near.gap.distance_m; }

  /// One way, until it is clear and comes no cheaper, or leads nowhere; `best` keeps what is least short, and
  /// of what is clear the least change. Whether it holds one that is clear.
  bool follow(Found found, Attempt& best) {
    struct Kept {
      Near near;
      Plane plane;
    };
    constexpr int most_refinings = 4;
    constexpr double worth_while = 1e-4;
    std::vector<Kept> kept;
    double least_cost = std::numeric_limits<double>::infinity();
    int refinings = 0;
    for (int round = 0; round < trouble_.rounds; ++round) {
      build::Run run = written_into(task_, present_, closing_, found);
      if (!found.closed() && best.binding.empty())
        best.binding = bindings(task_, closing_, found);
      if (!within(*lay(task_.build, run).meeting, task_.wanted))
        break;
      const std::vector<Near> near = surroundings_.near(run);
      const std::vector<Near> too_near = those_too_near(near);
      if (too_near.empty()) {
        const bool cheaper = found.cost < (1 - worth_while) * least_cost;
        if (cheaper)
          keep(std::move(run), too_near, best);
        if (!cheaper || kept.empty())
          break;
        least_cost = found.cost;
      } else if (best.stop != Stop::met && less_short(too_near, best)) {
        keep(std::move(run), too_near, best);
      }
      if (best.stop == Stop::met && refinings++ == most_refinings)
        break;
      if (!found.closed() && round > 0)
        break; // the planes cannot all be kept
      for (const Near& each : near) {
        const auto known =
            std::ranges::find_if(kept, [&](const Kept& other) { return each.same_pair(other.near); });
        if (known != kept.end())
          known->plane = plane(found, each);
        else if (short_m(each) > near_enough_m)
          kept.push_back({each, plane(found, each)});
      }
      std::vector<Plane> planes = host_planes(task_, closing_);
      for (const Kept& each : kept)
        planes.push_back(each.plane);
      closing_.set_planes(std::move(planes));
      found = closing_.find({6, 0});
    }
    return best.stop == Stop::met;
  }

  /// What falls short, most first.
  std::vector<Near> those_too_near(const std::vector<Near>& near) const {
    std::vector<Near> found;
    for (const Near& each : near)
      if (short_m(each) > near_enough_m)
        found.push_back(each);
    std::ranges::sort(found, {}, [&](const Near& each) { return -short_m(each); });
    return found;
  }
  static bool less_short(const std::vector<Near>& too_near, const Attempt& best) {
    return best.stop != Stop::not_clear ||
           too_near.front().gap.margin_m() > best.in_the_way.front().margin_m();
  }
  static void keep(build::Run run, const std::vector<Near>& too_near, Attempt& best) {
    best.stop = too_near.empty() ? Stop::met : Stop::not_clear;
    best.run = std::move(run);
    best.in_the_way.clear();
    for (const Near& each : too_near)
      best.in_the_way.push_back(each.gap);
  }

  /// Keeps the nearest point of a row where it is, or further off, as far as it must be.
  Plane plane(const Found& found, const Near& near) {
    const Chain& chain = closing_.chain_at(found);
    const auto* piece = std::get_if<bay::NearPiece>(&near.gap.neighbour);
    const bool own = piece && piece->run == task_.run.id;
    Plane made{std::vector<double>(found.z.size()), least_m(near) + spare_m - near.gap.distance_m};
    for (std::size_t i = 0; i < made.a.size(); ++i) {
      Vector moved = chain.follows(near.gap.row, near.gap.along_m, near.gap.on_piece_m, i);
      if (own)
        moved = plus(moved, -1,
                     chain.follows(piece->row, chain.length_m(piece->row) / 2, near.gap.on_neighbour_m, i));
      made.a[i] = dot(near.away, moved) / closing_.scale(i);
      made.b += made.a[i] * found.z[i];
    }
    return made;
  }

  static constexpr double near_enough_m = 1e-6, spare_m = 2e-6;
};

} // namespace

Attempt passage(const Task& task, const Trouble& trouble, Closing& closing,
                const std::vector<double>& present, const Found& found) {
  return Passage(task, trouble, closing, present).find(found);
}

} // namespace bellmouth::route
