// SPDX-License-Identifier: GPL-3.0-or-later
// Tables as comma-separated values.
#include <bellmouth/list.hpp>
#include <bellmouth/quantity/csv_write.hpp>

namespace bellmouth::list {

std::string csv(const Table& table) {
  std::string out;
  quantity::append_csv_record(out, table.header);
  for (const auto& row : table.rows)
    quantity::append_csv_record(out, row);
  return out;
}

} // namespace bellmouth::list
