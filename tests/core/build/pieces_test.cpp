// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/close.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/build.hpp>

#include <gtest/gtest.h>

#include <cmath>
#include <set>

namespace bellmouth::build {
namespace {

using test::close;
using test::deg;
using test::mm;

/// Every kind of piece, with what the questions must answer [mm, degrees]. Closed form, worked by hand from
/// the sizes.
struct Case {
  Shape shape;
  std::string key, name;
  bool rigid, flexible, fitting;
  double bore_in, bore_out, outer_in, outer_out, wall, length, angle, land_in, land_out;
};

const std::vector<Case>& cases() {
  const double pi = 3.14159265358979323846;
  static const std::vector<Case> all{
      {Tube{mm(60), mm(2), mm(300), {}}, "tube", "tube", true, false, false, 56, 56, 60, 60, 2, 300, 0, 300,
       300},
      {TubeBend{mm(60), mm(2), deg(90), mm(90), mm(50), mm(70), 0, {}}, "tube_bend", "tube bend", true, false,
       false, 56, 56, 60, 60, 2, 50 + pi / 2 * 90 + 70, 90, 50, 70},
      // One mitre of 90 degrees whose sides are tangent to an arc of 90 mm: two sides of a square of 90 mm.
      {MitredBend{mm(60), mm(2), deg(90), mm(90), 1, mm(10), mm(20), 0, {}}, "mitred_bend", "mitred bend",
       true, false, false, 56, 56, 60, 60, 2, 10 + 180 + 20, 90, 10, 20},
      // Two mitres: half of a regular octagon's quarter, 4 R tan(22.5 degrees).
      {MitredBend{mm(60), mm(2), deg(90), mm(100), 2, mm(10), mm(20), 0, {}}, "mitred_bend", "mitred bend",
       true, false, false, 56, 56, 60, 60, 2, 10 + 400 * (std::sqrt(2.0) - 1) + 20, 90, 10, 20},
      {Cone{mm(60), mm(70), mm(2), mm(80), {}}, "cone", "cone", true, false, false, 56, 66, 60, 70, 2, 80, 0,
       0, 0},
      {Adapter{mm(60), mm(70), mm(54), mm(66), mm(80), {}}, "adapter", "adapter", true, false, false, 54, 66,
       60, 70, 2, 80, 0, 40, 40},
      {Hose{mm(60), mm(5), mm(75), {mm(30), mm(30)}}, "hose", "hose", false, true, false, 60, 60, 70, 70, 5,
       75, 0, 75, 75},
      {HumpHose{mm(60), mm(5), mm(95), mm(35), mm(75), {mm(30), mm(30)}}, "hump_hose", "hump hose", false,
       true, false, 60, 60, 70, 70, 5, 95, 0, 30, 30},
      {HoseElbow{mm(60), mm(70), mm(5), deg(45), mm(80), mm(40), mm(50), 0, false, {mm(30), mm(30)}},
       "hose_elbow", "hose elbow", false, true, false, 60, 70, 70, 80, 5, 40 + pi / 4 * 80 + 50, 45, 40, 50},
      {HoseReducer{mm(60), mm(70), mm(5), mm(76), {mm(30), mm(30)}}, "hose_reducer", "hose reducer", false,
       true, false, 60, 70, 70, 80, 5, 76, 0, 38, 38},
      {SensorBoss{mm(50), 0, "M12x1.5"}, "sensor_boss", "sensor boss", false, false, true, 0, 0, 0, 0, 0, 0,
       0, 0, 0},
      {ValveFlange{mm(50), 0, mm(25)}, "valve_flange", "valve flange", false, false, true, 0, 0, 0, 0, 0, 0,
       0, 0, 0},
  };
  return all;
}

TEST(Pieces, AnswerTheCommonQuestions) {
  std::set<std::size_t> kinds;
  for (const Case& c : cases()) {
    SCOPED_TRACE(c.key);
    kinds.insert(c.shape.index());
    EXPECT_EQ(kind_key(c.shape), c.key);
    EXPECT_EQ(kind_name(c.shape), c.name);
    EXPECT_EQ(is_rigid(c.shape), c.rigid);
    EXPECT_EQ(is_flexible(c.shape), c.flexible);
    EXPECT_EQ(is_fitting(c.shape), c.fitting);
    EXPECT_TRUE(close(bore_in_m(c.shape), mm(c.bore_in), 1e-14));
    EXPECT_TRUE(close(bore_out_m(c.shape), mm(c.bore_out), 1e-14));
    EXPECT_TRUE(close(outer_diameter_in_m(c.shape), mm(c.outer_in), 1e-14));
    EXPECT_TRUE(close(outer_diameter_out_m(c.shape), mm(c.outer_out), 1e-14));
    EXPECT_TRUE(close(wall_m(c.shape), mm(c.wall), 1e-13));
    EXPECT_TRUE(close(full_length_m(c.shape), mm(c.length), 1e-14));
    EXPECT_TRUE(close(angle_rad(c.shape), deg(c.angle), 1e-14));
    EXPECT_TRUE(close(land_in_m(c.shape), mm(c.land_in), 1e-14));
    EXPECT_TRUE(close(land_out_m(c.shape), mm(c.land_out), 1e-14));
  }
  EXPECT_EQ(kinds.size(), std::variant_size_v<Shape>) << "every kind must be in the table";
}

// Identity: with ever more mitres the segments become the arc.
TEST(Pieces, ManyMitresAreAsLongAsTheArc) {
  const double arc_m = full_length_m(TubeBend{mm(60), mm(2), deg(90), mm(90), 0, 0, 0, {}});
  double excess = 1e9;
  for (int joints = 1; joints <= 64; joints *= 2) {
    const double length_m = full_length_m(MitredBend{mm(60), mm(2), deg(90), mm(90), joints, 0, 0, 0, {}});
    EXPECT_GT(length_m, arc_m);
    EXPECT_LT(length_m - arc_m, 0.3 * excess);
    excess = length_m - arc_m;
  }
}

TEST(Pieces, AreTitledByLabelOrKind) {
  Piece piece{Tube{mm(60), mm(2), mm(300), {}}, Material::aluminium, {}, ""};
  EXPECT_EQ(title(piece), "tube");
  piece.label = "crossover";
  EXPECT_EQ(title(piece), "crossover");
}

TEST(Pieces, SampleBuildHoldsEveryKind) {
  std::set<std::size_t> kinds, machines;
  for (const Build& sample : test::all_sample_builds()) {
    for (const Option& option : sample.options)
      for (const auto& run : option.runs)
        for (const Piece& piece : run->pieces)
          kinds.insert(piece.shape.index());
    for (const Machine& machine : sample.machines)
      machines.insert(machine.kind.index());
  }
  EXPECT_EQ(kinds.size(), std::variant_size_v<Shape>);
  EXPECT_EQ(machines.size(), std::variant_size_v<MachineKind>);
}

} // namespace
} // namespace bellmouth::build
