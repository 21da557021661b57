// SPDX-License-Identifier: GPL-3.0-or-later
// What a heading says.
#pragma once

#include <bellmouth/stock/table.hpp>

namespace bellmouth::stock {

struct Heading {
  std::optional<Field> field; ///< unset: not known
  std::string unit;           ///< by symbol; empty: not said
  std::optional<quantity::Currency> currency;
  bool per_metre = false; ///< "price per metre"
};
[[nodiscard]] Heading read_heading(std::string_view text);

/// A currency by its code, or by a sign that stands for one only.
[[nodiscard]] std::optional<quantity::Currency> find_currency(std::string_view text);

} // namespace bellmouth::stock
