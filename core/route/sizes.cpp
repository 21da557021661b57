// SPDX-License-Identifier: GPL-3.0-or-later
// The sizes of a shape by what they are.
#include "sizes.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <type_traits>

namespace bellmouth::route {
namespace {

struct Words {
  std::string_view key, name;
};
constexpr std::array<Words, 5> words{{{"length", "length"},
                                      {"leg_in", "inlet leg"},
                                      {"leg_out", "outlet leg"},
                                      {"clocking", "clocking"},
                                      {"angle", "angle"}}};

const Words& words_of(What what) {
  return words[static_cast<std::size_t>(what)];
}

/// The size within a shape, or nullptr. `Shape` may be const.
template <class Shape> auto* size_in(Shape& shape, What what) {
  using Size = std::conditional_t<std::is_const_v<Shape>, const double, double>;
  return std::visit(
      [what](auto& s) -> Size* {
        if constexpr (requires { s.leg_in_m; })
          switch (what) {
          case What::leg_in:
            return &s.leg_in_m;
          case What::leg_out:
            return &s.leg_out_m;
          case What::clocking:
            return &s.clocking_rad;
          case What::angle:
            return &s.angle_rad;
          case What::length:
            break;
          }
        else if constexpr (requires { s.length_m; })
          if (what == What::length)
            return &s.length_m;
        return nullptr;
      },
      shape);
}

} // namespace

std::string_view key(What what) {
  return words_of(what).key;
}
std::string_view name(What what) {
  return words_of(what).name;
}
bool is_angle(What what) {
  return what == What::clocking || what == What::angle;
}

double usual_weight(What what) {
  return what == What::clocking ? clocking_weight : what == What::angle ? angle_weight : length_weight;
}

std::optional<double> value(const build::Shape& shape, What what) {
  const double* const size = size_in(shape, what);
  return size ? std::optional(*size) : std::nullopt;
}

double radius_m(const build::Shape& shape) {
  return std::visit(
      [](const auto& s) {
        if constexpr (requires { s.radius_m; })
          return s.radius_m;
        else
          return 0.0;
      },
      shape);
}

build::Shape with_value(const build::Shape& shape, What what, double value) {
  build::Shape changed = shape;
  double* const size = size_in(changed, what);
  assert(size != nullptr);
  *size = value;
  return changed;
}

build::Build with_run(const build::Build& build, const build::OptionId& option, build::Run run) {
  build::Build changed = build;
  const auto of = std::ranges::find(changed.options, option, &build::Option::id);
  assert(of != changed.options.end());
  const auto at = std::ranges::find_if(of->runs, [&](const auto& each) { return each->id == run.id; });
  assert(at != of->runs.end());
  *at = std::move(run);
  return changed;
}

} // namespace bellmouth::route
