// SPDX-License-Identifier: GPL-3.0-or-later
// Small bays for tests of clearance: runs of few pieces from a port, and what stands round them.
#pragma once

#include <bellmouth/bay.hpp>
#include <bellmouth/bay/clearance.hpp>

#include <cmath>
#include <random>
#include <string>
#include <utility>
#include <vector>

namespace bellmouth::bay::test {

using build::Vector;

[[nodiscard]] inline Vector plus(const Vector& x, double b, const Vector& y) {
  return {x[0] + b * y[0], x[1] + b * y[1], x[2] + b * y[2]};
}
[[nodiscard]] inline double dot(const Vector& a, const Vector& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
[[nodiscard]] inline Vector cross(const Vector& a, const Vector& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
[[nodiscard]] inline double norm(const Vector& a) {
  return std::hypot(a[0], a[1], a[2]);
}
[[nodiscard]] inline double apart(const Vector& a, const Vector& b) {
  return norm(plus(a, -1, b));
}

/// The same numbers on every machine.
class Dice {
public:
  explicit Dice(unsigned start) : engine_(start) {}
  double between(double low, double high) {
    return low + (high - low) * static_cast<double>(engine_()) / 4294967295.0;
  }
  Vector point(double half_size) {
    return {between(-half_size, half_size), between(-half_size, half_size), between(-half_size, half_size)};
  }
  Vector direction() {
    for (;;) {
      const Vector v = point(1);
      if (const double l = norm(v); l > 0.1 && l < 1)
        return {v[0] / l, v[1] / l, v[2] / l};
    }
  }
  std::array<Vector, 3> axes() {
    const Vector x = direction();
    const Vector other = cross(x, direction());
    if (norm(other) < 0.05)
      return axes();
    const Vector y = plus({}, 1 / norm(other), other);
    return {x, y, cross(x, y)};
  }

private:
  std::mt19937 engine_;
};

/// A run that starts at a pose, its pieces without the covers of hoses taken off.
struct Scene {
  build::Build build;
  std::vector<build::Run> runs;

  /// Adds a run; its ports belong to no machine and follow the body or the engine.
  void add(const build::Pose& start, std::vector<build::Piece> pieces,
           build::Mounting from = build::Mounting::body, build::Mounting to = build::Mounting::body) {
    const std::string name = "run " + std::to_string(runs.size());
    for (const bool first : {true, false}) {
      build::Port port;
      port.id = {name + (first ? " in" : " out")};
      port.mounting = first ? from : to;
      port.outer_diameter_m = 0.06;
      port.land_m = 0.04;
      if (first)
        port.pose = start;
      build.ports.push_back(port);
    }
    runs.push_back({{name}, {name + " in"}, {name + " out"}, std::move(pieces)});
  }
  void stand(std::variant<build::Box, build::Cylinder, build::Sphere, build::HalfSpace, build::Scan> shape) {
    build::KeepOut keep_out;
    keep_out.shape = std::move(shape);
    build.keep_outs.push_back(std::move(keep_out));
  }

  [[nodiscard]] std::vector<Track> tracks(std::size_t run = 0) const {
    std::vector<Track> result;
    for (const build::Piece& piece : runs[run].pieces)
      result.push_back(track(piece.shape, 0, 0));
    return result;
  }
  [[nodiscard]] std::vector<Frame> frames(std::size_t run = 0) const {
    return place(build.find(runs[run].from)->pose, tracks(run));
  }
  [[nodiscard]] std::vector<RunRoom> rooms() const {
    std::vector<RunRoom> result;
    for (std::size_t run = 0; run < runs.size(); ++run)
      result.push_back(room(build, runs[run], tracks(run), frames(run)));
    return result;
  }
  [[nodiscard]] std::vector<RunClearance> look(const std::optional<build::StateId>& state = {}) const {
    return clearances(build, rooms(), state);
  }
  /// Of the first row of the first run.
  [[nodiscard]] Gap gap() const { return look().at(0).nearest.at(0).value(); }
};

[[nodiscard]] inline build::Piece tube(double outer_diameter_m, double length_m) {
  return {build::Tube{outer_diameter_m, 1.5e-3, length_m, {}}, {}, {}, {}};
}
[[nodiscard]] inline build::Piece cone(double in_m, double out_m, double length_m) {
  return {build::Cone{in_m, out_m, 1.5e-3, length_m, {}}, {}, {}, {}};
}
[[nodiscard]] inline build::Piece bend(double outer_diameter_m, double angle_rad, double radius_m,
                                       double clocking_rad = 0, double leg_m = 0) {
  return {build::TubeBend{outer_diameter_m, 1.5e-3, angle_rad, radius_m, leg_m, leg_m, clocking_rad, {}},
          {},
          {},
          {}};
}

/// The least value of a function by sampling: densely, then ever more finely round the best samples.
template <class Function>
double sampled_least(const Function& f, double low, double high, int samples = 2000) {
  const double step = (high - low) / samples;
  std::vector<std::pair<double, double>> found;
  for (int i = 0; i <= samples; ++i)
    found.emplace_back(f(low + i * step), low + i * step);
  std::sort(found.begin(), found.end());
  double least = found.front().first;
  for (std::size_t i = 0; i < std::min<std::size_t>(found.size(), 6); ++i) {
    double centre = found[i].second, width = step;
    for (int zoom = 0; zoom < 7; ++zoom) {
      double best = 1e300, at = centre;
      for (int k = -20; k <= 20; ++k) {
        const double x = std::clamp(centre + width * k / 20, low, high);
        if (const double value = f(x); value < best) {
          best = value;
          at = x;
        }
      }
      least = std::min(least, best);
      centre = at;
      width /= 8;
    }
  }
  return least;
}

} // namespace bellmouth::bay::test
