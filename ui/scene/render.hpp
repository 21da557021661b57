// SPDX-License-Identifier: GPL-3.0-or-later
// Draws a scene into a picture, with one of three renderers behind one face: OpenGL on a context of the
// window system, OpenGL without a window system, or a rasteriser of our own that needs neither.
#pragma once

#include "scene/camera.hpp"
#include "scene/triangle_mesh.hpp"

#include <QImage>
#include <QRgb>
#include <QSize>
#include <QString>
#include <QStringList>

#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

namespace bellmouth::ui::scene {

/// How a surface takes the light.
enum class Finish { metal, rubber, matt, glow };

enum class Mark { none, hovered, selected };

/// One thing to draw.
struct Item {
  std::shared_ptr<const TriangleMesh> mesh;
  std::shared_ptr<const TriangleMesh> coarse = {}; ///< drawn in its place while dragging; may be empty
  mesh::Placement placement = {};                  ///< takes the mesh's points to the bay
  std::uint32_t id = 0;                            ///< what the picture says of its pixels; 0 is nothing
  QRgb colour = 0xff808080;
  /// Colours from the inlet (first) to the outlet (last) in place of the one; needs the mesh's `along`. With
  /// Finish::glow they stay near those of a legend.
  std::vector<QRgb> ramp = {};
  Finish finish = Finish::metal;
  double opacity = 1; ///< below 1: drawn over what is opaque, its nearest surface only
  Mark mark = Mark::none;
  bool cuttable = true; ///< a section plane cuts it
};

struct Scene {
  std::vector<Item> items;
};

enum class Quality { dragging, resting };

/// What lies on the side that the normal points to is cut away.
struct SectionPlane {
  Vector point_m{}, normal{0, 0, 1};
};

struct DrawOptions {
  QSize size_px;                      ///< of the picture, device pixels
  double device_pixel_ratio = 1;      ///< widens outlines
  Quality quality = Quality::resting; ///< resting: smoothed by four samples a pixel
  QRgb background_top = 0xfff7f8fa, background_bottom = 0xffdde2e8;
  QImage backdrop = {}; ///< lies under everything in place of the two colours, `size_px` large; null: nothing
  QRgb outline = 0xff20262d;
  QRgb hovered = 0xff5b9bd8, selected = 0xff1b5ea6; ///< the rim of marked items
  std::optional<SectionPlane> section = std::nullopt;
};
/// Backgrounds and outlines that go with a light and a dark window.
[[nodiscard]] DrawOptions light_options(QSize size_px, Quality quality);
[[nodiscard]] DrawOptions dark_options(QSize size_px, Quality quality);

/// What was drawn, and what stands where in it.
struct Picture {
  QImage image; ///< Format_RGB32, `size_px` large, its device pixel ratio set
  Camera camera;
  std::vector<std::uint32_t>
      ids; ///< of each pixel, row by row: the opaque item, else the foremost translucent
  /// How near each pixel's surface is: 1 / depth in perspective, -depth in parallel projection [m]; the
  /// lowest float where there is none.
  std::vector<float> nearness;

  /// The item at a device pixel; 0 where there is nothing or the pixel lies outside.
  [[nodiscard]] std::uint32_t id_at(QPoint pixel) const;
  /// The item nearest to a device pixel within a reach, so that thin things can be picked.
  [[nodiscard]] std::uint32_t id_near(QPoint pixel, int reach_px) const;
  /// The point of the bay that is seen at a device pixel.
  [[nodiscard]] std::optional<Vector> point_at(QPoint pixel) const;
};

/// Draws. Not thread-safe: one thread at a time uses a renderer, the one that made it.
class Renderer {
public:
  virtual ~Renderer() = default;
  /// The picture of a scene; the size must not be empty. The same arguments give the same picture.
  [[nodiscard]] virtual Picture draw(const Scene& scene, const Camera& camera,
                                     const DrawOptions& options) = 0;
  /// What it draws with, in words: "OpenGL 4.5, llvmpipe".
  [[nodiscard]] virtual QString name() const = 0;
  enum class Kind { gl, egl, cpu };
  [[nodiscard]] virtual Kind kind() const = 0;
};

/// Which renderer to take; `automatic` is the quickest that works here.
enum class Choice { automatic, gl, egl, cpu };

struct MadeRenderer {
  std::unique_ptr<Renderer> renderer; ///< always there
  QStringList missing;                ///< what was tried first and why it does not work here, a sentence each
};
/// Makes a renderer. `automatic` asks the environment variable BELLMOUTH_RENDERER (gl, egl or cpu) first,
/// then takes OpenGL 3.3 of the window system where a graphics chip draws it, OpenGL without a window
/// likewise, and our rasteriser, which is quicker than OpenGL drawn in software. A choice that does not work
/// here gives way to the next, and `missing` says why. Needs a QGuiApplication.
[[nodiscard]] MadeRenderer make_renderer(Choice choice = Choice::automatic);

/// Our rasteriser with a number of threads; 0: as many as the machine has cores. The picture does not depend
/// on the number.
[[nodiscard]] std::unique_ptr<Renderer> make_cpu_renderer(unsigned threads = 0);

} // namespace bellmouth::ui::scene
