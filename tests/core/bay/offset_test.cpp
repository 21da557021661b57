// SPDX-License-Identifier: GPL-3.0-or-later
// Places and directions in words. All figures are closed forms: lengths added along the axes, and rotation
// matrices written out.
#include "support/close.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/bay/offset.hpp>

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

namespace bellmouth::bay {
namespace {

using build::Vector;

constexpr double deg = std::numbers::pi / 180;

/// A blower with two measured ports that a run uses, one port that is not measured, and an engine's manifold.
build::Build bay() {
  build::Build build;
  build.machines.push_back({.id = {"b1"}, .name = "Rotary blower", .kind = machine::Filter{}});
  build.machines.push_back({.id = {"air_box"}, .name = "", .kind = machine::Filter{}});
  const auto port = [&](const char* id, const char* machine, std::optional<build::Pose> pose) {
    build::Port made;
    made.id = {id};
    if (machine != nullptr)
      made.machine = build::MachineId{machine};
    made.pose = pose;
    build.ports.push_back(made);
  };
  port("blower_in", "b1", build::Pose{{0.1, 0.2, 0.3}, {0, 1, 0}});
  port("blower_out", "b1", build::Pose{{0.2, -0.3, 0.5}, {0.6, 0, 0.8}});
  port("box_out", "air_box", std::nullopt);
  port("manifold", nullptr, build::Pose{{-0.1, 0, 0.4}, {1, 0, 0}});
  build::Option option;
  option.id = {"first"};
  option.runs.emplace_back(build::Run{{"a"}, {"box_out"}, {"blower_in"}, {}});
  option.runs.emplace_back(build::Run{{"b"}, {"blower_out"}, {"manifold"}, {}});
  build.options.push_back(option);
  return build;
}

void expect_vector(const Vector& got, const Vector& wanted, double within = 1e-12) {
  for (std::size_t i = 0; i < 3; ++i)
    EXPECT_NEAR(got[i], wanted[i], within) << "component " << i;
}

TEST(PortNamed, GuessesNotBetweenIdsThatReadAlike) {
  build::Build build = bay();
  build::Port twin = build.ports[1];
  twin.id = {"Blower outlet"};
  build.ports.push_back(twin);
  EXPECT_EQ(port_named(build, "blower_out").value()->id.text, "blower_out");
  EXPECT_EQ(port_named(build, "blower outlet").value()->id.text, "Blower outlet");
  build.ports.back().id = {"Blower_out"};
  EXPECT_EQ(port_named(build, "blower_out").value()->id.text, "blower_out");
  const auto unclear = port_named(build, "blower out");
  ASSERT_FALSE(unclear);
  EXPECT_EQ(unclear.error().found, "\"blower out\", which may be blower_out or Blower_out");
}

TEST(Place, IsReadInWords) {
  const Vector out{0.2, -0.3, 0.5}, in{0.1, 0.2, 0.3};
  constexpr double inch = 0.0254;
  const struct {
    const char* text;
    Vector place;
  } rows[] = {
      {"120 mm below and 40 mm left of blower_out", {out[0], out[1] + 0.04, out[2] - 0.12}},
      {"120 below and 40 left of the blower out", {out[0], out[1] + 0.04, out[2] - 0.12}},
      {"1 1/2 in ahead of Blower_In, 30 mm up", {in[0] + 1.5 * inch, in[1], in[2] + 0.03}},
      {"5 in in front of blower in", {in[0] + 5 * inch, in[1], in[2]}},
      {"2 cm to the right of blower in; 1 cm higher", {in[0], in[1] - 0.02, in[2] + 0.01}},
      {"30 mm up from the origin", {0, 0, 0.03}},
      {"50 mm behind manifold", {-0.15, 0, 0.4}},
      {"50 mm above rotary blower outlet and 10 mm back", {out[0] - 0.01, out[1], out[2] + 0.05}},
      {"100 mm out of blower_out", {out[0] + 0.06, out[1], out[2] + 0.08}},
      {"of b1 outlet, 20 up", {out[0], out[1], out[2] + 0.02}},
      {"at blower inlet", in},
      {"manifold", {-0.1, 0, 0.4}},
      {"300 -150 350", {0.3, -0.15, 0.35}},
      {"300 -150 350 mm", {0.3, -0.15, 0.35}},
      {"300; \u2212150; 350 mm", {0.3, -0.15, 0.35}},
      {"12 in, 3 1/2 in, 0 in", {12 * inch, 3.5 * inch, 0}},
      {"12 3 1/2 0 in", {12 * inch, 3.5 * inch, 0}},
      {"0.3 m; -15 cm; 350 mm", {0.3, -0.15, 0.35}},
      {"-20 mm above manifold", {-0.1, 0, 0.38}},
  };
  const build::Build build = bay();
  for (const auto& row : rows) {
    const auto got = place_of(build, row.text);
    ASSERT_TRUE(got) << row.text << ": " << got.error().text();
    SCOPED_TRACE(row.text);
    expect_vector(*got, row.place);
  }
}

TEST(Place, CountsFromHereWhereNothingElseIsSaid) {
  const build::Build build = bay();
  const Wording wording{.here = Vector{1, 2, 3}};
  expect_vector(place_of(build, "20 mm up", wording).value(), {1, 2, 3.02});
  expect_vector(place_of(build, "1 in left of here", wording).value(), {1, 2.0254, 3});
  expect_vector(place_of(build, "20 mm up from the origin", wording).value(), {0, 0, 0.02});
}

TEST(Place, TakesTheReadersUnitAndDecimalSign) {
  const build::Build build = bay();
  const Wording german{.length_unit = "in", .decimal = ','};
  expect_vector(place_of(build, "1,5 up from the origin, 2 left", german).value(), {0, 0.0508, 0.0381});
  expect_vector(place_of(build, "1,5 2 -3", german).value(), {0.0381, 0.0508, -0.0762});
}

TEST(Place, SaysWhatIsWrong) {
  const struct {
    const char* text;
    int column;
    const char *found, *accepted;
  } rows[] = {
      {"", 1, "nothing", "a place"},
      {"120 mm", 1, "1 length", "3 lengths"},
      {"300 -150", 1, "2 lengths", "3 lengths"},
      {"300 mm -150 350 in", 8, "without a unit", "a unit behind each length"},
      {"120 mm below", 13, "no port to measure from", "blower out, manifold"},
      {"120 mm below blowr_out", 14, "\"blowr_out\"", "a port: blower in, blower out, box out, manifold"},
      {"120 psi below manifold", 5, "psi", "a unit of length"},
      {"below manifold", 1, "\"below\" without a length", "before the side"},
      {"10 mm up of box_out", 13, "no place yet", "blower in, blower out, manifold"},
      {"10 mm up of manifold, 5 mm down of blower_in", 33, "of blower_in", "one port"},
      {"10 mm up of rotary blower", 13, "\"rotary blower\"", "a port"},
      {"10 mm up of manifold, 5 mm sideways", 23, "5 mm sideways", "a side"},
      {"10 mm out", 10, "no port", "of"},
      {"somewhere", 1, "\"somewhere\"", "three lengths"},
      {"10 mm up of here", 13, "\"here\"", "a port"},
  };
  const build::Build build = bay();
  for (const auto& row : rows) {
    SCOPED_TRACE(row.text);
    const auto got = place_of(build, row.text);
    ASSERT_FALSE(got);
    EXPECT_EQ(got.error().place.column, row.column) << got.error().text();
    EXPECT_NE(got.error().found.find(row.found), std::string::npos) << got.error().text();
    EXPECT_NE(got.error().accepted.find(row.accepted), std::string::npos) << got.error().text();
  }
}

TEST(Place, NamesThePortThatCannotBeToldFromAnother) {
  build::Build build = bay();
  build.ports.push_back(build.ports[1]);
  build.ports.back().id = {"second_out"};
  build.options[0].runs.emplace_back(build::Run{{"c"}, {"second_out"}, {"manifold"}, {}});
  const auto port = port_named(build, "rotary blower outlet");
  ASSERT_FALSE(port);
  EXPECT_NE(port.error().found.find("blower_out or second_out"), std::string::npos) << port.error().text();
}

TEST(Place, TakesOneCoordinateOrAWholePlace) {
  const build::Build build = bay();
  const Wording wording{.here = Vector{1, 2, 3}};
  expect_vector(place_with_coordinate(build, "-40 mm", 1, wording).value(), {1, -0.04, 3});
  expect_vector(place_with_coordinate(build, "20 mm up", 1, wording).value(), {1, 2, 3.02});
  expect_vector(place_with_coordinate(build, "1 2 3", 0, wording).value(), {0.001, 0.002, 0.003});
  const auto alone = place_with_coordinate(build, "40 mm", 1);
  ASSERT_FALSE(alone);
  EXPECT_NE(alone.error().found.find("one length"), std::string::npos);
  const auto unit = place_with_coordinate(build, "40 psi", 1, wording);
  ASSERT_FALSE(unit);
  EXPECT_NE(unit.error().accepted.find("unit of length"), std::string::npos);
}

TEST(Direction, IsReadInWords) {
  const double half = std::sqrt(0.5), c30 = std::cos(30 * deg), c20 = std::cos(20 * deg),
               s20 = std::sin(20 * deg);
  const struct {
    const char* text;
    Vector direction;
  } rows[] = {
      {"forward", {1, 0, 0}},
      {"Down", {0, 0, -1}},
      {"up and back", {-half, 0, half}},
      {"left, forward", {half, half, 0}},
      {"1 0 0", {1, 0, 0}},
      {"0; 3; -4", {0, 0.6, -0.8}},
      {"30 deg up from forward", {c30, 0, 0.5}},
      {"30° left from back", {-c30, 0.5, 0}},
      {"20 deg left and 30 deg up from forward", {c30 * c20, c30 * s20, 0.5}},
      {"20 left, 30 up from forward", {c30 * c20, c30 * s20, 0.5}},
      {"like blower out", {0.6, 0, 0.8}},
      {"against blower_out", {-0.6, 0, -0.8}},
  };
  const build::Build build = bay();
  for (const auto& row : rows) {
    const auto got = direction_of(build, row.text);
    ASSERT_TRUE(got) << row.text << ": " << got.error().text();
    SCOPED_TRACE(row.text);
    expect_vector(*got, row.direction);
  }
}

TEST(Direction, SaysWhatIsWrong) {
  const struct {
    const char *text, *found;
  } rows[] = {{"", "nothing"},
              {"sideways", "\"sideways\""},
              {"up and down", "points nowhere"},
              {"0 0 0", "points nowhere"},
              {"1 0", "2 numbers"},
              {"1 0 zero", "\"zero\""},
              {"30 deg up", "no direction to turn from"},
              {"30 mm up from forward", "mm"},
              {"30 deg up from down", "away from it"},
              {"like the origin", "the origin"},
              {"like box out", "no place yet"}};
  const build::Build build = bay();
  for (const auto& row : rows) {
    SCOPED_TRACE(row.text);
    const auto got = direction_of(build, row.text);
    ASSERT_FALSE(got);
    EXPECT_NE(got.error().found.find(row.found), std::string::npos) << got.error().text();
  }
}

TEST(Direction, ComesBackFromItsWords) {
  const build::Build build = bay();
  EXPECT_EQ(direction_words({0, -1, 0}), "right");
  EXPECT_EQ(direction_words({std::cos(30 * deg), 0, 0.5}), "30° up from forward");
  std::mt19937 random(7);
  std::normal_distribution<double> normal;
  for (int i = 0; i < 500; ++i) {
    Vector direction{normal(random), normal(random), normal(random)};
    if (i % 5 == 0)
      direction[static_cast<std::size_t>(i / 5 % 3)] = 0;
    const double length = std::hypot(direction[0], direction[1], direction[2]);
    for (double& part : direction)
      part /= length;
    const std::string words = direction_words(direction);
    SCOPED_TRACE(words);
    const auto got = direction_of(build, words);
    ASSERT_TRUE(got) << got.error().text();
    expect_vector(*got, direction, 1e-6);
  }
}

TEST(Lengths, ComeInARow) {
  EXPECT_EQ(lengths_of("400 x 200 x 150 mm", 3).value(), (std::vector{0.4, 0.2, 0.15}));
  EXPECT_EQ(lengths_of("400x200x150", 3).value(), (std::vector{0.4, 0.2, 0.15}));
  EXPECT_EQ(lengths_of("60 × 300", 2).value(), (std::vector{0.06, 0.3}));
  EXPECT_FALSE(lengths_of("60;;300", 2));
  EXPECT_FALSE(lengths_of("60 x", 2));
  EXPECT_FALSE(lengths_of("60 x 300 miles", 2));
}

TEST(Turn, IsAnAngleOrAWayAtADistance) {
  EXPECT_NEAR(turn_of("2 deg").value(), 2 * deg, 1e-15);
  EXPECT_NEAR(turn_of("2").value(), 2 * deg, 1e-15);
  EXPECT_NEAR(turn_of("15 mm at 400 mm").value(), 15.0 / 400, 1e-15);
  EXPECT_NEAR(turn_of("1/2 in at 20 in").value(), 0.025, 1e-15);
  const auto none = turn_of("15 mm at 0 mm");
  ASSERT_FALSE(none);
  EXPECT_NE(none.error().accepted.find("above zero"), std::string::npos);
  EXPECT_EQ(turn_of("15 mm at 4 psi").error().place.column, 12);
}

TEST(Attitude, TurnsOneAfterTheOther) {
  // Nose up a quarter: forward looks up, up looks back.
  const Axes up = axes_of({0, 90 * deg, 0});
  expect_vector(up[0], {0, 0, 1});
  expect_vector(up[2], {-1, 0, 0});
  // Over to the right a quarter: left looks up.
  expect_vector(axes_of({0, 0, 90 * deg})[1], {0, 0, 1});
  // To the left a quarter, then nose up: still about its own axes.
  expect_vector(axes_of({90 * deg, 30 * deg, 0})[0], {0, std::cos(30 * deg), 0.5});
}

TEST(Attitude, ComesBackFromItsAxes) {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> turn(-3, 3);
  for (int i = 0; i < 300; ++i) {
    const Attitude attitude{turn(random), turn(random) / 2, turn(random)};
    const Axes axes = axes_of(attitude);
    EXPECT_FALSE(left_handed(axes));
    const Attitude back = attitude_of(axes);
    EXPECT_NEAR(back.left_rad, attitude.left_rad, 1e-9);
    EXPECT_NEAR(back.nose_up_rad, attitude.nose_up_rad, 1e-9);
    EXPECT_NEAR(back.over_right_rad, attitude.over_right_rad, 1e-9);
  }
  for (const double end : {90.0, -90.0}) {
    const Axes axes = axes_of({20 * deg, end * deg, 10 * deg});
    const Axes again = axes_of(attitude_of(axes));
    for (std::size_t i = 0; i < 3; ++i)
      expect_vector(again[i], axes[i], 1e-6);
  }
  EXPECT_TRUE(left_handed({{{1, 0, 0}, {0, -1, 0}, {0, 0, 1}}}));
}

} // namespace
} // namespace bellmouth::bay
