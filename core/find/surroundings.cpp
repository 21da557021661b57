// SPDX-License-Identifier: GPL-3.0-or-later
// What a way has to stay clear of, in all states of the bay at once.
//
// The way is taken to be at rest. What the engine's movement brings nearer is added to the clearance: how far
// the ports move against the thing, by the share of the movement in which the run does not follow it. Between
// engine and body that share is taken to change evenly with the distances to both ports, and a quarter of
// the movement is added on top. It is an estimate; what a proposal comes to in each state is worked out
// exactly afterwards.
#include "setting.hpp"

#include <bellmouth/bay/names.hpp>
#include <bellmouth/bay/solids.hpp>
#include <bellmouth/bay/vectors.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace bellmouth::find {
namespace {

using bay::length, bay::minus, bay::plus, bay::times;
using build::Vector;

/// How far a chord may leave its arc; pipes are so much wider.
constexpr double sagitta_m = 0.1e-3;

double share_of(build::Mounting mounting) {
  return mounting == build::Mounting::engine ? 1 : 0;
}
double tolerance_m(const std::optional<build::Survey>& survey) {
  return survey ? survey->tolerance_m : 0;
}
double distance_m(const build::KeepOut& keep_out, const Vector& point) {
  return std::visit(
      [&](const auto& shape) {
        if constexpr (std::is_same_v<std::decay_t<decltype(shape)>, build::Scan>) {
          const mesh::Placement placement = shape.placement();
          return shape.loaded->tree.nearest(placement.to_file(point)).distance * placement.scale;
        } else {
          return bay::distance_m(shape, point);
        }
      },
      keep_out.shape);
}

double distance_m(const way::KeepOut& keep_out, const Vector& point) {
  return std::visit(
      [&](const auto& shape) {
        using Shape = std::decay_t<decltype(shape)>;
        if constexpr (std::is_same_v<Shape, way::Surface>)
          return shape.scan->tree.nearest(shape.placement.to_file(point)).distance * shape.placement.scale;
        else if constexpr (std::is_same_v<Shape, way::Pipe>) {
          const Vector way = minus(shape.to_m, shape.from_m);
          const double whole_m = length(way);
          const Vector direction = whole_m > 0 ? times(1 / whole_m, way) : Vector{1, 0, 0};
          return bay::PulledBall(shape.from_m, direction, whole_m, shape.radius_from_m, shape.radius_to_m)
              .distance(point);
        } else
          return bay::distance_m(shape, point);
      },
      keep_out.shape);
}

/// A straight part of a piece's room, with where it is on its run's centreline.
struct Part {
  way::Pipe pipe;
  double from_m = 0, to_m = 0;
};

/// The room of a row as straight parts; `at_m` is where its track starts on the run.
void add_parts(std::vector<Part>& parts, const bay::Room& room, double at_m) {
  if (room.radius_in_m <= 0 && room.radius_out_m <= 0)
    return;
  const bay::Track& track = room.track;
  const double whole_m = std::max(track.length_m(), 1e-9);
  std::vector<double> cuts{-room.cover_in_m, std::max(track.straight_in_m, 0.0)};
  double widen_m = 0;
  if (track.radius_m > 0 && track.angle_rad > 0) {
    const double step = 2 * std::acos(1 - sagitta_m / std::max(track.radius_m, 2 * sagitta_m));
    const auto chords = static_cast<int>(std::ceil(track.angle_rad / step));
    for (int i = 1; i <= chords; ++i)
      cuts.push_back(track.straight_in_m + track.radius_m * track.angle_rad * i / chords);
    widen_m = sagitta_m;
  }
  cuts.push_back(track.length_m() + room.cover_out_m);
  const auto radius_m = [&](double along_m) {
    const double t = std::clamp(along_m / whole_m, 0.0, 1.0);
    return room.radius_in_m + t * (room.radius_out_m - room.radius_in_m) + widen_m;
  };
  const auto at = [&](double along_m) { return bay::along(room.frame, track, along_m).position_m; };
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i)
    if (cuts[i + 1] > cuts[i] + 1e-9)
      parts.push_back({{at(cuts[i]), at(cuts[i + 1]), radius_m(cuts[i]), radius_m(cuts[i + 1])},
                       at_m + cuts[i],
                       at_m + cuts[i + 1]});
}

/// Cuts parts in two at a place on the run's centreline.
void cut_at(std::vector<Part>& parts, double place_m) {
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const Part whole = parts[i];
    if (place_m <= whole.from_m + 1e-6 || place_m >= whole.to_m - 1e-6)
      continue;
    const double t = (place_m - whole.from_m) / (whole.to_m - whole.from_m);
    Part first = whole, second = whole;
    first.to_m = second.from_m = place_m;
    first.pipe.to_m = second.pipe.from_m =
        plus(whole.pipe.from_m, t, minus(whole.pipe.to_m, whole.pipe.from_m));
    first.pipe.radius_to_m = second.pipe.radius_from_m =
        whole.pipe.radius_from_m + t * (whole.pipe.radius_to_m - whole.pipe.radius_from_m);
    parts[i] = first;
    parts.insert(parts.begin() + static_cast<std::ptrdiff_t>(i) + 1, second);
  }
}

class Gatherer {
public:
  Gatherer(const build::Build& build, const Setting& set, double tube_m)
      : build_(build), set_(set), radius_m_(tube_m / 2),
        ducting_m_(build.clearances.value_or(build::ClearanceLimits{}).ducting_m),
        doubt_m_(std::max(tolerance_m(set.from.survey), tolerance_m(set.to.survey))) {}

  Surroundings gather() && {
    for (std::size_t i = 0; i < build_.keep_outs.size(); ++i)
      add_keep_out(i);
    for (const build::Port& port : build_.ports)
      add_spigot(port);
    for (const RunResult& run : set_.evaluation.runs)
      if (run.id != set_.run->id)
        add_run(run);
    add_kept();
    return std::move(result_);
  }

private:
  /// \name Movement
  ///@{
  [[nodiscard]] double most_roll(const std::vector<build::StateId>& states) const {
    double most = 0;
    for (const build::BayState& state : build_.states)
      if (states.empty() || std::ranges::find(states, state.id) != states.end())
        most = std::max(most, std::abs(state.roll));
    return most;
  }
  /// How much nearer a thing can come that makes a share of the engine's movement, `start_m` and `end_m` away
  /// from the ports.
  [[nodiscard]] double shift_m(double share, double start_m, double end_m, double roll) const {
    if (!build_.movement || roll == 0)
      return 0;
    const build::EngineMovement& movement = *build_.movement;
    const double first = share_of(set_.from.mounting), last = share_of(set_.to.mounting);
    const double both_m = std::max(start_m, 0.0) + std::max(end_m, 0.0);
    const double along = both_m > 0 ? std::max(start_m, 0.0) / both_m : 0.5;
    double apart = std::abs(share - (first + (last - first) * along));
    constexpr double on_top = 0.25;
    if (first != last)
      apart = std::min(apart + on_top, 1.0);
    double swing_m = 0;
    for (const build::Port* port : {&set_.from, &set_.to})
      for (const double way : {-roll, roll})
        swing_m = std::max(swing_m, length(minus(bay::moved(movement, way, port->pose->position_m),
                                                 port->pose->position_m)));
    return apart * (swing_m + movement.shake_m);
  }
  ///@}

  /// Leaves out what of the way is its first or last stretch at a thing that it begins or ends at: as long as
  /// in bay::clearances(), and so far on as a way straight out of the port is still on its way off.
  void leave_out(way::KeepOut& keep_out, bool from, bool to) const {
    const double first_stretch_m = radius_m_ + keep_out.clearance_m;
    const auto length_m = [&](const bay::Frame& end, double sign, double kept_m) {
      constexpr double step_m = 2e-3, further_m = 80e-3;
      const double least_m = std::max(first_stretch_m - kept_m, 0.0);
      const auto is_near = [&](double along_m) {
        return distance_m(keep_out, plus(end.position_m, sign * along_m, end.direction)) < first_stretch_m;
      };
      double near_m = -1;
      const auto steps = static_cast<int>((least_m + further_m) / step_m);
      for (int i = 0; i <= steps; ++i)
        if (is_near(i * step_m))
          near_m = i * step_m;
      if (near_m < least_m - step_m || near_m + step_m > least_m + further_m)
        return least_m;
      double clear_m = near_m + step_m;
      for (constexpr double narrow_m = 1e-9; clear_m - near_m > narrow_m;) {
        const double middle_m = 0.5 * (near_m + clear_m);
        (is_near(middle_m) ? near_m : clear_m) = middle_m;
      }
      return std::max(least_m, clear_m);
    };
    if (from)
      keep_out.not_from_start_m = length_m(set_.start, 1, set_.head.length_m);
    if (to)
      keep_out.not_to_end_m = length_m(set_.end, -1, set_.tail.length_m);
  }
  void add(way::KeepOut keep_out, std::optional<std::size_t> of_build = std::nullopt) {
    result_.keep_outs.push_back(std::move(keep_out));
    result_.of_build.push_back(of_build);
  }

  void add_keep_out(std::size_t index) {
    const build::KeepOut& keep_out = build_.keep_outs[index];
    const auto* scan = std::get_if<build::Scan>(&keep_out.shape);
    if (scan != nullptr && !scan->loaded)
      return;
    way::KeepOut one;
    one.name = bay::name_of(build_, *set_.option, bay::NearKeepOut{index});
    std::visit(
        [&](const auto& shape) {
          if constexpr (std::is_same_v<std::decay_t<decltype(shape)>, build::Scan>)
            one.shape = way::Surface{shape.loaded, shape.placement(), false};
          else
            one.shape = shape;
        },
        keep_out.shape);
    one.clearance_m = build_.clearance_m(keep_out) + tolerance_m(keep_out.survey) + doubt_m_ +
                      set_.stands_out_m +
                      shift_m(share_of(keep_out.mounting), distance_m(keep_out, set_.from.pose->position_m),
                              distance_m(keep_out, set_.to.pose->position_m), most_roll(keep_out.states));
    if (keep_out.machine)
      leave_out(one, set_.from.machine == keep_out.machine, set_.to.machine == keep_out.machine);
    add(std::move(one), index);
  }

  void add_spigot(const build::Port& port) {
    if (!port.pose || port.land_m == 0 || port.id == set_.from.id || port.id == set_.to.id)
      return;
    way::KeepOut one;
    one.name = bay::name_of(build_, *set_.option, bay::NearPort{port.id});
    const build::Cylinder spigot{plus(port.pose->position_m, -port.land_m, port.pose->direction),
                                 port.pose->position_m, port.outer_diameter_m / 2};
    one.shape = spigot;
    one.clearance_m = ducting_m_ + tolerance_m(port.survey) + doubt_m_ + set_.stands_out_m +
                      shift_m(share_of(port.mounting), bay::distance_m(spigot, set_.from.pose->position_m),
                              bay::distance_m(spigot, set_.to.pose->position_m), most_roll({}));
    if (port.machine)
      leave_out(one, set_.from.machine == port.machine, set_.to.machine == port.machine);
    add(std::move(one));
  }

  /// \name Other ducting
  ///@{
  static bool meet(const build::Port& a, const build::Port& b, double within_m) {
    if (a.machine || b.machine)
      return a.machine == b.machine;
    return a.pose && b.pose && length(minus(a.pose->position_m, b.pose->position_m)) < within_m;
  }

  void add_run(const RunResult& run) {
    const bay::RunRoom& room = run.room;
    const double doubt_m = doubt_m_ + std::max(tolerance_m(room.from.survey), tolerance_m(room.to.survey));
    double at_m = 0;
    for (std::size_t row = 0; row < room.rows.size(); ++row) {
      const bay::Room& piece = room.rows[row];
      std::vector<Part> parts;
      add_parts(parts, piece, at_m);
      at_m += piece.track.length_m();
      const double widest_m = std::max(piece.radius_in_m, piece.radius_out_m);
      const double first_stretch_m = widest_m + ducting_m_ + doubt_m;
      cut_at(parts, first_stretch_m);
      cut_at(parts, run.length_m - first_stretch_m);
      const double share = (piece.follows_in + piece.follows_out) / 2;
      for (const Part& part : parts) {
        way::KeepOut one;
        one.name = bay::name_of(build_, *set_.option, bay::NearPiece{run.id, row});
        one.shape = part.pipe;
        const Vector middle = plus(part.pipe.from_m, 0.5, minus(part.pipe.to_m, part.pipe.from_m));
        one.clearance_m = ducting_m_ + doubt_m + set_.stands_out_m +
                          shift_m(share, length(minus(middle, set_.from.pose->position_m)),
                                  length(minus(middle, set_.to.pose->position_m)), most_roll({}));
        bool from = false, to = false;
        const auto at_end = [&](const build::Port& end) {
          from = from || meet(set_.from, end, first_stretch_m);
          to = to || meet(set_.to, end, first_stretch_m);
        };
        constexpr double rounding_m = 1e-6;
        if (part.to_m <= first_stretch_m + rounding_m)
          at_end(room.from);
        if (part.from_m >= run.length_m - first_stretch_m - rounding_m)
          at_end(room.to);
        leave_out(one, from, to);
        add(std::move(one));
      }
    }
  }

  /// The rows that stay, where the way comes back to them: nearer along the run than pi/2 times the distance
  /// at which they would be too near they do not count, as in bay::clearances().
  void add_kept() {
    const auto add_all = [&](const Kept& kept, std::size_t first_row, bool at_start) {
      double at_m = 0;
      for (std::size_t row = 0; row < kept.rooms.size(); ++row) {
        std::vector<Part> parts;
        add_parts(parts, kept.rooms[row], at_m);
        at_m += kept.rooms[row].track.length_m();
        constexpr double short_m = 30e-3;
        const auto cuts = static_cast<int>(kept.length_m / short_m);
        for (int i = 1; i <= cuts; ++i)
          cut_at(parts, i * short_m);
        for (const Part& part : parts) {
          way::KeepOut one;
          one.name = bay::name_of(build_, *set_.option, bay::NearPiece{set_.run->id, first_row + row});
          one.shape = part.pipe;
          one.clearance_m = ducting_m_ + set_.stands_out_m;
          const double widest_m = std::max(part.pipe.radius_from_m, part.pipe.radius_to_m);
          const double way_m =
              0.5 * std::numbers::pi * (widest_m + radius_m_ + set_.stands_out_m + ducting_m_);
          const double off_m = at_start ? kept.length_m - part.to_m : part.from_m;
          (at_start ? one.not_from_start_m : one.not_to_end_m) = std::max(way_m - std::max(off_m, 0.0), 0.0);
          add(std::move(one));
        }
      }
    };
    add_all(set_.head, 0, true);
    add_all(set_.tail, set_.run->pieces.size() - set_.tail.pieces.size(), false);
  }
  ///@}

  const build::Build& build_;
  const Setting& set_;
  double radius_m_, ducting_m_, doubt_m_;
  Surroundings result_;
};

} // namespace

Surroundings surroundings(const build::Build& build, const Setting& set, double tube_m) {
  return Gatherer(build, set, tube_m).gather();
}

} // namespace bellmouth::find
