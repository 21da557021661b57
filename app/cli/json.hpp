// SPDX-License-Identifier: GPL-3.0-or-later
// Results for machines.
#pragma once

#include "figures.hpp"

#include <nlohmann/json.hpp>

#include <array>
#include <iosfwd>
#include <optional>
#include <string>

namespace bellmouth::cli {

/// Keys in the order in which they were written.
using Json = nlohmann::ordered_json;

/// The value, null when it is not known.
[[nodiscard]] Json or_null(const std::optional<double>& value);
[[nodiscard]] Json json_of(const Figures& figures);
/// A place in millimetres.
[[nodiscard]] std::array<double, 3> in_mm(const std::array<double, 3>& point_m);
/// Two spaces to a level, a newline at the end.
void print(std::ostream& out, const Json& json);

} // namespace bellmouth::cli
