// SPDX-License-Identifier: GPL-3.0-or-later
#include "shop.hpp"

#include "words.hpp"

#include <bellmouth/joint/hoses.hpp>
#include <bellmouth/stock.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace bellmouth::join {

namespace {

using build::StockItem;
using build::StockKind;

/// A bore may be larger than a spigot by a rounding of its name (common practice, no source found).
constexpr double rounding_m = 0.1e-3;

void put(std::vector<Part>& parts, const StockItem& item) {
  Part part{&item, stock::piece_of(item)};
  if (build::validate(part.piece, "$"))
    return; // sizes that the item leaves open cannot be bought blindly
  parts.push_back(part);
  if (build::ends_differ(part.piece.shape)) {
    part.piece.shape = build::turned_round(part.piece.shape);
    parts.push_back(std::move(part));
  }
}

} // namespace

Duty duty_of(const build::Build& build, const flow::RunFlow& run) {
  const double ambient_Pa = build::ambient_air(build.ambient).pressure_Pa;
  Duty duty;
  for (const flow::PieceFlow& row : run.rows)
    for (const flow::Section* section : {&row.inlet, &row.outlet}) {
      duty.hottest_K = std::max(duty.hottest_K, section->station.total_temperature_K);
      duty.gauge_Pa = std::max(duty.gauge_Pa, section->station.static_pressure_Pa - ambient_Pa);
      duty.depression_Pa = std::max(duty.depression_Pa, ambient_Pa - section->station.static_pressure_Pa);
    }
  return duty;
}

bool stands(const trade::Limits& limits, const StockItem& item, const build::Piece& hose, const Duty& duty) {
  const bool says_nothing_of_pressure = !item.max_gauge_Pa && item.plies.value_or(0) < limits.stiff_plies;
  return !(says_nothing_of_pressure && above(duty.gauge_Pa, limits.bead_from_gauge_Pa)) &&
         !below(joint::greatest_temperature_K(hose, &item, limits).value - duty.hottest_K,
                limits.hose_margin_K) &&
         !above(duty.gauge_Pa, limits.hose_gauge_share * joint::working_gauge_Pa(hose, &item, limits).value);
}

Shop::Shop(const build::Build& build, const build::Option& option, const trade::Limits& limits)
    : build_(build), limits_(limits) {
  for (const StockItem& item : *build.stock)
    switch (item.kind) {
    case StockKind::tube:
      put(tubes_, item);
      break;
    case StockKind::cone:
    case StockKind::adapter:
      put(tapers_, item);
      break;
    case StockKind::hose:
    case StockKind::hump_hose:
    case StockKind::hose_reducer:
      put(hoses_, item);
      break;
    case StockKind::hose_elbow:
      put(elbows_, item);
      break;
    default:
      break;
    }
  for (const build::Owned& owned : build.owned)
    owned_left_[owned.stock.text] += owned.quantity;
  if (!owned_left_.empty())
    for (const auto& run : option.runs)
      for (const build::Piece& piece : run->pieces)
        use(piece);
}

double Shop::longest_m(const StockItem& item) {
  return item.per == build::Per::metre || !item.length_m ? std::numeric_limits<double>::infinity()
                                                         : *item.length_m;
}

std::int64_t Shop::price_minor(const StockItem& item, const build::Piece& piece) const {
  const double amount = stock::amount_for(item, piece);
  if (const auto owned = owned_left_.find(item.id.text);
      owned != owned_left_.end() && owned->second >= amount - 1e-9)
    return 0;
  return stock::price_of(item, amount).minor;
}

std::int64_t Shop::clamp_minor(double installed_diameter_m) const {
  const auto [entry, is_new] = clamps_.try_emplace(std::llround(installed_diameter_m * 1e5), 0);
  if (is_new)
    if (const StockItem* clamp = stock::clamp_for(build_, installed_diameter_m))
      entry->second = clamp->price.minor;
  return entry->second;
}

void Shop::use(const build::Piece& piece) {
  const auto owned = owned_left_.find(piece.stock.text);
  if (owned == owned_left_.end())
    return;
  if (const StockItem* item = build_.find(piece.stock))
    owned->second -= stock::amount_for(*item, piece);
}

bool Shop::fits(double bore_m, double outer_diameter_m) const {
  return !above(bore_m - outer_diameter_m, limits_.loose_caution_m) &&
         !above(outer_diameter_m - bore_m, limits_.tight_caution_m);
}

bool Shop::is_slack(double bore_m, double outer_diameter_m) {
  return above(bore_m - outer_diameter_m, rounding_m);
}

} // namespace bellmouth::join
