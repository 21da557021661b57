// SPDX-License-Identifier: GPL-3.0-or-later
// Streams as cases want them, in place of those that were worked out.
#pragma once

#include "scene.hpp"

#include <cmath>
#include <cstddef>
#include <initializer_list>

namespace bellmouth::test {

/// Sets the static pressure all along a run to a gauge pressure.
[[nodiscard]] inline auto gauge(std::size_t run, double gauge_Pa) {
  return [=](flow::PathFlow& flow) {
    for (auto& piece : flow.runs[run].rows)
      piece.inlet.station.static_pressure_Pa = piece.outlet.station.static_pressure_Pa = 100000.0 + gauge_Pa;
  };
}
/// The same in all runs behind the blower.
[[nodiscard]] inline auto boost(double gauge_Pa) {
  return [=](flow::PathFlow& flow) {
    gauge(hot, gauge_Pa)(flow);
    gauge(cold, gauge_Pa)(flow);
  };
}
/// The same in one run, the air in it standing.
[[nodiscard]] inline auto still(std::size_t run, double gauge_Pa) {
  return [=](flow::PathFlow& flow) {
    gauge(run, gauge_Pa)(flow);
    for (auto& piece : flow.runs[run].rows)
      piece.inlet.station.velocity_m_s = piece.outlet.station.velocity_m_s = 0;
  };
}
/// The temperature all along a run.
[[nodiscard]] inline auto warmed(std::size_t run, double temperature_C) {
  return [=](flow::PathFlow& flow) {
    for (auto& piece : flow.runs[run].rows)
      piece.inlet.station.total_temperature_K = piece.outlet.station.total_temperature_K =
          273.15 + temperature_C;
  };
}

/// The pressure at which pi/4 OD^2 p is a force.
[[nodiscard]] inline double pressure_for(double force_N, double outer_mm) {
  return force_N / (M_PI / 4 * mm(outer_mm) * mm(outer_mm));
}

} // namespace bellmouth::test
