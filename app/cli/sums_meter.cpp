// SPDX-License-Identifier: GPL-3.0-or-later
// Metering bodies.
#include "common_arguments.hpp"

#include <bellmouth/air.hpp>
#include <bellmouth/loss/orifice.hpp>

#include <spdlog/fmt/fmt.h>

namespace bellmouth::cli {

namespace {

using quantity::Dimension;

constexpr std::string_view meter_kinds[] = {
    "plate", "eccentric-plate", "quarter-circle-plate", "long-radius-nozzle", "isa-nozzle", "venturi-tube"};
constexpr std::string_view tap_places[] = {"corner", "flange", "d-and-half-d"};

/// Two of throat, difference and flow are given; the third is found.
Answer orifice(const Given& given) {
  const bool throat = given.has("--throat"), difference = given.has("--difference"),
             flow = given.has("--flow");
  if (throat + difference + flow != 2)
    return misfit("orifice", fmt::format("{} of them", throat + difference + flow),
                  "two of --throat, --difference and --flow; the third is found");
  const double bore_m = given.number("--bore"), pressure_Pa = given.number("--pressure");
  const double temperature_K = given.number("--temperature");
  const air::Mixture dry;
  const loss::Upstream gas{pressure_Pa, dry.density_kg_m3(pressure_Pa, temperature_K),
                           dry.viscosity_Pa_s(temperature_K), dry.gamma(temperature_K)};
  loss::Meter meter{static_cast<loss::MeterKind>(given.choice("--kind")), bore_m, bore_m / 2,
                    static_cast<loss::Taps>(given.choice("--taps"))};
  double mass_flow_kg_s = 0;
  if (flow) {
    const quantity::Flow& stated = given.flow("--flow");
    mass_flow_kg_s =
        stated.dimension == Dimension::volume_flow ? stated.value * gas.density_kg_m3 : stated.value;
  }
  const double differential_Pa = difference ? given.number("--difference") : 0;
  if (difference && differential_Pa >= pressure_Pa / 2)
    return misfit("--difference", quantity::write(Dimension::pressure, differential_Pa, "kPa"),
                  "less than half the pressure ahead of the body");
  if (throat) {
    meter.throat_m = given.number("--throat");
    if (meter.throat_m >= bore_m)
      return misfit("--throat", quantity::write(Dimension::length, meter.throat_m, "mm"),
                    "less than the bore, " + quantity::write(Dimension::length, bore_m, "mm"));
  } else {
    const auto found = loss::throat_for(meter, gas, mass_flow_kg_s, differential_Pa);
    if (!found)
      return without_solution(
          "no throat between 0.05 and 0.9 of the bore passes this flow at this difference");
    meter.throat_m = *found;
  }
  std::optional<loss::Metered> metered;
  if (difference)
    metered = loss::flow_at(meter, gas, differential_Pa);
  else
    metered = loss::differential_at(meter, gas, mass_flow_kg_s);
  if (!metered)
    return without_solution("no difference up to half the pressure ahead of the body passes this flow");
  const double flow_band = metered->band * metered->mass_flow_kg_s;
  return Figures{{"mass_flow_kg_s", metered->mass_flow_kg_s},
                 {"mass_flow_low_kg_s", metered->mass_flow_kg_s - flow_band},
                 {"mass_flow_high_kg_s", metered->mass_flow_kg_s + flow_band},
                 {"differential_pressure_Pa", metered->differential_Pa},
                 {"throat_diameter_mm", meter.throat_m * mm_per_m},
                 {"discharge_coefficient", metered->discharge_coefficient},
                 {"expansibility", metered->expansibility},
                 {"reynolds", metered->reynolds},
                 {"permanent_pressure_loss_Pa", metered->permanent_loss_Pa},
                 {"loss_coefficient", metered->loss_coefficient},
                 {"outside_range", metered->outside_range ? "yes" : "no"},
                 {"range", std::string(metered->range)},
                 {"source", std::string(metered->source)}};
}

const Sum table[] = {
    {"orifice",
     "Metering plate, nozzle or Venturi tube in dry air: flow, pressure difference or throat from the other "
     "two",
     {{"--kind", "the body", Choice{meter_kinds}, Need::optional, "plate"},
      {"--taps", "where a plate's pressures are taken", Choice{tap_places}, Need::optional, "corner"},
      bore,
      {"--throat", "diameter of the hole", positive_length, Need::optional},
      {"--difference", "pressure difference at the taps",
       Quantity{.dimension = Dimension::pressure,
                .unit = "kPa",
                .lowest = 0,
                .above_lowest = true,
                .reference = quantity::Reference::difference},
       Need::optional},
      {"--flow", "flow, by mass or by volume at the state ahead of the body", Flow{}, Need::optional},
      {"--pressure", "static, ahead of the body", Quantity{Dimension::pressure, "kPa", 0, 1e7, true}},
      {"--temperature", "ahead of the body",
       Quantity{Dimension::temperature, "°C", air::lowest_temperature_K, air::highest_temperature_K}}},
     orifice},
};

} // namespace

std::span<const Sum> meter_sums() {
  return table;
}

} // namespace bellmouth::cli
