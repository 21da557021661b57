// SPDX-License-Identifier: GPL-3.0-or-later
// Whether the ducting keeps off what is round it, and how well its surroundings are known.
#include "context.hpp"
#include "words.hpp"

#include <bellmouth/bay/clearance.hpp>
#include <bellmouth/bay/names.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <map>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>
#include <variant>
#include <vector>

namespace bellmouth::check {

namespace {

using enum Severity;

std::string tenths(double value_m) {
  return quantity::write_fixed(quantity::Dimension::length, value_m, "mm", 1);
}

std::string keep_out_name(const build::KeepOut& keep_out, std::size_t index) {
  return keep_out.name.empty() ? fmt::format("keep-out {}", index + 1) : keep_out.name;
}

/// A gap with the state it is worst in.
struct Worst {
  bay::Gap gap;
  std::size_t state = 0; ///< 0: at rest, else one more than the index among the build's states
};

/// A piece and its neighbour, in an order: to find them again among very many.
using Pair = std::tuple<std::size_t, std::size_t, std::string_view, std::size_t>;
Pair pair_of(const bay::Gap& gap) {
  const std::size_t kind = gap.neighbour.index();
  if (const auto* keep_out = std::get_if<bay::NearKeepOut>(&gap.neighbour))
    return {gap.row, kind, {}, keep_out->index};
  if (const auto* port = std::get_if<bay::NearPort>(&gap.neighbour))
    return {gap.row, kind, port->port.text, 0};
  const auto& piece = std::get<bay::NearPiece>(gap.neighbour);
  return {gap.row, kind, piece.run.text, piece.row};
}

/// Each piece and neighbour of a run that are too near in any state, once: where the margin is least.
std::vector<Worst> worst_of(const Facts& facts, std::size_t run) {
  std::vector<Worst> result;
  std::map<Pair, std::size_t> known;
  for (std::size_t state = 0; state < facts.clearances.size(); ++state)
    for (const bay::Gap& gap : facts.clearances[state][run].tight) {
      const auto [same, is_new] = known.try_emplace(pair_of(gap), result.size());
      if (is_new) {
        result.push_back({gap, state});
        continue;
      }
      Worst& worst = result[same->second];
      if (gap.margin_m() - gap.doubt_m < worst.gap.margin_m() - worst.gap.doubt_m - 1e-9)
        worst = {gap, state};
    }
  return result;
}

/// What helps where a piece is near something.
std::string_view remedy(const build::Build& build, const bay::Neighbour& neighbour) {
  if (std::holds_alternative<bay::NearPort>(neighbour))
    return "Hose and clamp need the room round a spigot. Lead the run past it.";
  const auto* near = std::get_if<bay::NearKeepOut>(&neighbour);
  if (near == nullptr)
    return "Ducts that touch chafe each other through. Turn a bend, or change a length, in one of them.";
  switch (build.keep_outs[near->index].keep_out_class) {
  case build::KeepOutClass::fixed:
    break;
  case build::KeepOutClass::moving:
    return "It moves, and cuts what it reaches. Lead the run past it, or hold the run off with a bracket.";
  case build::KeepOutClass::hot:
    return "Heat ages hose and warms the air, and hot exhaust parts move by centimetres. Lead the run past "
           "it, "
           "or put a shield between them and enter it.";
  }
  return "What touches chafes through. Turn the bend before it, or lead the run past.";
}

std::string in_state(const Context& c, std::size_t state) {
  return state == 0 ? std::string()
                    : fmt::format(", in state {}", words(c.facts.build.states[state - 1].id.text));
}

/// Pieces of an earlier run have said it already.
bool said_by_earlier_run(const Context& c, std::size_t run, const bay::Gap& gap) {
  const auto* near = std::get_if<bay::NearPiece>(&gap.neighbour);
  return near != nullptr && std::any_of(c.runs.begin(), c.runs.begin() + static_cast<std::ptrdiff_t>(run),
                                        [&](const RunView& earlier) { return earlier.run->id == near->run; });
}

void check_distances(Context& c, std::size_t index) {
  const RunView& run = c.runs[index];
  for (const auto& [gap, state] : worst_of(c.facts, index)) {
    if (said_by_earlier_run(c, index, gap))
      continue;
    const std::string name = bay::name_of(c.facts.build, c.facts.option, gap.neighbour);
    std::string helps(remedy(c.facts.build, gap.neighbour));
    const std::string where =
        fmt::format("{} along{}", millimetres(std::max(gap.along_m, 0.0)), in_state(c, state));
    if (gap.distance_m < 0)
      c.add_at_row(Id::too_near, stop, run, gap.row,
                   fmt::format("{} into {}, {}.", tenths(-gap.distance_m), name, where), std::move(helps));
    else if (gap.margin_m() < 0)
      c.add_at_row(Id::too_near, caution, run, gap.row,
                   fmt::format("{} from {}, {}; {} are wanted.", tenths(gap.distance_m), name, where,
                               millimetres(gap.required_m)),
                   std::move(helps));
    else
      c.add_at_row(Id::near_within_doubt, note, run, gap.row,
                   fmt::format("{} from {}, {}; {} are wanted, and the places may be off by {}.",
                               tenths(gap.distance_m), name, where, millimetres(gap.required_m),
                               millimetres(gap.doubt_m)),
                   "Measure again here before cutting, or leave more room.");
  }
}

/// The straight in front of a port, up to the first bend of the run seen from there.
void check_free_straight(Context& c, const RunView& run, const build::Port& port, bool at_start) {
  if (port.free_straight_m <= 0)
    return;
  double straight_m = 0;
  for (std::size_t i = 0; i < run.rows(); ++i) {
    const std::size_t row = at_start ? i : run.rows() - 1 - i;
    const joint::Row& covers = run.fit->rows[row];
    const bay::Track track = bay::track(run.shape(row), covers.cover_in_m, covers.cover_out_m);
    if (track.angle_rad <= 0) {
      straight_m += track.length_m();
      continue;
    }
    straight_m += at_start ? track.straight_in_m : track.straight_out_m;
    if (below(straight_m, port.free_straight_m))
      c.add_at_row(Id::bend_in_free_straight, caution, run, row,
                   fmt::format("The bend begins {} from port {}; {} of straight are wanted there.",
                               millimetres(straight_m), words(port.id.text),
                               millimetres(port.free_straight_m)),
                   "Put a straight tube between them, or take a bend with a longer leg.");
    return;
  }
}

void check_survey(Context& c, const RunView& run) {
  std::string assumed;
  for (const build::Port* port : {run.from, run.to})
    if (port->pose && port->survey && !port->survey->measured)
      assumed += fmt::format("{}Port {} is assumed, to {}.", assumed.empty() ? "" : " ", words(port->id.text),
                             millimetres(port->survey->tolerance_m));
  if (!assumed.empty())
    c.add_at_run(Id::assumed_place, note, run, std::move(assumed),
                 "Lengths and angles of this run are as good as that. Measure before cutting.");
}

void check_scans(Context& c) {
  const auto& keep_outs = c.facts.build.keep_outs;
  for (std::size_t i = 0; i < keep_outs.size(); ++i) {
    const auto* scan = std::get_if<build::Scan>(&keep_outs[i].shape);
    if (scan == nullptr)
      continue;
    if (!scan->problem.empty())
      c.add_at_whole(
          Id::scan_not_read, caution, keep_out_name(keep_outs[i], i), scan->problem,
          "Nothing is kept clear of it until it can be read. Put the file back, or choose another.");
    else if (scan->loaded && !scan->digest.empty() && scan->loaded->digest != scan->digest)
      c.add_at_whole(Id::scan_changed, caution, keep_out_name(keep_outs[i], i),
                     fmt::format("The file {} holds another mesh than when it was placed.", scan->file),
                     "It may lie wrong now. Check its three points, and place it again.");
  }
}

} // namespace

void check_clearance(Context& c) {
  for (std::size_t i = 0; i < c.runs.size(); ++i) {
    const RunView& run = c.runs[i];
    check_distances(c, i);
    check_free_straight(c, run, *run.from, true);
    check_free_straight(c, run, *run.to, false);
    check_survey(c, run);
  }
  check_scans(c);
}

} // namespace bellmouth::check
