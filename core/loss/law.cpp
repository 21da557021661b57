// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/loss.hpp>

#include <algorithm>
#include <cassert>

namespace bellmouth::loss {

namespace {

/// Least relative half width where the stream is slower than the correlation's author states: in laminar and
/// transitional flow fittings lose up to half as much again (from memory).
constexpr double slow_band = 0.50;

} // namespace

double Law::low(double friction, double inverse_reynolds) const {
  const double k = at(friction, inverse_reynolds);
  const double relative = is_too_slow(inverse_reynolds) ? std::max(band_low, slow_band) : band_low;
  return std::max(0.0, k - std::max(k * relative, band_absolute));
}

double Law::high(double friction, double inverse_reynolds) const {
  const double k = at(friction, inverse_reynolds);
  const double relative = is_too_slow(inverse_reynolds) ? std::max(band_high, slow_band) : band_high;
  return k + std::max(k * relative, band_absolute);
}

Law law(const Straight& straight) {
  assert(straight.length_m >= 0 && straight.bore_m > 0);
  Law law;
  law.per_friction = straight.length_m / straight.bore_m;
  law.band_low = law.band_high = 0.05;
  law.source = "Darcy, Weisbach";
  law.range = "round straight duct; band from Reynolds number 4000";
  law.least_reynolds = 4000;
  return law;
}

Law law(const Fixed& fixed) {
  assert(fixed.coefficient >= 0 && fixed.band >= 0);
  Law law;
  law.constant = fixed.coefficient;
  law.band_low = law.band_high = fixed.band;
  law.source = "stated";
  law.range = "as stated";
  return law;
}

Law law(const Fitting& fitting) {
  return std::visit([](const auto& shape) { return law(shape); }, fitting);
}

} // namespace bellmouth::loss
