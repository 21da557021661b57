// SPDX-License-Identifier: GPL-3.0-or-later
#include "rows.hpp"

#include "cell_text.hpp"
#include "cells.hpp"
#include "fields.hpp"
#include "needs.hpp"

#include <bellmouth/build/stock_items.hpp>
#include <bellmouth/quantity/utf8.hpp>
#include <bellmouth/stock.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>

namespace bellmouth::stock {

namespace {

using build::Material;
using build::StockItem;
using build::StockKind;

constexpr std::size_t longest_shown_line = 200, longest_quoted = 60;
/// The path that build::validate() is told; an id stands in for one that is still to be made.
constexpr std::string_view item_path = "$";

bool says_nothing(std::string_view cell) {
  return cell.empty() || cell == "-" || cell == "–";
}

bool is_flexible(Material material) {
  return material == Material::silicone || material == Material::rubber || material == Material::plastic;
}

/// One row on its way to an item.
class Row {
public:
  Row(const RawTable& table, const RawRow& row, const Mapping& mapping, const quantity::Currency& currency)
      : table_(table), row_(row), mapping_(mapping), currency_(currency) {}

  Result<GoodRow> read() && {
    for (const FixedField& fixed : mapping_.fixed)
      if (!said(fixed.field))
        take(fixed.field, fixed.text, {{}, '.', {}});
    for (std::size_t column = 0; column < mapping_.columns.size(); ++column)
      if (const ColumnMapping& each = mapping_.columns[column];
          each.field && !says_nothing(row_.cells[column]))
        take(*each.field, row_.cells[column], {each.unit, each.decimal, each.currency});
    decide_kind();
    decide_material();
    read_prices();
    check();
    if (error_)
      return fail(*std::move(error_));
    return std::move(good_);
  }

private:
  const RawTable& table_;
  const RawRow& row_;
  const Mapping& mapping_;
  const quantity::Currency& currency_;
  GoodRow good_;
  Extras extras_;
  std::optional<Error> error_;

  [[nodiscard]] std::optional<std::size_t> column_of(Field field) const {
    std::optional<std::size_t> other;
    for (std::size_t column = 0; column < mapping_.columns.size(); ++column)
      if (const auto& its = mapping_.columns[column].field) {
        if (*its == field)
          return column;
        // A fault of one leg stands in the column of both.
        if (exclude_each_other(*its, field))
          other = column;
      }
    return other;
  }
  [[nodiscard]] bool said(Field field) const {
    const auto column = column_of(field);
    return column && !says_nothing(row_.cells[*column]);
  }
  [[nodiscard]] const std::string* fixed_text(Field field) const {
    const auto found = std::ranges::find(mapping_.fixed, field, &FixedField::field);
    return found == mapping_.fixed.end() ? nullptr : &found->text;
  }

  /// Keeps the first fault.
  void refuse(Field field, std::string found, std::string accepted) {
    if (error_)
      return;
    const auto column = column_of(field);
    const std::string_view where = column && !table_.headings[*column].empty()
                                       ? std::string_view(table_.headings[*column])
                                       : info(field).name;
    std::string line;
    for (const std::string& cell : row_.cells)
      line += (&cell == row_.cells.data() ? "" : std::string(1, table_.delimiter)) + cell;
    error_ = Error{{table_.file, row_.line, 0, fmt::format("{}, {}", row_words(row_.number), where)},
                   std::move(found),
                   std::move(accepted),
                   quantity::printable(line, longest_shown_line)};
  }

  void take(Field field, const std::string& text, const CellReading& reading) {
    if (error_)
      return;
    if (const auto read = read_cell(field, text, reading, good_.item, extras_); !read)
      refuse(field, read.error().found, read.error().accepted);
  }

  void decide_kind() {
    if (!extras_.kind)
      return refuse(Field::kind, "nothing", std::string(info(Field::kind).accepted));
    if (!extras_.metal_or_hose)
      return;
    if (!extras_.material)
      return refuse(Field::kind, "an elbow or reducer of no material",
                    fmt::format("{} or {}; or a material, which decides it",
                                kind_name(extras_.metal_or_hose->first),
                                kind_name(extras_.metal_or_hose->second)));
    good_.item.kind =
        is_flexible(good_.item.material) ? extras_.metal_or_hose->second : extras_.metal_or_hose->first;
  }

  void decide_material() {
    if (extras_.material)
      return;
    if (good_.item.kind == StockKind::clamp)
      good_.item.material = Material::stainless_steel;
    else
      refuse(Field::material, "nothing", std::string(info(Field::material).accepted));
  }

  [[nodiscard]] tl::expected<quantity::Money, CellFault> price_in(Field field,
                                                                  const std::string& text) const {
    std::vector<quantity::Currency> stated;
    char decimal = '.';
    if (said(field)) {
      const ColumnMapping& column = mapping_.columns[*column_of(field)];
      decimal = column.decimal;
      if (column.currency)
        stated.push_back(*column.currency);
    }
    if (extras_.currency)
      stated.push_back(*extras_.currency);
    return read_price(text, decimal, stated, currency_);
  }

  void read_prices() {
    if (error_)
      return;
    if (extras_.price.empty())
      return refuse(Field::price, "nothing", std::string(info(Field::price).accepted));
    if (const auto price = price_in(Field::price, extras_.price))
      good_.item.price = *price;
    else
      refuse(Field::price, price.error().found, price.error().accepted);
    if (extras_.paid.empty())
      return;
    if (const auto paid = price_in(Field::paid, extras_.paid))
      good_.paid = *paid;
    else
      refuse(Field::paid, paid.error().found, paid.error().accepted);
    if (!extras_.owned)
      refuse(Field::paid, fmt::format("\"{}\" paid for nothing that is owned", extras_.paid),
             "a quantity owned beside it");
  }

  void check() {
    if (error_)
      return;
    good_.number = row_.number;
    good_.owned = extras_.owned;
    good_.id_made = good_.item.id.text.empty();
    if (const auto missing = missing_field(good_.item))
      return refuse(*missing, "nothing",
                    fmt::format("{}: a {}{} needs it", info(*missing).accepted, kind_name(good_.item.kind),
                                *missing == Field::length ? " that is sold by the piece" : ""));
    good_.item = build::as_filed(std::move(good_.item));
    StockItem checked = good_.item;
    if (good_.id_made)
      checked.id.text = made_id(good_.item);
    if (const auto wrong = build::validate(checked, std::string(item_path)))
      return refuse_as(*wrong);
    if (good_.owned.value_or(0) > 0)
      if (const auto wrong = build::validate(build::Owned{checked.id, *good_.owned, good_.paid}, currency_,
                                             std::string(item_path)))
        refuse(wrong->place.path.ends_with("paid") ? Field::paid : Field::owned, wrong->found,
               wrong->accepted);
  }

  /// What the document has against the item, in the words of the table.
  void refuse_as(const Error& wrong) {
    const std::string key = wrong.place.path.substr(item_path.size() + 1);
    const Field field = field_of_json_key(key).value_or(Field::kind);
    const auto column = column_of(field);
    refuse(field,
           column && !row_.cells[*column].empty()
               ? fmt::format("\"{}\"", quantity::printable(row_.cells[*column], longest_quoted))
               : wrong.found,
           wrong.accepted);
  }
};

} // namespace

Result<GoodRow> read_row(const RawTable& table, const RawRow& row, const Mapping& mapping,
                         const quantity::Currency& currency) {
  if (row.fault)
    return fail(*row.fault);
  return Row(table, row, mapping, currency).read();
}

} // namespace bellmouth::stock
