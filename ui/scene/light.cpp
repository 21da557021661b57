// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/light.hpp"

#include <algorithm>
#include <cmath>

namespace bellmouth::ui::scene {

namespace {

// A studio: a bright ceiling, a grey floor, a large lamp to the upper left, a narrow one to the right. The
// figures were chosen by eye.

const Vector lamp = unit({-0.5, 0.68, 0.62}), side_lamp = unit({0.86, 0.1, 0.3});

double smooth(double low, double high, double x) {
  const double t = std::clamp((x - low) / (high - low), 0.0, 1.0);
  return t * t * (3 - 2 * t);
}
double lobe(const Vector& a, const Vector& b, double sharpness) {
  return std::pow(std::max(dot(a, b), 0.0), sharpness);
}

/// The room as a mirror sees it in a direction.
double room(const Vector& way) {
  const double ceiling = 0.72 + 0.38 * smooth(0.0, 0.65, way[1]) - 0.12 * smooth(0.7, 1.0, way[1]);
  const double floor = 0.34 + 0.26 * smooth(0.05, 0.9, -way[1]);
  return floor + (ceiling - floor) * smooth(-0.22, 0.16, way[1]);
}

Light metal(const Vector& normal) {
  const Vector mirrored{2 * normal[2] * normal[0], 2 * normal[2] * normal[1], 2 * normal[2] * normal[2] - 1};
  const double seen = 0.5 * room(mirrored) + 0.5 * room(normal);
  const double rim = std::pow(1 - normal[2], 3);
  const double level = 0.16 + 0.88 * seen - 0.20 * rim * smooth(0.3, -0.6, normal[1]);
  const double warm = 0.5 * normal[1];
  const double shine = 0.50 * lobe(mirrored, lamp, 14) + 0.12 * lobe(mirrored, lamp, 4) +
                       0.16 * lobe(mirrored, side_lamp, 18) + 0.08 * rim;
  return {static_cast<float>(level * (1 - 0.03 * warm)), static_cast<float>(level),
          static_cast<float>(level * (1 + 0.05 * warm)), static_cast<float>(shine)};
}

Light rubber(const Vector& normal) {
  const double sky = 0.5 + 0.5 * normal[1];
  const Vector half = unit(plus(lamp, {0, 0, 1}));
  const double rim = std::pow(1 - normal[2], 3);
  const double level = 0.42 + 0.40 * sky + 0.38 * std::max(dot(normal, lamp), 0.0) - 0.18 * rim;
  const double shine = 0.20 * lobe(normal, half, 26) + 0.06 * lobe(normal, half, 5) + 0.09 * rim * sky +
                       0.05 * lobe(normal, side_lamp, 8);
  return {static_cast<float>(level * 0.99), static_cast<float>(level),
          static_cast<float>(level * (1 + 0.03 * sky)), static_cast<float>(shine)};
}

Light matt(const Vector& normal) {
  const double sky = 0.5 + 0.5 * normal[1];
  const double level = 0.50 + 0.30 * sky + 0.30 * std::max(dot(normal, lamp), 0.0);
  return {static_cast<float>(level), static_cast<float>(level), static_cast<float>(level * (1 + 0.02 * sky)),
          0};
}

Light glow(const Vector& normal) {
  const auto level = static_cast<float>(0.86 + 0.10 * normal[1] + 0.08 * normal[2]);
  return {level, level, level, 0.02F};
}

Light light_on(Finish finish, const Vector& normal) {
  switch (finish) {
  case Finish::metal:
    return metal(normal);
  case Finish::rubber:
    return rubber(normal);
  case Finish::matt:
    return matt(normal);
  case Finish::glow:
    break;
  }
  return glow(normal);
}

LightTable table_of(Finish finish) {
  LightTable table;
  table.reserve(static_cast<std::size_t>(light_size) * light_size);
  for (int row = 0; row < light_size; ++row)
    for (int column = 0; column < light_size; ++column) {
      double x = 2.0 * column / (light_size - 1) - 1, y = 2.0 * row / (light_size - 1) - 1;
      // Beyond the rim the rim's own.
      if (const double out = std::hypot(x, y); out > 1) {
        x /= out;
        y /= out;
      }
      const Vector normal{x, y, std::sqrt(std::max(0.0, 1 - x * x - y * y))};
      table.push_back(light_on(finish, normal));
    }
  return table;
}

int part(double value) {
  return static_cast<int>(std::clamp(value, 0.0, 255.0));
}

} // namespace

const LightTable& light_table(Finish finish) {
  static const std::array<LightTable, all_finishes.size()> tables = [] {
    std::array<LightTable, all_finishes.size()> made;
    for (std::size_t i = 0; i < made.size(); ++i)
      made[i] = table_of(all_finishes[i]);
    return made;
  }();
  return tables[static_cast<std::size_t>(finish)];
}

QRgb lit(QRgb colour, const Light& light) {
  const double shine = 255 * static_cast<double>(light.shine) + 0.5;
  const auto one = [shine](int own, double factor) { return part(own * factor + shine); };
  return qRgb(one(qRed(colour), light.red), one(qGreen(colour), light.green), one(qBlue(colour), light.blue));
}

std::vector<QRgb> lit_table(QRgb colour, Finish finish) {
  std::vector<QRgb> table;
  table.reserve(light_table(finish).size());
  for (const Light& light : light_table(finish))
    table.push_back(lit(colour, light));
  return table;
}

QRgb cut_colour(QRgb colour) {
  return mixed(colour, 0xff101418, 0.5);
}

QRgb mixed(QRgb a, QRgb b, double share) {
  return mixed_256(a, b, static_cast<unsigned>(std::lround(share * 256)));
}

} // namespace bellmouth::ui::scene
