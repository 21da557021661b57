// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_arguments.hpp"
#include "command.hpp"
#include "common_arguments.hpp"
#include "evaluation_json.hpp"
#include "findings_text.hpp"
#include "main_figures.hpp"
#include "table.hpp"

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>

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

void print_runs(std::ostream& out, const std::vector<RunResult>& runs) {
  std::vector<Cells> rows;
  for (const RunResult& run : runs) {
    std::optional<double> gap_mm, angle_deg;
    if (run.meeting) {
      gap_mm = run.meeting->gap_m * mm_per_m;
      angle_deg = run.meeting->angle_rad * deg_per_rad;
    }
    rows.push_back({run.id.text, fixed(run.length_m * mm_per_m, 1), fixed(run.flow.volume_m3 * 1e3, 2),
                    fixed(run.flow.drop_Pa * kPa_per_Pa, 3), fixed(run.flow.drop_low_Pa * kPa_per_Pa, 3),
                    fixed(run.flow.drop_high_Pa * kPa_per_Pa, 3), fixed(run.flow.peak_velocity_m_s, 1),
                    fixed(run.flow.peak_mach, 3), fixed(gap_mm, 1), fixed(angle_deg, 2)});
  }
  print_section(out, "Runs",
                {"run", "length [mm]", "volume [L]", "lost [kPa]", "low", "high", "peak [m/s]", "peak Mach",
                 "end gap [mm]", "end angle [°]"},
                rows);
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

void print_text(std::ostream& out, const build::Build& build, const Evaluation& evaluation) {
  out << build.title << ", option " << evaluation.option.text << "\n\n";
  print_main_figures(out, main_figures(build, evaluation));
  print_machines(out, machines_on_path(build, evaluation));
  print_runs(out, evaluation.runs);
  print_pieces(out, *build.find(evaluation.option), evaluation.runs);
  std::vector<Cells> rows;
  for (const check::Finding& finding : evaluation.findings)
    rows.push_back({std::string(check::text(finding.severity)), finding.where.text, finding.message});
  print_section(out, "Findings", {"severity", "where", "message"}, rows);
  out << count_text(evaluation.findings) << '\n';
  const flow::OperatingPoint& point = evaluation.path.point;
  out << fmt::format("solver: {}, residual {:.1e}, {} marches\n", flow::text(point.stop), point.residual,
                     point.iterations);
}

class Evaluate : public Command {
public:
  explicit Evaluate(CLI::App& app) {
    state_file(app, arguments_);
    state_option(app, arguments_);
    state_speed(app, arguments_);
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    const auto chosen = choose(arguments_, err);
    if (!chosen)
      return tl::unexpected(chosen.error());
    const Evaluation evaluation = evaluate(chosen->build, chosen->option, chosen->speed_rev_s);
    if (!evaluation.path.point.usable())
      return without_solution(reason(chosen->option, evaluation.path.point));
    if (arguments_.as_json)
      print(out, json_of(chosen->build, evaluation));
    else
      print_text(out, chosen->build, evaluation);
    return done;
  }

private:
  BuildArguments arguments_;
};

} // namespace

std::unique_ptr<Command> make_evaluate(CLI::App& app) {
  return std::make_unique<Evaluate>(app);
}

} // namespace bellmouth::cli
