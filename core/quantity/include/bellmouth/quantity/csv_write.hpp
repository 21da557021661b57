// SPDX-License-Identifier: GPL-3.0-or-later
// Writing comma-separated values (RFC 4180).
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace bellmouth::quantity {

/// Appends one record, ended by CRLF. A cell that holds the delimiter, a quotation mark or a line break, or
/// begins or ends with a space, is put in quotation marks, those within it doubled.
void append_csv_record(std::string& text, std::span<const std::string> cells, char delimiter = ',');

} // namespace bellmouth::quantity
