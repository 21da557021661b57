// SPDX-License-Identifier: GPL-3.0-or-later
// Places that a route is asked to pass, as people say them: over the rocker cover, within 50 mm of a point.
#pragma once

#include <bellmouth/way.hpp>

#include <QString>

#include <array>
#include <optional>

namespace bellmouth::ui {

enum class Passing { over, under, left, right, ahead, behind };
inline constexpr std::array all_passings{Passing::over,  Passing::under, Passing::left,
                                         Passing::right, Passing::ahead, Passing::behind};
[[nodiscard]] QString passing_word(Passing passing); ///< "over", "left of"

/// How far a keep-out reaches along a unit vector: the greatest dot product of its points with it [m].
/// Nothing where it has no end there: half-spaces, and scans that are not loaded.
[[nodiscard]] std::optional<double> reach_m(const build::KeepOut& keep_out, const build::Vector& direction);

/// The route has to pass the keep-out on that side of it: somewhere in what lies within 2 m beyond its
/// outermost point there. Nothing where it has none, or no end across.
[[nodiscard]] std::optional<way::Waypoint> waypoint_past(const build::Build& build, std::size_t keep_out,
                                                         Passing passing);
[[nodiscard]] way::Waypoint waypoint_at(const build::Vector& point_m, double radius_m);

} // namespace bellmouth::ui
