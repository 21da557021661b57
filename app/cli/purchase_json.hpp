// SPDX-License-Identifier: GPL-3.0-or-later
// A purchase as JSON.
#pragma once

#include "json.hpp"

#include <bellmouth/buy.hpp>

#include <string_view>

namespace bellmouth::cli {

/// shopping[], uses[] (what comes out of each bought or owned thing), totals, plan. Money in whole units of
/// the currency.
[[nodiscard]] Json json_of(const build::Build& build, const buy::Purchase& purchase);
/// The word for an aim: "money", "suppliers", "offcuts".
[[nodiscard]] std::string_view text(buy::Aim aim);

} // namespace bellmouth::cli
