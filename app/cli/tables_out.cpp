// SPDX-License-Identifier: GPL-3.0-or-later
#include "tables_out.hpp"

#include "table.hpp"

#include <ostream>

namespace bellmouth::cli {

namespace {

std::string title_of(std::string name) {
  if (!name.empty() && name.front() >= 'a' && name.front() <= 'z')
    name.front() = static_cast<char>(name.front() - 'a' + 'A');
  return name;
}

} // namespace

void print_tables(std::ostream& out, const std::vector<list::Table>& tables) {
  for (const list::Table& table : tables)
    print_section(out, title_of(table.name), table.header, table.rows);
}

Result<void> save_tables(const std::filesystem::path& folder, const std::vector<list::Table>& tables,
                         std::ostream& err) {
  std::error_code trouble;
  std::filesystem::create_directories(folder, trouble);
  if (trouble || !std::filesystem::is_directory(folder, trouble)) {
    Error error;
    error.place.file = folder.string();
    error.found = trouble ? trouble.message() : "no folder";
    error.accepted = "a folder that can be written to";
    return fail(std::move(error));
  }
  for (const list::Table& table : tables) {
    const std::filesystem::path file = folder / (table.name + ".csv");
    if (auto saved = build::save_text(file, list::csv(table)); !saved)
      return saved;
    err << "written: " << file.string() << '\n';
  }
  return {};
}

} // namespace bellmouth::cli
