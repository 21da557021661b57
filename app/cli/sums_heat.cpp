// SPDX-License-Identifier: GPL-3.0-or-later
// Heat between a duct and the bay. Dry air.
#include "common_arguments.hpp"

#include <bellmouth/flow/heat.hpp>
#include <bellmouth/loss.hpp>

#include <algorithm>

namespace bellmouth::cli {

namespace {

using quantity::Dimension;

double reynolds_of(double mass_flow_kg_s, double bore_m, double temperature_K) {
  return 4 * mass_flow_kg_s / (std::numbers::pi * bore_m * air::Mixture().viscosity_Pa_s(temperature_K));
}

/// Darcy factor of the stream in the bore that was given; 0 for still air, which has none.
double friction(const Given& given) {
  const double stream =
      reynolds_of(given.number("--flow"), given.number("--bore"), given.number("--temperature"));
  return stream > 0 ? loss::darcy_friction_factor(stream, given.number("--relative-roughness")) : 0;
}

flow::Surroundings bay(const Given& given) {
  return {given.number("--bay-temperature"), given.number("--air-speed"), given.number("--pressure")};
}

Answer inside_film(const Given& given) {
  const double flow_kg_s = given.number("--flow"), bore_m = given.number("--bore"),
               temperature_K = given.number("--temperature");
  const double darcy = friction(given);
  return Figures{{"film_W_m2K", flow::inside_film_W_m2K(air::Mixture(), flow_kg_s, temperature_K, bore_m,
                                                        darcy, given.number("--length"))},
                 {"reynolds", reynolds_of(flow_kg_s, bore_m, temperature_K)},
                 {"darcy_friction_factor", darcy}};
}

Answer outside_film(const Given& given) {
  const flow::OutsideFilm film =
      flow::outside_film(air::Mixture(), bay(given), given.number("--od"),
                         given.number("--surface-temperature"), given.number("--emissivity"));
  return Figures{{"film_W_m2K", film.total_W_m2K()},
                 {"convection_W_m2K", film.convection_W_m2K},
                 {"radiation_W_m2K", film.radiation_W_m2K},
                 {"outside_range", film.outside_range ? "yes" : "no"}};
}

constexpr build::Material materials[] = {build::Material::aluminium,       build::Material::mild_steel,
                                         build::Material::stainless_steel, build::Material::silicone,
                                         build::Material::rubber,          build::Material::plastic};
constexpr std::string_view material_words[] = {"aluminium", "mild-steel", "stainless-steel",
                                               "silicone",  "rubber",     "plastic"};

tl::expected<std::optional<build::Lagging>, Refusal> lagging(const Given& given) {
  const bool thick = given.has("--lagging"), conducts = given.has("--lagging-conductivity");
  if (thick != conducts)
    return misfit("--lagging", thick ? "no --lagging-conductivity" : "--lagging-conductivity alone",
                  "--lagging and --lagging-conductivity together, or neither");
  if (!thick)
    return std::nullopt;
  return build::Lagging{given.number("--lagging"), given.number("--lagging-conductivity")};
}

Answer pipe_heat(const Given& given) {
  const auto wrap = lagging(given);
  if (!wrap)
    return tl::unexpected(wrap.error());
  const air::Mixture dry;
  const flow::WallCase piece{.bore_m = given.number("--bore"),
                             .outer_diameter_m = given.number("--bore") + 2 * given.number("--wall"),
                             .length_m = given.number("--length"),
                             .material = materials[given.choice("--material")],
                             .lagging = *wrap,
                             .mass_flow_kg_s = given.number("--flow"),
                             .temperature_K = given.number("--temperature"),
                             .friction_factor = friction(given),
                             .bay = bay(given)};
  const flow::WallHeat wall = flow::wall_heat(dry, piece);
  const auto stream_through = [&](double conductance_W_K) {
    return flow::stream_heat(dry, piece.mass_flow_kg_s, piece.temperature_K, piece.bay.temperature_K,
                             conductance_W_K);
  };
  const flow::StreamHeat stream = stream_through(wall.conductance_W_K);
  const auto [low_W, high_W] = std::minmax({stream_through(wall.conductance_W_K * (1 - wall.band)).heat_W,
                                            stream_through(wall.conductance_W_K * (1 + wall.band)).heat_W});
  return Figures{{"heat_W", stream.heat_W},
                 {"band_low_W", low_W},
                 {"band_high_W", high_W},
                 {"outlet_temperature_K", stream.outlet_temperature_K},
                 {"conductance_W_K", wall.conductance_W_K},
                 {"surface_temperature_K", wall.surface_temperature_K},
                 {"inside_film_W_m2K", wall.inside_film_W_m2K},
                 {"outside_film_W_m2K", wall.outside_film_W_m2K},
                 {"outside_range", wall.outside_range ? "yes" : "no"}};
}

constexpr Quantity temperature{Dimension::temperature, "°C", air::lowest_temperature_K,
                               air::highest_temperature_K};
const Argument length{"--length", "of the duct", positive_length};
const Argument flow_argument{"--flow", "mass flow; 0 is still air",
                             Quantity{Dimension::mass_flow, "kg/s", 0}};
const Argument inside_temperature{"--temperature", "of the air inside, total, at the inlet", temperature};
const Argument bay_temperature{"--bay-temperature", "of the air of the bay and the parts in sight",
                               temperature};
const Argument air_speed{"--air-speed", "of the bay's air across the duct",
                         Quantity{Dimension::velocity, "m/s", 0, 300}, Need::optional, "0"};
const Argument bay_pressure{"--pressure", "of the bay's air, absolute",
                            Quantity{Dimension::pressure, "kPa", 0, 1e8, true}, Need::optional, "101.325"};

const Sum table[] = {
    {"inside-film",
     "Heat transfer coefficient between a stream and the bore of its duct",
     {flow_argument, bore, length, inside_temperature, relative_roughness},
     inside_film},
    {"outside-film",
     "Heat transfer coefficient round a duct by convection and radiation",
     {{"--od", "outside diameter", positive_length},
      {"--surface-temperature", "of the outside", temperature},
      bay_temperature,
      air_speed,
      bay_pressure,
      {"--emissivity", "of the outside", Quantity{Dimension::ratio, "", 0, 1}, Need::optional, "0.9"}},
     outside_film},
    {"pipe-heat",
     "Heat that a stream picks up through the wall of its duct, negative where it loses it",
     {bore,
      {"--wall", "thickness of the wall", Quantity{Dimension::length, "mm", 0, 1}},
      length,
      {"--material", "of the wall", Choice{material_words}},
      flow_argument,
      inside_temperature,
      bay_temperature,
      air_speed,
      bay_pressure,
      relative_roughness,
      {"--lagging", "thickness of lagging or heat wrap", Quantity{Dimension::length, "mm", 0, 1, true},
       Need::optional},
      {"--lagging-conductivity", "of the lagging, in W/(m K)", Quantity{Dimension::ratio, "", 0.005, 500},
       Need::optional}},
     pipe_heat},
};

} // namespace

std::span<const Sum> heat_sums() {
  return table;
}

} // namespace bellmouth::cli
