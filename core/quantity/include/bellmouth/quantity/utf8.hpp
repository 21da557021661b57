// SPDX-License-Identifier: GPL-3.0-or-later
// What is UTF-8 and what is not (RFC 3629).
#pragma once

#include <cstddef>
#include <string_view>

namespace bellmouth::quantity {

/// Bytes of the well-formed character at the start of `text`; 0 when there is none.
[[nodiscard]] std::size_t character_length(std::string_view text);

} // namespace bellmouth::quantity
