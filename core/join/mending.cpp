// SPDX-License-Identifier: GPL-3.0-or-later
#include "mending.hpp"

#include "seat.hpp"
#include "words.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <tuple>

namespace bellmouth::join {

Mending::Mending(const build::Build& all, const Evaluation& evaluated, const check::Finding& found,
                 const trade::Limits& set)
    : build(all), evaluation(evaluated), finding(found), limits(set), option(*all.find(evaluated.option)),
      shop(all, option, set) {}

const RunResult& Mending::result(const build::RunId& id) const {
  const auto found = std::ranges::find(evaluation.runs, id, &RunResult::id);
  assert(found != evaluation.runs.end());
  return *found;
}

RunWork& Mending::run(const build::RunId& id) {
  const auto known = std::ranges::find_if(works_, [&](const RunWork& work) { return work.run().id == id; });
  if (known != works_.end())
    return *known;
  return works_.emplace_back(shop, *option.find(id), duty_of(build, result(id).flow));
}

RunWork* Mending::run() {
  if (finding.where.piece)
    return &run(finding.where.piece->run);
  // A run without pieces is named only.
  for (const auto& each : option.runs)
    if (each->pieces.empty() && (finding.where.text == words(each->id.text) ||
                                 finding.where.text.starts_with(words(each->id.text) + ",")))
      return &run(each->id);
  return nullptr;
}

std::optional<std::size_t> Mending::row() const {
  return finding.where.piece ? std::optional(finding.where.piece->row) : std::nullopt;
}

std::vector<std::size_t> Mending::joints() {
  const RunWork* work = run();
  std::vector<std::size_t> found;
  if (work == nullptr)
    return found;
  const auto at = row();
  for (std::size_t index = 0; index < work->fit().joints.size(); ++index) {
    const joint::Joint& joint = work->fit().joints[index];
    if (!at || joint.upstream.row == at || joint.downstream.row == at)
      found.push_back(index);
  }
  return found;
}

std::vector<double> Mending::gauges_Pa(const build::RunId& id) const {
  const RunResult& run = result(id);
  return join::gauges_Pa(build, run.fit, run.flow);
}

bool Mending::has_new_pieces() const {
  return std::ranges::any_of(works_, [&](const RunWork& work) {
    return work.run().pieces.size() > option.find(work.run().id)->pieces.size();
  });
}

void Mending::roll_beads_at_new_pieces(const std::vector<IdFlow>& flows) {
  for (RunWork& work : works_)
    work.roll_beads(join::gauges_Pa(build, work.fit(), of_run(flows, work.run().id)), Ends::at_new_pieces);
}

Proposal Mending::proposal(std::string title) const {
  Proposal made{std::move(title), {}, open, changed.value_or(build)};
  // In order of flow.
  for (const RunResult& result : evaluation.runs)
    for (const RunWork& work : works_)
      if (work.run().id == result.id) {
        made.build = with_run(made.build, option.id, work.run());
        for (std::string& step : work.steps())
          made.steps.push_back(std::move(step));
      }
  made.steps.insert(made.steps.end(), steps.begin(), steps.end());
  return made;
}

bool make_hose_of_other(Mending& mending, RunWork& work, std::size_t row, const Serves& serves) {
  const build::Piece old = work.run().pieces[row];
  const bool elbow = std::holds_alternative<build::HoseElbow>(old.shape);
  const auto joint_at = [&](bool inlet) -> const joint::Joint& {
    return *std::ranges::find_if(work.fit().joints, [&](const joint::Joint& each) {
      return (inlet ? each.downstream.row : each.upstream.row) == row;
    });
  };
  const auto goes_on = [&](const joint::Joint& joint, double bore_m, double old_bore_m) {
    constexpr double same_m = 0.25e-3;
    return joint.kind == joint::Kind::hose ? mending.shop.fits(bore_m, joint.spigot().outer_diameter_m)
                                           : std::abs(bore_m - old_bore_m) <= same_m;
  };
  std::optional<build::Piece> best;
  std::tuple<double, std::int64_t> least;
  for (const Part& part : elbow ? mending.shop.elbows() : mending.shop.hoses()) {
    if (part.piece.shape.index() != old.shape.index() ||
        !goes_on(joint_at(true), build::bore_in_m(part.piece.shape), build::bore_in_m(old.shape)) ||
        !goes_on(joint_at(false), build::bore_out_m(part.piece.shape), build::bore_out_m(old.shape)))
      continue;
    build::Piece piece = old;
    piece.shape = part.piece.shape;
    piece.material = part.piece.material;
    piece.stock = part.item->id;
    piece.give = {};
    double off_m = std::abs(build::bore_in_m(piece.shape) - build::bore_in_m(old.shape)) +
                   std::abs(build::bore_out_m(piece.shape) - build::bore_out_m(old.shape));
    std::visit(
        [&](auto& shape) {
          if constexpr (requires { shape.engagement; }) {
            const auto& was = std::get<std::decay_t<decltype(shape)>>(old.shape);
            shape.engagement = was.engagement;
            if constexpr (requires { shape.radius_m; }) {
              off_m += std::abs(shape.radius_m - was.radius_m) + std::abs(shape.angle_rad - was.angle_rad);
              shape.angle_rad = was.angle_rad;
              shape.clocking_rad = was.clocking_rad;
              shape.leg_in_m = was.leg_in_m;
              shape.leg_out_m = was.leg_out_m;
            } else {
              shape.length_m = was.length_m;
            }
            if constexpr (requires { shape.lining; })
              shape.lining = was.lining;
            if constexpr (requires { shape.hump_length_m; })
              shape.hump_length_m = was.hump_length_m;
          }
        },
        piece.shape);
    if (!stock::serves(*part.item, piece) || !serves(*part.item, piece))
      continue;
    const std::tuple cost(off_m, mending.shop.price_minor(*part.item, piece));
    if (!best || cost < least) {
      best = std::move(piece);
      least = cost;
    }
  }
  if (!best)
    return false;
  std::string step = fmt::format("{}: replace it by {}", work.name(row), described(mending.build, *best));
  work.replace(row, *std::move(best), std::move(step));
  return true;
}

} // namespace bellmouth::join
