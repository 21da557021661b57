// SPDX-License-Identifier: GPL-3.0-or-later
// The stock lists that come along, as tests read them.
#pragma once

#include <bellmouth/stock.hpp>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <functional>
#include <iterator>
#include <stdexcept>
#include <string>
#include <vector>

namespace bellmouth::stock {

inline constexpr double inch_mm = 25.4;

struct List {
  std::string name, text;
  std::vector<build::StockItem> items;

  [[nodiscard]] bool is_metric() const { return name == "metric"; }
};

[[nodiscard]] inline std::string file_text(const std::string& name) {
  const std::string path = std::string(BELLMOUTH_SHARED_DIR) + "/stock/" + name;
  std::ifstream file(path, std::ios::binary);
  if (!file)
    throw std::runtime_error("stock list missing: " + path);
  return {std::istreambuf_iterator<char>(file), {}};
}
[[nodiscard]] inline List load(const std::string& name) {
  List list{name, file_text(name + ".json"), {}};
  auto items = build::read_stock(list.text, name);
  if (!items)
    throw std::runtime_error(items.error().text());
  list.items = *std::move(items);
  return list;
}
[[nodiscard]] inline std::vector<List> lists() {
  return {load("metric"), load("inch")};
}

[[nodiscard]] inline bool is_hose(const build::StockItem& item) {
  using build::StockKind;
  return item.kind == StockKind::hose || item.kind == StockKind::hump_hose ||
         item.kind == StockKind::hose_elbow || item.kind == StockKind::hose_reducer;
}

/// Sizes that a list names in two decimals are the same within this.
[[nodiscard]] inline bool is_mm(const std::optional<double>& size_m, double size_mm) {
  return size_m && std::abs(*size_m * 1e3 - size_mm) < 0.01;
}
[[nodiscard]] inline bool among(double value_mm, const std::vector<double>& sizes_mm) {
  return std::ranges::any_of(sizes_mm, [&](double size_mm) { return std::abs(size_mm - value_mm) < 0.01; });
}

using Asks = std::function<bool(const build::StockItem&)>;
[[nodiscard]] inline bool has(const List& list, const Asks& asks) {
  return std::ranges::any_of(list.items, asks);
}

} // namespace bellmouth::stock
