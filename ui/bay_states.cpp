// SPDX-License-Identifier: GPL-3.0-or-later
#include "bay_states.hpp"

#include "piece_text.hpp"
#include "scene/vector.hpp"
#include "units.hpp"

#include <bellmouth/bay/names.hpp>

#include <QCoreApplication>

#include <algorithm>
#include <type_traits>

namespace bellmouth::ui {

namespace {

using scene::Part;

/// The share of the engine's movement that a solid makes.
double follows(const Session& session, const Part& part) {
  const auto mounted = [](build::Mounting mounting) {
    return mounting == build::Mounting::engine ? 1.0 : 0.0;
  };
  const build::Build& build = session.build();
  switch (part.kind) {
  case Part::Kind::port:
  case Part::Kind::arrow:
    return mounted(build.find(part.port)->mounting);
  case Part::Kind::keep_out:
  case Part::Kind::scan:
    return mounted(build.keep_outs[part.keep_out].mounting);
  case Part::Kind::piece:
  case Part::Kind::clamp:
    break;
  }
  const RunResult* run = find_run(session.evaluation(), part.run);
  if (!run || part.row >= run->room.rows.size())
    return 0;
  const std::size_t row = run->fit.rows[part.row].host.value_or(part.row);
  return (run->room.rows[row].follows_in + run->room.rows[row].follows_out) / 2;
}

TightPlace place_of(const Session& session, const bay::Gap& gap) {
  TightPlace place;
  place.from_m = gap.on_piece_m;
  place.to_m = gap.on_neighbour_m;
  place.judgement = gap.margin_m() < 0             ? TightPlace::Judgement::tight
                    : gap.margin_m() < gap.doubt_m ? TightPlace::Judgement::doubtful
                                                   : TightPlace::Judgement::fine;
  const build::Build& build = session.build();
  place.words =
      QString("%1 to %2")
          .arg(show_length(gap.distance_m),
               QString::fromStdString(bay::name_of(build, *build.find(session.option()), gap.neighbour)));
  return place;
}

} // namespace

double roll_share(const Session& session) {
  const build::BayState* state = session.bay_state() ? session.build().find(*session.bay_state()) : nullptr;
  return state && session.build().movement ? state->roll : 0;
}

mesh::Placement placement_in_state(const Session& session, const scene::Solid& solid) {
  const double roll = roll_share(session) * (roll_share(session) != 0 ? follows(session, solid.part) : 0);
  if (roll == 0)
    return solid.placement;
  const build::EngineMovement& movement = *session.build().movement;
  mesh::Placement placed = solid.placement;
  placed.origin_m = bay::moved(movement, roll, solid.placement.origin_m);
  for (std::size_t axis = 0; axis < 3; ++axis)
    placed.axes[axis] = scene::minus(
        bay::moved(movement, roll, scene::plus(solid.placement.origin_m, solid.placement.axes[axis])),
        placed.origin_m);
  return placed;
}

std::vector<bay::RunClearance> clearances_shown(const Session& session) {
  auto state = session.bay_state();
  if (state && !session.build().find(*state))
    state = std::nullopt;
  return clearances_in(session.build(), session.evaluation(), state);
}

std::vector<TightPlace> tight_places(const Session& session, const std::vector<bay::RunClearance>& clearances,
                                     std::size_t most) {
  std::vector<bay::Gap> tight;
  std::vector<TightPlace> clear;
  for (const bay::RunClearance& run : clearances) {
    tight.insert(tight.end(), run.tight.begin(), run.tight.end());
    constexpr double near_m = 0.1;
    if (const bay::Gap* closest = run.tight.empty() ? run.closest() : nullptr;
        closest && closest->distance_m < near_m)
      clear.push_back(place_of(session, *closest));
  }
  std::ranges::stable_sort(tight, {}, &bay::Gap::margin_m);
  std::vector<TightPlace> places;
  // Two runs that come near each other say so both: once is enough.
  const auto add = [&](TightPlace place) {
    constexpr double same_m = 1e-4;
    const auto near = [](const build::Vector& a, const build::Vector& b) {
      return scene::length(scene::minus(a, b)) < same_m;
    };
    if (std::ranges::none_of(places, [&](const TightPlace& known) {
          return near(known.from_m, place.to_m) && near(known.to_m, place.from_m);
        }))
      places.push_back(std::move(place));
  };
  for (const bay::Gap& gap : tight)
    if (places.size() < most)
      add(place_of(session, gap));
  for (TightPlace& place : clear)
    add(std::move(place));
  return places;
}

namespace {

/// The gap of a row, or the closest of the run; nullptr where nothing is known.
const bay::Gap* find_gap(const Session& session, const std::vector<bay::RunClearance>& clearances,
                         const build::RunId& run, std::optional<std::size_t> row) {
  const auto& runs = session.evaluation().runs;
  const auto found = static_cast<std::size_t>(std::ranges::find(runs, run, &RunResult::id) - runs.begin());
  if (found >= clearances.size())
    return nullptr;
  if (!row)
    return clearances[found].closest();
  const auto& nearest = clearances[found].nearest;
  return *row < nearest.size() && nearest[*row] ? &*nearest[*row] : nullptr;
}

} // namespace

QString clearance_words(const Session& session, const std::vector<bay::RunClearance>& clearances,
                        const build::RunId& run, std::size_t row) {
  const bay::Gap* gap = find_gap(session, clearances, run, row);
  return gap ? QString("%1; %2 asked for").arg(place_of(session, *gap).words, show_length(gap->required_m))
             : QString();
}

std::vector<Fact> clearance_facts(const Session& session, const build::RunId& run,
                                  std::optional<std::size_t> row) {
  const auto text = [](const char* words) { return QCoreApplication::translate("BayStates", words); };
  const auto clearances = clearances_shown(session);
  const bay::Gap* gap = find_gap(session, clearances, run, row);
  if (gap == nullptr)
    return {};
  return {{text("Clearance"),
           text("%1, %2 wanted").arg(show_length(gap->distance_m), show_length(gap->required_m)),
           text("To what is nearest, and what that asks for, in the state of the bay that is looked at")},
          {text("Nearest to"),
           QString::fromStdString(
               bay::name_of(session.build(), *session.build().find(session.option()), gap->neighbour)),
           text("Keep-out, port or piece")}};
}

} // namespace bellmouth::ui
