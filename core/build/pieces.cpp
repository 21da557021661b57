// SPDX-License-Identifier: GPL-3.0-or-later
#include "kinds.hpp"
#include "overloaded.hpp"

#include <bellmouth/build/pieces.hpp>

#include <algorithm>
#include <cmath>
#include <concepts>

namespace bellmouth::build {

namespace {

template <class S>
concept Fitting = std::same_as<S, SensorBoss> || std::same_as<S, ValveFlange>;
/// One outside diameter from end to end.
template <class S>
concept PlainRigid = requires(const S& s) {
  s.outer_diameter_m;
};
/// Outside diameters and one wall.
template <class S>
concept Walled = requires(const S& s) {
  s.outer_diameter_in_m, s.wall_m;
};
/// A flexible piece of one bore.
template <class S>
concept PlainHose = requires(const S& s) {
  s.bore_m, s.engagement;
};
/// A flexible piece of two bores.
template <class S>
concept TwoBoreHose = requires(const S& s) {
  s.bore_in_m, s.engagement;
};
template <class S>
concept Bent = requires(const S& s) {
  s.leg_in_m, s.leg_out_m;
};

} // namespace

std::string_view material_key(Material material) {
  return material_keys[static_cast<std::size_t>(material)];
}

std::string_view material_name(Material material) {
  // In the order of Material.
  constexpr std::array<std::string_view, material_keys.size()> names{
      "aluminium", "mild steel", "stainless steel", "silicone", "rubber", "plastic"};
  return names[static_cast<std::size_t>(material)];
}

std::string_view kind_key(const Shape& shape) {
  return shape_kinds[shape.index()].key;
}
std::string_view kind_name(const Shape& shape) {
  return shape_kinds[shape.index()].name;
}

std::string_view title(const Piece& piece) {
  return piece.label.empty() ? kind_name(piece.shape) : std::string_view(piece.label);
}

bool is_fitting(const Shape& shape) {
  return std::visit([]<class S>(const S&) { return Fitting<S>; }, shape);
}
bool is_flexible(const Shape& shape) {
  return std::visit(
      []<class S>(const S&) {
        return requires(const S& s) {
          s.engagement;
        };
      },
      shape);
}
bool is_rigid(const Shape& shape) {
  return !is_fitting(shape) && !is_flexible(shape);
}

double bore_in_m(const Shape& shape) {
  return std::visit(Overloaded{[]<PlainRigid S>(const S& s) { return s.outer_diameter_m - 2 * s.wall_m; },
                               []<Walled S>(const S& s) { return s.outer_diameter_in_m - 2 * s.wall_m; },
                               []<PlainHose S>(const S& s) { return s.bore_m; },
                               []<TwoBoreHose S>(const S& s) { return s.bore_in_m; },
                               [](const Adapter& s) { return s.bore_in_m; },
                               []<Fitting S>(const S&) { return 0.0; }},
                    shape);
}

double bore_out_m(const Shape& shape) {
  return std::visit(Overloaded{[]<PlainRigid S>(const S& s) { return s.outer_diameter_m - 2 * s.wall_m; },
                               []<Walled S>(const S& s) { return s.outer_diameter_out_m - 2 * s.wall_m; },
                               []<PlainHose S>(const S& s) { return s.bore_m; },
                               []<TwoBoreHose S>(const S& s) { return s.bore_out_m; },
                               [](const Adapter& s) { return s.bore_out_m; },
                               []<Fitting S>(const S&) { return 0.0; }},
                    shape);
}

double outer_diameter_in_m(const Shape& shape) {
  return std::visit(Overloaded{[]<PlainRigid S>(const S& s) { return s.outer_diameter_m; },
                               []<Walled S>(const S& s) { return s.outer_diameter_in_m; },
                               []<PlainHose S>(const S& s) { return s.bore_m + 2 * s.wall_m; },
                               []<TwoBoreHose S>(const S& s) { return s.bore_in_m + 2 * s.wall_m; },
                               [](const Adapter& s) { return s.outer_diameter_in_m; },
                               []<Fitting S>(const S&) { return 0.0; }},
                    shape);
}

double outer_diameter_out_m(const Shape& shape) {
  return std::visit(Overloaded{[]<PlainRigid S>(const S& s) { return s.outer_diameter_m; },
                               []<Walled S>(const S& s) { return s.outer_diameter_out_m; },
                               []<PlainHose S>(const S& s) { return s.bore_m + 2 * s.wall_m; },
                               []<TwoBoreHose S>(const S& s) { return s.bore_out_m + 2 * s.wall_m; },
                               [](const Adapter& s) { return s.outer_diameter_out_m; },
                               []<Fitting S>(const S&) { return 0.0; }},
                    shape);
}

double wall_m(const Shape& shape) {
  return std::visit(Overloaded{[](const auto& s) { return s.wall_m; },
                               [](const Adapter& s) {
                                 return 0.5 * std::min(s.outer_diameter_in_m - s.bore_in_m,
                                                       s.outer_diameter_out_m - s.bore_out_m);
                               },
                               []<Fitting S>(const S&) { return 0.0; }},
                    shape);
}

double full_length_m(const Shape& shape) {
  return std::visit(
      Overloaded{[](const auto& s) { return s.length_m; },
                 []<Bent S>(const S& s) { return s.leg_in_m + s.radius_m * s.angle_rad + s.leg_out_m; },
                 [](const MitredBend& s) {
                   // The cuts are tangent to the arc: each mitre has a half segment on either side.
                   const double half_segment_m = s.radius_m * std::tan(s.angle_rad / (2.0 * s.joints));
                   return s.leg_in_m + 2.0 * s.joints * half_segment_m + s.leg_out_m;
                 },
                 []<Fitting S>(const S&) { return 0.0; }},
      shape);
}

double angle_rad(const Shape& shape) {
  return std::visit(
      Overloaded{[](const auto&) { return 0.0; }, []<Bent S>(const S& s) { return s.angle_rad; }}, shape);
}

double land_in_m(const Shape& shape) {
  return std::visit(Overloaded{[](const Tube& s) { return s.length_m; },
                               [](const Hose& s) { return s.length_m; },
                               []<Bent S>(const S& s) { return s.leg_in_m; }, [](const Cone&) { return 0.0; },
                               [](const Adapter& s) { return 0.5 * s.length_m; },
                               [](const HumpHose& s) { return 0.5 * (s.length_m - s.hump_length_m); },
                               [](const HoseReducer& s) { return 0.5 * s.length_m; },
                               []<Fitting S>(const S&) { return 0.0; }},
                    shape);
}

double land_out_m(const Shape& shape) {
  return std::visit(Overloaded{[&shape](const auto&) { return land_in_m(shape); },
                               []<Bent S>(const S& s) { return s.leg_out_m; }},
                    shape);
}

} // namespace bellmouth::build
