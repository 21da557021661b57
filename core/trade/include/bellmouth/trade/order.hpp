// SPDX-License-Identifier: GPL-3.0-or-later
// Thresholds that make sense only in an order: a caution before its stop, the low end of a band below the
// high.
#pragma once

#include <bellmouth/trade.hpp>

#include <optional>
#include <span>
#include <string_view>

namespace bellmouth::trade {

/// The keys of two thresholds of which the first must not be above the second.
struct Ordered {
  std::string_view low, high;
};
[[nodiscard]] std::span<const Ordered> ordered();

/// The first two that stand in the wrong order, or nothing.
[[nodiscard]] std::optional<Ordered> out_of_order(const Limits& limits);

} // namespace bellmouth::trade
