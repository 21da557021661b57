// SPDX-License-Identifier: GPL-3.0-or-later
// The operating point. Unknowns are the mass flow, the pressure ratio of each blower whose ratio its inlet
// does not give, and the shares of branches. Damped Newton with the slopes of the march first. Should it
// fail: with one blower, nested bracketing, which needs nothing but the monotony of the machines (more flow
// thins the air ahead of a blower, more pressure ratio raises the manifold pressure); with branches, the same
// Newton led up from a low engine speed, at which nothing is lost on the way.
#include "solve.hpp"

#include "search.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numeric>

namespace bellmouth::flow {
namespace {

constexpr double tolerance = 1e-10;
constexpr double rounding = 1e-8; ///< agreement that counts where rounding forbids a better one
constexpr int newton_limit = 40;
const double least_log_ratio = std::log(0.02), greatest_log_ratio = std::log(50.0);
/// Farthest that one step moves ln(flow), ln(ratio) or the logarithm of a share.
constexpr double longest_step = 0.7;
/// Range of ln(flow) below the greatest that a bracket covers: from nothing worth speaking of.
constexpr double flow_range = 20;

template <std::size_t N> class Solver {
public:
  Solver(const Path::Impl& path, const Variation& variation, double engine_speed_rev_s)
      : path_(path), variation_(variation), speed_(engine_speed_rev_s), n_(path.unknowns),
        engine_(std::get_if<machine::Engine>(&path.demand)) {
    assert(n_ <= N);
  }

  Solution solve(const OperatingPoint* near) {
    Solution solution;
    solution.point.engine_speed_rev_s = engine_ != nullptr ? speed_ : 0;
    at_ = start(near);
    const bool found = newton() || (path_.groups.empty() ? bracket() : climb());
    solution.at = at_;
    solution.point.iterations = marches_;
    if (found)
      finish(solution.point);
    else
      explain(solution.point);
    return solution;
  }

private:
  using Values = std::array<double, N>;
  struct Residuals {
    Values r{};
    std::array<Values, N> by{}; ///< by[i][j]: of r[i] by the unknown j
  };

  void attempt(const Unknowns& at) {
    ++marches_;
    end_ = march<N>(path_, variation_, speed_, at, nullptr);
  }

  double swallow_m3_s() const {
    return variation_.tuning.engine_filling * engine_->mass_flow_kg_s(speed_, 1.0);
  }

  /// What the engine takes over what arrives, less one.
  Sloped<N> engine_excess() const {
    const double taken = swallow_m3_s() *
                         path_.air.density_kg_m3(end_.pressure.value, end_.temperature.value) /
                         end_.flow.value;
    return Sloped<N>::constant(taken - 1)
        .lean(taken / end_.pressure.value, end_.pressure)
        .lean(-taken / end_.temperature.value, end_.temperature)
        .lean(-taken / end_.flow.value, end_.flow);
  }
  Sloped<N> target_excess() const { return (1 / *path_.manifold_target_Pa) * end_.pressure - 1; }

  Residuals residuals() const {
    Residuals out;
    std::size_t i = 0;
    const auto put = [&](const Sloped<N>& residual) {
      out.r[i] = residual.value;
      out.by[i++] = residual.by;
    };
    for (std::size_t k = 0; k < end_.residual_count; ++k)
      put(end_.residuals[k]);
    if (path_.flow_unknown)
      put(engine_excess());
    if (path_.manifold_target_Pa)
      put(target_excess());
    assert(i == n_);
    return out;
  }

  double size(const Residuals& residuals) const {
    double most = 0;
    for (std::size_t i = 0; i < n_; ++i)
      most = std::max(most, std::abs(residuals.r[i]));
    return most;
  }

  /// Newton's step; nothing when the system is singular.
  std::optional<Values> step(const Residuals& s) const {
    if constexpr (N == 1)
      return std::abs(s.by[0][0]) > 1e-12 ? std::optional(Values{-s.r[0] / s.by[0][0]}) : std::nullopt;
    else
      return eliminated(s);
  }

  /// Gauss with pivots.
  std::optional<Values> eliminated(Residuals s) const {
    for (std::size_t k = 0; k < n_; ++k) {
      std::size_t pivot = k;
      for (std::size_t i = k + 1; i < n_; ++i)
        if (std::abs(s.by[i][k]) > std::abs(s.by[pivot][k]))
          pivot = i;
      if (!(std::abs(s.by[pivot][k]) > 1e-13))
        return std::nullopt;
      std::swap(s.by[k], s.by[pivot]);
      std::swap(s.r[k], s.r[pivot]);
      for (std::size_t i = k + 1; i < n_; ++i) {
        const double factor = s.by[i][k] / s.by[k][k];
        for (std::size_t j = k; j < n_; ++j)
          s.by[i][j] -= factor * s.by[k][j];
        s.r[i] -= factor * s.r[k];
      }
    }
    Values move{};
    for (std::size_t k = n_; k-- > 0;) {
      double rest = -s.r[k];
      for (std::size_t j = k + 1; j < n_; ++j)
        rest -= s.by[k][j] * move[j];
      move[k] = rest / s.by[k][k];
    }
    return move;
  }

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
    for (const auto& element : *variation_.elements)
      if (const auto* blower = std::get_if<BlowerElement>(&element.law); blower && blower->ratio != none)
        at[blower->ratio] = std::log(std::max(0.3, ratio));
    return at;
  }

  /// Newton's method from `at_`; on success `at_` is the solution and `end_` the march there.
  bool newton() {
    attempt(at_);
    for (int cuts = 0; end_.ended == Ended::chokes && path_.flow_unknown && cuts < 12; ++cuts) {
      at_[0] -= 0.36;
      attempt(at_);
    }
    if (end_.ended != Ended::passed)
      return false;
    auto now = residuals();
    for (int i = 0; i < newton_limit; ++i) {
      const double distance = size(now);
      if (distance < tolerance)
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

  // --- bracketing, with one blower or none

  /// The place of the blower's ratio among the unknowns, or none.
  std::size_t ratio_place() const {
    return n_ == (path_.flow_unknown ? 2U : 1U) ? (path_.flow_unknown ? 1 : 0) : none;
  }

  /// At the ratio in `at_`, the flow at which its own condition holds: the blower delivers it, or, where the
  /// blower's control holds a target, the engine takes it. Falls with flow.
  double flow_value(double log_flow) {
    at_[0] = log_flow;
    attempt(at_);
    if (!path_.manifold_target_Pa && end_.residual_count > 0)
      return end_.residuals[0].value;
    if (end_.ended != Ended::passed)
      return -1;
    return engine_excess().value;
  }

  bool bracket() {
    const double density = path_.air.density_kg_m3(path_.inlet_pressure_Pa, path_.inlet_temperature_K);
    const std::size_t ratio = ratio_place();
    double most = 0;
    if (path_.flow_unknown) {
      const double head =
          path_.manifold_target_Pa ? std::max(1.0, *path_.manifold_target_Pa / path_.inlet_pressure_Pa) : 1.0;
      most = 3 * swallow_m3_s() * density * head;
      const BlowerScene scene{path_.air, variation_.tuning, speed_, path_.ambient_pressure_Pa};
      for (const Blower& blower : path_.blowers) {
        const auto guess = blower.guess(scene, path_.inlet_pressure_Pa, path_.inlet_temperature_K);
        most = std::max(most, 2 * guess.flow_kg_s);
        if (blower.target() != nullptr && ratio == none)
          most *= std::max(1.0, guess.ratio);
      }
    }
    const auto find_flow = [&] {
      at_[0] = falling_root(std::log(most) - flow_range, std::log(most), 1e-13,
                            [&](double log_flow) { return flow_value(log_flow); });
    };
    if (ratio == none) {
      if (!path_.flow_unknown)
        return false;
      find_flow();
    } else {
      at_[ratio] = falling_root(least_log_ratio, greatest_log_ratio, 1e-13, [&](double log_ratio) {
        at_[ratio] = log_ratio;
        if (path_.flow_unknown)
          find_flow();
        attempt(at_);
        if (end_.ended == Ended::too_hot)
          return -1.0;
        if (end_.ended == Ended::chokes)
          return 1.0;
        return -(path_.manifold_target_Pa ? target_excess().value : engine_excess().value);
      });
      if (path_.flow_unknown)
        find_flow();
    }
    const Unknowns bracketed = at_;
    if (newton())
      return true;
    at_ = bracketed;
    attempt(at_);
    return end_.ended == Ended::passed && size(residuals()) < rounding;
  }

  /// Follows the solution up from a low engine speed.
  bool climb() {
    if (engine_ == nullptr)
      return false;
    const double wanted = speed_;
    speed_ = wanted / 64;
    at_ = start(nullptr);
    if (!newton()) {
      speed_ = wanted;
      return false;
    }
    double factor = 2;
    for (int rounds = 0; rounds < 200 && speed_ < wanted; ++rounds) {
      const Unknowns from = at_;
      const double from_speed = speed_;
      speed_ = std::min(wanted, speed_ * factor);
      at_[0] += std::log(speed_ / from_speed);
      if (newton()) {
        factor = std::min(2.0, factor * factor);
        continue;
      }
      at_ = from;
      speed_ = from_speed;
      factor = std::sqrt(factor);
      if (factor < 1 + 1e-6)
        break;
    }
    const bool arrived = speed_ >= wanted;
    speed_ = wanted;
    return arrived;
  }

  // --- what to say of the end

  /// The greatest mass flow that gets through with the other unknowns as they are.
  double most_that_passes(Unknowns at) {
    const double high = at[0];
    return std::exp(falling_root(high - flow_range, high, 1e-12, [&](double log_flow) {
      at[0] = log_flow;
      attempt(at);
      return end_.ended == Ended::passed ? 1.0 : -1.0;
    }));
  }
  /// The same of a given flow, which is not among the unknowns: not known.
  void note_choke(OperatingPoint& point, const Unknowns& at) {
    point.stop = Stop::chokes;
    point.choke_element = end_.stop_element;
    point.max_mass_flow_kg_s = path_.flow_unknown ? most_that_passes(at) : fixed_flow_that_passes(at);
  }
  double fixed_flow_that_passes(const Unknowns& at) {
    Path::Impl bench = path_;
    auto& fixed = std::get<build::FixedFlow>(bench.demand);
    const double high = std::log(fixed.mass_flow_kg_s);
    return std::exp(falling_root(high - flow_range, high, 1e-12, [&](double log_flow) {
      fixed.mass_flow_kg_s = std::exp(log_flow);
      ++marches_;
      return march<N>(bench, variation_, speed_, at, nullptr).ended == Ended::passed ? 1.0 : -1.0;
    }));
  }

  void finish(OperatingPoint& point) {
    point.stop = path_.flow_unknown ? Stop::converged : Stop::fixed_flow;
    point.residual = n_ > 0 ? size(residuals()) : 0;
    point.mass_flow_kg_s = end_.flow.value;
    point.blower_pressure_ratio = end_.blower_ratio;
    point.manifold_pressure_Pa = end_.pressure.value;
    point.manifold_temperature_K = end_.temperature.value;
    point.drive_power_W = end_.drive_power_W;
    point.crank_power_W =
        engine_ != nullptr ? engine_->crank_power_W(end_.flow.value) - end_.drive_power_W : 0;
    point.unknowns.assign(at_.begin(), at_.begin() + static_cast<std::ptrdiff_t>(n_));
    for (const Blower& blower : path_.blowers)
      if (const auto* target = blower.target()) {
        if (end_.blower_ratio < 1)
          point.stop = Stop::target_too_low;
        else if (end_.blower_ratio > target->max_pressure_ratio)
          point.stop = Stop::out_of_reach;
      }
  }

  /// Finds out why there is no agreement: where it chokes a little above the flow that still passes.
  void explain(OperatingPoint& point) {
    point.stop = Stop::no_agreement;
    if (end_.ended == Ended::chokes)
      return note_choke(point, at_);
    if (end_.ended == Ended::too_hot) {
      point.stop = Stop::too_hot;
      return;
    }
    Unknowns above = at_;
    if (path_.flow_unknown) {
      above[0] += 1e-3;
      attempt(above);
      if (end_.ended == Ended::chokes)
        return note_choke(point, above);
    }
    above = at_;
    for (std::size_t i = path_.flow_unknown ? 1 : 0; i < n_; ++i)
      above[i] += 1e-3;
    attempt(above);
    const bool holds_target =
        std::ranges::any_of(path_.blowers, [](const Blower& blower) { return blower.target() != nullptr; });
    if (end_.ended == Ended::too_hot)
      point.stop = Stop::too_hot;
    else if (holds_target)
      point.stop = Stop::out_of_reach;
  }

  const Path::Impl& path_;
  const Variation& variation_;
  double speed_;
  std::size_t n_;
  const machine::Engine* engine_;
  Unknowns at_{};
  Marched<N> end_;
  int marches_ = 0;
};

} // namespace

Solution solve(const Path::Impl& path, const Variation& variation, double engine_speed_rev_s,
               const OperatingPoint* near) {
  if (path.unknowns <= 1)
    return Solver<1>(path, variation, engine_speed_rev_s).solve(near);
  if (path.unknowns == 2)
    return Solver<2>(path, variation, engine_speed_rev_s).solve(near);
  return Solver<most_unknowns>(path, variation, engine_speed_rev_s).solve(near);
}

} // namespace bellmouth::flow
