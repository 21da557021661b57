// SPDX-License-Identifier: GPL-3.0-or-later
#include "gltf_motion.hpp"

#include <cmath>

namespace bellmouth::mesh {

Motion motion_of(const Asked& node) {
  if (const auto matrix = node.find("matrix")) {
    const auto m = matrix->numbers<16>();
    if (m[3] != 0 || m[7] != 0 || m[11] != 0 || m[15] != 1)
      matrix->fault("a perspective", "a matrix whose last row is 0 0 0 1");
    return {{{{m[0], m[1], m[2]}, {m[4], m[5], m[6]}, {m[8], m[9], m[10]}}}, {m[12], m[13], m[14]}};
  }
  Motion motion;
  if (const auto rotation = node.find("rotation")) {
    const auto [x, y, z, w] = rotation->numbers<4>();
    const double length = x * x + y * y + z * z + w * w;
    if (!(std::abs(length - 1) < 0.01))
      rotation->fault("a quaternion of unit length");
    const double s = 2 / length;
    motion.columns = {{{1 - s * (y * y + z * z), s * (x * y + z * w), s * (x * z - y * w)},
                       {s * (x * y - z * w), 1 - s * (x * x + z * z), s * (y * z + x * w)},
                       {s * (x * z + y * w), s * (y * z - x * w), 1 - s * (x * x + y * y)}}};
  }
  if (const auto scale = node.find("scale")) {
    const auto factors = scale->numbers<3>();
    for (std::size_t axis = 0; axis < 3; ++axis)
      for (double& each : motion.columns[axis])
        each *= factors[axis];
  }
  if (const auto translation = node.find("translation"))
    motion.origin = translation->numbers<3>();
  return motion;
}

} // namespace bellmouth::mesh
