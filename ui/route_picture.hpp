// SPDX-License-Identifier: GPL-3.0-or-later
// Small pictures of routes: the centreline as thick as the tube over the outlines of what it must stay clear
// of, all of a list from the same side and to the same scale.
#pragma once

#include "theme.hpp"

#include <bellmouth/way.hpp>

#include <QImage>
#include <QPolygonF>
#include <QSize>
#include <QString>

#include <array>
#include <optional>
#include <vector>

namespace bellmouth::ui {

/// Where a picture is seen from: above and right with x to the right, front with the left side to the right.
enum class PictureSide { above, right, front };
inline constexpr std::array all_picture_sides{PictureSide::above, PictureSide::right, PictureSide::front};
[[nodiscard]] QString picture_side_word(PictureSide side);
/// A point as it is seen, in metres, right and up.
[[nodiscard]] QPointF seen_from(PictureSide side, const build::Vector& point_m);

/// Points along the centreline, arcs in steps of no more than 5 degrees.
[[nodiscard]] std::vector<build::Vector> centreline_of(const way::Problem& problem, const way::Way& way);
/// The outline of a solid as it is seen; empty where it has none: surfaces, and planes without an edge.
[[nodiscard]] QPolygonF outline_of(const way::KeepOut& keep_out, PictureSide side);

/// The side from which the ways are best told apart; a single one, where it spreads most. Another than
/// `before` only where it is clearly better.
[[nodiscard]] PictureSide telling_side(const way::Problem& problem, const std::vector<way::Way>& ways,
                                       std::optional<PictureSide> before = std::nullopt);

class RoutePictures {
public:
  /// Ways of one problem. The problem must outlive this.
  RoutePictures(const way::Problem& problem, const std::vector<way::Way>& ways, PictureSide side);
  /// The picture of one of them.
  [[nodiscard]] QImage picture(std::size_t way, QSize size, double device_pixel_ratio,
                               const Theme& colours) const;

private:
  const way::Problem& problem_;
  PictureSide side_;
  std::vector<QPolygonF> lines_; ///< of the ways, as seen
  QRectF frame_;                 ///< what the pictures show [m]
};

} // namespace bellmouth::ui
