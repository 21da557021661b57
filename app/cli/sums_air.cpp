// SPDX-License-Identifier: GPL-3.0-or-later
// Air, the standard atmosphere and compressible flow.
#include "common_arguments.hpp"

#include <bellmouth/air.hpp>

#include <spdlog/fmt/fmt.h>

#include <cmath>

namespace bellmouth::cli {

namespace {

using quantity::Dimension;

/// `unit` with a space before it.
tl::unexpected<Refusal> chokes(double asked, double limit, std::string_view unit) {
  return without_solution(
      fmt::format("the bore chokes: found {:.6g}{}; accepted: at most {:.6g}{}, what passes at Mach 1", asked,
                  unit, limit, unit));
}

Answer isentropic(const Given& given) {
  const double mach = given.number("--mach"), gamma = given.number("--gamma");
  return Figures{{"temperature_ratio", air::temperature_ratio(mach, gamma)},
                 {"pressure_ratio", air::pressure_ratio(mach, gamma)},
                 {"density_ratio", air::density_ratio(mach, gamma)},
                 {"area_ratio", mach > 0 ? Figure(air::area_ratio(mach, gamma)) : Figure()},
                 {"mass_flow_function", air::mass_flow_function(mach, gamma)}};
}

Answer fanno(const Given& given) {
  const double mach = given.number("--mach"), gamma = given.number("--gamma");
  return Figures{{"fanno_parameter", air::fanno_parameter(mach, gamma)},
                 {"temperature_ratio", air::fanno_temperature_ratio(mach, gamma)},
                 {"pressure_ratio", air::fanno_pressure_ratio(mach, gamma)},
                 {"density_ratio", air::fanno_density_ratio(mach, gamma)},
                 {"total_pressure_ratio", air::fanno_total_pressure_ratio(mach, gamma)}};
}

/// The one of the three that says how much flows; nullptr if it is not exactly one.
const char* stated_flow(const Given& given) {
  const char* found = nullptr;
  for (const char* flag : {"--mach", "--function", "--flow"})
    if (given.has(flag)) {
      if (found != nullptr)
        return nullptr;
      found = flag;
    }
  return found;
}

Answer mass_flow(const Given& given) {
  const std::string_view stated = stated_flow(given) == nullptr ? "" : stated_flow(given);
  if (stated.empty())
    return misfit("mass-flow", "none or several of them", "one of --mach, --function, --flow");
  const int state = given.has("--bore") + given.has("--pressure") + given.has("--temperature");
  if (state != 3 && (state != 0 || stated == "--flow"))
    return misfit("mass-flow", "no whole state", "--bore, --pressure and --temperature together");

  const double gamma = given.number("--gamma");
  const double sonic = air::mass_flow_function(1, gamma);
  double per_function = 0; // mass flow for a mass-flow function of 1 [kg/s]
  if (state == 3) {
    const double area_m2 = std::numbers::pi / 4 * given.number("--bore") * given.number("--bore");
    per_function = area_m2 * given.number("--pressure") /
                   std::sqrt(air::Mixture().gas_constant_J_kgK() * given.number("--temperature"));
  }
  double function = 0, mach = 0;
  if (stated == "--mach") {
    mach = given.number("--mach");
    function = air::mass_flow_function(mach, gamma);
  } else {
    function = stated == "--function" ? given.number("--function") : given.number("--flow") / per_function;
    const auto found = air::mach_of_mass_flow_function(function, gamma);
    if (!found)
      return stated == "--function" ? chokes(function, sonic, "")
                                    : chokes(given.number("--flow"), sonic * per_function, " kg/s");
    mach = *found;
  }
  Figures figures{{"mach", mach}, {"mass_flow_function", function}};
  if (state == 3) {
    figures.emplace_back("mass_flow_kg_s", function * per_function);
    figures.emplace_back("choking_mass_flow_kg_s", sonic * per_function);
  }
  return figures;
}

/// Moist air is described where vapour pressure and mixture are: see saturation_pressure_Pa() and Mixture.
tl::expected<air::Mixture, Refusal> mixture(double temperature_K, double pressure_Pa,
                                            double relative_humidity) {
  if (relative_humidity == 0)
    return air::Mixture();
  constexpr double coldest_K = 173.15, hottest_K = 473.15, wettest = 0.3;
  if (temperature_K < coldest_K || temperature_K > hottest_K)
    return misfit("--temperature", quantity::write(Dimension::temperature, temperature_K, "°C"),
                  "-100 °C to 200 °C with moist air");
  const double vapour_Pa = relative_humidity * air::saturation_pressure_Pa(temperature_K);
  if (vapour_Pa >= pressure_Pa ||
      air::humidity_ratio(temperature_K, pressure_Pa, relative_humidity) > wettest)
    return misfit("--relative-humidity", quantity::write(Dimension::ratio, relative_humidity, "%"),
                  fmt::format("less than {} kg of vapour to a kg of dry air", wettest));
  return air::Mixture(air::humidity_ratio(temperature_K, pressure_Pa, relative_humidity));
}

Answer air_properties(const Given& given) {
  const double temperature_K = given.number("--temperature"), pressure_Pa = given.number("--pressure");
  const auto found = mixture(temperature_K, pressure_Pa, given.number("--relative-humidity"));
  if (!found)
    return tl::unexpected(found.error());
  return Figures{{"density_kg_m3", found->density_kg_m3(pressure_Pa, temperature_K)},
                 {"viscosity_Pa_s", found->viscosity_Pa_s(temperature_K)},
                 {"cp_J_kgK", found->cp_J_kgK(temperature_K)},
                 {"gamma", found->gamma(temperature_K)},
                 {"sound_speed_m_s", found->sound_speed_m_s(temperature_K)},
                 {"gas_constant_J_kgK", found->gas_constant_J_kgK()},
                 {"humidity_ratio_kg_kg", found->humidity_ratio()}};
}

Answer atmosphere(const Given& given) {
  const double altitude_m = given.number("--altitude");
  const air::AtmosphereState state = given.has("--geopotential")
                                         ? air::standard_atmosphere_geopotential(altitude_m)
                                         : air::standard_atmosphere(altitude_m);
  return Figures{{"temperature_K", state.temperature_K},
                 {"pressure_Pa", state.pressure_Pa},
                 {"density_kg_m3", state.density_kg_m3}};
}

/// Dry air; the flow counts at the pressure and temperature of the stream itself.
Answer velocity(const Given& given) {
  const air::Mixture dry;
  const double temperature_K = given.number("--temperature"), bore_m = given.number("--bore");
  const double density_kg_m3 = dry.density_kg_m3(given.number("--pressure"), temperature_K);
  const double area_m2 = std::numbers::pi / 4 * bore_m * bore_m;
  const quantity::Flow& flow = given.flow("--flow");
  const double volume_flow_m3_s =
      flow.dimension == Dimension::volume_flow ? flow.value : flow.value / density_kg_m3;
  const double velocity_m_s = volume_flow_m3_s / area_m2;
  const double sound_m_s = dry.sound_speed_m_s(temperature_K);
  if (velocity_m_s > sound_m_s)
    return chokes(volume_flow_m3_s * density_kg_m3, sound_m_s * area_m2 * density_kg_m3, " kg/s");
  return Figures{{"velocity_m_s", velocity_m_s},
                 {"mach", velocity_m_s / sound_m_s},
                 {"density_kg_m3", density_kg_m3},
                 {"mass_flow_kg_s", volume_flow_m3_s * density_kg_m3},
                 {"volume_flow_m3_s", volume_flow_m3_s},
                 {"dynamic_pressure_Pa", density_kg_m3 * velocity_m_s * velocity_m_s / 2},
                 {"reynolds", density_kg_m3 * velocity_m_s * bore_m / dry.viscosity_Pa_s(temperature_K)}};
}

constexpr Quantity temperature{Dimension::temperature, "°C", air::lowest_temperature_K,
                               air::highest_temperature_K};
constexpr Quantity pressure{Dimension::pressure, "kPa", 0, 1e8, true};
constexpr Quantity any_mach{Dimension::ratio, "", 0, 10};

const Sum table[] = {
    {"isentropic",
     "Static over total quantities, and area over the sonic area",
     {{"--mach", "Mach number", any_mach}, gamma_argument},
     isentropic},
    {"fanno",
     "Flow with friction in a constant bore: friction length f L*/D to Mach 1, and quantities over those "
     "there",
     {{"--mach", "Mach number", Quantity{Dimension::ratio, "", 0, 10, true}}, gamma_argument},
     fanno},
    {"mass-flow",
     "Mass-flow function m sqrt(R T0) / (A p0) from the Mach number or back, and dry air through a bore",
     {{"--mach", "Mach number", Quantity{Dimension::ratio, "", 0, 1}, Need::optional},
      {"--function", "mass-flow function", Quantity{Dimension::ratio, "", 0}, Need::optional},
      {"--flow", "mass flow", Quantity{Dimension::mass_flow, "kg/s", 0}, Need::optional},
      {"--bore", "inside diameter", positive_length, Need::optional},
      {"--pressure", "total, absolute", pressure, Need::optional},
      {"--temperature", "total", temperature, Need::optional},
      gamma_argument},
     mass_flow},
    {"air",
     "Properties of air",
     {{"--temperature", "of the air", temperature},
      {"--pressure", "absolute", pressure},
      {"--relative-humidity", "0 to 1, or per cent", Quantity{Dimension::ratio, "", 0, 1}, Need::optional,
       "0"}},
     air_properties},
    {"atmosphere",
     "Standard atmosphere of ISO 2533",
     {{"--altitude", "above mean sea level, geometric", Quantity{Dimension::length, "m", -2000, 11000}},
      {"--geopotential", "the altitude is a geopotential one", Switch{}, Need::optional}},
     atmosphere},
    {"velocity",
     "Velocity of dry air in a bore",
     {{"--flow", "mass flow, or volume flow at the stream's own pressure and temperature", Flow{}},
      {"--bore", "inside diameter", positive_length},
      {"--pressure", "static, absolute", pressure},
      {"--temperature", "static", temperature}},
     velocity},
};

} // namespace

std::span<const Sum> air_sums() {
  return table;
}

} // namespace bellmouth::cli
