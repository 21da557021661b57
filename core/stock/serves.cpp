// SPDX-License-Identifier: GPL-3.0-or-later
// Which stock item a piece can be made from.
#include <bellmouth/stock.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bellmouth::stock {
namespace {

using build::Piece;
using build::StockItem;
using build::StockKind;
using Size = std::optional<double>;

constexpr double angle_tolerance_rad = 0.5 * std::numbers::pi / 180;

/// One end of a piece or of an item.
struct End {
  double bore_m, leg_m;
};

/// Compares a piece with what an item states.
class Fit {
public:
  /// Without `sizes_to_cut`, lengths, legs and angles that a saw makes are not compared.
  Fit(const StockItem& item, double tolerance_m, bool sizes_to_cut)
      : item_(item), tolerance_m_(tolerance_m), sizes_to_cut_(sizes_to_cut) {}

  bool operator()(const build::Tube& s) const {
    return same(item_.outer_diameter_m, s.outer_diameter_m) && same(item_.wall_m, s.wall_m) &&
           enough(s.length_m);
  }
  bool operator()(const build::TubeBend& s) const {
    if (!same(item_.outer_diameter_m, s.outer_diameter_m) || !same(item_.wall_m, s.wall_m) ||
        !same(item_.radius_m, s.radius_m))
      return false;
    if (!sizes_to_cut_)
      return true;
    const double spare_rad = item_.angle_rad ? *item_.angle_rad - s.angle_rad : 0.0;
    if (spare_rad < -angle_tolerance_rad)
      return false;
    const bool cut_down = spare_rad > angle_tolerance_rad;
    if (cut_down && s.leg_in_m > 0 && s.leg_out_m > 0)
      return false;
    return legs(s.leg_in_m, s.leg_out_m) || legs(s.leg_out_m, s.leg_in_m);
  }
  bool operator()(const build::MitredBend& s) const {
    if (!same(item_.outer_diameter_m, s.outer_diameter_m) || !same(item_.wall_m, s.wall_m))
      return false;
    if (item_.kind == StockKind::tube)
      return enough(build::full_length_m(s));
    return same(item_.radius_m, s.radius_m) && angle(s.angle_rad) &&
           (legs(s.leg_in_m, s.leg_out_m) || legs(s.leg_out_m, s.leg_in_m));
  }
  bool operator()(const build::Cone& s) const {
    return same(item_.wall_m, s.wall_m) && same(item_.length_m, s.length_m) &&
           same(item_.outer_diameter_m, std::max(s.outer_diameter_in_m, s.outer_diameter_out_m)) &&
           bores_either_way(s.outer_diameter_in_m - 2 * s.wall_m, s.outer_diameter_out_m - 2 * s.wall_m);
  }
  bool operator()(const build::Adapter& s) const {
    return same(item_.wall_m, (s.outer_diameter_in_m - s.bore_in_m) / 2) &&
           same(item_.wall_m, (s.outer_diameter_out_m - s.bore_out_m) / 2) &&
           same(item_.length_m, s.length_m) &&
           same(item_.outer_diameter_m, std::max(s.outer_diameter_in_m, s.outer_diameter_out_m)) &&
           bores_either_way(s.bore_in_m, s.bore_out_m);
  }
  bool operator()(const build::Hose& s) const {
    return same(item_.bore_m, s.bore_m) && same(item_.wall_m, s.wall_m) && enough(s.length_m);
  }
  bool operator()(const build::HumpHose& s) const {
    return same(item_.bore_m, s.bore_m) && same(item_.wall_m, s.wall_m) && enough(s.length_m);
  }
  bool operator()(const build::HoseElbow& s) const {
    if (!same(item_.wall_m, s.wall_m) || !angle(s.angle_rad) || !same(item_.radius_m, s.radius_m))
      return false;
    const auto placed = [&](double first_bore_m, double second_bore_m, double first_leg_m,
                            double second_leg_m) {
      return bores(first_bore_m, second_bore_m) && legs(first_leg_m, second_leg_m);
    };
    return placed(s.bore_in_m, s.bore_out_m, s.leg_in_m, s.leg_out_m) ||
           placed(s.bore_out_m, s.bore_in_m, s.leg_out_m, s.leg_in_m);
  }
  bool operator()(const build::HoseReducer& s) const {
    return same(item_.wall_m, s.wall_m) && enough(s.length_m) && bores_either_way(s.bore_in_m, s.bore_out_m);
  }
  bool operator()(const build::SensorBoss& s) const { return !item_.thread || *item_.thread == s.thread; }
  bool operator()(const build::ValveFlange& s) const { return same(item_.bore_m, s.bore_m); }

private:
  bool same(const Size& stated_m, double wanted_m) const {
    return !stated_m || std::abs(*stated_m - wanted_m) <= tolerance_m_;
  }
  bool at_most(const Size& stated_m, double wanted_m) const {
    return !sizes_to_cut_ || !stated_m || item_.per == build::Per::metre ||
           wanted_m <= *stated_m + tolerance_m_;
  }
  bool enough(double length_m) const { return at_most(item_.length_m, length_m); }
  bool angle(double wanted_rad) const {
    return !item_.angle_rad || std::abs(*item_.angle_rad - wanted_rad) <= angle_tolerance_rad;
  }
  bool legs(double first_m, double second_m) const {
    return at_most(item_.leg_in_m, first_m) && at_most(item_.leg_out_m, second_m);
  }
  /// An item that states one bore has it at both ends.
  bool bores(double first_m, double second_m) const {
    return same(item_.bore_m, first_m) && same(item_.bore_out_m ? item_.bore_out_m : item_.bore_m, second_m);
  }
  bool bores_either_way(double one_m, double other_m) const {
    return bores(one_m, other_m) || bores(other_m, one_m);
  }

  const StockItem& item_;
  double tolerance_m_;
  bool sizes_to_cut_;
};

/// Straight tube is what a mitred bend is cut from.
bool right_kind(StockKind kind, const Piece& piece) {
  const StockKind wanted = kind_of(piece.shape);
  return kind == wanted || (wanted == StockKind::mitred_bend && kind == StockKind::tube);
}

} // namespace

bool serves(const StockItem& item, const Piece& piece, double tolerance_m) {
  return right_kind(item.kind, piece) && item.material == piece.material &&
         std::visit(Fit(item, tolerance_m, true), piece.shape);
}

bool has_section_of(const StockItem& item, const Piece& piece, double tolerance_m) {
  return right_kind(item.kind, piece) && item.material == piece.material &&
         std::visit(Fit(item, tolerance_m, false), piece.shape);
}

bool no_worse(const StockItem& item, const StockItem& than) {
  const auto reaches = [](const auto& value, const auto& wanted) {
    return !wanted || (value && *value >= *wanted);
  };
  return item.material == than.material && reaches(item.plies, than.plies) &&
         reaches(item.max_temperature_K, than.max_temperature_K) &&
         reaches(item.max_gauge_Pa, than.max_gauge_Pa) && (item.oil_proof || !than.oil_proof) &&
         (item.wire || !than.wire);
}

} // namespace bellmouth::stock
