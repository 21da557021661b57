// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/light.hpp"
#include "scene/raster.hpp"

#include <algorithm>
#include <cmath>

namespace bellmouth::ui::scene::raster {

namespace {

/// How much nearer than its surface an edge counts: a share in perspective, metres in parallel projection.
constexpr float edge_lift = 0.0012F;

/// Something that changes evenly over a triangle.
struct Slope {
  float start, by_x, by_y;
};

/// The corner from which all slopes of a triangle are counted, and what its edges do.
struct Setup {
  float x0, y0, x1, y1, x2, y2, inverse_area;

  [[nodiscard]] Slope slope(float f0, float f1, float f2) const {
    const float f10 = f1 - f0, f20 = f2 - f0;
    return {f0, (f10 * (y2 - y0) - f20 * (y1 - y0)) * inverse_area,
            (f20 * (x1 - x0) - f10 * (x2 - x0)) * inverse_area};
  }
};

/// Where an edge crosses rows. From its upper to its lower end, whichever triangle asks, so that neighbours
/// agree.
struct EdgeWalk {
  float x, y, by_y;
  EdgeWalk(const ScreenPoint& upper, const ScreenPoint& lower)
      : x(upper.x), y(upper.y), by_y(lower.y > upper.y ? (lower.x - upper.x) / (lower.y - upper.y) : 0) {}
  [[nodiscard]] float at(float row) const { return x + (row - y) * by_y; }
};

int column(float x, int width) {
  return static_cast<int>(std::clamp(std::ceil(x - 0.5F), 0.0F, static_cast<float>(width)));
}

std::size_t light_place(float u, float v) {
  constexpr float last = light_size - 1;
  const auto column_of = static_cast<std::size_t>(std::clamp(u, 0.0F, last)),
             row = static_cast<std::size_t>(std::clamp(v, 0.0F, last));
  return row * light_size + column_of;
}

unsigned in_256ths(double opacity) {
  return static_cast<unsigned>(std::lround(opacity * 256));
}

/// One colour under the lights.
struct Lit {
  static constexpr bool wants_light = true, wants_along = false;
  const QRgb* lights;
  [[nodiscard]] QRgb operator()(float u, float v, float) const { return lights[light_place(u, v)]; }
};
/// The same colour everywhere.
struct Flat {
  static constexpr bool wants_light = false, wants_along = false;
  QRgb colour;
  [[nodiscard]] QRgb operator()(float, float, float) const { return colour; }
};
/// A colour by the place along the piece, under the lights.
struct Ramped {
  static constexpr bool wants_light = true, wants_along = true;
  const std::vector<QRgb>& ramp;
  const LightTable& lights;
  [[nodiscard]] QRgb operator()(float u, float v, float along) const {
    const float place = std::clamp(along, 0.0F, 1.0F) * static_cast<float>(ramp.size() - 1);
    const auto before = static_cast<std::size_t>(place), behind = std::min(before + 1, ramp.size() - 1);
    return lit(mixed(ramp[before], ramp[behind], place - static_cast<float>(before)),
               lights[light_place(u, v)]);
  }
};

} // namespace

Band::Band(Frame& frame, int number, bool perspective)
    : frame_(frame), first_row_(number * band_rows),
      last_row_(std::min(frame.height, (number + 1) * band_rows)), perspective_(perspective) {}

void Band::clear(QRgb top, QRgb bottom, const QImage& backdrop) {
  const auto width = static_cast<std::size_t>(frame_.width);
  for (int y = first_row_; y < last_row_; ++y) {
    const std::size_t row = frame_.at(0, y);
    if (backdrop.isNull()) {
      std::fill_n(frame_.colour.data() + row, width, mixed(top, bottom, (y + 0.5) / frame_.height));
    } else {
      const auto* const line = reinterpret_cast<const QRgb*>(backdrop.constScanLine(y / frame_.samples));
      for (std::size_t x = 0; x < width; ++x)
        frame_.colour[row + x] = line[x / static_cast<std::size_t>(frame_.samples)];
    }
    std::fill_n(frame_.item.data() + row, width, 0U);
    std::fill_n(frame_.nearness.data() + row, width, nothing_near);
  }
}

template <class Shade>
void Band::triangle(const ScreenPoint& a, const ScreenPoint& b, const ScreenPoint& c, bool flipped,
                    std::uint32_t index, const Shade& shade) {
  const float area = (b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y);
  if (!(std::abs(area) > 1e-7F))
    return;
  const Setup setup{a.x, a.y, b.x, b.y, c.x, c.y, 1 / area};
  const Slope near = setup.slope(a.near, b.near, c.near);
  Slope u{}, v{}, along{};
  if constexpr (Shade::wants_light) {
    u = setup.slope(a.u, b.u, c.u);
    v = setup.slope(a.v, b.v, c.v);
    if (flipped)
      for (Slope* slope : {&u, &v})
        *slope = {light_size - slope->start, -slope->by_x, -slope->by_y};
  }
  if constexpr (Shade::wants_along)
    along = perspective_ ? setup.slope(a.along * a.near, b.along * b.near, c.along * c.near)
                         : setup.slope(a.along, b.along, c.along);

  const ScreenPoint *upper = &a, *middle = &b, *lower = &c;
  if (middle->y < upper->y)
    std::swap(upper, middle);
  if (lower->y < middle->y)
    std::swap(middle, lower);
  if (middle->y < upper->y)
    std::swap(upper, middle);
  const EdgeWalk whole(*upper, *lower), above(*upper, *middle), below(*middle, *lower);

  const int from = std::max(first_row_, static_cast<int>(std::ceil(std::max(upper->y, 0.0F) - 0.5F)));
  const int to = std::min(
      last_row_, static_cast<int>(std::ceil(std::min(lower->y, static_cast<float>(frame_.height)) - 0.5F)));
  for (int y = from; y < to; ++y) {
    const float row = static_cast<float>(y) + 0.5F;
    const float one = whole.at(row), other = row < middle->y ? above.at(row) : below.at(row);
    const int left = column(std::min(one, other), frame_.width),
              right = column(std::max(one, other), frame_.width);
    if (left >= right)
      continue;
    const float dx = static_cast<float>(left) + 0.5F - a.x, dy = row - a.y;
    const auto start = [&](const Slope& slope) { return slope.start + slope.by_x * dx + slope.by_y * dy; };
    const float near_start = start(near), u_start = start(u), v_start = start(v), along_start = start(along);
    const std::size_t offset = frame_.at(left, y);
    const int count = right - left;
    if (layer_) {
      const std::size_t in_layer = offset - frame_.at(0, first_row_);
      layer_left_ = std::min(layer_left_, left);
      layer_right_ = std::max(layer_right_, right);
      layer_top_ = std::min(layer_top_, y);
      layer_bottom_ = std::max(layer_bottom_, y + 1);
      float* const nearest = layer_->nearness.data() + in_layer;
      for (int i = 0; i < count; ++i) {
        const auto step = static_cast<float>(i);
        const float here = near_start + near.by_x * step;
        if (here <= nearest[i])
          continue;
        const bool opaque = (frame_.item[offset + i] & translucent_bit) == 0;
        if (opaque && here <= frame_.nearness[offset + i])
          continue;
        nearest[i] = here;
        const float place = along_start + along.by_x * step;
        layer_->colour[in_layer + i] =
            shade(u_start + u.by_x * step, v_start + v.by_x * step, perspective_ ? place / here : place);
      }
      continue;
    }
    if (glaze_ > 0) {
      for (int i = 0; i < count; ++i) {
        const auto step = static_cast<float>(i);
        const float here = near_start + near.by_x * step;
        std::uint32_t& item = frame_.item[offset + i];
        const bool opaque = item != 0 && (item & translucent_bit) == 0;
        if (opaque && here <= frame_.nearness[offset + i])
          continue;
        const float place = along_start + along.by_x * step;
        const QRgb colour =
            shade(u_start + u.by_x * step, v_start + v.by_x * step, perspective_ ? place / here : place);
        frame_.colour[offset + i] = mixed_256(frame_.colour[offset + i], colour, glaze_);
        if (!opaque) {
          item = index | translucent_bit;
          frame_.nearness[offset + i] = here;
        }
      }
      continue;
    }
    float* const nearest = frame_.nearness.data() + offset;
    for (int i = 0; i < count; ++i) {
      const auto step = static_cast<float>(i);
      const float here = near_start + near.by_x * step;
      if (here <= nearest[i])
        continue;
      nearest[i] = here;
      frame_.item[offset + i] = index;
      const float place = along_start + along.by_x * step;
      frame_.colour[offset + i] =
          shade(u_start + u.by_x * step, v_start + v.by_x * step, perspective_ ? place / here : place);
    }
  }
}

void Band::fill(const Chunk& chunk, const Drawn& drawn, const ScreenPoint* points) {
  const auto& ramp = drawn.item->ramp;
  const bool ramped = !ramp.empty() && !drawn.mesh->along.empty();
  const auto& lights = light_table(drawn.item->finish);
  for (const std::uint32_t number : chunk.bands[static_cast<std::size_t>(first_row_ / band_rows)]) {
    const bool cut = (number & cut_bit) != 0;
    const auto& corners = cut ? chunk.cut_triangles[number & ~cut_bit] : drawn.mesh->triangles[number];
    const ScreenPoint* const from = cut ? chunk.cut_points.data() : points;
    const ScreenPoint &a = from[corners[0]], &b = from[corners[1]], &c = from[corners[2]];
    const bool behind = (b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y) > 0;
    if (behind && drawn.mesh->closed)
      triangle(a, b, c, false, drawn.index, Flat{drawn.cut_face});
    else if (!ramped && a.u == b.u && b.u == c.u && a.v == b.v && b.v == c.v)
      triangle(a, b, c, false, drawn.index,
               Flat{drawn.lights[behind ? light_place(light_size - a.u, light_size - a.v)
                                        : light_place(a.u, a.v)]});
    else if (ramped)
      triangle(a, b, c, behind, drawn.index, Ramped{ramp, lights});
    else
      triangle(a, b, c, behind, drawn.index, Lit{drawn.lights});
  }
}

void Band::edges(const Drawn& drawn, const ScreenPoint* points, bool over_translucent) {
  for (const auto& edge : drawn.mesh->edges) {
    ScreenPoint a = points[edge[0]], b = points[edge[1]];
    if (perspective_ && (a.near < 0 || b.near < 0))
      continue;
    if (drawn.cut && (a.cut > 0 || b.cut > 0)) {
      if (a.cut > 0 && b.cut > 0)
        continue;
      if (a.cut > 0)
        std::swap(a, b);
      const float from = a.cut * (perspective_ ? a.near : 1), to = b.cut * (perspective_ ? b.near : 1);
      const float t = from / (from - to);
      b.x = a.x + t * (b.x - a.x);
      b.y = a.y + t * (b.y - a.y);
      b.near = a.near + t * (b.near - a.near);
    }
    const auto top = static_cast<float>(first_row_), bottom = static_cast<float>(last_row_),
               width = static_cast<float>(frame_.width);
    if (std::max(a.y, b.y) < top || std::min(a.y, b.y) >= bottom || std::max(a.x, b.x) < 0 ||
        std::min(a.x, b.x) >= width)
      continue;
    const bool steep = std::abs(b.y - a.y) > std::abs(b.x - a.x);
    const float a_main = steep ? a.y : a.x, b_main = steep ? b.y : b.x;
    const bool turned = b_main < a_main;
    const ScreenPoint &from = turned ? b : a, &to = turned ? a : b;
    const float from_main = steep ? from.y : from.x, to_main = steep ? to.y : to.x;
    if (!(to_main > from_main))
      continue;
    const float from_side = steep ? from.x : from.y,
                side_by = ((steep ? to.x : to.y) - from_side) / (to_main - from_main);
    const float near_by = (to.near - from.near) / (to_main - from_main);
    const float low = steep ? top : 0, high = steep ? bottom : width;
    const int first = static_cast<int>(std::ceil(std::max(from_main, low) - 0.5F)),
              last = static_cast<int>(std::ceil(std::min(to_main, high) - 0.5F));
    for (int i = first; i < last; ++i) {
      const float on = static_cast<float>(i) + 0.5F - from_main;
      const int side = static_cast<int>(std::floor(from_side + side_by * on));
      const int x = steep ? side : i, y = steep ? i : side;
      if (x < 0 || x >= frame_.width || y < first_row_ || y >= last_row_)
        continue;
      const std::size_t here = frame_.at(x, y);
      float near = from.near + near_by * on;
      near += perspective_ ? near * edge_lift : edge_lift;
      const bool free = over_translucent && (frame_.item[here] & translucent_bit) != 0;
      if (free || near >= frame_.nearness[here])
        frame_.colour[here] = mixed(frame_.colour[here], drawn.line, drawn.line_share);
    }
  }
}

void Band::begin_layer(Layer& layer) {
  const std::size_t count = static_cast<std::size_t>(frame_.width) * band_rows;
  if (layer.nearness.size() != count) {
    layer.nearness.assign(count, nothing_near);
    layer.colour.resize(count);
  }
  layer_ = &layer;
  layer_left_ = frame_.width;
  layer_top_ = last_row_;
  layer_right_ = 0;
  layer_bottom_ = 0;
}

void Band::begin_glaze(double opacity) {
  glaze_ = std::max(1U, in_256ths(opacity));
}

void Band::lay_over(const Drawn& drawn) {
  const unsigned opacity = in_256ths(drawn.item->opacity);
  for (int y = layer_top_; y < layer_bottom_; ++y)
    for (int x = layer_left_; x < layer_right_; ++x) {
      const std::size_t here = frame_.at(x, y), in_layer = here - frame_.at(0, first_row_);
      float& near = layer_->nearness[in_layer];
      if (near == nothing_near)
        continue;
      frame_.colour[here] = mixed_256(frame_.colour[here], layer_->colour[in_layer], opacity);
      std::uint32_t& item = frame_.item[here];
      if (item == 0 || (item & translucent_bit) != 0) {
        item = drawn.index | translucent_bit;
        frame_.nearness[here] = near;
      }
      near = nothing_near;
    }
  layer_ = nullptr;
}

void Band::settle() {
  for (int y = first_row_; y < last_row_; ++y)
    for (int x = 0; x < frame_.width; ++x)
      frame_.item[frame_.at(x, y)] &= ~translucent_bit;
}

} // namespace bellmouth::ui::scene::raster
