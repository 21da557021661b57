// SPDX-License-Identifier: GPL-3.0-or-later
// Machines and pieces drawn at random, in proportion to an engine.
#pragma once

#include "support/sample_parts.hpp"

#include <bellmouth/build.hpp>

#include <cmath>
#include <random>
#include <vector>

namespace bellmouth::test {

/// Plain words for what is drawn.
class Draw {
public:
  explicit Draw(std::mt19937_64& random) : random_(&random) {}
  double between(double low, double high) {
    // Not std::uniform_real_distribution, whose figures differ between libraries.
    return low + (high - low) * (static_cast<double>((*random_)() >> 11) * 0x1p-53);
  }
  /// Evenly in the logarithm.
  double spread(double low, double high) { return std::exp(between(std::log(low), std::log(high))); }
  int whole(int low, int high) { return low + static_cast<int>(between(0, high - low + 1 - 1e-9)); }
  bool chance(double probability) { return between(0, 1) < probability; }

private:
  std::mt19937_64* random_;
};

/// What machines are sized after.
struct Scale {
  double engine_max_rev_s = 0, displacement_m3 = 0; ///< displacement as of a four-stroke
  double density_kg_m3 = 0, flow_kg_s = 0;          ///< ambient; greatest flow of the engine without a blower
};

/// Rated points of a restriction that loses `drop_Pa` at the engine's greatest flow.
inline std::vector<machine::RatedPoint> random_rating(Draw& draw, const Scale& scale, double share,
                                                      double drop_Pa) {
  const double flow = share * scale.flow_kg_s / 1.2;
  std::vector<machine::RatedPoint> points{{flow, drop_Pa}};
  if (draw.chance(0.6))
    points.push_back({0.5 * flow, drop_Pa * draw.between(0.25, 0.5)});
  return points;
}

inline machine::Filter random_filter(Draw& draw, const Scale& scale, double share) {
  machine::Filter filter;
  filter.rated = random_rating(draw, scale, share, draw.spread(200, 5000));
  filter.dirty_factor = draw.between(1, 5);
  filter.wet_factor = draw.between(1, 3);
  filter.state = draw.chance(0.3)   ? machine::FilterState::clean
                 : draw.chance(0.7) ? machine::FilterState::dirty
                                    : machine::FilterState::wet;
  return filter;
}

inline machine::MeterBody random_meter(Draw& draw, double bore_m) {
  machine::MeterBody meter{bore_m, 0.1, draw.chance(0.2) ? 0 : draw.between(0, 1.5)};
  if (draw.chance(0.4))
    meter.screen = machine::Screen{draw.between(0.2e-3, 0.4e-3), draw.between(1e-3, 3e-3)};
  return meter;
}

inline machine::Throttle random_throttle(Draw& draw, double bore_m) {
  machine::Throttle throttle{bore_m, draw.chance(0.2) ? 0 : draw.between(0, 0.6)};
  if (draw.chance(0.4))
    throttle.opening_rad = deg(draw.between(5, 90));
  return throttle;
}

inline std::optional<machine::BypassValve> random_bypass(Draw& draw, const Scale& scale) {
  if (!draw.chance(0.3))
    return std::nullopt;
  machine::BypassValve valve;
  valve.bore_m = std::sqrt(scale.flow_kg_s / (scale.density_kg_m3 * draw.spread(60, 600)) * 4 / M_PI);
  valve.opening = draw.chance(0.4) ? 0 : draw.between(0, 1);
  valve.discharge_coefficient = draw.between(0.5, 0.9);
  valve.leak_area_m2 = draw.chance(0.4) ? 0 : draw.spread(1e-7, 3e-5);
  valve.to = draw.chance(0.7) ? machine::BypassTo::inlet : machine::BypassTo::open_air;
  return valve;
}

inline machine::DisplacementBlower random_displacement(Draw& draw, const Scale& scale, double share) {
  machine::DisplacementBlower blower;
  blower.drive_ratio = draw.between(0.8, 3);
  blower.swept_volume_m3_rev = share * draw.between(0.3, 1.2) * scale.displacement_m3 / blower.drive_ratio;
  blower.volumetric_efficiency = draw.between(0.6, 1);
  blower.mechanical_efficiency = draw.between(0.85, 1);
  blower.max_speed_rev_s = 400;
  blower.max_outlet_temperature_K = 450;
  const double blower_max = blower.drive_ratio * scale.engine_max_rev_s;
  if (draw.chance(0.35))
    blower.adiabatic_efficiency = draw.between(0.35, 0.85);
  if (draw.chance(0.4))
    blower.internal_volume_ratio = draw.between(1, 1.8);
  if (draw.chance(0.5))
    blower.leak = machine::RatedLeak{blower_max * draw.between(0.3, 1), draw.between(1.2, 2),
                                     blower.volumetric_efficiency * draw.between(0.7, 0.98)};
  if (draw.chance(0.2)) {
    const double best = blower.volumetric_efficiency, fall = draw.between(0.02, 0.3);
    const double efficiency = draw.between(0.5, 0.8);
    for (const double speed : {0.3, 0.6, 1.0})
      for (const double ratio : {1.0, 1.4, 1.8, 2.2})
        blower.map.push_back({speed * blower_max, ratio, best - fall * (ratio - 1) / (1 + 2 * speed),
                              efficiency - 0.08 * (ratio - 1.4) * (ratio - 1.4) - 0.05 * speed});
  }
  blower.bypass = random_bypass(draw, scale);
  return blower;
}

/// A map whose lines follow the affinity laws nearly.
inline machine::CompressorMap random_map(Draw& draw, const Scale& scale, double share,
                                         double top_speed_rev_s) {
  machine::CompressorMap map{298.15, 1e5, {}};
  const double top_ratio = draw.between(1.6, 3.2);
  const double most = share * scale.flow_kg_s * draw.between(1.2, 3.5) * std::max(1.0, top_ratio * 0.6);
  const double efficiency = draw.between(0.65, 0.8), narrow = draw.between(0.4, 0.7);
  const double top_head = std::pow(top_ratio, 2.0 / 7) - 1;
  for (const double n : {0.4, 0.6, 0.8, 1.0}) {
    const double surge = most * n * narrow * (0.6 + 0.4 * n), choke = most * n;
    for (int i = 0; i < 5; ++i) {
      const double u = i / 4.0;
      const double head = top_head * n * n * (1 + 0.05 * u - 0.45 * u * u);
      map.points.push_back({n * top_speed_rev_s, surge + u * (choke - surge), std::pow(1 + head, 3.5),
                            efficiency - 0.5 * (u - 0.45) * (u - 0.45)});
    }
  }
  return map;
}

inline machine::TargetCompressor random_target(Draw& draw, const Scale& scale, double share,
                                               machine::TargetAt at) {
  machine::TargetCompressor compressor{};
  compressor.target_pressure_Pa = draw.between(85e3, 300e3);
  compressor.target_at = at;
  compressor.adiabatic_efficiency = draw.between(0.5, 0.82);
  compressor.mechanical_efficiency = draw.between(0.9, 1);
  compressor.driven_by_exhaust = draw.chance(0.7);
  compressor.max_pressure_ratio = draw.between(1.8, 4);
  compressor.max_outlet_temperature_K = 450;
  if (draw.chance(0.5))
    compressor.map = random_map(draw, scale, share, draw.between(1000, 3000));
  compressor.bypass = random_bypass(draw, scale);
  return compressor;
}

inline machine::GearedCompressor random_geared(Draw& draw, const Scale& scale, double share) {
  machine::GearedCompressor compressor{};
  compressor.drive_ratio = draw.between(5, 15);
  compressor.mechanical_efficiency = draw.between(0.85, 1);
  compressor.max_speed_rev_s = 2000;
  compressor.max_outlet_temperature_K = 450;
  compressor.map = random_map(draw, scale, share,
                              compressor.drive_ratio * scale.engine_max_rev_s * draw.between(0.8, 1.3));
  compressor.bypass = random_bypass(draw, scale);
  return compressor;
}

inline machine::ChargeCooler random_cooler(Draw& draw, const Scale& scale, double share) {
  machine::ChargeCooler cooler{};
  cooler.rated = random_rating(draw, scale, share, draw.spread(500, 12000));
  cooler.effectiveness = draw.between(0, 0.95);
  cooler.coolant_rise_K = draw.between(0, 40);
  const double flow = share * scale.flow_kg_s;
  switch (draw.whole(0, 3)) {
  case 1:
    cooler.effectiveness_table = {{0.3 * flow, draw.between(0.7, 0.95)},
                                  {flow, draw.between(0.6, 0.85)},
                                  {2 * flow, draw.between(0.4, 0.7)}};
    break;
  case 2:
  case 3:
    cooler.core = machine::CoolerCore{static_cast<machine::Arrangement>(draw.whole(0, 4)),
                                      flow * 1000 * draw.between(0.3, 4), flow, draw.between(0.1, 0.9),
                                      flow * draw.between(0.5, 6)};
    if (draw.chance(0.5)) {
      cooler.air_to_water = true;
      cooler.loop = machine::CoolantLoop{flow * draw.between(0.3, 4), draw.between(0.2, 0.8),
                                         flow * draw.between(1, 8)};
    }
    break;
  default:
    break;
  }
  return cooler;
}

/// Up to eight pieces about a bore, with fittings on the rigid ones.
inline std::vector<build::Piece> random_pieces(Draw& draw, double bore_m) {
  using namespace build;
  std::vector<Piece> pieces;
  const double wall = 1.5e-3;
  const auto od = [&] { return bore_m * draw.between(0.85, 1.25) + 2 * wall; };
  const auto angle = [&] { return deg(draw.between(5, 180)); };
  const auto clocking = [&] { return deg(draw.between(-180, 180)); };
  const int count = draw.whole(0, 8);
  for (int i = 0; i < count; ++i) {
    const double d = od(), e = od(), bend = d * draw.between(0.6, 4), leg = draw.between(0, 2) * d;
    const Engagement ends{0.03, 0.03};
    Shape shape = Tube{d, wall, draw.spread(0.02, 1.5), {true, true}};
    switch (draw.whole(0, 9)) {
    case 0:
      break;
    case 1:
      shape = TubeBend{d, wall, angle(), bend, leg, leg, clocking(), {true, true}};
      break;
    case 2:
      shape =
          MitredBend{d, wall, deg(draw.between(10, 110)), bend, draw.whole(1, 4), leg, leg, clocking(), {}};
      break;
    case 3:
      shape = Cone{d, e, wall, draw.spread(0.01, 0.3), {}};
      break;
    case 4:
      shape = Adapter{d, e, d - 4e-3, e - 4e-3, draw.spread(0.01, 0.2), {}};
      break;
    case 5:
      shape = Hose{d, 4e-3, draw.between(0.06, 0.3), ends, static_cast<Lining>(draw.whole(0, 2))};
      break;
    case 6:
      shape = HumpHose{d, 4e-3, 0.1, 0.03, d * draw.between(1, 1.3), ends};
      break;
    case 7:
      shape = HoseElbow{d,
                        draw.chance(0.5) ? d : e,
                        4e-3,
                        deg(draw.between(20, 90)),
                        std::max(d, e) * draw.between(0.8, 2),
                        0.05,
                        0.05,
                        clocking(),
                        draw.chance(0.3),
                        ends};
      break;
    case 8:
      shape = HoseReducer{d, e, 4e-3, draw.between(0.07, 0.15), ends};
      break;
    default:
      break;
    }
    const double length = full_length_m(shape);
    const bool rigid = is_rigid(shape);
    const double hole = std::min(bore_in_m(shape), bore_out_m(shape));
    Piece piece{shape, static_cast<Material>(draw.whole(0, 5)), {}, ""};
    if (draw.chance(0.15))
      piece.lagging = Lagging{draw.between(2e-3, 0.02), draw.between(0.03, 0.3)};
    pieces.push_back(piece);
    if (rigid && draw.chance(0.15)) {
      SensorBoss boss{length * draw.between(0, 1), 0, "M12x1.5"};
      if (draw.chance(0.5))
        boss.tip = Tip{0.3 * hole, hole * draw.between(0.05, 0.9)};
      pieces.push_back({boss, Material::aluminium, {}, ""});
    }
    if (rigid && draw.chance(0.1))
      pieces.push_back({ValveFlange{length * draw.between(0, 1), 0, hole * draw.between(0.3, 1)},
                        Material::aluminium,
                        {},
                        ""});
  }
  return pieces;
}

} // namespace bellmouth::test
