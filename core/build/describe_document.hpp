// SPDX-License-Identifier: GPL-3.0-or-later
// The descriptions of everything around pieces and machines, up to the build itself. See describe.hpp.
#pragma once

#include "describe_machines.hpp"

#include <bellmouth/air.hpp>
#include <bellmouth/build/files.hpp>
#include <bellmouth/build/vectors.hpp>

namespace bellmouth::build {

inline constexpr std::string_view stock_format = "bellmouth-stock/1";
/// A file of shared/stock.
struct StockFile {
  quantity::Currency currency;
  std::vector<StockItem> items;
  std::vector<Owned> owned; ///< of these items
};

/// \name Surroundings and demand
///@{
/// Whether the air's properties go as far as its moisture.
[[nodiscard]] inline bool moisture_holds(double pressure_Pa, double temperature_K, double relative_humidity) {
  // Vapour pressure at which the humidity ratio is the greatest allowed; 0.622 is the ratio of the molar
  // masses.
  const double share = limits::humidity_ratio / (0.622 + limits::humidity_ratio);
  return relative_humidity == 0 ||
         relative_humidity * air::saturation_pressure_Pa(temperature_K) < share * pressure_Pa;
}

void describe(auto& v, Like<Weather> auto& weather) {
  v.field("pressure_Pa", weather.pressure_Pa, limits::pressure);
  v.field("temperature_K", weather.temperature_K, limits::air_temperature);
  v.field("relative_humidity", weather.relative_humidity, limits::humidity);
  v.rule(
      "relative_humidity",
      [&] { return moisture_holds(weather.pressure_Pa, weather.temperature_K, weather.relative_humidity); },
      "a humidity at which there is at most 0.3 kg of vapour to 1 kg of dry air");
}

void describe(auto& v, Like<Altitude> auto& altitude) {
  v.field("altitude_m", altitude.altitude_m, limits::altitude);
  v.field("relative_humidity", altitude.relative_humidity, limits::humidity);
}

void describe(auto& v, Like<Ambient> auto& ambient) {
  v.variant(ambient, ambient_kinds);
}

void describe(auto& v, Like<FixedFlow> auto& flow) {
  v.field("mass_flow_kg_s", flow.mass_flow_kg_s, limits::mass_flow);
  v.field("inlet_total_pressure_Pa", flow.inlet_total_pressure_Pa, limits::pressure);
  v.field("inlet_total_temperature_K", flow.inlet_total_temperature_K, limits::temperature);
}

void describe(auto& v, Like<Demand> auto& demand) {
  v.variant(demand, demand_kinds);
}
///@}

void describe(auto& v, Like<Machine> auto& machine) {
  v.field("id", machine.id, limits::name);
  v.optional("name", machine.name, limits::line);
  v.field("mounting", machine.mounting, ChoiceField<Mounting>{{mounting_keys}});
  v.variant(machine.kind, machine_kinds);
}

[[nodiscard]] inline bool is_unit(const Vector& vector) {
  return std::abs(std::sqrt(dot(vector, vector)) - 1) <= limits::unit_tolerance;
}

void describe(auto& v, Like<Pose> auto& pose) {
  v.field("position_mm", pose.position_m, limits::position);
  v.field("direction", pose.direction, limits::direction);
  v.rule("direction", is_unit(pose.direction), "a vector of length 1, to 1e-6");
}

void describe(auto& v, Like<Survey> auto& survey) {
  v.field("measured", survey.measured, FlagField{});
  v.field("tolerance_mm", survey.tolerance_m, limits::tolerance);
  v.optional("note", survey.note, limits::line);
}

void describe(auto& v, Like<Port> auto& port) {
  v.field("id", port.id, limits::name);
  v.optional("machine", port.machine, limits::name);
  v.field("mounting", port.mounting, ChoiceField<Mounting>{{mounting_keys}});
  v.field("bore_mm", port.bore_m, limits::diameter);
  v.field("outer_diameter_mm", port.outer_diameter_m, limits::diameter);
  v.rule("bore_mm", port.bore_m < port.outer_diameter_m, "a bore below the outside diameter");
  v.field("land_mm", port.land_m, limits::length_or_none);
  v.field("beaded", port.beaded, FlagField{});
  v.defaulted("free_straight_mm", port.free_straight_m, 0.0, limits::length_or_none);
  v.optional_object("pose", port.pose);
  v.optional_object("survey", port.survey);
  describe_connection(v, port.connection, "connection", "connection_size");
}

/// \name Keep-outs
///@{
void describe_axes(auto& v, auto& axes) {
  v.field("axes", axes, limits::axes);
  const auto& [a, b, c] = axes;
  const auto square = [](const Vector& one, const Vector& other) {
    return std::abs(dot(one, other)) <= limits::unit_tolerance;
  };
  v.rule("axes", is_unit(a) && is_unit(b) && is_unit(c) && square(a, b) && square(b, c) && square(c, a),
         "three axes of length 1 at right angles to each other, to 1e-6");
}

void describe(auto& v, Like<Box> auto& box) {
  v.field("centre_mm", box.centre_m, limits::position);
  v.field("half_size_mm", box.half_size_m, limits::half_size);
  describe_axes(v, box.axes);
}

void describe(auto& v, Like<Cylinder> auto& cylinder) {
  v.field("from_mm", cylinder.from_m, limits::position);
  v.field("to_mm", cylinder.to_m, limits::position);
  v.rule("to_mm", cylinder.from_m != cylinder.to_m, "another point than \"from_mm\"");
  v.field("radius_mm", cylinder.radius_m, limits::length);
}

void describe(auto& v, Like<Sphere> auto& sphere) {
  v.field("centre_mm", sphere.centre_m, limits::position);
  v.field("radius_mm", sphere.radius_m, limits::length);
}

void describe(auto& v, Like<HalfSpace> auto& half_space) {
  v.field("point_mm", half_space.point_m, limits::position);
  v.field("normal", half_space.normal, limits::direction);
  v.rule("normal", is_unit(half_space.normal), "a vector of length 1, to 1e-6");
}

void describe(auto& v, Like<Scan> auto& scan) {
  v.field("file", scan.file, limits::file_name);
  v.field("unit", scan.unit, ChoiceField<mesh::Unit>{{unit_keys}});
  v.field("origin_mm", scan.origin_m, limits::position);
  describe_axes(v, scan.axes);
  v.optional("digest", scan.digest, limits::digest);
}

void describe(auto& v, Like<KeepOut> auto& keep_out) {
  v.optional("name", keep_out.name, limits::line);
  v.field("class", keep_out.keep_out_class, ChoiceField<KeepOutClass>{{keep_out_class_keys}});
  v.optional("clearance_mm", keep_out.clearance_m, limits::clearance);
  v.variant(keep_out.shape, keep_out_kinds);
  v.defaulted("mounting", keep_out.mounting, Mounting::body, ChoiceField<Mounting>{{mounting_keys}});
  v.optional("machine", keep_out.machine, limits::name);
  v.optional("states", keep_out.states, limits::state_names);
  v.optional_object("survey", keep_out.survey);
}

void describe(auto& v, Like<ClearanceLimits> auto& clearances) {
  v.field("fixed_mm", clearances.fixed_m, limits::clearance);
  v.field("moving_mm", clearances.moving_m, limits::clearance);
  v.field("hot_mm", clearances.hot_m, limits::clearance);
  v.field("ducting_mm", clearances.ducting_m, limits::clearance);
}

void describe(auto& v, Like<BayState> auto& state) {
  v.field("id", state.id, limits::name);
  v.defaulted("roll", state.roll, 0.0, limits::roll_share);
}

void describe(auto& v, Like<EngineMovement> auto& movement) {
  v.field("axis_point_mm", movement.axis_point_m, limits::position);
  v.field("axis_direction", movement.axis_direction, limits::direction);
  v.rule("axis_direction", is_unit(movement.axis_direction), "a vector of length 1, to 1e-6");
  v.field("roll_deg", movement.roll_rad, limits::roll);
  v.field("shake_mm", movement.shake_m, limits::shake);
}

void describe(auto& v, Like<Photograph> auto& photograph) {
  v.field("file", photograph.file, limits::file_name);
  v.field("view", photograph.view, ChoiceField<Photograph::View>{{photograph_view_keys}});
  v.field("first_px", photograph.first_px, limits::pixel);
  v.field("first_mm", photograph.first_m, limits::position);
  v.field("second_px", photograph.second_px, limits::pixel);
  v.rule("second_px", photograph.second_px != photograph.first_px, "another point than \"first_px\"");
  v.field("second_mm", photograph.second_m, limits::position);
  v.rule("second_mm", photograph.second_m != photograph.first_m, "another point than \"first_mm\"");
}
///@}

/// \name Path and options
///@{
void describe(auto& v, Like<OpenInlet> auto& inlet) {
  v.field("kind", inlet.kind, ChoiceField<OpenInlet::Kind>{{open_inlet_keys}});
  v.field("lip_radius_mm", inlet.lip_radius_m, limits::length_or_none);
  v.rule("lip_radius_mm", inlet.kind == OpenInlet::Kind::bellmouth || inlet.lip_radius_m == 0,
         "0 unless the inlet is a bellmouth");
}

void describe(auto& v, Like<PathStep> auto& step) {
  v.either(step, std::array<std::string_view, 2>{"machine", "run"}, limits::name);
  v.optional("branch", step.branch, limits::name);
}

void describe(auto& v, Like<Branch> auto& branch) {
  v.field("id", branch.id, limits::name);
  v.field("split_loss", branch.split_loss, limits::loss_coefficient);
  v.field("join_loss", branch.join_loss, limits::loss_coefficient);
}

void describe(auto& v, Like<Run> auto& run) {
  v.field("id", run.id, limits::name);
  v.field("from", run.from, limits::name);
  v.field("to", run.to, limits::name);
  v.list("pieces", run.pieces, limits::pieces);
}

void describe(auto& v, Like<Option> auto& option) {
  v.field("id", option.id, limits::name);
  v.optional("note", option.note, limits::note);
  v.list("runs", option.runs, limits::runs);
}
///@}

void describe(auto& v, Like<BayAir> auto& bay) {
  v.field("temperature_K", bay.temperature_K, limits::bay_temperature);
  v.field("speed_m_s", bay.speed_m_s, limits::air_speed);
}

void describe(auto& v, Like<Measured> auto& measured) {
  v.field("coefficient", measured.coefficient, ChoiceField<Coefficient>{{coefficient_keys}});
  v.field("factor", measured.factor, limits::measured_factor);
  v.field("band", measured.band, limits::band);
}

/// \name Stock and money
///@{
void describe(auto& v, Like<StockItem> auto& item) {
  v.field("id", item.id, limits::name);
  v.field("kind", item.kind, ChoiceField<StockKind>{{stock_kind_keys}});
  v.optional("name", item.name, limits::line);
  v.field("material", item.material, ChoiceField<Material>{{material_keys}});
  v.optional("outer_diameter_mm", item.outer_diameter_m, limits::diameter);
  v.optional("bore_mm", item.bore_m, limits::diameter);
  v.optional("bore_out_mm", item.bore_out_m, limits::diameter);
  v.optional("wall_mm", item.wall_m, limits::wall);
  v.rule("wall_mm", !item.wall_m || !item.outer_diameter_m || *item.wall_m < *item.outer_diameter_m / 2,
         "a wall below half the outside diameter");
  v.optional("length_mm", item.length_m, limits::length);
  v.optional("angle_deg", item.angle_rad, limits::bend_angle);
  v.optional("radius_mm", item.radius_m, limits::length);
  v.optional("leg_in_mm", item.leg_in_m, limits::length_or_none);
  v.optional("leg_out_mm", item.leg_out_m, limits::length_or_none);
  v.optional("clamp_min_mm", item.clamp_min_m, limits::diameter);
  v.optional("clamp_max_mm", item.clamp_max_m, limits::diameter);
  v.rule("clamp_max_mm",
         item.clamp_min_m.has_value() == item.clamp_max_m.has_value() &&
             (!item.clamp_min_m || *item.clamp_min_m < *item.clamp_max_m),
         "both ends of the clamp's range, the greatest above the least");
  v.rule("clamp_min_mm", item.kind != StockKind::clamp || item.clamp_min_m, "the range of the clamp");
  v.optional("band_width_mm", item.band_width_m, limits::band_width);
  v.optional("thread", item.thread, limits::thread);
  v.optional("max_temperature_K", item.max_temperature_K, limits::temperature);
  v.optional("plies", item.plies, limits::plies);
  v.field("price", item.price, MoneyField{v.currency});
  v.rule("price", item.price.minor <= limits::highest_price_minor, limits::price_words);
  v.field("per", item.per, ChoiceField<Per>{{per_keys}});
  v.defaulted("pack", item.pack, 1, limits::pack);
  v.rule("pack", item.pack == 1 || item.per == Per::each, "1 where the price is per metre");
  v.optional("supplier", item.supplier, limits::line);
  v.optional("max_gauge_Pa", item.max_gauge_Pa, limits::rated_gauge);
  v.defaulted("oil_proof", item.oil_proof, false, FlagField{});
  v.defaulted("wire", item.wire, false, FlagField{});
  v.optional("clamp_type", item.clamp_type, ChoiceField<ClampType>{{clamp_type_keys}});
  v.optional("torque_Nm", item.torque_Nm, limits::torque);
}

void describe(auto& v, Like<Tax> auto& tax) {
  v.field("rate_basis_points", tax.rate_basis_points, limits::basis_points);
  v.field("prices_include", tax.prices_include, FlagField{});
}

void describe(auto& v, Like<Postage> auto& postage) {
  v.field("supplier", postage.supplier, limits::name);
  v.field("price", postage.price, MoneyField{v.currency});
  v.rule("price", postage.price.minor <= limits::highest_price_minor, limits::price_words);
  v.optional("free_from", postage.free_from, MoneyField{v.currency});
  v.rule("free_from", !postage.free_from || postage.free_from->minor <= limits::highest_price_minor,
         limits::price_words);
}

void describe(auto& v, Like<Spare> auto& spare) {
  v.field("kind", spare.kind, ChoiceField<StockKind>{{stock_kind_keys}});
  v.field("percent", spare.percent, limits::percent);
}

void describe(auto& v, Like<Budget> auto& budget) {
  v.field("currency", budget.currency, CurrencyField{});
  v.currency = budget.currency;
  v.optional("limit", budget.limit, MoneyField{v.currency});
  v.optional_object("tax", budget.tax);
  v.optional_list("postage", budget.postage, limits::postage);
  v.optional_list("spares", budget.spares, limits::spares);
}

void describe(auto& v, Like<Owned> auto& owned) {
  v.field("stock", owned.stock, limits::name);
  v.field("quantity", owned.quantity, limits::quantity);
  v.optional("paid", owned.paid, MoneyField{v.currency});
}

void describe(auto& v, Like<Offcut> auto& offcut) {
  v.field("stock", offcut.stock, limits::name);
  v.defaulted("count", offcut.count, 1, limits::count);
  v.defaulted("straight_in_mm", offcut.straight_in_m, 0.0, limits::length_or_none);
  v.defaulted("angle_deg", offcut.angle_rad, 0.0, limits::offcut_angle);
  v.defaulted("straight_out_mm", offcut.straight_out_m, 0.0, limits::length_or_none);
  v.rule("straight_in_mm", offcut.angle_rad > 0 || (offcut.straight_in_m > 0 && offcut.straight_out_m == 0),
         "a length, or a part of a bend with its angle");
}
///@}

void describe(auto& v, Like<BuildWaiver> auto& waiver) {
  describe(v, waiver.what);
  v.optional("machine", waiver.machine, limits::name);
}

void describe(auto& v, Like<ChangedThreshold> auto& threshold) {
  v.field("key", threshold.key, limits::name);
  v.field("value", threshold.value, limits::threshold);
}

void describe(auto& v, Like<Build> auto& build) {
  v.format(file_format);
  v.field("title", build.title, limits::line);
  v.optional("note", build.note, limits::note);
  v.object("ambient", build.ambient);
  v.object("demand", build.demand);
  v.field("plenum_exit_loss", build.plenum_exit_loss, limits::share);
  v.list("machines", build.machines, limits::machines);
  v.list("ports", build.ports, limits::ports);
  v.list("keep_outs", build.keep_outs, limits::keep_outs);
  v.optional_object("clearances", build.clearances);
  v.optional_list("states", build.states, limits::states);
  v.optional_object("movement", build.movement);
  v.optional_list("photographs", build.photographs, limits::photographs);
  v.object("inlet", build.inlet);
  v.list("path", build.path, limits::path);
  v.optional_list("branches", build.branches, limits::branches);
  v.optional_object("bay", build.bay);
  v.optional_list("measured", build.measured, limits::measured);
  v.list("options", build.options, limits::options);
  v.object("budget", build.budget);
  v.list("stock", build.stock, limits::stock);
  v.list("owned", build.owned, limits::stock);
  v.optional_list("offcuts", build.offcuts, limits::offcuts);
  v.optional_list("waivers", build.waivers, limits::waivers);
  v.optional_list("thresholds", build.thresholds, limits::thresholds);
}

void describe(auto& v, Like<StockFile> auto& file) {
  v.format(stock_format);
  v.field("currency", file.currency, CurrencyField{});
  v.currency = file.currency;
  v.list("items", file.items, limits::stock);
  v.optional_list("owned", file.owned, limits::stock);
}

} // namespace bellmouth::build
