// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "gltf_json.hpp"

namespace bellmouth::mesh {

/// x -> columns x + origin.
struct Motion {
  std::array<Point, 3> columns{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
  Point origin{};

  [[nodiscard]] Point turned(const Point& v) const {
    Point result{};
    for (std::size_t axis = 0; axis < 3; ++axis)
      for (std::size_t i = 0; i < 3; ++i)
        result[i] += columns[axis][i] * v[axis];
    return result;
  }
  [[nodiscard]] Point of(const Point& point) const {
    Point result = turned(point);
    for (std::size_t i = 0; i < 3; ++i)
      result[i] += origin[i];
    return result;
  }
  /// First `inner`, then this.
  [[nodiscard]] Motion after(const Motion& inner) const {
    return {{turned(inner.columns[0]), turned(inner.columns[1]), turned(inner.columns[2])}, of(inner.origin)};
  }
  [[nodiscard]] bool mirrors() const {
    const auto& [a, b, c] = columns;
    return a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) +
               a[2] * (b[0] * c[1] - b[1] * c[0]) <
           0;
  }
};

/// How a node moves what hangs on it (glTF 2.0, 3.5.3).
[[nodiscard]] Motion motion_of(const Asked& node);

} // namespace bellmouth::mesh
