// SPDX-License-Identifier: GPL-3.0-or-later
// The operating point. Unknowns are the mass flow and, where a blower's pressure ratio is not given by its
// inlet pressure, that ratio. Damped Newton first; should it fail, nested bracketing, which needs nothing but
// the monotony of the machines: more flow thins the air ahead of a blower, more pressure ratio raises the
// manifold pressure.
#include "elements.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace bellmouth::flow {
namespace {

constexpr double tolerance = 1e-10;
constexpr int newton_limit = 40;
constexpr double least_ratio = 0.02, greatest_ratio = 50;

struct Residuals {
  // r[i], and its slopes by relative mass flow and by ratio
  std::array<double, 2> r{}, by_flow{}, by_ratio{};
};

class Solver {
public:
  Solver(const Path::Impl& path, const std::vector<Element>& elements, double engine_speed_rev_s)
      : path_(path), elements_(elements), speed_(engine_speed_rev_s),
        engine_(std::get_if<machine::Engine>(&path.demand)),
        target_at_manifold_(path.target != nullptr && path.target->target_at == machine::TargetAt::manifold) {
    if (engine_ != nullptr) {
      swallow_ = engine_->mass_flow_kg_s(speed_, 1.0);
    }
    ratio_unknown_ = (engine_ != nullptr && path.displacement != nullptr) || target_at_manifold_;
  }

  Solution solve(const OperatingPoint* near) {
    Solution solution;
    solution.point.engine_speed_rev_s = engine_ != nullptr ? speed_ : 0;
    if (engine_ == nullptr && !ratio_unknown_) {
      const auto& bench = std::get<build::FixedFlow>(path_.demand);
      solution.at = {bench.mass_flow_kg_s, 1};
      finish(solution, attempt(solution.at), Stop::fixed_flow);
      return solution;
    }
    Unknowns at = start(near);
    Marched end;
    if (!newton(at, end) && !bracket(at, end)) {
      solution.at = at;
      solution.point.iterations = marches_;
      report_choke(solution, at);
      return solution;
    }
    solution.at = at;
    finish(solution, end, engine_ != nullptr ? Stop::converged : Stop::fixed_flow);
    return solution;
  }

private:
  Marched attempt(Unknowns at) {
    ++marches_;
    return march(path_, elements_, at, nullptr);
  }

  double bench_flow() const { return std::get<build::FixedFlow>(path_.demand).mass_flow_kg_s; }

  double engine_flow(const Marched& end) const {
    return swallow_ * path_.air.density_kg_m3(end.pressure.value, end.temperature.value);
  }

  /// A first guess: the engine at ambient density, the blower's own flow, the target's ratio.
  Unknowns start(const OperatingPoint* near) {
    const double inlet_density = path_.air.density_kg_m3(path_.inlet_pressure_Pa, path_.inlet_temperature_K);
    if (engine_ == nullptr)
      return {bench_flow(), std::max(1.0, path_.target->target_pressure_Pa / path_.inlet_pressure_Pa)};
    if (near != nullptr && near->usable() && near->engine_speed_rev_s > 0)
      return {near->mass_flow_kg_s * speed_ / near->engine_speed_rev_s, near->blower_pressure_ratio};
    if (path_.displacement != nullptr) {
      const double flow = 0.97 * machine::mass_flow_kg_s(*path_.displacement, speed_, inlet_density);
      return {flow, std::clamp(flow / (swallow_ * inlet_density) * 1.2, 0.3, 5.0)};
    }
    if (path_.target != nullptr)
      return {swallow_ * inlet_density * target_ratio() * 0.88, std::max(1.0, target_ratio() * 1.08)};
    return {swallow_ * inlet_density * 0.96, 1};
  }

  double target_ratio() const { return path_.target->target_pressure_Pa / path_.inlet_pressure_Pa; }

  int unknowns() const { return (engine_ != nullptr ? 1 : 0) + (ratio_unknown_ ? 1 : 0); }

  /// Relative residuals with slopes by ln(flow) and by ratio.
  Residuals residuals(const Marched& end, Unknowns at) const {
    Residuals out;
    std::size_t i = 0;
    if (engine_ != nullptr) {
      const double taken = engine_flow(end) / at.mass_flow_kg_s;
      const double m = at.mass_flow_kg_s;
      out.r[i] = taken - 1;
      out.by_flow[i] = taken * (m * end.pressure.by_flow / end.pressure.value -
                                m * end.temperature.by_flow / end.temperature.value - 1);
      out.by_ratio[i] = taken * (end.pressure.by_ratio / end.pressure.value -
                                 end.temperature.by_ratio / end.temperature.value);
      ++i;
    }
    if (ratio_unknown_ && path_.displacement != nullptr) {
      const double m = at.mass_flow_kg_s;
      const double density = path_.air.density_kg_m3(end.blower_pressure.value, end.blower_temperature.value);
      const double given = machine::mass_flow_kg_s(*path_.displacement, speed_, density) / m;
      out.r[i] = given - 1;
      out.by_flow[i] = given * (m * end.blower_pressure.by_flow / end.blower_pressure.value - 1);
      out.by_ratio[i] = 0;
    } else if (ratio_unknown_) {
      const double m = at.mass_flow_kg_s;
      const double held = end.pressure.value / path_.target->target_pressure_Pa;
      out.r[i] = held - 1;
      out.by_flow[i] = held * m * end.pressure.by_flow / end.pressure.value;
      out.by_ratio[i] = held * end.pressure.by_ratio / end.pressure.value;
    }
    return out;
  }

  static double size(const Residuals& r) { return std::max(std::abs(r.r[0]), std::abs(r.r[1])); }

  /// Newton's step in (ln flow, ratio); nothing when the system is singular.
  std::optional<std::array<double, 2>> step(const Residuals& r) const {
    if (unknowns() == 1) {
      const double slope = engine_ != nullptr ? r.by_flow[0] : r.by_ratio[0];
      if (!(std::abs(slope) > 1e-12))
        return std::nullopt;
      const double move = -r.r[0] / slope;
      return engine_ != nullptr ? std::array{move, 0.0} : std::array{0.0, move};
    }
    const double det = r.by_flow[0] * r.by_ratio[1] - r.by_ratio[0] * r.by_flow[1];
    if (!(std::abs(det) > 1e-14))
      return std::nullopt;
    return std::array{(-r.r[0] * r.by_ratio[1] + r.by_ratio[0] * r.r[1]) / det,
                      (-r.by_flow[0] * r.r[1] + r.r[0] * r.by_flow[1]) / det};
  }

  /// On success `end` is the march at `at`.
  bool newton(Unknowns& at, Marched& end) {
    end = attempt(at);
    for (int halvings = 0; end.ended == Ended::chokes && halvings < 12; ++halvings) {
      at.mass_flow_kg_s *= 0.7;
      if (engine_ == nullptr)
        return false;
      end = attempt(at);
    }
    if (end.ended != Ended::passed)
      return false;
    auto now = residuals(end, at);
    for (int i = 0; i < newton_limit; ++i) {
      if (size(now) < tolerance)
        return true;
      const auto move = step(now);
      if (!move)
        return false;
      double share = std::min({1.0, 0.7 / std::max(1e-12, std::abs((*move)[0])),
                               0.5 * at.pressure_ratio / std::max(1e-12, std::abs((*move)[1]))});
      bool better = false;
      for (int halvings = 0; halvings < 10 && !better; ++halvings, share *= 0.5) {
        const Unknowns tried{at.mass_flow_kg_s * std::exp(share * (*move)[0]),
                             at.pressure_ratio + share * (*move)[1]};
        if (tried.pressure_ratio < least_ratio || tried.pressure_ratio > greatest_ratio)
          continue;
        const auto reached = attempt(tried);
        if (reached.ended != Ended::passed)
          continue;
        const auto then = residuals(reached, tried);
        if (size(then) < size(now) * (1 - 1e-4 * share)) {
          at = tried;
          now = then;
          end = reached;
          better = true;
        }
      }
      if (!better)
        return size(now) < 1e-8; // rounding: nothing nearer exists along the step
    }
    return false;
  }

  /// The root of a decreasing function by bisection of its bracket; `low` has a positive value, `high` a
  /// negative one.
  template <class F> static double bisect(double low, double high, F value) {
    for (int i = 0; i < 200 && high - low > 1e-15 * high; ++i) {
      const double middle = 0.5 * (low + high);
      (value(middle) > 0 ? low : high) = middle;
    }
    return 0.5 * (low + high);
  }

  /// At a given flow, the ratio at which `excess` (rising in ratio; choking counts as too little) is zero.
  /// Nothing when even the greatest ratio is too little.
  template <class F> std::optional<double> ratio_for(double flow, F excess) {
    const auto value = [&](double ratio) {
      const auto end = attempt({flow, ratio});
      if (end.ended == Ended::passed)
        return -excess(end);
      return end.ended == Ended::chokes ? 1.0 : -1.0;
    };
    if (value(greatest_ratio) > 0)
      return std::nullopt;
    return bisect(least_ratio, greatest_ratio, value);
  }

  bool bracket(Unknowns& at, Marched& end) {
    const double inlet_density = path_.air.density_kg_m3(path_.inlet_pressure_Pa, path_.inlet_temperature_K);
    if (engine_ == nullptr) {
      const auto ratio = ratio_for(bench_flow(), [this](const Marched& tried) {
        return tried.pressure.value - path_.target->target_pressure_Pa;
      });
      if (!ratio)
        return false;
      at = {bench_flow(), *ratio};
      return settled(at, end);
    }
    if (path_.displacement != nullptr) {
      // The blower's side does not feel the ratio: find the flow first, then the ratio that makes the engine
      // take it.
      const double most = machine::mass_flow_kg_s(*path_.displacement, speed_, inlet_density);
      const double flow = bisect(0.0, most * 1.5, [this](double m) {
        const auto tried = attempt({m, greatest_ratio});
        if (tried.ended == Ended::chokes && tried.blower_pressure.value <= 0)
          return -1.0;
        return machine::mass_flow_kg_s(
                   *path_.displacement, speed_,
                   path_.air.density_kg_m3(tried.blower_pressure.value, tried.blower_temperature.value)) -
               m;
      });
      const auto ratio =
          ratio_for(flow, [this, flow](const Marched& tried) { return engine_flow(tried) - flow; });
      at = {flow, ratio.value_or(greatest_ratio)};
      return ratio && settled(at, end);
    }
    const double most =
        swallow_ * inlet_density * (path_.target != nullptr ? std::max(1.0, target_ratio()) : 1.0) * 2;
    double ratio_found = 1;
    const double flow = bisect(0.0, most, [&](double m) {
      if (ratio_unknown_) {
        const auto ratio = ratio_for(m, [this](const Marched& tried) {
          return tried.pressure.value - path_.target->target_pressure_Pa;
        });
        if (!ratio)
          return -1.0;
        ratio_found = *ratio;
      }
      const auto tried = attempt({m, ratio_found});
      return tried.ended == Ended::passed ? engine_flow(tried) - m : -1.0;
    });
    at = {flow, ratio_found};
    return settled(at, end);
  }

  bool settled(Unknowns at, Marched& end) {
    end = attempt(at);
    return end.ended == Ended::passed && size(residuals(end, at)) < 1e-6;
  }

  /// The greatest mass flow that gets through at this ratio.
  double most_that_passes(Unknowns at) {
    return bisect(0.0, at.mass_flow_kg_s, [&](double m) {
      return attempt({m, at.pressure_ratio}).ended == Ended::passed ? 1.0 : -1.0;
    });
  }

  void finish(Solution& solution, const Marched& end, Stop stop) {
    auto& point = solution.point;
    point.iterations = marches_;
    if (end.ended != Ended::passed) {
      point.stop = end.ended == Ended::chokes ? Stop::chokes : Stop::too_hot;
      point.choke_element = end.choke_element;
      if (end.ended == Ended::chokes)
        point.max_mass_flow_kg_s = most_that_passes(solution.at);
      return;
    }
    point.stop = stop;
    point.residual = unknowns() > 0 ? size(residuals(end, solution.at)) : 0;
    point.mass_flow_kg_s = solution.at.mass_flow_kg_s;
    point.blower_pressure_ratio = end.blower_ratio;
    point.manifold_pressure_Pa = end.pressure.value;
    point.manifold_temperature_K = end.temperature.value;
    if (path_.target != nullptr &&
        (end.blower_ratio > path_.target->max_pressure_ratio || end.blower_ratio < 1))
      point.stop = end.blower_ratio < 1 ? Stop::target_too_low : Stop::out_of_reach;
  }

  /// Finds out why there is no agreement: where it chokes a little above the flow that still passes.
  void report_choke(Solution& solution, Unknowns at) {
    auto& point = solution.point;
    point.stop = Stop::no_agreement;
    const Unknowns above{at.mass_flow_kg_s * 1.001, at.pressure_ratio};
    const auto end = attempt(above);
    if (end.ended == Ended::chokes) {
      point.stop = Stop::chokes;
      point.choke_element = end.choke_element;
      point.max_mass_flow_kg_s = most_that_passes(above);
    } else if (end.ended == Ended::too_hot ||
               attempt({at.mass_flow_kg_s, at.pressure_ratio * 1.001}).ended == Ended::too_hot) {
      point.stop = Stop::too_hot;
    } else if (path_.target != nullptr) {
      point.stop = Stop::out_of_reach;
    }
  }

  const Path::Impl& path_;
  const std::vector<Element>& elements_;
  double speed_;
  const machine::Engine* engine_;
  bool target_at_manifold_;
  bool ratio_unknown_ = false;
  double swallow_ = 0; ///< volume flow the engine takes [m3/s]
  int marches_ = 0;
};

} // namespace

Solution solve(const Path::Impl& path, const std::vector<Element>& elements, double engine_speed_rev_s,
               const OperatingPoint* near) {
  return Solver(path, elements, engine_speed_rev_s).solve(near);
}

} // namespace bellmouth::flow
