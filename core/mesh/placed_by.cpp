// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/mesh.hpp>

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <Eigen/SVD>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>

namespace bellmouth::mesh {

namespace {

using Points = Eigen::Matrix3d; ///< a column for each

constexpr double least_height_m = 1e-3;
constexpr double most_difference = 0.1;
constexpr std::array<std::array<Eigen::Index, 2>, 3> pairs{{{0, 1}, {1, 2}, {2, 0}}};

Points columns(const std::array<Point, 3>& points, double scale) {
  Points result;
  for (Eigen::Index i = 0; i < 3; ++i)
    for (Eigen::Index axis = 0; axis < 3; ++axis)
      result(axis, i) = scale * points[static_cast<std::size_t>(i)][static_cast<std::size_t>(axis)];
  return result;
}

double distance(const Points& points, const std::array<Eigen::Index, 2>& pair) {
  return (points.col(pair[0]) - points.col(pair[1])).norm();
}

/// How far the nearest of the three is from the line through the others.
double least_height(const Points& points) {
  double longest = 0;
  for (const auto& pair : pairs)
    longest = std::max(longest, distance(points, pair));
  const Eigen::Vector3d first = points.col(1) - points.col(0), second = points.col(2) - points.col(0);
  return longest > 0 ? first.cross(second).norm() / longest : 0;
}

/// The greatest difference of a distance from side to side, as a share of the greater one.
double difference(const Points& file, const Points& bay) {
  double greatest = 0;
  for (const auto& pair : pairs) {
    const double here = distance(file, pair), there = distance(bay, pair);
    greatest = std::max(greatest, std::abs(here - there) / std::max(here, there));
  }
  return greatest;
}

std::string_view name(Unit unit) {
  switch (unit) {
  case Unit::millimetre:
    return "millimetres";
  case Unit::centimetre:
    return "centimetres";
  case Unit::metre:
    return "metres";
  case Unit::inch:
    return "inches";
  }
  return {};
}

tl::unexpected<Error> complaint(std::string where, std::string found, std::string accepted) {
  return fail(Error{{{}, 0, 0, std::move(where)}, std::move(found), std::move(accepted), {}});
}

} // namespace

Result<Fitted> placed_by(const std::array<Point, 3>& in_file, const std::array<Point, 3>& in_bay_m,
                         Unit unit) {
  const Points file = columns(in_file, metres(unit)), bay = columns(in_bay_m, 1);
  for (const auto& [points, where] : {std::pair{&file, "points of the file"}, {&bay, "points of the bay"}})
    if (const double height = least_height(*points); !(height >= least_height_m))
      return complaint(where, fmt::format("three points that lie on one line within {:.3g} mm", height * 1e3),
                       "three points, each at least 1 mm off the line through the others");
  if (!(difference(file, bay) <= most_difference)) {
    std::string accepted = "distances that agree within a tenth";
    for (const Unit other : {Unit::millimetre, Unit::centimetre, Unit::metre, Unit::inch})
      if (difference(columns(in_file, metres(other)), bay) <= most_difference)
        accepted += fmt::format(": they do with the file in {}", name(other));
    const auto worst = std::ranges::max_element(pairs, {}, [&](const auto& pair) {
      const double here = distance(file, pair), there = distance(bay, pair);
      return std::abs(here - there) / std::max(here, there);
    });
    return complaint(fmt::format("points {} and {}", (*worst)[0] + 1, (*worst)[1] + 1),
                     fmt::format("{:.5g} mm between them in the file (in {}), {:.5g} mm in the bay",
                                 distance(file, *worst) * 1e3, name(unit), distance(bay, *worst) * 1e3),
                     std::move(accepted));
  }
  const Eigen::Vector3d file_middle = file.rowwise().mean(), bay_middle = bay.rowwise().mean();
  const Eigen::Matrix3d covariance =
      (file.colwise() - file_middle) * (bay.colwise() - bay_middle).transpose();
  const Eigen::JacobiSVD<Eigen::Matrix3d> svd(covariance, Eigen::ComputeFullU | Eigen::ComputeFullV);
  // A turn and no mirror image: the axis of least weight changes its sign where need be.
  Eigen::Vector3d signs(1, 1, 1);
  signs(2) = (svd.matrixV() * svd.matrixU().transpose()).determinant() < 0 ? -1 : 1;
  const Eigen::Matrix3d turn = svd.matrixV() * signs.asDiagonal() * svd.matrixU().transpose();
  const Eigen::Vector3d origin = bay_middle - turn * file_middle;

  Fitted result;
  result.placement.scale = metres(unit);
  for (Eigen::Index i = 0; i < 3; ++i) {
    for (Eigen::Index axis = 0; axis < 3; ++axis)
      result.placement.axes[static_cast<std::size_t>(axis)][static_cast<std::size_t>(i)] = turn(i, axis);
    result.placement.origin_m[static_cast<std::size_t>(i)] = origin(i);
  }
  result.largest_miss_m = ((turn * file).colwise() + origin - bay).colwise().norm().maxCoeff();
  return result;
}

} // namespace bellmouth::mesh
