// SPDX-License-Identifier: GPL-3.0-or-later
// The inner parts of the rasteriser: points taken to the screen, triangles cut and shared out to bands, bands
// filled.
#pragma once

#include "scene/frame.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

namespace bellmouth::ui::scene::raster {

/// Rows of samples that one job fills.
inline constexpr int band_rows = 64;

/// A mesh's point as the rasteriser uses it.
struct ScreenPoint {
  float x, y; ///< samples
  float near; ///< as Picture::nearness; below zero in perspective: too near or behind
  float u, v; ///< column and row of the light table
  float along;
  float cut; ///< above zero: beyond the section plane [m]
};

/// A mesh's point in the camera's axes.
struct ViewPoint {
  double right, up, depth;
  float u, v, along, cut;
};

/// Takes the points of one item to the screen.
class View {
public:
  View(const Item& item, const TriangleMesh& mesh, const Camera& camera, const Frame& frame,
       const std::optional<SectionPlane>& section);
  [[nodiscard]] ViewPoint view(std::uint32_t point) const;
  [[nodiscard]] ScreenPoint screen(const ViewPoint& point) const;

private:
  const TriangleMesh* mesh_;
  std::array<Vector, 3> axes_; ///< camera's right, up, forward in the mesh's axes, times its scale
  std::array<std::array<float, 3>, 3> turn_; ///< the same without the scale, for normals
  std::array<double, 3> origin_{};
  Vector cut_normal_{};
  double cut_offset_ = -1;
  double scale_, middle_x_, middle_y_;
  bool perspective_;
};

/// An item ready for the bands.
struct Drawn {
  const Item* item = nullptr;
  const TriangleMesh* mesh = nullptr;
  std::optional<View> view;
  std::uint32_t index = 0; ///< place in the scene + 1
  std::size_t first_point = 0;
  bool cut = false;             ///< a section plane is there and cuts it
  const QRgb* lights = nullptr; ///< the colour under every light; unused with a ramp
  QRgb cut_face = 0, line = 0;
  double line_share = 0;
};

/// A stretch of an item's triangles, and which of them touch which band.
struct Chunk {
  std::size_t drawn = 0, first = 0, last = 0;
  /// Corners made by cutting, and the triangles between them.
  std::vector<ScreenPoint> cut_points;
  std::vector<std::array<std::uint32_t, 3>> cut_triangles;
  std::vector<std::vector<std::uint32_t>> bands; ///< numbers of triangles; with `cut_bit`: of cut ones
};
inline constexpr std::uint32_t cut_bit = 0x80000000U;

/// Cuts what needs it, drops what is not seen, and notes for each band what touches it.
void share_out(Chunk& chunk, const Drawn& drawn, const ScreenPoint* points, const Frame& frame,
               bool perspective);

/// Fills the rows of one band.
class Band {
public:
  Band(Frame& frame, int number, bool perspective);
  /// From one colour to the other, or to a backdrop (Format_RGB32) if it is not null.
  void clear(QRgb top, QRgb bottom, const QImage& backdrop);
  void fill(const Chunk& chunk, const Drawn& drawn, const ScreenPoint* points);
  void edges(const Drawn& drawn, const ScreenPoint* points, bool over_translucent);

  /// \name Translucent items: their nearest surface is gathered, then laid over what is there. Where no line
  /// of sight can meet an item's front twice, it is laid over at once.
  ///@{
  void begin_glaze(double opacity);
  void end_glaze() { glaze_ = 0; }
  struct Layer {
    std::vector<float> nearness;
    std::vector<QRgb> colour;
  };
  void begin_layer(Layer& layer);
  void lay_over(const Drawn& drawn);
  ///@}

  /// Tells opaque from translucent samples: an item's `index` stands in the frame with this bit set while it
  /// is translucent.
  static constexpr std::uint32_t translucent_bit = 0x80000000U;
  /// Takes the bit off again.
  void settle();

private:
  template <class Shade>
  void triangle(const ScreenPoint& a, const ScreenPoint& b, const ScreenPoint& c, bool flipped,
                std::uint32_t index, const Shade& shade);
  Frame& frame_;
  int first_row_, last_row_;
  bool perspective_;
  Layer* layer_ = nullptr;
  unsigned glaze_ = 0; ///< opacity in 256ths of what is laid over at once
  int layer_left_ = 0, layer_right_ = 0, layer_top_ = 0, layer_bottom_ = 0;
};

} // namespace bellmouth::ui::scene::raster
