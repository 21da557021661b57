// SPDX-License-Identifier: GPL-3.0-or-later
// What may move, and how far, unless the user says otherwise.
#include "support/close.hpp"
#include "support/random_chains.hpp"
#include "support/sample_builds.hpp"

#include <gtest/gtest.h>

namespace bellmouth::test {
namespace {

using route::Freedom;
using route::What;

const build::Pose origin{{0, 0, 0}, {1, 0, 0}}, somewhere{{1, 0, 0}, {-1, 0, 0}};

/// A run of these pieces; stock as the samples hold it.
build::Build with_stock(std::vector<build::Piece> pieces) {
  auto build = one_run(origin, somewhere, std::move(pieces));
  build.stock = sample_stock();
  return build;
}
std::vector<Freedom> found(const build::Build& build) {
  return route::freedoms(build, {"only"}, {"run"});
}
const Freedom* find(const std::vector<Freedom>& all, std::size_t row, What what) {
  for (const Freedom& each : all)
    if (each.row == row && each.what == what)
      return &each;
  return nullptr;
}
build::Piece from(const char* stock, build::Piece piece) {
  piece.stock = {stock};
  return piece;
}

// Closed form: engagements of 32 mm, 10 mm to spare behind hoses and bosses, a gap of 8 mm in a hose; lengths
// of the sample stock: hose 80 mm each, tube by the metre.
TEST(Freedoms, FollowJointsAndStock) {
  const build::Piece boss{build::SensorBoss{mm(150), 0, "M12x1.5"}, build::Material::aluminium, {}, ""};
  const auto all = found(with_stock({from("hose-63", coupler(70)), from("tube-63", straight(200)),
                                     coupler(100), straight(250), boss, coupler(90)}));
  ASSERT_EQ(all.size(), 5U);
  const double limits_mm[][2] = {{72, 80}, {74, 2000}, {72, 300}, {192, 2000}, {72, 300}};
  const std::size_t rows[] = {0, 1, 2, 3, 5};
  for (std::size_t i = 0; i < all.size(); ++i) {
    EXPECT_EQ(all[i].row, rows[i]);
    EXPECT_EQ(all[i].what, What::length);
    // The first hose is shorter than it should be, and may stay so.
    EXPECT_TRUE(close(all[i].low, mm(i == 0 ? 70 : limits_mm[i][0]), 0, 1e-12)) << i;
    EXPECT_TRUE(close(all[i].high, mm(limits_mm[i][1]), 0, 1e-12)) << i;
  }
}

// Closed form: bends keep what a hose covers, and go up to what the item gives: 90 degrees, legs of 100 mm.
TEST(Freedoms, OfBends) {
  const auto all =
      found(with_stock({coupler(80), from("bend-63-90", bend(75, -15, 95, 80, 90)), coupler(80)}));
  const Freedom *in = find(all, 1, What::leg_in), *out = find(all, 1, What::leg_out),
                *turn = find(all, 1, What::clocking), *cut = find(all, 1, What::angle);
  ASSERT_TRUE(in && out && turn && cut);
  EXPECT_EQ(*in, (Freedom{1, What::leg_in, mm(32), mm(100)}));
  EXPECT_EQ(*out, (Freedom{1, What::leg_out, mm(32), mm(100)}));
  EXPECT_EQ(*turn, (Freedom{1, What::clocking, -std::numbers::pi, std::numbers::pi, route::clocking_weight}));
  EXPECT_TRUE(close(cut->low, deg(5), 1e-12));
  EXPECT_TRUE(close(cut->high, deg(90), 1e-12));
}

// Identity: a whole bend with both legs would lose its item when cut, so it is not.
TEST(Freedoms, LeaveAWholeBendWhole) {
  const auto both =
      found(with_stock({coupler(80), from("bend-63-90", bend(90, 0, 95, 80, 90)), coupler(80)}));
  EXPECT_FALSE(find(both, 1, What::angle));
  const auto one =
      found(with_stock({coupler(80), from("bend-63-90", bend(90, 0, 95, 80, 0)), straight(200)}));
  ASSERT_TRUE(find(one, 1, What::angle));
  EXPECT_TRUE(close(find(one, 1, What::angle)->high, deg(90), 1e-12));
}

// Identity: without an item a bend is only cut smaller, and its legs shorter.
TEST(Freedoms, OfBendsWithoutAnItem) {
  const auto all = found(with_stock({coupler(80), bend(60, 0, 95, 50, 40), coupler(80)}));
  EXPECT_EQ(find(all, 1, What::angle)->high, deg(60));
  EXPECT_EQ(find(all, 1, What::leg_in)->high, mm(50));
  EXPECT_EQ(find(all, 1, What::leg_out)->low, mm(32));
}

// Identity: a leg welded to a tube does what the tube does, so only the tube moves.
TEST(Freedoms, LeaveLegsThatATubeDoesFor) {
  const auto all = found(with_stock({straight(100), bend(60, 0, 95, 50, 40), bend(30, 0, 95, 50, 40)}));
  EXPECT_FALSE(find(all, 1, What::leg_in));
  EXPECT_TRUE(find(all, 1, What::leg_out));
  EXPECT_TRUE(find(all, 2, What::leg_in));
}

// Identity: mitred bends are cut to measure unless they are bought; what is moulded or turned stays.
TEST(Freedoms, OfOtherPieces) {
  const build::Piece mitred{build::MitredBend{mm(63.5), mm(1.65), deg(45), mm(100), 2, mm(40), mm(40), 0, {}},
                            build::Material::mild_steel,
                            {},
                            ""};
  EXPECT_TRUE(find(found(with_stock({mitred})), 0, What::angle));
  EXPECT_FALSE(find(found(with_stock({from("mitre-63-45", mitred)})), 0, What::angle));
  const auto sample = sample_build();
  for (const auto& option : sample.options)
    for (const auto& run : option.runs) {
      const auto all = route::freedoms(sample, option.id, run->id);
      EXPECT_FALSE(route::validate(*run, all));
      for (const Freedom& each : all) {
        const auto& shape = run->pieces[each.row].shape;
        EXPECT_FALSE(std::holds_alternative<build::Cone>(shape) ||
                     std::holds_alternative<build::Adapter>(shape) ||
                     std::holds_alternative<build::HumpHose>(shape) ||
                     std::holds_alternative<build::HoseReducer>(shape) || build::is_fitting(shape));
        EXPECT_LE(each.low, *route::value(shape, each.what));
        EXPECT_GE(each.high, *route::value(shape, each.what));
      }
    }
}

// Identity: what is found is accepted, whatever a build may hold: a tube and a bend hardly there, a hose that
// is all engagement, the sum of which is more than its length by rounding.
TEST(Freedoms, AreAcceptedAsFound) {
  build::Piece hose = coupler(20.4);
  std::get<build::Hose>(hose.shape).engagement = {10.1 / 1000, 10.3 / 1000};
  std::get<build::Hose>(hose.shape).length_m = 20.4 / 1000;
  ASSERT_GT(10.1 / 1000 + 10.3 / 1000, 20.4 / 1000);
  const auto build = one_run(origin, somewhere, {straight(0.5), bend(0.03, 0), hose, straight(19999)});
  ASSERT_FALSE(build::validate(build));
  const auto all = found(build);
  ASSERT_EQ(all.size(), 6U);
  const auto complaint = route::validate(the_run(build), all);
  EXPECT_FALSE(complaint) << complaint->text();
}

TEST(Freedoms, AreRefusedWithOneComplaint) {
  const build::Piece boss{build::SensorBoss{mm(50), 0, "M12x1.5"}, build::Material::aluminium, {}, ""};
  const auto build = with_stock({straight(100), boss, coupler(80), bend(45, 0, 95, 40, 40)});
  const auto complaint = [&](const std::vector<Freedom>& freedoms) {
    const auto wrong = route::validate(the_run(build), freedoms);
    return wrong ? wrong->text() : "";
  };
  EXPECT_EQ(complaint({{0, What::length, mm(60), mm(200)}, {3, What::angle, deg(5), deg(45)}}), "");
  const std::pair<Freedom, const char*> wrong[] = {
      {{4, What::length, 0.1, 0.2}, "row 5 length: found row 5; accepted: a row from 1 to 4"},
      {{0, What::angle, 0.1, 0.2}, "row 1 angle: found angle of a tube; accepted: length"},
      {{1, What::clocking, -1, 1}, "accepted: another row: it has no size that can move"},
      {{0, What::length, 0.3, 0.2}, "row 1 length: found 300 mm to 200 mm; accepted: limits in order"},
      {{0, What::length, mm(40), 0.2}, "from 50 mm to 20000 mm"},
      {{2, What::length, mm(60), 0.2}, "from 64 mm"},
      {{3, What::leg_in, -0.1, 0.2}, "from 0 mm"},
      {{3, What::clocking, deg(-400), 1}, "from -360° to 360°"},
      {{3, What::angle, 0, 1}, "accepted: limits in order"},
      {{0, What::length, 0.1, std::nan("")}, "accepted: limits in order"},
      {{0, What::length, 0.1, 0.2, 0}, "a weight above 0"}};
  for (const auto& [freedom, part] : wrong)
    EXPECT_NE(complaint({freedom}).find(part), std::string::npos) << part << " in " << complaint({freedom});
  EXPECT_NE(complaint({{0, What::length, 0.1, 0.2}, {0, What::length, 0.1, 0.2}}).find("each size once"),
            std::string::npos);
}

} // namespace
} // namespace bellmouth::test
