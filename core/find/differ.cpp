// SPDX-License-Identifier: GPL-3.0-or-later
// In what proposals differ: what each is best in, else where it goes.
#include <bellmouth/bay/vectors.hpp>
#include <bellmouth/find.hpp>
#include <bellmouth/quantity.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace bellmouth::find {
namespace {

using build::Vector;

/// Figures nearer than this share of each other count as equal.
constexpr double level = 0.01;
/// A way counts as passing a thing within this distance.
constexpr double passing_m = 0.25;
/// Middles of ways that are nearer than this are in one place.
constexpr double same_place_m = 0.03;

/// Points of a way's centreline, and their middle one.
std::vector<Vector> samples(const way::Problem& problem, const way::Way& way) {
  constexpr double step_m = 10e-3;
  std::vector<Vector> points;
  bay::Frame frame{problem.start.position_m, problem.start.direction, problem.reference};
  for (std::size_t i = 0; i < way.straights_m.size(); ++i) {
    bay::Track track{.straight_in_m = way.straights_m[i]};
    if (i < way.turns.size()) {
      track.angle_rad = way.turns[i].angle_rad;
      track.radius_m = problem.bends[way.turns[i].bend].radius_m;
      track.clocking_rad = way.turns[i].clocking_rad;
    }
    const auto steps = static_cast<int>(std::ceil(track.length_m() / step_m));
    for (int k = 0; k < steps; ++k)
      points.push_back(bay::along(frame, track, track.length_m() * k / steps).position_m);
    frame = bay::followed(frame, track);
  }
  points.push_back(frame.position_m);
  return points;
}

/// The least box along the axes round a solid; nothing for what has no bounds or is not convex.
struct Extent {
  Vector middle{}, half{};
};
std::optional<Extent> extent(const build::KeepOut& keep_out) {
  if (const auto* box = std::get_if<build::Box>(&keep_out.shape)) {
    Extent result{box->centre_m, {}};
    for (std::size_t i = 0; i < 3; ++i)
      for (std::size_t k = 0; k < 3; ++k)
        result.half[i] += std::abs(box->axes[k][i]) * box->half_size_m[k];
    return result;
  }
  if (const auto* sphere = std::get_if<build::Sphere>(&keep_out.shape))
    return Extent{sphere->centre_m, {sphere->radius_m, sphere->radius_m, sphere->radius_m}};
  if (const auto* cylinder = std::get_if<build::Cylinder>(&keep_out.shape)) {
    Extent result;
    const Vector axis = bay::minus(cylinder->to_m, cylinder->from_m);
    const double length_m = bay::length(axis);
    for (std::size_t i = 0; i < 3; ++i) {
      const double along = length_m > 0 ? axis[i] / length_m : 0;
      result.middle[i] = 0.5 * (cylinder->from_m[i] + cylinder->to_m[i]);
      result.half[i] =
          0.5 * std::abs(axis[i]) + cylinder->radius_m * std::sqrt(std::max(1 - along * along, 0.0));
    }
    return result;
  }
  return std::nullopt;
}
double distance_m(const build::KeepOut& keep_out, const Vector& point) {
  return std::visit(
      [&](const auto& shape) {
        if constexpr (std::is_same_v<std::decay_t<decltype(shape)>, build::Scan>)
          return std::numeric_limits<double>::infinity();
        else
          return bay::distance_m(shape, point);
      },
      keep_out.shape);
}

/// On which sides of a thing a way passes it, by how many of its points lie straight before that side: x is
/// forward, y left, z up.
constexpr std::array<std::string_view, 6> side_words{"behind",  "in front of", "right of",
                                                     "left of", "under",       "over"};
using Passes = std::array<int, side_words.size()>;
Passes passes(const build::KeepOut& keep_out, const std::vector<Vector>& points) {
  Passes result{};
  const auto bounds = extent(keep_out);
  if (!bounds)
    return result;
  for (const Vector& point : points) {
    if (distance_m(keep_out, point) > passing_m)
      continue;
    const Vector off = bay::minus(point, bounds->middle);
    int outside = 0;
    std::size_t axis = 0;
    for (std::size_t i = 0; i < 3; ++i)
      if (std::abs(off[i]) > bounds->half[i]) {
        ++outside;
        axis = i;
      }
    if (outside == 1)
      ++result[2 * axis + (off[axis] > 0 ? 1 : 0)];
  }
  return result;
}

int count_of(const Proposal& proposal, auto&& is_it) {
  return static_cast<int>(std::ranges::count_if(
      proposal.run.pieces, [&](const build::Piece& piece) { return is_it(piece.shape); }));
}
int elbows(const Proposal& proposal) {
  return count_of(proposal,
                  [](const build::Shape& s) { return std::holds_alternative<build::HoseElbow>(s); });
}
int turns(const Proposal& proposal) {
  return static_cast<int>(proposal.answer.way.turns.size());
}
int welds(const build::Build& build, const Proposal& proposal) {
  const joint::RunFit fit = joint::fit(build, proposal.run);
  return static_cast<int>(std::ranges::count(fit.joints, joint::Kind::weld, &joint::Joint::kind));
}

class Teller {
public:
  Teller(const build::Build& build, const Question& question, std::vector<Proposal>& proposals)
      : build_(build), question_(question), all_(proposals), said_(proposals.size()) {
    for (const Proposal& proposal : proposals)
      points_.push_back(samples(question.problem, proposal.answer.way));
  }

  void tell() && {
    best("cheapest", 0, [](const Proposal& p) { return static_cast<double>(p.price.minor); });
    best("least drop", level, [](const Proposal& p) { return p.drop_Pa; });
    best("fewest joints", 0, [](const Proposal& p) { return static_cast<double>(p.joints); });
    best("shortest", level, [](const Proposal& p) { return p.length_m; });
    alone("nothing to weld", [&](const Proposal& p) { return welds(build_, p) == 0; });
    alone("no hose elbows", [](const Proposal& p) { return elbows(p) == 0; });
    best("fewest bends", 0, [](const Proposal& p) { return static_cast<double>(turns(p)); });
    for (std::size_t i = 0; i < all_.size(); ++i)
      if (said_[i].empty())
        place(i);
    for (std::size_t i = 0; i < all_.size(); ++i)
      if (said_[i].empty())
        say(i, in_other_words(i));
    for (std::size_t i = 0; i < all_.size(); ++i)
      all_[i].differs = fmt::format("{}", fmt::join(said_[i], ", "));
  }

private:
  static constexpr std::size_t most_said = 2;

  void say(std::size_t index, std::string text) {
    if (said_[index].size() < most_said)
      said_[index].push_back(std::move(text));
  }
  /// Of the one that has the least of something, and clearly so.
  template <class Figure> void best(std::string_view text, double apart, const Figure& figure) {
    if (all_.size() < 2)
      return;
    std::size_t least = 0;
    for (std::size_t i = 1; i < all_.size(); ++i)
      if (figure(all_[i]) < figure(all_[least]))
        least = i;
    for (std::size_t i = 0; i < all_.size(); ++i)
      if (i != least && figure(all_[i]) <= figure(all_[least]) * (1 + apart))
        return;
    say(least, std::string(text));
  }
  /// Of the only one that something holds for.
  template <class Holds> void alone(std::string_view text, const Holds& holds) {
    if (all_.size() < 2)
      return;
    std::optional<std::size_t> only;
    for (std::size_t i = 0; i < all_.size(); ++i)
      if (holds(all_[i])) {
        if (only)
          return;
        only = i;
      }
    if (only)
      say(*only, std::string(text));
  }

  /// Past which thing it goes on another side than most of the others do.
  void place(std::size_t index) {
    std::string best_text;
    std::pair<int, int> best{0, 0}; ///< others that do not pass there, points that do
    for (const build::KeepOut& keep_out : build_.keep_outs) {
      if (keep_out.name.empty())
        continue;
      std::vector<Passes> all;
      for (const auto& points : points_)
        all.push_back(passes(keep_out, points));
      for (std::size_t side = 0; side < side_words.size(); ++side) {
        const int points = all[index][side];
        const auto others = static_cast<int>(
            std::ranges::count_if(all, [&](const Passes& other) { return other[side] == 0; }));
        std::string text = fmt::format("{} {}", side_words[side], keep_out.name);
        if (points == 0 || std::pair(others, points) <= best || is_said(text))
          continue;
        best = {others, points};
        best_text = std::move(text);
      }
    }
    if (best.first == 0)
      best_text.clear(); // all of them pass there
    if (best_text.empty())
      best_text = against_others(index);
    if (!best_text.empty())
      say(index, std::move(best_text));
  }
  [[nodiscard]] bool is_said(const std::string& text) const {
    return std::ranges::any_of(said_,
                               [&](const auto& each) { return std::ranges::find(each, text) != each.end(); });
  }
  /// Where its middle lies against the middles of the others.
  [[nodiscard]] std::string against_others(std::size_t index) const {
    constexpr std::array<std::string_view, 6> words{
        "further back", "further forward", "further to the right", "further to the left", "lower", "higher"};
    Vector others{};
    for (std::size_t i = 0; i < all_.size(); ++i)
      if (i != index)
        others = bay::plus(others, 1.0 / static_cast<double>(all_.size() - 1), middle(i));
    if (all_.size() < 2)
      return "the only way";
    const Vector off = bay::minus(middle(index), others);
    std::size_t axis = 0;
    for (std::size_t i = 1; i < 3; ++i)
      if (std::abs(off[i]) > std::abs(off[axis]))
        axis = i;
    std::string text(words[2 * axis + (off[axis] > 0 ? 1 : 0)]);
    return std::abs(off[axis]) < same_place_m || is_said(text) ? std::string() : text;
  }
  /// "90° and 45°".
  [[nodiscard]] std::string angles(std::size_t index) const {
    std::vector<std::string> texts;
    for (const way::Turn& turn : all_[index].answer.way.turns)
      texts.push_back(fmt::format("{:.0f}°", turn.angle_rad * 180 / std::numbers::pi));
    return fmt::format("{}", fmt::join(texts, " and "));
  }
  /// "95 mm and 63.5 mm".
  [[nodiscard]] std::string radii(std::size_t index) const {
    std::vector<std::string> texts;
    for (const way::Turn& turn : all_[index].answer.way.turns)
      texts.push_back(
          quantity::write(quantity::Dimension::length, question_.problem.bends[turn.bend].radius_m, "mm", 4));
    return fmt::format("{}", fmt::join(texts, " and "));
  }
  [[nodiscard]] std::string joints(std::size_t index) const {
    const int count = welds(build_, all_[index]);
    return fmt::format("{} of {} joints welded", count == 0 ? "none" : std::to_string(count),
                       all_[index].joints);
  }
  /// What tells a way from the others where nothing better does.
  [[nodiscard]] std::string in_other_words(std::size_t index) const {
    if (alone_with(index, [&](std::size_t i) { return angles(i); }))
      return "turning " + angles(index);
    if (alone_with(index, [&](std::size_t i) { return radii(i); }))
      return "bent to " + radii(index);
    if (alone_with(index, [&](std::size_t i) { return joints(i); }))
      return joints(index);
    return "another way";
  }
  /// Whether the words are those of no other.
  template <class Words> [[nodiscard]] bool alone_with(std::size_t index, const Words& words) const {
    const std::string mine = words(index);
    for (std::size_t i = 0; i < all_.size(); ++i)
      if (i != index && words(i) == mine)
        return false;
    return !mine.empty();
  }
  [[nodiscard]] const Vector& middle(std::size_t index) const {
    return points_[index][points_[index].size() / 2];
  }

  const build::Build& build_;
  const Question& question_;
  std::vector<Proposal>& all_;
  std::vector<std::vector<std::string>> said_;
  std::vector<std::vector<Vector>> points_;
};

} // namespace

void tell_apart(const build::Build& build, const Question& question, std::vector<Proposal>& proposals) {
  Teller(build, question, proposals).tell();
}

} // namespace bellmouth::find
