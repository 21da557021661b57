// SPDX-License-Identifier: GPL-3.0-or-later
#include "piece_text.hpp"

#include "units.hpp"

#include <QStringList>

#include <algorithm>
#include <cmath>

namespace bellmouth::ui {

using quantity::Dimension;

namespace {

QString words(const std::string& id) {
  return QString::fromStdString(id).replace('_', ' ');
}

/// A length as a bare number in the unit shown.
QString bare_length(double length_m) {
  const QString text = show(Dimension::length, length_m, 4);
  return text.left(text.lastIndexOf(' '));
}

QString bores(const build::Shape& shape) {
  const double in_m = build::bore_in_m(shape), out_m = build::bore_out_m(shape);
  return std::abs(in_m - out_m) < 1e-5 ? bare_length(in_m) : bare_length(in_m) + "–" + bare_length(out_m);
}

} // namespace

QString run_name(const build::RunId& run) {
  return words(run.text);
}
QString option_name(const build::OptionId& option) {
  return words(option.text);
}

QString with_branch(const build::Build& build, std::size_t step, const QString& name) {
  const std::string& branch = build.path[step].branch.text;
  return branch.empty() ? name : QString("%1: %2").arg(words(branch), name);
}

QString piece_title(const build::Piece& piece) {
  const auto title = build::title(piece);
  return QString::fromUtf8(title.data(), static_cast<qsizetype>(title.size()));
}

QString short_size(const build::Shape& shape) {
  if (const auto* boss = std::get_if<build::SensorBoss>(&shape))
    return QString::fromStdString(boss->thread);
  if (const auto* flange = std::get_if<build::ValveFlange>(&shape))
    return "⌀" + bare_length(flange->bore_m);
  const double angle_rad = build::angle_rad(shape);
  return "⌀" + bores(shape) + " × " +
         (angle_rad > 0 ? show_angle(angle_rad) : bare_length(build::full_length_m(shape)));
}

QString long_size(const build::Shape& shape) {
  if (const auto* boss = std::get_if<build::SensorBoss>(&shape))
    return QString("thread %1, %2 from the inlet end")
        .arg(QString::fromStdString(boss->thread), show_length(boss->position_m));
  if (const auto* flange = std::get_if<build::ValveFlange>(&shape))
    return QString("hole %1, %2 from the inlet end")
        .arg(show_length(flange->bore_m), show_length(flange->position_m));
  const double in_m = build::bore_in_m(shape), out_m = build::bore_out_m(shape);
  QString text = std::abs(in_m - out_m) < 1e-5
                     ? QString("bore %1").arg(show_length(in_m))
                     : QString("bore %1 to %2").arg(show_length(in_m), show_length(out_m));
  text += QString(", length %1").arg(show_length(build::full_length_m(shape)));
  if (const double angle_rad = build::angle_rad(shape); angle_rad > 0)
    text += QString(", %1").arg(show_angle(angle_rad));
  return text;
}

QString piece_tip(const build::Piece& piece, const RunResult& result, std::size_t row) {
  QStringList lines{QString("<b>%1</b>").arg(piece_title(piece).toHtmlEscaped()), long_size(piece.shape)};
  if (row < result.flow.rows.size()) {
    const auto& flow = result.flow.rows[row];
    if (!build::is_fitting(piece.shape)) {
      lines << "drop " + show_drop_with_band(flow.drop_Pa, flow.drop_low_Pa, flow.drop_high_Pa);
      lines << QString("loss coefficient %1").arg(show_ratio(flow.loss_coefficient, 3));
    }
    lines << QString("%1, Mach %2")
                 .arg(show_velocity(flow.inlet.station.velocity_m_s), show_ratio(flow.inlet.station.mach));
    lines << show_pressure_abs(flow.outlet.station.static_pressure_Pa) + " static, " +
                 show_temperature(flow.outlet.station.total_temperature_K);
    if (flow.outside_range)
      lines << "outside the range of its loss correlation: take the band for wider";
  }
  return lines.join("<br>");
}

QString machine_figure(const build::MachineKind& kind, const flow::MachineFlow& flow) {
  if (build::is_blower(kind))
    return "ratio " + show_ratio(flow.pressure_ratio);
  if (std::holds_alternative<machine::ChargeCooler>(kind))
    return show_temperature(flow.outlet.total_temperature_K);
  return show_pressure_difference(-flow.drop_Pa);
}

QString machine_tip(const build::Machine& machine, const flow::MachineFlow* flow) {
  QStringList lines{QString("<b>%1</b>").arg(QString::fromStdString(machine.name).toHtmlEscaped())};
  const auto kind = build::kind_name(machine.kind);
  lines << QString::fromUtf8(kind.data(), static_cast<qsizetype>(kind.size())) +
               (machine.mounting == build::Mounting::engine ? ", mounted on the engine"
                                                            : ", mounted on the body");
  if (flow) {
    lines << (flow->drop_Pa >= 0 ? "drop " + show_pressure_difference(flow->drop_Pa)
                                 : "rise " + show_pressure_difference(-flow->drop_Pa));
    lines << "out: " + show_pressure_abs(flow->outlet.total_pressure_Pa) + ", " +
                 show_temperature(flow->outlet.total_temperature_K);
    if (flow->shaft_power_W != 0)
      lines << "drive power " + show_power(flow->shaft_power_W);
    if (flow->heat_W != 0)
      lines << "heat taken out " + show_power(flow->heat_W);
  }
  return lines.join("<br>");
}

const RunResult* find_run(const Evaluation& evaluation, const build::RunId& run) {
  const auto found = std::ranges::find(evaluation.runs, run, &RunResult::id);
  return found == evaluation.runs.end() ? nullptr : &*found;
}

const flow::MachineFlow* find_machine(const build::Build& build, const Evaluation& evaluation,
                                      std::size_t step) {
  const auto before =
      std::count_if(build.path.begin(), build.path.begin() + static_cast<std::ptrdiff_t>(step),
                    [](const build::PathStep& s) { return std::holds_alternative<build::MachineId>(s); });
  const auto index = static_cast<std::size_t>(before);
  return evaluation.path.point.usable() && index < evaluation.path.machines.size()
             ? &evaluation.path.machines[index]
             : nullptr;
}

} // namespace bellmouth::ui
