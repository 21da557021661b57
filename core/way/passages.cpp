// SPDX-License-Identifier: GPL-3.0-or-later
#include "passages.hpp"

#include <queue>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <unordered_map>

namespace bellmouth::way {

using bay::dot, bay::length, bay::minus, bay::plus;

namespace {

constexpr double grid_m = 18e-3;
/// How far a place may lie off the grid, and what it may lack even so.
constexpr double ease_m = 0.6 * grid_m, passable_m = 4e-3;
/// A place that lacks this much counts double.
constexpr double dear_m = 1e-3;
constexpr std::size_t most_places = 150'000;

using Index = std::array<std::int32_t, 3>;

std::uint64_t key_of(const Index& index) {
  std::uint64_t key = 0;
  for (const std::int32_t i : index)
    key = (key << 21U) | static_cast<std::uint64_t>(i + (1 << 20));
  return key;
}

/// A number from 0 to before 1 for a region of space.
double drawn_for(const Index& index, std::uint64_t salt) {
  constexpr std::int32_t region = 6;
  std::uint64_t z = salt;
  for (const std::int32_t i : index) {
    z ^= static_cast<std::uint64_t>((i + (1 << 20)) / region) + 0x9E3779B97F4A7C15U + (z << 6U) + (z >> 2U);
    z *= 0xBF58476D1CE4E5B9U;
    z ^= z >> 29U;
  }
  return static_cast<double>(z >> 11U) * 0x1p-53;
}

struct Place {
  Index index{};
  Vector point{};
  double so_far = std::numeric_limits<double>::infinity(), dearness = std::numeric_limits<double>::infinity();
  std::uint32_t before = 0;
  bool is_done = false;
};

} // namespace

std::optional<Path> passage(const Problem& problem, const FreeSpace& space, double radius_m,
                            const Easing& ease, double liking, Random& random) {
  const Vector from =
      plus(problem.start.position_m, problem.start.straight_m + 0.4 * radius_m, problem.start.direction);
  const Vector to =
      plus(problem.end.position_m, problem.end.straight_m + 0.4 * radius_m, problem.end.direction);
  const std::uint64_t salt = random.next();
  const auto at = [&](const Index& index) {
    Vector point = from;
    for (std::size_t i = 0; i < 3; ++i)
      point[i] += grid_m * index[i];
    return point;
  };
  std::unordered_map<std::uint64_t, std::uint32_t> known;
  std::vector<Place> places;
  const auto place_at = [&](const Index& index) {
    const auto [entry, is_new] = known.try_emplace(key_of(index), static_cast<std::uint32_t>(places.size()));
    if (is_new) {
      Place place{index, at(index)};
      if (space.is_inside(place.point)) {
        const double lacks = ease(place.point, ease_m);
        if (lacks <= passable_m)
          place.dearness = (1 + lacks * lacks / (dear_m * dear_m)) * (1 + liking * drawn_for(index, salt));
      }
      places.push_back(place);
    }
    return entry->second;
  };
  using Open = std::pair<double, std::uint32_t>;
  std::priority_queue<Open, std::vector<Open>, std::greater<>> open;
  const auto push = [&](std::uint32_t place) {
    open.emplace(places[place].so_far + length(minus(to, places[place].point)), place);
  };
  const std::uint32_t first = place_at({0, 0, 0});
  places[first].so_far = 0;
  places[first].dearness = 1;
  places[first].before = first;
  push(first);
  while (!open.empty() && places.size() < most_places) {
    const std::uint32_t here = open.top().second;
    open.pop();
    if (places[here].is_done)
      continue;
    places[here].is_done = true;
    const Index index = places[here].index;
    if (length(minus(to, places[here].point)) < 1.2 * grid_m) {
      Path path{problem.end.position_m, to};
      for (std::uint32_t k = here; k != first; k = places[k].before)
        path.push_back(places[k].point);
      path.push_back(from);
      path.push_back(problem.start.position_m);
      std::ranges::reverse(path);
      return path;
    }
    for (std::int32_t x = -1; x <= 1; ++x)
      for (std::int32_t y = -1; y <= 1; ++y)
        for (std::int32_t z = -1; z <= 1; ++z) {
          if (x == 0 && y == 0 && z == 0)
            continue;
          const std::uint32_t next = place_at({index[0] + x, index[1] + y, index[2] + z});
          if (places[next].is_done || std::isinf(places[next].dearness))
            continue;
          const double step_m = length(minus(places[next].point, places[here].point));
          const double so_far =
              places[here].so_far + step_m * 0.5 * (places[here].dearness + places[next].dearness);
          if (so_far < places[next].so_far) {
            places[next].so_far = so_far;
            places[next].before = here;
            push(next);
          }
        }
  }
  return std::nullopt;
}

Corners corners_along(const Problem& problem, const Path& path, std::size_t turns) {
  // Corner 0 and the last lie on the ports' axes: where the path is nearest to leaving them. Between, the
  // best choice of the path's points (dynamic programming over pairs of points).
  const std::size_t m = path.size();
  const auto deviation = [&](std::size_t a, std::size_t b) {
    const Vector side = minus(path[b], path[a]);
    const double side2 = std::max(dot(side, side), 1e-12);
    double sum = 0;
    for (std::size_t i = a + 1; i < b; ++i) {
      const Vector off = minus(path[i], path[a]);
      const double along = std::clamp(dot(off, side) / side2, 0.0, 1.0);
      const Vector across = plus(off, -along, side);
      sum += dot(across, across);
    }
    return sum;
  };
  std::vector<std::vector<double>> pair(m, std::vector<double>(m, 0));
  for (std::size_t a = 0; a < m; ++a)
    for (std::size_t b = a + 2; b < m; ++b)
      pair[a][b] = deviation(a, b);
  // The first side may only go as far as the path keeps to the axis; what it leaves it by counts.
  const auto off_axis = [&](const End& end, std::size_t i) {
    const Vector off = minus(path[i], end.position_m);
    const Vector across = plus(off, -dot(off, end.direction), end.direction);
    return 4 * dot(across, across);
  };
  constexpr double never = std::numeric_limits<double>::infinity();
  std::vector<std::vector<double>> least(turns + 1, std::vector<double>(m, never));
  std::vector<std::vector<std::size_t>> before(turns + 1, std::vector<std::size_t>(m, 0));
  for (std::size_t i = 1; i + 1 < m; ++i)
    least[1][i] = pair[0][i] + off_axis(problem.start, i);
  for (std::size_t t = 2; t <= turns; ++t)
    for (std::size_t i = t; i + 1 < m; ++i)
      for (std::size_t k = t - 1; k < i; ++k) {
        const double sum = least[t - 1][k] + pair[k][i];
        if (sum < least[t][i]) {
          least[t][i] = sum;
          before[t][i] = k;
        }
      }
  std::size_t at = m - 2;
  double best = never;
  for (std::size_t i = turns; i + 1 < m; ++i) {
    const double sum = least[turns][i] + pair[i][m - 1] + off_axis(problem.end, i);
    if (sum < best) {
      best = sum;
      at = i;
    }
  }
  Corners corners{};
  for (std::size_t t = turns; t >= 1; --t) {
    corners[t - 1] = path[at];
    at = before[t][at];
  }
  const auto onto_axis = [](const End& end, const Vector& point) {
    const double along = std::max(dot(minus(point, end.position_m), end.direction), end.straight_m);
    return plus(end.position_m, along, end.direction);
  };
  corners[0] = onto_axis(problem.start, corners[0]);
  if (turns > 1)
    corners[turns - 1] = onto_axis(problem.end, corners[turns - 1]);
  return corners;
}

} // namespace bellmouth::way
