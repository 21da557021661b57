// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/stock.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <tuple>
#include <utility>

namespace bellmouth::stock {

using build::Per;
using build::StockItem;
using build::StockKind;

StockKind kind_of(const build::Shape& shape) {
  // In the order of the alternatives of Shape.
  constexpr std::array<StockKind, std::variant_size_v<build::Shape>> kinds{
      StockKind::tube,         StockKind::tube_bend,   StockKind::mitred_bend, StockKind::cone,
      StockKind::adapter,      StockKind::hose,        StockKind::hump_hose,   StockKind::hose_elbow,
      StockKind::hose_reducer, StockKind::sensor_boss, StockKind::valve_flange};
  return kinds[shape.index()];
}

std::string_view kind_name(StockKind kind) {
  // In the order of StockKind.
  constexpr std::array<std::string_view, 12> names{
      "tube",      "tube bend",  "mitred bend",  "cone",        "adapter",      "hose",
      "hump hose", "hose elbow", "hose reducer", "sensor boss", "valve flange", "clamp"};
  static_assert(names.size() == static_cast<std::size_t>(StockKind::clamp) + 1);
  return names[static_cast<std::size_t>(kind)];
}

std::vector<const StockItem*> choices(const build::Build& build, const build::Piece& piece) {
  std::vector<std::pair<std::int64_t, const StockItem*>> priced;
  for (const StockItem& item : *build.stock)
    if (serves(item, piece))
      priced.emplace_back(price_of(item, amount_for(item, piece)).minor, &item);
  std::ranges::stable_sort(priced, {}, &std::pair<std::int64_t, const StockItem*>::first);
  std::vector<const StockItem*> items;
  items.reserve(priced.size());
  for (const auto& [price, item] : priced)
    items.push_back(item);
  return items;
}

double amount_for(const StockItem& item, const build::Piece& piece) {
  return item.per == Per::metre ? build::full_length_m(piece.shape) : 1.0;
}

quantity::Money price_of(const StockItem& item, double amount) {
  if (item.per == Per::metre)
    return quantity::times(item.price, amount);
  constexpr double rounding = 1e-9; // 2.0000000001 pieces are two
  return quantity::times(item.price, static_cast<std::int64_t>(std::ceil(amount - rounding)));
}

const StockItem* clamp_for(const build::Build& build, double installed_diameter_m) {
  const StockItem* best = nullptr;
  bool best_is_central = false;
  for (const StockItem& item : *build.stock) {
    if (item.kind != StockKind::clamp || !item.clamp_min_m || !item.clamp_max_m)
      continue;
    const double low_m = *item.clamp_min_m, high_m = *item.clamp_max_m;
    if (installed_diameter_m < low_m || installed_diameter_m > high_m)
      continue;
    const double quarter_m = (high_m - low_m) / 4;
    const bool central =
        installed_diameter_m >= low_m + quarter_m && installed_diameter_m <= high_m - quarter_m;
    const bool better =
        best == nullptr || (central != best_is_central ? central : item.price.minor < best->price.minor);
    if (better) {
      best = &item;
      best_is_central = central;
    }
  }
  return best;
}

std::vector<TubeSize> tube_sizes(const build::Build& build) {
  std::vector<TubeSize> sizes;
  for (const StockItem& item : *build.stock)
    if (item.kind == StockKind::tube && item.outer_diameter_m && item.wall_m)
      sizes.push_back({*item.outer_diameter_m, *item.wall_m, item.material});
  std::ranges::sort(sizes, {}, [](const TubeSize& size) {
    return std::tuple(size.outer_diameter_m, size.wall_m, size.material);
  });
  const auto doubled = std::ranges::unique(sizes);
  sizes.erase(doubled.begin(), doubled.end());
  return sizes;
}

} // namespace bellmouth::stock
