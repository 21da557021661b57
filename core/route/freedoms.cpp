// SPDX-License-Identifier: GPL-3.0-or-later
// What may move, and how far.
#include "sizes.hpp"

#include <bellmouth/joint.hpp>
#include <bellmouth/quantity.hpp>
#include <bellmouth/stock.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>
#include <set>

namespace bellmouth::route {
namespace {

constexpr double pi = std::numbers::pi;

/// This program's own, as wide as a build file may hold (see the schema).
constexpr double longest_m = 20, shortest_m = 1e-3, least_angle_rad = 1e-3;
/// Behind what hoses cover, or before the edge of a fitting: common practice, no source found.
constexpr double spare_m = 10e-3;
/// Gap that the tubes leave inside a hose: as stock::piece_of().
constexpr double hose_gap_m = 8e-3;
/// Where no stock item sets a limit: this program's own.
constexpr double longest_tube_m = 2, longest_hose_m = 0.3;
constexpr double least_cut_rad = 5 * pi / 180;

/// Finds the limits of one run.
class Finder {
public:
  Finder(const build::Build& build, const build::Run& run)
      : build_(build), run_(run), fit_(joint::fit(build, run)) {}

  std::vector<Freedom> find() && {
    for (std::size_t row = 0; row < run_.pieces.size(); ++row)
      std::visit([&](const auto& shape) { add_all(row, shape); }, run_.pieces[row].shape);
    return std::move(found_);
  }

private:
  const build::Build& build_;
  const build::Run& run_;
  joint::RunFit fit_;
  std::vector<Freedom> found_;

  void add(std::size_t row, What what, double low, double high) {
    const double present = *value(run_.pieces[row].shape, what);
    found_.push_back({row, what, std::min(low, present), std::max(high, present), usual_weight(what)});
  }
  const build::StockItem* item(std::size_t row) const {
    const build::StockId& id = run_.pieces[row].stock;
    return id.text.empty() ? nullptr : build_.find(id);
  }
  /// The joint before or behind a row that is no fitting.
  const joint::Joint& joint(std::size_t row, bool behind) const {
    const auto found = std::ranges::find_if(fit_.joints, [&](const joint::Joint& each) {
      return (behind ? each.upstream : each.downstream).row == row;
    });
    assert(found != fit_.joints.end());
    return *found;
  }
  /// What a hose covers of a rigid end.
  double covered_m(std::size_t row, bool behind) const { return joint(row, behind).engagement_m; }
  /// A leg welded to a tube: the tube's length does the same.
  bool tube_does(std::size_t row, bool behind) const {
    const joint::Joint& at = joint(row, behind);
    const auto& other = behind ? at.downstream.row : at.upstream.row;
    return at.kind == joint::Kind::weld && other &&
           std::holds_alternative<build::Tube>(run_.pieces[*other].shape);
  }
  double longest(std::size_t row, double otherwise_m) const {
    const build::StockItem* const bought = item(row);
    const bool by_piece = bought && bought->per == build::Per::each && bought->length_m;
    return by_piece ? *bought->length_m : otherwise_m;
  }

  void add_all(std::size_t row, const build::Tube&) {
    const double behind_m = covered_m(row, true);
    const double least_m = std::max(covered_m(row, false), last_fitting_m(run_, row)) + behind_m + spare_m;
    add(row, What::length, least_m, longest(row, longest_tube_m));
  }
  void add_all(std::size_t row, const build::Hose& hose) {
    add(row, What::length, hose.engagement.in_m + hose.engagement.out_m + hose_gap_m,
        longest(row, longest_hose_m));
  }
  void add_all(std::size_t row, const build::TubeBend& bend) {
    add_bend(row, bend, covered_m(row, false), covered_m(row, true));
    if (const auto most_rad = most_angle(row, bend))
      add(row, What::angle, least_cut_rad, *most_rad);
  }
  void add_all(std::size_t row, const build::MitredBend& bend) {
    add_bend(row, bend, covered_m(row, false), covered_m(row, true));
    if (!item(row))
      add(row, What::angle, least_cut_rad, bend.angle_rad);
  }
  void add_all(std::size_t row, const build::HoseElbow& elbow) {
    add_bend(row, elbow, elbow.engagement.in_m, elbow.engagement.out_m);
  }
  template <class Other> void add_all(std::size_t, const Other&) {}

  template <class Bend>
  void add_bend(std::size_t row, const Bend& bend, double covered_in_m, double covered_out_m) {
    double most_in_m = bend.leg_in_m, most_out_m = bend.leg_out_m;
    if (const build::StockItem* const bought = item(row)) {
      const double first_m = bought->leg_in_m.value_or(most_in_m),
                   second_m = bought->leg_out_m.value_or(most_out_m);
      const bool turned = most_in_m > first_m || most_out_m > second_m; // used the other way round
      most_in_m = turned ? second_m : first_m;
      most_out_m = turned ? first_m : second_m;
    }
    if (!tube_does(row, false))
      add(row, What::leg_in, covered_in_m, most_in_m);
    if (!tube_does(row, true))
      add(row, What::leg_out, covered_out_m, most_out_m);
    add(row, What::clocking, -pi, pi);
  }

  /// The angle that a tube bend is cut from; unset where a cut would leave it without the legs it has.
  std::optional<double> most_angle(std::size_t row, const build::TubeBend& bend) const {
    const build::StockItem* const bought = item(row);
    if (!bought || !bought->angle_rad)
      return bend.angle_rad;
    build::Piece cut = run_.pieces[row];
    std::get<build::TubeBend>(cut.shape).angle_rad = least_cut_rad;
    if (stock::serves(*bought, run_.pieces[row]) && !stock::serves(*bought, cut))
      return std::nullopt;
    return *bought->angle_rad;
  }
};

Error complaint(const Freedom& freedom, std::string found, std::string accepted) {
  Error error;
  error.place.path = fmt::format("row {} {}", freedom.row + 1, key(freedom.what));
  error.found = std::move(found);
  error.accepted = std::move(accepted);
  return error;
}

std::string sizes_of(const build::Shape& shape) {
  std::vector<std::string_view> keys;
  for (const What what : all_sizes)
    if (value(shape, what))
      keys.push_back(key(what));
  return keys.empty() ? "another row: it has no size that can move"
                      : fmt::format("{}", fmt::join(keys, ", "));
}

} // namespace

double last_fitting_m(const build::Run& run, std::size_t row) {
  double last_m = 0;
  for (++row; row < run.pieces.size() && build::is_fitting(run.pieces[row].shape); ++row)
    last_m = std::max(last_m, std::visit(
                                  [](const auto& s) {
                                    if constexpr (requires { s.position_m; })
                                      return s.position_m;
                                    else
                                      return 0.0;
                                  },
                                  run.pieces[row].shape));
  return last_m;
}

Range possible(const build::Run& run, std::size_t row, What what) {
  const build::Shape& shape = run.pieces[row].shape;
  if (what == What::clocking)
    return {-2 * pi, 2 * pi};
  if (what == What::angle) {
    const auto* mitred = std::get_if<build::MitredBend>(&shape);
    return {least_angle_rad, mitred ? std::min(2 * pi, mitred->joints * 2 * pi / 3) : 2 * pi};
  }
  const double least_m = std::visit(
      [what](const auto& s) {
        if constexpr (requires { s.engagement; }) {
          const build::Engagement& over = s.engagement;
          if constexpr (requires { s.hump_length_m; })
            return s.hump_length_m + std::max(2 * std::max(over.in_m, over.out_m), shortest_m);
          else if (what == What::length)
            return std::max(over.in_m + over.out_m, shortest_m);
          return what == What::leg_in ? over.in_m : over.out_m;
        } else {
          return what == What::length ? shortest_m : 0.0;
        }
      },
      shape);
  return {what == What::length ? std::max(least_m, last_fitting_m(run, row)) : least_m, longest_m};
}

std::vector<Freedom> freedoms(const build::Build& build, const build::OptionId& option,
                              const build::RunId& run) {
  const build::Option* const chosen = build.find(option);
  assert(chosen != nullptr && chosen->find(run) != nullptr);
  return Finder(build, *chosen->find(run)).find();
}

std::optional<Error> validate(const build::Run& run, const std::vector<Freedom>& freedoms) {
  std::set<std::pair<std::size_t, What>> seen;
  for (const Freedom& each : freedoms) {
    if (each.row >= run.pieces.size())
      return complaint(each, fmt::format("row {}", each.row + 1),
                       fmt::format("a row from 1 to {}", run.pieces.size()));
    const build::Shape& shape = run.pieces[each.row].shape;
    if (!value(shape, each.what))
      return complaint(each, fmt::format("{} of a {}", name(each.what), build::kind_name(shape)),
                       sizes_of(shape));
    if (!seen.insert({each.row, each.what}).second)
      return complaint(each, "it twice", "each size once");
    if (!(each.weight > 0) || !std::isfinite(each.weight))
      return complaint(each, fmt::format("a weight of {}", each.weight), "a weight above 0");
    auto [low, high] = possible(run, each.row, each.what);
    const double present = *value(shape, each.what); // a build may hold it, so it can be made
    low = std::min(low, present);
    high = std::max(high, present);
    if (!(each.low <= each.high) || each.low < low || each.high > high)
      return complaint(
          each, fmt::format("{} to {}", written(each.what, each.low), written(each.what, each.high)),
          fmt::format("limits in order, from {} to {}", written(each.what, low), written(each.what, high)));
  }
  return std::nullopt;
}

} // namespace bellmouth::route
