// SPDX-License-Identifier: GPL-3.0-or-later
// The limits that hold for a build: the trade's, with the user's changes.
#pragma once

#include <bellmouth/build/document.hpp>
#include <bellmouth/trade.hpp>

namespace bellmouth::build {

/// The changes must be valid (validate() says so).
[[nodiscard]] trade::Limits limits_of(const Build& build);

} // namespace bellmouth::build
