// SPDX-License-Identifier: GPL-3.0-or-later
#include "molar_mass.hpp"
#include "root_polynomial.hpp"
#include "transport.hpp"

#include <bellmouth/air.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace bellmouth::air {
namespace {

constexpr double molar_gas_constant_J_kmolK = 8314.462618; // SI 2019, exact to the digits given

/// A constituent: kilomoles of it per kilomole of dry air, molar mass and cp/R = sum of a[i] T^i.
struct Species {
  double mole_fraction;
  double molar_mass_kg_kmol;
  std::array<double, 5> a;
};

// cp/R for 200 to 1000 K: NASA seven-coefficient polynomials, McBride, Gordon & Reno, NASA TM-4513 (1993), as
// tabulated in the public collection data/nasa_gas.yaml of github.com/Cantera/cantera. Composition of dry
// air: US Standard Atmosphere 1976 / ISO 2533, the traces beyond carbon dioxide left out.
constexpr std::array<Species, 4> dry_air{{
    // N2
    {0.78084, 28.0134, {3.53100528, -1.23660987e-4, -5.02999437e-7, 2.43530612e-9, -1.40881235e-12}},
    // O2
    {0.20946, 31.9988, {3.78245636, -2.99673415e-3, 9.84730200e-6, -9.68129508e-9, 3.24372836e-12}},
    // Ar
    {0.00934, 39.948, {2.5, 0.0, 0.0, 0.0, 0.0}},
    // CO2
    {0.00036, 44.0095, {2.35677352, 8.98459677e-3, -7.12356269e-6, 2.45919022e-9, -1.43699548e-13}},
}};
// H2O, same source
constexpr Species vapour{
    1.0, 18.01528, {4.19863520, -2.03640170e-3, 6.52034160e-6, -5.48792690e-9, 1.77196800e-12}};

/// Specific gas constant and cp polynomial of a gas, per kilogram.
struct PerKilogram {
  double gas_constant;
  std::array<double, 5> cp;
};

PerKilogram per_kilogram_of_dry_air() {
  double moles = 0;
  double mass = 0;
  std::array<double, 5> a{};
  for (const Species& species : dry_air) {
    moles += species.mole_fraction;
    mass += species.mole_fraction * species.molar_mass_kg_kmol;
    for (std::size_t i = 0; i < a.size(); ++i)
      a[i] += species.mole_fraction * species.a[i];
  }
  PerKilogram result{molar_gas_constant_J_kmolK * moles / mass, {}};
  for (std::size_t i = 0; i < a.size(); ++i)
    result.cp[i] = molar_gas_constant_J_kmolK * a[i] / mass;
  return result;
}

PerKilogram per_kilogram_of_vapour() {
  const double gas_constant = molar_gas_constant_J_kmolK / vapour.molar_mass_kg_kmol;
  PerKilogram result{gas_constant, {}};
  for (std::size_t i = 0; i < result.cp.size(); ++i)
    result.cp[i] = gas_constant * vapour.a[i];
  return result;
}

double polynomial(const std::array<double, 5>& c, double t) {
  return c[0] + t * (c[1] + t * (c[2] + t * (c[3] + t * c[4])));
}

/// Integral of cp dT from zero.
double integral(const std::array<double, 5>& c, double t) {
  return t * (c[0] + t * (c[1] / 2 + t * (c[2] / 3 + t * (c[3] / 4 + t * c[4] / 5))));
}

/// Integral of cp dT/T without the part of c[0] ln T.
double integral_over_temperature(const std::array<double, 5>& c, double t) {
  return t * (c[1] + t * (c[2] / 2 + t * (c[3] / 3 + t * c[4] / 4)));
}

double within_polynomial(double temperature_K) {
  assert(temperature_K > 0);
  return std::clamp(temperature_K, lowest_temperature_K, highest_temperature_K);
}

} // namespace

Mixture::Mixture() : Mixture(0.0) {}

Mixture::Mixture(double humidity_ratio) : humidity_ratio_(humidity_ratio) {
  assert(humidity_ratio >= 0 && humidity_ratio <= 0.3);
  static const PerKilogram dry = per_kilogram_of_dry_air();
  static const PerKilogram wet = per_kilogram_of_vapour();
  const double share_dry = 1 / (1 + humidity_ratio);
  const double share_wet = humidity_ratio / (1 + humidity_ratio);
  gas_constant_ = share_dry * dry.gas_constant + share_wet * wet.gas_constant;
  for (std::size_t i = 0; i < cp_.size(); ++i)
    cp_[i] = share_dry * dry.cp[i] + share_wet * wet.cp[i];

  InRootOfTemperature viscosities{}, conductivities{};
  for (std::size_t i = 0; i < viscosities.size(); ++i) {
    const Transport at = transport_of_moist_air(root_polynomial::node_K(i), vapour_fraction());
    viscosities[i] = at.viscosity_Pa_s;
    conductivities[i] = at.conductivity_W_mK;
  }
  viscosity_ = root_polynomial::through(viscosities);
  conductivity_ = root_polynomial::through(conductivities);
}

double Mixture::cp_J_kgK(double temperature_K) const {
  return polynomial(cp_, within_polynomial(temperature_K));
}

double Mixture::gamma(double temperature_K) const {
  const double cp = cp_J_kgK(temperature_K);
  return cp / (cp - gas_constant_);
}

double Mixture::vapour_fraction() const {
  return humidity_ratio_ / (humidity_ratio_ + water_over_air_molar_mass);
}

double Mixture::viscosity_Pa_s(double temperature_K) const {
  if (temperature_K < lowest_temperature_K || temperature_K > highest_temperature_K)
    return transport_of_moist_air(temperature_K, vapour_fraction()).viscosity_Pa_s;
  return root_polynomial::at(viscosity_, temperature_K);
}

double Mixture::conductivity_W_mK(double temperature_K) const {
  if (temperature_K < lowest_temperature_K || temperature_K > highest_temperature_K)
    return transport_of_moist_air(temperature_K, vapour_fraction()).conductivity_W_mK;
  return root_polynomial::at(conductivity_, temperature_K);
}

double Mixture::prandtl(double temperature_K) const {
  return cp_J_kgK(temperature_K) * viscosity_Pa_s(temperature_K) / conductivity_W_mK(temperature_K);
}

double Mixture::sound_speed_m_s(double temperature_K) const {
  return std::sqrt(gamma(temperature_K) * gas_constant_ * temperature_K);
}

double Mixture::density_kg_m3(double pressure_Pa, double temperature_K) const {
  return pressure_Pa / (gas_constant_ * temperature_K);
}

double Mixture::enthalpy_J_kg(double temperature_K) const {
  const double inside = within_polynomial(temperature_K);
  return integral(cp_, inside) - integral(cp_, 298.15) + polynomial(cp_, inside) * (temperature_K - inside);
}

double Mixture::isentropic_temperature_K(double temperature_K, double pressure_ratio) const {
  assert(temperature_K > 0 && pressure_ratio > 0);
  // Entropy along an isobar as a function of ln T; past the polynomial's range cp is constant, so it goes on
  // straight.
  const auto entropy = [this](double log_temperature) {
    const double temperature = std::exp(log_temperature);
    const double inside = within_polynomial(temperature);
    const double log_inside = inside == temperature ? log_temperature : std::log(inside);
    return cp_[0] * log_inside + integral_over_temperature(cp_, inside) +
           polynomial(cp_, inside) * (log_temperature - log_inside);
  };
  const double start = std::log(temperature_K);
  const double rise = gas_constant_ * std::log(pressure_ratio);
  const double wanted = entropy(start) + rise;
  // Newton on a nearly straight line: cp, the slope, changes by a few parts in a hundred on the way.
  double log_temperature = start + rise / cp_J_kgK(temperature_K);
  double step = 0;
  [[maybe_unused]] int rounds = 0;
  do {
    step = (wanted - entropy(log_temperature)) / cp_J_kgK(std::exp(log_temperature));
    log_temperature += step;
    assert(++rounds < 20);
  } while (std::abs(step) > 1e-9); // quadratic: what is left is the square of it
  return std::exp(log_temperature);
}

double Mixture::temperature_at_enthalpy_K(double enthalpy_J_kg) const {
  // Newton on a nearly straight line, as above; below and above the polynomial it is straight.
  double temperature = 298.15 + enthalpy_J_kg / cp_J_kgK(298.15);
  constexpr int most_rounds = 20;
  for (int rounds = 0; rounds < most_rounds; ++rounds) {
    const double step = (enthalpy_J_kg - this->enthalpy_J_kg(temperature)) / cp_J_kgK(temperature);
    temperature += step;
    if (std::abs(step) <= 1e-8 * temperature)
      break;
  }
  assert(temperature > 0);
  return temperature;
}

} // namespace bellmouth::air
