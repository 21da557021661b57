// SPDX-License-Identifier: GPL-3.0-or-later
// Random runs that meet their port, put out of place; and where a run ends, worked out with rotation
// matrices, apart from the program's own placing.
#pragma once

#include "support/sample_parts.hpp"

#include <bellmouth/route.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <random>

namespace bellmouth::test {

/// \name Rotation matrices
///@{
using Matrix = std::array<std::array<double, 3>, 3>;

[[nodiscard]] inline build::Vector product(const Matrix& m, const build::Vector& v) {
  build::Vector w{};
  for (std::size_t i = 0; i < 3; ++i)
    for (std::size_t k = 0; k < 3; ++k)
      w[i] += m[i][k] * v[k];
  return w;
}
[[nodiscard]] inline Matrix product(const Matrix& a, const Matrix& b) {
  Matrix c{};
  for (std::size_t i = 0; i < 3; ++i)
    for (std::size_t j = 0; j < 3; ++j)
      for (std::size_t k = 0; k < 3; ++k)
        c[i][j] += a[i][k] * b[k][j];
  return c;
}
/// About the first and about the third axis of what it is applied to, right-handed.
[[nodiscard]] inline Matrix about_x(double angle_rad) {
  const double c = std::cos(angle_rad), s = std::sin(angle_rad);
  return {{{1, 0, 0}, {0, c, -s}, {0, s, c}}};
}
[[nodiscard]] inline Matrix about_z(double angle_rad) {
  const double c = std::cos(angle_rad), s = std::sin(angle_rad);
  return {{{c, -s, 0}, {s, c, 0}, {0, 0, 1}}};
}
///@}

/// Where a run of tubes, tube bends and hoses (each between rigid ends) ends: the columns of the matrix are
/// direction, reference and their cross product.
struct RunEnd {
  build::Vector position_m{};
  Matrix axes{};
  [[nodiscard]] build::Vector direction() const { return {axes[0][0], axes[1][0], axes[2][0]}; }
};
/// From a port that does not point nearly up or down.
[[nodiscard]] inline RunEnd run_end(const build::Pose& port, const std::vector<build::Piece>& pieces) {
  const build::Vector& u = port.direction;
  const double across = std::hypot(u[0], u[1]);
  const build::Vector r{-u[0] * u[2] / across, -u[1] * u[2] / across, across};
  const build::Vector b{u[1] * r[2] - u[2] * r[1], u[2] * r[0] - u[0] * r[2], u[0] * r[1] - u[1] * r[0]};
  RunEnd end{port.position_m, {{{u[0], r[0], b[0]}, {u[1], r[1], b[1]}, {u[2], r[2], b[2]}}}};
  const auto go = [&end](const build::Vector& step) {
    const build::Vector world = product(end.axes, step);
    for (std::size_t k = 0; k < 3; ++k)
      end.position_m[k] += world[k];
  };
  for (const build::Piece& piece : pieces)
    if (const auto* tube = std::get_if<build::Tube>(&piece.shape)) {
      go({tube->length_m, 0, 0});
    } else if (const auto* hose = std::get_if<build::Hose>(&piece.shape)) {
      go({hose->length_m - hose->engagement.in_m - hose->engagement.out_m, 0, 0});
    } else if (const auto* bend = std::get_if<build::TubeBend>(&piece.shape)) {
      go({bend->leg_in_m, 0, 0});
      end.axes = product(end.axes, about_x(bend->clocking_rad));
      go({bend->radius_m * std::sin(bend->angle_rad), bend->radius_m * (1 - std::cos(bend->angle_rad)), 0});
      end.axes = product(end.axes, about_z(bend->angle_rad));
      go({bend->leg_out_m, 0, 0});
    }
  return end;
}
/// How far from a port, and how far off its axis.
[[nodiscard]] inline bay::Meeting off_port(const RunEnd& end, const build::Pose& to) {
  double squares = 0, chord = 0;
  for (std::size_t k = 0; k < 3; ++k) {
    squares += (end.position_m[k] - to.position_m[k]) * (end.position_m[k] - to.position_m[k]);
    chord += (end.direction()[k] + to.direction[k]) * (end.direction()[k] + to.direction[k]);
  }
  return {std::sqrt(squares), 2 * std::asin(std::min(1.0, std::sqrt(chord) / 2))};
}

/// A build with one run from a port at a place to another.
[[nodiscard]] inline build::Build one_run(const build::Pose& from, const build::Pose& to,
                                          std::vector<build::Piece> pieces) {
  build::Build b;
  b.title = "One run";
  b.demand = build::FixedFlow{0.12, 101325.0, 293.15};
  b.ports = {sample_port("begin", {}, build::Mounting::body, 60.2, 63.5, 40),
             sample_port("end", {}, build::Mounting::body, 60.2, 63.5, 40)};
  b.ports[0].pose = from;
  b.ports[1].pose = to;
  b.inlet = {build::OpenInlet::Kind::flush, 0.0};
  b.path = {build::RunId{"run"}};
  b.options = {{{"only"}, "", {build::Run{{"run"}, {"begin"}, {"end"}, std::move(pieces)}}}};
  b.budget = {euro(), std::nullopt};
  return b;
}
[[nodiscard]] inline const build::Run& the_run(const build::Build& build) {
  return *build.options.front().runs.front();
}

/// \name Pieces of 63.5 mm; millimetres and degrees
///@{
[[nodiscard]] inline build::Piece straight(double length_mm) {
  return {build::Tube{mm(63.5), mm(1.65), mm(length_mm), {true, true}}, build::Material::aluminium, {}, ""};
}
[[nodiscard]] inline build::Piece bend(double angle_deg, double clocking_deg, double radius_mm = 95,
                                       double leg_in_mm = 0, double leg_out_mm = 0) {
  return {build::TubeBend{mm(63.5),
                          mm(1.65),
                          deg(angle_deg),
                          mm(radius_mm),
                          mm(leg_in_mm),
                          mm(leg_out_mm),
                          deg(clocking_deg),
                          {}},
          build::Material::aluminium,
          {},
          ""};
}
[[nodiscard]] inline build::Piece coupler(double length_mm, double in_mm = 32, double out_mm = 32) {
  return {build::Hose{mm(63.5), mm(4.5), mm(length_mm), {mm(in_mm), mm(out_mm)}},
          build::Material::silicone,
          {},
          ""};
}
///@}

/// A run out of place, what may move, and that there is a way to meet the port.
struct Disturbed {
  build::Build build;
  std::vector<route::Freedom> freedoms;
};

/// Makes them: 3 to 12 pieces with 1 to 5 bends that met the port before lengths were altered by up to 60 mm,
/// clockings by 40 and angles by 20 degrees, all within the limits; the others of the sizes are held, and at
/// least six are free.
class Disturber {
public:
  explicit Disturber(std::uint32_t number) : random_(number) {}

  [[nodiscard]] Disturbed next() {
    for (;;)
      if (Disturbed made = make(); made.freedoms.size() >= 6)
        return made;
  }

private:
  std::mt19937 random_;

  double between(double low, double high) {
    return low + (high - low) * static_cast<double>(random_()) / 4294967296.0;
  }
  int whole(int low, int high) {
    return low + static_cast<int>(random_() % static_cast<unsigned>(high - low + 1));
  }

  std::vector<build::Piece> pieces() {
    const int count = whole(3, 12), bends = whole(1, std::min(5, count));
    std::vector<bool> bent(static_cast<std::size_t>(count), false);
    std::fill_n(bent.begin(), bends, true);
    for (std::size_t i = bent.size(); i-- > 1;) {
      const auto other = static_cast<std::size_t>(whole(0, static_cast<int>(i)));
      const bool kept = bent[i];
      bent[i] = bent[other];
      bent[other] = kept;
    }
    std::vector<build::Piece> made;
    for (const bool is_bend : bent) {
      const bool after_hose = !made.empty() && build::is_flexible(made.back().shape);
      if (is_bend)
        made.push_back(
            bend(between(15, 120), between(-180, 180), between(60, 150), between(20, 100), between(20, 100)));
      else if (!after_hose && whole(0, 3) == 0)
        made.push_back(coupler(between(80, 200)));
      else
        made.push_back(straight(between(80, 450)));
    }
    return made;
  }

  void let(Disturbed& made, build::Piece& piece, std::size_t row, route::What what, double least) {
    const double closed = *route::value(piece.shape, what);
    const bool angle = route::is_angle(what);
    const double most = what == route::What::clocking ? deg(40) : angle ? deg(20) : mm(60);
    double low = std::max(least, closed - between(0.3, 2) * most), high = closed + between(0.3, 2) * most;
    if (what == route::What::clocking && whole(0, 3) > 0) {
      low = -std::numbers::pi;
      high = std::numbers::pi;
    }
    made.freedoms.push_back({row, what, low, high});
    piece.shape = route::with_value(piece.shape, what, std::clamp(closed + between(-most, most), low, high));
  }

  Disturbed make() {
    const double heading = between(-std::numbers::pi, std::numbers::pi), rise = between(-1, 1);
    const build::Pose from{
        {between(-1, 1), between(-1, 1), between(-1, 1)},
        {std::cos(rise) * std::cos(heading), std::cos(rise) * std::sin(heading), std::sin(rise)}};
    std::vector<build::Piece> closed = pieces();
    const RunEnd end = run_end(from, closed);
    const auto u = end.direction();
    Disturbed made{one_run(from, {end.position_m, {-u[0], -u[1], -u[2]}}, {}), {}};

    std::vector<std::pair<std::size_t, route::What>> sizes;
    for (std::size_t row = 0; row < closed.size(); ++row)
      for (const auto what : {route::What::length, route::What::leg_in, route::What::leg_out,
                              route::What::clocking, route::What::angle})
        if (route::value(closed[row].shape, what))
          sizes.emplace_back(row, what);
    for (std::size_t i = sizes.size(); i-- > 0 && sizes.size() > 6;)
      if (whole(0, 2) == 0)
        sizes.erase(sizes.begin() + static_cast<std::ptrdiff_t>(i));
    for (const auto& [row, what] : sizes)
      let(made, closed[row], row, what,
          what == route::What::angle      ? deg(5)
          : what == route::What::clocking ? -10.0
          : what == route::What::length   ? mm(70)
                                          : 0.0);
    build::Run run = the_run(made.build);
    run.pieces = std::move(closed);
    made.build.options.front().runs.front() = std::move(run);
    return made;
  }
};

} // namespace bellmouth::test
