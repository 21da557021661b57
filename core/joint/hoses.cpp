// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/joint/hoses.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

namespace bellmouth::joint {

namespace {

/// Four plies make about 5 mm; 2 to 4 bar are usual for 51 to 76 mm, and the lesser goes with the larger
/// (common practice, no source found).
constexpr double usual_wall_m = 5e-3, usual_bore_m = 76e-3;

double larger_bore_m(const build::Shape& shape) {
  return std::max(build::bore_in_m(shape), build::bore_out_m(shape));
}

} // namespace

double usual_working_gauge_Pa(double wall_m, double bore_m, const trade::Limits& limits) {
  const double share = wall_m / bore_m / (usual_wall_m / usual_bore_m);
  return limits.hose_working_gauge_Pa * std::min(share, 1.0);
}

Rating working_gauge_Pa(const build::Piece& hose, const build::StockItem* item, const trade::Limits& limits) {
  assert(build::is_flexible(hose.shape));
  if (item != nullptr && item->max_gauge_Pa)
    return {*item->max_gauge_Pa, true};
  return {usual_working_gauge_Pa(build::wall_m(hose.shape), larger_bore_m(hose.shape), limits), false};
}

Rating greatest_temperature_K(const build::Piece& piece, const build::StockItem* item,
                              const trade::Limits& limits) {
  if (item != nullptr && item->max_temperature_K)
    return {*item->max_temperature_K, true};
  switch (piece.material) {
  case build::Material::rubber:
    return {limits.rubber_K, false};
  case build::Material::plastic:
    return {limits.plastic_K, false};
  default:
    return {limits.silicone_K, false};
  }
}

double collapse_Pa(double modulus_Pa, double mean_diameter_m, double wall_m, double free_length_m,
                   double poisson) {
  assert(modulus_Pa > 0 && mean_diameter_m > 0 && wall_m > 0 && free_length_m >= 0);
  const double stiffer = 1 - poisson * poisson;
  const double slenderness = wall_m / mean_diameter_m;
  const double held = free_length_m / mean_diameter_m - 0.45 * std::sqrt(slenderness);
  if (held <= 0)
    return std::numeric_limits<double>::infinity();
  const double long_Pa = 2 * modulus_Pa / stiffer * std::pow(slenderness, 3);
  const double short_Pa = 2.42 * modulus_Pa * std::pow(slenderness, 2.5) / (std::pow(stiffer, 0.75) * held);
  return std::max(long_Pa, short_Pa);
}

bool is_corrugated(const build::Shape& shape) {
  if (const auto* elbow = std::get_if<build::HoseElbow>(&shape))
    return elbow->pleated;
  const auto* hose = std::get_if<build::Hose>(&shape);
  return hose != nullptr && hose->lining == build::Lining::corrugated;
}

bool is_stiff(const build::Shape& shape, const build::StockItem* item, const trade::Limits& limits) {
  const auto* hose = std::get_if<build::Hose>(&shape);
  if (hose != nullptr && hose->lining == build::Lining::wire)
    return true;
  return item != nullptr && (item->wire || (item->plies && *item->plies >= limits.stiff_plies));
}

std::optional<Collapse> collapse(const build::Shape& hose, double free_length_m,
                                 const trade::Limits& limits) {
  assert(build::is_flexible(hose));
  if (is_corrugated(hose))
    return std::nullopt;
  const double wall_m = build::wall_m(hose);
  const double mean_m = larger_bore_m(hose) + wall_m;
  const double length_m = std::max(free_length_m, 0.0);
  return Collapse{collapse_Pa(limits.hose_modulus_low_Pa, mean_m, wall_m, length_m),
                  collapse_Pa(limits.hose_modulus_high_Pa, mean_m, wall_m, length_m)};
}

} // namespace bellmouth::joint
