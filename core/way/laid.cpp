// SPDX-License-Identifier: GPL-3.0-or-later
#include "laid.hpp"

#include <algorithm>
#include <cassert>

namespace bellmouth::way {
namespace {

class Layer {
public:
  Layer(const Problem& problem, const Way& way) : problem_(problem), way_(way) {
    at_ = {problem.start.position_m, problem.start.direction, problem.reference};
    laid_.stretches.reserve(2 * way.turns.size() + 3);
  }

  Laid lay() && {
    for (std::size_t i = 0; i < way_.straights_m.size(); ++i) {
      lay_straight(i);
      if (i < way_.turns.size())
        lay_turn(i);
    }
    laid_.end = at_;
    return std::move(laid_);
  }

private:
  void lay_straight(std::size_t index) {
    const double whole_m = way_.straights_m[index];
    const double before_m = outer_diameter_m(problem_, way_, index, false);
    if (!way_.reduction || way_.reduction->straight != index || !problem_.reducer)
      return lay_line(2 * index, whole_m, before_m);
    const double behind_m = outer_diameter_m(problem_, way_, index, true);
    const double from_m = way_.reduction->from_m, reducer_m = problem_.reducer->length_m;
    lay_line(2 * index, from_m, before_m);
    lay_line(2 * index, reducer_m, std::max(before_m, behind_m));
    lay_line(2 * index, whole_m - from_m - reducer_m, behind_m);
  }
  void lay_line(std::size_t row, double length_m, double diameter_m) {
    add(row, length_m, diameter_m);
    at_ = bay::advanced(at_, length_m);
  }
  void lay_turn(std::size_t index) {
    const Turn& turn = way_.turns[index];
    assert(turn.bend < problem_.bends.size());
    const double radius_m = problem_.bends[turn.bend].radius_m;
    bay::Stretch& arc =
        add(2 * index + 1, turn.angle_rad * radius_m, outer_diameter_m(problem_, way_, index));
    arc.bend_m = radius_m;
    arc.to_centre = bay::combined(std::cos(turn.clocking_rad), at_.reference, std::sin(turn.clocking_rad),
                                  bay::cross(at_.direction, at_.reference));
    bay::set_bounds(arc);
    at_ = bay::turned(at_, turn.angle_rad, radius_m, turn.clocking_rad);
  }

  bay::Stretch& add(std::size_t row, double length_m, double diameter_m) {
    bay::Stretch& stretch = laid_.stretches.emplace_back();
    stretch.start = at_.position_m;
    stretch.direction = at_.direction;
    stretch.length_m = length_m;
    stretch.radius_in_m = stretch.radius_out_m = 0.5 * diameter_m;
    stretch.along_m = laid_.length_m;
    stretch.row = row;
    bay::set_bounds(stretch);
    laid_.length_m += length_m;
    return stretch;
  }

  const Problem& problem_;
  const Way& way_;
  bay::Frame at_;
  Laid laid_;
};

} // namespace

Laid laid(const Problem& problem, const Way& way) {
  assert(way.straights_m.size() == way.turns.size() + 1);
  assert(!way.reduction || way.reduction->straight < way.straights_m.size());
  return Layer(problem, way).lay();
}

} // namespace bellmouth::way
