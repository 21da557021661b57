// SPDX-License-Identifier: GPL-3.0-or-later
// From a piece as drawn to the piece as it can be bought.
#include <bellmouth/stock.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>

namespace bellmouth::stock {
namespace {

using build::StockItem;

/// A hose may be this much smaller than asked for and still go on (common practice, no source found), and may
/// be larger only by a rounding of its name.
constexpr double hose_smaller_m = 1.1e-3, hose_larger_m = 0.05e-3;

/// Gives a shape the sizes that a shop decides, and counts how far they were from what was drawn [m]. Not
/// near: infinite.
class Adopted {
public:
  explicit Adopted(const StockItem& item) : item_(item) {}

  double operator()(build::Tube&) const { return 0; }
  double operator()(build::TubeBend& s) const { return take(item_.radius_m, s.radius_m); }
  double operator()(build::MitredBend&) const { return 0; }
  double operator()(build::Cone& s) const { return take(item_.length_m, s.length_m); }
  double operator()(build::Adapter& s) const { return take(item_.length_m, s.length_m); }
  double operator()(build::Hose& s) const { return hose(s); }
  double operator()(build::HumpHose& s) const { return hose(s); }
  double operator()(build::HoseElbow& s) const { return two_bores(s) + take(item_.radius_m, s.radius_m); }
  double operator()(build::HoseReducer& s) const { return two_bores(s); }
  double operator()(build::SensorBoss&) const { return 0; }
  double operator()(build::ValveFlange&) const { return 0; }

private:
  static double take(const std::optional<double>& stated, double& drawn) {
    const double distance = stated ? std::abs(*stated - drawn) : 0.0;
    drawn = stated.value_or(drawn);
    return distance;
  }

  /// Takes a hose's bore when it goes on the same spigot.
  static double take_bore(const std::optional<double>& stated, double& drawn) {
    if (!stated || *stated < drawn - hose_smaller_m || *stated > drawn + hose_larger_m)
      return std::numeric_limits<double>::infinity();
    return take(stated, drawn);
  }

  template <class S> double hose(S& s) const {
    take(item_.wall_m, s.wall_m);
    return take_bore(item_.bore_m, s.bore_m);
  }

  /// Either way round.
  template <class S> double two_bores(S& s) const {
    take(item_.wall_m, s.wall_m);
    const auto other = item_.bore_out_m ? item_.bore_out_m : item_.bore_m;
    S turned = s;
    const double straight = take_bore(item_.bore_m, s.bore_in_m) + take_bore(other, s.bore_out_m);
    const double reversed = take_bore(other, turned.bore_in_m) + take_bore(item_.bore_m, turned.bore_out_m);
    if (reversed < straight)
      s = turned;
    return std::min(straight, reversed);
  }

  const StockItem& item_;
};

} // namespace

std::optional<build::Piece> nearest_in_stock(const build::Build& build, const build::Piece& piece) {
  std::optional<build::Piece> best;
  double best_distance = std::numeric_limits<double>::infinity();
  std::int64_t best_price = 0;
  const build::StockKind kind = kind_of(piece.shape);
  for (const StockItem& item : *build.stock) {
    if (item.kind == build::StockKind::clamp || (item.kind != kind && kind != build::StockKind::mitred_bend))
      continue;
    build::Piece tried = piece;
    const double distance = std::visit(Adopted(item), tried.shape);
    if (!(distance <= best_distance) || !std::isfinite(distance) || !serves(item, tried))
      continue;
    const std::int64_t price = price_of(item, amount_for(item, tried)).minor;
    if (best && distance == best_distance && price >= best_price)
      continue;
    tried.stock = item.id;
    best = std::move(tried);
    best_distance = distance;
    best_price = price;
  }
  return best;
}

} // namespace bellmouth::stock
