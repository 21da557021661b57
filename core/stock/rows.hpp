// SPDX-License-Identifier: GPL-3.0-or-later
// From a row of cells to an item.
#pragma once

#include <bellmouth/stock/import.hpp>

namespace bellmouth::stock {

/// What a row says, or what is wrong with it. An id that the row does not say is left empty, and `id_made`
/// set; how it stands to a build is not looked at.
[[nodiscard]] Result<GoodRow> read_row(const RawTable& table, const RawRow& row, const Mapping& mapping,
                                       const quantity::Currency& currency);

} // namespace bellmouth::stock
