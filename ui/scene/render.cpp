// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/render.hpp"

#include "scene/frame.hpp"
#include "scene/renderers.hpp"

#include <QtGlobal>

#include <algorithm>

namespace bellmouth::ui::scene {

DrawOptions light_options(QSize size_px, Quality quality) {
  DrawOptions options;
  options.size_px = size_px;
  options.quality = quality;
  return options;
}

DrawOptions dark_options(QSize size_px, Quality quality) {
  DrawOptions options = light_options(size_px, quality);
  options.background_top = 0xff2b3037;
  options.background_bottom = 0xff191c20;
  options.outline = 0xff0a0c0e;
  options.hovered = 0xff4f86bd;
  options.selected = 0xff74b0f4;
  return options;
}

std::uint32_t Picture::id_at(QPoint pixel) const {
  if (!image.rect().contains(pixel))
    return 0;
  return ids[static_cast<std::size_t>(pixel.y()) * static_cast<std::size_t>(image.width()) +
             static_cast<std::size_t>(pixel.x())];
}

std::uint32_t Picture::id_near(QPoint pixel, int reach_px) const {
  std::uint32_t found = id_at(pixel);
  int best = reach_px * reach_px + 1;
  for (int dy = -reach_px; found == 0 && dy <= reach_px; ++dy)
    for (int dx = -reach_px; dx <= reach_px; ++dx)
      if (const int square = dx * dx + dy * dy; square < best)
        if (const std::uint32_t id = id_at(pixel + QPoint(dx, dy)); id != 0) {
          best = square;
          found = id;
        }
  return found;
}

std::optional<Vector> Picture::point_at(QPoint pixel) const {
  if (!image.rect().contains(pixel))
    return std::nullopt;
  const float near = nearness[static_cast<std::size_t>(pixel.y()) * static_cast<std::size_t>(image.width()) +
                              static_cast<std::size_t>(pixel.x())];
  if (near == nothing_near)
    return std::nullopt;
  const double depth_m = camera.perspective ? 1.0 / static_cast<double>(near) : -static_cast<double>(near);
  return camera.point_at(QPointF(pixel) + QPointF(0.5, 0.5), depth_m, QSizeF(image.size()));
}

MadeRenderer make_renderer(Choice choice) {
  MadeRenderer made;
  if (choice == Choice::automatic) {
    const QString asked = qEnvironmentVariable("BELLMOUTH_RENDERER");
    if (asked == "gl")
      choice = Choice::gl;
    else if (asked == "egl")
      choice = Choice::egl;
    else if (asked == "cpu")
      choice = Choice::cpu;
    else if (!asked.isEmpty())
      made.missing << QString("BELLMOUTH_RENDERER is \"%1\"; gl, egl and cpu are known.").arg(asked);
  }
  const bool automatic = choice == Choice::automatic;
  const auto take = [&](Attempt attempt) {
    if (made.renderer)
      return;
    if (!attempt.renderer)
      made.missing << attempt.why_not;
    else if (automatic && attempt.in_software)
      made.missing << QString("%1 draws without a graphics chip; our own rasteriser is quicker.")
                          .arg(attempt.renderer->name());
    else
      made.renderer = std::move(attempt.renderer);
  };
  if (automatic || choice == Choice::gl)
    take(try_gl());
  if (!made.renderer && choice != Choice::cpu)
    take(try_egl());
  if (!made.renderer)
    made.renderer = make_cpu_renderer();
  return made;
}

} // namespace bellmouth::ui::scene
