// SPDX-License-Identifier: GPL-3.0-or-later
// What would come of a list, and taking it in.
#include "fields.hpp"
#include "needs.hpp"
#include "rows.hpp"

#include <bellmouth/build/stock_items.hpp>
#include <bellmouth/quantity/utf8.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <unordered_map>

namespace bellmouth::stock {

namespace {

using build::Build;
using build::Owned;
using build::StockItem;

/// Places of a build's items and of what is owned, by id.
class Known {
public:
  explicit Known(const Build& build) : build_(build) {
    for (std::size_t i = 0; i < build.stock->size(); ++i)
      items_.emplace((*build.stock)[i].id.text, i);
    for (std::size_t i = 0; i < build.owned.size(); ++i)
      owned_.emplace(build.owned[i].stock.text, i);
  }

  [[nodiscard]] std::optional<std::size_t> place(const std::string& id) const {
    const auto found = items_.find(id);
    return found == items_.end() ? std::nullopt : std::optional(found->second);
  }
  [[nodiscard]] const Owned* owned(const std::string& id) const {
    const auto found = owned_.find(id);
    return found == owned_.end() ? nullptr : &build_.owned[found->second];
  }

  [[nodiscard]] Against against(const GoodRow& row) const {
    const auto at = place(row.item.id.text);
    if (!at)
      return Against::fresh;
    return (*build_.stock)[*at] == row.item && same_owned(row) ? Against::same : Against::changed;
  }

private:
  const Build& build_;
  std::unordered_map<std::string_view, std::size_t> items_, owned_;

  [[nodiscard]] bool same_owned(const GoodRow& row) const {
    if (!row.owned)
      return true;
    const Owned* const now = owned(row.item.id.text);
    if (*row.owned == 0)
      return now == nullptr;
    return now && now->quantity == *row.owned && (!row.paid || now->paid == row.paid);
  }
};

/// Keeps the rows of a list apart by their ids, and sorts them into good and bad.
class Sorter {
public:
  explicit Sorter(const Build& build) : known_(build) {}

  void add(GoodRow row) {
    seen_.emplace(row.item.id.text, row.number);
    row.against = known_.against(row);
    preview.good.push_back(std::move(row));
  }
  void add(std::size_t number, Error error) { preview.bad.push_back({number, std::move(error)}); }

  /// The row before that has an id, if one does.
  [[nodiscard]] std::optional<std::size_t> row_with(const std::string& id) const {
    const auto found = seen_.find(id);
    return found == seen_.end() ? std::nullopt : std::optional(found->second);
  }

  Preview preview;

private:
  Known known_;
  std::unordered_map<std::string, std::size_t> seen_;
};

std::string doubled(std::size_t before) {
  return fmt::format("an id of its own: row {} has this one", before);
}

bool some_column(const Mapping& mapping, std::initializer_list<Field> fields) {
  return std::ranges::any_of(fields, [&](Field field) {
    return std::ranges::any_of(mapping.columns,
                               [&](const ColumnMapping& each) { return each.field == field; }) ||
           std::ranges::any_of(mapping.fixed, [&](const FixedField& each) { return each.field == field; });
  });
}

/// What a table does not say, and how it is taken.
std::vector<std::string> taken_as(const Mapping& mapping, const quantity::Currency& currency,
                                  const std::vector<GoodRow>& good) {
  std::vector<std::string> words;
  const bool currency_said = some_column(mapping, {Field::currency}) ||
                             std::ranges::any_of(mapping.columns, [](const ColumnMapping& each) {
                               return each.field == Field::price && each.currency;
                             });
  if (!currency_said)
    words.push_back(fmt::format(
        "no column says the currency: prices without one are taken as {}, the build's", currency.text()));
  if (!some_column(mapping, {Field::per}))
    words.emplace_back("no column says what a price is for: prices are taken as for each, none as per metre");
  if (!some_column(mapping, {Field::pack}))
    words.emplace_back("no column says what a pack holds: prices are taken as for one piece");
  if (!some_column(mapping, {Field::material}) &&
      std::ranges::any_of(good, [](const GoodRow& row) { return row.item.kind == build::StockKind::clamp; }))
    words.emplace_back("no column says the material: clamps are taken as of stainless steel");
  return words;
}

std::vector<std::string> unused(const RawTable& table, const Mapping& mapping) {
  std::vector<std::string> words;
  for (std::size_t column = 0; column < mapping.columns.size(); ++column) {
    const bool says_anything =
        !table.headings[column].empty() || std::ranges::any_of(table.rows, [&](const RawRow& row) {
          return !row.fault && !row.cells[column].empty();
        });
    if (!mapping.columns[column].field && says_anything)
      words.push_back(column_words(table, column));
  }
  return words;
}

/// What is owned, put in order after the stock has changed.
void put_owned(std::vector<Owned>& owned, std::unordered_map<std::string, std::size_t>& places,
               const build::StockId& id, const GoodRow& row) {
  if (!row.owned)
    return;
  const auto found = places.find(id.text);
  if (found == places.end()) {
    if (*row.owned > 0) {
      places.emplace(id.text, owned.size());
      owned.push_back({id, *row.owned, row.paid});
    }
    return;
  }
  Owned& entry = owned[found->second];
  entry.quantity = *row.owned;
  if (row.paid)
    entry.paid = row.paid;
}

} // namespace

std::string_view word(Against against) {
  constexpr std::array<std::string_view, 3> words{"new", "changed", "same"};
  return words[static_cast<std::size_t>(against)];
}

std::string_view key(OnClash on_clash) {
  constexpr std::array<std::string_view, 3> keys{"replace", "keep-both", "skip"};
  return keys[static_cast<std::size_t>(on_clash)];
}

std::size_t Preview::count(Against against) const {
  return static_cast<std::size_t>(std::ranges::count(good, against, &GoodRow::against));
}

Result<Preview> preview(const RawTable& table, const Mapping& mapping, const Build& build) {
  if (auto wrong = validate(table, mapping)) {
    wrong->place.file = table.file;
    return fail(*std::move(wrong));
  }
  Sorter sorter(build);
  std::unordered_map<std::string, int> numbers; // the next to try behind a made id
  for (const RawRow& raw : table.rows) {
    auto row = read_row(table, raw, mapping, build.budget.currency);
    if (!row) {
      sorter.add(raw.number, std::move(row.error()));
      continue;
    }
    if (row->id_made) {
      const std::string made = made_id(row->item);
      int& number = numbers.try_emplace(made, 1).first->second;
      std::string& id = row->item.id.text = made;
      while (sorter.row_with(id))
        id = made + "-" + std::to_string(++number);
    } else if (const auto before = sorter.row_with(row->item.id.text)) {
      sorter.add(raw.number, {{table.file, raw.line, 0, fmt::format("row {}, id", raw.number)},
                              fmt::format("\"{}\"", row->item.id.text),
                              doubled(*before),
                              {}});
      continue;
    }
    sorter.add(*std::move(row));
  }
  sorter.preview.unused = unused(table, mapping);
  sorter.preview.taken_as = taken_as(mapping, build.budget.currency, sorter.preview.good);
  return std::move(sorter.preview);
}

Result<Preview> preview_json(std::string_view text, std::string file, const Build& build) {
  auto list = build::read_stock_items(text, file);
  if (!list)
    return fail(std::move(list.error()));
  if (list->currency != build.budget.currency)
    return fail(
        Error{{std::move(file), 0, 0, "$.currency"},
              fmt::format("\"{}\"", list->currency.text()),
              fmt::format("\"{}\", the build's currency: nothing is converted", build.budget.currency.text()),
              {}});
  Sorter sorter(build);
  for (std::size_t i = 0; i < list->items.size(); ++i) {
    build::ReadItem& read = list->items[i];
    if (!read.item) {
      sorter.add(i + 1, std::move(read.item.error()));
    } else if (const auto before = sorter.row_with(read.item->id.text)) {
      sorter.add(i + 1, {{file, 0, 0, fmt::format("$.items[{}].id", i)},
                         fmt::format("\"{}\"", read.item->id.text),
                         doubled(*before),
                         {}});
    } else {
      GoodRow row;
      row.number = i + 1;
      row.item = *std::move(read.item);
      if (read.owned) {
        row.owned = read.owned->quantity;
        row.paid = read.owned->paid;
      }
      sorter.add(std::move(row));
    }
  }
  return std::move(sorter.preview);
}

Result<Build> take(const Build& build, const Preview& preview, OnClash on_clash) {
  const Known known(build);
  std::vector<StockItem> stock = *build.stock;
  std::vector<Owned> owned = build.owned;
  std::unordered_map<std::string, std::size_t> owned_places;
  for (std::size_t i = 0; i < owned.size(); ++i)
    owned_places.emplace(owned[i].stock.text, i);
  std::unordered_map<std::string, bool> taken; // ids that are in use once all is in
  for (const StockItem& item : stock)
    taken.emplace(item.id.text, true);
  for (const GoodRow& row : preview.good)
    taken.emplace(row.item.id.text, true);

  for (const GoodRow& row : preview.good) {
    const auto place = known.place(row.item.id.text);
    assert(place.has_value() == (row.against != Against::fresh));
    StockItem item = row.item;
    if (!place) {
      stock.push_back(item);
    } else if (on_clash == OnClash::skip && row.against == Against::changed) {
      continue;
    } else if (stock[*place] != item) {
      if (on_clash == OnClash::replace) {
        stock[*place] = item;
      } else {
        item.id.text = free_id(item.id.text, [&](const std::string& id) { return !taken.contains(id); });
        taken.emplace(item.id.text, true);
        stock.push_back(item);
      }
    }
    put_owned(owned, owned_places, item.id, row);
  }
  if (stock.size() > build::max_stock_items())
    return fail(Error{{},
                      fmt::format("{} stock items in all", stock.size()),
                      fmt::format("at most {} in a build", build::max_stock_items()),
                      {}});
  std::erase_if(owned, [](const Owned& each) { return each.quantity == 0; });
  Build result = build;
  result.stock = std::move(stock);
  result.owned = std::move(owned);
  return result;
}

} // namespace bellmouth::stock
