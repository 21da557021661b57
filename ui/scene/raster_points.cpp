// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/light.hpp"
#include "scene/raster.hpp"

#include <algorithm>
#include <cmath>

namespace bellmouth::ui::scene::raster {

View::View(const Item& item, const TriangleMesh& mesh, const Camera& camera, const Frame& frame,
           const std::optional<SectionPlane>& section)
    : mesh_(&mesh), perspective_(camera.perspective) {
  const std::array<Vector, 3> looks{camera.right(), camera.up(), camera.forward()};
  const Vector eye = camera.eye_m();
  for (std::size_t row = 0; row < 3; ++row) {
    for (std::size_t axis = 0; axis < 3; ++axis) {
      const double part = dot(looks[row], item.placement.axes[axis]);
      axes_[row][axis] = part * item.placement.scale;
      turn_[row][axis] = static_cast<float>(part);
    }
    origin_[row] = dot(looks[row], minus(item.placement.origin_m, eye));
  }
  if (section && item.cuttable) {
    const Vector normal = unit(section->normal);
    for (std::size_t axis = 0; axis < 3; ++axis)
      cut_normal_[axis] = dot(normal, item.placement.axes[axis]) * item.placement.scale;
    cut_offset_ = dot(normal, minus(item.placement.origin_m, section->point_m));
  }
  const QSizeF viewport(frame.width, frame.height);
  // Of a metre at a metre's depth, or anywhere.
  scale_ = viewport.height() / (2 * std::tan(camera.field_of_view_rad / 2)) /
           (perspective_ ? 1.0 : camera.distance_m);
  middle_x_ = viewport.width() / 2;
  middle_y_ = viewport.height() / 2;
}

ViewPoint View::view(std::uint32_t point) const {
  const Vector& p = mesh_->points_m[point];
  const std::array<float, 3>& n = mesh_->normals[point];
  const auto turned = [&](std::size_t row) {
    return turn_[row][0] * n[0] + turn_[row][1] * n[1] + turn_[row][2] * n[2];
  };
  constexpr float half = 0.5F * (light_size - 1);
  return {origin_[0] + dot(axes_[0], p),
          origin_[1] + dot(axes_[1], p),
          origin_[2] + dot(axes_[2], p),
          half + half * turned(0) + 0.5F,
          half + half * turned(1) + 0.5F,
          mesh_->along.empty() ? 0.0F : mesh_->along[point],
          static_cast<float>(cut_offset_ + dot(cut_normal_, p))};
}

ScreenPoint View::screen(const ViewPoint& point) const {
  if (!perspective_)
    return {static_cast<float>(middle_x_ + point.right * scale_),
            static_cast<float>(middle_y_ - point.up * scale_),
            static_cast<float>(-point.depth),
            point.u,
            point.v,
            point.along,
            point.cut};
  if (point.depth < near_m)
    return {0, 0, -1, point.u, point.v, point.along, point.cut};
  const double near = 1 / point.depth, scale = scale_ * near;
  return {static_cast<float>(middle_x_ + point.right * scale),
          static_cast<float>(middle_y_ - point.up * scale),
          static_cast<float>(near),
          point.u,
          point.v,
          point.along,
          point.cut};
}

namespace {

/// The point of an edge where something that is `a` at its start and `b` at its end becomes zero.
ViewPoint between(const ViewPoint& from, const ViewPoint& to, double a, double b) {
  const double t = a / (a - b);
  const auto f = static_cast<float>(t);
  return {from.right + t * (to.right - from.right),
          from.up + t * (to.up - from.up),
          from.depth + t * (to.depth - from.depth),
          from.u + f * (to.u - from.u),
          from.v + f * (to.v - from.v),
          from.along + f * (to.along - from.along),
          from.cut + f * (to.cut - from.cut)};
}

/// Keeps of a convex polygon what lies where `excess` is not above zero. A new corner is worked out from the
/// kept end on, so that neighbours agree about it.
template <class Excess> void cut_off(std::vector<ViewPoint>& polygon, const Excess& excess) {
  std::vector<ViewPoint> kept;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const ViewPoint &from = polygon[i], &to = polygon[(i + 1) % polygon.size()];
    const double a = excess(from), b = excess(to);
    if (a <= 0)
      kept.push_back(from);
    if (a <= 0 && b > 0)
      kept.push_back(between(from, to, a, b));
    else if (a > 0 && b <= 0)
      kept.push_back(between(to, from, b, a));
  }
  polygon = std::move(kept);
}

class Sharer {
public:
  Sharer(Chunk& chunk, const Drawn& drawn, const ScreenPoint* points, const Frame& frame, bool perspective)
      : chunk_(chunk), drawn_(drawn), points_(points), width_(static_cast<float>(frame.width)),
        height_(static_cast<float>(frame.height)), perspective_(perspective),
        one_sided_(drawn.mesh->closed && !drawn.cut) {
    chunk.cut_points.clear();
    chunk.cut_triangles.clear();
    chunk.bands.resize(static_cast<std::size_t>((frame.height + band_rows - 1) / band_rows));
    for (auto& band : chunk.bands)
      band.clear();
  }

  void share() {
    for (std::size_t i = chunk_.first; i < chunk_.last; ++i) {
      const auto& corners = drawn_.mesh->triangles[i];
      const ScreenPoint &a = points_[corners[0]], &b = points_[corners[1]], &c = points_[corners[2]];
      if (drawn_.cut) {
        if (a.cut > 0 && b.cut > 0 && c.cut > 0)
          continue;
        if (a.cut > 0 || b.cut > 0 || c.cut > 0) {
          cut(corners);
          continue;
        }
      }
      if (perspective_ && (a.near < 0 || b.near < 0 || c.near < 0)) {
        if (a.near >= 0 || b.near >= 0 || c.near >= 0)
          cut(corners);
        continue;
      }
      note(a, b, c, static_cast<std::uint32_t>(i));
    }
  }

private:
  void cut(const std::array<std::uint32_t, 3>& corners) {
    std::vector<ViewPoint> polygon{drawn_.view->view(corners[0]), drawn_.view->view(corners[1]),
                                   drawn_.view->view(corners[2])};
    if (drawn_.cut)
      cut_off(polygon, [](const ViewPoint& point) { return static_cast<double>(point.cut); });
    if (perspective_)
      cut_off(polygon, [](const ViewPoint& point) { return near_m * (1 + 1e-9) - point.depth; });
    if (polygon.size() < 3)
      return;
    const auto first = static_cast<std::uint32_t>(chunk_.cut_points.size());
    for (ViewPoint point : polygon) {
      if (perspective_)
        point.depth = std::max(point.depth, near_m);
      chunk_.cut_points.push_back(drawn_.view->screen(point));
    }
    for (std::uint32_t i = 2; i < polygon.size(); ++i) {
      const std::array<std::uint32_t, 3> triangle{first, first + i - 1, first + i};
      chunk_.cut_triangles.push_back(triangle);
      note(chunk_.cut_points[triangle[0]], chunk_.cut_points[triangle[1]], chunk_.cut_points[triangle[2]],
           static_cast<std::uint32_t>(chunk_.cut_triangles.size() - 1) | cut_bit);
    }
  }

  void note(const ScreenPoint& a, const ScreenPoint& b, const ScreenPoint& c, std::uint32_t number) {
    // From outside triangles run anticlockwise; with y down that is a negative area.
    const float area = (b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y);
    if (one_sided_ && area >= 0)
      return;
    const float top = std::max(std::min({a.y, b.y, c.y}), 0.0F),
                bottom = std::min(std::max({a.y, b.y, c.y}), height_);
    const float left = std::max(std::min({a.x, b.x, c.x}), 0.0F),
                right = std::min(std::max({a.x, b.x, c.x}), width_);
    // Samples lie at halves; NaN fails every comparison.
    const float first = std::ceil(top - 0.5F), last = std::ceil(bottom - 0.5F) - 1;
    if (!(first <= last) || !(std::ceil(left - 0.5F) < std::ceil(right - 0.5F)))
      return;
    const auto from = static_cast<std::size_t>(first) / band_rows,
               to = static_cast<std::size_t>(last) / band_rows;
    for (std::size_t band = from; band <= to; ++band)
      chunk_.bands[band].push_back(number);
  }

  Chunk& chunk_;
  const Drawn& drawn_;
  const ScreenPoint* points_;
  float width_, height_;
  bool perspective_, one_sided_;
};

} // namespace

void share_out(Chunk& chunk, const Drawn& drawn, const ScreenPoint* points, const Frame& frame,
               bool perspective) {
  Sharer(chunk, drawn, points, frame, perspective).share();
}

} // namespace bellmouth::ui::scene::raster
