// SPDX-License-Identifier: GPL-3.0-or-later
#include "evaluation_json.hpp"

#include "common_arguments.hpp"
#include "main_figures.hpp"

#include <bellmouth/bay/names.hpp>

#include <cassert>
#include <cmath>

namespace bellmouth::cli {

namespace {

Json run_json(const RunResult& run) {
  Json json{{"name", run.id.text},
            {"total_pressure_drop_Pa", run.flow.drop_Pa},
            {"total_pressure_drop_low_Pa", run.flow.drop_low_Pa},
            {"total_pressure_drop_high_Pa", run.flow.drop_high_Pa},
            {"length_mm", run.length_m * mm_per_m},
            {"volume_m3", run.flow.volume_m3},
            {"peak_mach", run.flow.peak_mach},
            {"peak_velocity_m_s", run.flow.peak_velocity_m_s},
            {"heat_W", run.flow.heat_W},
            {"joints", run.joints},
            {"end_gap_mm", nullptr},
            {"end_angle_deg", nullptr}};
  if (run.meeting) {
    json["end_gap_mm"] = run.meeting->gap_m * mm_per_m;
    json["end_angle_deg"] = run.meeting->angle_rad * deg_per_rad;
  }
  return json;
}

/// Puts the least distance of a run and its tightest place beside it; null where there is nothing near.
void add_clearance(Json& json, const build::Build& build, const build::Option& option,
                   const bay::RunClearance& clearance, const std::optional<build::StateId>& state) {
  const bay::Gap* const closest = clearance.closest();
  json["min_clearance_mm"] = nullptr;
  json["tightest"] = nullptr;
  if (closest == nullptr)
    return;
  json["min_clearance_mm"] = closest->distance_m * mm_per_m;
  json["tightest"] = {{"row", closest->row},
                      {"neighbour", bay::name_of(build, option, closest->neighbour)},
                      {"distance_mm", closest->distance_m * mm_per_m},
                      {"required_mm", closest->required_m * mm_per_m},
                      {"doubt_mm", closest->doubt_m * mm_per_m},
                      {"along_mm", closest->along_m * mm_per_m},
                      {"state", state ? Json(state->text) : Json(nullptr)}};
}

Json piece_json(const RunResult& run, const build::Piece& piece, std::size_t row) {
  const flow::PieceFlow& flow = run.flow.rows[row];
  const flow::Section& section = section_of(flow);
  return {{"run", run.id.text},
          {"index", row},
          {"kind", build::kind_key(piece.shape)},
          {"label", piece.label},
          {"inner_diameter_mm", section.bore_m * mm_per_m},
          {"centreline_length_mm", run.fit.rows[row].centreline_length_m * mm_per_m},
          {"velocity_m_s", section.station.velocity_m_s},
          {"mach", section.station.mach},
          {"reynolds", section.reynolds},
          {"loss_coefficient", flow.loss_coefficient},
          {"total_pressure_drop_Pa", flow.drop_Pa},
          {"total_pressure_drop_low_Pa", flow.drop_low_Pa},
          {"total_pressure_drop_high_Pa", flow.drop_high_Pa},
          {"static_pressure_Pa", flow.outlet.station.static_pressure_Pa},
          {"total_temperature_K", flow.outlet.station.total_temperature_K},
          {"heat_W", flow.heat_W},
          {"outside_range", flow.outside_range},
          {"range", flow.outside_range ? Json(flow.range) : Json(nullptr)}};
}

Json tap_json(const Tap& tap) {
  const air::Station& station = tap.state.station;
  return {{"run", tap.run.text},
          {"index", tap.row},
          {"distance_mm", tap.distance_m * mm_per_m},
          {"inner_diameter_mm", tap.state.bore_m * mm_per_m},
          {"total_pressure_Pa", station.total_pressure_Pa},
          {"static_pressure_Pa", station.static_pressure_Pa},
          {"total_temperature_K", station.total_temperature_K},
          {"static_temperature_K", station.static_temperature_K},
          {"velocity_m_s", station.velocity_m_s},
          {"mach", station.mach},
          {"density_kg_m3", station.density_kg_m3},
          {"reynolds", tap.state.reynolds}};
}

Json station_json(const air::Station& station) {
  return {{"total_pressure_Pa", station.total_pressure_Pa},
          {"total_temperature_K", station.total_temperature_K},
          {"static_pressure_Pa", station.static_pressure_Pa},
          {"velocity_m_s", station.velocity_m_s},
          {"mach", station.mach}};
}

/// What only some kinds of machine have.
struct OwnFigures {
  const flow::MachineFlow& flow;
  Json& json;

  void operator()(const machine::DisplacementBlower&) const {
    compression();
    json["volumetric_efficiency"] = flow.volumetric_efficiency;
  }
  void operator()(const machine::TargetCompressor&) const { compression(); }
  void operator()(const machine::GearedCompressor&) const { compression(); }
  void operator()(const machine::ChargeCooler&) const {
    json["heat_W"] = flow.heat_W;
    json["effectiveness"] = flow.effectiveness;
    json["outside_map"] = flow.outside_map;
    if (flow.water_in_K > 0) {
      json["water_in_K"] = flow.water_in_K;
      json["water_out_K"] = flow.water_out_K;
    }
  }
  void operator()(const machine::Filter&) const {}
  void operator()(const machine::MeterBody&) const {}
  void operator()(const machine::Throttle&) const {}

private:
  void compression() const {
    json["drive_power_W"] = flow.shaft_power_W;
    json["adiabatic_efficiency"] = flow.adiabatic_efficiency;
    json["bypass_kg_s"] = flow.bypass_kg_s;
    json["outside_map"] = flow.outside_map;
    json["speed_rpm"] = flow.speed_rev_s > 0 ? Json(flow.speed_rev_s * 60) : Json(nullptr);
    if (flow.on_map)
      json["map"] = {{"margin_to_surge", flow.on_map->margin_to_surge},
                     {"below_surge", flow.on_map->below_surge},
                     {"beyond_choke", flow.on_map->beyond_choke},
                     {"outside_speeds", flow.on_map->outside_speeds}};
  }
};

Json machine_json(const MachineOnPath& each) {
  Json json{{"id", each.machine->id.text},
            {"name", each.machine->name},
            {"kind", build::kind_key(each.machine->kind)},
            {"total_pressure_drop_Pa", each.flow->drop_Pa},
            {"total_pressure_drop_low_Pa", each.flow->drop_low_Pa},
            {"total_pressure_drop_high_Pa", each.flow->drop_high_Pa},
            {"pressure_ratio", each.flow->pressure_ratio},
            {"inlet", station_json(each.flow->inlet)},
            {"outlet", station_json(each.flow->outlet)}};
  std::visit(OwnFigures{*each.flow, json}, each.machine->kind);
  return json;
}

Json cost_json(const flow::Cost& cost) {
  if (!cost.known)
    return nullptr;
  return {{"air_kg_s", cost.air_kg_s}, {"power_W", cost.power_W}, {"manifold_pressure_Pa", cost.pressure_Pa}};
}

Json banded_json(const flow::Banded& banded) {
  return {{"value", banded.value}, {"low", banded.low}, {"high", banded.high}};
}

Json bands_json(const Evaluation& evaluation, const flow::Bands& bands) {
  Json doubts = Json::array(), runs = Json::array();
  for (const flow::Doubt& doubt : bands.doubts)
    doubts.push_back({{"name", doubt.name},
                      {"source", doubt.source},
                      {"members", doubt.members},
                      {"manifold_pressure_low_Pa", doubt.manifold_pressure_low_Pa},
                      {"manifold_pressure_high_Pa", doubt.manifold_pressure_high_Pa},
                      {"crank_power_low_W", doubt.crank_power_low_W},
                      {"crank_power_high_W", doubt.crank_power_high_W}});
  for (std::size_t i = 0; i < evaluation.runs.size(); ++i) {
    Json run = banded_json(bands.run_drops_Pa[i]);
    run["name"] = evaluation.runs[i].id.text;
    runs.push_back(std::move(run));
  }
  return {{"manifold_pressure_Pa", banded_json(bands.manifold_pressure_Pa)},
          {"manifold_temperature_K", banded_json(bands.manifold_temperature_K)},
          {"mass_flow_kg_s", banded_json(bands.mass_flow_kg_s)},
          {"crank_power_W", banded_json(bands.crank_power_W)},
          {"drive_power_W", banded_json(bands.drive_power_W)},
          {"run_total_pressure_drop_Pa", std::move(runs)},
          {"doubts", std::move(doubts)}};
}

/// Puts what each thing costs beside it, and the bands of the results.
void add_weighing(Json& json, const Evaluation& evaluation, const Weighing& weighing) {
  const flow::Costs& costs = weighing.costs;
  std::size_t piece = 0;
  for (std::size_t run = 0; run < costs.runs.size(); ++run) {
    json["runs"][run]["costs"] = cost_json(costs.runs[run].whole);
    for (const flow::Cost& cost : costs.runs[run].rows)
      json["pieces"][piece++]["costs"] = cost_json(cost);
  }
  for (std::size_t machine = 0; machine < costs.machines.size(); ++machine)
    json["machines"][machine]["costs"] = cost_json(costs.machines[machine]);
  json["ducting_costs"] = cost_json(costs.ducting);
  json["bands"] = bands_json(evaluation, weighing.bands);
}

} // namespace

const flow::Section& section_of(const flow::PieceFlow& piece) {
  return piece.outlet.bore_m < piece.inlet.bore_m ? piece.outlet : piece.inlet;
}

Json json_of(const build::PieceRef& piece) {
  return {{"run", piece.run.text}, {"index", piece.row}};
}

Json json_of(const std::optional<quantity::Money>& money) {
  if (!money)
    return nullptr;
  return static_cast<double>(money->minor) / std::pow(10.0, money->currency.digits());
}

Json json_of(const buy::Totals& totals) {
  const auto money = [](const quantity::Money& amount) { return json_of(std::optional(amount)); };
  Json categories = Json::array();
  for (const buy::Category& category : totals.categories)
    categories.push_back(
        {{"group", category.group}, {"planned", money(category.planned)}, {"paid", money(category.paid)}});
  return {{"currency", totals.total.currency.text()},
          {"goods", money(totals.goods)},
          {"postage", money(totals.postage)},
          {"tax", money(totals.tax)},
          {"total", money(totals.total)},
          {"without_tax", money(totals.without_tax)},
          {"owned_value", money(totals.owned_value)},
          {"spent", money(totals.spent)},
          {"in_all", money(totals.in_all)},
          {"left", json_of(totals.left)},
          {"unpriced", totals.unpriced},
          {"suppliers", totals.suppliers},
          {"offcuts", totals.offcuts},
          {"categories", std::move(categories)}};
}

Json json_of(const std::vector<check::Finding>& findings) {
  Json json = Json::array();
  for (const check::Finding& finding : findings) {
    json.push_back({{"rule", finding.rule},
                    {"severity", check::text(finding.severity)},
                    {"where", finding.where.text},
                    {"message", finding.message},
                    {"reason", finding.reason},
                    {"waived", finding.waived ? Json(*finding.waived) : Json(nullptr)},
                    {"piece", finding.where.piece ? json_of(*finding.where.piece) : Json(nullptr)},
                    {"machine", finding.where.machine ? Json(finding.where.machine->text) : Json(nullptr)}});
  }
  return json;
}

Json json_of(const build::Build& build, const Evaluation& evaluation, const Clearances& clearances,
             const std::vector<Tap>& taps) {
  assert(evaluation.path.point.usable());
  Json json = json_of(evaluation.option, main_figures(build, evaluation));
  Json runs = Json::array(), pieces = Json::array(), machines = Json::array();
  const build::Option& option = *build.find(evaluation.option);
  for (const RunResult& run : evaluation.runs) {
    runs.push_back(run_json(run));
    add_clearance(runs.back(), build, option, clearances.runs[runs.size() - 1], clearances.state);
    const build::Run& chain = *option.find(run.id);
    for (std::size_t row = 0; row < chain.pieces.size(); ++row)
      pieces.push_back(piece_json(run, chain.pieces[row], row));
  }
  for (const MachineOnPath& each : machines_on_path(build, evaluation))
    machines.push_back(machine_json(each));
  const flow::OperatingPoint& point = evaluation.path.point;
  json["runs"] = std::move(runs);
  json["pieces"] = std::move(pieces);
  json["machines"] = std::move(machines);
  if (const auto weighing = weigh(build, evaluation))
    add_weighing(json, evaluation, *weighing);
  json["taps"] = Json::array();
  for (const Tap& tap : taps)
    json["taps"].push_back(tap_json(tap));
  const buy::Purchase purchase = buy::purchase(build, evaluation.option);
  json["findings"] = json_of(findings(build, evaluation, purchase));
  json["totals"] = json_of(purchase.totals);
  json["solver"] = {
      {"stop", flow::text(point.stop)}, {"residual", point.residual}, {"iterations", point.iterations}};
  return json;
}

} // namespace bellmouth::cli
