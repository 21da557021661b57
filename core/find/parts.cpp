// SPDX-License-Identifier: GPL-3.0-or-later
#include "parts.hpp"

#include <bellmouth/loss.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <tuple>

namespace bellmouth::find {
namespace {

using build::StockItem, build::StockKind;

/// As stock::piece_of(): bead, band of the clamp and 6 mm to the hose's edge.
constexpr double full_engagement_m = 40e-3;
/// Gap that the tubes leave inside a hose: as stock::piece_of().
constexpr double usual_gap_m = 8e-3;
/// Share of a short reducer that is straight at each end: as stock::piece_of().
constexpr double reducer_end_share = 0.35;
/// Room that a reducer's taper gets where it is long enough for that and its clamps: this program's own.
constexpr double taper_m = 20e-3;
/// A straight where nothing says how long tube is: as route::freedoms().
constexpr double longest_tube_m = 2;

bool is_same(double a_m, double b_m) {
  constexpr double rounding_m = 0.25e-3; // as stock::serves()
  return std::abs(a_m - b_m) <= rounding_m;
}

/// What of a hose `length_m` long covers either end, given what lies between.
double engagement_of(double length_m, double gap_m) {
  return std::min(full_engagement_m, (length_m - gap_m) / 2);
}
double length_of(const StockItem& item, double otherwise_m) {
  return item.per == build::Per::metre ? otherwise_m : item.length_m.value_or(otherwise_m);
}

std::optional<Coupler> as_coupler(const StockItem& item, double in_m, double out_m) {
  if (!item.bore_m || !item.wall_m)
    return std::nullopt;
  const double whole_m = length_of(item, 2 * full_engagement_m + usual_gap_m);
  const double other_m = item.bore_out_m.value_or(*item.bore_m);
  switch (item.kind) {
  case StockKind::hose:
  case StockKind::hump_hose: {
    if (!goes_on(*item.bore_m, in_m) || !goes_on(*item.bore_m, out_m))
      return std::nullopt;
    const bool hump = item.kind == StockKind::hump_hose;
    const double gap_m =
        hump ? std::max(whole_m - 2 * trade::defaults().engagement_caution_m, whole_m / 4) : usual_gap_m;
    const double over_m = engagement_of(whole_m, gap_m);
    return Coupler{&item, over_m, gap_m, over_m, *item.bore_m, *item.bore_m};
  }
  case StockKind::hose_reducer: {
    const bool straight = goes_on(*item.bore_m, in_m) && goes_on(other_m, out_m);
    if (!straight && !(goes_on(other_m, in_m) && goes_on(*item.bore_m, out_m)))
      return std::nullopt;
    const double wanted_m = trade::defaults().engagement_caution_m;
    const double over_m = std::min(wanted_m, std::max((whole_m - taper_m) / 2, reducer_end_share * whole_m));
    return Coupler{&item,
                   over_m,
                   whole_m - 2 * over_m,
                   over_m,
                   straight ? *item.bore_m : other_m,
                   straight ? other_m : *item.bore_m};
  }
  default:
    return std::nullopt;
  }
}

/// Of two items that do the same.
bool does_as_well(const way::Bend& a, const way::Bend& b) {
  constexpr double rounding = 1e-6;
  return a.kind == b.kind && std::abs(a.angle_rad - b.angle_rad) < rounding &&
         std::abs(a.radius_m - b.radius_m) < rounding && a.leg_m >= b.leg_m - rounding &&
         a.price <= b.price + 1e-9 && a.owned >= b.owned;
}

int owned_of(const build::Build& build, const build::StockId& id) {
  double quantity = 0;
  for (const build::Owned& owned : build.owned)
    if (owned.stock == id)
      quantity += owned.quantity;
  return static_cast<int>(std::floor(quantity + 1e-9));
}

} // namespace

build::Piece Coupler::piece() const {
  build::Piece result{.shape = build::Hose{}, .material = item->material, .stock = item->id, .label = {}};
  const double wall_m = item->wall_m.value_or(0);
  if (item->kind == StockKind::hump_hose) {
    build::HumpHose hump = std::get<build::HumpHose>(stock::piece_of(*item).shape);
    hump.engagement = {engagement_in_m, engagement_out_m};
    hump.length_m = length_m();
    hump.hump_length_m = gap_m;
    result.shape = hump;
  } else if (item->kind == StockKind::hose_reducer) {
    result.shape =
        build::HoseReducer{bore_in_m, bore_out_m, wall_m, length_m(), {engagement_in_m, engagement_out_m}};
  } else {
    result.shape = build::Hose{bore_in_m, wall_m, length_m(), {engagement_in_m, engagement_out_m}};
  }
  return result;
}

double Coupler::stands_out_m(double tube_m) const {
  const build::Shape shape = piece().shape;
  double widest_m = std::max(build::outer_diameter_in_m(shape), build::outer_diameter_out_m(shape));
  if (const auto* hump = std::get_if<build::HumpHose>(&shape))
    widest_m = std::max(widest_m, hump->hump_bore_m + 2 * hump->wall_m);
  return std::max((widest_m - tube_m) / 2, 0.0);
}

Air air_in(const Evaluation& evaluation, const Ask& ask) {
  Air air;
  if (!evaluation.path.point.usable())
    return air;
  const auto run = std::ranges::find(evaluation.runs, ask.run, &RunResult::id);
  if (run == evaluation.runs.end() || run->flow.rows.empty())
    return air;
  double hottest_K = 0;
  for (const flow::PieceFlow& row : run->flow.rows)
    hottest_K =
        std::max({hottest_K, row.inlet.station.total_temperature_K, row.outlet.station.total_temperature_K});
  air.hottest_K = hottest_K;
  const flow::Section& inlet = run->flow.rows.front().inlet;
  const double reynolds = inlet.reynolds * inlet.bore_m / (ask.tube.outer_diameter_m - 2 * ask.tube.wall_m);
  if (reynolds > 0)
    air.reynolds = reynolds;
  return air;
}

bool goes_on(double bore_m, double spigot_m) {
  const trade::Limits& limits = trade::defaults();
  constexpr double rounding_m = 1e-6;
  const double stretch_m = spigot_m - bore_m;
  return stretch_m >= -limits.loose_caution_m - rounding_m &&
         stretch_m <= limits.tight_caution_m + rounding_m;
}

std::optional<Coupler> coupler(const build::Build& build, double in_m, double land_in_m, double out_m,
                               double land_out_m, const std::optional<double>& hottest_K, Wanted wanted) {
  const trade::Limits& limits = trade::defaults();
  std::optional<Coupler> best;
  std::tuple<int, bool, bool, bool, std::int64_t> best_rank;
  for (const StockItem& item : *build.stock) {
    auto made = as_coupler(item, in_m, out_m);
    if (!made)
      continue;
    made->engagement_in_m = std::min(made->engagement_in_m, land_in_m);
    made->engagement_out_m = std::min(made->engagement_out_m, land_out_m);
    if (made->engagement_in_m <= 0 || made->engagement_out_m <= 0 || made->gap_m <= 0)
      continue;
    const StockKind first = wanted == Wanted::hump ? StockKind::hump_hose : StockKind::hose;
    const int kind = item.kind == first ? 0 : item.kind == StockKind::hose_reducer ? 2 : 1;
    const bool soft = item.material != build::Material::silicone;
    const bool too_cool =
        hottest_K && item.max_temperature_K && *item.max_temperature_K < *hottest_K + limits.hose_margin_K;
    constexpr double rounding_m = 1e-6;
    const bool is_short = std::min(made->engagement_in_m, made->engagement_out_m) <
                          std::min({limits.engagement_caution_m, land_in_m, land_out_m}) - rounding_m;
    const std::int64_t price =
        stock::price_of(item, item.per == build::Per::metre ? made->length_m() : 1).minor;
    const std::tuple rank(kind, soft, too_cool, is_short, price);
    if (!best || rank < best_rank) {
      best = made;
      best_rank = rank;
    }
  }
  return best;
}

std::vector<Turning> turnings(const build::Build& build, const Ask& ask, double engagement_m,
                              double reynolds) {
  std::vector<Turning> found;
  const double tube_m = ask.tube.outer_diameter_m;
  for (const StockItem& item : *build.stock) {
    const bool tube_bend = item.kind == StockKind::tube_bend && item.outer_diameter_m &&
                           std::abs(*item.outer_diameter_m - tube_m) <= joint::weld_mismatch_m &&
                           item.material == ask.tube.material;
    const bool elbow = item.kind == StockKind::hose_elbow && item.bore_m && goes_on(*item.bore_m, tube_m) &&
                       goes_on(item.bore_out_m.value_or(*item.bore_m), tube_m);
    const bool is_told = item.angle_rad && item.radius_m && item.leg_in_m && item.leg_out_m && item.wall_m &&
                         *item.angle_rad > 0 && *item.radius_m > 0;
    if ((!tube_bend && !elbow) || !is_told)
      continue;
    const double leg_m = std::min(*item.leg_in_m, *item.leg_out_m);
    if (elbow && leg_m < engagement_m)
      continue; // no tube goes in far enough
    way::Bend bend;
    bend.id = item.id.text;
    bend.kind = elbow ? way::BendKind::silicone : way::BendKind::mandrel;
    bend.outer_diameter_m = tube_m;
    bend.angle_rad = *item.angle_rad;
    bend.radius_m = *item.radius_m;
    bend.leg_m = elbow ? leg_m - engagement_m : leg_m;
    bend.price = major(item.price);
    bend.owned = ask.use_owned ? owned_of(build, item.id) : 0;
    bend.k90 = turn_loss(ask.tube, bend.radius_m, std::numbers::pi / 2, reynolds);
    found.push_back({&item, std::move(bend)});
  }
  std::vector<Turning> kept;
  for (std::size_t i = 0; i < found.size(); ++i) {
    bool needed = true;
    for (std::size_t k = 0; k < found.size() && needed; ++k)
      if (k != i && does_as_well(found[k].bend, found[i].bend))
        needed = does_as_well(found[i].bend, found[k].bend) && i < k; // equals: the first
    if (needed)
      kept.push_back(std::move(found[i]));
  }
  return kept;
}

std::optional<way::Tube> tube(const build::Build& build, const stock::TubeSize& size) {
  std::optional<way::Tube> best;
  for (const StockItem& item : *build.stock) {
    if (item.kind != StockKind::tube || item.material != size.material || !item.outer_diameter_m ||
        !item.wall_m || !is_same(*item.outer_diameter_m, size.outer_diameter_m) ||
        !is_same(*item.wall_m, size.wall_m))
      continue;
    const bool by_piece = item.per == build::Per::each && item.length_m && *item.length_m > 0;
    const double price = major(item.price) / (by_piece ? *item.length_m : 1);
    if (!best || price < best->price_per_m)
      best = way::Tube{price, by_piece ? *item.length_m : longest_tube_m};
  }
  return best;
}

double relative_roughness(const stock::TubeSize& size) {
  const auto surface = size.material == build::Material::mild_steel ? loss::Surface::welded_steel
                       : size.material == build::Material::plastic  ? loss::Surface::plastic
                                                                    : loss::Surface::drawn_metal;
  return loss::roughness_m(surface) / (size.outer_diameter_m - 2 * size.wall_m);
}

double turn_loss(const stock::TubeSize& size, double radius_m, double angle_rad, double reynolds) {
  const double ratio = radius_m / (size.outer_diameter_m - 2 * size.wall_m);
  const double roughness = relative_roughness(size);
  const double friction = loss::darcy_friction_factor(reynolds, roughness);
  const double whole = loss::law(loss::Bend{angle_rad, ratio, roughness}).at(friction, 1 / reynolds);
  return std::max(whole - friction * angle_rad * ratio, 0.0);
}

double major(const quantity::Money& money) {
  return static_cast<double>(money.minor) / std::pow(10.0, money.currency.digits());
}

double price_of(const build::Build& build, const Coupler& coupler, double in_m, double out_m) {
  const StockItem& item = *coupler.item;
  double price = major(stock::price_of(item, item.per == build::Per::metre ? coupler.length_m() : 1));
  for (const double spigot_m : {in_m, out_m})
    if (const StockItem* clamp = stock::clamp_for(build, spigot_m + 2 * item.wall_m.value_or(0)))
      price += major(clamp->price);
  return price;
}

} // namespace bellmouth::find
