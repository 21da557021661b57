// SPDX-License-Identifier: GPL-3.0-or-later
// Fanno flow. With k = (gamma-1)/2 and v = (1 + k M^2) / ((1 + k) M^2), which is 1 at Mach 1 and grows
// towards Mach 0, the friction length to sonic flow (Shapiro, The Dynamics and Thermodynamics of Compressible
// Fluid Flow, 1953, equation 6.19, with the Darcy factor) takes a form that holds for every gamma:
//   gamma / (1 + k) * f L*/D = v - 1 - ln v.
// Everything below is in e = v - 1, so that nothing cancels near Mach 1.
#include "log_deficit.hpp"

#include <bellmouth/air.hpp>

#include <cassert>
#include <cmath>

namespace bellmouth::air {
namespace {

double half_rise(double gamma) {
  return (gamma - 1) / 2;
}

double above_sonic(double mach, double gamma) {
  return (1 - mach) * (1 + mach) / ((1 + half_rise(gamma)) * mach * mach);
}

double mach_of(double e, double gamma) {
  return 1 / std::sqrt(1 + (1 + half_rise(gamma)) * e);
}

/// The e >= 0 whose log_deficit is `deficit` >= 0 (the lower branch of Lambert's W in other clothes).
double inverse_log_deficit(double deficit) {
  double e = 0;
  if (deficit < 2) {
    // Power series in sqrt(2 deficit), the one behind Stirling's series for n!.
    const double p = std::sqrt(2 * deficit);
    constexpr double c6 = 1. / 17010;
    constexpr double c7 = -139. / 5443200;
    e = p * (1 + p * (1. / 3 + p * (1. / 36 + p * (-1. / 270 + p * (1. / 4320 + p * (c6 + p * c7))))));
    if (p < 5e-3)
      return e;
  } else {
    // Asymptotic series of Lambert's W: Corless et al., Advances in Computational Mathematics 5 (1996) 329,
    // eq. 4.19.
    const double u = 1 + deficit;
    const double l = std::log(u);
    e = deficit + l + l / u * (1 - (l - 2) / (2 * u) + (6 + l * (2 * l - 9)) / (6 * u * u));
  }
  // Root of log_deficit(e) - deficit by its inverse Taylor series to fourth order. Both starts are within
  // 5e-4 of e, so one round reaches the last digit.
  double step = 0;
  [[maybe_unused]] int rounds = 0;
  do {
    const double v = 1 + e;
    const double h = (log_deficit(e) - deficit) * v / e;
    const double r = 1 / (2 * e * v);
    step = h * (1 + h * (r + h * (2 * r * r + 1 / (3 * e * v * v))));
    e -= step;
    assert(e > 0);
    assert(++rounds < 6);
  } while (std::abs(step) > 6e-4 * e);
  return e;
}

} // namespace

double fanno_parameter(double mach, double gamma) {
  assert(mach > 0);
  return (1 + half_rise(gamma)) / gamma * log_deficit(above_sonic(mach, gamma));
}

double fanno_total_pressure_ratio(double mach, double gamma) {
  return area_ratio(mach, gamma);
}

double fanno_temperature_ratio(double mach, double gamma) {
  return (1 + half_rise(gamma)) / (1 + half_rise(gamma) * mach * mach);
}

double fanno_pressure_ratio(double mach, double gamma) {
  return std::sqrt(fanno_temperature_ratio(mach, gamma)) / mach;
}

double fanno_density_ratio(double mach, double gamma) {
  return 1 / (mach * std::sqrt(fanno_temperature_ratio(mach, gamma)));
}

double mach_of_fanno_parameter(double parameter, double gamma) {
  assert(parameter >= 0 && std::isfinite(parameter));
  return mach_of(inverse_log_deficit(parameter * gamma / (1 + half_rise(gamma))), gamma);
}

tl::expected<double, Choked> fanno_outlet_mach(double mach, double friction_length, double gamma) {
  assert(mach >= 0 && mach <= 1);
  assert(friction_length >= 0);
  if (mach == 0 || friction_length == 0)
    return mach;
  const double scale = gamma / (1 + half_rise(gamma));
  const double deficit = log_deficit(above_sonic(mach, gamma));
  const double left = deficit - friction_length * scale;
  if (left < 0)
    return tl::unexpected(Choked{deficit / scale});
  return mach_of(inverse_log_deficit(left), gamma);
}

} // namespace bellmouth::air
