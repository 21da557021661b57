// SPDX-License-Identifier: GPL-3.0-or-later
// How far engine, blowers, targets and joins are from agreeing at a place among the unknowns, and which way
// Newton's method would go from there.
#pragma once

#include "march.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace bellmouth::flow {

template <std::size_t N> class Agreement {
public:
  Agreement(const Path::Impl& path, const Variation& variation, double engine_speed_rev_s)
      : path_(path), variation_(variation), speed_(engine_speed_rev_s), n_(path.unknowns),
        engine_(std::get_if<machine::Engine>(&path.demand)) {
    assert(n_ <= N);
  }

protected:
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

  /// The plates whose throat is an unknown.
  void for_each_plate(const auto& act) const {
    for (const auto& element : *variation_.elements)
      if (const auto* plate = std::get_if<PlateElement>(&element.law); plate && plate->throat != none)
        act(*plate);
  }
  void for_each_ratio(const auto& act) const {
    for (const auto& element : *variation_.elements)
      if (const auto* blower = std::get_if<BlowerElement>(&element.law); blower && blower->ratio != none)
        act(blower->ratio);
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

} // namespace bellmouth::flow
