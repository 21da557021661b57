// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/palette.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

namespace bellmouth::ui::scene {

namespace {

struct Lab {
  double lightness, a, b;
};

/// IEC 61966-2-1 from CIE 1976 L*a*b* under D65.
QRgb srgb(const Lab& lab) {
  const auto cubed = [](double f) {
    constexpr double knee = 6.0 / 29;
    return f > knee ? f * f * f : 3 * knee * knee * (f - 4.0 / 29);
  };
  const double fy = (lab.lightness + 16) / 116;
  const double x = 0.95047 * cubed(fy + lab.a / 500), y = cubed(fy), z = 1.08883 * cubed(fy - lab.b / 200);
  const auto part = [](double linear) {
    const double bounded = std::clamp(linear, 0.0, 1.0);
    const double coded = bounded <= 0.0031308 ? 12.92 * bounded : 1.055 * std::pow(bounded, 1 / 2.4) - 0.055;
    return static_cast<int>(std::lround(255 * coded));
  };
  return qRgb(part(3.2404542 * x - 1.5371385 * y - 0.4985314 * z),
              part(-0.9692660 * x + 1.8760108 * y + 0.0415560 * z),
              part(0.0556434 * x - 0.2040259 * y + 1.0572252 * z));
}

Lab between(const Lab& from, const Lab& to, double t) {
  return {from.lightness + t * (to.lightness - from.lightness), from.a + t * (to.a - from.a),
          from.b + t * (to.b - from.b)};
}

/// Blue, green, yellow: the hue on a parabola, so that it passes near green and not grey.
Lab sequential(double t) {
  constexpr Lab from{24, 22, -46}, by{56.5, -44, -8}, to{89, -8, 70};
  return between(between(from, by, t), between(by, to, t), t);
}
Lab diverging(double t) {
  constexpr Lab below{40, 4, -42}, middle{92, 0, 3}, above{52, 30, 50};
  return t < 0.5 ? between(below, middle, 2 * t) : between(middle, above, 2 * t - 1);
}

/// So fine that neighbours differ by no more than a step of the screen's colours.
constexpr std::size_t table_size = 512;
using Table = std::array<QRgb, table_size>;

const Table& table(ColourMap map) {
  static const std::array<Table, 2> tables = [] {
    std::array<Table, 2> made{};
    for (std::size_t i = 0; i < table_size; ++i) {
      const double t = static_cast<double>(i) / (table_size - 1);
      made[0][i] = srgb(sequential(t));
      made[1][i] = srgb(diverging(t));
    }
    return made;
  }();
  return tables[map == ColourMap::sequential ? 0 : 1];
}

} // namespace

QRgb colour_at(ColourMap map, double share) {
  assert(!std::isnan(share));
  return table(map)[static_cast<std::size_t>(std::lround(std::clamp(share, 0.0, 1.0) * (table_size - 1)))];
}

double ValueScale::share(double value) const {
  return (value - low) / (high - low);
}

QRgb ValueScale::colour(double value) const {
  return colour_at(map, share(value));
}

std::vector<double> ValueScale::ticks(int most) const {
  assert(high > low && most >= 2);
  constexpr double whole = 1e-9; ///< how far from a multiple still counts as one
  const double decade = std::pow(10, std::floor(std::log10((high - low) / most)));
  for (const double factor : {1.0, 2.0, 5.0, 10.0, 20.0}) {
    const double step = factor * decade;
    const double first = std::ceil(low / step - whole), last = std::floor(high / step + whole);
    if (last - first + 1 > most)
      continue;
    std::vector<double> found;
    const int count = static_cast<int>(last - first) + 1;
    found.reserve(static_cast<std::size_t>(std::max(count, 0)));
    for (int i = 0; i < count; ++i)
      found.push_back((first + i) * step);
    return found;
  }
  return {};
}

ValueScale scale_of(const std::vector<double>& values, ColourMap map) {
  ValueScale scale{.low = 0, .high = 1, .map = map};
  bool any = false;
  for (const double value : values)
    if (std::isfinite(value)) {
      scale.low = any ? std::min(scale.low, value) : value;
      scale.high = any ? std::max(scale.high, value) : value;
      any = true;
    }
  if (scale.high - scale.low <= 1e-9 * std::max(std::abs(scale.high), std::abs(scale.low))) {
    const double room = std::max(0.05 * std::abs(scale.high), 1e-6);
    scale.low -= room;
    scale.high += room;
  }
  return scale;
}

QRgb class_colour(std::size_t number) {
  constexpr std::array<QRgb, 5> colours{0xff56b4e9, 0xffe69f00, 0xff009e73, 0xffd55e00, 0xffcc79a7};
  return colours[number % colours.size()];
}

} // namespace bellmouth::ui::scene
