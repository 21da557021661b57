// SPDX-License-Identifier: GPL-3.0-or-later
// Where a solve begins, and damped Newton steps from there.
#pragma once

#include "agreement.hpp"

namespace bellmouth::flow {

inline constexpr double agreed = 1e-10;
inline constexpr double rounding = 1e-8; ///< agreement that counts where rounding forbids a better one
inline constexpr int newton_limit = 40;
/// Farthest that one step moves ln(flow), ln(ratio) or the logarithm of a share.
inline constexpr double longest_step = 0.7;

template <std::size_t N> class Newton : protected Agreement<N> {
public:
  using Agreement<N>::Agreement;

protected:
  using Base = Agreement<N>;
  using Base::at_, Base::attempt, Base::end_, Base::for_each_plate, Base::for_each_ratio, Base::n_,
      Base::path_, Base::residuals, Base::size, Base::speed_, Base::step, Base::swallow_m3_s,
      Base::variation_;

  /// A first guess: what the machines would do in free air.
  Unknowns start(const OperatingPoint* near) {
    Unknowns at{};
    if (n_ == 0)
      return at;
    if (near != nullptr && near->usable() && near->unknowns.size() == n_) {
      std::copy(near->unknowns.begin(), near->unknowns.end(), at.begin());
      if (path_.flow_unknown)
        at[0] += std::log(speed_ / near->engine_speed_rev_s);
      return at;
    }
    const BlowerScene scene{path_.air, variation_.tuning, speed_, path_.ambient_pressure_Pa};
    const double density = path_.air.density_kg_m3(path_.inlet_pressure_Pa, path_.inlet_temperature_K);
    double flow = path_.flow_unknown ? 0.96 * swallow_m3_s() * density : 0;
    double ratio = 1, blown = 0;
    for (const Blower& blower : path_.blowers) {
      const auto guess = blower.guess(scene, path_.inlet_pressure_Pa, path_.inlet_temperature_K);
      blown += guess.flow_kg_s;
      ratio = guess.ratio;
    }
    if (path_.flow_unknown) {
      if (blown > 0) { // a machine that says its flow; the ratio is what makes the engine take it
        ratio = std::clamp(1.2 * blown / (flow / 0.96), 0.3, 5.0);
        flow = blown;
      } else {
        flow *= 0.92 * ratio;
        ratio *= 1.08;
      }
      at[0] = std::log(flow);
    }
    for_each_ratio([&](std::size_t place) { at[place] = std::log(std::max(0.3, ratio)); });
    for_each_plate([&](const PlateElement& plate) { begin_at(plate, ratio, at); });
    return at;
  }

  /// A flow that the plate can pass, and the throat that goes with it.
  void begin_at(const PlateElement& plate, double ratio, Unknowns& at) const {
    const double gamma = path_.air.gamma(path_.inlet_temperature_K);
    const double most = air::mass_flow_function(1, gamma) * plate.effective_area_m2 *
                        path_.inlet_pressure_Pa * std::max(1.0, ratio) /
                        std::sqrt(path_.air.gas_constant_J_kgK() * path_.inlet_temperature_K);
    at[0] = std::min(at[0], std::log(0.97 * most));
    const double share = std::exp(at[0]) / most;
    at[plate.throat] = std::log(share < 0.9 ? std::max(0.02, 0.7 * share) : 1.2);
  }

  /// Marches at `at_`, with less flow where it chokes and less pressure where it gets too hot; whether it
  /// passes.
  bool enter() {
    attempt(at_);
    for (int cuts = 0; cuts < 16; ++cuts) {
      if (end_.ended == Ended::chokes && path_.flow_unknown)
        at_[0] -= 0.36;
      else if (end_.ended == Ended::too_hot)
        for_each_ratio([&](std::size_t place) { at_[place] *= 0.7; });
      else
        break;
      attempt(at_);
    }
    return end_.ended == Ended::passed;
  }

  /// Newton's method from `at_`; on success `at_` is the solution and `end_` the march there.
  bool newton() {
    if (!enter())
      return false;
    auto now = residuals();
    for (int i = 0; i < newton_limit; ++i) {
      const double distance = size(now);
      if (distance < agreed)
        return true;
      const auto move = step(now);
      if (!move)
        return false;
      double longest = 0;
      for (std::size_t j = 0; j < n_; ++j)
        longest = std::max(longest, std::abs((*move)[j]));
      double share = std::min(1.0, longest_step / std::max(1e-300, longest));
      const Unknowns from = at_;
      const Marched<N> from_end = end_;
      bool better = false;
      for (int halvings = 0; halvings < 10 && !better; ++halvings, share *= 0.5) {
        for (std::size_t j = 0; j < n_; ++j)
          at_[j] = from[j] + share * (*move)[j];
        attempt(at_);
        if (end_.ended != Ended::passed)
          continue;
        const auto then = residuals();
        if (size(then) < distance * (1 - 1e-4 * share)) {
          now = then;
          better = true;
        }
      }
      if (!better) {
        at_ = from;
        end_ = from_end;
        return distance < rounding; // nothing nearer exists along the step
      }
    }
    return false;
  }
};

} // namespace bellmouth::flow
