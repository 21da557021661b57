// SPDX-License-Identifier: GPL-3.0-or-later
// What a user does to the stock of a build, as edits; and where its items are used.
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/list.hpp>

#include <QString>

#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

namespace bellmouth::ui {

/// Where an option uses an item.
struct StockUse {
  int count = 0;                       ///< pieces, or clamps
  std::vector<build::PieceRef> pieces; ///< in the order of the runs; of clamps the hoses that they close
};
/// By the id of the item; what is not used is not in it.
using StockUses = std::unordered_map<std::string, StockUse>;
[[nodiscard]] StockUses stock_uses(const build::Option& option, const list::Lists& lists);

/// How many pieces of how many options are bought as an item.
struct BoughtAs {
  int pieces = 0, options = 0;
};
[[nodiscard]] BoughtAs bought_as_anywhere(const build::Build& build, const build::StockId& id);

/// An item of ordinary size, to start from. Its price is nothing yet.
[[nodiscard]] build::StockItem ordinary_item(build::StockKind kind, quantity::Currency currency);
/// An item of another kind: it keeps the sizes and properties that the other kind has too, and forgets the
/// rest.
[[nodiscard]] build::StockItem of_kind(const build::StockItem& item, build::StockKind kind);
/// `wanted`, with a number behind it where it is taken.
[[nodiscard]] build::StockId free_stock_id(const build::Build& build, const std::string& wanted);

/// Puts an item before the one at `before`, or behind the last.
[[nodiscard]] build::Build with_item_inserted(const build::Build& build, std::size_t before,
                                              build::StockItem item);
/// Puts an item in the place of another (which there is: an assertion); where its id differs, the pieces,
/// what is owned and the offcuts follow.
[[nodiscard]] build::Build with_item_replaced(const build::Build& build, const build::StockId& id,
                                              build::StockItem item);
/// Takes an item out; pieces, what is owned and offcuts forget it.
[[nodiscard]] build::Build with_item_removed(const build::Build& build, const build::StockId& id);
/// The place of an item in the stock.
[[nodiscard]] std::optional<std::size_t> place_of(const build::Build& build, const build::StockId& id);

/// \name Offcuts of one item
///@{
/// Whether a kind leaves any that can be used, and whether those have an arc.
[[nodiscard]] bool leaves_offcuts(build::StockKind kind);
[[nodiscard]] bool leaves_bent_offcuts(build::StockKind kind);
[[nodiscard]] std::vector<build::Offcut> offcuts_of(const build::Build& build, const build::StockId& id);
/// Puts others in their place; those of other items stay.
[[nodiscard]] build::Build with_offcuts_of(const build::Build& build, const build::StockId& id,
                                           std::vector<build::Offcut> offcuts);
///@}

} // namespace bellmouth::ui
