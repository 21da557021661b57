// SPDX-License-Identifier: GPL-3.0-or-later
// A stock list as a file that its owner can change elsewhere and take in again.
#pragma once

#include <bellmouth/build.hpp>

#include <span>
#include <string>

namespace bellmouth::stock {

/// How a table is written.
struct TableWriting {
  char delimiter = ','; ///< ',', ';' or '\t'
  char decimal = '.';   ///< '.' or ','
};
/// CSV (RFC 4180, UTF-8, CRLF): a heading, then one row for each item, all fields (see fields()) with their
/// units in the heading. Taken in again it gives the same items, and the same that is owned. What is not
/// owned is left open; owned things of other items are left out.
[[nodiscard]] std::string csv(std::span<const build::StockItem> items,
                              std::span<const build::Owned> owned = {}, const TableWriting& writing = {});
/// JSON in the format "bellmouth-stock/1". All prices must be of one currency (an assertion).
[[nodiscard]] std::string json(std::span<const build::StockItem> items, std::span<const build::Owned> owned,
                               const quantity::Currency& currency);

} // namespace bellmouth::stock
