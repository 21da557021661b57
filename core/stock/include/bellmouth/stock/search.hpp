// SPDX-License-Identifier: GPL-3.0-or-later
// Finding items in a long stock list.
#pragma once

#include <bellmouth/build.hpp>

#include <string_view>

namespace bellmouth::stock {

/// Whether every word of `words` (divided by spaces, capitals do not matter) is found in the item: within
/// its id, name, kind, material, thread, kind of clamp, lining or supplier, or, where the word is a number,
/// as one of its sizes in millimetres or degrees, or a diameter within a clamp's range. Nothing asked for
/// finds all.
[[nodiscard]] bool matches(const build::StockItem& item, std::string_view words);

} // namespace bellmouth::stock
