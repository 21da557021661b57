// SPDX-License-Identifier: GPL-3.0-or-later
// Buying what an option is made of: what its pieces are cut from, the shopping list, money.
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/buy/plan.hpp>
#include <bellmouth/list.hpp>

#include <optional>
#include <string>
#include <vector>

namespace bellmouth::buy {

/// \name From an option to a question
///@{
/// What a need is for.
struct Part {
  build::PieceRef piece; ///< of a clamp the hose that it closes
  bool clamp = false;
  double installed_diameter_m = 0; ///< of a clamp: what it goes round
  bool spare = false;              ///< not for that piece, but in case one like it is lost or spoilt
  friend bool operator==(const Part&, const Part&) = default;
};
/// What an offer is: the number of an item in the build's stock, as sold or as it is owned already.
struct Source {
  std::size_t item = 0;
  bool owned = false;
  bool made_to_measure =
      false; ///< the item leaves sizes open, or is bought ready made: nothing is sawn from it
  friend bool operator==(const Source&, const Source&) = default;
};
/// What an option needs, and what there is for it.
struct Task {
  Question question;
  std::vector<Part> parts;            ///< of each need
  std::vector<Source> sources;        ///< of each offer
  std::vector<std::string> suppliers; ///< the label of each
};

struct Wishes {
  Aim aim = Aim::money;
  double seconds = 1.0; ///< see Question::seconds
  friend bool operator==(const Wishes&, const Wishes&) = default;
};

/// What the runs at work need: each piece, each clamp, and spares as the budget asks for. A piece comes from
/// what has its material and sizes. Where it names a stock item, nothing that is worse takes that one's
/// place: hoses with fewer plies, a lower rating, without its lining or wire. A clamp is the one that the
/// joint chose. Owned things and offcuts are offers without a price. The joints must have been fitted for
/// this build: their clamps are of its stock.
[[nodiscard]] Task task(const list::Work& work, const Wishes& wishes = {});
///@}

/// \name The shopping list
///@{
/// A line of the shopping list: one stock item, or things of one description that nothing in stock serves.
struct ShoppingLine {
  std::string group; ///< kind, for headings
  std::string description;
  std::optional<build::StockId> stock; ///< unset: nothing in stock serves it
  std::string supplier;                ///< empty: not said
  double needed =
      0; ///< pieces; metres where the price is per metre, with the kerf of each cut; spares included
  double spare = 0;  ///< of what is needed
  double owned = 0;  ///< of what is needed: taken from owned things and offcuts
  double to_buy = 0; ///< packs, or metres
  int pack = 1;      ///< pieces in a pack
  build::Per per = build::Per::each;
  std::optional<quantity::Money> unit_price;          ///< of a pack or a metre; unset: not priced
  std::optional<quantity::Money> price;               ///< of what is to be bought
  std::optional<quantity::Money> paid = std::nullopt; ///< for what is owned of the item
  std::vector<build::PieceRef> pieces;                ///< of a clamp: the hose it closes
};

struct Category {
  std::string group;
  quantity::Money planned; ///< to be bought
  quantity::Money paid;    ///< for what is owned
};

/// Sums. All in one currency; with tax unless it is said otherwise, where the budget speaks of tax.
struct Totals {
  quantity::Money goods;               ///< still to buy, as the stock has its prices
  quantity::Money postage;             ///< as the budget has its prices
  quantity::Money tax;                 ///< in or on top of both
  quantity::Money total;               ///< still to buy: goods, postage, and the tax that is not in them
  quantity::Money without_tax;         ///< the same less the tax
  quantity::Money owned_value;         ///< what the owned things that are used would have cost
  quantity::Money spent;               ///< paid for what is owned
  quantity::Money in_all;              ///< total + spent
  std::optional<quantity::Money> left; ///< of the budget after both, negative when over
  int unpriced = 0;                    ///< lines that nothing in stock serves
  int suppliers = 0;                   ///< ordered from
  int offcuts = 0;                     ///< pieces that are left over
  std::vector<Category> categories;    ///< in the order of the shopping list; goods only
};

/// What an option has to be bought, and what for.
struct Purchase {
  Task task;
  Plan plan;
  std::vector<ShoppingLine> shopping; ///< by kind
  Totals totals;
};

/// Plans the purchase of the runs at work: see task().
[[nodiscard]] Purchase purchase(const list::Work& work, const Wishes& wishes = {});
/// Plans the purchase of an option, which must exist (an assertion).
[[nodiscard]] Purchase purchase(const build::Build& build, const build::OptionId& option,
                                const Wishes& wishes = {});

/// The shopping list and the sums as tables, "shopping" and "totals": as list::tables().
[[nodiscard]] std::vector<list::Table> tables(const Purchase& purchase);

/// Tax on an amount, rounded half away from zero to a whole minor unit: what is in it, or what comes on top.
[[nodiscard]] quantity::Money tax_on(quantity::Money amount, const build::Tax& tax);
///@}

} // namespace bellmouth::buy
