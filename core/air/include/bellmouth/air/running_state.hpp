// SPDX-License-Identifier: GPL-3.0-or-later
// The subsonic state of a stream that is followed from piece to piece at one gamma: the same relations as in
// <bellmouth/air.hpp>, by series without transcendental functions wherever these are proven.
//
// Symbols. gamma; k = (gamma-1)/2; n = (gamma+1)/(gamma-1); x = M^2; r = 1 + k x = T0/T; P = p/p0 =
// r^(-(n+1)/2); phi = m sqrt(R T0)/(A p0), the mass-flow function, phi^2 = gamma x r^-n; z = k phi^2/gamma.
//
// 1. From phi, up to 0.52 of the greatest phi (Mach 0.32 at gamma 1.4). r = 1 + z r^n makes r the generalized
//    binomial series B_n(z), whose powers are known in closed form (Graham, Knuth & Patashnik, Concrete
//    Mathematics, 2nd ed. 1994, equation 5.60):
//      r^s = sum over i of s/(n i + s) C(n i + s, i) z^i;  x = phi^2/gamma * r^n,  P = r^(-(n+1)/2).
//    All terms of r^n are positive, falling at the sonic z*, where they add up to (1+k)^n < 3.3 for gamma 1.1
//    to 1.67. So the i-th is below 3.3/i (z/z*)^i, and what 20 terms leave out is below
//    3.3/20 * 0.27^20/(1 - 0.27) = 1e-12 of x; for P the same holds with 0.6 for 3.3. By the same bound 12
//    terms are enough up to 0.30 of the greatest phi, and 8 up to 0.16 (1e-13 each).
// 2. From phi near a known state (above 1; the nearer to Mach 1, the less far). With E = (phi'/phi)^2,
//    u = k x/r, g = u E and w = r'/r - 1:  w = u (E - 1) + g ((1 + w)^n - 1). Started to third order with
//    h = u (E - 1)/(1 - n g), b = g C(n, 2)/(1 - n g), then one Newton step. Taken while |h| and |h b| are
//    below 0.005: the start is then off by less than 10 |h b|^3 of w, the slope by 8 |h b|^3 of itself, which
//    leaves 80 |h b|^6 = 1e-12 of w, less in x; the binomials leave out less than 1000 |w|^7.
// 3. A duct from a known state. The friction length f L/D shortens v - 1 - ln v by F = gamma/(1 + k) f L/D,
//    v = r/((1 + k) x). With m = 1/(v - 1) = (1 + k) x/(1 - x), h = m F and v' = v (1 - s):
//      s = h + m (s^2/2 + s^3/3 + ...),
//    inverted to fifth order in h; all its coefficients are positive and below m for m < 0.3, so that the
//    rest is below m h^6 (1 + 2 h). Where that is above 3e-13, one Newton step with ten terms of the
//    logarithm follows, for m < 0.5 and h < 0.05. Then x'/x = 1/(1 - r s), w = k x s/(1 - r s).
// Everything else is solved fully by the functions of <bellmouth/air.hpp>. Against these, x, P and phi agree
// to 1e-12 (Mach 1e-4 to 0.95, gamma 1.2 to 1.45; towards Mach 1 as far as the last digit of phi tells).
#pragma once

#include <bellmouth/air.hpp>

#include <array>
#include <cassert>
#include <cmath>

namespace bellmouth::air {

/// A subsonic state that moves along a path at one gamma (1.1 to 1.67, an assertion). It starts as still air.
/// Making one costs as much as a few states: keep it while gamma stays.
/// An operation that returns false leaves the state as it was.
class RunningState {
public:
  explicit RunningState(double gamma);

  /// The state at a mass-flow function (>= 0, an assertion). False when that is above greatest().
  [[nodiscard]] bool set(double phi) {
    if (phi > series_limit_)
      return solve(phi);
    solve_by_series(phi);
    return true;
  }
  /// The same as set(), at less cost when the present state is near.
  [[nodiscard]] bool move(double phi) {
    if (phi <= series_limit_) {
      solve_by_series(phi);
      return true;
    }
    return step_to(phi) || solve(phi);
  }
  /// To the end of a constant bore with friction length f L/D (Darcy, >= 0, an assertion). False when the
  /// flow cannot get that far. Total pressure behind over ahead: phi() before over phi() after.
  [[nodiscard]] bool duct(double friction_length);

  [[nodiscard]] double gamma() const { return gamma_; }
  /// The greatest mass-flow function, at Mach 1.
  [[nodiscard]] double greatest() const { return states_.greatest(); }
  /// The mass-flow function m sqrt(R T0)/(A p0).
  [[nodiscard]] double phi() const { return phi_; }
  [[nodiscard]] double mach_squared() const { return x_; }
  /// p/p0.
  [[nodiscard]] double pressure_ratio() const { return P_; }
  /// T/T0; costs a division.
  [[nodiscard]] double temperature_ratio() const { return 1 / (1 + k_ * x_); }
  /// rho V^2/2 over p0.
  [[nodiscard]] double dynamic_pressure_share() const { return 0.5 * gamma_ * x_ * P_; }

private:
  static constexpr std::size_t terms = 20;
  static constexpr double series_share = 0.52; ///< of the greatest phi, up to which 20 terms are enough
  static constexpr double middle_share = 0.30, short_share = 0.16; ///< and 12, and 8

  double gamma_, k_, n_;
  double friction_scale_; ///< gamma/(1 + k)
  double inverse_gamma_;
  double series_limit_, middle_limit_, short_limit_;
  std::array<double, terms> x_series_{}, P_series_{}; ///< of r^n and r^(-(n+1)/2) in z
  std::array<double, 7> up_{};                        ///< C(n, i)
  std::array<double, 7> down_{};                      ///< C(-(n+1)/2, i)
  SubsonicStates states_;
  double phi_ = 0, x_ = 0, P_ = 1;
  bool all_terms_ = false; ///< of the series; at first there are those that slow streams need

  void work_out_all_terms();
  bool solve(double phi);
  bool solve_duct(double friction_length);

  /// Sum of the first `count` c[i] z^i; neighbours are paired, so that the sums do not wait for each other.
  template <std::size_t count> [[nodiscard]] static double sum(const std::array<double, terms>& c, double z) {
    static_assert(count == 8 || count == 12 || count == terms);
    const double z2 = z * z, z4 = z2 * z2;
    const auto four = [&](std::size_t i) { return (c[i] + z * c[i + 1]) + z2 * (c[i + 2] + z * c[i + 3]); };
    const double first = four(0) + z4 * four(4);
    if constexpr (count == 8)
      return first;
    const double z8 = z4 * z4;
    if constexpr (count == 12)
      return first + z8 * four(8);
    return first + z8 * ((four(8) + z4 * four(12)) + z8 * four(16));
  }
  template <std::size_t count> void sum_up(double y) {
    const double z = k_ * y;
    x_ = y * sum<count>(x_series_, z);
    P_ = sum<count>(P_series_, z);
  }

  void solve_by_series(double phi) {
    assert(phi >= 0);
    const double y = phi * phi * inverse_gamma_;
    if (phi <= short_limit_)
      sum_up<8>(y);
    else if (phi <= middle_limit_)
      sum_up<12>(y);
    else {
      if (!all_terms_)
        work_out_all_terms();
      sum_up<terms>(y);
    }
    phi_ = phi;
  }

  /// By part 2 of the opening comment; false, and nothing done, when the state is too far.
  [[nodiscard]] bool step_to(double phi) {
    if (!(phi_ > 0.5 * series_limit_ && phi < greatest()))
      return false;
    const double r = 1 + k_ * x_;
    const double u = k_ * x_ / r;
    const double rise = (phi - phi_) * (phi + phi_) / (phi_ * phi_); // E - 1
    const double g = u * (1 + rise);
    const double slope = 1 - n_ * g;
    if (slope <= 0.1)
      return false;
    const double inverse_slope = 1 / slope;
    const double first = u * rise * inverse_slope;
    const double bend = g * up_[2] * inverse_slope;
    if (std::abs(first) > 0.005 || std::abs(first * bend) > 0.005)
      return false;
    const double bow = g * up_[3] * inverse_slope;
    const double w = first * (1 + first * (bend + first * (2 * bend * bend + bow)));
    const double w2 = w * w;
    const double grown = w * ((up_[1] + w * up_[2]) + w2 * (up_[3] + w * up_[4]) +
                              w2 * w2 * (up_[5] + w * up_[6])); // (1 + w)^n - 1
    const double t = w * (2 * bend + w * 3 * bow);              // slope at w is that at 0 times 1 - t
    const double last = w + (u * rise + g * grown - w) * inverse_slope * (1 + t * (1 + t));
    const double last2 = last * last;
    x_ += last * r / k_;
    P_ *= ((1 + last * down_[1]) + last2 * (down_[2] + last * down_[3])) +
          last2 * last2 * ((down_[4] + last * down_[5]) + last2 * down_[6]);
    phi_ = phi;
    return true;
  }
};

inline bool RunningState::duct(double friction_length) {
  assert(friction_length >= 0);
  const double x = x_;
  const double r = 1 + k_ * x;
  const double m = (1 + k_) * x / (1 - x);
  const double h = friction_scale_ * friction_length * m;
  if (!(m < 0.5 && h < 0.05))
    return solve_duct(friction_length);
  const double m2 = m * m, h2 = h * h;
  const double d3 = m * (1. / 3 + m * 0.5);
  const double d4 = m * ((0.25 + m * (5. / 6)) + m2 * 0.625);
  const double d5 = m * ((0.2 + m * (13. / 12)) + m2 * (1.75 + m * 0.875));
  double s = h + h2 * ((0.5 * m + h * d3) + h2 * (d4 + h * d5));
  if (m > 0.3 || m * h2 * h2 * h2 > 3e-13) {
    const double s2 = s * s;
    const double tail = s2 * (((0.5 + s * (1. / 3)) + s2 * (0.25 + s * 0.2)) +
                              s2 * s2 * ((1. / 6 + s * (1. / 7)) + s2 * (0.125 + s * (1. / 9))));
    const double d = m * s * (1 + s * (1 + s)); // slope of m tail
    s += (h + m * tail - s) * (1 + d * (1 + d));
  }
  const double root = std::sqrt(gamma_ * x * r * (1 - s));
  const double growth = 1 / (1 - r * s);
  const double w = k_ * x * s * growth;
  const double w2 = w * w;
  P_ *= ((1 + w * down_[1]) + w2 * (down_[2] + w * down_[3])) +
        w2 * w2 * ((down_[4] + w * down_[5]) + w2 * down_[6]);
  x_ = x * growth;
  phi_ = P_ * growth * root; // P sqrt(gamma x' r'), x' r' = x r (1 - s) growth^2
  return true;
}

} // namespace bellmouth::air
