// SPDX-License-Identifier: GPL-3.0-or-later
#include "needs.hpp"

#include "cell_text.hpp"

#include <bellmouth/build/json.hpp>
#include <bellmouth/build/stock_items.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bellmouth::stock {

namespace {

using build::Per;
using build::StockItem;
using build::StockKind;

std::span<const Field> needs(StockKind kind) {
  static constexpr Field tube[] = {Field::outer_diameter, Field::wall};
  static constexpr Field bend[] = {Field::outer_diameter, Field::wall,   Field::angle,
                                   Field::radius,         Field::leg_in, Field::leg_out};
  static constexpr Field two_bores[] = {Field::bore, Field::bore_out, Field::wall, Field::length};
  static constexpr Field hose[] = {Field::bore, Field::wall};
  static constexpr Field elbow[] = {Field::bore,   Field::wall,   Field::angle,
                                    Field::radius, Field::leg_in, Field::leg_out};
  static constexpr Field boss[] = {Field::thread};
  static constexpr Field flange[] = {Field::bore};
  static constexpr Field clamp[] = {Field::clamp_min, Field::clamp_max};
  switch (kind) {
  case StockKind::tube:
    return tube;
  case StockKind::tube_bend:
  case StockKind::mitred_bend:
    return bend;
  case StockKind::cone:
  case StockKind::adapter:
  case StockKind::hose_reducer:
    return two_bores;
  case StockKind::hose:
  case StockKind::hump_hose:
    return hose;
  case StockKind::hose_elbow:
    return elbow;
  case StockKind::sensor_boss:
    return boss;
  case StockKind::valve_flange:
    return flange;
  case StockKind::clamp:
    return clamp;
  }
  return {};
}

bool is_straight(StockKind kind) {
  return kind == StockKind::tube || kind == StockKind::hose || kind == StockKind::hump_hose;
}

bool has(const StockItem& item, Field field) {
  switch (field) {
  case Field::outer_diameter:
    return item.outer_diameter_m.has_value();
  case Field::bore:
    return item.bore_m.has_value();
  case Field::bore_out:
    return item.bore_out_m.has_value();
  case Field::wall:
    return item.wall_m.has_value();
  case Field::angle:
    return item.angle_rad.has_value();
  case Field::radius:
    return item.radius_m.has_value();
  case Field::leg_in:
    return item.leg_in_m.has_value();
  case Field::leg_out:
    return item.leg_out_m.has_value();
  case Field::length:
    return item.length_m.has_value();
  case Field::thread:
    return item.thread.has_value();
  case Field::clamp_min:
    return item.clamp_min_m.has_value();
  case Field::clamp_max:
    return item.clamp_max_m.has_value();
  default:
    return true;
  }
}

std::string dashed(std::string_view text) {
  std::string words = plain_words(text);
  std::ranges::replace(words, ' ', '-');
  return words;
}

} // namespace

std::optional<Field> missing_field(const StockItem& item) {
  for (const Field field : needs(item.kind))
    if (!has(item, field))
      return field;
  if (is_straight(item.kind) && item.per == Per::each && !item.length_m)
    return Field::length;
  return std::nullopt;
}

std::string made_id(const StockItem& item) {
  std::string id = dashed(build::stock_kind_words()[static_cast<std::size_t>(item.kind)]);
  const auto put = [&](std::string_view text) { (id += '-').append(text); };
  const auto number = [&](const std::optional<double>& value, double factor) {
    if (value)
      put(build::number_text(std::round(*value * factor * 1000) / 1000));
  };
  constexpr double per_rad = 180 / std::numbers::pi;
  if (item.kind == StockKind::clamp && item.clamp_type)
    put(dashed(build::clamp_type_words()[static_cast<std::size_t>(*item.clamp_type)]));
  put(dashed(build::material_key(item.material)));
  for (const auto* size : {&item.outer_diameter_m, &item.bore_m, &item.bore_out_m, &item.wall_m})
    number(*size, 1e3);
  number(item.angle_rad, per_rad);
  for (const auto* size : {&item.radius_m, &item.leg_in_m, &item.leg_out_m, &item.length_m, &item.clamp_min_m,
                           &item.clamp_max_m})
    number(*size, 1e3);
  if (item.thread)
    put(dashed(*item.thread));
  if (item.oil_proof)
    put("oil-proof");
  if (item.wire)
    put("wire");
  if (item.pack > 1)
    put("pack-" + std::to_string(item.pack));
  return id;
}

} // namespace bellmouth::stock
