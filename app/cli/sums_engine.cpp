// SPDX-License-Identifier: GPL-3.0-or-later
// What an engine draws and gives.
#include "common_arguments.hpp"

#include <bellmouth/flow.hpp>
#include <bellmouth/machine.hpp>
#include <bellmouth/machine/atmospheric_correction.hpp>
#include <bellmouth/machine/bands.hpp>

namespace bellmouth::cli {

namespace {

using quantity::Dimension;

constexpr std::string_view strokes_words[] = {"2", "4"};
int strokes_of(const Given& given) {
  return given.choice("--strokes") == 0 ? 2 : 4;
}

Answer engine_flow(const Given& given) {
  const double speed = given.number("--speed");
  const machine::Engine engine{.displacement_m3 = given.number("--displacement"),
                               .strokes = strokes_of(given),
                               .cylinders = 1,
                               .efficiency = {{speed, given.number("--volumetric-efficiency")}},
                               .idle_speed_rev_s = 0,
                               .max_speed_rev_s = speed,
                               .working_speed_rev_s = speed};
  const double density =
      air::Mixture().density_kg_m3(given.number("--pressure"), given.number("--temperature"));
  const double flow = engine.mass_flow_kg_s(speed, density);
  return Figures{{"mass_flow_kg_s", flow}, {"volume_flow_m3_s", flow / density}, {"density_kg_m3", density}};
}

Answer engine_power(const Given& given) {
  machine::Engine engine{};
  engine.lost_in_scavenging = given.number("--lost");
  if (given.has("--work"))
    engine.work_per_air_J_kg = given.number("--work");
  const double power = engine.crank_power_W(given.number("--flow"));
  Figures figures{{"power_W", power}, {"work_J_kg", engine.crank_work_J_kg()}};
  if (!given.has("--work")) { // the rule of the trade has its band
    const double band = machine::work_per_air_band.half_width;
    figures.emplace_back("band_low_W", power * (1 - band));
    figures.emplace_back("band_high_W", power * (1 + band));
    figures.emplace_back("source", std::string(machine::work_per_air_band.source));
  }
  return figures;
}

Answer pulsation(const Given& given) {
  return Figures{{"pulsation_factor", machine::pulsation_factor_undamped(
                                          static_cast<int>(given.number("--cylinders")), strokes_of(given))}};
}

constexpr std::string_view rule_words[] = {"spark-ignition", "compression-ignition",
                                           "compression-ignition-exhaust-driven", "spark-ignition-1990",
                                           "din-70020"};
constexpr std::string_view rule_sources[] = {"ISO 1585, from memory", "ISO 1585, from memory",
                                             "ISO 1585, from memory", "SAE J1349 of 1990, as quoted",
                                             "DIN 70020, from memory"};

Answer power_correction(const Given& given) {
  const auto rule = static_cast<machine::PowerCorrection>(given.choice("--rule"));
  const bool compression = rule == machine::PowerCorrection::compression_ignition ||
                           rule == machine::PowerCorrection::compression_ignition_exhaust_driven;
  if (given.has("--engine-factor") && given.has("--fuel"))
    return misfit("--fuel", "--engine-factor as well", "one of the two");
  if (!compression && (given.has("--engine-factor") || given.has("--fuel")))
    return misfit(given.has("--fuel") ? "--fuel" : "--engine-factor", "a rule that does not use it",
                  "it with compression ignition only");
  const double engine_factor = given.has("--fuel") ? machine::engine_factor_of_fuel(given.number("--fuel"))
                               : given.has("--engine-factor") ? given.number("--engine-factor")
                                                              : 1.0;
  const double factor = machine::atmospheric_correction(rule, given.number("--pressure"),
                                                        given.number("--temperature"), engine_factor);
  Figures figures{{"power_factor", factor},
                  {"within_limits", machine::is_within_limits(rule, factor) ? "yes" : "no"},
                  {"source", std::string(rule_sources[given.choice("--rule")])}};
  if (compression)
    figures.emplace_back("engine_factor", engine_factor);
  return figures;
}

Answer fill_time(const Given& given) {
  const air::Mixture dry;
  const double temperature = given.number("--temperature");
  const auto density = [&](const char* flag) { return dry.density_kg_m3(given.number(flag), temperature); };
  const double supply = given.number("--supply"), swallow = given.number("--swallow");
  const auto time =
      flow::fill_time_s(given.number("--volume"), density("--from"), density("--to"), supply, swallow);
  Figures figures{{"fill_time_s", time ? Figure(*time) : Figure()}};
  if (swallow > 0)
    figures.emplace_back("ends_at_Pa", supply / swallow * dry.gas_constant_J_kgK() * temperature);
  return figures;
}

constexpr Quantity air_temperature{Dimension::temperature, "°C", air::lowest_temperature_K,
                                   air::highest_temperature_K};
constexpr Quantity pressure{Dimension::pressure, "kPa", 1e3, 1e7};
const Argument strokes{"--strokes", "of a cycle", Choice{strokes_words}, Need::optional, "4"};

const Sum table[] = {
    {"engine-flow",
     "Air that an engine draws from its manifold",
     {{"--displacement", "of all cylinders", Quantity{Dimension::volume, "L", 0, 100, true}},
      strokes,
      {"--speed", "of the engine", Quantity{Dimension::rotational_speed, "rpm", 0, 1000, true}},
      {"--volumetric-efficiency", "on the density in the manifold", Quantity{Dimension::ratio, "", 0.01, 2}},
      {"--pressure", "in the manifold, absolute", pressure},
      {"--temperature", "in the manifold", air_temperature}},
     engine_flow},
    {"engine-power",
     "Crank power of an air flow, before a blower's drive is taken off",
     {{"--flow", "of the air drawn", Quantity{Dimension::mass_flow, "kg/s", 0, 1000}},
      {"--lost", "share that passes straight through to the exhaust", Quantity{Dimension::ratio, "", 0, 0.9},
       Need::optional, "0"},
      {"--work", "crank work of a kilogram of trapped air, in J/kg; else the rule for petrol at best power",
       Quantity{Dimension::ratio, "", 1e4, 5e6}, Need::optional}},
     engine_power},
    {"pulsation",
     "How uneven the flow is at a filter right at the engine: mean square over squared mean, at most",
     {{"--cylinders", "that share the filter, at even intervals", Count{1, 16}}, strokes},
     pulsation},
    {"fill-time",
     "Time in which a volume goes from one pressure to another while an engine draws from it; '-' where it "
     "never "
     "gets there",
     {{"--volume", "of the ducting, and of what else must be filled",
       Quantity{Dimension::volume, "L", 0, 100, true}},
      {"--from", "absolute pressure", pressure},
      {"--to", "absolute pressure", pressure},
      {"--temperature", "of the air in it", air_temperature},
      {"--supply", "that flows in", Quantity{Dimension::mass_flow, "kg/s", 0, 1000, true}},
      {"--swallow", "volume that the engine draws", Quantity{Dimension::volume_flow, "m3/s", 0, 1000},
       Need::optional, "0"}},
     fill_time},
    {"power-correction",
     "Factor that puts a measured power to standard air",
     {{"--rule", "by the kind of engine; all but the last want the pressure of the dry air",
       Choice{rule_words}},
      {"--pressure", "of the air at the inlet, absolute", pressure},
      {"--temperature", "of that air", air_temperature},
      {"--engine-factor", "with compression ignition; 1 when neither this nor the fuel is said",
       Quantity{Dimension::ratio, "", 0, 2}, Need::optional},
      {"--fuel", "instead: mg for each litre and cycle, over the blower's pressure ratio",
       Quantity{Dimension::ratio, "", 0, 1000}, Need::optional}},
     power_correction},
};

} // namespace

std::span<const Sum> engine_sums() {
  return table;
}

} // namespace bellmouth::cli
