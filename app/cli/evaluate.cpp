// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_arguments.hpp"
#include "command.hpp"
#include "common_arguments.hpp"
#include "evaluation_json.hpp"
#include "findings_text.hpp"
#include "main_figures.hpp"
#include "table.hpp"

#include <bellmouth/bay/names.hpp>

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <charconv>
#include <functional>
#include <ostream>

namespace bellmouth::cli {

namespace {

constexpr double kPa_per_Pa = 1e-3;
constexpr double freezing_K = 273.15;

void print_main_figures(std::ostream& out, const std::vector<MainFigure>& figures) {
  std::vector<Cells> rows;
  for (const MainFigure& figure : figures)
    if (figure.value)
      rows.push_back({std::string(figure.words), figure.text(), std::string(figure.unit)});
  print_section(out, "Operating point", {"figure", "value", "unit"}, rows);
}

void print_machines(std::ostream& out, const std::vector<MachineOnPath>& machines) {
  std::vector<Cells> rows;
  rows.reserve(machines.size());
  for (const auto& [machine, flow] : machines)
    rows.push_back({build::title(*machine), std::string(build::kind_name(machine->kind)),
                    fixed(flow->inlet.total_pressure_Pa * kPa_per_Pa, 2),
                    fixed(flow->outlet.total_pressure_Pa * kPa_per_Pa, 2),
                    fixed(flow->inlet.total_temperature_K - freezing_K, 1),
                    fixed(flow->outlet.total_temperature_K - freezing_K, 1),
                    fixed(flow->drop_Pa * kPa_per_Pa, 3)});
  print_section(out, "Machines",
                {"machine", "kind", "in [kPa]", "out [kPa]", "in [°C]", "out [°C]", "lost [kPa]"}, rows);
}

void print_runs(std::ostream& out, const std::vector<RunResult>& runs, const flow::Bands& bands) {
  std::vector<Cells> rows;
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const RunResult& run = runs[i];
    std::optional<double> gap_mm, angle_deg;
    if (run.meeting) {
      gap_mm = run.meeting->gap_m * mm_per_m;
      angle_deg = run.meeting->angle_rad * deg_per_rad;
    }
    rows.push_back({run.id.text, fixed(run.length_m * mm_per_m, 1), fixed(run.flow.volume_m3 * 1e3, 2),
                    fixed(run.flow.drop_Pa * kPa_per_Pa, 3), fixed(bands.run_drops_Pa[i].low * kPa_per_Pa, 3),
                    fixed(bands.run_drops_Pa[i].high * kPa_per_Pa, 3), fixed(run.flow.peak_velocity_m_s, 1),
                    fixed(run.flow.peak_mach, 3), fixed(gap_mm, 1), fixed(angle_deg, 2)});
  }
  print_section(out, "Runs",
                {"run", "length [mm]", "volume [L]", "lost [kPa]", "low", "high", "peak [m/s]", "peak Mach",
                 "end gap [mm]", "end angle [°]"},
                rows);
}

/// The tightest place of each run.
void print_clearances(std::ostream& out, const build::Build& build, const Evaluation& evaluation,
                      const Clearances& clearances) {
  const build::Option& option = *build.find(evaluation.option);
  std::vector<Cells> rows;
  for (std::size_t i = 0; i < clearances.runs.size(); ++i)
    if (const bay::Gap* const gap = clearances.runs[i].closest()) {
      const build::RunId& run = evaluation.runs[i].id;
      rows.push_back({run.text, std::to_string(gap->row + 1),
                      std::string(build::title(option.find(run)->pieces[gap->row])),
                      fixed(gap->distance_m * mm_per_m, 1), fixed(gap->required_m * mm_per_m, 1),
                      bay::name_of(build, option, gap->neighbour)});
    }
  if (!rows.empty())
    print_section(out,
                  clearances.state ? "Tightest places in state " + clearances.state->text : "Tightest places",
                  {"run", "row", "piece", "distance [mm]", "wanted [mm]", "from"}, rows);
}

/// The states that were asked for.
void print_taps(std::ostream& out, const std::vector<Tap>& taps) {
  std::vector<Cells> rows;
  for (const Tap& tap : taps) {
    const air::Station& station = tap.state.station;
    rows.push_back({tap.run.text, std::to_string(tap.row + 1), fixed(tap.distance_m * mm_per_m, 1),
                    fixed(station.total_pressure_Pa * kPa_per_Pa, 3),
                    fixed(station.static_pressure_Pa * kPa_per_Pa, 3),
                    fixed(station.total_temperature_K - freezing_K, 1), fixed(station.velocity_m_s, 1),
                    fixed(station.mach, 3), fixed(station.density_kg_m3, 4)});
  }
  if (!rows.empty())
    print_section(out, "At the places asked for",
                  {"run", "row", "at [mm]", "total [kPa]", "static [kPa]", "total [°C]", "velocity [m/s]",
                   "Mach", "density [kg/m3]"},
                  rows);
}

std::string signed_fixed(double value, int decimals) {
  return (value > 0 ? "+" : "") + fixed(value, decimals);
}

void print_bands(std::ostream& out, const flow::Bands& bands) {
  const auto row = [](const char* words, const flow::Banded& banded, double factor, double offset,
                      int decimals, const char* unit) {
    return Cells{words, fixed(banded.value * factor + offset, decimals),
                 fixed(banded.low * factor + offset, decimals),
                 fixed(banded.high * factor + offset, decimals), unit};
  };
  std::vector<Cells> rows{
      row("manifold pressure, absolute", bands.manifold_pressure_Pa, kPa_per_Pa, 0, 2, "kPa"),
      row("manifold temperature", bands.manifold_temperature_K, 1, -freezing_K, 1, "°C"),
      row("mass flow", bands.mass_flow_kg_s, 1, 0, 4, "kg/s")};
  if (bands.crank_power_W.value != 0) {
    rows.push_back(row("power at the crank", bands.crank_power_W, 1e-3, 0, 1, "kW"));
    rows.push_back(row("power of the drive", bands.drive_power_W, 1e-3, 0, 2, "kW"));
  }
  print_section(out, "How far to trust it (about 19 in 20)", {"figure", "value", "low", "high", "unit"},
                rows);
  rows.clear();
  for (const flow::Doubt& doubt : bands.doubts)
    rows.push_back({doubt.name, doubt.source, signed_fixed(doubt.manifold_pressure_low_Pa * kPa_per_Pa, 3),
                    signed_fixed(doubt.manifold_pressure_high_Pa * kPa_per_Pa, 3),
                    signed_fixed(doubt.crank_power_low_W * 1e-3, 2),
                    signed_fixed(doubt.crank_power_high_W * 1e-3, 2)});
  print_section(out, "Where the doubt comes from",
                {"in doubt", "source", "manifold, low [kPa]", "high", "crank, low [kW]", "high"}, rows);
}

Cells cost_row(const std::string& what, const std::string& which, const flow::Cost& cost) {
  const auto shown = [&](double value, int decimals) {
    return fixed(cost.known ? std::optional(value) : std::nullopt, decimals);
  };
  return {what, which, shown(cost.power_W, 0), shown(cost.air_kg_s * 1e3, 2),
          shown(cost.pressure_Pa * kPa_per_Pa, 3)};
}

/// What would be won if one thing lost nothing, dearest first.
void print_costs(std::ostream& out, const build::Build& build, const Evaluation& evaluation,
                 const flow::Costs& costs) {
  if (evaluation.path.point.stop != flow::Stop::converged)
    return;
  std::vector<std::pair<double, Cells>> rows;
  const build::Option& option = *build.find(evaluation.option);
  for (std::size_t i = 0; i < costs.runs.size(); ++i) {
    const build::Run& chain = *option.find(evaluation.runs[i].id);
    for (std::size_t row = 0; row < chain.pieces.size(); ++row) {
      const flow::Cost& cost = costs.runs[i].rows[row];
      rows.emplace_back(cost.power_W, cost_row(fmt::format("{}, row {}", chain.id.text, row + 1),
                                               std::string(build::title(chain.pieces[row])), cost));
    }
  }
  const auto machines = machines_on_path(build, evaluation);
  for (std::size_t i = 0; i < machines.size(); ++i)
    if (!build::is_blower(machines[i].machine->kind))
      rows.emplace_back(costs.machines[i].power_W,
                        cost_row(std::string(build::kind_name(machines[i].machine->kind)),
                                 build::title(*machines[i].machine), costs.machines[i]));
  std::ranges::stable_sort(rows, std::greater<>(), &std::pair<double, Cells>::first);
  std::vector<Cells> cells;
  cells.reserve(rows.size() + 1);
  for (auto& [power, row] : rows)
    cells.push_back(std::move(row));
  cells.push_back(cost_row("all the ducting", "", costs.ducting));
  print_section(out, "What each costs (won if it lost nothing)",
                {"where", "what", "power [W]", "air [g/s]", "manifold [kPa]"}, cells);
}

/// Rows count from 1 here, as in the findings.
void print_pieces(std::ostream& out, const build::Option& option, const std::vector<RunResult>& runs) {
  std::vector<Cells> rows;
  bool outside = false;
  for (const RunResult& run : runs) {
    const build::Run& chain = *option.find(run.id);
    for (std::size_t row = 0; row < chain.pieces.size(); ++row) {
      const flow::PieceFlow& flow = run.flow.rows[row];
      const flow::Section& section = section_of(flow);
      outside = outside || flow.outside_range;
      rows.push_back({run.id.text, std::to_string(row + 1),
                      std::string(build::title(chain.pieces[row])) + (flow.outside_range ? " *" : ""),
                      fixed(section.bore_m * mm_per_m, 1),
                      fixed(run.fit.rows[row].centreline_length_m * mm_per_m, 1),
                      fixed(section.station.velocity_m_s, 1), fixed(section.station.mach, 3),
                      fixed(flow.loss_coefficient, 3), fixed(flow.drop_Pa, 0),
                      fixed(flow.outlet.station.static_pressure_Pa * kPa_per_Pa, 2),
                      fixed(flow.outlet.station.total_temperature_K - freezing_K, 1)});
    }
  }
  print_section(out, "Pieces",
                {"run", "row", "piece", "bore [mm]", "length [mm]", "velocity [m/s]", "Mach", "K",
                 "lost [Pa]", "out, static [kPa]", "out [°C]"},
                rows);
  if (outside)
    out << "* outside the range of its correlation; the band is wider\n\n";
}

void print_text(std::ostream& out, const build::Build& build, const Evaluation& evaluation,
                const Clearances& clearances, const std::vector<Tap>& taps) {
  out << build.title << ", option " << evaluation.option.text << "\n\n";
  print_main_figures(out, main_figures(build, evaluation));
  print_machines(out, machines_on_path(build, evaluation));
  const auto weighing = weigh(build, evaluation);
  assert(weighing.has_value()); // the point is usable
  if (weighing)
    print_runs(out, evaluation.runs, weighing->bands);
  print_clearances(out, build, evaluation, clearances);
  print_pieces(out, *build.find(evaluation.option), evaluation.runs);
  print_taps(out, taps);
  if (weighing) {
    print_costs(out, build, evaluation, weighing->costs);
    print_bands(out, weighing->bands);
  }
  const auto all = findings(build, evaluation, buy::purchase(build, evaluation.option));
  std::vector<Cells> rows;
  for (const check::Finding& finding : all)
    rows.push_back({std::string(check::text(finding.severity)), finding.where.text, finding.message});
  print_section(out, "Findings", {"severity", "where", "message"}, rows);
  out << count_text(all) << '\n';
  const flow::OperatingPoint& point = evaluation.path.point;
  out << fmt::format("solver: {}, residual {:.1e}, {} marches\n", flow::text(point.stop), point.residual,
                     point.iterations);
}

/// A place as typed, "RUN:ROW:DISTANCE".
tl::expected<Tap, Refusal> tap_at(const std::string& typed, const build::Build& build,
                                  const Evaluation& evaluation) {
  constexpr std::string_view flag = "--at";
  const std::size_t last = typed.rfind(':');
  const std::size_t first =
      last == std::string::npos || last == 0 ? std::string::npos : typed.rfind(':', last - 1);
  if (first == std::string::npos)
    return misfit(flag, typed, "RUN:ROW:DISTANCE, as in \"suction:2:120 mm\"");
  const build::RunId id{typed.substr(0, first)};
  const auto run = std::ranges::find(evaluation.runs, id, &RunResult::id);
  if (run == evaluation.runs.end()) {
    std::vector<std::string_view> names;
    for (const RunResult& one : evaluation.runs)
      names.push_back(one.id.text);
    return misfit(flag, id.text, fmt::format("{}", fmt::join(names, ", ")));
  }
  const auto& pieces = build.find(evaluation.option)->find(id)->pieces;
  const std::string row_text = typed.substr(first + 1, last - first - 1);
  std::size_t row = 0;
  const auto [end, trouble] = std::from_chars(row_text.data(), row_text.data() + row_text.size(), row);
  if (trouble != std::errc() || end != row_text.data() + row_text.size() || row < 1 || row > pieces.size() ||
      build::is_fitting(pieces[row - 1].shape))
    return misfit(flag, row_text,
                  fmt::format("a row of {} from 1 to {} that is no fitting", id.text, pieces.size()));
  --row;
  quantity::Reading reading;
  reading.default_unit = "mm";
  const auto distance_m = quantity::read(quantity::Dimension::length, typed.substr(last + 1), reading);
  if (!distance_m)
    return misfit(flag, distance_m.error());
  const double length_m = std::max(run->fit.rows[row].centreline_length_m, 0.0);
  if (*distance_m < 0 || *distance_m > length_m)
    return misfit(flag, typed.substr(last + 1),
                  fmt::format("0 to {}, the length of the piece",
                              quantity::write(quantity::Dimension::length, length_m, "mm", 6)));
  return Tap{id, row, *distance_m, tapping(build, evaluation, id, row, *distance_m)};
}

class Evaluate : public Command {
public:
  explicit Evaluate(CLI::App& app) {
    state_file(app, arguments_);
    state_option(app, arguments_);
    state_speed(app, arguments_);
    state_text(app, "--state", state_, "state of the bay that clearances are shown in; without it at rest",
               "NAME");
    app.add_option(
           "--at", places_,
           "place where the air's state is asked for, more than once if need be; the row counts from 1, "
           "the distance from its inlet")
        ->type_name("RUN:ROW:DISTANCE")
        ->expected(1)
        ->allow_extra_args(false)
        ->take_all();
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    const auto chosen = choose(arguments_, err);
    if (!chosen)
      return tl::unexpected(chosen.error());
    const auto state = find_state(chosen->build, state_);
    if (!state)
      return tl::unexpected(state.error());
    const Evaluation evaluation = evaluate(chosen->build, chosen->option, chosen->speed_rev_s);
    if (!evaluation.path.point.usable())
      return without_solution(reason(chosen->option, evaluation.path.point));
    std::vector<Tap> taps;
    for (const std::string& place : places_) {
      auto tap = tap_at(place, chosen->build, evaluation);
      if (!tap)
        return tl::unexpected(tap.error());
      taps.push_back(*std::move(tap));
    }
    const Clearances clearances{*state, clearances_in(chosen->build, evaluation, *state)};
    if (arguments_.as_json)
      print(out, json_of(chosen->build, evaluation, clearances, taps));
    else
      print_text(out, chosen->build, evaluation, clearances, taps);
    return done;
  }

private:
  BuildArguments arguments_;
  std::optional<std::string> state_;
  std::vector<std::string> places_;
};

} // namespace

std::unique_ptr<Command> make_evaluate(CLI::App& app) {
  return std::make_unique<Evaluate>(app);
}

} // namespace bellmouth::cli
