// SPDX-License-Identifier: GPL-3.0-or-later
// Kind of the check: another method, written by others. FCL, the flexible collision library (BSD licence; its
// GJK on a capsule and a box), for pairs that stay apart: where they overlap its answers are not to be
// trusted.
#include "bay_scene.hpp"

#include <gtest/gtest.h>

#include <fcl/narrowphase/distance.h>

namespace bellmouth::bay {
namespace {

using namespace test;

Eigen::Vector3d eigen(const Vector& v) {
  return {v[0], v[1], v[2]};
}
/// The turn that takes z to a direction.
Eigen::Matrix3d along_z(const Vector& direction) {
  return Eigen::Quaterniond::FromTwoVectors(Eigen::Vector3d::UnitZ(), eigen(direction)).toRotationMatrix();
}

TEST(Clearance, OfTubesToBoxesIsThatOfAnotherLibrary) {
  Dice dice(4242);
  int compared = 0;
  double worst = 0;
  while (compared < 1000) {
    const double d = dice.between(0.03, 0.1), long_m = dice.between(0.05, 0.5);
    const build::Pose start{dice.point(0.5), dice.direction()};
    const build::Box box{dice.point(0.5),
                         {dice.between(0.02, 0.25), dice.between(0.02, 0.25), dice.between(0.02, 0.25)},
                         dice.axes()};
    Scene scene;
    scene.add(start, {tube(d, long_m)});
    scene.stand(box);
    const Gap gap = scene.gap();
    if (gap.distance_m < 0.5e-3)
      continue;
    ++compared;
    fcl::Transform3d tube_place = fcl::Transform3d::Identity(), box_place = fcl::Transform3d::Identity();
    tube_place.linear() = along_z(start.direction);
    tube_place.translation() = eigen(test::plus(start.position_m, long_m / 2, start.direction));
    for (int i = 0; i < 3; ++i)
      box_place.linear().col(i) = eigen(box.axes[static_cast<std::size_t>(i)]);
    box_place.translation() = eigen(box.centre_m);
    const auto capsule = std::make_shared<fcl::Capsuled>(d / 2, long_m);
    const auto block =
        std::make_shared<fcl::Boxd>(2 * box.half_size_m[0], 2 * box.half_size_m[1], 2 * box.half_size_m[2]);
    const fcl::CollisionObjectd a(capsule, tube_place), b(block, box_place);
    fcl::DistanceRequestd request;
    request.gjk_solver_type = fcl::GST_LIBCCD;
    request.distance_tolerance = 1e-9;
    fcl::DistanceResultd result;
    const double wanted = fcl::distance(&a, &b, request, result);
    worst = std::max(worst, std::abs(gap.distance_m - wanted));
    EXPECT_NEAR(gap.distance_m, wanted, 1e-6) << compared;
  }
  RecordProperty("worst_m", std::to_string(worst));
}

} // namespace
} // namespace bellmouth::bay
