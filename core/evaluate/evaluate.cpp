// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/evaluate.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

namespace bellmouth {
namespace {

/// The runs of an option in the order of the path, with their joints.
struct Layout {
  std::vector<const build::Run*> runs;
  std::vector<joint::RunFit> fits;
};

Layout lay_out(const build::Build& build, const build::Option& option) {
  Layout layout;
  for (const auto& step : build.path) {
    const auto* id = std::get_if<build::RunId>(&step);
    if (id == nullptr)
      continue;
    const build::Run* run = option.find(*id);
    assert(run != nullptr);
    layout.runs.push_back(run);
  }
  layout.fits = joint::fits(build, option);
  return layout;
}

double working_speed(const build::Build& build, std::optional<double> asked) {
  if (asked)
    return *asked;
  const auto* engine = std::get_if<machine::Engine>(&build.demand);
  return engine != nullptr ? engine->working_speed_rev_s : 0.0;
}

RunResult place(const build::Build& build, const build::Run& run, joint::RunFit fit) {
  RunResult result;
  result.id = run.id;
  for (const joint::Row& row : fit.rows)
    result.length_m += row.centreline_length_m;
  const std::vector<bay::Track> tracks = joint::tracks(run, fit);
  result.frames = bay::place(build.find(run.from)->pose, tracks);
  result.room = bay::room(build, run, tracks, result.frames);
  result.meeting = bay::meeting(result.frames, build.find(run.to)->pose);
  result.joints = static_cast<int>(fit.joints.size());
  result.fit = std::move(fit);
  return result;
}

/// What is tight at rest, then in each state of the bay.
std::vector<std::vector<bay::RunClearance>> in_all_states(const build::Build& build,
                                                          const std::vector<bay::RunRoom>& rooms) {
  std::vector<std::vector<bay::RunClearance>> result{
      bay::clearances(build, rooms, std::nullopt, bay::Wanted::tight)};
  for (const build::BayState& state : build.states)
    result.push_back(bay::clearances(build, rooms, state.id, bay::Wanted::tight));
  return result;
}

/// Volume of the runs behind the blower: what has to be filled when pressure is called for.
double volume_under_pressure_m3(const build::Build& build, const Evaluation& evaluation) {
  double volume = 0;
  bool behind = false;
  std::size_t run = 0;
  for (const auto& step : build.path) {
    if (const auto* id = std::get_if<build::MachineId>(&step))
      behind = behind || build::is_blower(build.find(*id)->kind);
    else if (const auto index = run++; behind)
      volume += evaluation.runs[index].flow.volume_m3;
  }
  return volume;
}

/// Air that the ducting costs and the time to fill it, from the operating point and the one without ducts.
void compare_with_ideal(const build::Build& build, const flow::Path& path, Evaluation& evaluation) {
  const auto& point = evaluation.path.point;
  if (point.stop != flow::Stop::converged)
    return;
  const auto ideal = path.operating_point_without_ducts(point.engine_speed_rev_s, &point);
  if (ideal.usable() && ideal.mass_flow_kg_s > 0)
    evaluation.air_lost_to_ducting = 1 - point.mass_flow_kg_s / ideal.mass_flow_kg_s;
  const double volume = volume_under_pressure_m3(build, evaluation);
  if (point.mass_flow_kg_s > 0 && volume > 0) {
    const auto ambient = build::ambient_air(build.ambient);
    const double rise = ambient.air.density_kg_m3(point.manifold_pressure_Pa, point.manifold_temperature_K) -
                        ambient.air.density_kg_m3(ambient.pressure_Pa, ambient.temperature_K);
    if (rise > 0) {
      evaluation.fill_time_s = volume * rise / point.mass_flow_kg_s;
      constexpr double most_of_the_way = 0.95;
      const double reached =
          ambient.air.density_kg_m3(point.manifold_pressure_Pa, point.manifold_temperature_K);
      evaluation.response_time_s =
          flow::fill_time_s(volume, reached - rise, reached - (1 - most_of_the_way) * rise,
                            point.mass_flow_kg_s, point.mass_flow_kg_s / reached);
    }
  }
}

const build::Option& option_of(const build::Build& build, const build::OptionId& id) {
  const build::Option* option = build.find(id);
  assert(option != nullptr);
  return *option;
}

} // namespace

Evaluation evaluate(const build::Build& build, const build::OptionId& option_id,
                    std::optional<double> engine_speed_rev_s) {
  const build::Option& option = option_of(build, option_id);
  Evaluation evaluation;
  evaluation.option = option_id;
  evaluation.stock = build.stock;
  const Layout layout = lay_out(build, option);
  const flow::Path path(build, option, layout.fits);
  evaluation.path = path.solve(working_speed(build, engine_speed_rev_s));
  evaluation.lists = list::make({build, option, layout.runs, layout.fits, &evaluation.path});

  std::vector<std::optional<bay::Meeting>> meetings;
  std::vector<bay::RunRoom> rooms;
  evaluation.runs.reserve(layout.runs.size());
  rooms.reserve(layout.runs.size());
  for (std::size_t i = 0; i < layout.runs.size(); ++i) {
    evaluation.runs.push_back(place(build, *layout.runs[i], layout.fits[i]));
    meetings.push_back(evaluation.runs.back().meeting);
    rooms.push_back(evaluation.runs.back().room);
  }
  auto clearances = in_all_states(build, rooms);
  evaluation.findings = check::check({build, option, layout.runs, layout.fits, evaluation.path, meetings,
                                      evaluation.lists, rooms, clearances},
                                     build::limits_of(build));
  for (std::size_t i = 0; i < evaluation.runs.size(); ++i)
    evaluation.runs[i].clearance = std::move(clearances.front()[i]);

  if (evaluation.path.point.usable()) {
    for (std::size_t i = 0; i < evaluation.runs.size(); ++i) {
      evaluation.runs[i].flow = std::move(evaluation.path.runs[i]);
      evaluation.duct_volume_m3 += evaluation.runs[i].flow.volume_m3;
      evaluation.duct_drop_Pa += evaluation.runs[i].flow.drop_Pa;
    }
    evaluation.path.runs.clear();
    compare_with_ideal(build, path, evaluation);
  }
  return evaluation;
}

std::vector<bay::RunClearance> clearances_in(const build::Build& build, const Evaluation& evaluation,
                                             const std::optional<build::StateId>& state) {
  std::vector<bay::RunRoom> rooms;
  rooms.reserve(evaluation.runs.size());
  for (const RunResult& run : evaluation.runs)
    rooms.push_back(run.room);
  return bay::clearances(build, rooms, state);
}

std::vector<check::Finding> findings(const build::Build& build, const Evaluation& evaluation,
                                     const buy::Purchase& purchase) {
  std::vector<check::Finding> all = evaluation.findings;
  for (check::Finding& finding : check::check_purchase(build, purchase))
    all.push_back(std::move(finding));
  std::ranges::stable_sort(all, std::greater(), &check::Finding::severity);
  return all;
}

std::optional<Weighing> weigh(const build::Build& build, const Evaluation& evaluation) {
  const auto& point = evaluation.path.point;
  if (!point.usable())
    return std::nullopt;
  const build::Option& option = option_of(build, evaluation.option);
  const flow::Path path(build, option, joint::fits(build, option));
  return Weighing{path.costs(point), path.bands(point)};
}

flow::Section tapping(const build::Build& build, const Evaluation& evaluation, const build::RunId& run,
                      std::size_t row, double distance_m) {
  const build::Option& option = option_of(build, evaluation.option);
  const auto found = std::ranges::find(evaluation.runs, run, &RunResult::id);
  assert(found != evaluation.runs.end());
  const flow::Path path(build, option, joint::fits(build, option));
  return path.tapping(evaluation.path.point, static_cast<std::size_t>(found - evaluation.runs.begin()), row,
                      distance_m);
}

std::vector<flow::OperatingPoint> sweep(const build::Build& build, const build::OptionId& option_id,
                                        const std::vector<double>& engine_speeds_rev_s) {
  const build::Option& option = option_of(build, option_id);
  const flow::Path path(build, option, joint::fits(build, option));
  std::vector<flow::OperatingPoint> points;
  points.reserve(engine_speeds_rev_s.size());
  for (const double speed : engine_speeds_rev_s)
    points.push_back(path.operating_point(speed, points.empty() ? nullptr : &points.back()));
  return points;
}

build::Build with_run_in_size(const build::Build& build, const build::OptionId& option,
                              const build::RunId& id, const stock::TubeSize& tube) {
  build::Build resized = build::with_run_bore(build, option, id, tube.outer_diameter_m, tube.wall_m);
  const build::Run run = *option_of(resized, option).find(id);
  for (std::size_t row = 0; row < run.pieces.size(); ++row) {
    build::Piece piece = run.pieces[row];
    if (build::is_rigid(piece.shape))
      piece.material = tube.material;
    if (!build::is_fitting(piece.shape))
      if (auto bought = stock::nearest_in_stock(resized, piece))
        piece = *std::move(bought);
    resized = build::with_piece_replaced(resized, {option, id, row}, std::move(piece));
  }
  return resized;
}

namespace {

/// Whether the run is all in that size already: every rigid piece of one diameter.
bool is_in_size(const build::Run& run, const stock::TubeSize& tube) {
  const auto in_it = [&](const build::Piece& piece) {
    return !build::is_rigid(piece.shape) ||
           (piece.material == tube.material &&
            std::abs(build::outer_diameter_in_m(piece.shape) - tube.outer_diameter_m) < 1e-5 &&
            std::abs(build::wall_m(piece.shape) - tube.wall_m) < 1e-5);
  };
  return std::all_of(run.pieces.begin(), run.pieces.end(), in_it);
}

} // namespace

std::vector<SizeRow> size(const build::Build& build, const build::OptionId& option, const build::RunId& run,
                          std::optional<double> engine_speed_rev_s) {
  std::vector<SizeRow> rows;
  for (const auto& tube : stock::tube_sizes(build)) {
    const build::Build resized = with_run_in_size(build, option, run, tube);
    SizeRow row;
    row.size = tube;
    row.bore_m = tube.outer_diameter_m - 2 * tube.wall_m;
    row.as_it_is = is_in_size(*option_of(build, option).find(run), tube);
    row.refused = build::validate(resized);
    if (!row.refused) {
      const Evaluation evaluation = evaluate(resized, option, engine_speed_rev_s);
      const auto& point = evaluation.path.point;
      row.usable = point.usable();
      const auto found = std::find_if(evaluation.runs.begin(), evaluation.runs.end(),
                                      [&](const RunResult& result) { return result.id == run; });
      if (row.usable && found != evaluation.runs.end()) {
        row.peak_velocity_m_s = found->flow.peak_velocity_m_s;
        row.peak_mach = found->flow.peak_mach;
        row.drop_Pa = found->flow.drop_Pa;
        row.volume_m3 = found->flow.volume_m3;
        row.mass_flow_kg_s = point.mass_flow_kg_s;
        row.manifold_pressure_Pa = point.manifold_pressure_Pa;
      }
      row.stops = static_cast<int>(check::count(evaluation.findings, check::Severity::stop));
      const buy::Totals totals = buy::purchase(resized, option).totals;
      row.total = totals.total;
      row.unpriced = totals.unpriced;
    }
    rows.push_back(row);
  }
  return rows;
}

} // namespace bellmouth
