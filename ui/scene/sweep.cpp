// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/sweep.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace bellmouth::ui::scene {

namespace {

const bay::Frame start_frame{{0, 0, 0}, {1, 0, 0}, {0, 0, 1}};
/// Places along a centreline nearer than this are one [m].
constexpr double same_place_m = 1e-9;

/// The frame with the inside of its first bend for a reference.
bay::Frame towards_bend(const bay::Frame& frame, double clocking_rad) {
  return bay::turned(frame, 0, 0, clocking_rad);
}

/// The vertices of rings, and the faces between them.
class Wall {
public:
  explicit Wall(int sides) : sides_(sides) {}

  /// Adds a ring; the normals lean along the axis by `lean` and outwards by `out`.
  std::uint32_t ring(const Section& section, double radius_m, double out, double lean, double along) {
    const auto first = static_cast<std::uint32_t>(mesh.points_m.size());
    const double size = std::hypot(out, lean);
    for (int i = 0; i < sides_; ++i) {
      const double angle = 2 * std::numbers::pi * i / sides_, c = std::cos(angle), s = std::sin(angle);
      mesh.points_m.push_back(
          plus(plus(section.centre_m, section.e1, radius_m * c), section.e2, radius_m * s));
      const Vector normal = plus(plus(times(out * c / size, section.n1), section.n2, out * s / size),
                                 section.direction, lean / size);
      mesh.normals.push_back(
          {static_cast<float>(normal[0]), static_cast<float>(normal[1]), static_cast<float>(normal[2])});
      mesh.along.push_back(static_cast<float>(along));
    }
    return first;
  }

  /// Faces from one ring to the next; the outside is to the left of the way from one to the other, with the
  /// axis to the right. A ring of no radius gives triangles only.
  void faces(std::uint32_t from, std::uint32_t to, bool from_point = false, bool to_point = false) {
    for (int i = 0; i < sides_; ++i) {
      const auto a = static_cast<std::uint32_t>(i), b = static_cast<std::uint32_t>((i + 1) % sides_);
      if (!from_point)
        mesh.triangles.push_back({from + a, from + b, to + b});
      if (!to_point)
        mesh.triangles.push_back({from + a, to + b, to + a});
    }
  }

  void line(std::uint32_t ring) {
    for (int i = 0; i < sides_; ++i)
      mesh.edges.push_back(
          {ring + static_cast<std::uint32_t>(i), ring + static_cast<std::uint32_t>((i + 1) % sides_)});
  }

  TriangleMesh mesh;

private:
  int sides_;
};

/// How a radius changes per metre, taken over a short stretch within the piece.
double slope(const Radius& radius, double s_m, double length_m) {
  constexpr double step_m = 2e-5;
  const double low = std::max(0.0, s_m - step_m), high = std::min(length_m, s_m + step_m);
  return high > low ? (radius(high) - radius(low)) / (high - low) : 0;
}

bool holds(const std::vector<double>& places, double place) {
  return std::ranges::any_of(places, [&](double other) { return std::abs(other - place) < same_place_m; });
}

} // namespace

Centreline Centreline::straight(double length_m) {
  Centreline line;
  line.track_ = {.straight_in_m = length_m};
  line.pieces_ = {start_frame};
  line.ends_m_ = {0, length_m};
  return line;
}

Centreline Centreline::bend(double leg_in_m, double angle_rad, double radius_m, double clocking_rad,
                            double leg_out_m) {
  Centreline line;
  line.track_ = {leg_in_m, angle_rad, radius_m, 0, leg_out_m};
  line.pieces_ = {towards_bend(start_frame, clocking_rad)};
  line.ends_m_ = {0};
  const auto add = [&](double s_m) {
    if (s_m > line.ends_m_.back() + same_place_m)
      line.ends_m_.push_back(s_m);
  };
  const int steps = std::max(1, static_cast<int>(std::ceil(angle_rad / arc_step_rad - 1e-9)));
  for (int i = 0; i <= steps; ++i)
    add(leg_in_m + radius_m * angle_rad * i / steps);
  add(line.track_.length_m());
  return line;
}

Centreline Centreline::mitred(double leg_in_m, double angle_rad, double radius_m, int joints,
                              double clocking_rad, double leg_out_m) {
  Centreline line;
  line.cut_rad_ = angle_rad / (2 * joints);
  const double half_m = radius_m * std::tan(line.cut_rad_);
  bay::Frame at = towards_bend(start_frame, clocking_rad);
  line.pieces_ = {at};
  line.ends_m_ = {0};
  for (int i = 0; i < joints; ++i) {
    const double straight_m = (i == 0 ? leg_in_m : half_m) + half_m;
    at = bay::turned(bay::advanced(at, straight_m), 2 * line.cut_rad_, 0, 0);
    line.ends_m_.push_back(line.ends_m_.back() + straight_m);
    line.mitres_m_.push_back(line.ends_m_.back());
    line.pieces_.push_back(at);
  }
  line.ends_m_.push_back(line.ends_m_.back() + half_m + leg_out_m);
  return line;
}

bool Centreline::mitre_at(double s_m) const {
  return holds(mitres_m_, s_m);
}

Section Centreline::at(double s_m, bool behind) const {
  bay::Frame frame;
  double stretch = 1;
  Vector e1_lean{};
  if (mitres_m_.empty()) {
    frame = bay::along(pieces_.front(), track_, s_m);
  } else {
    std::size_t piece = 0;
    while (piece < mitres_m_.size() &&
           (s_m > mitres_m_[piece] + same_place_m || (behind && s_m > mitres_m_[piece] - same_place_m)))
      ++piece;
    frame = bay::advanced(pieces_[piece], s_m - ends_m_[piece]);
    if (mitre_at(s_m)) {
      // The ring lies in the plane that halves the corner. On the inside of the bend it is short of the
      // corner behind the mitre and beyond it before.
      stretch = 1 / std::cos(cut_rad_);
      e1_lean = times((behind ? 1 : -1) * std::sin(cut_rad_), frame.direction);
    }
  }
  Section section;
  section.centre_m = frame.position_m;
  section.direction = frame.direction;
  section.n1 = frame.reference;
  section.n2 = cross(frame.direction, frame.reference);
  section.e1 =
      stretch > 1 ? times(stretch, plus(times(std::cos(cut_rad_), section.n1), e1_lean)) : section.n1;
  section.e2 = section.n2;
  return section;
}

TriangleMesh hollow(const Centreline& centreline, const Radius& outer_m, const Radius& inner_m,
                    const std::vector<double>& rings_m, const std::vector<double>& lines_m) {
  const double length_m = centreline.length_m();
  std::vector<double> places = centreline.stops_m();
  for (const auto* more : {&rings_m, &lines_m})
    for (const double place : *more)
      if (place > 0 && place < length_m && !holds(places, place))
        places.push_back(place);
  std::ranges::sort(places);

  Wall wall(ring_sides);
  const auto along = [&](double s_m) { return length_m > 0 ? s_m / length_m : 0; };
  const auto side = [&](const Radius& radius, bool outside) {
    const double out = outside ? 1 : -1;
    std::uint32_t last = 0;
    for (std::size_t i = 0; i < places.size(); ++i) {
      const double s = places[i], leaning = -slope(radius, s, length_m) * out;
      const bool mitre = centreline.mitre_at(s);
      const auto add = [&](bool behind) {
        return wall.ring(centreline.at(s, behind), radius(s), out, leaning, along(s));
      };
      const std::uint32_t before = add(false);
      if (i > 0) {
        if (outside)
          wall.faces(last, before);
        else
          wall.faces(before, last);
      }
      last = mitre ? add(true) : before;
      if (i == 0 || i + 1 == places.size() || mitre || (outside && holds(lines_m, s)))
        wall.line(last);
    }
  };
  side(outer_m, true);
  side(inner_m, false);
  for (const bool at_end : {false, true}) {
    const double s = at_end ? length_m : 0, lean = at_end ? 1 : -1;
    const Section section = centreline.at(s, false);
    const std::uint32_t outer = wall.ring(section, outer_m(s), 0, lean, along(s)),
                        inner = wall.ring(section, inner_m(s), 0, lean, along(s));
    if (at_end)
      wall.faces(outer, inner);
    else
      wall.faces(inner, outer);
  }
  return std::move(wall.mesh);
}

TriangleMesh turned(const std::vector<Corner>& outline, int sides) {
  Wall wall(sides);
  const Section axis{{0, 0, 0}, {0, 0, 1}, {0, -1, 0}, {0, 0, 1}, {0, -1, 0}, {1, 0, 0}};
  const auto section = [&](double s_m) {
    Section at = axis;
    at.centre_m = {s_m, 0, 0};
    return at;
  };
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Corner &from = outline[i], &to = outline[(i + 1) % outline.size()];
    if (from.r_m <= 0 && to.r_m <= 0)
      continue;
    const double out = to.s_m - from.s_m, lean = from.r_m - to.r_m;
    const std::uint32_t a = wall.ring(section(from.s_m), from.r_m, out, lean, 0),
                        b = wall.ring(section(to.s_m), to.r_m, out, lean, 0);
    wall.faces(a, b, from.r_m <= 0, to.r_m <= 0);
    if (from.r_m > 0)
      wall.line(a);
  }
  wall.mesh.along.clear();
  return std::move(wall.mesh);
}

TriangleMesh box(const Vector& low_m, const Vector& high_m) {
  TriangleMesh mesh;
  for (std::size_t axis = 0; axis < 3; ++axis) {
    const std::size_t u = (axis + 1) % 3, v = (axis + 2) % 3;
    for (const bool high : {false, true}) {
      const auto first = static_cast<std::uint32_t>(mesh.points_m.size());
      for (int corner = 0; corner < 4; ++corner) {
        Vector point{};
        point[axis] = high ? high_m[axis] : low_m[axis];
        point[u] = corner == 1 || corner == 2 ? high_m[u] : low_m[u];
        point[v] = corner >= 2 ? high_m[v] : low_m[v];
        mesh.points_m.push_back(point);
        std::array<float, 3> normal{};
        normal[axis] = high ? 1.0F : -1.0F;
        mesh.normals.push_back(normal);
      }
      for (std::uint32_t corner = 0; corner < 4; ++corner)
        mesh.edges.push_back({first + corner, first + (corner + 1) % 4});
      if (high) {
        mesh.triangles.push_back({first, first + 1, first + 2});
        mesh.triangles.push_back({first, first + 2, first + 3});
      } else {
        mesh.triangles.push_back({first, first + 2, first + 1});
        mesh.triangles.push_back({first, first + 3, first + 2});
      }
    }
  }
  return mesh;
}

} // namespace bellmouth::ui::scene
