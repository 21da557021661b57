// SPDX-License-Identifier: GPL-3.0-or-later
// The same path with something about it changed: what costs and bands are found from.
#pragma once

#include "walls.hpp"

namespace bellmouth::flow {

/// The path as it is compiled.
[[nodiscard]] Variation as_it_is(const Path::Impl& path);

/// The path at an operating point found before, with what its walls let through there.
class Varied {
public:
  Varied(const Path::Impl& path, const OperatingPoint& point);

  [[nodiscard]] const Solution& solution() const { return solution_; }
  [[nodiscard]] const Trace& trace() const { return trace_; }

  /// The operating point where every element for which `ideal` holds loses nothing and takes up no heat.
  template <class Ideal> [[nodiscard]] OperatingPoint with_ideal(const Ideal& ideal) const {
    std::vector<Element> elements = path_.elements;
    Variation variation{&elements, &elements, variation_.tuning, variation_.conductance_W_K};
    for (Element& element : elements) {
      if (!ideal(element))
        continue;
      element.scale = 0;
      if (const auto* heat = std::get_if<HeatElement>(&element.law);
          heat && !variation.conductance_W_K.empty())
        variation.conductance_W_K[heat->wall] = 0;
    }
    return solve(path_, variation, solution_.point.engine_speed_rev_s, &solution_.point).point;
  }

  /// The operating point with every source of doubt moved by so many half widths: those of elements first,
  /// then those of the tuning.
  [[nodiscard]] Path::Deviated deviated(const std::vector<double>& deviations) const;

private:
  const Path::Impl& path_;
  Variation variation_;
  /// How wide a doubt about a machine is at this point.
  [[nodiscard]] std::pair<double, double> width_of(const TunedDoubt& doubt) const;

  Solution solution_;
  Trace trace_;
};

/// See Path.
[[nodiscard]] Costs costs(const Path::Impl& path, const OperatingPoint& point);
[[nodiscard]] Bands bands(const Path::Impl& path, const OperatingPoint& point);

} // namespace bellmouth::flow
