// SPDX-License-Identifier: GPL-3.0-or-later
// Lists at the prompt and in a folder.
#pragma once

#include <bellmouth/list.hpp>

#include <filesystem>
#include <iosfwd>
#include <vector>

namespace bellmouth::cli {

/// Each table under its name.
void print_tables(std::ostream& out, const std::vector<list::Table>& tables);
/// Writes each table as a CSV file of its name into a folder, which is made if it is missing; says on `err`
/// what has been written.
[[nodiscard]] Result<void> save_tables(const std::filesystem::path& folder,
                                       const std::vector<list::Table>& tables, std::ostream& err);

} // namespace bellmouth::cli
