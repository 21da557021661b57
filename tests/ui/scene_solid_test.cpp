// SPDX-License-Identifier: GPL-3.0-or-later
// Pieces as solids. Closed forms: volumes of walls round straights, arcs and tapers, of the polygon of
// `ring_sides` corners that stands for the circle (exact) and of the circle (within 1 %).
#include "support/close.hpp"
#include "view_sample.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <scene/look.hpp>
#include <scene/solid.hpp>

namespace bellmouth::ui::scene {
namespace {

using std::numbers::pi;

/// What a polygon of the ring's corners has of its circle's area.
const double of_circle = ring_sides / (2 * pi) * std::sin(2 * pi / ring_sides);

double annulus_m2(double outer_m, double inner_m) {
  return pi / 4 * (outer_m * outer_m - inner_m * inner_m);
}
double frustum_m3(double in_m, double out_m, double length_m) {
  return pi / 12 * length_m * (in_m * in_m + in_m * out_m + out_m * out_m);
}

void expect_volume(const build::Shape& shape, double polygon_m3, double round_m3) {
  const double found = volume_m3(piece_mesh(shape));
  EXPECT_TRUE(bellmouth::test::close(found, polygon_m3, 1e-9)) << build::kind_name(shape);
  EXPECT_TRUE(bellmouth::test::close(found, round_m3, 0.01)) << build::kind_name(shape);
}

/// Every edge of a closed surface is run through as often one way as the other.
bool is_closed(const TriangleMesh& mesh) {
  using Place = std::array<long, 3>;
  const auto place = [&](std::uint32_t point) {
    Place at{};
    for (std::size_t axis = 0; axis < 3; ++axis)
      at[axis] = std::lround(mesh.points_m[point][axis] * 1e8);
    return at;
  };
  std::map<std::pair<Place, Place>, int> balance;
  for (const auto& triangle : mesh.triangles)
    for (std::size_t i = 0; i < 3; ++i) {
      const Place a = place(triangle[i]), b = place(triangle[(i + 1) % 3]);
      if (a != b)
        a < b ? ++balance[{a, b}] : --balance[{b, a}];
    }
  return std::ranges::all_of(balance, [](const auto& edge) { return edge.second == 0; });
}

std::vector<build::Shape> all_shapes() {
  std::vector<build::Shape> shapes;
  const build::Build build = test::full_build();
  for (const auto& run : build.options.front().runs)
    for (const build::Piece& piece : run->pieces)
      shapes.push_back(piece.shape);
  return shapes;
}

TEST(SceneSolid, ATubesVolumeIsItsWall) {
  const build::Tube tube{0.0762, 0.00165, 0.4, {}};
  const double round = annulus_m2(0.0762, 0.0762 - 0.0033) * 0.4;
  expect_volume(tube, of_circle * round, round);
}

// Pappus: area times the way of its middle. Divided into steps of d, a ring of chords has sin d for d.
TEST(SceneSolid, ABendsVolumeIsItsWallTimesItsCentreline) {
  for (const double degrees : {12.5, 45.0, 90.0, 180.0}) {
    const double angle = degrees * pi / 180;
    const build::TubeBend bend{0.06, 0.002, angle, 0.09, 0.05, 0.03, 0.7, {}};
    const double area = annulus_m2(0.06, 0.056);
    const double steps = std::ceil(angle / arc_step_rad - 1e-9);
    expect_volume(bend, of_circle * area * (0.08 + 0.09 * steps * std::sin(angle / steps)),
                  area * (0.08 + 0.09 * angle));
  }
}

// Each mitre lies in the plane that halves the corner, so the wall is as long as the polygon of the middle.
TEST(SceneSolid, AMitredBendsVolumeIsItsWallTimesItsPolygon) {
  for (const int joints : {1, 2, 4}) {
    const build::MitredBend bend{0.0635, 0.002, pi / 3, 0.1, joints, 0.05, 0.04, -0.4, {}};
    const double polygon_m = 0.09 + 2 * joints * 0.1 * std::tan(pi / 3 / (2 * joints));
    const double round = annulus_m2(0.0635, 0.0595) * polygon_m;
    expect_volume(bend, of_circle * round, round);
  }
}

TEST(SceneSolid, AConesVolumeIsTheDifferenceOfTwo) {
  const build::Cone cone{0.05, 0.08, 0.002, 0.12, {}};
  const double round = frustum_m3(0.05, 0.08, 0.12) - frustum_m3(0.046, 0.076, 0.12);
  expect_volume(cone, of_circle * round, round);
  const build::Adapter adapter{0.07, 0.064, 0.055, 0.060, 0.06, {}};
  const double hollow = frustum_m3(0.07, 0.064, 0.06) - frustum_m3(0.055, 0.060, 0.06);
  expect_volume(adapter, of_circle * hollow, hollow);
}

// The closed form of a raised cosine, 6 mm wide and 1.8 mm high, turned round the tube.
TEST(SceneSolid, ABeadAddsItsRing) {
  build::Tube tube{0.0762, 0.00165, 0.4, {}};
  const double plain = volume_m3(piece_mesh(tube));
  tube.beads = {true, true};
  const double radius = 0.0381, high = 1.8e-3, wide = 6e-3;
  const double ring = pi * (2 * radius * high * wide / 2 + high * high * wide * 3 / 8);
  EXPECT_TRUE(bellmouth::test::close(volume_m3(piece_mesh(tube)) - plain, 2 * of_circle * ring, 0.02));
}

TEST(SceneSolid, AHoseLiesOnItsSpigots) {
  const build::Hose hose{0.060, 0.005, 0.1, {0.03, 0.03}};
  const TriangleMesh mesh =
      piece_mesh(hose, {.in_m = 0.0635, .out_m = 0.058, .cover_in_m = 0.03, .cover_out_m = 0.025});
  const auto reach = [&](double from_m, double to_m) {
    double low = 1, high = 0;
    for (const Vector& point : mesh.points_m)
      if (point[0] >= from_m && point[0] <= to_m) {
        low = std::min(low, std::hypot(point[1], point[2]));
        high = std::max(high, std::hypot(point[1], point[2]));
      }
    return std::pair{low, high};
  };
  // A tenth of a millimetre keeps the two surfaces apart in pictures.
  EXPECT_NEAR(reach(-1e-9, 0.030).first, 0.0635 / 2, 0.11e-3);
  EXPECT_NEAR(reach(-1e-9, 0.030).second, 0.0635 / 2 + 0.005, 0.11e-3);
  EXPECT_NEAR(reach(0.0751, 0.1001).first, 0.058 / 2, 0.11e-3);
  // With nothing in its ends a hose is its own size all along, but for its rounded rims.
  EXPECT_TRUE(
      bellmouth::test::close(volume_m3(piece_mesh(hose)), of_circle * annulus_m2(0.07, 0.06) * 0.1, 0.01));
}

// Another method: the frame that placing works out.
TEST(SceneSolid, EveryPieceEndsWhereItsTrackDoes) {
  const bay::Frame start{{0, 0, 0}, {1, 0, 0}, {0, 0, 1}};
  int seen = 0;
  for (const build::Shape& shape : all_shapes()) {
    if (build::is_fitting(shape))
      continue;
    const bay::Frame end = bay::followed(start, bay::track(shape, 0, 0));
    const TriangleMesh mesh = piece_mesh(shape);
    Vector sum{};
    int count = 0;
    for (std::size_t i = 0; i < mesh.points_m.size(); ++i)
      if (mesh.along[i] > 1 - 1e-6F) {
        sum = plus(sum, mesh.points_m[i]);
        ++count;
        EXPECT_NEAR(dot(minus(mesh.points_m[i], end.position_m), end.direction), 0, 1e-9);
      }
    ASSERT_GT(count, 0);
    EXPECT_LT(length(minus(times(1.0 / count, sum), end.position_m)), 1e-9) << build::kind_name(shape);
    ++seen;
  }
  EXPECT_GT(seen, 8);
}

TEST(SceneSolid, EverySolidIsClosedAndTurnedOutward) {
  std::vector<TriangleMesh> meshes;
  for (const build::Shape& shape : all_shapes())
    if (const auto* boss = std::get_if<build::SensorBoss>(&shape))
      meshes.push_back(boss_mesh(*boss, 0.07));
    else if (const auto* flange = std::get_if<build::ValveFlange>(&shape))
      meshes.push_back(flange_mesh(*flange, 0.07));
    else
      meshes.push_back(piece_mesh(shape));
  meshes.push_back(boss_mesh({0, 0, "M12x1.5", build::Tip{0.008, 0.02}}, 0.07));
  meshes.push_back(
      piece_mesh(build::HoseElbow{0.06, 0.055, 0.005, 1.5, 0.08, 0.04, 0.04, 0.3, true, {0.03, 0.03}}));
  meshes.push_back(piece_mesh(build::Hose{0.06, 0.005, 0.2, {0.03, 0.03}, build::Lining::corrugated}));
  meshes.push_back(clamp_mesh(0.07, 0.0127));
  meshes.push_back(arrow_mesh(0.05, 0.016));
  for (const build::Port& port : test::full_build().ports)
    meshes.push_back(port_mesh(port));
  for (const TriangleMesh& mesh : meshes) {
    EXPECT_TRUE(mesh.closed);
    EXPECT_TRUE(is_closed(mesh));
    EXPECT_GT(volume_m3(mesh), 0);
    EXPECT_EQ(mesh.normals.size(), mesh.points_m.size());
    for (const auto& normal : mesh.normals)
      EXPECT_NEAR(std::hypot(normal[0], normal[1], normal[2]), 1, 1e-5);
  }
}

// Closed forms of the solids; the ball's 48-gon and 24 belts miss 1 %.
TEST(SceneSolid, KeepOutsHaveTheirVolume) {
  const double c = std::cos(0.5), s = std::sin(0.5);
  const build::Box box{{1, 2, 3}, {0.1, 0.2, 0.3}, {{{c, s, 0}, {-s, c, 0}, {0, 0, 1}}}};
  EXPECT_TRUE(bellmouth::test::close(volume_m3(keep_out_mesh(box)), 8 * 0.1 * 0.2 * 0.3, 1e-9));
  const build::Cylinder cylinder{{1, 0, 0}, {1, 0.3, 0.4}, 0.05};
  const double of_finer = 64 / (2 * pi) * std::sin(2 * pi / 64);
  EXPECT_TRUE(bellmouth::test::close(volume_m3(keep_out_mesh(cylinder)), of_finer * pi * 0.0025 * 0.5, 1e-9));
  const TriangleMesh ball = keep_out_mesh(build::Sphere{{1, 1, 1}, 0.2});
  EXPECT_TRUE(bellmouth::test::close(volume_m3(ball), 4 * pi / 3 * 0.008, 0.01));
  for (const TriangleMesh& mesh : {keep_out_mesh(box), keep_out_mesh(cylinder), ball})
    EXPECT_TRUE(is_closed(mesh));
}

TEST(SceneSolid, AMirroredMeshKeepsItsOutside) {
  TriangleMesh mesh = piece_mesh(build::Tube{0.05, 0.002, 0.1, {}});
  const double volume = volume_m3(mesh);
  mesh.move({2, {{{1, 0, 0}, {0, -1, 0}, {0, 0, 1}}}, {3, 0, 0}});
  EXPECT_TRUE(bellmouth::test::close(volume_m3(mesh), 8 * volume, 1e-9));
}

class SceneSolids : public ::testing::Test {
protected:
  build::Build build = test::full_build();
  SolidMaker maker;

  std::vector<Solid> made() { return maker.solids(build, evaluate(build, {"small"})); }
  static const Solid& named(const std::vector<Solid>& solids, const Part& part) {
    const auto found = std::ranges::find(solids, part, &Solid::part);
    EXPECT_NE(found, solids.end());
    return *found;
  }
};

TEST_F(SceneSolids, EveryPiecePortAndKeepOutIsThere) {
  const auto solids = made();
  const auto count = [&](Part::Kind kind) {
    return static_cast<std::size_t>(
        std::ranges::count_if(solids, [&](const Solid& solid) { return solid.part.kind == kind; }));
  };
  const Evaluation evaluation = evaluate(build, {"small"});
  std::size_t pieces = 0, clamps = 0;
  for (const auto& run : build.options.front().runs)
    pieces += run->pieces.size();
  for (const RunResult& run : evaluation.runs)
    for (const joint::Joint& joint : run.fit.joints)
      clamps += static_cast<std::size_t>(joint::clamps_needed(joint));
  EXPECT_EQ(count(Part::Kind::piece), pieces);
  EXPECT_EQ(count(Part::Kind::clamp), clamps);
  EXPECT_EQ(count(Part::Kind::port), build.ports.size());
  EXPECT_EQ(count(Part::Kind::arrow), build.ports.size());
  const auto scans =
      static_cast<std::size_t>(std::ranges::count_if(build.keep_outs, [](const auto& keep_out) {
        return std::holds_alternative<build::Scan>(keep_out.shape);
      }));
  EXPECT_EQ(count(Part::Kind::keep_out), build.keep_outs.size() - scans);
  EXPECT_EQ(count(Part::Kind::scan), 0U) << "not read";
  const Scene scene = dressed(solids, false);
  for (std::size_t i = 0; i < solids.size(); ++i)
    EXPECT_EQ(scene.items[i].id, i + 1);
}

TEST_F(SceneSolids, PiecesLieInTheirFrames) {
  const auto solids = made();
  for (const RunResult& run : evaluate(build, {"small"}).runs)
    for (const Solid& solid : solids) {
      if (solid.part.kind != Part::Kind::piece || solid.part.run != run.id ||
          run.fit.rows[solid.part.row].host)
        continue;
      const double cover_m = run.fit.rows[solid.part.row].cover_in_m;
      const bay::Frame& frame = run.frames[solid.part.row];
      EXPECT_LT(length(minus(solid.placement.to_bay({cover_m, 0, 0}), frame.position_m)), 1e-12);
      EXPECT_LT(length(minus(solid.placement.axes[0], frame.direction)), 1e-12);
      EXPECT_LT(length(minus(solid.placement.axes[2], frame.reference)), 1e-12);
    }
}

TEST_F(SceneSolids, ABossStandsOnItsHost) {
  const auto solids = made();
  const Evaluation evaluation = evaluate(build, {"small"});
  // 90 mm along the tube before it, 45 degrees clockwise from up looking downstream.
  const Solid& boss = named(solids, {.kind = Part::Kind::piece, .run = test::suction, .row = 2, .port = {}});
  const bay::Frame& tube = std::ranges::find(evaluation.runs, test::suction, &RunResult::id)->frames[1];
  EXPECT_LT(length(minus(boss.placement.origin_m, plus(tube.position_m, tube.direction, 0.09))), 1e-12);
  const Vector clockwise = cross(tube.direction, tube.reference);
  const Vector wanted = times(std::sqrt(0.5), plus(tube.reference, clockwise));
  EXPECT_LT(length(minus(boss.placement.axes[2], wanted)), 1e-12);
}

TEST_F(SceneSolids, OnlyWhatChangedIsMadeAnew) {
  const auto before = made();
  const std::size_t meshes = maker.meshes_made();
  EXPECT_GT(meshes, 20U);
  static_cast<void>(made());
  EXPECT_EQ(maker.meshes_made(), meshes);

  const build::PieceRef tube{{"small"}, test::suction, 1};
  build::Piece longer = *build::find(build, tube);
  std::get<build::Tube>(longer.shape).length_m += 0.01;
  build = build::with_piece_replaced(build, tube, longer);
  const auto after = made();
  EXPECT_EQ(maker.meshes_made(), meshes + 1) << "pieces behind it merely move";
  const Part reducer{.kind = Part::Kind::piece, .run = test::suction, .row = 3, .port = {}};
  EXPECT_EQ(named(before, reducer).mesh, named(after, reducer).mesh);
  EXPECT_GT(
      length(minus(named(before, reducer).placement.origin_m, named(after, reducer).placement.origin_m)),
      0.009);
}

TEST_F(SceneSolids, WithoutMeasuredPortsThereAreNoPieces) {
  for (build::Port& port : build.ports)
    port.pose.reset();
  build.keep_outs.clear();
  EXPECT_TRUE(made().empty());
  EXPECT_FALSE(extent(made()).has_value());
}

TEST_F(SceneSolids, AHalfSpaceIsARectangleInItsPlane) {
  build.keep_outs = {
      {"bonnet", build::KeepOutClass::fixed, {}, build::HalfSpace{{0, 0, 0.8}, {0, 0.6, 0.8}}}};
  const auto solids = made();
  const Solid& half = named(solids, {.kind = Part::Kind::keep_out, .run = {}, .port = {}, .keep_out = 0});
  EXPECT_FALSE(half.bounded);
  for (const Vector& point : half.mesh->points_m)
    EXPECT_NEAR(dot(minus(point, {0, 0, 0.8}), {0, 0.6, 0.8}), 0, 1e-12);
}

TEST_F(SceneSolids, AScanLiesWhereItIsPlaced) {
  build::Scan scan;
  scan.file = "bay.stl";
  scan.origin_m = {1, 0, 0};
  scan.loaded = mesh::make_scan({{{0, 0, 0}, {100, 0, 0}, {0, 200, 0}}, {{0, 1, 2}}});
  build.keep_outs = {{"bay", build::KeepOutClass::fixed, {}, scan}};
  const auto solids = made();
  const Solid& solid = named(solids, {.kind = Part::Kind::scan, .run = {}, .port = {}, .keep_out = 0});
  const Extent box = extent(*solid.mesh, solid.placement);
  EXPECT_NEAR(box.high[0], 1.1, 1e-12) << "millimetres";
  EXPECT_NEAR(box.high[1], 0.2, 1e-12);
  EXPECT_FALSE(solid.mesh->closed);
  std::get<build::Scan>(build.keep_outs[0].shape).loaded = nullptr;
  EXPECT_TRUE(
      std::ranges::none_of(made(), [](const Solid& one) { return one.part.kind == Part::Kind::scan; }));
}

} // namespace
} // namespace bellmouth::ui::scene
