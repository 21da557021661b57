// SPDX-License-Identifier: GPL-3.0-or-later
// Results as keys and values. A key carries its unit as suffix ("density_kg_m3"), for machines as it stands,
// for people taken apart.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace bellmouth::cli {

/// A number in the unit that its key says, a word, or nothing: not known.
using Figure = std::variant<std::monostate, double, std::string>;
/// In the order in which they are to be read.
using Figures = std::vector<std::pair<std::string_view, Figure>>;

/// What a key says: the words and the unit in which people read it ("density", "kg/m3"); the unit is empty
/// for a plain number.
struct Meaning {
  std::string words;
  std::string_view unit;
  double factor; ///< from the key's unit to that
};
[[nodiscard]] Meaning meaning_of(std::string_view key);

/// For people: six significant digits in the unit of `meaning`, '-' for nothing.
[[nodiscard]] std::string text(const Figure& figure, const Meaning& meaning);

} // namespace bellmouth::cli
