// SPDX-License-Identifier: GPL-3.0-or-later
// Where the saw goes. Figures worked by hand from the sizes (closed form) unless something else is said.
#include "support/close.hpp"
#include "support/random_questions.hpp"
#include "support/small_build.hpp"

#include <bellmouth/buy/sawing.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <numbers>

namespace bellmouth::buy {
namespace {

using test::close;
using test::deg;
using test::mm;

/// A bend of 180 degrees with legs of 100 mm at a radius of 95 mm, sawn into two of 90 degrees of which each
/// keeps its leg, one cut down to 60 mm.
struct TwoOutOfOne {
  Question question;
  Plan plan;

  TwoOutOfOne() {
    question.kerf_m = mm(2.5);
    question.needs = {{.form = Form::sawn, .body = {mm(60), mm(95), deg(90), 0}, .offers = {0}},
                      {.form = Form::sawn, .body = {mm(100), mm(95), deg(89), 0}, .offers = {0}}};
    Offer bend;
    bend.form = Form::sawn;
    bend.body = {mm(100), mm(95), deg(180), mm(100)};
    question.offers = {bend};
    const double quarter_m = mm(95) * deg(90), arc_m = 2 * quarter_m;
    Use use;
    use.length_m = mm(200) + arc_m;
    use.cuts = {{.need = 0, .from_m = mm(40), .to_m = mm(100) + quarter_m},
                {.need = 1,
                 .from_m = mm(102.5) + quarter_m,
                 .to_m = mm(200) + arc_m,
                 .turned = true,
                 .short_by_rad = deg(89) - deg(90) + mm(2.5) / mm(95)}};
    plan.uses = {use};
  }
};

TEST(Sawing, OnABendFromAMarkedEndAndAlongItsThreeLines) {
  const TwoOutOfOne example;
  const std::vector<SawnThing> things = sawn_things(example.question, example.plan, std::vector{mm(63.5)});
  ASSERT_EQ(things.size(), 1u);
  const SawnThing& bend = things[0];
  EXPECT_TRUE(close(bend.length_m, mm(200 + 95 * std::numbers::pi), 1e-12));
  ASSERT_EQ(bend.parts.size(), 3u); // 37.5 mm of leg are left over
  EXPECT_EQ(bend.parts[0].need, std::nullopt);
  EXPECT_FALSE(bend.parts[0].sawn_from);
  EXPECT_TRUE(bend.parts[0].sawn_to);
  EXPECT_TRUE(close(bend.parts[0].length_m(), mm(37.5), 1e-9));

  const SawnPart& first = bend.parts[1];
  EXPECT_EQ(first.need, 0u);
  EXPECT_EQ(first.from.on, Place::On::leg_a);
  EXPECT_TRUE(close(first.from.from_a_m, mm(40), 1e-12));
  EXPECT_TRUE(close(first.from.from_arc_m, mm(60), 1e-12));
  EXPECT_EQ(first.to.on, Place::On::arc);
  // A quarter of a turn at 63.25, 95 and 126.75 mm.
  EXPECT_TRUE(close(first.to.arc.angle_rad, deg(90), 1e-12));
  EXPECT_TRUE(close(first.to.arc.inside_m, mm(63.25 * std::numbers::pi / 2), 1e-12));
  EXPECT_TRUE(close(first.to.arc.centreline_m, mm(95 * std::numbers::pi / 2), 1e-12));
  EXPECT_TRUE(close(first.to.arc.outside_m, mm(126.75 * std::numbers::pi / 2), 1e-12));
  EXPECT_TRUE(first.sawn_from && first.sawn_to);
  EXPECT_FALSE(first.turned);

  const SawnPart& second = bend.parts[2];
  EXPECT_EQ(second.from.on, Place::On::arc);
  EXPECT_TRUE(close(second.from.arc.centreline_m, mm(2.5 + 95 * std::numbers::pi / 2), 1e-12));
  EXPECT_EQ(second.to.on, Place::On::leg_b);
  EXPECT_TRUE(close(second.to.from_arc_m, mm(100), 1e-9));
  EXPECT_TRUE(second.sawn_from);
  EXPECT_FALSE(second.sawn_to);
  EXPECT_TRUE(second.turned);
}

TEST(Sawing, TableSaysItInWords) {
  const TwoOutOfOne example;
  const build::PieceRef one{{"only"}, {"hot"}, 1}, other{{"only"}, {"hot"}, 3};
  const list::Table table =
      buy::table(sawn_things(example.question, example.plan, std::vector{mm(63.5)}),
                 std::vector<OfferWords>{{"U bend", true}},
                 std::vector<NeedWords>{{"hot 2 (bend)", {one}}, {"hot 4 (bend)", {other}, true}});
  EXPECT_EQ(table.name, "sawing");
  ASSERT_EQ(table.rows.size(), 3u);
  ASSERT_EQ(table.pieces.size(), 3u);
  EXPECT_TRUE(table.pieces[0].empty());
  EXPECT_EQ(table.pieces[1], std::vector{one});
  for (const auto& row : table.rows)
    EXPECT_EQ(row.size(), table.header.size());
  EXPECT_EQ(table.rows[0][3], "left over");
  EXPECT_EQ(table.rows[1],
            (std::vector<std::string>{
                "U bend (owned)", "1", "498.5", "hot 2 (bend)", "40.0", "249.2", "209.2",
                "in the leg at A, 60.0 before the arc",
                "in the arc at 90 deg: inside 99.4, centre 149.2, outside 199.1 from its start", "yes", "yes",
                "2.5", "near A", ""}));
  EXPECT_EQ(table.rows[2][3], "hot 4 (bend) (spare)");
  EXPECT_EQ(table.rows[2][12], "far from A");
  EXPECT_EQ(table.rows[2].back(), "falls 0.51 deg short of its angle"); // 2.5 / 95 rad is 1.51 degrees
}

// Identities, over plans of random questions: parts and the kerfs between them tile each thing; each need
// that is served from it is there once; what is left over is what the plan says.
TEST(Sawing, PartsAndKerfsTileEachThing) {
  int seen = 0, left_over = 0;
  for (std::uint64_t number = 0; number < 60; ++number) {
    Question question = test::RandomQuestion(number, {.needs = 8, .offers = 12}).question();
    question.seconds = std::numeric_limits<double>::infinity();
    const Plan plan = buy::plan(question);
    const std::vector<double> diameters(question.offers.size(), mm(50));
    const std::vector<SawnThing> things = sawn_things(question, plan, diameters);
    std::size_t at = 0;
    for (const Use& use : plan.uses) {
      if (use.cuts.empty())
        continue;
      SCOPED_TRACE(number);
      const SawnThing& thing = things.at(at++);
      EXPECT_EQ(thing.offer, use.offer);
      double end_m = -question.kerf_m;
      std::size_t needs = 0;
      std::vector<double> left_m;
      for (const SawnPart& part : thing.parts) {
        const double gap_m = part.from.from_a_m - end_m;
        // Two cuts may lie so close that nothing is left between them.
        EXPECT_GE(gap_m, question.kerf_m - 1e-6);
        EXPECT_LE(gap_m, 2 * question.kerf_m + nothing_m + 1e-6);
        EXPECT_GT(part.length_m(), 0);
        end_m = part.to.from_a_m;
        if (part.need) {
          EXPECT_EQ(*part.need, use.cuts.at(needs).need);
          ++needs;
        } else {
          left_m.push_back(part.length_m());
        }
      }
      EXPECT_EQ(needs, use.cuts.size());
      EXPECT_LE(thing.length_m - end_m, question.kerf_m + nothing_m + 1e-6);
      EXPECT_EQ(thing.parts.back().sawn_to, thing.length_m - end_m > nothing_m);
      ASSERT_EQ(left_m.size(), use.offcuts.size());
      for (std::size_t i = 0; i < left_m.size(); ++i)
        EXPECT_TRUE(close(left_m[i], use.offcuts[i].length_m(), 1e-9, 1e-9));
      ++seen;
      left_over += static_cast<int>(left_m.size());
    }
    EXPECT_EQ(at, things.size());
  }
  EXPECT_GT(seen, 50);
  EXPECT_GT(left_over, 20);
}

// The whole way from a build: each piece that is sawn has its row.
TEST(Sawing, OfABuild) {
  const build::Build b = test::small_build();
  const Purchase bought = purchase(b, b.options[0].id, {.seconds = std::numeric_limits<double>::infinity()});
  const list::Table table = sawing(b, bought);
  std::vector<std::size_t> rows;
  for (const auto& pieces : table.pieces)
    for (const build::PieceRef& piece : pieces) {
      EXPECT_NE(build::find(b, piece), nullptr);
      rows.push_back(piece.row);
    }
  std::ranges::sort(rows);
  EXPECT_EQ(rows, (std::vector<std::size_t>{0, 1, 2, 3, 4, 5})); // hoses too are cut from what is bought
  const auto mitred =
      std::ranges::find_if(table.rows, [](const auto& row) { return row[3].rfind("run 4", 0) == 0; });
  ASSERT_NE(mitred, table.rows.end());
  EXPECT_EQ(mitred->back(), "saw it into 3 pieces: see the wedges");
}

} // namespace
} // namespace bellmouth::buy
