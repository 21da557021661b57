// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/bay/vectors.hpp>
#include <bellmouth/quantity.hpp>
#include <bellmouth/way/reasons.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <limits>
#include <span>
#include <utility>

namespace bellmouth::way {
namespace {

/// Where bends may not be cut a problem need not say down to which angle: 10 degrees, this program's own.
constexpr double usual_least_cut_rad = 0.17453292519943295;
/// More things than this are counted, not named.
constexpr std::size_t most_named = 4;

std::string tenths(double length_m) {
  return quantity::write_fixed(quantity::Dimension::length, length_m, "mm", 1);
}
std::string millimetres(double length_m) {
  return quantity::write(quantity::Dimension::length, length_m, "mm", 4);
}

std::optional<Answer> first(const Problem& problem, Effort effort) {
  effort.best = 1;
  Found found = find(problem, effort, [](const Found& so_far) { return so_far.answers.empty(); });
  if (found.answers.empty())
    return std::nullopt;
  return std::move(found.answers.front());
}

/// The problem with each keep-out of these names nearer by what lacks there, so many times, if it asks that
/// much.
std::optional<Problem> nearer(Problem problem, const std::vector<Narrow>& narrows, double times) {
  for (const Narrow& narrow : narrows)
    for (std::size_t k = 0; k < problem.keep_outs.size(); ++k) {
      if (name_of(problem, k) != narrow.name)
        continue;
      problem.keep_outs[k].clearance_m -= times * narrow.lacks_m + spare_m;
      if (problem.keep_outs[k].clearance_m < 0)
        return std::nullopt;
    }
  return problem;
}

std::string nearer_text(const Problem& problem, const Problem& nearer, const std::vector<Narrow>& narrows) {
  if (narrows.size() > most_named) {
    const KeepOut& tightest = problem.keep_outs[narrows.front().keep_out];
    return fmt::format("With up to {} less clearance at {} things there is one.",
                       tenths(tightest.clearance_m - nearer.keep_outs[narrows.front().keep_out].clearance_m),
                       narrows.size());
  }
  std::vector<std::string> texts;
  texts.reserve(narrows.size());
  for (const Narrow& narrow : narrows)
    texts.push_back(fmt::format("{} instead of {} at {}",
                                tenths(nearer.keep_outs[narrow.keep_out].clearance_m),
                                tenths(problem.keep_outs[narrow.keep_out].clearance_m), narrow.name));
  return fmt::format("With a clearance of {} there is one.", fmt::join(texts, " and "));
}

} // namespace

std::vector<Narrow> narrows(const Problem& problem, const Judgement& judgement) {
  std::vector<Narrow> result;
  for (const Nearness& nearness : judgement.nearest) { // least margin first
    const std::string name = name_of(problem, nearness.keep_out);
    if (nearness.margin_m < 0 && std::ranges::find(result, name, &Narrow::name) == result.end())
      result.push_back({name, -nearness.margin_m, nearness.keep_out});
  }
  return result;
}

std::string text(const std::vector<Narrow>& narrows) {
  std::vector<std::string> places;
  for (const Narrow& narrow : std::span(narrows).first(std::min(narrows.size(), most_named)))
    places.push_back(places.empty() ? fmt::format("{} too narrow at {}", tenths(narrow.lacks_m), narrow.name)
                                    : fmt::format("{} at {}", tenths(narrow.lacks_m), narrow.name));
  if (narrows.size() > most_named)
    places.push_back(fmt::format("less at {} more", narrows.size() - most_named));
  return fmt::format("The way is {}.", fmt::join(places, " and "));
}

std::string ends_text(const Problem& problem) {
  const Vector apart = bay::minus(problem.end.position_m, problem.start.position_m);
  double least_radius_m = std::numeric_limits<double>::infinity();
  for (const Bend& bend : problem.bends)
    least_radius_m = std::min(least_radius_m, bend.radius_m);
  const bool away = bay::dot(problem.start.direction, apart) < 0;
  const bool from = bay::dot(problem.end.direction, apart) > 0;
  std::string text =
      fmt::format("Nothing in stock joins the two ends even with nothing in the way: they are {} apart",
                  millimetres(bay::length(apart)));
  if (away && from)
    text += " and face away from each other";
  else if (away || from)
    text += ", and one faces away from the other";
  text += fmt::format("; the way needs {} straight behind the one, {} before the other, {} between bends, "
                      "and bends with a radius of {} or more.",
                      millimetres(problem.start.straight_m), millimetres(problem.end.straight_m),
                      millimetres(problem.rules.straight_between_bends_m), millimetres(least_radius_m));
  return text;
}

std::vector<Reason> reasons(const Problem& problem, const Found& found, const Effort& each) {
  assert(found.answers.empty());
  std::vector<Reason> result;
  const auto attempt = [&](const Problem& other, const std::string& words) {
    auto answer = first(other, each);
    const bool found_one = answer.has_value();
    if (found_one)
      result.push_back({words, std::move(answer)});
    return found_one;
  };
  Problem open = problem;
  open.keep_outs.clear();
  open.waypoints.clear();
  const bool in_the_way = first(open, each).has_value();
  if (!in_the_way)
    result.push_back({ends_text(problem), std::nullopt});
  std::vector<Narrow> tight;
  if (in_the_way && found.nearly)
    tight = narrows(problem, found.nearly->judgement);
  if (!tight.empty())
    result.push_back({text(tight), std::nullopt});

  if (!problem.rules.bends_may_be_cut) {
    Problem other = problem;
    other.rules.bends_may_be_cut = true;
    if (other.rules.least_cut_angle_rad == 0)
      other.rules.least_cut_angle_rad = usual_least_cut_rad;
    attempt(other, "With bends cut to smaller angles there is one.");
  }
  constexpr std::size_t most_bends = 7, more_bends = 2;
  const std::size_t most = std::min(problem.rules.most_bends + more_bends, most_bends);
  for (std::size_t bends = problem.rules.most_bends + 1; bends <= most; ++bends) {
    Problem other = problem;
    other.rules.most_bends = bends;
    if (attempt(other, fmt::format("With {} bends there is one.", bends)))
      break;
  }
  if (!problem.waypoints.empty()) {
    Problem other = problem;
    other.waypoints.clear();
    attempt(other, "Where it need not pass through what it was told to there is one.");
  }
  if (tight.empty())
    return result;
  const std::vector<Narrow> tightest{tight.front()};
  for (const auto& [places, times] : {std::pair(&tightest, 1.0), {&tight, 1.0}, {&tight, 2.0}})
    if (const auto other = nearer(problem, *places, times))
      if (attempt(*other, nearer_text(problem, *other, *places)))
        break;
  Problem without = problem;
  without.keep_outs.clear();
  for (std::size_t k = 0; k < problem.keep_outs.size(); ++k)
    if (name_of(problem, k) != tight.front().name)
      without.keep_outs.push_back(problem.keep_outs[k]);
  attempt(without, fmt::format("With {} out of the way there is one.", tight.front().name));
  return result;
}

} // namespace bellmouth::way
