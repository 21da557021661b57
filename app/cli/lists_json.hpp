// SPDX-License-Identifier: GPL-3.0-or-later
// The lists for machines.
#pragma once

#include "json.hpp"

#include <bellmouth/list.hpp>

namespace bellmouth::cli {

/// Each list under the name of its table, the cut list as "cuts".
[[nodiscard]] Json json_of(const list::Lists& lists);

} // namespace bellmouth::cli
