// SPDX-License-Identifier: GPL-3.0-or-later
// What else is asked of fields and columns.
#pragma once

#include <bellmouth/stock/table.hpp>

namespace bellmouth::stock {

/// The field that our JSON keeps under a key such as "outer_diameter_mm".
[[nodiscard]] std::optional<Field> field_of_json_key(std::string_view key);
/// Whether two columns with these fields would say the same thing.
[[nodiscard]] bool exclude_each_other(Field one, Field other);
/// "column 7 (wall [mm])".
[[nodiscard]] std::string column_words(const RawTable& table, std::size_t column);

} // namespace bellmouth::stock
