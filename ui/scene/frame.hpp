// SPDX-License-Identifier: GPL-3.0-or-later
// What a renderer has drawn before outlines and smoothing, and how it becomes a picture.
#pragma once

#include "scene/render.hpp"
#include "scene/workers.hpp"

#include <limits>
#include <map>

namespace bellmouth::ui::scene {

/// Nearness where nothing was drawn.
inline constexpr float nothing_near = std::numeric_limits<float>::lowest();
/// Nothing nearer to a perspective eye is drawn.
inline constexpr double near_m = 0.005;

/// Samples of a picture, row by row from the top.
struct Frame {
  int width = 0, height = 0;
  int samples = 1; ///< along each side of a pixel
  std::vector<QRgb> colour;
  std::vector<std::uint32_t> item; ///< place in the scene + 1; 0: nothing
  std::vector<float> nearness;     ///< as Picture::nearness

  void resize(QSize size_px, int samples_wanted);
  [[nodiscard]] std::size_t at(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
  }
};
[[nodiscard]] int samples_of(Quality quality);
/// The backdrop as Format_RGB32; null where there is none. Its size must be the picture's (an assertion).
[[nodiscard]] QImage backdrop_of(const DrawOptions& options);

/// Draws outlines and the rims of marked items into the frame, smooths it, and says which item stands where.
[[nodiscard]] Picture finished(Frame& frame, const Scene& scene, const Camera& camera,
                               const DrawOptions& options, Workers& workers);

/// Boxes round meshes, kept as long as the meshes live.
class Bounds {
public:
  [[nodiscard]] Extent of(const std::shared_ptr<const TriangleMesh>& mesh);
  /// The box round an item where it lies (round the corners of its mesh's box).
  [[nodiscard]] Extent of(const Item& item);
  void forget_the_gone();

private:
  struct Known {
    std::weak_ptr<const TriangleMesh> mesh;
    Extent extent;
  };
  std::map<const TriangleMesh*, Known> known_;
};

/// The mesh of an item at a quality.
[[nodiscard]] const std::shared_ptr<const TriangleMesh>& mesh_of(const Item& item, Quality quality);
/// Places of the scene's items in the order of drawing: opaque ones first, then translucent ones from the
/// farthest middle to the nearest. Items with nothing to draw are left out.
struct Order {
  std::vector<std::size_t> opaque, translucent;
};
[[nodiscard]] Order order_of(const Scene& scene, const Camera& camera, Quality quality, Bounds& bounds);

} // namespace bellmouth::ui::scene
