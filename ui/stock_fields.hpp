// SPDX-License-Identifier: GPL-3.0-or-later
// Which fields an item of the stock has in its sheet.
#pragma once

#include "form.hpp"

#include <bellmouth/build.hpp>

#include <optional>
#include <vector>

namespace bellmouth::ui {

/// An item with what is owned of it.
struct StockEntry {
  build::StockItem item;
  double owned = 0; ///< pieces, or metres
  std::optional<quantity::Money> paid;
  friend bool operator==(const StockEntry&, const StockEntry&) = default;
};

/// The fields; those that the item's kind has not are not shown.
[[nodiscard]] std::vector<FormRow<StockEntry>> stock_fields();

} // namespace bellmouth::ui
