// SPDX-License-Identifier: GPL-3.0-or-later
// The bands of the results, first order.
#include "varied.hpp"

#include <algorithm>
#include <cmath>

namespace bellmouth::flow {
namespace {

/// Adds changes in squares, those downwards and those upwards apart.
class Widening {
public:
  explicit Widening(double value) : value_(value) {}

  void by(double one, double other) {
    const double down = std::min({0.0, one, other}), up = std::max({0.0, one, other});
    down_ += down * down;
    up_ += up * up;
  }
  [[nodiscard]] Banded banded() const { return {value_, value_ - std::sqrt(down_), value_ + std::sqrt(up_)}; }

private:
  double value_, down_ = 0, up_ = 0;
};

/// Stands for the other end of a band, where that cannot be: chokes, say, or is out of the compressor's
/// reach.
Path::Deviated mirrored(Path::Deviated end, const OperatingPoint& now, const std::vector<double>& drops) {
  for (const auto what :
       {&OperatingPoint::manifold_pressure_Pa, &OperatingPoint::manifold_temperature_K,
        &OperatingPoint::mass_flow_kg_s, &OperatingPoint::crank_power_W, &OperatingPoint::drive_power_W})
    end.point.*what = 2 * now.*what - end.point.*what;
  for (std::size_t run = 0; run < drops.size(); ++run)
    end.run_drops_Pa[run] = 2 * drops[run] - end.run_drops_Pa[run];
  return end;
}

} // namespace

Bands bands(const Path::Impl& path, const OperatingPoint& point) {
  const Varied varied(path, point);
  const OperatingPoint& now = varied.solution().point;
  const auto drops = run_drops_Pa(path, varied.trace());
  Widening pressure(now.manifold_pressure_Pa), temperature(now.manifold_temperature_K),
      flow(now.mass_flow_kg_s), power(now.crank_power_W), drive(now.drive_power_W);
  std::vector<Widening> runs(drops.begin(), drops.end());

  Bands out;
  const std::size_t of_elements = path.doubts.size();
  std::vector<double> deviations(of_elements + path.tuned_doubts.size(), 0.0);
  for (std::size_t i = 0; i < deviations.size(); ++i) {
    deviations[i] = -1;
    auto low = varied.deviated(deviations);
    deviations[i] = 1;
    auto high = varied.deviated(deviations);
    deviations[i] = 0;
    const DoubtPlan& plan = i < of_elements ? path.doubts[i] : path.tuned_doubts[i - of_elements].plan;
    Doubt doubt{plan.name, plan.source, 1, 0, 0, 0, 0};
    if (i < of_elements)
      doubt.members = static_cast<std::size_t>(
          std::ranges::count_if(path.elements, [&](const Element& element) { return element.doubt == i; }));
    if (!low.point.usable() && high.point.usable())
      low = mirrored(high, now, drops);
    else if (low.point.usable() && !high.point.usable())
      high = mirrored(low, now, drops);
    if (low.point.usable() && high.point.usable()) {
      const auto change = [&](double OperatingPoint::*what, Widening& widening) {
        widening.by(low.point.*what - now.*what, high.point.*what - now.*what);
      };
      change(&OperatingPoint::manifold_pressure_Pa, pressure);
      change(&OperatingPoint::manifold_temperature_K, temperature);
      change(&OperatingPoint::mass_flow_kg_s, flow);
      change(&OperatingPoint::crank_power_W, power);
      change(&OperatingPoint::drive_power_W, drive);
      for (std::size_t run = 0; run < runs.size(); ++run)
        runs[run].by(low.run_drops_Pa[run] - drops[run], high.run_drops_Pa[run] - drops[run]);
      doubt.manifold_pressure_low_Pa = low.point.manifold_pressure_Pa - now.manifold_pressure_Pa;
      doubt.manifold_pressure_high_Pa = high.point.manifold_pressure_Pa - now.manifold_pressure_Pa;
      doubt.crank_power_low_W = low.point.crank_power_W - now.crank_power_W;
      doubt.crank_power_high_W = high.point.crank_power_W - now.crank_power_W;
    }
    out.doubts.push_back(std::move(doubt));
  }
  out.manifold_pressure_Pa = pressure.banded();
  out.manifold_temperature_K = temperature.banded();
  out.mass_flow_kg_s = flow.banded();
  out.crank_power_W = power.banded();
  out.drive_power_W = drive.banded();
  for (const Widening& run : runs)
    out.run_drops_Pa.push_back(run.banded());
  return out;
}

} // namespace bellmouth::flow
