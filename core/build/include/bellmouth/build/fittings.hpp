// SPDX-License-Identifier: GPL-3.0-or-later
// What is asked of bosses and flanges alone.
#pragma once

#include <bellmouth/build/pieces.hpp>

namespace bellmouth::build {

/// How far along its host a fitting sits [m], from the host's inlet end; 0 of other shapes.
[[nodiscard]] inline double position_m(const Shape& shape) {
  return std::visit(
      [](const auto& s) {
        if constexpr (requires { s.position_m; })
          return s.position_m;
        else
          return 0.0;
      },
      shape);
}

} // namespace bellmouth::build
