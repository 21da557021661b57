// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/mesh.hpp>

#include <algorithm>
#include <cmath>
#include <unordered_map>
#include <unordered_set>

namespace bellmouth::mesh {

namespace {

/// A cell of the grid that joins the points within it: 21 bits for each axis.
using Cell = std::uint64_t;
constexpr double cells_at_most = 1U << 20U;

std::vector<Cell> cells(const Surface& surface, const Point& origin, double size) {
  std::vector<Cell> result;
  result.reserve(surface.points.size());
  const double per_size = 1 / size;
  for (const Point& point : surface.points) {
    Cell cell = 0;
    for (std::size_t axis = 0; axis < 3; ++axis)
      cell = cell << 21U | static_cast<Cell>((point[axis] - origin[axis]) * per_size);
    result.push_back(cell);
  }
  return result;
}

/// Whether the triangle's corners lie in three cells, so that it remains.
bool remains(const Triangle& triangle, const std::vector<Cell>& cell_of) {
  const Cell a = cell_of[triangle[0]], b = cell_of[triangle[1]], c = cell_of[triangle[2]];
  return a != b && b != c && c != a;
}

std::size_t remaining(const Surface& surface, const std::vector<Cell>& cell_of) {
  return static_cast<std::size_t>(std::ranges::count_if(
      surface.triangles, [&](const Triangle& triangle) { return remains(triangle, cell_of); }));
}

/// Joins the points of each cell into their mean.
Surface joined(const Surface& surface, const std::vector<Cell>& cell_of) {
  struct Cluster {
    Point mean{};
    double members = 0;
  };
  std::unordered_map<Cell, std::uint32_t> number_of;
  std::vector<Cluster> clusters;
  std::vector<std::uint32_t> joined_to(surface.points.size());
  for (std::size_t i = 0; i < surface.points.size(); ++i) {
    const auto [found, is_new] =
        number_of.try_emplace(cell_of[i], static_cast<std::uint32_t>(clusters.size()));
    joined_to[i] = found->second;
    if (is_new)
      clusters.emplace_back();
    // A running mean, which does not lose digits to large sums.
    Cluster& cluster = clusters[found->second];
    ++cluster.members;
    for (std::size_t axis = 0; axis < 3; ++axis)
      cluster.mean[axis] += (surface.points[i][axis] - cluster.mean[axis]) / cluster.members;
  }
  // Two sides of a thin sheet may fall into one: a triangle is kept once.
  const auto hash = [](const Triangle& sorted) {
    std::uint64_t mixed = 0;
    for (const std::uint32_t corner : sorted)
      mixed = (mixed ^ corner) * 0x9E3779B97F4A7C15ULL;
    return static_cast<std::size_t>(mixed ^ mixed >> 32U);
  };
  std::unordered_set<Triangle, decltype(hash)> seen(0, hash);
  Surface result;
  constexpr auto unused = std::numeric_limits<std::uint32_t>::max();
  std::vector<std::uint32_t> point_of(clusters.size(), unused);
  for (const Triangle& triangle : surface.triangles) {
    if (!remains(triangle, cell_of))
      continue;
    Triangle corners{joined_to[triangle[0]], joined_to[triangle[1]], joined_to[triangle[2]]};
    Triangle sorted = corners;
    std::ranges::sort(sorted);
    if (!seen.insert(sorted).second)
      continue;
    for (std::uint32_t& corner : corners) {
      if (point_of[corner] == unused) {
        point_of[corner] = static_cast<std::uint32_t>(result.points.size());
        result.points.push_back(clusters[corner].mean);
      }
      corner = point_of[corner];
    }
    result.triangles.push_back(corners);
  }
  return result;
}

} // namespace

Surface thinned(const Surface& surface, std::size_t triangles) {
  if (surface.triangles.size() <= triangles)
    return surface;
  const Extent box = extent(surface);
  double longest = 0;
  for (std::size_t axis = 0; axis < 3; ++axis)
    longest = std::max(longest, box.high[axis] - box.low[axis]);
  if (!(longest > 0))
    return {};
  // Between a grid that joins next to nothing and one cell for all, halving the exponent.
  double small = longest / cells_at_most, large = 2 * longest;
  constexpr int halvings = 24;
  for (int i = 0; i < halvings; ++i) {
    const double size = std::sqrt(small * large);
    const std::size_t count = remaining(surface, cells(surface, box.low, size));
    (count > triangles ? small : large) = size;
    if (count <= triangles && count >= triangles - triangles / 20)
      break;
  }
  return joined(surface, cells(surface, box.low, large));
}

} // namespace bellmouth::mesh
