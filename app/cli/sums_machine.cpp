// SPDX-License-Identifier: GPL-3.0-or-later
// Blowers, coolers and the belt.
#include "common_arguments.hpp"

#include <bellmouth/machine.hpp>
#include <bellmouth/machine/belt.hpp>

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

const Sum table[] = {
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
