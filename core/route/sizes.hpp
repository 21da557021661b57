// SPDX-License-Identifier: GPL-3.0-or-later
// How far sizes may go, and how they are written.
#pragma once

#include <bellmouth/route.hpp>

#include <array>

namespace bellmouth::route {

inline constexpr std::array<What, 5> all_sizes{What::length, What::leg_in, What::leg_out, What::clocking,
                                               What::angle};

/// The range that a size can have at all, whatever is wanted: hoses hold their engagement, straight hosts
/// reach behind their fittings.
struct Range {
  double low, high;
};
[[nodiscard]] Range possible(const build::Run& run, std::size_t row, What what);

/// How far along a piece its last fitting sits [m]; 0 without.
[[nodiscard]] double last_fitting_m(const build::Run& run, std::size_t row);

/// Of the arc of a bend [m].
[[nodiscard]] double radius_m(const build::Shape& shape);

/// "12.5 mm", "45°".
[[nodiscard]] std::string written(What what, double value);

/// A run of an option in another form. Both must be there.
[[nodiscard]] build::Build with_run(const build::Build& build, const build::OptionId& option, build::Run run);

} // namespace bellmouth::route
