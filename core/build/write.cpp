// SPDX-License-Identifier: GPL-3.0-or-later
#include "schema_maker.hpp"
#include "writer.hpp"

#include <bellmouth/build/files.hpp>
#include <bellmouth/build/stock_items.hpp>

namespace bellmouth::build {

namespace {

template <class T> std::string schema_text(std::string_view title, std::string_view description) {
  Json schema = Json::object();
  schema.add("$schema", Json::string("https://json-schema.org/draft/2020-12/schema"));
  schema.add("title", Json::string(title));
  schema.add("description", Json::string(description));
  for (Json& member : SchemaMaker::schema<T>().items)
    schema.items.push_back(std::move(member));
  return print(schema);
}

} // namespace

std::string write_build(const Build& build) {
  return print(Writer().write(build));
}

std::string write_stock(const std::vector<StockItem>& items, const quantity::Currency& currency) {
  return write_stock(StockList{currency, items, {}});
}

std::string build_schema() {
  return schema_text<Build>(
      file_format,
      "A build: machines, ports, runs of pieces, stock and money. Units stand in the names of the "
      "keys; axes are x forward, y left, z up (ISO 8855).");
}

std::string stock_schema() {
  return schema_text<StockFile>(stock_format,
                                "A list of what can be bought. Units stand in the names of the keys.");
}

} // namespace bellmouth::build
