// SPDX-License-Identifier: GPL-3.0-or-later
// Whether the flexible pieces between engine and body take the engine's movement.
//
// The rigid pieces of a run are links, the flexible ones its joints. Each joint gives a little in line,
// sideways and in angle. Together they must make up the engine's roll, seen from the body, and its shake. How
// much each of them takes is not settled by that alone: as springs do, they share it so that the sum of the
// squares of what each takes over what it can take is least.
#include "context.hpp"
#include "words.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace bellmouth::check {

namespace {

using enum Severity;
using Eigen::Vector3d;
using Vector6d = Eigen::Matrix<double, 6, 1>;
using Matrix6d = Eigen::Matrix<double, 6, 6>;

Vector3d eigen(const build::Vector& v) {
  return {v[0], v[1], v[2]};
}

/// What a hose or an elbow of a free length gives by the stretch of its wall.
build::Give give_of_hose(const Limits& limits, double free_m, double radius_m, bool pleated) {
  const double stretch = pleated ? limits.corrugated_stretch : limits.hose_stretch;
  const double length_m = std::max(free_m, 0.0), angle = stretch * length_m / radius_m;
  return {std::max(limits.hose_axial_m, stretch * length_m),
          std::max(limits.hose_offset_m, 0.5 * (angle / 2) * (length_m / 2)),
          std::max(limits.hose_angle_rad, angle)};
}

build::Give give_of(const Limits& limits, const build::Piece& piece, double free_m) {
  if (piece.give)
    return *piece.give;
  if (std::holds_alternative<build::HumpHose>(piece.shape))
    return {limits.hump_axial_m, limits.hump_offset_m, limits.hump_angle_rad};
  const auto* hose = std::get_if<build::Hose>(&piece.shape);
  const auto* elbow = std::get_if<build::HoseElbow>(&piece.shape);
  const bool pleated =
      (hose != nullptr && hose->lining == build::Lining::corrugated) || (elbow != nullptr && elbow->pleated);
  const double radius_m =
      0.25 * (build::outer_diameter_in_m(piece.shape) + build::outer_diameter_out_m(piece.shape));
  return give_of_hose(limits, free_m, radius_m, pleated);
}

/// A flexible piece as a joint: in its own axes, the first along it, it takes turns and shifts.
struct Link {
  std::size_t row;
  build::Give give;
  Vector3d middle;
  Eigen::Matrix3d axes;                  ///< columns
  Eigen::Matrix<double, 6, 6> engine_by; ///< movement of the engine's side at the origin by turns and shifts
};

std::vector<Link> links(const Context& c, const RunView& run, const bay::RunRoom& room) {
  std::vector<Link> result;
  for (std::size_t row = 0; row < run.rows(); ++row) {
    if (!build::is_flexible(run.shape(row)))
      continue;
    const bay::Room& lies = room.rows[row];
    const double length_m = lies.track.length_m();
    const bay::Frame middle = bay::along(lies.frame, lies.track, length_m / 2);
    Link& link = result.emplace_back();
    link.row = row;
    link.give = give_of(c.limits, run.run->pieces[row], length_m);
    link.middle = eigen(middle.position_m);
    link.axes.col(0) = eigen(middle.direction);
    link.axes.col(1) = eigen(middle.reference);
    link.axes.col(2) = link.axes.col(0).cross(link.axes.col(1));
    // A turn about the joint's middle moves the origin by middle x turn.
    link.engine_by.setZero();
    link.engine_by.topLeftCorner<3, 3>() = link.axes;
    for (int i = 0; i < 3; ++i)
      link.engine_by.block<3, 1>(3, i) = link.middle.cross(link.axes.col(i));
    link.engine_by.bottomRightCorner<3, 3>() = link.axes;
  }
  return result;
}

/// What a joint can take of each of its turns and shifts. Twist counts as bending.
Vector6d limits_of(const build::Give& give) {
  Vector6d result;
  result << give.angle_rad, give.angle_rad, give.angle_rad, give.axial_m, give.offset_m, give.offset_m;
  return result.cwiseMax(1e-9); // nothing at all would leave no sum to share
}

/// What one joint has to take.
struct Demand {
  double axial_m = 0, offset_m = 0, angle_rad = 0;
};
double share_used(const Demand& demand, const build::Give& give) {
  const Vector6d most = limits_of(give);
  return std::max({demand.angle_rad / most[0], demand.axial_m / most[3], demand.offset_m / most[4]});
}

/// The longest vector that a unit vector is taken to.
double most_of(const Eigen::MatrixXd& by) {
  const Eigen::Matrix3d square = by.transpose() * by;
  return std::sqrt(std::max(
      Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(square, Eigen::EigenvaluesOnly).eigenvalues()[2], 0.0));
}

/// How the joints share the roll and, on top of it, a shake in whichever direction is worst.
std::vector<Demand> shared(const std::vector<Link>& joints, const build::EngineMovement& movement) {
  Matrix6d stiffness = Matrix6d::Zero();
  for (const Link& link : joints) {
    const Matrix6d weighed = link.engine_by * limits_of(link.give).asDiagonal();
    stiffness += weighed * weighed.transpose();
  }
  const Eigen::LDLT<Matrix6d> solver(stiffness);
  const Vector3d turn = movement.roll_rad * eigen(movement.axis_direction);
  Vector6d roll;
  roll << turn, eigen(movement.axis_point_m).cross(turn);
  Eigen::Matrix<double, 6, 4> moves = Eigen::Matrix<double, 6, 4>::Zero();
  moves.col(0) = roll;
  for (int i = 0; i < 3; ++i)
    moves(3 + i, i + 1) = movement.shake_m;
  const Eigen::Matrix<double, 6, 4> forces = solver.solve(moves);
  std::vector<Demand> result;
  for (const Link& link : joints) {
    const Vector6d soft = limits_of(link.give).cwiseAbs2();
    const Eigen::Matrix<double, 6, 4> takes = soft.asDiagonal() * (link.engine_by.transpose() * forces);
    const auto both = [&](int first, int count) {
      return takes.block(first, 0, count, 1).norm() + most_of(takes.block(first, 1, count, 3));
    };
    result.push_back({both(3, 1), both(4, 2), both(0, 3)});
  }
  return result;
}

} // namespace

bool movement_is_known(const Context& c, const RunView& run) {
  return c.facts.build.movement && run.from->mounting != run.to->mounting && run.from->pose;
}

void check_movement(Context& c) {
  for (std::size_t i = 0; i < c.runs.size(); ++i) {
    const RunView& run = c.runs[i];
    if (!movement_is_known(c, run))
      continue;
    const std::vector<Link> joints = links(c, run, c.facts.rooms[i]);
    if (joints.empty())
      continue; // no-flexible-joint says so
    const std::vector<Demand> demands = shared(joints, *c.facts.build.movement);
    std::size_t worst = 0;
    for (std::size_t k = 1; k < joints.size(); ++k)
      if (share_used(demands[k], joints[k].give) > share_used(demands[worst], joints[worst].give))
        worst = k;
    const build::Give& give = joints[worst].give;
    if (!above(share_used(demands[worst], give), 1))
      continue;
    const Demand& demand = demands[worst];
    c.add_at_row(
        Id::movement_beyond_hose, caution, run, joints[worst].row,
        fmt::format("When the engine moves, {} takes {} in line, {} sideways and {}; it gives {}, {} and {}.",
                    joints.size() == 1 ? "this piece" : "this piece, with the others of the run,",
                    quantity::write_fixed(quantity::Dimension::length, demand.axial_m, "mm", 1),
                    quantity::write_fixed(quantity::Dimension::length, demand.offset_m, "mm", 1),
                    degrees(demand.angle_rad),
                    quantity::write_fixed(quantity::Dimension::length, give.axial_m, "mm", 1),
                    quantity::write_fixed(quantity::Dimension::length, give.offset_m, "mm", 1),
                    degrees(give.angle_rad)),
        "Take a hump hose, or a longer one; two of them far apart take more sideways by leaning than by "
        "shifting. What the maker says it gives can be entered at the piece.");
  }
}

} // namespace bellmouth::check
