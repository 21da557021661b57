// SPDX-License-Identifier: GPL-3.0-or-later
#include "main_figures.hpp"

#include "table.hpp"

#include <algorithm>

namespace bellmouth::cli {

namespace {

struct Source {
  const Evaluation& evaluation;
  const flow::OperatingPoint& point;
  const flow::MachineFlow* blower; ///< the first on the path; nullptr: none
};

using Value = std::optional<double>;

Value of_blower(const Source& source, double (*value)(const flow::MachineFlow&)) {
  return source.blower == nullptr ? Value() : value(*source.blower);
}

struct Row {
  MainFigure figure;
  Value (*value)(const Source&);
};

constexpr double freezing_K = -273.15;
constexpr std::string_view speed_pointer = "/engine_speed_rpm";

const Row table[] = {
    {{speed_pointer, "engine speed", "speed", "rpm", 1, 0, 0, {}},
     [](const Source& s) {
       return s.point.engine_speed_rev_s > 0 ? Value(s.point.engine_speed_rev_s * 60) : Value();
     }},
    {{"/mass_flow_kg_s", "mass flow", "mass flow", "kg/s", 1, 0, 4, {}},
     [](const Source& s) { return Value(s.point.mass_flow_kg_s); }},
    {{"/manifold/pressure_Pa", "manifold pressure, absolute", "manifold", "kPa", 1e-3, 0, 2, {}},
     [](const Source& s) { return Value(s.point.manifold_pressure_Pa); }},
    {{"/manifold/temperature_K", "manifold temperature", "manifold", "°C", 1, freezing_K, 1, {}},
     [](const Source& s) { return Value(s.point.manifold_temperature_K); }},
    {{"/blower/pressure_ratio", "blower pressure ratio", "ratio", "", 1, 0, 3, {}},
     [](const Source& s) {
       return of_blower(s, [](const flow::MachineFlow& b) { return b.pressure_ratio; });
     }},
    {{"/blower/outlet_temperature_K", "blower outlet temperature", "outlet", "°C", 1, freezing_K, 1, {}},
     [](const Source& s) {
       return of_blower(s, [](const flow::MachineFlow& b) { return b.outlet.total_temperature_K; });
     }},
    {{"/blower/drive_power_W", "power on the blower's shaft", "shaft", "kW", 1e-3, 0, 2, {}},
     [](const Source& s) {
       return of_blower(s, [](const flow::MachineFlow& b) { return b.shaft_power_W; });
     }},
    {{"/crank_power_W", "power at the crank, estimated", "crank", "kW", 1e-3, 0, 1, {}},
     [](const Source& s) { return s.point.engine_speed_rev_s > 0 ? Value(s.point.crank_power_W) : Value(); }},
    {{"/duct_pressure_drop_Pa", "lost in the ducts", "ducts", "kPa", 1e-3, 0, 3, {}},
     [](const Source& s) { return Value(s.evaluation.duct_drop_Pa); }},
    {{"/duct_volume_m3", "volume of the ducts", "", "L", 1e3, 0, 2, {}},
     [](const Source& s) { return Value(s.evaluation.duct_volume_m3); }},
    {{"/air_lost_to_ducting", "air lost to the ducts", "", "%", 1e2, 0, 2, {}},
     [](const Source& s) { return s.evaluation.air_lost_to_ducting; }},
    {{"/fill_time_s", "time to fill them", "", "ms", 1e3, 0, 1, {}},
     [](const Source& s) { return s.evaluation.fill_time_s; }},
    {{"/response_time_s", "time to 95 % of the pressure", "", "ms", 1e3, 0, 1, {}},
     [](const Source& s) { return s.evaluation.response_time_s; }},
};

} // namespace

std::vector<MachineOnPath> machines_on_path(const build::Build& build, const Evaluation& evaluation) {
  std::vector<MachineOnPath> machines;
  if (!evaluation.path.point.usable())
    return machines;
  for (const build::PathStep& step : build.path)
    if (const auto* id = std::get_if<build::MachineId>(&step))
      machines.push_back({build.find(*id), &evaluation.path.machines[machines.size()]});
  return machines;
}

std::string MainFigure::text() const {
  return value ? fixed(*value * factor + offset, decimals) : fixed(value, 0);
}

std::vector<MainFigure> main_figures(const build::Build& build, const Evaluation& evaluation) {
  const auto machines = machines_on_path(build, evaluation);
  const auto blower = std::ranges::find_if(
      machines, [](const MachineOnPath& each) { return build::is_blower(each.machine->kind); });
  const Source source{evaluation, evaluation.path.point, blower == machines.end() ? nullptr : blower->flow};
  std::vector<MainFigure> figures;
  for (const Row& row : table) {
    figures.push_back(row.figure);
    if (source.point.usable() || row.figure.pointer == speed_pointer)
      figures.back().value = row.value(source);
  }
  return figures;
}

std::string heading(std::string_view words, std::string_view unit) {
  return std::string(words) + (unit.empty() ? "" : " [" + std::string(unit) + "]");
}

Json json_of(const build::OptionId& option, const std::vector<MainFigure>& figures) {
  Json json;
  json["option"] = option.text;
  for (const MainFigure& figure : figures)
    json[Json::json_pointer(std::string(figure.pointer))] = or_null(figure.value);
  return json;
}

} // namespace bellmouth::cli
