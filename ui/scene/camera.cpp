// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/camera.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace bellmouth::ui::scene {

namespace {

constexpr double nearest_distance_m = 0.01, farthest_distance_m = 200;
constexpr double quarter_turn = std::numbers::pi / 2;

/// Metres across the viewport's height at a distance of one metre.
double spread(const Camera& camera) {
  return 2 * std::tan(camera.field_of_view_rad / 2);
}
/// Pixels to a metre at a depth in perspective, anywhere in parallel projection.
double scale_px_m(const Camera& camera, double depth_m, QSizeF viewport) {
  return viewport.height() / (spread(camera) * (camera.perspective ? depth_m : camera.distance_m));
}
QPointF middle(QSizeF viewport) {
  return {viewport.width() / 2, viewport.height() / 2};
}

} // namespace

Vector Camera::forward() const {
  return {std::cos(pitch_rad) * std::cos(yaw_rad), std::cos(pitch_rad) * std::sin(yaw_rad),
          -std::sin(pitch_rad)};
}
Vector Camera::right() const {
  return {std::sin(yaw_rad), -std::cos(yaw_rad), 0};
}
Vector Camera::up() const {
  return cross(right(), forward());
}
Vector Camera::eye_m() const {
  return plus(target_m, forward(), -distance_m);
}

Projected Camera::project(const Vector& point_m, QSizeF viewport) const {
  const Vector seen = minus(point_m, eye_m());
  const double depth_m = dot(seen, forward());
  const double scale = scale_px_m(*this, depth_m, viewport);
  return {middle(viewport) + QPointF(dot(seen, right()), -dot(seen, up())) * scale, depth_m};
}

Ray Camera::ray(QPointF pixel, QSizeF viewport) const {
  const QPointF off = (pixel - middle(viewport)) / scale_px_m(*this, 1, viewport);
  const Vector aside = plus(times(off.x(), right()), up(), -off.y());
  if (!perspective)
    return {plus(eye_m(), aside), forward()};
  return {eye_m(), unit(plus(forward(), aside))};
}

Vector Camera::point_at(QPointF pixel, double depth_m, QSizeF viewport) const {
  const QPointF off = (pixel - middle(viewport)) / scale_px_m(*this, depth_m, viewport);
  return plus(plus(plus(eye_m(), forward(), depth_m), right(), off.x()), up(), -off.y());
}

double Camera::px_per_m(const Vector& point_m, QSizeF viewport) const {
  const double depth_m = dot(minus(point_m, eye_m()), forward());
  return perspective && depth_m <= 0 ? 0 : scale_px_m(*this, depth_m, viewport);
}

Camera Camera::orbited(QPointF pulled_px, QSizeF viewport) const {
  Camera turned = *this;
  const double rad_per_px = std::numbers::pi / viewport.height();
  turned.yaw_rad = std::remainder(yaw_rad - pulled_px.x() * rad_per_px, 2 * std::numbers::pi);
  turned.pitch_rad = std::clamp(pitch_rad + pulled_px.y() * rad_per_px, -quarter_turn, quarter_turn);
  return turned;
}

Camera Camera::orbited_about(const Vector& point_m, QPointF pulled_px, QSizeF viewport) const {
  Camera turned = orbited(pulled_px, viewport);
  // The point keeps its coordinates in the camera's axes.
  const Vector seen = minus(point_m, target_m);
  turned.target_m =
      plus(plus(plus(point_m, turned.right(), -dot(seen, right())), turned.up(), -dot(seen, up())),
           turned.forward(), -dot(seen, forward()));
  return turned;
}

Camera Camera::panned(QPointF pulled_px, QSizeF viewport) const {
  return panned_at(target_m, pulled_px, viewport);
}

Camera Camera::panned_at(const Vector& point_m, QPointF pulled_px, QSizeF viewport) const {
  Camera moved = *this;
  const double scale = px_per_m(point_m, viewport);
  const QPointF by = pulled_px / (scale > 0 ? scale : px_per_m(target_m, viewport));
  moved.target_m = plus(plus(target_m, right(), -by.x()), up(), by.y());
  return moved;
}

Camera Camera::zoomed_about(QPointF pixel, double factor, QSizeF viewport) const {
  Camera zoomed = *this;
  zoomed.distance_m = std::clamp(distance_m / factor, nearest_distance_m, farthest_distance_m);
  const Vector under = point_at(pixel, distance_m, viewport);
  zoomed.target_m = plus(zoomed.target_m, minus(under, zoomed.point_at(pixel, zoomed.distance_m, viewport)));
  return zoomed;
}

Camera Camera::fitted(const Extent& extent, QSizeF viewport, double margin) const {
  Camera fitted = *this;
  const double free = 1 - 2 * margin;
  const double tangent_up = spread(*this) / 2 * free,
               tangent_aside = tangent_up * viewport.width() / viewport.height();
  // In the camera's axes each corner bounds where the eye may be: to the right by at most tangent x depth.
  constexpr double far = std::numeric_limits<double>::infinity();
  double right_low = far, right_high = -far, up_low = far, up_high = -far, near = far, deep = -far;
  const double slope_aside = perspective ? tangent_aside : 0, slope_up = perspective ? tangent_up : 0;
  const Vector r = right(), u = up(), f = forward();
  for (int corner = 0; corner < 8; ++corner) {
    Vector at{};
    for (std::size_t axis = 0; axis < 3; ++axis)
      at[axis] = (corner >> axis & 1) != 0 ? extent.high[axis] : extent.low[axis];
    const double x = dot(at, r), y = dot(at, u), z = dot(at, f);
    right_low = std::min(right_low, x + slope_aside * z);
    right_high = std::max(right_high, x - slope_aside * z);
    up_low = std::min(up_low, y + slope_up * z);
    up_high = std::max(up_high, y - slope_up * z);
    near = std::min(near, z);
    deep = std::max(deep, z);
  }
  const double x = (right_low + right_high) / 2, y = (up_low + up_high) / 2;
  if (perspective) {
    // Both edges touch: x_high - x_eye = t (z - z_eye) and x_eye - x_low likewise.
    const double z_aside = (right_low - right_high) / (2 * tangent_aside),
                 z_up = (up_low - up_high) / (2 * tangent_up);
    fitted.distance_m = (near + deep) / 2 - std::min({z_aside, z_up, near - 1e-3});
  } else {
    fitted.distance_m =
        std::max((right_high - right_low) / (2 * tangent_aside), (up_high - up_low) / (2 * tangent_up));
  }
  fitted.distance_m = std::clamp(fitted.distance_m, nearest_distance_m, farthest_distance_m);
  fitted.target_m = plus(plus(times(x, r), u, y), f, (near + deep) / 2);
  return fitted;
}

Camera Camera::seen_from(StandardView view) const {
  Camera turned = *this;
  const auto look = [&](double yaw, double pitch) {
    turned.yaw_rad = yaw;
    turned.pitch_rad = pitch;
  };
  switch (view) {
  case StandardView::front:
    look(std::numbers::pi, 0);
    break;
  case StandardView::rear:
    look(0, 0);
    break;
  case StandardView::left:
    look(-quarter_turn, 0);
    break;
  case StandardView::right:
    look(quarter_turn, 0);
    break;
  case StandardView::above:
    look(quarter_turn, quarter_turn);
    break;
  case StandardView::below:
    look(quarter_turn, -quarter_turn);
    break;
  case StandardView::slanted:
    // From the front right-hand corner, from above.
    look(quarter_turn + quarter_turn * 0.4, 28 * std::numbers::pi / 180);
    break;
  }
  return turned;
}

} // namespace bellmouth::ui::scene
