// SPDX-License-Identifier: GPL-3.0-or-later
// What a piece comes near, by name.
#pragma once

#include <bellmouth/bay/clearance.hpp>

#include <string>

namespace bellmouth::bay {

/// "exhaust manifold", "keep-out 3" for one without a name, "the spigot of port cooler in", "row 3 (tube) of
/// hot side", rows counted from 1. The neighbour must be one of the option's (an assertion).
[[nodiscard]] std::string name_of(const build::Build& build, const build::Option& option,
                                  const Neighbour& neighbour);

} // namespace bellmouth::bay
