// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/frame.hpp"

#include "scene/light.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace bellmouth::ui::scene {

namespace {

constexpr int rows_a_job = 32;
/// A step in depth of this size within one item is drawn as an outline [m].
constexpr float step_m = 0.012F;

/// Darkens the nearer side of every border between items, and steps within an item; puts a rim round marked
/// items.
class Outliner {
public:
  Outliner(Frame& frame, const Scene& scene, const Camera& camera, const DrawOptions& options)
      : frame_(frame), options_(options), perspective_(camera.perspective),
        fine_(options.quality == Quality::resting) {
    line_ = std::max(1, static_cast<int>(std::lround(options.device_pixel_ratio * frame.samples * 0.6)));
    rim_ = std::max(2, static_cast<int>(std::lround(2.5 * options.device_pixel_ratio * frame.samples)));
    marks_.push_back(Mark::none);
    for (const Item& item : scene.items)
      marks_.push_back(item.mark);
    marked_ = std::ranges::any_of(marks_, [](Mark mark) { return mark != Mark::none; });
  }

  void row(int y) {
    const std::size_t width = static_cast<std::size_t>(frame_.width);
    const std::uint32_t* const items = frame_.item.data() + frame_.at(0, y);
    const std::ptrdiff_t up = y > 0 ? -static_cast<std::ptrdiff_t>(width) : 0,
                         down = y + 1 < frame_.height ? static_cast<std::ptrdiff_t>(width) : 0;
    for (std::size_t x = 0; x < width; ++x) {
      const std::uint32_t own = items[x];
      const std::size_t left = x > 0 ? x - 1 : x, right = x + 1 < width ? x + 1 : x;
      const std::ptrdiff_t here = static_cast<std::ptrdiff_t>(x);
      const bool border =
          items[left] != own || items[right] != own || items[here + up] != own || items[here + down] != own;
      if (own != 0 && (border || (line_ > 1 && nearer_than_a_neighbour(static_cast<int>(x), y, own)))) {
        if (border ? nearer_than_a_neighbour(static_cast<int>(x), y, own) : true)
          darken(static_cast<int>(x), y, 0.8);
      } else if (fine_ && own != 0 && steps(static_cast<int>(x), y)) {
        darken(static_cast<int>(x), y, 0.55);
      }
    }
  }

  [[nodiscard]] bool marked() const { return marked_; }

  /// Reads items only, so rows may be done in any order.
  void rims(int y) {
    for (int x = 0; x < frame_.width; ++x) {
      const Mark own = mark_at(x, y);
      if (own != Mark::none)
        continue;
      if (const Mark near = mark_near(x, y); near != Mark::none)
        frame_.colour[frame_.at(x, y)] = near == Mark::selected ? options_.selected : options_.hovered;
    }
  }

  /// Columns next to marked items of this row, so that rims are looked for only where they can be.
  [[nodiscard]] bool any_mark_about(int y) const {
    for (int near = std::max(0, y - rim_); near <= std::min(frame_.height - 1, y + rim_); ++near)
      if (rows_with_marks_[static_cast<std::size_t>(near)] != 0)
        return true;
    return false;
  }
  void find_marks(int y) {
    const std::uint32_t* const items = frame_.item.data() + frame_.at(0, y);
    rows_with_marks_[static_cast<std::size_t>(y)] =
        std::any_of(items, items + frame_.width,
                    [&](std::uint32_t item) { return marks_[item] != Mark::none; })
            ? 1
            : 0;
  }
  void begin_marks() { rows_with_marks_.assign(static_cast<std::size_t>(frame_.height), 0); }

private:
  [[nodiscard]] bool nearer_than_a_neighbour(int x, int y, std::uint32_t own) const {
    const float near = frame_.nearness[frame_.at(x, y)];
    const auto beats = [&](int nx, int ny) {
      if (nx < 0 || ny < 0 || nx >= frame_.width || ny >= frame_.height)
        return false;
      const std::size_t other = frame_.at(nx, ny);
      return frame_.item[other] != own && frame_.nearness[other] < near;
    };
    for (int k = 1; k <= line_; ++k)
      if (beats(x - k, y) || beats(x + k, y) || beats(x, y - k) || beats(x, y + k))
        return true;
    return false;
  }

  /// Nearness is linear over a plane, so its second difference is a step or a sharp bend.
  [[nodiscard]] bool steps(int x, int y) const {
    if (x < 1 || y < 1 || x + 1 >= frame_.width || y + 1 >= frame_.height)
      return false;
    const std::size_t here = frame_.at(x, y), width = static_cast<std::size_t>(frame_.width);
    const float* const near = frame_.nearness.data();
    const float own = near[here];
    const float limit = perspective_ ? step_m * own * own : step_m;
    // The nearer side of the step only.
    return 2 * own - near[here - 1] - near[here + 1] > limit ||
           2 * own - near[here - width] - near[here + width] > limit;
  }

  void darken(int x, int y, double share) {
    QRgb& colour = frame_.colour[frame_.at(x, y)];
    colour = mixed(colour, options_.outline, share);
  }

  [[nodiscard]] Mark mark_at(int x, int y) const { return marks_[frame_.item[frame_.at(x, y)]]; }

  [[nodiscard]] Mark mark_near(int x, int y) const {
    Mark found = Mark::none;
    const int low = std::max(0, y - rim_), high = std::min(frame_.height - 1, y + rim_);
    for (int ny = low; ny <= high; ++ny) {
      if (rows_with_marks_[static_cast<std::size_t>(ny)] == 0)
        continue;
      const int reach = static_cast<int>(std::sqrt(rim_ * rim_ - (ny - y) * (ny - y)));
      for (int nx = std::max(0, x - reach); nx <= std::min(frame_.width - 1, x + reach); ++nx)
        found = std::max(found, mark_at(nx, ny));
    }
    return found;
  }

  Frame& frame_;
  const DrawOptions& options_;
  bool perspective_, fine_, marked_ = false;
  int line_ = 1, rim_ = 2;
  std::vector<Mark> marks_;
  std::vector<std::uint8_t> rows_with_marks_;
};

void for_rows(Workers& workers, int height, const std::function<void(int)>& row) {
  const int jobs = (height + rows_a_job - 1) / rows_a_job;
  workers.run(static_cast<std::size_t>(jobs), [&](std::size_t job) {
    const int first = static_cast<int>(job) * rows_a_job;
    for (int y = first; y < std::min(height, first + rows_a_job); ++y)
      row(y);
  });
}

/// The mean of a square of samples, and the nearest of them.
void gather(const Frame& frame, int x, int y, const std::vector<std::uint32_t>& ids, QRgb& colour,
            std::uint32_t& id, float& nearness) {
  const int n = frame.samples;
  int red = 0, green = 0, blue = 0;
  std::size_t nearest = frame.at(x * n, y * n);
  for (int dy = 0; dy < n; ++dy)
    for (int dx = 0; dx < n; ++dx) {
      const std::size_t sample = frame.at(x * n + dx, y * n + dy);
      red += qRed(frame.colour[sample]);
      green += qGreen(frame.colour[sample]);
      blue += qBlue(frame.colour[sample]);
      if (frame.nearness[sample] > frame.nearness[nearest])
        nearest = sample;
    }
  const int count = n * n, half = count / 2;
  colour = qRgb((red + half) / count, (green + half) / count, (blue + half) / count);
  id = ids[frame.item[nearest]];
  nearness = frame.nearness[nearest];
}

} // namespace

void Frame::resize(QSize size_px, int samples_wanted) {
  samples = samples_wanted;
  width = size_px.width() * samples;
  height = size_px.height() * samples;
  const std::size_t count = static_cast<std::size_t>(width) * static_cast<std::size_t>(height);
  colour.resize(count);
  item.resize(count);
  nearness.resize(count);
}

int samples_of(Quality quality) {
  return quality == Quality::resting ? 2 : 1;
}

QImage backdrop_of(const DrawOptions& options) {
  assert(options.backdrop.isNull() || options.backdrop.size() == options.size_px);
  return options.backdrop.convertToFormat(QImage::Format_RGB32);
}

Picture finished(Frame& frame, const Scene& scene, const Camera& camera, const DrawOptions& options,
                 Workers& workers) {
  Outliner outliner(frame, scene, camera, options);
  for_rows(workers, frame.height, [&](int y) { outliner.row(y); });
  if (outliner.marked()) {
    outliner.begin_marks();
    for_rows(workers, frame.height, [&](int y) { outliner.find_marks(y); });
    for_rows(workers, frame.height, [&](int y) {
      if (outliner.any_mark_about(y))
        outliner.rims(y);
    });
  }

  std::vector<std::uint32_t> ids{0};
  for (const Item& item : scene.items)
    ids.push_back(item.id);
  Picture picture;
  picture.camera = camera;
  picture.image = QImage(options.size_px, QImage::Format_RGB32);
  picture.image.setDevicePixelRatio(options.device_pixel_ratio);
  const std::size_t width = static_cast<std::size_t>(options.size_px.width());
  picture.ids.resize(width * static_cast<std::size_t>(options.size_px.height()));
  picture.nearness.resize(picture.ids.size());
  uchar* const bits = picture.image.bits();
  const qsizetype stride = picture.image.bytesPerLine();
  for_rows(workers, options.size_px.height(), [&](int y) {
    auto* const line = reinterpret_cast<QRgb*>(bits + y * stride);
    if (frame.samples == 1) {
      const std::size_t row = frame.at(0, y);
      std::copy_n(frame.colour.data() + row, width, line);
      std::copy_n(frame.nearness.data() + row, width, picture.nearness.data() + row);
      for (std::size_t i = row; i < row + width; ++i)
        picture.ids[i] = ids[frame.item[i]];
      return;
    }
    for (int x = 0; x < options.size_px.width(); ++x) {
      const std::size_t here = static_cast<std::size_t>(y) * width + static_cast<std::size_t>(x);
      gather(frame, x, y, ids, line[x], picture.ids[here], picture.nearness[here]);
    }
  });
  return picture;
}

Extent Bounds::of(const std::shared_ptr<const TriangleMesh>& mesh) {
  const auto found = known_.find(mesh.get());
  if (found != known_.end() && found->second.mesh.lock() == mesh)
    return found->second.extent;
  const Extent box = extent(*mesh);
  known_[mesh.get()] = {mesh, box};
  return box;
}

Extent Bounds::of(const Item& item) {
  const Extent box = of(item.mesh);
  TriangleMesh corners;
  for (int corner = 0; corner < 8; ++corner)
    corners.points_m.push_back({(corner & 1) != 0 ? box.high[0] : box.low[0],
                                (corner & 2) != 0 ? box.high[1] : box.low[1],
                                (corner & 4) != 0 ? box.high[2] : box.low[2]});
  return extent(corners, item.placement);
}

void Bounds::forget_the_gone() {
  std::erase_if(known_, [](const auto& entry) { return entry.second.mesh.expired(); });
}

const std::shared_ptr<const TriangleMesh>& mesh_of(const Item& item, Quality quality) {
  return quality == Quality::dragging && item.coarse ? item.coarse : item.mesh;
}

Order order_of(const Scene& scene, const Camera& camera, Quality quality, Bounds& bounds) {
  Order order;
  std::vector<double> depth_m(scene.items.size());
  const Vector forward = camera.forward();
  for (std::size_t i = 0; i < scene.items.size(); ++i) {
    const Item& item = scene.items[i];
    if (!mesh_of(item, quality) || mesh_of(item, quality)->points_m.empty() || item.opacity <= 0)
      continue;
    (item.opacity < 1 ? order.translucent : order.opaque).push_back(i);
    if (item.opacity < 1) {
      const Extent box = bounds.of(item);
      depth_m[i] = dot(forward, plus(box.low, box.high)) / 2;
    }
  }
  std::ranges::stable_sort(order.translucent,
                           [&](std::size_t a, std::size_t b) { return depth_m[a] > depth_m[b]; });
  return order;
}

} // namespace bellmouth::ui::scene
