// SPDX-License-Identifier: GPL-3.0-or-later
#include "fields.hpp"

#include "cell_text.hpp"

#include <algorithm>
#include <array>
#include <cassert>

namespace bellmouth::stock {

namespace {

using quantity::Dimension;

constexpr std::optional<Dimension> none = std::nullopt;
constexpr auto length = Dimension::length;
constexpr std::string_view a_length = "a length such as 57 mm or 2 1/4 in";
constexpr std::string_view yes_or_no = "yes or no";
constexpr std::string_view whole = "a whole number";
constexpr std::string_view amount = "an amount of money such as 12.50 or 12.50 EUR";

constexpr std::array table{
    FieldInfo{Field::id, "id", "id", "id", none, {}, "text of 1 to 100 characters, each row its own", false},
    FieldInfo{
        Field::kind,
        "kind",
        "kind",
        "kind",
        none,
        {},
        "tube, tube bend, mitred bend, cone, adapter, hose, hump hose, hose elbow, hose reducer, sensor "
        "boss, valve flange or clamp",
        false},
    FieldInfo{Field::name, "name", "name", "name", none, {}, "text of at most 200 characters", false},
    FieldInfo{Field::material,
              "material",
              "material",
              "material",
              none,
              {},
              "aluminium, mild steel, stainless steel, silicone, rubber or plastic",
              false},
    FieldInfo{Field::outer_diameter, "outer_diameter", "outer diameter", "outer diameter [mm]", length, "mm",
              a_length, false},
    FieldInfo{Field::bore, "bore", "bore", "bore [mm]", length, "mm", a_length, false},
    FieldInfo{Field::bore_out, "bore_out", "second bore", "second bore [mm]", length, "mm", a_length, false},
    FieldInfo{Field::wall, "wall", "wall", "wall [mm]", length, "mm", a_length, false},
    FieldInfo{Field::angle, "angle", "angle", "angle [deg]", Dimension::angle, "°", "an angle such as 90 deg",
              false},
    FieldInfo{Field::radius, "radius", "centre-line radius", "centre-line radius [mm]", length, "mm",
              a_length, false},
    FieldInfo{Field::legs, "legs", "both legs", {}, length, "mm", a_length, false},
    FieldInfo{Field::leg_in, "leg_in", "first leg", "first leg [mm]", length, "mm", a_length, false},
    FieldInfo{Field::leg_out, "leg_out", "second leg", "second leg [mm]", length, "mm", a_length, false},
    FieldInfo{Field::length, "length", "length", "length [mm]", length, "mm", a_length, false},
    FieldInfo{Field::plies, "plies", "plies", "plies", none, {}, whole, false},
    FieldInfo{Field::thread, "thread", "thread", "thread", none, {}, "text of 1 to 40 characters", false},
    FieldInfo{Field::clamp_range,
              "clamp_range",
              "clamp range",
              {},
              length,
              "mm",
              "two lengths such as 60-80 mm",
              false},
    FieldInfo{Field::clamp_min, "clamp_min", "clamp from", "clamp from [mm]", length, "mm", a_length, false},
    FieldInfo{Field::clamp_max, "clamp_max", "clamp to", "clamp to [mm]", length, "mm", a_length, false},
    FieldInfo{Field::clamp_type,
              "clamp_type",
              "clamp type",
              "clamp type",
              none,
              {},
              "worm, lug, round bolt, spring or constant tension",
              false},
    FieldInfo{Field::band_width, "band_width", "band width", "band width [mm]", length, "mm", a_length,
              false},
    FieldInfo{Field::torque, "torque", "torque", "torque [N m]", Dimension::torque, "N m",
              "a torque such as 4.5 N m or 40 lb in", false},
    FieldInfo{Field::max_temperature, "max_temperature", "greatest temperature", "max temperature [degC]",
              Dimension::temperature, "°C", "a temperature such as 170 C or 340 F", false},
    FieldInfo{Field::max_gauge, "max_gauge", "greatest pressure", "max pressure [bar]", Dimension::pressure,
              "bar", "a pressure above ambient such as 2 bar or 30 psi", false},
    FieldInfo{Field::oil_proof, "oil_proof", "oil-proof", "oil-proof", none, {}, yes_or_no, false},
    FieldInfo{Field::wire, "wire", "wire", "wire", none, {}, yes_or_no, false},
    FieldInfo{Field::price, "price", "price", "price", none, {}, amount, true},
    FieldInfo{Field::currency,
              "currency",
              "currency",
              "currency",
              none,
              {},
              "three capital letters such as EUR (ISO 4217)",
              false},
    FieldInfo{Field::per, "per", "price per", "per", none, {}, "each or metre", false},
    FieldInfo{Field::pack, "pack", "pack", "pack", none, {}, whole, false},
    FieldInfo{Field::supplier,
              "supplier",
              "supplier",
              "supplier",
              none,
              {},
              "text of at most 200 characters",
              false},
    FieldInfo{Field::owned,
              "owned",
              "owned",
              "owned",
              none,
              {},
              "a number: pieces, or metres of what is sold by the metre",
              false},
    FieldInfo{Field::paid, "paid", "paid", "paid", none, {}, amount, true},
};
static_assert(table.size() == static_cast<std::size_t>(Field::paid) + 1);
static_assert(std::ranges::is_sorted(table, {}, &FieldInfo::field));

/// How our JSON ends the key of a measured field.
std::string_view suffix(const std::optional<Dimension>& dimension) {
  if (!dimension)
    return {};
  switch (*dimension) {
  case Dimension::length:
    return "_mm";
  case Dimension::angle:
    return "_deg";
  case Dimension::temperature:
    return "_K";
  case Dimension::pressure:
    return "_Pa";
  case Dimension::torque:
    return "_Nm";
  default:
    assert(!"a dimension that no field has");
    return {};
  }
}

} // namespace

std::span<const FieldInfo> fields() {
  return table;
}

const FieldInfo& info(Field field) {
  return table[static_cast<std::size_t>(field)];
}

std::optional<Field> find_field(std::string_view key) {
  const std::string wanted = plain_words(key);
  for (const FieldInfo& each : table)
    if (plain_words(each.key) == wanted || plain_words(each.name) == wanted)
      return each.field;
  return std::nullopt;
}

std::optional<Field> field_of_json_key(std::string_view key) {
  for (const FieldInfo& each : table)
    if (key == std::string(each.key).append(suffix(each.dimension)))
      return each.field;
  return std::nullopt;
}

bool exclude_each_other(Field one, Field other) {
  if (one > other)
    std::swap(one, other);
  return one == other || (one == Field::legs && (other == Field::leg_in || other == Field::leg_out)) ||
         (one == Field::clamp_range && (other == Field::clamp_min || other == Field::clamp_max));
}

std::string column_words(const RawTable& raw, std::size_t column) {
  const std::string& heading = raw.headings[column];
  std::string words = "column " + std::to_string(column + 1);
  return heading.empty() ? words : words + " (" + heading + ")";
}

} // namespace bellmouth::stock
