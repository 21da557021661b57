// SPDX-License-Identifier: GPL-3.0-or-later
#include "line.hpp"

#include <algorithm>
#include <cassert>
#include <limits>
#include <utility>

namespace bellmouth::mesh {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr std::uint32_t leaf_triangles = 8;

/// A box round triangles. Without any, it is infinitely far from everything.
struct Box {
  Point low{infinity, infinity, infinity}, high{-infinity, -infinity, -infinity};

  void include(const Box& other) {
    for (std::size_t i = 0; i < 3; ++i) {
      low[i] = std::min(low[i], other.low[i]);
      high[i] = std::max(high[i], other.high[i]);
    }
  }
  [[nodiscard]] bool is_empty() const { return !(low[0] <= high[0]); }
  [[nodiscard]] Vector lowest() const { return {low[0], low[1], low[2]}; }
  [[nodiscard]] Vector highest() const { return {high[0], high[1], high[2]}; }
};

/// Two children with their boxes, so that both are at hand when the nearer is chosen.
struct Node {
  std::array<Box, 2> boxes;
  std::array<std::uint32_t, 2> first{}; ///< a node, or the first triangle of a leaf
  std::array<std::uint32_t, 2> count{}; ///< triangles of a leaf; 0: a node
};

/// Squared distance from a point to a box.
double squared_gap(const Box& box, const Vector& point) {
  const auto gap = [](double low, double high, double x) {
    return std::max(std::max(low - x, x - high), 0.0);
  };
  const double x = gap(box.low[0], box.high[0], point.x), y = gap(box.low[1], box.high[1], point.y),
               z = gap(box.low[2], box.high[2], point.z);
  return x * x + y * y + z * z;
}

/// A ray against boxes and triangles.
class Ray {
public:
  Ray(const Vector& from, const Vector& direction) : from_{from.point()}, direction_{direction.point()} {
    for (std::size_t i = 0; i < 3; ++i)
      if (std::abs(direction_[i]) > std::abs(direction_[main_]))
        main_ = i;
    one_ = (main_ + 1) % 3;
    other_ = (main_ + 2) % 3;
    lean_one_ = direction_[one_] / direction_[main_];
    lean_other_ = direction_[other_] / direction_[main_];
  }

  /// Where the ray enters the box; infinite when it passes by.
  [[nodiscard]] double enters(const Box& box) const {
    if (box.is_empty())
      return infinity;
    double begin = 0, end = infinity;
    for (std::size_t i = 0; i < 3; ++i) {
      const double low = box.low[i] - from_[i], high = box.high[i] - from_[i];
      if (direction_[i] == 0) {
        if (low > 0 || high < 0)
          return infinity;
        continue;
      }
      const double one = low / direction_[i], other = high / direction_[i];
      begin = std::max(begin, std::min(one, other));
      end = std::min(end, std::max(one, other) * (1 + 4 * std::numeric_limits<double>::epsilon()));
    }
    if (begin <= end)
      return begin;
    return infinity;
  }

  /// Where the ray meets the triangle. No ray slips through between neighbours, since their common side is
  /// reckoned alike for both (Woop, Benthin, Wald 2013).
  [[nodiscard]] double meets(const Corners& triangle) const {
    const Sheared a = sheared(triangle.a), b = sheared(triangle.b), c = sheared(triangle.c);
    const double u = c.one * b.other - c.other * b.one, v = a.one * c.other - a.other * c.one,
                 w = b.one * a.other - b.other * a.one;
    if ((u < 0 || v < 0 || w < 0) && (u > 0 || v > 0 || w > 0))
      return infinity;
    const double whole = u + v + w;
    if (whole == 0)
      return infinity;
    const double t = (u * a.along + v * b.along + w * c.along) / (whole * direction_[main_]);
    if (t >= 0)
      return t;
    return infinity;
  }

private:
  Point from_, direction_;
  std::size_t main_ = 0, one_ = 1, other_ = 2; ///< axes; the ray goes mostly along the main one
  double lean_one_ = 0, lean_other_ = 0;

  /// As seen along the ray.
  struct Sheared {
    double one, other, along;
  };
  [[nodiscard]] Sheared sheared(const Vector& corner) const {
    const Point to = (corner - Vector(from_)).point();
    return {to[one_] - lean_one_ * to[main_], to[other_] - lean_other_ * to[main_], to[main_]};
  }
};

} // namespace

struct Tree::Parts {
  Extent extent;
  std::vector<Node> nodes;
  std::vector<Corners> triangles;     ///< in the order of the leaves
  std::vector<std::uint32_t> numbers; ///< theirs in the surface

  explicit Parts(const Surface& surface);

  /// Goes through the triangles that may be nearer than what is known. `bound` says how near a box can be,
  /// `visit` looks at a triangle and answers how near something must be from then on.
  template <class Bound, class Visit> void descend(double limit, Bound bound, Visit visit) const;

private:
  struct Entry {
    std::array<float, 3> middle;
    std::uint32_t number;
  };
  Box build(const Surface& surface, Entry* begin, Entry* end, std::uint32_t node);
  Box add_leaf(const Surface& surface, const Entry* begin, const Entry* end);
};

Tree::Parts::Parts(const Surface& surface) {
  const std::size_t count = surface.triangles.size();
  assert(count < std::numeric_limits<std::uint32_t>::max());
  std::vector<Entry> entries(count);
  for (std::size_t i = 0; i < count; ++i) {
    const Triangle& corners = surface.triangles[i];
    entries[i].number = static_cast<std::uint32_t>(i);
    for (std::size_t axis = 0; axis < 3; ++axis)
      entries[i].middle[axis] =
          static_cast<float>((surface.points[corners[0]][axis] + surface.points[corners[1]][axis] +
                              surface.points[corners[2]][axis]) /
                             3);
  }
  if (!surface.points.empty())
    extent = mesh::extent(surface);
  triangles.reserve(count);
  numbers.reserve(count);
  nodes.reserve(count / 2 + 1);
  nodes.emplace_back();
  build(surface, entries.data(), entries.data() + count, 0);
}

Box Tree::Parts::add_leaf(const Surface& surface, const Entry* begin, const Entry* end) {
  Box box;
  for (; begin != end; ++begin) {
    const Triangle& corners = surface.triangles[begin->number];
    for (const std::uint32_t corner : corners) {
      Box one;
      for (std::size_t axis = 0; axis < 3; ++axis) {
        one.low[axis] = surface.points[corner][axis];
        one.high[axis] = surface.points[corner][axis];
      }
      box.include(one);
    }
    triangles.push_back({Vector(surface.points[corners[0]]), Vector(surface.points[corners[1]]),
                         Vector(surface.points[corners[2]])});
    numbers.push_back(begin->number);
  }
  return box;
}

Box Tree::Parts::build(const Surface& surface, Entry* begin, Entry* end, std::uint32_t node) {
  std::array<float, 3> low{}, high{};
  if (begin != end)
    low = high = begin->middle;
  for (const Entry* each = begin; each != end; ++each)
    for (std::size_t axis = 0; axis < 3; ++axis) {
      low[axis] = std::min(low[axis], each->middle[axis]);
      high[axis] = std::max(high[axis], each->middle[axis]);
    }
  std::size_t axis = 0;
  for (std::size_t other = 1; other < 3; ++other)
    if (high[other] - low[other] > high[axis] - low[axis])
      axis = other;
  Entry* middle = begin + (end - begin) / 2;
  std::nth_element(begin, middle, end, [axis](const Entry& a, const Entry& b) {
    return a.middle[axis] != b.middle[axis] ? a.middle[axis] < b.middle[axis] : a.number < b.number;
  });
  const std::array<std::pair<Entry*, Entry*>, 2> halves{{{begin, middle}, {middle, end}}};
  Box whole;
  for (std::size_t side = 0; side < 2; ++side) {
    const auto [from, to] = halves[side];
    const auto count = static_cast<std::uint32_t>(to - from);
    Box box;
    std::uint32_t first = 0;
    if (count <= leaf_triangles) {
      first = static_cast<std::uint32_t>(triangles.size());
      box = add_leaf(surface, from, to);
    } else {
      first = static_cast<std::uint32_t>(nodes.size());
      nodes.emplace_back();
      box = build(surface, from, to, first);
    }
    nodes[node].boxes[side] = box;
    nodes[node].first[side] = first;
    nodes[node].count[side] = count <= leaf_triangles ? count : 0;
    whole.include(box);
  }
  return whole;
}

template <class Bound, class Visit> void Tree::Parts::descend(double limit, Bound bound, Visit visit) const {
  struct Later {
    std::uint32_t first, count;
    double bound;
  };
  std::array<Later, 64> later; // halves of halves: 32 levels at most
  std::size_t waiting = 0;
  Later now{0, 0, -infinity};
  for (;;) {
    if (now.count > 0) {
      for (std::uint32_t i = now.first; i < now.first + now.count; ++i)
        limit = visit(i, limit);
    } else {
      const Node& node = nodes[now.first];
      const std::array<double, 2> bounds{bound(node.boxes[0]), bound(node.boxes[1])};
      const std::size_t near = bounds[1] < bounds[0] ? 1 : 0, far = 1 - near;
      if (bounds[far] < limit)
        later[waiting++] = {node.first[far], node.count[far], bounds[far]};
      if (bounds[near] < limit) {
        now = {node.first[near], node.count[near], bounds[near]};
        continue;
      }
    }
    do {
      if (waiting == 0)
        return;
      now = later[--waiting];
    } while (!(now.bound < limit));
  }
}

Tree::Tree(const Surface& surface) : parts_(std::make_unique<const Parts>(surface)) {}
Tree::~Tree() = default;
Tree::Tree(Tree&&) noexcept = default;
Tree& Tree::operator=(Tree&&) noexcept = default;

Nearest Tree::nearest(const Point& from, const Point& to, double radius_from, double radius_to,
                      double cutoff) const {
  const Line line(Vector(from), Vector(to), radius_from, radius_to);
  Line::Pair pair{cutoff, 0, {}, {}};
  std::uint32_t found = 0;
  bool any = false;
  parts_->descend(
      cutoff,
      [&](const Box& box) { return box.is_empty() ? infinity : line.bound(box.lowest(), box.highest()); },
      [&](std::uint32_t i, double limit) {
        if (!line.approach(parts_->triangles[i], pair))
          return limit;
        found = i;
        any = true;
        return pair.distance - line.rounding();
      });
  if (!any)
    return {};
  return {pair.distance, pair.along, pair.on_line.point(), pair.on_surface.point(), parts_->numbers[found]};
}

Nearest Tree::nearest(const Point& point, double cutoff) const {
  if (!(cutoff > 0))
    return {};
  const Vector from(point);
  Nearest result;
  double best = cutoff * cutoff;
  parts_->descend(
      best, [&](const Box& box) { return squared_gap(box, from); },
      [&](std::uint32_t i, double limit) {
        if (is_further(parts_->triangles[i], from, limit))
          return limit;
        const Vector on_surface = nearest_on(parts_->triangles[i], from);
        const double apart = squared(on_surface - from);
        if (!(apart < limit))
          return limit;
        result = {std::sqrt(apart), 0, point, on_surface.point(), parts_->numbers[i]};
        return apart;
      });
  return result;
}

double Tree::hit(const Point& from, const Point& direction) const {
  if (direction == Point{})
    return infinity;
  const Ray ray{Vector(from), Vector(direction)};
  double first = infinity;
  parts_->descend(
      infinity, [&](const Box& box) { return ray.enters(box); },
      [&](std::uint32_t i, double limit) {
        const double t = ray.meets(parts_->triangles[i]);
        first = std::min(first, t);
        return std::min(limit, t);
      });
  return first;
}

const Extent& Tree::extent() const {
  return parts_->extent;
}

std::size_t Tree::bytes() const {
  return sizeof(Parts) + parts_->nodes.capacity() * sizeof(Node) +
         parts_->triangles.capacity() * sizeof(Corners) + parts_->numbers.capacity() * sizeof(std::uint32_t);
}

} // namespace bellmouth::mesh
