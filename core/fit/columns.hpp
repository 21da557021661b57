// SPDX-License-Identifier: GPL-3.0-or-later
// What the words of a log's header mean.
#pragma once

#include <bellmouth/fit/log.hpp>

#include <variant>

namespace bellmouth::fit {

struct SpeedColumn {};
struct AmbientColumn {
  enum class What { pressure, temperature, relative_humidity } what;
  std::string unit; ///< empty for the humidity
};
struct IgnoredColumn {};
using Column = std::variant<SpeedColumn, AmbientColumn, IgnoredColumn, Channel>;

/// Why a word of a header does not fit.
struct Misread {
  std::string found, accepted;
};
[[nodiscard]] tl::expected<Column, Misread> read_column(const std::string& name, const build::Build& build,
                                                        const build::Option& option);

} // namespace bellmouth::fit
