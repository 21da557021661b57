// SPDX-License-Identifier: GPL-3.0-or-later
// From a stock item to a piece as it comes out of the box.
#include <bellmouth/stock.hpp>

#include <algorithm>
#include <cassert>

namespace bellmouth::stock {
namespace {

using build::StockItem;
using build::StockKind;

constexpr double cut_from_metre_m = 0.3;
/// Derived: bead zone, band of the clamp and 6 mm to the hose's edge.
constexpr double usual_engagement_m = 0.040;
/// Gap that the tubes leave inside a straight hose (common practice, no source found).
constexpr double tube_gap_m = 0.008;
/// Share of a hose reducer that is straight at each end (common practice, no source found).
constexpr double reducer_end_share = 0.35;
/// A hump as the trade moulds it (common practice, no source found): as long as a third of the hose, 12 mm
/// wider than its bore.
constexpr double hump_length_share = 1.0 / 3;
constexpr double hump_rise_m = 0.012;

double or_zero(const std::optional<double>& size) {
  return size.value_or(0.0);
}

double length_m(const StockItem& item) {
  return item.per == build::Per::metre ? cut_from_metre_m : item.length_m.value_or(cut_from_metre_m);
}

build::Engagement both(double length_m) {
  const double each_m = std::clamp(length_m, 0.0, usual_engagement_m);
  return {each_m, each_m};
}

/// Outside diameter of a rigid end: from bore and wall, or the one that the item states.
double outer_m(const StockItem& item, const std::optional<double>& bore_m) {
  return bore_m ? *bore_m + 2 * or_zero(item.wall_m) : or_zero(item.outer_diameter_m);
}

build::Shape shape_of(const StockItem& item) {
  const double tube_m = or_zero(item.outer_diameter_m), wall_m = or_zero(item.wall_m);
  const std::optional<double> second_bore_m = item.bore_out_m ? item.bore_out_m : item.bore_m;
  const double bore_m = or_zero(item.bore_m), bore_out_m = or_zero(second_bore_m);
  const double in_m = outer_m(item, item.bore_m), out_m = outer_m(item, second_bore_m);
  const double angle_rad = or_zero(item.angle_rad), radius_m = or_zero(item.radius_m);
  const double leg_in_m = or_zero(item.leg_in_m), leg_out_m = or_zero(item.leg_out_m);
  const double long_m = length_m(item);
  switch (item.kind) {
  case StockKind::tube:
    return build::Tube{tube_m, wall_m, long_m, {}};
  case StockKind::tube_bend:
    return build::TubeBend{tube_m, wall_m, angle_rad, radius_m, leg_in_m, leg_out_m, 0, {}};
  case StockKind::mitred_bend:
    return build::MitredBend{tube_m, wall_m, angle_rad, radius_m, 1, leg_in_m, leg_out_m, 0, {}};
  case StockKind::cone:
    return build::Cone{in_m, out_m, wall_m, long_m, {}};
  case StockKind::adapter:
    return build::Adapter{in_m, out_m, bore_m, bore_out_m, long_m, {}};
  case StockKind::hose:
    return build::Hose{bore_m, wall_m, long_m, both((long_m - tube_gap_m) / 2)};
  case StockKind::hump_hose: {
    const double hump_m = long_m * hump_length_share;
    return build::HumpHose{bore_m, wall_m, long_m, hump_m, bore_m + hump_rise_m, both((long_m - hump_m) / 2)};
  }
  case StockKind::hose_elbow:
    return build::HoseElbow{bore_m,   bore_out_m, wall_m, angle_rad, radius_m,
                            leg_in_m, leg_out_m,  0,      false,     both(std::min(leg_in_m, leg_out_m))};
  case StockKind::hose_reducer:
    return build::HoseReducer{bore_m, bore_out_m, wall_m, long_m, both(long_m * reducer_end_share)};
  case StockKind::sensor_boss:
    return build::SensorBoss{0, 0, item.thread.value_or(std::string())};
  case StockKind::valve_flange:
    return build::ValveFlange{0, 0, bore_m};
  case StockKind::clamp:
    break;
  }
  assert(!"a clamp is no piece");
  return build::Tube{};
}

} // namespace

build::Piece piece_of(const StockItem& item) {
  return {.shape = shape_of(item), .material = item.material, .stock = item.id, .label = {}};
}

} // namespace bellmouth::stock
