// SPDX-License-Identifier: GPL-3.0-or-later
// The figures of a fitting's loss, the same for every sum.
#pragma once

#include "sums.hpp"

#include <bellmouth/loss.hpp>
#include <bellmouth/loss/tee.hpp>

#include <optional>

namespace bellmouth::cli {

/// Darcy friction factor of `--reynolds` and `--relative-roughness`.
[[nodiscard]] inline double friction(const Given& given) {
  return loss::darcy_friction_factor(given.number("--reynolds"), given.number("--relative-roughness"));
}

/// A coefficient, the ends of its band, whose correlation it is and for what. `darcy` is the friction factor,
/// for those whose loss knows one; without `at_reynolds` the law is taken at high Reynolds number.
[[nodiscard]] inline Figures loss_figures(const loss::Law& law, double darcy = 0,
                                          std::optional<double> at_reynolds = std::nullopt) {
  const double inverse = at_reynolds ? 1 / *at_reynolds : 0;
  const bool outside = law.outside_range || (at_reynolds && *at_reynolds < law.least_reynolds);
  return {{"loss_coefficient", law.at(darcy, inverse)},
          {"band_low", law.low(darcy, inverse)},
          {"band_high", law.high(darcy, inverse)},
          {"based_on_velocity_at", law.basis == loss::Basis::inlet ? "inlet" : "outlet"},
          {"outside_range", outside ? "yes" : "no"},
          {"range", std::string(law.range)},
          {"source", std::string(law.source)}};
}

[[nodiscard]] inline Figures loss_figures(const loss::Coefficient& coefficient) {
  return {{"loss_coefficient", coefficient.value},
          {"band_low", coefficient.low},
          {"band_high", coefficient.high},
          {"based_on_velocity_at", "combined leg"},
          {"outside_range", coefficient.outside_range ? "yes" : "no"},
          {"range", std::string(coefficient.range)},
          {"source", std::string(coefficient.source)}};
}

} // namespace bellmouth::cli
