// SPDX-License-Identifier: GPL-3.0-or-later
// Notation: x = M^2, k = (gamma-1)/2, n = (gamma+1)/(gamma-1), r = 1 + k x.
#include "log_deficit.hpp"

#include <bellmouth/air/inverses.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

namespace bellmouth::air {
namespace {

constexpr double no_limit = std::numeric_limits<double>::infinity();

double half_rise(double gamma) {
  assert(gamma > 1);
  return (gamma - 1) / 2;
}

/// What a ratio computed at Mach 1 may be beyond the value there by rounding; so far it counts as that value.
constexpr double rounding = 1e-14;

tl::unexpected<Unphysical> outside(double lowest, double highest) {
  return tl::unexpected(Unphysical{lowest, highest});
}

/// Of a ratio of `value` = (1 + k x)^exponent, exponent < 0.
MachFound mach_of_power(double value, double exponent, double gamma) {
  if (!(value > 0 && value <= 1))
    return outside(0, 1);
  const double mach = std::sqrt(std::expm1(std::log(value) / exponent) / half_rise(gamma));
  if (!std::isfinite(mach)) // a ratio so small that the Mach number is beyond all numbers
    return outside(std::numeric_limits<double>::min(), 1);
  return mach;
}

struct ValueAndSlope {
  double value, slope;
};

/// The root of a falling function in (low, high): Newton's method, and halving where that would leave the
/// bracket.
template <class Function> double falling_root(Function function, double low, double high) {
  double at = 0.5 * (low + high);
  for (int i = 0; i < 200; ++i) {
    const ValueAndSlope here = function(at);
    (here.value > 0 ? low : high) = at;
    double next = at - here.value / here.slope;
    if (!(next > low && next < high))
      next = 0.5 * (low + high);
    if (std::abs(next - at) <= 1e-16 * std::abs(at) || next == low || next == high)
      return next;
    at = next;
  }
  return at;
}

/// Above Mach 1 at `share` (above 0, below 1) of the sonic mass flow: the root of
/// ln x - n ln(r/(1+k)) - 2 ln share, in the logarithm of x.
double supersonic_mach(double share, double gamma) {
  const double k = half_rise(gamma);
  const double n = (gamma + 1) / (gamma - 1);
  const double target = 2 * std::log(share);
  const auto function = [&](double log_x) {
    const double above = std::expm1(log_x); // x - 1
    return ValueAndSlope{log_x - n * std::log1p(k * above / (1 + k)) - target, -above / (1 + k + k * above)};
  };
  // r > k x, so that ln x (1 - n) - n ln(k/(1+k)) is above, and where that is zero lies beyond the root.
  const double beyond = (target + n * std::log(k / (1 + k))) / (1 - n);
  return std::exp(0.5 * falling_root(function, 0, beyond));
}

MachFound mach_of_share(double share, double gamma, Branch branch) {
  if (branch == Branch::subsonic)
    return *mach_of_mass_flow_function(std::min(share, 1.0) * mass_flow_function(1, gamma), gamma);
  return share < 1 ? supersonic_mach(share, gamma) : 1.0;
}

} // namespace

MachFound mach_of_temperature_ratio(double ratio, double gamma) {
  return mach_of_power(ratio, -1, gamma);
}

MachFound mach_of_pressure_ratio(double ratio, double gamma) {
  return mach_of_power(ratio, -gamma / (gamma - 1), gamma);
}

MachFound mach_of_density_ratio(double ratio, double gamma) {
  return mach_of_power(ratio, -1 / (gamma - 1), gamma);
}

MachFound mach_of_area_ratio(double ratio, double gamma, Branch branch) {
  if (!(ratio >= 1 - rounding && ratio < no_limit))
    return outside(1, no_limit);
  return mach_of_share(1 / ratio, gamma, branch);
}

MachFound mach_of_mass_flow_function(double value, double gamma, Branch branch) {
  const double sonic = mass_flow_function(1, gamma);
  const double lowest = branch == Branch::subsonic ? 0 : std::numeric_limits<double>::min();
  if (!(value >= lowest && value <= sonic * (1 + rounding)))
    return outside(0, sonic);
  return mach_of_share(value / sonic, gamma, branch);
}

MachFound mach_of_fanno_parameter(double value, double gamma, Branch branch) {
  const double k = half_rise(gamma);
  if (branch == Branch::subsonic) {
    if (!(value >= 0 && value < no_limit))
      return outside(0, no_limit);
    if (value > 1e30) // incompressible to the last digit; without squares that would overflow
      return 1 / (std::sqrt(gamma) * std::sqrt(value));
    return air::mach_of_fanno_parameter(value, gamma);
  }
  // e = v - 1 falls from 0 at Mach 1 to -1/(1+k) at infinite Mach number, see fanno.cpp.
  const double scale = gamma / (1 + k);
  const double least = -1 / (1 + k);
  const double greatest = log_deficit(least) / scale;
  if (!(value >= 0 && value < greatest))
    return outside(0, greatest);
  if (value == 0)
    return 1.0;
  const double deficit = value * scale;
  const auto function = [&](double e) { return ValueAndSlope{log_deficit(e) - deficit, e / (1 + e)}; };
  const double e = falling_root(function, least, 0);
  const double inverse_x = 1 + (1 + k) * e;
  if (!(inverse_x > 0)) // within the last digit of the greatest
    return outside(0, greatest);
  return 1 / std::sqrt(inverse_x);
}

MachFound mach_of_fanno_total_pressure_ratio(double ratio, double gamma, Branch branch) {
  return mach_of_area_ratio(ratio, gamma, branch);
}

MachFound mach_of_fanno_pressure_ratio(double ratio, double gamma) {
  if (!(ratio > 0 && ratio < no_limit))
    return outside(0, no_limit);
  // k x^2 + x = (1 + k)/ratio^2 = c, in a form that keeps the digits of a small x and is finite for all c
  const double k = half_rise(gamma);
  const double root = std::sqrt(1 + k) / ratio; // sqrt(c)
  const double mach = root * std::sqrt(2 / (1 + std::hypot(1, 2 * std::sqrt(k) * root)));
  if (!std::isfinite(mach))
    return outside(std::numeric_limits<double>::min(), no_limit);
  return mach;
}

MachFound mach_of_fanno_temperature_ratio(double ratio, double gamma) {
  const double k = half_rise(gamma);
  if (!(ratio > 0 && ratio <= 1 + k))
    return outside(0, 1 + k);
  const double mach = std::sqrt(((1 + k) - ratio) / (k * ratio));
  if (!std::isfinite(mach))
    return outside(std::numeric_limits<double>::min(), 1 + k);
  return mach;
}

MachFound mach_of_fanno_density_ratio(double ratio, double gamma) {
  const double k = half_rise(gamma);
  const double least = std::sqrt(k / (1 + k));                     // at infinite Mach number
  const double left = (1 + k) * (ratio - least) * (ratio + least); // 1/x
  if (!(left > 0 && ratio > least && ratio < no_limit))
    return outside(least, no_limit);
  return 1 / (std::sqrt((1 + k) * (ratio + least)) * std::sqrt(ratio - least));
}

double rayleigh_pressure_ratio(double mach, double gamma) {
  assert(mach >= 0);
  return (gamma + 1) / (1 + gamma * mach * mach);
}

double rayleigh_temperature_ratio(double mach, double gamma) {
  const double root = mach * rayleigh_pressure_ratio(mach, gamma);
  return root * root;
}

double rayleigh_velocity_ratio(double mach, double gamma) {
  return mach * mach * rayleigh_pressure_ratio(mach, gamma);
}

double rayleigh_total_temperature_ratio(double mach, double gamma) {
  return rayleigh_temperature_ratio(mach, gamma) * (1 + half_rise(gamma) * mach * mach) /
         (1 + half_rise(gamma));
}

double rayleigh_total_pressure_ratio(double mach, double gamma) {
  return rayleigh_pressure_ratio(mach, gamma) * pressure_ratio(1, gamma) / pressure_ratio(mach, gamma);
}

MachFound mach_of_rayleigh_total_temperature_ratio(double ratio, double gamma, Branch branch) {
  assert(gamma > 1);
  // s = sqrt(1 - T0/T0*) = |1 - x|/(1 + gamma x)
  const double s = std::sqrt(std::max(0.0, 1 - ratio));
  if (branch == Branch::subsonic) {
    if (!(ratio >= 0 && ratio <= 1 + rounding))
      return outside(0, 1);
    return s == 0 ? 1.0 : std::sqrt(ratio / ((1 + s) * (1 + gamma * s))); // 1 - s = ratio/(1 + s)
  }
  if (!(ratio <= 1 + rounding && 1 - gamma * s > 0))
    return outside(1 - 1 / (gamma * gamma), 1);
  return std::sqrt((1 + s) / (1 - gamma * s));
}

double rayleigh_critical_ratio(double mach, double gamma) {
  assert(mach > 0);
  return 1 / rayleigh_total_temperature_ratio(mach, gamma);
}

tl::expected<double, Choked> rayleigh_outlet_mach(double mach, double ratio, double gamma) {
  assert(mach >= 0 && mach <= 1);
  assert(ratio > 0);
  if (mach == 0 || ratio == 1)
    return mach;
  const double before = rayleigh_total_temperature_ratio(mach, gamma);
  const double s_before = (1 - mach) * (1 + mach) / (1 + gamma * mach * mach);
  const double s_squared = s_before * s_before - before * (ratio - 1); // 1 - T02/T0*, all digits near Mach 1
  if (!(s_squared >= 0))
    return tl::unexpected(Choked{1 / before});
  const double s = std::sqrt(s_squared);
  return std::sqrt(before * ratio / ((1 + s) * (1 + gamma * s)));
}

} // namespace bellmouth::air
