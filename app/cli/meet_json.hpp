// SPDX-License-Identifier: GPL-3.0-or-later
// A run brought onto its port, for machines.
#pragma once

#include "json.hpp"

#include <bellmouth/route.hpp>

namespace bellmouth::cli {

/// All that was found. `build` is the one that was given.
[[nodiscard]] Json json_of(const build::Build& build, const build::Option& option, const build::Run& run,
                           const std::vector<route::Freedom>& freedoms, const route::Met& met);

} // namespace bellmouth::cli
