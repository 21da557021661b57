// SPDX-License-Identifier: GPL-3.0-or-later
// Taking a stock list into a build: first a look at what would come of it, then, when asked to, the items.
#pragma once

#include <bellmouth/stock/table.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace bellmouth::stock {

/// How an item of a list stands to the stock of a build.
enum class Against {
  fresh,   ///< no item of the build has its id
  changed, ///< one has, and differs, or what is owned of it does
  same     ///< one has and is alike
};
/// "new", "changed" or "same".
[[nodiscard]] std::string_view word(Against against);

/// A row that can be taken.
struct GoodRow {
  std::size_t number = 0; ///< as RawRow::number; of JSON the number of the item, counted from 1
  build::StockItem item;
  std::optional<double> owned;         ///< unset: the list does not say
  std::optional<quantity::Money> paid; ///< for what is owned; unset: the list does not say
  bool id_made = false;                ///< the list gave no id
  Against against = Against::fresh;
};
/// A row that cannot, and why: `error.place.path` is "row 12, wall [mm]", with the line it begins in.
struct BadRow {
  std::size_t number = 0;
  Error error;
};
/// What would come of a list. Nothing is changed by making one.
struct Preview {
  std::vector<GoodRow> good; ///< in the order of the list
  std::vector<BadRow> bad;   ///< in the order of the list
  /// Columns that are not used, "column 7 (colour)"; of JSON none.
  std::vector<std::string> unused;
  /// What was taken to be so because the list does not say, in whole sentences: "no column says the
  /// currency: prices are taken as EUR, the build's".
  std::vector<std::string> taken_as;

  [[nodiscard]] std::size_t count(Against against) const;
};

/// Reads every row by the mapping, and checks each item as the document does, and that it has the sizes that
/// its kind needs:
///   tube                    outer diameter, wall; length where it is sold by the piece
///   tube bend, mitred bend  outer diameter, wall, angle, centre-line radius, both legs
///   cone                    both bores, wall, length
///   adapter                 both bores, wall, length
///   hose, hump hose         bore, wall; length where it is sold by the piece
///   hose elbow              bore, wall, angle, centre-line radius, both legs
///   hose reducer            both bores, wall, length
///   sensor boss             thread
///   valve flange            bore
///   clamp                   the range of diameters
/// and a price; of all but clamps a material. Two ids that are alike: the second row is bad. An id that is
/// missing is made of kind, material and sizes, the same for the same list every time. A price in another
/// currency than the build's makes a row bad: nothing is converted. Errors: see validate(table, mapping).
[[nodiscard]] Result<Preview> preview(const RawTable& table, const Mapping& mapping,
                                      const build::Build& build);
/// The same of a list in our own format, "bellmouth-stock/1". An item that is wrong is a bad row; it need not
/// have all sizes of its kind, as in a build. Errors: a text that is no such list at all, or one in another
/// currency than the build's.
[[nodiscard]] Result<Preview> preview_json(std::string_view text, std::string file,
                                           const build::Build& build);

/// What becomes of a good row whose id the build has for something else.
enum class OnClash {
  replace,   ///< the build's item becomes the list's; pieces that name it name it still
  keep_both, ///< the list's comes in under a new id: its own with "-2" behind it, or the next free number
  skip       ///< the build's stays
};
/// "replace", "keep-both", "skip".
[[nodiscard]] std::string_view key(OnClash on_clash);

/// The build with the good rows taken in: new items behind its own, in the order of the list. What is owned
/// follows where the list says it: so much and no more, nothing where it says 0. Items that are alike change
/// nothing but what is owned. Errors: more items than a build holds. The preview must be of this build.
[[nodiscard]] Result<build::Build> take(const build::Build& build, const Preview& preview, OnClash on_clash);

} // namespace bellmouth::stock
