// SPDX-License-Identifier: GPL-3.0-or-later
// Air, the standard atmosphere and compressible flow.
#include "common_arguments.hpp"

#include <bellmouth/air.hpp>
#include <bellmouth/air/inverses.hpp>
#include <bellmouth/air/isothermal.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>
#include <optional>

namespace bellmouth::cli {

namespace {

using quantity::Dimension;

/// `unit` with a space before it.
tl::unexpected<Refusal> chokes(double asked, double limit, std::string_view unit) {
  return without_solution(
      fmt::format("the bore chokes: found {:.6g}{}; accepted: at most {:.6g}{}, what passes at Mach 1", asked,
                  unit, limit, unit));
}

/// A ratio that the Mach number can be found from, by its flag.
struct Inverse {
  std::string_view flag;
  air::MachFound (*mach)(double ratio, double gamma, air::Branch branch);
};

/// An inverse that is the same on both branches.
template <air::MachFound (*function)(double, double)>
air::MachFound either(double ratio, double gamma, air::Branch /*branch*/) {
  return function(ratio, gamma);
}

/// The one of `flags` that was given; nothing if it is not exactly one.
std::optional<std::string_view> the_one_given(const Given& given,
                                              const std::vector<std::string_view>& flags) {
  std::optional<std::string_view> found;
  for (const std::string_view flag : flags)
    if (given.has(flag)) {
      if (found)
        return std::nullopt;
      found = flag;
    }
  return found;
}

std::string accepted(const air::Unphysical& range) {
  return std::isfinite(range.highest) ? fmt::format("{:.6g} to {:.6g}", range.lowest, range.highest)
                                      : fmt::format("{:.6g} and more", range.lowest);
}

/// The Mach number, typed or found from one of `inverses`.
tl::expected<double, Refusal> mach_from(const Given& given, std::span<const Inverse> inverses) {
  std::vector<std::string_view> flags{"--mach"};
  for (const Inverse& inverse : inverses)
    flags.push_back(inverse.flag);
  const auto flag = the_one_given(given, flags);
  if (!flag)
    return misfit("Mach number", "none or several ways to find it",
                  fmt::format("one of {}", fmt::join(flags, ", ")));
  const double value = given.number(*flag);
  if (*flag == "--mach")
    return value;
  const air::Branch branch = given.has("--supersonic") ? air::Branch::supersonic : air::Branch::subsonic;
  const auto inverse = std::ranges::find(inverses, *flag, &Inverse::flag);
  const auto mach = inverse->mach(value, given.number("--gamma"), branch);
  if (!mach)
    return misfit(*flag, fmt::format("{:.6g}", value), accepted(mach.error()));
  return *mach;
}

constexpr Inverse isentropic_inverses[] = {{"--temperature-ratio", either<air::mach_of_temperature_ratio>},
                                           {"--pressure-ratio", either<air::mach_of_pressure_ratio>},
                                           {"--density-ratio", either<air::mach_of_density_ratio>},
                                           {"--area-ratio", air::mach_of_area_ratio},
                                           {"--mass-flow-function", air::mach_of_mass_flow_function}};

Answer isentropic(const Given& given) {
  const auto found = mach_from(given, isentropic_inverses);
  if (!found)
    return tl::unexpected(found.error());
  const double mach = *found, gamma = given.number("--gamma");
  return Figures{{"mach", mach},
                 {"temperature_ratio", air::temperature_ratio(mach, gamma)},
                 {"pressure_ratio", air::pressure_ratio(mach, gamma)},
                 {"density_ratio", air::density_ratio(mach, gamma)},
                 {"area_ratio", mach > 0 ? Figure(air::area_ratio(mach, gamma)) : Figure()},
                 {"mass_flow_function", air::mass_flow_function(mach, gamma)}};
}

constexpr Inverse fanno_inverses[] = {{"--fanno-parameter", air::mach_of_fanno_parameter},
                                      {"--temperature-ratio", either<air::mach_of_fanno_temperature_ratio>},
                                      {"--pressure-ratio", either<air::mach_of_fanno_pressure_ratio>},
                                      {"--density-ratio", either<air::mach_of_fanno_density_ratio>},
                                      {"--total-pressure-ratio", air::mach_of_fanno_total_pressure_ratio}};

/// What a duct does to a flow that enters it below Mach 1.
tl::expected<void, Refusal> add_duct(Figures& figures, double mach, double gamma, double friction_length) {
  if (mach > 1)
    return misfit("--friction-length", fmt::format("a flow at Mach {:.6g}", mach), "a flow up to Mach 1");
  const auto outlet = air::fanno_outlet_mach(mach, friction_length, gamma);
  if (!outlet)
    return without_solution(fmt::format("the duct chokes: found {:.6g}; accepted: a friction length of at "
                                        "most {:.6g}, which reaches Mach 1",
                                        friction_length, outlet.error().limit));
  figures.emplace_back("outlet_mach", *outlet);
  figures.emplace_back("outlet_total_pressure_ratio", air::fanno_total_pressure_ratio(*outlet, gamma) /
                                                          air::fanno_total_pressure_ratio(mach, gamma));
  return {};
}

Answer fanno(const Given& given) {
  const auto found = mach_from(given, fanno_inverses);
  if (!found)
    return tl::unexpected(found.error());
  const double mach = *found, gamma = given.number("--gamma");
  if (!(mach > 0))
    return misfit("Mach number", "0", "a flow");
  Figures figures{{"mach", mach},
                  {"fanno_parameter", air::fanno_parameter(mach, gamma)},
                  {"temperature_ratio", air::fanno_temperature_ratio(mach, gamma)},
                  {"pressure_ratio", air::fanno_pressure_ratio(mach, gamma)},
                  {"density_ratio", air::fanno_density_ratio(mach, gamma)},
                  {"total_pressure_ratio", air::fanno_total_pressure_ratio(mach, gamma)}};
  if (given.has("--friction-length"))
    if (const auto added = add_duct(figures, mach, gamma, given.number("--friction-length")); !added)
      return tl::unexpected(added.error());
  return figures;
}

constexpr Inverse rayleigh_inverses[] = {
    {"--total-temperature-ratio", air::mach_of_rayleigh_total_temperature_ratio}};

/// What heat does to a flow that enters below Mach 1.
tl::expected<void, Refusal> add_heat(Figures& figures, double mach, double gamma, double ratio) {
  if (mach > 1)
    return misfit("--heat-ratio", fmt::format("a flow at Mach {:.6g}", mach), "a flow up to Mach 1");
  const auto outlet = air::rayleigh_outlet_mach(mach, ratio, gamma);
  if (!outlet)
    return without_solution(
        fmt::format("the heat chokes the flow: found {:.6g}; accepted: total temperature behind over ahead "
                    "of at most {:.6g}, which reaches Mach 1",
                    ratio, outlet.error().limit));
  figures.emplace_back("outlet_mach", *outlet);
  figures.emplace_back("outlet_total_pressure_ratio", air::rayleigh_total_pressure_ratio(*outlet, gamma) /
                                                          air::rayleigh_total_pressure_ratio(mach, gamma));
  return {};
}

Answer rayleigh(const Given& given) {
  const auto found = mach_from(given, rayleigh_inverses);
  if (!found)
    return tl::unexpected(found.error());
  const double mach = *found, gamma = given.number("--gamma");
  Figures figures{
      {"mach", mach},
      {"total_temperature_ratio", air::rayleigh_total_temperature_ratio(mach, gamma)},
      {"temperature_ratio", air::rayleigh_temperature_ratio(mach, gamma)},
      {"pressure_ratio", air::rayleigh_pressure_ratio(mach, gamma)},
      {"velocity_ratio", air::rayleigh_velocity_ratio(mach, gamma)},
      {"total_pressure_ratio", air::rayleigh_total_pressure_ratio(mach, gamma)},
      {"critical_heat_ratio", mach > 0 ? Figure(air::rayleigh_critical_ratio(mach, gamma)) : Figure()}};
  if (given.has("--heat-ratio"))
    if (const auto added = add_heat(figures, mach, gamma, given.number("--heat-ratio")); !added)
      return tl::unexpected(added.error());
  return figures;
}

Answer isothermal(const Given& given) {
  const auto one = the_one_given(given, {"--mach", "--pressure-ratio"});
  if (!one)
    return misfit("Mach number", "none or several ways to find it", "one of --mach, --pressure-ratio");
  const double gamma = given.number("--gamma"), length = given.number("--friction-length");
  const auto acceleration =
      given.has("--long-pipe") ? air::Acceleration::left_out : air::Acceleration::counted;
  double psi = 0, ratio = 0; // see isothermal.hpp
  if (*one == "--mach") {
    psi = gamma * given.number("--mach") * given.number("--mach");
    if (psi > 1)
      return misfit("--mach", fmt::format("{:.6g}", given.number("--mach")),
                    fmt::format("at most {:.6g}, where an isothermal flow chokes", 1 / std::sqrt(gamma)));
    const auto behind = air::isothermal_pressure_ratio(psi, length, acceleration);
    if (!behind)
      return without_solution(fmt::format("the pipe chokes: found {:.6g}; accepted: a friction length of at "
                                          "most {:.6g}",
                                          length, behind.error().limit));
    ratio = *behind;
  } else {
    ratio = given.number("--pressure-ratio");
    psi = air::isothermal_flow(ratio, length, acceleration);
    if (acceleration == air::Acceleration::counted && psi > ratio * ratio)
      return without_solution(fmt::format("the pipe chokes: found {:.6g}; accepted: a pressure ratio nearer "
                                          "to 1, with which it reaches no more than Mach {:.6g}",
                                          ratio, 1 / std::sqrt(gamma)));
  }
  const double mach = std::sqrt(psi / gamma);
  return Figures{{"mach", mach}, {"pressure_ratio", ratio}, {"outlet_mach", mach / ratio}};
}

Answer mass_flow(const Given& given) {
  const auto one = the_one_given(given, {"--mach", "--function", "--flow"});
  if (!one)
    return misfit("mass-flow", "none or several of them", "one of --mach, --function, --flow");
  const std::string_view stated = *one;
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
  constexpr double wettest = 0.3;
  if (temperature_K < air::lowest_saturation_K || temperature_K > air::highest_saturation_K)
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
                 {"conductivity_W_mK", found->conductivity_W_mK(temperature_K)},
                 {"prandtl", found->prandtl(temperature_K)},
                 {"cp_J_kgK", found->cp_J_kgK(temperature_K)},
                 {"gamma", found->gamma(temperature_K)},
                 {"sound_speed_m_s", found->sound_speed_m_s(temperature_K)},
                 {"gas_constant_J_kgK", found->gas_constant_J_kgK()},
                 {"humidity_ratio_kg_kg", found->humidity_ratio()}};
}

/// What vapour does when moist air is compressed and cooled.
Answer dew_point(const Given& given) {
  const double pressure_Pa = given.number("--pressure");
  const auto found = mixture(given.number("--temperature"), pressure_Pa, given.number("--relative-humidity"));
  if (!found)
    return tl::unexpected(found.error());
  const double behind_Pa = given.has("--compressed-to") ? given.number("--compressed-to") : pressure_Pa;
  const auto dew_K = air::dew_point_K(*found, behind_Pa);
  Figures figures{{"humidity_ratio_kg_kg", found->humidity_ratio()},
                  {"vapour_pressure_Pa", air::vapour_pressure_Pa(found->humidity_ratio(), behind_Pa)},
                  {"dew_point_K", dew_K ? Figure(*dew_K) : Figure()}};
  if (given.has("--cooled-to")) {
    const double cold_K = given.number("--cooled-to");
    const auto held = air::saturated_humidity_ratio(cold_K, behind_Pa);
    figures.emplace_back("saturated_humidity_ratio_kg_kg", held ? Figure(*held) : Figure());
    figures.emplace_back("condensate_kg_kg", air::condensate_kg_kg(*found, cold_K, behind_Pa));
  }
  return figures;
}

Answer atmosphere(const Given& given) {
  const double altitude_m = given.number("--altitude");
  const air::AtmosphereState state = given.has("--geopotential")
                                         ? air::standard_atmosphere_geopotential(altitude_m)
                                         : air::standard_atmosphere(altitude_m);
  return Figures{{"temperature_K", state.temperature_K},
                 {"pressure_Pa", state.pressure_Pa},
                 {"density_kg_m3", state.density_kg_m3},
                 {"viscosity_Pa_s", air::standard_viscosity_Pa_s(state.temperature_K)}};
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
constexpr Quantity any_ratio{Dimension::ratio, "", 0};
constexpr Quantity saturation_temperature{Dimension::temperature, "°C", air::lowest_saturation_K,
                                          air::highest_saturation_K};
const Argument mach_argument{"--mach", "Mach number", any_mach, Need::optional};
const Argument supersonic_argument{
    "--supersonic", "above Mach 1, where a ratio belongs to one Mach number below and one above", Switch{},
    Need::optional};

const Sum table[] = {
    {"isentropic",
     "Static over total quantities, and area over the sonic area, by the Mach number or any one of them",
     {mach_argument,
      {"--temperature-ratio", "T/T0", any_ratio, Need::optional},
      {"--pressure-ratio", "p/p0", any_ratio, Need::optional},
      {"--density-ratio", "rho/rho0", any_ratio, Need::optional},
      {"--area-ratio", "A/A*", any_ratio, Need::optional},
      {"--mass-flow-function", "m sqrt(R T0)/(A p0)", any_ratio, Need::optional},
      supersonic_argument,
      gamma_argument},
     isentropic},
    {"fanno",
     "Flow with friction in a constant bore: friction length f L*/D to Mach 1, and quantities over those "
     "there, by the Mach number or any one of them",
     {{"--mach", "Mach number", Quantity{Dimension::ratio, "", 0, 10, true}, Need::optional},
      {"--fanno-parameter", "f L*/D", any_ratio, Need::optional},
      {"--temperature-ratio", "T/T*", any_ratio, Need::optional},
      {"--pressure-ratio", "p/p*", any_ratio, Need::optional},
      {"--density-ratio", "rho/rho*", any_ratio, Need::optional},
      {"--total-pressure-ratio", "p0/p0*", any_ratio, Need::optional},
      supersonic_argument,
      {"--friction-length", "f L/D of a duct entered there: adds the Mach number at its outlet", any_ratio,
       Need::optional},
      gamma_argument},
     fanno},
    {"rayleigh",
     "Flow heated or cooled in a constant bore: quantities over those at Mach 1",
     {mach_argument,
      {"--total-temperature-ratio", "T0/T0*", any_ratio, Need::optional},
      supersonic_argument,
      {"--heat-ratio", "total temperature behind over ahead: adds the Mach number behind", positive_ratio,
       Need::optional},
      gamma_argument},
     rayleigh},
    {"isothermal",
     "Flow with friction in a long pipe at one temperature: pressure behind over ahead, and Mach numbers",
     {{"--mach", "at the inlet", Quantity{Dimension::ratio, "", 0, 1, true}, Need::optional},
      {"--pressure-ratio", "pressure behind over ahead", Quantity{Dimension::ratio, "", 0, 1, true},
       Need::optional},
      {"--friction-length", "f L/D", positive_ratio},
      {"--long-pipe", "leave out the acceleration, as handbooks of long pipes do", Switch{}, Need::optional},
      gamma_argument},
     isothermal},
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
    {"dew-point",
     "Dew point of moist air, and the water that falls out when it is compressed and cooled",
     {{"--temperature", "of the air", saturation_temperature},
      {"--pressure", "absolute", pressure},
      {"--relative-humidity", "0 to 1, or per cent", Quantity{Dimension::ratio, "", 0, 1}},
      {"--compressed-to", "absolute pressure behind a blower", pressure, Need::optional},
      {"--cooled-to", "temperature behind a cooler", saturation_temperature, Need::optional}},
     dew_point},
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
