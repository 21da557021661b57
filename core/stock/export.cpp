// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/build/json.hpp>
#include <bellmouth/build/stock_items.hpp>
#include <bellmouth/quantity/csv_write.hpp>
#include <bellmouth/stock/export.hpp>
#include <bellmouth/stock/table.hpp>

#include <algorithm>
#include <cassert>
#include <unordered_map>

namespace bellmouth::stock {

namespace {

using build::Owned;
using build::StockItem;

/// A word of a file as a table has it: "tube_bend" gives "tube bend".
template <class Enum> std::string spaced(std::span<const std::string_view> words, Enum value) {
  std::string word(words[static_cast<std::size_t>(value)]);
  std::ranges::replace(word, '_', ' ');
  return word;
}

/// Writes the cells of an item.
class Cells {
public:
  Cells(const StockItem& item, const Owned* owned, char decimal)
      : item_(item), owned_(owned), decimal_(decimal) {}

  [[nodiscard]] std::string cell(const FieldInfo& field) const {
    switch (field.field) {
    case Field::id:
      return item_.id.text;
    case Field::kind:
      return spaced(build::stock_kind_words(), item_.kind);
    case Field::name:
      return item_.name;
    case Field::material:
      return spaced(build::material_words(), item_.material);
    case Field::plies:
      return item_.plies ? std::to_string(*item_.plies) : std::string();
    case Field::thread:
      return item_.thread.value_or(std::string());
    case Field::clamp_type:
      return item_.clamp_type ? spaced(build::clamp_type_words(), *item_.clamp_type) : std::string();
    case Field::oil_proof:
      return item_.oil_proof ? "yes" : "no";
    case Field::wire:
      return item_.wire ? "yes" : "no";
    case Field::price:
      return amount(item_.price);
    case Field::currency:
      return std::string(item_.price.currency.text());
    case Field::per:
      return spaced(build::per_words(), item_.per);
    case Field::pack:
      return std::to_string(item_.pack);
    case Field::supplier:
      return item_.supplier;
    case Field::owned:
      return owned_ ? number(owned_->quantity) : std::string();
    case Field::paid:
      return owned_ && owned_->paid ? amount(*owned_->paid) : std::string();
    default:
      return size(field);
    }
  }

private:
  const StockItem& item_;
  const Owned* owned_;
  char decimal_;

  [[nodiscard]] std::string number(double value) const {
    std::string text = build::number_text(value);
    std::ranges::replace(text, '.', decimal_);
    return text;
  }
  [[nodiscard]] std::string amount(const quantity::Money& money) const {
    const std::string text = quantity::write(money, decimal_);
    return text.substr(0, text.rfind(' '));
  }
  [[nodiscard]] std::string size(const FieldInfo& field) const {
    const auto value = size_of(field.field);
    return value ? number(quantity::in_unit(*field.dimension, *value, field.unit)) : std::string();
  }
  [[nodiscard]] std::optional<double> size_of(Field field) const {
    switch (field) {
    case Field::outer_diameter:
      return item_.outer_diameter_m;
    case Field::bore:
      return item_.bore_m;
    case Field::bore_out:
      return item_.bore_out_m;
    case Field::wall:
      return item_.wall_m;
    case Field::angle:
      return item_.angle_rad;
    case Field::radius:
      return item_.radius_m;
    case Field::leg_in:
      return item_.leg_in_m;
    case Field::leg_out:
      return item_.leg_out_m;
    case Field::length:
      return item_.length_m;
    case Field::clamp_min:
      return item_.clamp_min_m;
    case Field::clamp_max:
      return item_.clamp_max_m;
    case Field::band_width:
      return item_.band_width_m;
    case Field::torque:
      return item_.torque_Nm;
    case Field::max_temperature:
      return item_.max_temperature_K;
    case Field::max_gauge:
      return item_.max_gauge_Pa;
    default:
      return std::nullopt;
    }
  }
};

} // namespace

std::string csv(std::span<const StockItem> items, std::span<const Owned> owned, const TableWriting& writing) {
  std::unordered_map<std::string_view, const Owned*> owned_of;
  for (const Owned& each : owned)
    owned_of.emplace(each.stock.text, &each);
  std::string text;
  std::vector<std::string> cells;
  for (const FieldInfo& field : fields())
    if (!field.heading.empty())
      cells.emplace_back(field.heading);
  quantity::append_csv_record(text, cells, writing.delimiter);
  for (const StockItem& item : items) {
    const auto found = owned_of.find(item.id.text);
    const Cells row(item, found == owned_of.end() ? nullptr : found->second, writing.decimal);
    cells.clear();
    for (const FieldInfo& field : fields())
      if (!field.heading.empty())
        cells.push_back(row.cell(field));
    quantity::append_csv_record(text, cells, writing.delimiter);
  }
  return text;
}

std::string json(std::span<const StockItem> items, std::span<const Owned> owned,
                 const quantity::Currency& currency) {
  build::StockList list{currency, {items.begin(), items.end()}, {}};
  std::unordered_map<std::string_view, bool> listed;
  for (const StockItem& item : items) {
    assert(item.price.currency == currency);
    listed.emplace(item.id.text, true);
  }
  for (const Owned& each : owned)
    if (listed.contains(each.stock.text))
      list.owned.push_back(each);
  return build::write_stock(list);
}

} // namespace bellmouth::stock
