// SPDX-License-Identifier: GPL-3.0-or-later
#include "reader.hpp"
#include "validate.hpp"
#include "writer.hpp"

#include <bellmouth/build/stock_items.hpp>

#include <algorithm>
#include <cassert>
#include <map>
#include <utility>

namespace bellmouth::build {

namespace {

/// Where a list's only entry stands.
constexpr std::string_view only_item = "$.items[0]", only_owned = "$.owned[0]";

/// Visits an item's description and rounds its numbers to what a file holds.
class Rounder {
public:
  quantity::Currency currency;

  void field(std::string_view, double& value, const NumberField& kind) const {
    value = from_file(kind.scale, to_file(kind.scale, value));
  }
  void field(std::string_view, auto&, const auto&) const {}
  void optional(std::string_view key, std::optional<double>& value, const NumberField& kind) const {
    if (value)
      field(key, *value, kind);
  }
  void optional(std::string_view, auto&, const auto&) const {}
  void defaulted(std::string_view key, auto& value, const auto&, const auto& kind) const {
    field(key, value, kind);
  }
  void rule(std::string_view, const auto&, std::string_view) const {}
};

/// Speaks of `path` where a complaint spoke of `from`.
void move_path(Error& error, std::string_view from, const std::string& path) {
  if (error.place.path.starts_with(from))
    error.place.path.replace(0, from.size(), path);
}

/// What is wrong with a list of one entry, which stands at `only`, speaking of it as `path`.
std::optional<Error> wrong_with(const StockFile& file, std::string_view only, const std::string& path) {
  const auto complaint = Checker::check(file);
  if (!complaint)
    return std::nullopt;
  Error error = as_error(*complaint, file, "$");
  move_path(error, only, path);
  return error;
}

/// One item of a list, read and checked.
Result<StockItem> read_item(const Source& source, const Json& json, const quantity::Currency& currency,
                            const std::string& path) {
  Reader reader(source);
  reader.currency = currency;
  auto item = reader.read<StockItem>(json);
  if (!item) {
    Error error = std::move(item.error());
    move_path(error, "$", path);
    return fail(std::move(error));
  }
  if (auto complaint = Checker::check(StockFile{currency, {*item}, {}})) {
    complaint->path.erase(1, only_item.size() - 1); // leaves the $
    Error error = located(source, json, *complaint);
    move_path(error, "$", path);
    return fail(std::move(error));
  }
  return item;
}

} // namespace

std::span<const std::string_view> stock_kind_words() {
  return stock_kind_keys;
}
std::span<const std::string_view> material_words() {
  return material_keys;
}
std::span<const std::string_view> clamp_type_words() {
  return clamp_type_keys;
}
std::span<const std::string_view> per_words() {
  return per_keys;
}

std::optional<Error> validate(const StockItem& item, const std::string& path) {
  return wrong_with({item.price.currency, {item}, {}}, only_item, path);
}

std::optional<Error> validate(const Owned& owned, const quantity::Currency& currency,
                              const std::string& path) {
  return wrong_with({currency, {}, {owned}}, only_owned, path);
}

StockItem as_filed(StockItem item) {
  Rounder rounder;
  describe(rounder, item);
  return item;
}

std::size_t max_stock_items() {
  return limits::stock.most;
}

Result<ReadItems> read_stock_items(std::string_view json, std::string file) {
  const Source source{json, std::move(file)};
  auto root = parse(source);
  if (!root)
    return fail(root.error());
  // The items are read one by one, all else with the list's own description.
  std::vector<Json> items;
  const auto list = std::ranges::find(root->items, "items", &Json::key);
  if (list != root->items.end() && list->kind == Json::Kind::array &&
      list->items.size() <= limits::stock.most)
    items = std::exchange(list->items, {});
  const auto head = Reader(source).read<StockFile>(*root);
  if (!head)
    return fail(head.error());
  if (const auto complaint = Checker::check(*head))
    return fail(located(source, *root, *complaint));

  ReadItems read{head->currency, {}};
  read.items.reserve(items.size());
  std::map<std::string, std::size_t> places; // also of items that are wrong
  for (const Json& item : items) {
    if (const Json* id = item.member("id"))
      places.emplace(id->text, read.items.size());
    read.items.push_back(
        {read_item(source, item, head->currency, fmt::format("$.items[{}]", read.items.size())), {}});
  }
  for (std::size_t i = 0; i < head->owned.size(); ++i) {
    const Owned& owned = head->owned[i];
    const auto place = places.find(owned.stock.text);
    if (place == places.end() || read.items[place->second].owned)
      return fail(located(
          source, *root, {fmt::format("$.owned[{}].stock", i), "the id of an item of this list, each once"}));
    read.items[place->second].owned = owned;
  }
  return read;
}

std::string write_stock(const StockList& list) {
  for ([[maybe_unused]] const Owned& owned : list.owned)
    assert(std::ranges::find(list.items, owned.stock, &StockItem::id) != list.items.end());
  Writer writer;
  writer.currency = list.currency;
  return print(writer.write(StockFile{list.currency, list.items, list.owned}));
}

} // namespace bellmouth::build
