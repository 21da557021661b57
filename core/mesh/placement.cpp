// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/mesh.hpp>

#include <algorithm>
#include <cassert>

namespace bellmouth::mesh {

double metres(Unit unit) {
  switch (unit) {
  case Unit::millimetre:
    return 1e-3;
  case Unit::centimetre:
    return 1e-2;
  case Unit::metre:
    return 1;
  case Unit::inch:
    return 25.4e-3;
  }
  assert(false);
  return 1;
}

Extent extent(const Surface& surface) {
  assert(!surface.points.empty());
  Extent result{surface.points.front(), surface.points.front()};
  for (const Point& point : surface.points)
    for (std::size_t i = 0; i < 3; ++i) {
      result.low[i] = std::min(result.low[i], point[i]);
      result.high[i] = std::max(result.high[i], point[i]);
    }
  return result;
}

Point Placement::to_bay(const Point& in_file) const {
  Point result = origin_m;
  for (std::size_t axis = 0; axis < 3; ++axis)
    for (std::size_t i = 0; i < 3; ++i)
      result[i] += axes[axis][i] * scale * in_file[axis];
  return result;
}

Point Placement::to_file(const Point& in_bay_m) const {
  Point result{};
  for (std::size_t axis = 0; axis < 3; ++axis)
    for (std::size_t i = 0; i < 3; ++i)
      result[axis] += axes[axis][i] * (in_bay_m[i] - origin_m[i]) / scale;
  return result;
}

} // namespace bellmouth::mesh
