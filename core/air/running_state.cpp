// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/air/running_state.hpp>

namespace bellmouth::air {
namespace {

/// 1/i!
template <std::size_t terms> constexpr std::array<double, terms> inverse_factorials() {
  std::array<double, terms> out{};
  double factorial = 1;
  for (std::size_t i = 0; i < terms; ++i) {
    factorial *= i > 0 ? static_cast<double>(i) : 1;
    out[i] = 1 / factorial;
  }
  return out;
}

/// Terms `first` to `last` - 1, for s = n and for s = -(n+1)/2 at once: s/(n i + s) C(n i + s, i) = s/i! *
/// product over j = 1 to i-1 of (n i + s - j).
template <std::size_t terms>
void generalized_binomial_series(double n, std::array<double, terms>& x, std::array<double, terms>& P,
                                 std::size_t first, std::size_t last) {
  static constexpr auto shares = inverse_factorials<terms>();
  const std::array<double, 2> s{n, -(n + 1) / 2};
  x[0] = P[0] = 1;
  for (std::size_t i = first; i < last; ++i) {
    std::array<double, 2> product{s[0] * shares[i], s[1] * shares[i]};
    std::array<double, 2> factor{n * static_cast<double>(i) + s[0], n * static_cast<double>(i) + s[1]};
    for (std::size_t j = 1; j < i; ++j)
      for (std::size_t lane = 0; lane < 2; ++lane) {
        factor[lane] -= 1;
        product[lane] *= factor[lane];
      }
    x[i] = product[0];
    P[i] = product[1];
  }
}

template <std::size_t terms> void binomial_series(double exponent, std::array<double, terms>& out) {
  static constexpr auto shares = inverse_factorials<terms>();
  out[0] = 1;
  double falling = 1;
  for (std::size_t i = 1; i < terms; ++i) {
    falling *= exponent - static_cast<double>(i - 1);
    out[i] = falling * shares[i];
  }
}

} // namespace

RunningState::RunningState(double gamma)
    : gamma_(gamma), k_((gamma - 1) / 2), n_((gamma + 1) / (gamma - 1)), friction_scale_(gamma / (1 + k_)),
      inverse_gamma_(1 / gamma), series_limit_(0), middle_limit_(0), short_limit_(0), states_(gamma) {
  assert(gamma >= 1.1 && gamma <= 1.67);
  series_limit_ = series_share * states_.greatest();
  middle_limit_ = middle_share * states_.greatest();
  short_limit_ = short_share * states_.greatest();
  generalized_binomial_series(n_, x_series_, P_series_, 1, 12);
  binomial_series(n_, up_);
  binomial_series(-(n_ + 1) / 2, down_);
}

void RunningState::work_out_all_terms() {
  generalized_binomial_series(n_, x_series_, P_series_, 12, terms);
  all_terms_ = true;
}

bool RunningState::solve(double phi) {
  const auto state = states_.at(phi);
  if (!state)
    return false;
  phi_ = phi;
  x_ = state->mach * state->mach;
  P_ = state->pressure_ratio;
  return true;
}

bool RunningState::solve_duct(double friction_length) {
  const auto outlet = fanno_outlet_mach(std::sqrt(x_), friction_length, gamma_);
  if (!outlet)
    return false;
  x_ = *outlet * *outlet;
  P_ = air::pressure_ratio(*outlet, gamma_);
  phi_ = P_ * std::sqrt(gamma_ * x_ * (1 + k_ * x_));
  return true;
}

} // namespace bellmouth::air
