// SPDX-License-Identifier: GPL-3.0-or-later
// Why there is no way, and what would give one.
#include "setting.hpp"

#include <bellmouth/quantity.hpp>
#include <bellmouth/way/reasons.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <limits>
#include <string>
#include <utility>

namespace bellmouth::find {
namespace {

std::string tenths(double length_m) {
  return quantity::write_fixed(quantity::Dimension::length, length_m, "mm", 1);
}
std::string millimetres(double length_m) {
  return quantity::write(quantity::Dimension::length, length_m, "mm", 4);
}

/// How much is asked of the user, least first.
enum class Weight { work, detour, wish, rows, clearance, size, thing };

struct Tried {
  Weight weight;
  double amount = 0;
  Reason reason;
};

class Seeker {
public:
  Seeker(const build::Build& build, const Question& question, const way::Found& found,
         const way::Effort& each, double seconds)
      : build_(build), question_(question), found_(found), each_(each), left_s_(seconds) {}

  std::vector<Reason> seek() && {
    std::vector<Reason> result = shape();
    if (auto reason = narrow())
      result.push_back(*std::move(reason));
    cut();
    more_bends();
    without_waypoints();
    fewer_rows();
    less_clearance();
    smaller_tube();
    without_keep_out();
    std::ranges::stable_sort(tried_, {},
                             [](const Tried& each) { return std::pair(each.weight, each.amount); });
    for (Tried& each : tried_)
      result.push_back(std::move(each.reason));
    return result;
  }

private:
  /// \name Trying
  ///@{
  /// The first way of a problem within the effort.
  std::optional<way::Answer> first(const Question& asked) {
    way::Effort effort = each_;
    effort.best = std::max<std::size_t>(effort.best, 1);
    effort.seconds = std::min(effort.seconds, left_s_);
    if (effort.seconds <= 0)
      return std::nullopt;
    const way::Found found = made(
        build_, asked,
        way::find(asked.problem, effort, [](const way::Found& so_far) { return so_far.answers.empty(); }));
    left_s_ -= found.seconds;
    return found.answers.empty() ? std::nullopt : std::optional(found.answers.front());
  }
  void keep(Weight weight, double amount, std::string text, std::optional<Ask> ask, way::Answer answer) {
    tried_.push_back({weight, amount, {std::move(text), std::move(ask), std::move(answer)}});
  }
  /// Tries another question of the build.
  bool ask(Weight weight, double amount, std::string text, const Ask& other) {
    const auto asked = question(build_, other);
    if (!asked)
      return false;
    auto answer = first(*asked);
    if (!answer)
      return false;
    keep(weight, amount, std::move(text), other, *std::move(answer));
    return true;
  }
  ///@}

  /// \name What is known
  ///@{
  /// Whether there is a way with nothing in it.
  std::vector<Reason> shape() {
    Question open = question_;
    open.problem.keep_outs.clear();
    open.problem.waypoints.clear();
    if (first(open)) {
      in_the_way_ = true;
      return {};
    }
    return {{way::ends_text(question_.problem), std::nullopt, std::nullopt}};
  }

  /// Where the way that came nearest lacks room, most first; several parts of one thing count once.
  std::optional<Reason> narrow() {
    if (!in_the_way_ || !found_.nearly)
      return std::nullopt;
    tight_ = way::narrows(question_.problem, found_.nearly->judgement);
    if (tight_.empty()) {
      if (found_.nearly->lacks_m < way::spare_m)
        return std::nullopt; // it misses a place that it was to pass, no more
      return Reason{
          fmt::format("The way that comes nearest lacks {} of a straight, or of room beside itself.",
                      tenths(found_.nearly->lacks_m)),
          std::nullopt, std::nullopt};
    }
    return Reason{way::text(tight_), std::nullopt, std::nullopt};
  }
  /// The clearance that the user knows, without what doubt, hoses and movement add.
  [[nodiscard]] double wanted_m(std::size_t keep_out) const {
    const auto index = question_.keep_outs[keep_out];
    return index ? build_.clearance_m(build_.keep_outs[*index])
                 : build_.clearances.value_or(build::ClearanceLimits{}).ducting_m;
  }
  ///@}

  /// \name What is tried
  ///@{
  void cut() {
    if (question_.ask.cut_bends)
      return;
    Ask other = question_.ask;
    other.cut_bends = true;
    ask(Weight::work, 0, "With bends cut to smaller angles there is one.", other);
  }
  void more_bends() {
    constexpr std::size_t most = 7, more = 2;
    for (std::size_t bends = question_.ask.most_bends + 1;
         bends <= std::min(question_.ask.most_bends + more, most); ++bends) {
      Ask other = question_.ask;
      other.most_bends = bends;
      if (ask(Weight::detour, static_cast<double>(bends), fmt::format("With {} bends there is one.", bends),
              other))
        return;
    }
  }
  void without_waypoints() {
    if (question_.ask.through.empty())
      return;
    Ask other = question_.ask;
    other.through.clear();
    const std::string text = question_.ask.through.size() == 1
                                 ? fmt::format("Where it need not pass through {} there is one.",
                                               question_.ask.through.front().name)
                                 : "Where it need not pass through what it was told to there is one.";
    ask(Weight::wish, 0, text, other);
  }
  void fewer_rows() {
    const auto without = [&](std::size_t first, std::size_t last) {
      if (first == question_.ask.keep_first && last == question_.ask.keep_last)
        return;
      Ask other = question_.ask;
      other.keep_first = first;
      other.keep_last = last;
      const std::size_t gone = question_.ask.keep_first + question_.ask.keep_last - first - last;
      ask(Weight::rows, static_cast<double>(gone),
          fmt::format("With {} kept at the start and {} at the end there is one.", rows(first), rows(last)),
          other);
    };
    without(question_.ask.keep_first, 0);
    if (question_.ask.keep_first > 0)
      without(0, question_.ask.keep_last);
    if (question_.ask.keep_first > 0 && question_.ask.keep_last > 0)
      without(0, 0);
  }
  static std::string rows(std::size_t count) {
    return count == 0 ? "no row" : count == 1 ? "1 row" : fmt::format("{} rows", count);
  }

  /// Less by what lacks: at the tightest place alone, then at all of them, then twice as much at all.
  void less_clearance() {
    if (tight_.empty())
      return;
    const std::size_t all = tight_.size();
    for (const auto& [places, times] : {std::pair(std::size_t{1}, 1.0), {all, 1.0}, {all, 2.0}})
      if (less_clearance(places, times))
        return;
  }
  bool less_clearance(std::size_t places, double times) {
    Question other = question_;
    std::vector<std::string> texts;
    double most = 0;
    for (std::size_t i = 0; i < places; ++i) {
      const way::Narrow& tight = tight_[i];
      const double asked_m = wanted_m(tight.keep_out), less_m = times * tight.lacks_m + way::spare_m;
      if (less_m > asked_m)
        return false;
      for (way::KeepOut& keep_out : other.problem.keep_outs)
        if (keep_out.name == tight.name)
          keep_out.clearance_m -= less_m;
      most = std::max(most, less_m / asked_m);
      texts.push_back(
          fmt::format("{} instead of {} at {}", tenths(asked_m - less_m), tenths(asked_m), tight.name));
    }
    auto answer = first(other);
    const bool found_one = answer.has_value();
    if (found_one)
      keep(Weight::clearance, most,
           fmt::format("With a clearance of {} there is one.", fmt::join(texts, " and ")), std::nullopt,
           *std::move(answer));
    return found_one;
  }
  /// The next sizes of the same material; of one diameter the wall that is nearest.
  void smaller_tube() {
    const stock::TubeSize& size = question_.ask.tube;
    auto sizes = stock::tube_sizes(build_);
    std::erase_if(sizes, [&](const stock::TubeSize& each) {
      return each.material != size.material || each.outer_diameter_m >= size.outer_diameter_m - 1e-4;
    });
    std::ranges::stable_sort(sizes, [&](const stock::TubeSize& a, const stock::TubeSize& b) {
      return std::pair(-a.outer_diameter_m, std::abs(a.wall_m - size.wall_m)) <
             std::pair(-b.outer_diameter_m, std::abs(b.wall_m - size.wall_m));
    });
    const auto end = std::unique(sizes.begin(), sizes.end(), [](const auto& a, const auto& b) {
      return a.outer_diameter_m == b.outer_diameter_m;
    });
    sizes.erase(end, sizes.end());
    constexpr std::size_t most = 3;
    for (std::size_t i = 0; i < std::min(sizes.size(), most); ++i) {
      Ask other = question_.ask;
      other.tube = sizes[i];
      if (ask(Weight::size, static_cast<double>(i),
              fmt::format("A {} tube would pass.", millimetres(sizes[i].outer_diameter_m)), other))
        return;
    }
  }
  void without_keep_out() {
    if (tight_.empty())
      return;
    const std::string& name = tight_.front().name;
    Question other = question_;
    other.keep_outs.clear();
    other.problem.keep_outs.clear();
    for (std::size_t i = 0; i < question_.problem.keep_outs.size(); ++i)
      if (question_.problem.keep_outs[i].name != name) {
        other.problem.keep_outs.push_back(question_.problem.keep_outs[i]);
        other.keep_outs.push_back(question_.keep_outs[i]);
      }
    if (auto answer = first(other))
      keep(Weight::thing, 0, fmt::format("With {} out of the way there is one.", name), std::nullopt,
           *std::move(answer));
  }
  ///@}

  const build::Build& build_;
  const Question& question_;
  const way::Found& found_;
  way::Effort each_;
  double left_s_;
  bool in_the_way_ = false;
  std::vector<way::Narrow> tight_;
  std::vector<Tried> tried_;
};

} // namespace

std::vector<Reason> reasons(const build::Build& build, const Question& question, const way::Found& found,
                            double seconds) {
  assert(found.answers.empty());
  constexpr double tries = 8; // about as many as there are, but most are over before their time
  way::Effort each;
  each.seconds = seconds / tries;
  each.best = 1;
  return Seeker(build, question, found, each, seconds).seek();
}

std::vector<Reason> reasons(const build::Build& build, const Question& question, const way::Found& found,
                            const way::Effort& each) {
  assert(found.answers.empty());
  return Seeker(build, question, found, each, std::numeric_limits<double>::infinity()).seek();
}

} // namespace bellmouth::find
