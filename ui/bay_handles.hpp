// SPDX-License-Identifier: GPL-3.0-or-later
// Grips on the picked piece in the view of the bay: its length, legs, clocking, angle, the place of a
// fitting.
#pragma once

#include "scene/camera.hpp"
#include "session.hpp"

#include <QPointF>
#include <QSizeF>
#include <QString>

#include <functional>
#include <optional>
#include <vector>

namespace bellmouth::ui {

/// The values of a piece that a grip can hold.
enum class GripValue { length, leg_in, leg_out, clocking, angle, position };
[[nodiscard]] bool is_angle(GripValue value);
[[nodiscard]] QString grip_name(GripValue value);

/// The value of a shape [m or rad]; nothing where the kind has none such.
[[nodiscard]] std::optional<double> value_of(const build::Shape& shape, GripValue value);
/// The shape with another value, which it must have (an assertion).
[[nodiscard]] build::Shape with_value(build::Shape shape, GripValue which, double value);

/// How the view looks at the bay.
struct BayLookout {
  scene::Camera camera;
  QSizeF viewport;
};

/// A grip: where it is for each value that it could have. While it is dragged the piece's inlet end stays, so
/// the curve holds for the whole drag.
struct BayGrip {
  GripValue which = GripValue::length;
  double value = 0;
  double low = 0, high = 1; ///< values that are looked through; what is valid is the build's business
  std::function<build::Vector(double)> at; ///< the grip's place in the bay
  std::vector<build::Vector> guide;        ///< the line it slides on
  build::Vector place_m{};                 ///< at its value
};
/// The grips of what is picked; none where it is no piece of a placed run. Their distance off the piece keeps
/// to the screen.
[[nodiscard]] std::vector<BayGrip> grips_of(const Session& session, const BayLookout& lookout);
/// The grip under a point of the view, the nearest.
[[nodiscard]] std::optional<std::size_t> grip_at(const std::vector<BayGrip>& grips, const BayLookout& lookout,
                                                 QPointF point);
/// The value whose place is seen nearest to a point; among equals that nearest to `near`. Clockings go on
/// beyond half a turn from `near` in no direction.
[[nodiscard]] double value_at(const BayGrip& grip, const BayLookout& lookout, QPointF point, double near);

/// \name What a value snaps to
///@{
/// 5 mm (1/4 in where inches are shown) or 5 degrees; fine: a tenth of that (1/32 in).
[[nodiscard]] double snap_step(GripValue value, bool fine);
[[nodiscard]] double snapped(GripValue value, double raw, bool fine);
///@}

} // namespace bellmouth::ui
