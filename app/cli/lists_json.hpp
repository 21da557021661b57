// SPDX-License-Identifier: GPL-3.0-or-later
// The lists for machines.
#pragma once

#include "json.hpp"

#include <bellmouth/list.hpp>

namespace bellmouth::cli {

/// shopping[], cuts[], clamps[], reducers[], fittings[], totals.
[[nodiscard]] Json json_of(const list::Lists& lists);

} // namespace bellmouth::cli
