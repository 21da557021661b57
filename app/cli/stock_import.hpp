// SPDX-License-Identifier: GPL-3.0-or-later
// Taking a stock list into a build at the prompt: what is typed, and what is shown of it.
#pragma once

#include "json.hpp"
#include "refusal.hpp"

#include <bellmouth/stock/import.hpp>

#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace bellmouth::cli {

/// As typed.
struct ImportArguments {
  std::optional<std::string> file, unit, delimiter, decimal, take, on_clash;
  std::vector<std::string> map, set;
};
void state_import(CLI::App& app, ImportArguments& arguments);
/// The first flag that means nothing without --import, if one was given.
[[nodiscard]] std::optional<std::string_view> stray_flag(const ImportArguments& arguments);

/// A list as it was looked at.
struct Looked {
  std::optional<stock::RawTable> table; ///< unset: the list is JSON
  stock::Mapping mapping;
  stock::Preview preview;
  stock::OnClash on_clash = stock::OnClash::replace;
  bool take_good = false; ///< take the good rows though others are bad
};
/// Reads the file that --import names and looks at it for a build.
[[nodiscard]] tl::expected<Looked, Refusal> look_at(const ImportArguments& arguments,
                                                    const build::Build& build);

void print_preview(std::ostream& out, const std::string& file, const Looked& looked);
[[nodiscard]] Json json_of(const std::string& file, const Looked& looked);
/// Items with what is owned of them, under the keys of "bellmouth-stock/1" but its format.
[[nodiscard]] Json json_of(const std::vector<build::StockItem>& items, const std::vector<build::Owned>& owned,
                           const quantity::Currency& currency);

} // namespace bellmouth::cli
