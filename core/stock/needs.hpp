// SPDX-License-Identifier: GPL-3.0-or-later
// The sizes without which nobody knows what an item is.
#pragma once

#include <bellmouth/stock/table.hpp>

namespace bellmouth::stock {

/// The first field that an item of its kind needs and does not have.
[[nodiscard]] std::optional<Field> missing_field(const build::StockItem& item);

/// An id of kind, material and sizes: "tube-aluminium-63.5-2". The same for items that are alike in these.
[[nodiscard]] std::string made_id(const build::StockItem& item);

/// The id, or with "-2" behind it or the next free number; `is_free` says of an id whether it is.
template <class IsFree> [[nodiscard]] std::string free_id(const std::string& id, const IsFree& is_free) {
  std::string tried = id;
  for (int number = 2; !is_free(tried); ++number)
    tried = id + "-" + std::to_string(number);
  return tried;
}

} // namespace bellmouth::stock
