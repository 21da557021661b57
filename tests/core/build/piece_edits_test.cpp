// SPDX-License-Identifier: GPL-3.0-or-later
// Cutting a tube in two and turning a piece round. Identities: lengths add up, twice round is as before.
#include "support/close.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/build.hpp>

#include <gtest/gtest.h>

namespace bellmouth::build {
namespace {

using test::deg;
using test::mm;

/// One run: tube of 300 mm with a boss at 80 mm and a flange at 220 mm, then a cone.
Build small_build() {
  Build build = test::bench_build();
  Run run = *build.options.front().runs.front();
  run.pieces = {
      {Tube{mm(60), mm(2), mm(300), {true, true}}, Material::aluminium, {}, "pipe"},
      {SensorBoss{mm(80), deg(10), "M12x1.5"}, Material::aluminium, {}, "probe"},
      {ValveFlange{mm(220), deg(20), mm(25)}, Material::aluminium, {}, "valve"},
      {Cone{mm(60), mm(76), mm(2), mm(90), {false, true}}, Material::aluminium, {}, ""},
  };
  build.options.front().runs.front() = run;
  return build;
}
const RunId specimen{"specimen"};
PieceRef at(std::size_t row) {
  return {{"only"}, specimen, row};
}
const std::vector<Piece>& pieces(const Build& build) {
  return build.options.front().find(specimen)->pieces;
}

TEST(TubeSplit, HalvesAddUpAndAreMadeToBeWelded) {
  const Build split = with_tube_split(small_build(), at(0), mm(100));
  EXPECT_FALSE(validate(split));
  ASSERT_EQ(pieces(split).size(), 5U);
  const Tube first = std::get<Tube>(pieces(split)[0].shape), second = std::get<Tube>(pieces(split)[2].shape);
  EXPECT_DOUBLE_EQ(first.length_m, mm(100));
  EXPECT_DOUBLE_EQ(first.length_m + second.length_m, mm(300));
  EXPECT_EQ(first.beads, (Beads{true, false}));
  EXPECT_EQ(second.beads, (Beads{false, true}));
  EXPECT_EQ(first.outer_diameter_m, second.outer_diameter_m);
}

TEST(TubeSplit, FittingsStayWhereTheyAre) {
  const Build split = with_tube_split(small_build(), at(0), mm(100));
  EXPECT_DOUBLE_EQ(std::get<SensorBoss>(pieces(split)[1].shape).position_m, mm(80));
  EXPECT_DOUBLE_EQ(std::get<ValveFlange>(pieces(split)[3].shape).position_m, mm(120));
  EXPECT_EQ(pieces(with_tube_split(small_build(), at(0), mm(250)))[3].label, "pipe") << "both on the first";
  EXPECT_EQ(pieces(with_tube_split(small_build(), at(0), mm(50)))[1].label, "pipe") << "both on the second";
}

TEST(TurnedRound, OnlyPiecesWithDifferentEnds) {
  EXPECT_FALSE(ends_differ(Tube{mm(60), mm(2), mm(300), {true, true}}));
  EXPECT_TRUE(ends_differ(Tube{mm(60), mm(2), mm(300), {true, false}}));
  EXPECT_TRUE(ends_differ(Cone{mm(60), mm(76), mm(2), mm(90), {true, true}}));
  EXPECT_TRUE(ends_differ(TubeBend{mm(60), mm(2), deg(90), mm(90), mm(30), mm(40), 0, {}}));
  EXPECT_FALSE(ends_differ(SensorBoss{mm(80), deg(10), "M12x1.5"}));
  EXPECT_TRUE(ends_differ(HoseReducer{mm(51), mm(57), mm(4.5), mm(76), {mm(28), mm(28)}}));
}

TEST(TurnedRound, TwiceIsAsBefore) {
  for (const Build& build : test::all_sample_builds())
    for (const Option& option : build.options)
      for (const auto& run : option.runs)
        for (const Piece& piece : run->pieces) {
          EXPECT_EQ(turned_round(turned_round(piece.shape)), piece.shape);
          EXPECT_DOUBLE_EQ(bore_in_m(turned_round(piece.shape)), bore_out_m(piece.shape));
          EXPECT_DOUBLE_EQ(full_length_m(turned_round(piece.shape)), full_length_m(piece.shape));
        }
}

TEST(TurnedRound, FittingsKeepTheirPlaceOnTheMetal) {
  const Build turned = with_piece_turned_round(small_build(), at(0));
  EXPECT_NEAR(std::get<SensorBoss>(pieces(turned)[1].shape).position_m, mm(220), 1e-15);
  EXPECT_NEAR(std::get<ValveFlange>(pieces(turned)[2].shape).position_m, mm(80), 1e-15);
  const Build cone = with_piece_turned_round(small_build(), at(3));
  EXPECT_EQ(std::get<Cone>(pieces(cone)[3].shape).outer_diameter_in_m, mm(76));
  EXPECT_EQ(std::get<Cone>(pieces(cone)[3].shape).beads, (Beads{true, false}));
}

} // namespace
} // namespace bellmouth::build
