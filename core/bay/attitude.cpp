// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/bay/offset.hpp>

#include <algorithm>
#include <cmath>

namespace bellmouth::bay {

// The axes are the columns of Rz(left) Ry(-nose_up) Rx(over_right), the order of ISO 8855:2011, 2.
Axes axes_of(const Attitude& attitude) {
  const double cl = std::cos(attitude.left_rad), sl = std::sin(attitude.left_rad);
  const double cn = std::cos(attitude.nose_up_rad), sn = std::sin(attitude.nose_up_rad);
  const double co = std::cos(attitude.over_right_rad), so = std::sin(attitude.over_right_rad);
  return {{{cl * cn, sl * cn, sn},
           {-sl * co - cl * sn * so, cl * co - sl * sn * so, cn * so},
           {sl * so - cl * sn * co, -cl * so - sl * sn * co, cn * co}}};
}

Attitude attitude_of(const Axes& axes) {
  constexpr double nearly_upright = 1 - 1e-12;
  const double sine = std::clamp(axes[0][2], -1.0, 1.0);
  if (std::abs(sine) > nearly_upright)
    return {std::atan2(-axes[1][0], axes[1][1]), std::asin(sine), 0};
  return {std::atan2(axes[0][1], axes[0][0]), std::asin(sine), std::atan2(axes[1][2], axes[2][2])};
}

bool left_handed(const Axes& axes) {
  const auto& [a, b, c] = axes;
  return (a[1] * b[2] - a[2] * b[1]) * c[0] + (a[2] * b[0] - a[0] * b[2]) * c[1] +
             (a[0] * b[1] - a[1] * b[0]) * c[2] <
         0;
}

} // namespace bellmouth::bay
