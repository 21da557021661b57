// SPDX-License-Identifier: GPL-3.0-or-later
// Notation of NACA Report 1135: x = M^2, k = (gamma-1)/2.
#include "subsonic.hpp"

#include <bellmouth/air.hpp>

#include <cassert>
#include <cmath>

namespace bellmouth::air {
namespace {

/// ln(T0/T).
double log_temperature_ratio(double mach, double gamma) {
  return std::log1p((gamma - 1) / 2 * mach * mach);
}

/// The exponent of the area ratio: (gamma+1)/(2 (gamma-1)).
double area_exponent(double gamma) {
  return (gamma + 1) / (2 * (gamma - 1));
}

} // namespace

double temperature_ratio(double mach, double gamma) {
  return 1 / (1 + (gamma - 1) / 2 * mach * mach);
}

double pressure_ratio(double mach, double gamma) {
  return std::exp(-gamma / (gamma - 1) * log_temperature_ratio(mach, gamma));
}

double density_ratio(double mach, double gamma) {
  return std::exp(-1 / (gamma - 1) * log_temperature_ratio(mach, gamma));
}

double area_ratio(double mach, double gamma) {
  return std::exp(area_exponent(gamma) *
                  (log_temperature_ratio(mach, gamma) - log_temperature_ratio(1, gamma))) /
         mach;
}

double mass_flow_function(double mach, double gamma) {
  return std::sqrt(gamma) * mach * std::exp(-area_exponent(gamma) * log_temperature_ratio(mach, gamma));
}

tl::expected<double, Choked> mach_of_mass_flow_function(double value, double gamma) {
  assert(value >= 0);
  const double sonic = mass_flow_function(1, gamma);
  if (value > sonic)
    return tl::unexpected(Choked{sonic});
  return subsonic_state(value / sonic, gamma, sonic).mach;
}

SubsonicStates::SubsonicStates(double gamma) : gamma_(gamma), sonic_(mass_flow_function(1, gamma)) {}

tl::expected<SubsonicStates::State, Choked> SubsonicStates::at(double value) const {
  assert(value >= 0);
  if (value > sonic_)
    return tl::unexpected(Choked{sonic_});
  const SubsonicState state = subsonic_state(value / sonic_, gamma_, sonic_);
  return State{state.mach, std::exp(-gamma_ / (gamma_ - 1) * state.log_temperature_ratio)};
}

SubsonicState subsonic_state(double share, double gamma, double sonic) {
  assert(share >= 0 && share <= 1);
  assert(gamma > 1.01 && gamma < 1.8);
  const double k = (gamma - 1) / 2;
  const double n = (gamma + 1) / (gamma - 1);
  // share^2 = (x / y1) (1 + k x)^-n, with y1 = (1 + k)^-n the value of x (1 + k x)^-n at Mach 1.
  const double y1 = sonic * sonic / gamma;
  if (share < 1e-9) // x = y1 share^2 to the last digit
    return {share * std::sqrt(y1), k * y1 * share * share};
  // Start: the polynomial of fifth degree in s = sqrt(1 - share^2) that has the right value, slope and
  // curvature at both ends, s = 0 (Mach 1, where x has a square-root branch) and s = 1 (Mach 0), and a bump
  // fitted between them.
  const double s = std::sqrt((1 - share) * (1 + share));
  const double kappa = k / (1 + k);
  const double slope = std::sqrt(2 * (1 + k));
  const double bow = (1 + kappa) * slope * slope / 3;
  const double q0 = 1 - slope + bow;
  const double q1 = 2 * y1 - slope + 2 * bow;
  const double q2 = 2 * y1 - 8 * n * k * y1 * y1 + 2 * bow;
  const double b3 = 10 * q0 - 4 * q1 + q2 / 2;
  const double b4 = -15 * q0 + 7 * q1 - q2;
  const double b5 = 6 * q0 - 3 * q1 + q2 / 2;
  const double bump = (0.055 * gamma - 0.036) * (1 - s) * (1 - s) * (1 - s);
  const double below_sonic = s * (slope + s * (-bow + s * (b3 + bump + s * (b4 + s * b5))));
  if (s < 1e-4) { // the start is good to s^3
    const double x = 1 - below_sonic;
    return {std::sqrt(x), std::log(1 + k * x)};
  }
  const double y = y1 * share * share;
  double x = s > 0.99 ? y * (1 + n * k * y) : 1 - below_sonic; // the former keeps the digits of a small x
  // Root of F = ln(x/y) - n ln(1 + k x), whose slope is (1 - x) / (x (1 + k x)), by its inverse Taylor series
  // to fourth order. The start is within 4e-4 of x and of 1 - x for every gamma, so one round reaches the
  // last digit.
  double log_ratio = 0;
  double step = 0;
  [[maybe_unused]] int rounds = 0;
  do {
    const double ratio = 1 + k * x;
    log_ratio = std::log(ratio);
    const double u = k * x / ratio;
    const double inverse_slope = ratio / (1 - x);             // 1 / (x F')
    const double r = (n * u * u - 1) / 2 * inverse_slope;     // x F'' / (2 F')
    const double q = (1 - n * u * u * u) / 3 * inverse_slope; // x^2 F''' / (6 F')
    const double h = (std::log(x / y) - n * log_ratio) * inverse_slope;
    step = h * (1 + h * (r + h * (2 * r * r - q))); // relative to x
    x -= step * x;
    const double t = -u * step; // ln(1 + k x) at the new x, exact to t^4
    log_ratio += t * (1 - t * (0.5 - t / 3));
    assert(x > 0 && x < 1);
    assert(++rounds < 6);
  } while (std::abs(step) > 6e-4 * (1 - x));
  return {std::sqrt(x), log_ratio};
}

} // namespace bellmouth::air
