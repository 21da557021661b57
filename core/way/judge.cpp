// SPDX-License-Identifier: GPL-3.0-or-later
#include "judge_room.hpp"
#include "laid.hpp"

#include <bellmouth/way.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace bellmouth::way {
namespace {

constexpr double rounding = 1e-9; ///< metres or radians

/// A length and its bound with as many decimals as tell them apart.
struct Lengths {
  std::string is, bound;
  Lengths(double is_m, double bound_m) {
    constexpr int most_decimals = 6;
    for (int decimals = 1; decimals <= most_decimals; ++decimals) {
      is = fmt::format("{:.{}f} mm", 1e3 * is_m, decimals);
      bound = fmt::format("{:.{}f} mm", 1e3 * bound_m, decimals);
      if (is != bound)
        break;
    }
    const auto trim = [](std::string& text) {
      const std::size_t point = text.find('.'), last = text.find_last_not_of('0', text.size() - 4);
      text.erase(last == point ? point : last + 1, text.size() - 3 - (last == point ? point : last + 1));
    };
    trim(is);
    trim(bound);
  }
};
struct Angles {
  std::string is, bound;
  Angles(double is_rad, double bound_rad) {
    const auto text = [](double angle_rad) {
      return fmt::format("{:.6g} degrees", angle_rad * 180 / std::numbers::pi);
    };
    is = text(is_rad);
    bound = text(bound_rad);
  }
};

class Judge {
public:
  Judge(const Problem& problem, const Way& way) : problem_(problem), way_(way), laid_(laid(problem, way)) {}

  Judgement judge() && {
    end_pose();
    number_of_bends();
    for (std::size_t i = 0; i < way_.straights_m.size(); ++i)
      straight(i);
    for (std::size_t i = 0; i < way_.turns.size(); ++i)
      turn(i);
    if (!way_.turns.empty()) {
      beside_silicone(0, problem_.start, 0);
      beside_silicone(way_.turns.size(), problem_.end, way_.turns.size() - 1);
    }
    reduction();
    flexible();
    keep_outs();
    itself();
    for (const Waypoint& waypoint : problem_.waypoints)
      passes(waypoint);
    return std::move(result_);
  }

private:
  void fault(std::string text) { result_.faults.push_back(std::move(text)); }

  void end_pose() {
    const Vector into_port = bay::times(-1, problem_.end.direction);
    const bay::Frame& end = laid_.end;
    result_.end_gap_m = bay::length(bay::minus(end.position_m, problem_.end.position_m));
    result_.end_angle_rad =
        std::atan2(bay::length(bay::cross(end.direction, into_port)), bay::dot(end.direction, into_port));
    const Rules& rules = problem_.rules;
    if (!(result_.end_gap_m <= rules.end_gap_m + rounding)) {
      const Lengths lengths(result_.end_gap_m, rules.end_gap_m);
      fault(fmt::format("It ends {} from the end port; at most {} is allowed.", lengths.is, lengths.bound));
    }
    if (!(result_.end_angle_rad <= rules.end_angle_rad + rounding)) {
      const Angles angles(result_.end_angle_rad, rules.end_angle_rad);
      fault(fmt::format("It ends {} out of line with the end port; at most {} is allowed.", angles.is,
                        angles.bound));
    }
  }

  void number_of_bends() {
    const std::size_t bends = way_.turns.size();
    const Rules& rules = problem_.rules;
    if (bends < rules.least_bends)
      fault(fmt::format("It has {} bends; at least {} are needed.", bends, rules.least_bends));
    if (bends > rules.most_bends)
      fault(fmt::format("It has {} bends; at most {} are allowed.", bends, rules.most_bends));
  }

  void straight(std::size_t index) {
    const double length_m = way_.straights_m[index];
    double least_m = 0;
    if (index > 0 && index + 1 < way_.straights_m.size())
      least_m = problem_.rules.straight_between_bends_m;
    if (index == 0)
      least_m = std::max(least_m, problem_.start.straight_m);
    if (index + 1 == way_.straights_m.size())
      least_m = std::max(least_m, problem_.end.straight_m);
    if (!(length_m >= least_m - rounding)) {
      const Lengths lengths(length_m, least_m);
      fault(fmt::format("Straight {} is {}; at least {} is needed.", index + 1, lengths.is, lengths.bound));
    }
    if (length_m > problem_.tube.longest_m + rounding) {
      const Lengths lengths(length_m, problem_.tube.longest_m);
      fault(fmt::format("Straight {} is {}; the longest tube is {}.", index + 1, lengths.is, lengths.bound));
    }
  }

  /// A straight that is long enough as such, but not for the silicone bend beside it.
  void beside_silicone(std::size_t index, const End& end, std::size_t turn) {
    const Bend& bend = problem_.bends[way_.turns[turn].bend];
    const double length_m = way_.straights_m[index];
    if (length_m < end.straight_m || is_long_enough(end, bend, length_m))
      return;
    const Lengths lengths(length_m, end.straight_to_silicone_m);
    fault(fmt::format("Straight {} is {}; between a port and {} at least {} is needed{}.", index + 1,
                      lengths.is, bend.id, lengths.bound,
                      end.takes_silicone ? fmt::format(", or at most {}", Lengths(bend.leg_m, length_m).is)
                                         : std::string()));
  }

  void turn(std::size_t index) {
    const Turn& turn = way_.turns[index];
    const Bend& bend = problem_.bends[turn.bend];
    const std::string name = fmt::format("Bend {} ({})", index + 1, bend.id);
    const double diameter_m = outer_diameter_m(problem_, way_, index);
    if (!(std::abs(bend.outer_diameter_m - diameter_m) <= rounding)) {
      const Lengths lengths(bend.outer_diameter_m, diameter_m);
      fault(fmt::format("{} is for a tube of {}; the tube there is {}.", name, lengths.is, lengths.bound));
    }
    const Angles angles(turn.angle_rad, bend.angle_rad);
    const bool is_nominal = std::abs(turn.angle_rad - bend.angle_rad) <= rounding;
    if (is_nominal) {
      if (turn.lost_leg)
        fault(fmt::format("{} has its whole angle, yet a leg cut off.", name));
      return;
    }
    if (bend.kind == BendKind::silicone)
      fault(fmt::format("{} turns by {}; an elbow of silicone keeps its {}.", name, angles.is, angles.bound));
    else if (!problem_.rules.bends_may_be_cut)
      fault(fmt::format("{} turns by {}; bends may not be cut, it keeps its {}.", name, angles.is,
                        angles.bound));
    else if (!(turn.angle_rad <= bend.angle_rad))
      fault(fmt::format("{} turns by {}; it has no more than {}.", name, angles.is, angles.bound));
    else if (!(turn.angle_rad >= problem_.rules.least_cut_angle_rad - rounding))
      fault(fmt::format("{} turns by {}; it may be cut to {} at least.", name, angles.is,
                        Angles(problem_.rules.least_cut_angle_rad, 0).is));
    else if (!turn.lost_leg)
      fault(fmt::format("{} is cut, yet has both its legs.", name));
  }

  void reduction() {
    const double start_m = problem_.start.outer_diameter_m, end_m = problem_.end.outer_diameter_m;
    const bool differ = std::abs(start_m - end_m) > rounding;
    if (!way_.reduction) {
      if (differ) {
        const Lengths lengths(start_m, end_m);
        fault(fmt::format("The ports are {} and {}, and it has no reducer.", lengths.is, lengths.bound));
      }
      return;
    }
    if (!differ)
      fault("It has a reducer, and both ports are of one size.");
    if (!problem_.reducer) {
      fault("It has a reducer, and there is none in stock.");
      return;
    }
    const Reduction& reduction = *way_.reduction;
    const double behind_m =
        way_.straights_m[reduction.straight] - reduction.from_m - problem_.reducer->length_m;
    for (const auto& [side, straight_m] : {std::pair("before", reduction.from_m), {"behind", behind_m}})
      if (!(straight_m >= problem_.reducer->clamp_m - rounding)) {
        const Lengths lengths(straight_m, problem_.reducer->clamp_m);
        fault(fmt::format("Straight {} has {} {} its reducer; at least {} is needed.", reduction.straight + 1,
                          lengths.is, side, lengths.bound));
      }
  }

  void flexible() {
    if (problem_.start.mounting == problem_.end.mounting || way_.reduction ||
        std::ranges::any_of(way_.turns, [&](const Turn& turn) {
          return problem_.bends[turn.bend].kind == BendKind::silicone;
        }))
      return;
    const double longest_m = std::ranges::max(way_.straights_m);
    if (!(longest_m >= problem_.rules.flexible_straight_m - rounding)) {
      const Lengths lengths(longest_m, problem_.rules.flexible_straight_m);
      fault(fmt::format("Nothing in it gives between engine and body: its longest straight is {}, a flexible "
                        "joint needs {}.",
                        lengths.is, lengths.bound));
    }
  }

  void keep_outs() {
    result_.nearest = nearest_keep_outs(problem_, laid_);
    for (const Nearness& nearness : result_.nearest) {
      if (nearness.margin_m >= -rounding)
        break;
      const KeepOut& keep_out = problem_.keep_outs[nearness.keep_out];
      const std::string name = name_of(problem_, nearness.keep_out);
      const double distance_m = nearness.margin_m + keep_out.clearance_m;
      const double least_m = keep_out.clearance_m;
      const std::string where = fmt::format("{:.0f} mm along", 1e3 * nearness.along_m);
      if (distance_m < -rounding)
        fault(fmt::format("It runs {} into {}, {}; {} off is needed.", Lengths(-distance_m, 0).is, name,
                          where, Lengths(least_m, distance_m).is));
      else
        fault(fmt::format("It comes within {} of {}, {}; at least {} is needed.",
                          Lengths(distance_m, least_m).is, name, where, Lengths(distance_m, least_m).bound));
    }
  }

  void itself() {
    if (way_.turns.empty())
      return;
    double smallest_m = problem_.bends[way_.turns.front().bend].radius_m;
    for (const Turn& turn : way_.turns)
      smallest_m = std::min(smallest_m, problem_.bends[turn.bend].radius_m);
    const auto nearest = nearest_to_itself(laid_, std::numbers::pi * smallest_m, problem_.rules.self_gap_m);
    if (!nearest)
      return;
    result_.self_room_m = nearest->margin_m;
    if (nearest->margin_m < -rounding) {
      const double gap_m = problem_.rules.self_gap_m;
      const Lengths lengths(nearest->margin_m + gap_m, gap_m);
      const std::string where =
          fmt::format("{:.0f} mm and {:.0f} mm along", 1e3 * nearest->at_a_m, 1e3 * nearest->at_b_m);
      if (nearest->margin_m + gap_m < 0)
        fault(
            fmt::format("It runs through itself, {}; at least {} between is needed.", where, lengths.bound));
      else
        fault(fmt::format("It comes within {} of itself, {}; at least {} is needed.", lengths.is, where,
                          lengths.bound));
    }
  }

  void passes(const Waypoint& waypoint) {
    const double off = off_m(laid_, waypoint);
    if (off > rounding)
      fault(fmt::format("It does not pass through {}: it stays {} off.",
                        waypoint.name.empty() ? "a waypoint" : waypoint.name, Lengths(off, 0).is));
  }

  const Problem& problem_;
  const Way& way_;
  Laid laid_;
  Judgement result_;
};

} // namespace

Judgement judge(const Problem& problem, const Way& way) {
  return Judge(problem, way).judge();
}

} // namespace bellmouth::way
