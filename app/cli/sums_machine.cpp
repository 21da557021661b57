// SPDX-License-Identifier: GPL-3.0-or-later
// Filters, blowers, coolers, valves and the belt.
#include "common_arguments.hpp"

#include <bellmouth/machine.hpp>
#include <bellmouth/machine/belt.hpp>
#include <bellmouth/machine/cooling.hpp>
#include <bellmouth/machine/displacement.hpp>
#include <bellmouth/machine/nozzle.hpp>

#include <algorithm>
#include <optional>

namespace bellmouth::cli {

namespace {

using quantity::Dimension;

Answer blower_outlet(const Given& given) {
  const air::Mixture dry;
  const double inlet_K = given.number("--temperature"), ratio = given.number("--pressure-ratio");
  const machine::Compression done =
      machine::compress(dry, inlet_K, ratio, 1.0, given.number("--efficiency"), 1.0);
  return Figures{{"temperature_K", done.outlet_temperature_K},
                 {"temperature_rise_K", done.outlet_temperature_K - inlet_K},
                 {"isentropic_temperature_K", dry.isentropic_temperature_K(inlet_K, ratio)},
                 {"work_J_kg", done.shaft_power_W}};
}

Answer lobe_blower(const Given& given) {
  const double ratio = given.number("--pressure-ratio"), gamma = given.number("--gamma");
  return Figures{{"adiabatic_efficiency", machine::lobe_blower_ideal_efficiency(ratio, gamma)},
                 {"temperature_ratio", 1 + (gamma - 1) / gamma * (ratio - 1)}};
}

constexpr std::string_view arrangements[] = {"counterflow", "parallel-flow", "cross-flow-unmixed",
                                             "cross-flow-min-mixed", "cross-flow-max-mixed"};

Answer cooler(const Given& given) {
  const auto arrangement = static_cast<machine::Arrangement>(given.choice("--arrangement"));
  return Figures{{"effectiveness", machine::effectiveness(arrangement, given.number("--ntu"),
                                                          given.number("--capacity-ratio"))}};
}

machine::ChargeCooler cooler_of(const Given& given) {
  machine::ChargeCooler made;
  made.rated = {{1, 1}}; // its drop is not asked for here
  made.coolant_rise_K = 0;
  made.core = machine::CoolerCore{static_cast<machine::Arrangement>(given.choice("--arrangement")),
                                  given.number("--conductance"), given.number("--rated-flow"),
                                  given.number("--charge-share"), given.number("--coolant-flow")};
  return made;
}

Answer worked_cooler(const machine::ChargeCooler& kind, const Given& given) {
  const double flow = given.number("--flow"), inlet_K = given.number("--temperature"),
               reference_K = given.number("--coolant-temperature");
  const double cp = air::Mixture().cp_J_kgK(inlet_K);
  const machine::PreparedCooler cooler(kind);
  const auto inside = cooler.inside(flow, cp, inlet_K, reference_K).value();
  const double effectiveness = cooler.act(flow, cp).effectiveness;
  return Figures{{"effectiveness", effectiveness},
                 {"outlet_temperature_K", machine::cooler_outlet_K(effectiveness, inlet_K, reference_K)},
                 {"heat_W", inside.heat_W},
                 {"ntu", inside.ntu},
                 {"capacity_ratio", inside.capacity_ratio},
                 {"core_effectiveness", inside.core_effectiveness},
                 {"coolant_inlet_temperature_K", inside.coolant_in_K},
                 {"coolant_outlet_temperature_K", inside.coolant_out_K}};
}

Answer cooler_core(const Given& given) {
  machine::ChargeCooler kind = cooler_of(given);
  kind.air_to_water = given.has("--water");
  return worked_cooler(kind, given);
}

Answer cooler_loop(const Given& given) {
  machine::ChargeCooler kind = cooler_of(given);
  kind.air_to_water = true;
  kind.loop = machine::CoolantLoop{given.number("--coolant-flow"), given.number("--front-effectiveness"),
                                   given.number("--front-flow")};
  return worked_cooler(kind, given);
}

Answer nozzle(const Given& given) {
  const double upstream_Pa = given.number("--upstream-pressure"),
               downstream_Pa = given.number("--downstream-pressure");
  if (downstream_Pa > upstream_Pa)
    return misfit("--downstream-pressure", quantity::write(Dimension::pressure, downstream_Pa, "kPa"),
                  "at most the upstream pressure, " +
                      quantity::write(Dimension::pressure, upstream_Pa, "kPa"));
  const double gamma = given.number("--gamma");
  const machine::BypassValve valve{given.number("--bore"), given.number("--opening"),
                                   given.number("--discharge-coefficient"), 0};
  const machine::NozzleFlow flow =
      machine::nozzle_flow(valve.effective_area_m2(), upstream_Pa, given.number("--temperature"),
                           downstream_Pa, gamma, air::Mixture().gas_constant_J_kgK());
  return Figures{{"mass_flow_kg_s", flow.mass_flow_kg_s},
                 {"choked", flow.choked ? "yes" : "no"},
                 {"pressure_ratio", downstream_Pa / upstream_Pa},
                 {"critical_pressure_ratio", machine::critical_pressure_ratio(gamma)},
                 {"effective_area_mm2", valve.effective_area_m2() * mm_per_m * mm_per_m}};
}

/// The rated leakage, of which all is said or nothing.
tl::expected<std::optional<machine::RatedLeak>, Refusal> leak(const Given& given) {
  constexpr std::string_view flags[] = {"--leak-speed", "--leak-ratio", "--leak-efficiency"};
  const auto said = std::ranges::count_if(flags, [&](std::string_view flag) { return given.has(flag); });
  if (said == 0)
    return std::nullopt;
  for (const std::string_view flag : flags)
    if (!given.has(flag))
      return misfit(flag, "nothing", "--leak-speed, --leak-ratio and --leak-efficiency together, or none");
  const machine::RatedLeak rated{given.number(flags[0]), given.number(flags[1]), given.number(flags[2])};
  if (rated.volumetric_efficiency >= given.number("--volumetric-efficiency"))
    return misfit(flags[2], quantity::write(Dimension::ratio, rated.volumetric_efficiency, ""),
                  "less than the volumetric efficiency without pressure");
  return rated;
}

Answer blower(const Given& given) {
  const auto rated = leak(given);
  if (!rated)
    return tl::unexpected(rated.error());
  machine::DisplacementBlower kind{.swept_volume_m3_rev = given.number("--swept-volume"),
                                   .drive_ratio = 1,
                                   .volumetric_efficiency = given.number("--volumetric-efficiency"),
                                   .adiabatic_efficiency = std::nullopt,
                                   .mechanical_efficiency = given.number("--mechanical-efficiency"),
                                   .max_speed_rev_s = 0,
                                   .max_outlet_temperature_K = 0,
                                   .internal_volume_ratio = given.number("--internal-ratio"),
                                   .leak = *rated};
  if (given.has("--efficiency"))
    kind.adiabatic_efficiency = given.number("--efficiency");
  const machine::PreparedBlower prepared(kind);
  const machine::BlowerAction done =
      prepared.act(air::Mixture(), given.number("--speed"), given.number("--pressure"),
                   given.number("--temperature"), given.number("--pressure-ratio"));
  if (done.outside_map)
    return without_solution(
        "the leakage takes all that the blower sweeps; accepted: a higher speed or a lower "
        "pressure ratio");
  return Figures{{"mass_flow_kg_s", done.mass_flow_kg_s},
                 {"volumetric_efficiency", done.volumetric_efficiency},
                 {"outlet_temperature_K", done.outlet_temperature_K},
                 {"shaft_power_W", done.shaft_power_W},
                 {"adiabatic_efficiency", done.adiabatic_efficiency},
                 {"leak_area_mm2", prepared.leak_area_m2() * mm_per_m * mm_per_m}};
}

Answer filter_drop(const Given& given) {
  machine::Filter filter{{{given.number("--rated-flow"), given.number("--rated-drop")}}, 1.0};
  if (given.has("--second-flow") != given.has("--second-drop"))
    return misfit(given.has("--second-flow") ? "--second-drop" : "--second-flow", "nothing",
                  "--second-flow and --second-drop together, or neither");
  if (given.has("--second-flow"))
    filter.rated.push_back({given.number("--second-flow"), given.number("--second-drop")});
  filter.dirty_factor = given.number("--factor");
  const machine::TwoTermDrop drop = filter.drop(given.number("--pulsation-factor"));
  const air::Mixture dry;
  const double temperature_K = given.number("--temperature");
  const double flow = given.number("--flow"),
               density = dry.density_kg_m3(given.number("--pressure"), temperature_K),
               viscosity = dry.viscosity_Pa_s(temperature_K);
  return Figures{{"total_pressure_drop_Pa", drop.drop_Pa(flow, density, viscosity)},
                 {"viscous_part_Pa", drop.viscous_per_m3 * viscosity * flow},
                 {"inertial_part_Pa", drop.inertial_per_m4 * density * flow * flow}};
}

Answer belt(const Given& given) {
  const double large = given.number("--large"), small = given.number("--small"),
               centres = given.number("--centres");
  const auto in_mm = [](double length_m) { return quantity::write(Dimension::length, length_m, "mm"); };
  if (small > large)
    return misfit("--small", in_mm(small), "at most the large pulley, " + in_mm(large));
  if (centres < (large + small) / 2)
    return misfit("--centres", in_mm(centres),
                  "at least " + in_mm((large + small) / 2) + ", where the pulleys touch");
  const machine::Belt found = machine::open_belt(large, small, centres);
  return Figures{{"belt_length_mm", found.length_m * mm_per_m},
                 {"wrap_small_deg", found.wrap_small_rad * deg_per_rad},
                 {"wrap_large_deg", found.wrap_large_rad * deg_per_rad}};
}

constexpr Quantity air_temperature{Dimension::temperature, "°C", air::lowest_temperature_K,
                                   air::highest_temperature_K};
constexpr Quantity pressure{Dimension::pressure, "kPa", 0, 1e8, true};
constexpr Quantity pressure_drop{.dimension = Dimension::pressure,
                                 .unit = "Pa",
                                 .lowest = 0,
                                 .highest = 1e6,
                                 .above_lowest = true,
                                 .reference = quantity::Reference::difference};
constexpr Quantity volume_flow{Dimension::volume_flow, "m3/s", 0, 100, true};
constexpr Quantity mass_flow{Dimension::mass_flow, "kg/s", 1e-6, 1000};
constexpr Quantity efficiency{Dimension::ratio, "", 0.01, 1};
constexpr Quantity share{Dimension::ratio, "", 0, 1};

const Argument rating_air_temperature{"--temperature", "of the air", air_temperature, Need::optional, "20"};
const Argument rating_air_pressure{"--pressure", "of the air, absolute", pressure, Need::optional, "101.325"};
const Argument arrangement{"--arrangement", "how the streams pass each other", Choice{arrangements},
                           Need::optional, "cross-flow-unmixed"};
const Argument conductance{"--conductance", "U A at the rated flow, in W/K",
                           Quantity{Dimension::ratio, "", 0, 1e6, true}};
const Argument rated_charge{"--rated-flow", "charge flow at which the conductance holds", mass_flow};
const Argument charge_share{"--charge-share", "share of the resistance that is on the charge side when rated",
                            share, Need::optional, "0.5"};
const Argument charge_flow{"--flow", "of the charge", mass_flow};
const Argument charge_temperature{"--temperature", "of the charge at the inlet, total", air_temperature};

const Sum table[] = {
    {"filter-drop",
     "Drop of a filter or a cooler core from rated points, in other air, dirty, or in a pulsing flow",
     {{"--rated-flow", "of a measured point, at 20 °C and 101.325 kPa", volume_flow},
      {"--rated-drop", "there", pressure_drop},
      {"--second-flow", "of a second point", volume_flow, Need::optional},
      {"--second-drop", "there", pressure_drop, Need::optional},
      {"--flow", "that is really there", volume_flow},
      rating_air_temperature,
      rating_air_pressure,
      {"--factor", "drop dirty or wet over drop clean", Quantity{Dimension::ratio, "", 1, 100},
       Need::optional, "1"},
      {"--pulsation-factor", "mean square over squared mean of the flow",
       Quantity{Dimension::ratio, "", 1, 100}, Need::optional, "1"}},
     filter_drop},
    {"nozzle",
     "Flow through a valve that stands open or leaks",
     {bore,
      {"--opening", "share of the bore's area that is open", share, Need::optional, "1"},
      {"--discharge-coefficient", "effective area over open area", share, Need::optional, "1"},
      {"--upstream-pressure", "total, absolute", pressure},
      {"--temperature", "upstream, total", air_temperature},
      {"--downstream-pressure", "static, absolute", pressure},
      gamma_argument},
     nozzle},
    {"blower",
     "Delivery, outlet temperature and drive power of a displacement blower",
     {{"--swept-volume", "for a turn", Quantity{Dimension::volume, "L", 0, 1, true}},
      {"--speed", "of the blower", Quantity{Dimension::rotational_speed, "rpm", 0, 1e4, true}},
      {"--pressure", "at the inlet, total", Quantity{Dimension::pressure, "kPa", 1e3, 1e7}, Need::optional,
       "101.325"},
      {"--temperature", "at the inlet, total", air_temperature, Need::optional, "20"},
      {"--pressure-ratio", "outlet over inlet, total", Quantity{Dimension::ratio, "", 1, 10}},
      {"--volumetric-efficiency", "without a pressure rise", Quantity{Dimension::ratio, "", 0.01, 1.2},
       Need::optional, "1"},
      {"--leak-speed", "blower speed of a point with known leakage",
       Quantity{Dimension::rotational_speed, "rpm", 0, 1e4, true}, Need::optional},
      {"--leak-ratio", "pressure ratio there", Quantity{Dimension::ratio, "", 1, 10, true}, Need::optional},
      {"--leak-efficiency", "volumetric efficiency there", Quantity{Dimension::ratio, "", 0.01, 1.2},
       Need::optional},
      {"--internal-ratio", "built-in volume ratio; 1: no internal compression",
       Quantity{Dimension::ratio, "", 1, 5}, Need::optional, "1"},
      {"--efficiency", "adiabatic, total to total; instead of the internal ratio", efficiency,
       Need::optional},
      {"--mechanical-efficiency", "of shaft, gears and belt", efficiency, Need::optional, "1"}},
     blower},
    {"blower-outlet",
     "Temperature behind a blower with an adiabatic efficiency, dry air, heat capacity by temperature",
     {{"--temperature", "at the inlet, total",
       Quantity{Dimension::temperature, "°C", air::lowest_temperature_K, air::highest_temperature_K}},
      {"--pressure-ratio", "outlet over inlet, total", Quantity{Dimension::ratio, "", 1, 10}},
      {"--efficiency", "adiabatic, total to total", Quantity{Dimension::ratio, "", 0.1, 1}}},
     blower_outlet},
    {"lobe-blower",
     "The best that a blower without internal compression can do, before leakage and mechanical loss",
     {{"--pressure-ratio", "outlet over inlet", Quantity{Dimension::ratio, "", 1, 10, true}}, gamma_argument},
     lobe_blower},
    {"cooler",
     "Effectiveness of a charge cooler by its number of transfer units",
     {{"--ntu", "number of transfer units", Quantity{Dimension::ratio, "", 0, machine::max_ntu}},
      {"--capacity-ratio", "smaller over larger heat capacity rate", Quantity{Dimension::ratio, "", 0, 1}},
      {"--arrangement", "how the streams pass each other", Choice{arrangements}}},
     cooler},
    {"cooler-core",
     "A charge cooler by the conductance of its core",
     {conductance,
      rated_charge,
      charge_share,
      arrangement,
      charge_flow,
      charge_temperature,
      {"--coolant-flow", "of air through the fins, or of water", mass_flow},
      {"--water", "the coolant is water", Switch{}, Need::optional},
      {"--coolant-temperature", "at the core's inlet", air_temperature}},
     cooler_core},
    {"cooler-loop",
     "The same with water going round between the core and a heat exchanger in the open air",
     {conductance,
      rated_charge,
      charge_share,
      arrangement,
      charge_flow,
      charge_temperature,
      {"--coolant-flow", "of the water", mass_flow},
      {"--front-effectiveness", "of the outer heat exchanger, on its weaker stream", efficiency},
      {"--front-flow", "of air through the outer heat exchanger", mass_flow},
      {"--coolant-temperature", "of the air ahead of the outer heat exchanger", air_temperature}},
     cooler_loop},
    {"belt",
     "Length and wrap of an open belt round two pulleys",
     {{"--large", "diameter of the large pulley", positive_length},
      {"--small", "diameter of the small pulley", positive_length},
      {"--centres", "distance of the shafts", positive_length}},
     belt},
};

} // namespace

std::span<const Sum> machine_sums() {
  return table;
}

} // namespace bellmouth::cli
