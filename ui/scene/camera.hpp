// SPDX-License-Identifier: GPL-3.0-or-later
// Where the bay is looked at from. The world's axes are x forward, y left, z up (ISO 8855) [m]; pixels run
// right and down from the picture's upper left corner, device or logical, as the viewport counts them.
#pragma once

#include "scene/triangle_mesh.hpp"

#include <QPointF>
#include <QSizeF>

#include <numbers>

namespace bellmouth::ui::scene {

/// A point as the camera sees it.
struct Projected {
  QPointF pixel;
  double depth_m =
      0; ///< along the way the camera looks, from the eye; not positive: behind a perspective eye
};

struct Ray {
  Vector origin_m{};
  Vector direction{1, 0, 0}; ///< unit length
};

/// The six sides of a vehicle, and a look from the front, above and the right-hand side to start with.
enum class StandardView { front, rear, left, right, above, below, slanted };

/// Looks at a target from a distance. Yaw and pitch are those of ISO 8855: yaw turns about z from x towards
/// y, a positive pitch looks down. In parallel projection the distance stands for the scale: what lies in the
/// plane of the target is as large as in perspective.
struct Camera {
  Vector target_m{};
  double yaw_rad = 0;
  double pitch_rad = 0; ///< -pi/2 to pi/2
  double distance_m = 2;
  bool perspective = true;
  double field_of_view_rad = 30 * std::numbers::pi / 180; ///< from the lower to the upper edge
  friend bool operator==(const Camera&, const Camera&) = default;

  /// \name The camera's axes, unit vectors
  ///@{
  [[nodiscard]] Vector forward() const; ///< into the picture
  [[nodiscard]] Vector right() const;
  [[nodiscard]] Vector up() const;
  ///@}
  [[nodiscard]] Vector eye_m() const;

  /// \name From the world to the picture and back
  ///@{
  /// In perspective a point behind the eye has a depth that is not positive, and its pixel says nothing.
  [[nodiscard]] Projected project(const Vector& point_m, QSizeF viewport) const;
  /// Through a pixel. In parallel projection it starts in the plane through the eye.
  [[nodiscard]] Ray ray(QPointF pixel, QSizeF viewport) const;
  /// The point of the world at a pixel and a depth.
  [[nodiscard]] Vector point_at(QPointF pixel, double depth_m, QSizeF viewport) const;
  /// Pixels to a metre that lies square to the view at the depth of a point; 0 behind a perspective eye.
  [[nodiscard]] double px_per_m(const Vector& point_m, QSizeF viewport) const;
  ///@}

  /// \name Moves; each gives a new camera
  ///@{
  /// Turns about the target as if the pointer pulled the bay along: half a turn for the viewport's height.
  /// The pitch stops at straight up and down.
  [[nodiscard]] Camera orbited(QPointF pulled_px, QSizeF viewport) const;
  /// The same about another point, which stays under its pixel.
  [[nodiscard]] Camera orbited_about(const Vector& point_m, QPointF pulled_px, QSizeF viewport) const;
  /// Shifts the picture so that what lies at the depth of the target follows the pointer.
  [[nodiscard]] Camera panned(QPointF pulled_px, QSizeF viewport) const;
  /// The same for what lies at the depth of a point.
  [[nodiscard]] Camera panned_at(const Vector& point_m, QPointF pulled_px, QSizeF viewport) const;
  /// Makes the picture `factor` times as large; what lies under the pixel in the plane of the target stays
  /// there. The distance keeps between 10 mm and 200 m.
  [[nodiscard]] Camera zoomed_about(QPointF pixel, double factor, QSizeF viewport) const;
  /// The same direction, with a box as large as the viewport allows, `margin` (a share of the viewport) left
  /// free all round.
  [[nodiscard]] Camera fitted(const Extent& extent, QSizeF viewport, double margin = 0.06) const;
  /// The same target and distance from another side. Front looks rearward at the vehicle's front; from above
  /// and below x runs to the right.
  [[nodiscard]] Camera seen_from(StandardView view) const;
  ///@}
};

} // namespace bellmouth::ui::scene
