// SPDX-License-Identifier: GPL-3.0-or-later
#include "digest.hpp"

#include <spdlog/fmt/fmt.h>

#include <bit>

namespace bellmouth::mesh {

namespace {

class Fnv1a {
public:
  template <class Unsigned> void take(Unsigned value) {
    for (std::size_t i = 0; i < sizeof value; ++i) {
      hash_ ^= static_cast<std::uint64_t>(value & 0xFFU);
      hash_ *= 0x100000001b3ULL;
      value >>= 8U;
    }
  }
  [[nodiscard]] std::uint64_t hash() const { return hash_; }

private:
  std::uint64_t hash_ = 0xcbf29ce484222325ULL;
};

} // namespace

std::string digest(const Surface& surface) {
  Fnv1a fnv;
  for (const Point& point : surface.points)
    for (const double x : point)
      fnv.take(std::bit_cast<std::uint64_t>(x));
  for (const Triangle& triangle : surface.triangles)
    for (const std::uint32_t corner : triangle)
      fnv.take(corner);
  return fmt::format("{:016x}", fnv.hash());
}

} // namespace bellmouth::mesh
