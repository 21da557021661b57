// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/loss.hpp>

#include <cassert>
#include <cmath>
#include <numbers>

namespace bellmouth::loss {
namespace {

constexpr double laminar_below = 2000;
constexpr double turbulent_above = 4000;

/// Colebrook & White, 1/sqrt(f) = -2 log10(e/3.7 + 2.51/(Re sqrt(f))), solved.
double colebrook_white(double reynolds, double relative_roughness) {
  // With x = 1/sqrt(f), c = 2/ln 10 and u = a + b x the root of F = x + c ln u. F rises everywhere, and the
  // next estimate -c ln u differs from the root by less than an eighth of what the last one did.
  constexpr double c = 2 / std::numbers::ln10;
  const double a = relative_roughness / 3.7;
  const double b = 2.51 / reynolds;
  double x = -c * std::log(a + b * 7.0); // f from 0.006 to 0.09 is x from 3.3 to 13
  double step = 0;
  [[maybe_unused]] int rounds = 0;
  do { // Halley's method
    const double u = a + b * x;
    const double excess = x + c * std::log(u);
    const double w = b / u;
    const double first = 1 + c * w;
    step = excess / (first + 0.5 * excess * c * w * w / first);
    x -= step;
    assert(x > 0);
    assert(++rounds < 8);
  } while (std::abs(step) > 1e-4 * x); // cubic: what is left is below the last digit
  return 1 / (x * x);
}

} // namespace

double darcy_friction_factor(double reynolds, double relative_roughness) {
  assert(reynolds > 0);
  assert(relative_roughness >= 0 && relative_roughness < 1); // beyond 0.05 it extrapolates
  if (reynolds >= turbulent_above)
    return colebrook_white(reynolds, relative_roughness);
  const double laminar = 64 / reynolds; // Hagen & Poiseuille
  if (reynolds <= laminar_below)
    return laminar;
  const double t = std::log(reynolds / laminar_below) / std::numbers::ln2; // 0 at Re 2000, 1 at Re 4000
  const double weight = t * t * (3 - 2 * t);
  return laminar + weight * (colebrook_white(reynolds, relative_roughness) - laminar);
}

} // namespace bellmouth::loss
