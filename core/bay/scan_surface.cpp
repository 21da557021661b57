// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/bay/scan_surface.hpp>

#include <algorithm>
#include <cmath>

namespace bellmouth::bay {
namespace {

/// A stretch against the surface of a scan: straights exactly, arcs by their chords.
class OverScan {
public:
  OverScan(const ScanSurface& scan, const Stretch& stretch, double cutoff, const std::optional<Vector>& hint,
           double sagitta_m)
      : scan_(scan), stretch_(stretch), cutoff_(cutoff),
        narrow_m_(2 * half_chord_m(stretch.bend_m, sagitta_m)) {
    if (!hint)
      return;
    Stretch point;
    point.start = *hint;
    set_bounds(point);
    const PairLow low = nearest_pair(stretch, point, cutoff);
    best_ = {{low.value, low.at_a}, *hint};
  }

  Touch find() && {
    if (stretch_.is_straight())
      offer(0, stretch_.length_m, ask(0, stretch_.length_m, needed()));
    else
      search(0, stretch_.length_m);
    return best_;
  }

private:
  [[nodiscard]] double needed() const { return std::min(best_.low.value, cutoff_); }

  [[nodiscard]] mesh::Nearest ask(double low, double high, double cutoff) const {
    const double scale = scan_.placement.scale;
    return scan_.tree->nearest(scan_.placement.to_file(stretch_.at(low)),
                               scan_.placement.to_file(stretch_.at(high)), stretch_.radius(low) / scale,
                               stretch_.radius(high) / scale, cutoff / scale);
  }
  void offer(double low, double high, const mesh::Nearest& found) {
    if (std::isinf(found.distance))
      return;
    const double x = low + found.along * (high - low);
    const Vector on_scan = scan_.placement.to_bay(found.on_surface);
    const double distance = length(minus(stretch_.at(x), on_scan)) - stretch_.radius(x);
    if (distance < best_.low.value)
      best_ = {{distance, x}, on_scan};
  }

  void search(double low, double high) {
    const double half_angle = 0.5 * (high - low) / stretch_.bend_m, middle = 0.5 * (low + high);
    constexpr double widest = 0.8; // the bound on what an arc leaves its chord by holds below a right angle
    if (half_angle > widest) {
      search(low, middle);
      search(middle, high);
      return;
    }
    // Beside the sagitta, a radius that goes evenly along the arc does not quite along the chord.
    const double leaves_m =
        stretch_.bend_m * (1 - std::cos(half_angle)) +
        std::abs(stretch_.radius(high) - stretch_.radius(low)) * 0.04 * half_angle * half_angle;
    const mesh::Nearest found = ask(low, high, needed() + leaves_m);
    if (std::isinf(found.distance) || found.distance * scan_.placement.scale - leaves_m >= needed())
      return;
    offer(low, high, found); // a place on the true arc, good for ruling out the rest
    if (high - low <= narrow_m_)
      return;
    const bool first_is_nearer = found.along <= 0.5;
    search(first_is_nearer ? low : middle, first_is_nearer ? middle : high);
    search(first_is_nearer ? middle : low, first_is_nearer ? high : middle);
  }

  const ScanSurface& scan_;
  const Stretch& stretch_;
  double cutoff_, narrow_m_;
  Touch best_;
};

} // namespace

ScanSurface scan_surface(const mesh::Tree& tree, const mesh::Placement& placement) {
  const mesh::Extent& extent = tree.extent();
  build::Box hull{placement.to_bay(combined(0.5, extent.low, 0.5, extent.high)), {}, placement.axes};
  for (std::size_t i = 0; i < 3; ++i)
    hull.half_size_m[i] = 0.5 * (extent.high[i] - extent.low[i]) * placement.scale;
  return {&tree, placement, BoxSolid(hull)};
}

Touch nearest_to(const ScanSurface& scan, const Stretch& stretch, double cutoff,
                 const std::optional<Vector>& hint, double sagitta_m) {
  return OverScan(scan, stretch, cutoff, hint, sagitta_m).find();
}

} // namespace bellmouth::bay
