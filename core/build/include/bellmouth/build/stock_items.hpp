// SPDX-License-Identifier: GPL-3.0-or-later
// Stock items one by one: their words, their rules, their files.
#pragma once

#include <bellmouth/build/document.hpp>
#include <bellmouth/quantity/result.hpp>

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::build {

/// \name Words as files spell them, in the order of the enumerators
///@{
[[nodiscard]] std::span<const std::string_view> stock_kind_words();
[[nodiscard]] std::span<const std::string_view> material_words();
[[nodiscard]] std::span<const std::string_view> clamp_type_words();
[[nodiscard]] std::span<const std::string_view> per_words();
///@}

/// The first thing that is wrong with an item as it would stand in a build of its price's currency; nullopt
/// when all is well. `path` is the path to speak of.
[[nodiscard]] std::optional<Error> validate(const StockItem& item, const std::string& path);
/// The same of what is owned; that its item is there is not looked at.
[[nodiscard]] std::optional<Error> validate(const Owned& owned, const quantity::Currency& currency,
                                            const std::string& path);
/// The item as it would come back from a file: numbers rounded to the digits that files hold.
[[nodiscard]] StockItem as_filed(StockItem item);
/// The greatest number of stock items in a build.
[[nodiscard]] std::size_t max_stock_items();

/// A stock list with what is owned of it.
struct StockList {
  quantity::Currency currency;
  std::vector<StockItem> items;
  std::vector<Owned> owned;
};
/// One item of a list as it was read, or what is wrong with it.
struct ReadItem {
  Result<StockItem> item;
  std::optional<Owned> owned;
};
struct ReadItems {
  quantity::Currency currency;
  std::vector<ReadItem> items;
};
/// Reads a list of the format "bellmouth-stock/1" item by item. Errors: no such list at all (its keys,
/// currency, what is owned of it); an item that is wrong is an error of its own.
[[nodiscard]] Result<ReadItems> read_stock_items(std::string_view json, std::string file = {});
/// Writes a list; what is owned must be of its items (an assertion).
[[nodiscard]] std::string write_stock(const StockList& list);

} // namespace bellmouth::build
