// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/flow/heat.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace bellmouth::flow {
namespace {

using std::numbers::pi;

constexpr double gravity_m_s2 = 9.80665;            // standard, ISO 80000-3
constexpr double stefan_boltzmann = 5.670374419e-8; // W/(m2 K4), SI 2019

constexpr double laminar_end = 2300, turbulent_start = 4000, turbulent_end = 5e6; // Re, Gnielinski
constexpr double free_end = 1e12;                                                 // Ra, Churchill & Chu
constexpr double cross_flow_end = 1e7;                                            // Re, Churchill & Bernstein

double cube(double x) {
  return x * x * x;
}
double fourth(double x) {
  return x * x * x * x;
}
double fourth_root(double x) {
  return std::sqrt(std::sqrt(x));
}

double laminar(double reynolds, double prandtl, double bore_per_length) {
  const double graetz = reynolds * prandtl * bore_per_length;
  return std::cbrt(cube(3.66) + cube(0.7) + cube(1.615 * std::cbrt(graetz) - 0.7) +
                   std::sqrt(2 / (1 + 22 * prandtl)) * graetz * std::sqrt(graetz));
}

double turbulent(double reynolds, const BoreStream& stream) {
  const double eighth = stream.friction / 8;
  const double cbrt_pr = std::cbrt(stream.prandtl);
  const double cbrt_short = std::cbrt(stream.bore_per_length);
  return eighth * (reynolds - 1000) * stream.prandtl /
         (1 + 12.7 * std::sqrt(eighth) * (cbrt_pr * cbrt_pr - 1)) * (1 + cbrt_short * cbrt_short);
}

/// Properties of air that every film asks for.
struct Properties {
  double viscosity_Pa_s, conductivity_W_mK, prandtl;
};
Properties properties(const air::Mixture& air, double temperature_K) {
  const double viscosity_Pa_s = air.viscosity_Pa_s(temperature_K);
  const double conductivity_W_mK = air.conductivity_W_mK(temperature_K);
  return {viscosity_Pa_s, conductivity_W_mK,
          viscosity_Pa_s * air.cp_J_kgK(temperature_K) / conductivity_W_mK};
}

/// A stream with the conductivity that turns its Nusselt number into a film.
struct Inside {
  BoreStream stream;
  double conductivity_W_mK, bore_m;
  [[nodiscard]] double film_W_m2K() const { return nusselt_in_bore(stream) * conductivity_W_mK / bore_m; }
};
Inside inside(const air::Mixture& air, double mass_flow_kg_s, double temperature_K, double bore_m,
              double friction_factor, double length_m) {
  assert(mass_flow_kg_s >= 0 && bore_m > 0 && length_m > 0);
  const Properties at = properties(air, temperature_K);
  return {{4 * mass_flow_kg_s / (pi * bore_m * at.viscosity_Pa_s), at.prandtl, friction_factor,
           bore_m / length_m},
          at.conductivity_W_mK,
          bore_m};
}

bool air_is_known(double temperature_K) {
  return temperature_K >= air::lowest_temperature_K && temperature_K <= air::highest_temperature_K;
}

bool out_of_range(const BoreStream& stream, double temperature_K) {
  return stream.reynolds > turbulent_end || stream.bore_per_length > 1 || !air_is_known(temperature_K);
}

/// Relative; see WallHeat::band.
double inside_band(const BoreStream& stream, double temperature_K) {
  constexpr double usual = 0.15, in_transition = 0.25, widest = 0.30;
  if (out_of_range(stream, temperature_K))
    return widest;
  if (stream.reynolds <= laminar_end)
    return usual;
  if (stream.reynolds < turbulent_start)
    return in_transition;
  // A rough wall passes on less heat than its friction says (Norris 1970: as the friction to the power 0.63
  // at most; from memory). Smooth friction: Petukhov 1970.
  const double root = 0.79 * std::log(stream.reynolds) - 1.64;
  return stream.friction * root * root > 1.3 ? widest : usual;
}

/// `difference_K` is that of surface and bay: stated apart so that no digits of it are lost.
OutsideFilm outside(const air::Mixture& air, const Surroundings& bay, double diameter_m, double difference_K,
                    double emissivity) {
  const double surface_K = bay.temperature_K + difference_K;
  const double mean_K = bay.temperature_K + difference_K / 2;
  const Properties at = properties(air, mean_K);
  const double density_kg_m3 = air.density_kg_m3(bay.pressure_Pa, mean_K);
  const double per_viscosity = density_kg_m3 * diameter_m / at.viscosity_Pa_s; // Re per m/s
  const double reynolds = bay.speed_m_s * per_viscosity;
  const double rayleigh = gravity_m_s2 / mean_K * std::abs(difference_K) * diameter_m * per_viscosity *
                          per_viscosity * at.prandtl;
  const double nusselt = fourth_root(fourth(nusselt_of_free_convection(rayleigh, at.prandtl)) +
                                     fourth(nusselt_of_cross_flow(reynolds, at.prandtl)));
  return {nusselt * at.conductivity_W_mK / diameter_m,
          emissivity * stefan_boltzmann * (surface_K * surface_K + bay.temperature_K * bay.temperature_K) *
              (surface_K + bay.temperature_K),
          rayleigh > free_end || reynolds > cross_flow_end || !air_is_known(mean_K)};
}

} // namespace

double nusselt_in_bore(const BoreStream& stream) {
  assert(stream.reynolds >= 0 && stream.prandtl > 0 && stream.bore_per_length > 0);
  if (stream.reynolds <= laminar_end)
    return laminar(stream.reynolds, stream.prandtl, stream.bore_per_length);
  assert(stream.friction > 0);
  if (stream.reynolds >= turbulent_start)
    return turbulent(stream.reynolds, stream);
  const double share = (stream.reynolds - laminar_end) / (turbulent_start - laminar_end);
  return (1 - share) * laminar(laminar_end, stream.prandtl, stream.bore_per_length) +
         share * turbulent(turbulent_start, stream);
}

// Roots of powers of two and three instead of pow(): these two are asked some ten times for each piece.
double nusselt_of_free_convection(double rayleigh, double prandtl) {
  assert(rayleigh >= 0 && prandtl > 0);
  const double ratio = 0.559 / prandtl;
  const double root = std::sqrt(fourth_root(ratio));            // ^(1/8)
  const double sum = 1 + fourth(root) * std::sqrt(root);        // 1 + ^(9/16)
  const double root_27 = std::cbrt(std::cbrt(std::cbrt(sum)));  // ^(1/27)
  const double denominator = fourth(root_27) * fourth(root_27); // ^(8/27)
  const double nusselt_root = 0.60 + 0.387 * std::sqrt(std::cbrt(rayleigh)) / denominator;
  return nusselt_root * nusselt_root;
}

double nusselt_of_cross_flow(double reynolds, double prandtl) {
  assert(reynolds >= 0 && prandtl > 0);
  if (reynolds == 0)
    return 0.3;
  const double cbrt_pr = std::cbrt(prandtl);
  static const double fraction = std::cbrt(0.4 * 0.4);
  const double root = std::sqrt(fourth_root(reynolds / 282000)); // ^(1/8)
  return 0.3 + 0.62 * std::sqrt(reynolds) * cbrt_pr / fourth_root(1 + fraction / (cbrt_pr * cbrt_pr)) *
                   std::pow(1 + fourth(root) * root, 0.8);
}

double inside_film_W_m2K(const air::Mixture& air, double mass_flow_kg_s, double temperature_K, double bore_m,
                         double friction_factor, double length_m) {
  return inside(air, mass_flow_kg_s, temperature_K, bore_m, friction_factor, length_m).film_W_m2K();
}

OutsideFilm outside_film(const air::Mixture& air, const Surroundings& bay, double diameter_m,
                         double surface_temperature_K, double emissivity) {
  assert(diameter_m > 0 && bay.speed_m_s >= 0 && bay.pressure_Pa > 0);
  return outside(air, bay, diameter_m, surface_temperature_K - bay.temperature_K, emissivity);
}

// Metals: Heat and Mass Transfer Data Book, "Property values of metals at 20 C", docplayer.gr/68765243:
// Al-Mg-Si (1 Mg, 1 Si, 1 Mn) 117, other wrought alloys 117 to 177; plain carbon steel 60.5, 0.5 %
// carbon 53.6. Stainless: AISI 316 13.4 (Incropera et al. Table A.1, in github
// FOSSEE/Python-Textbook-Companions, Fundamentals_of_Heat_and_Mass_Transfer/Chapter_7.ipynb, Example 7.5),
// AISI 304 near 15 (from memory). Silicone sheet 0.22 to 0.25 measured to ASTM E1530
// (thermtest.com/application/thermal-conductivity-and-thermal-resistance-of-thin-silicone-rubber); its
// fabric plies are left out. Rubber: natural 0.15, nitrile 0.25, chloroprene 0.19; plastic: polyamide 6 and
// 66, 0.23 to 0.25, without glass fibre (matmake.com/properties/
// thermal-conductivity-of-polymers-and-plastics.html). A metal wall is a thousandth of the resistance, so
// that its figure does not matter.
double conductivity_W_mK(build::Material material) {
  switch (material) {
  case build::Material::aluminium:
    return 140;
  case build::Material::mild_steel:
    return 54;
  case build::Material::stainless_steel:
    return 15;
  case build::Material::silicone:
    return 0.235;
  case build::Material::rubber:
    return 0.20;
  case build::Material::plastic:
    return 0.24;
  }
  assert(false);
  return 0;
}

// Aluminium: commercial sheet 0.09, heavily oxidised 0.20 to 0.31 (neutrium.net/heat_transfer/total-normal-
// emissivities-of-selected-materials). Steel: rolled sheet 0.56 to 0.66, oxidised 0.74 to 0.82, painted 0.9
// (tables of total emissivity in scribd.com/document/430717570; paint from memory). Stainless: bright 0.2,
// tinted or dull 0.4; rubber 0.86 to 0.94, silicone 0.90, plastics 0.85 to 0.95, textiles 0.90 (from memory).
Emissivity emissivity(build::Material material) {
  switch (material) {
  case build::Material::aluminium:
    return {0.20, 0.11};
  case build::Material::mild_steel:
    return {0.75, 0.19};
  case build::Material::stainless_steel:
    return {0.30, 0.15};
  case build::Material::silicone:
  case build::Material::rubber:
  case build::Material::plastic:
    return {0.90, 0.05};
  }
  assert(false);
  return {};
}

Emissivity lagged_emissivity() {
  return {0.90, 0.08};
}

namespace {

/// What lies between the inside film and the outside one.
struct Shell {
  double resistance_K_W, diameter_m;
  Emissivity surface;
};
Shell shell(const WallCase& piece) {
  const auto layer = [&](double inner_m, double outer_m, double conducts_W_mK) {
    return std::log(outer_m / inner_m) / (2 * pi * conducts_W_mK * piece.length_m);
  };
  Shell found{layer(piece.bore_m, piece.outer_diameter_m, conductivity_W_mK(piece.material)),
              piece.outer_diameter_m, emissivity(piece.material)};
  if (piece.lagging) {
    found.diameter_m += 2 * piece.lagging->thickness_m;
    found.resistance_K_W += layer(piece.outer_diameter_m, found.diameter_m, piece.lagging->conductivity_W_mK);
    found.surface = lagged_emissivity();
  }
  return found;
}

/// The share s of the whole difference that lies outside the surface: s = G / (G + h(s) A) with G the
/// conductance within. `share_at` is the right-hand side; it falls with s, by less than a third of its own
/// relative change, so that secants close in fast: of two steps a and b the error after them is below a b /
/// s.
template <class ShareAt> double share_outside(double first_guess, const ShareAt& share_at) {
  constexpr double usual_slope = 0.2;
  double last = first_guess;
  double last_excess = share_at(last) - last;
  double share = last + last_excess / (1 + usual_slope * (1 - last));
  for (int round = 0;; ++round) {
    assert(round < 40);
    const double substituted = share_at(share);
    const double excess = substituted - share;
    const double slope = excess - last_excess;
    const double former = share - last;
    const double step = slope != 0 ? -excess * former / slope : excess;
    const double next = share + step;
    last = share;
    last_excess = excess;
    share = next > 0 && next < 1 ? next : substituted;
    if (std::abs(step * former) <= 1e-11 * share * std::min(share, 1 - share) || round == 39)
      return share;
  }
}

} // namespace

WallHeat wall_heat(const air::Mixture& air, const WallCase& piece) {
  assert(piece.outer_diameter_m >= piece.bore_m && piece.temperature_K > 0);
  assert(piece.bay.temperature_K > 0 && piece.bay.speed_m_s >= 0 && piece.bay.pressure_Pa > 0);
  const Inside stream = inside(air, piece.mass_flow_kg_s, piece.temperature_K, piece.bore_m,
                               piece.friction_factor, piece.length_m);
  const double film_W_m2K = stream.film_W_m2K();
  const double film_K_W = 1 / (film_W_m2K * pi * piece.bore_m * piece.length_m);
  const Shell wall = shell(piece);
  const double within_W_K = 1 / (film_K_W + wall.resistance_K_W);
  const double area_m2 = pi * wall.diameter_m * piece.length_m;
  const double difference_K = piece.temperature_K - piece.bay.temperature_K;

  OutsideFilm around{};
  constexpr double usual_film_W_m2K = 10;
  const double share =
      share_outside(within_W_K / (within_W_K + usual_film_W_m2K * area_m2), [&](double tried) {
        around = outside(air, piece.bay, wall.diameter_m, tried * difference_K, wall.surface.value);
        return within_W_K / (within_W_K + around.total_W_m2K() * area_m2);
      });
  const double conductance_W_K = within_W_K * (1 - share);
  const double outward_W_K = conductance_W_K / share;

  const double outside_band = std::hypot(0.30 * around.convection_W_m2K,
                                         around.radiation_W_m2K * wall.surface.band / wall.surface.value) /
                              around.total_W_m2K();
  constexpr double solid_band = 0.25;
  return {conductance_W_K,
          piece.bay.temperature_K + share * difference_K,
          film_W_m2K,
          outward_W_K / area_m2,
          conductance_W_K * std::hypot(inside_band(stream.stream, piece.temperature_K) * film_K_W,
                                       solid_band * wall.resistance_K_W, outside_band / outward_W_K),
          out_of_range(stream.stream, piece.temperature_K) || around.outside_range};
}

StreamHeat stream_heat(const air::Mixture& air, double mass_flow_kg_s, double inlet_temperature_K,
                       double bay_temperature_K, double conductance_W_K) {
  assert(mass_flow_kg_s >= 0 && conductance_W_K >= 0);
  if (mass_flow_kg_s == 0)
    return {bay_temperature_K, 0};
  const double capacity_W_K = mass_flow_kg_s * air.cp_J_kgK(inlet_temperature_K);
  const double rise_K =
      (inlet_temperature_K - bay_temperature_K) * std::expm1(-conductance_W_K / capacity_W_K);
  return {inlet_temperature_K + rise_K, capacity_W_K * rise_K};
}

} // namespace bellmouth::flow
