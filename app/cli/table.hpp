// SPDX-License-Identifier: GPL-3.0-or-later
// Tables of plain text: a header, columns aligned by what stands in them, nothing else.
#pragma once

#include <iosfwd>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::cli {

/// Cells of one row; one for each column.
using Cells = std::vector<std::string>;

/// What stands in a table for a value that is not known.
inline constexpr std::string_view unknown = "-";

/// A number with a fixed count of decimals; '-' when there is none.
[[nodiscard]] std::string fixed(double value, int decimals);
[[nodiscard]] std::string fixed(const std::optional<double>& value, int decimals);

/// Prints rows under a header, with a rule between. Columns that hold nothing but numbers (or '-') are flush
/// right. Widths are counted in code points, so that "°" is as wide as it looks.
void print_table(std::ostream& out, const Cells& header, const std::vector<Cells>& rows);
/// A title over it, an empty line behind; nothing at all when there are no rows.
void print_section(std::ostream& out, std::string_view title, const Cells& header,
                   const std::vector<Cells>& rows);

} // namespace bellmouth::cli
