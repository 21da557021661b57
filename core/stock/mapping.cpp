// SPDX-License-Identifier: GPL-3.0-or-later
// What the columns of a table mean: proposed, changed, checked.
#include "cell_text.hpp"
#include "cells.hpp"
#include "fields.hpp"
#include "headings.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <array>
#include <cassert>

namespace bellmouth::stock {

namespace {

bool holds_numbers(Field field) {
  const FieldInfo& known = info(field);
  return known.dimension || known.is_money || field == Field::owned;
}

/// How many numbers of a column have which decimal sign.
struct Signs {
  std::size_t commas = 0, points = 0;
};

/// Counts the sign of a cell's first number that has one. A single one before exactly three digits might
/// stand between thousands: it counts for nothing. Of two different ones the last is the decimal sign.
void count_sign(std::string_view cell, Signs& signs) {
  std::size_t last = std::string_view::npos;
  std::size_t seen = 0;
  bool mixed = false;
  for (std::size_t at = 1; at + 1 < cell.size(); ++at)
    if ((cell[at] == ',' || cell[at] == '.') && is_digit(cell[at - 1]) && is_digit(cell[at + 1])) {
      mixed = mixed || (last != std::string_view::npos && cell[last] != cell[at]);
      last = at;
      ++seen;
    }
  if (last == std::string_view::npos || (seen > 1 && !mixed))
    return;
  std::size_t digits = 0;
  while (last + 1 + digits < cell.size() && is_digit(cell[last + 1 + digits]))
    ++digits;
  if (!mixed && digits == 3)
    return;
  ++(cell[last] == ',' ? signs.commas : signs.points);
}

std::optional<char> decimal_of(const Signs& signs) {
  if (signs.commas == signs.points)
    return std::nullopt;
  return signs.commas > signs.points ? ',' : '.';
}

void propose_decimals(const RawTable& table, Mapping& mapping) {
  std::vector<Signs> signs(mapping.columns.size());
  Signs all;
  for (std::size_t column = 0; column < signs.size(); ++column) {
    if (const auto field = mapping.columns[column].field; !field || !holds_numbers(*field))
      continue;
    for (const RawRow& row : table.rows)
      if (!row.fault)
        count_sign(row.cells[column], signs[column]);
    all.commas += signs[column].commas;
    all.points += signs[column].points;
  }
  const char usual = decimal_of(all).value_or('.');
  for (std::size_t column = 0; column < signs.size(); ++column)
    mapping.columns[column].decimal = decimal_of(signs[column]).value_or(usual);
}

Error fault(std::string where, std::string found, std::string accepted) {
  Error error;
  error.place.path = std::move(where);
  error.found = std::move(found);
  error.accepted = std::move(accepted);
  return error;
}

std::optional<Error> check_column(const RawTable& table, const Mapping& mapping, std::size_t column) {
  const ColumnMapping& each = mapping.columns[column];
  if (!each.field)
    return std::nullopt;
  const FieldInfo& known = info(*each.field);
  for (std::size_t before = 0; before < column; ++before)
    if (const auto other = mapping.columns[before].field; other && exclude_each_other(*other, *each.field))
      return fault(column_words(table, column), fmt::format("the field {}", known.name),
                   fmt::format("another field, or none: {} says {} already", column_words(table, before),
                               info(*other).name));
  if (!each.unit.empty() && (!known.dimension || !quantity::find_unit(*known.dimension, each.unit))) {
    std::vector<std::string_view> symbols;
    if (known.dimension)
      for (const quantity::Unit& unit : quantity::units(*known.dimension))
        symbols.push_back(unit.symbol);
    return fault(column_words(table, column), fmt::format("the unit \"{}\" for {}", each.unit, known.name),
                 known.dimension ? fmt::format("{}", fmt::join(symbols, ", ")) : std::string("no unit"));
  }
  if (each.currency && !known.is_money)
    return fault(column_words(table, column),
                 fmt::format("the currency {} for {}", each.currency->text(), known.name), "no currency");
  if (each.decimal != '.' && each.decimal != ',')
    return fault(column_words(table, column), fmt::format("the decimal sign '{}'", each.decimal),
                 "'.' or ','");
  return std::nullopt;
}

std::optional<Error> check_fixed(const FixedField& fixed) {
  build::StockItem item;
  Extras extras;
  const auto read = read_cell(fixed.field, fixed.text, CellReading{{}, '.', {}}, item, extras);
  if (read)
    return std::nullopt;
  return fault(std::string(info(fixed.field).name) + ", the same in every row", read.error().found,
               read.error().accepted);
}

} // namespace

Mapping propose(const RawTable& table) {
  Mapping mapping;
  bool per_metre = false;
  for (const std::string& text : table.headings) {
    const Heading heading = read_heading(text);
    ColumnMapping column;
    const bool taken =
        heading.field && std::ranges::any_of(mapping.columns, [&](const ColumnMapping& before) {
          return before.field && exclude_each_other(*before.field, *heading.field);
        });
    if (heading.field && !taken) {
      column.field = heading.field;
      column.unit = heading.unit;
      column.currency = heading.currency;
      per_metre = per_metre || heading.per_metre;
    }
    mapping.columns.push_back(std::move(column));
  }
  if (per_metre && std::ranges::find(mapping.columns, std::optional(Field::per), &ColumnMapping::field) ==
                       mapping.columns.end())
    mapping.fixed.push_back({Field::per, "metre"});
  propose_decimals(table, mapping);
  return mapping;
}

Mapping with_unit(Mapping mapping, quantity::Dimension dimension, std::string_view unit) {
  for (ColumnMapping& each : mapping.columns)
    if (each.field && each.unit.empty() && info(*each.field).dimension == dimension)
      each.unit = unit;
  return mapping;
}

std::optional<Error> validate(const RawTable& table, const Mapping& mapping) {
  assert(mapping.columns.size() == table.headings.size());
  for (std::size_t column = 0; column < mapping.columns.size(); ++column)
    if (auto wrong = check_column(table, mapping, column))
      return wrong;
  for (std::size_t i = 0; i < mapping.fixed.size(); ++i) {
    const FixedField& fixed = mapping.fixed[i];
    for (std::size_t before = 0; before < i; ++before)
      if (exclude_each_other(mapping.fixed[before].field, fixed.field))
        return fault(
            std::string(info(fixed.field).name) + ", the same in every row",
            fmt::format("\"{}\"", fixed.text),
            fmt::format("one text for all rows: \"{}\" was said already", mapping.fixed[before].text));
    if (auto wrong = check_fixed(fixed))
      return wrong;
  }
  return std::nullopt;
}

} // namespace bellmouth::stock
