// SPDX-License-Identifier: GPL-3.0-or-later
#include "json.hpp"

#include <ostream>

namespace bellmouth::cli {

Json or_null(const std::optional<double>& value) {
  return value ? Json(*value) : Json(nullptr);
}

Json json_of(const Figures& figures) {
  Json json = Json::object();
  for (const auto& [key, figure] : figures) {
    Json& value = json[std::string(key)];
    if (const auto* number = std::get_if<double>(&figure))
      value = *number;
    else if (const auto* word = std::get_if<std::string>(&figure))
      value = *word;
  }
  return json;
}

std::array<double, 3> in_mm(const std::array<double, 3>& point_m) {
  return {point_m[0] * 1e3, point_m[1] * 1e3, point_m[2] * 1e3};
}

void print(std::ostream& out, const Json& json) {
  out << json.dump(2, ' ', false, Json::error_handler_t::replace) << '\n';
}

} // namespace bellmouth::cli
