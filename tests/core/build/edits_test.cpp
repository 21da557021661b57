// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/close.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/build.hpp>

#include <gtest/gtest.h>

#include <string>

namespace bellmouth::build {
namespace {

using test::close;
using test::deg;
using test::mm;

const OptionId small{"small"};
const OptionId wide{"wide"};
const RunId suction{"suction"};
const RunId hot{"hot_side"};
const RunId cold{"cold_side"};

const Run& run_of(const Build& build, const RunId& run, const OptionId& option = small) {
  return *build.find(option)->find(run);
}

/// The kinds of a run's rows in order.
std::string order(const Build& build, const RunId& run) {
  std::string text;
  for (const Piece& piece : run_of(build, run).pieces)
    text += std::string(text.empty() ? "" : " ") + std::string(kind_key(piece.shape));
  return text;
}

Piece plain_tube(double length_m) {
  return {Tube{mm(60), mm(2), length_m, {}}, Material::aluminium, {}, ""};
}

TEST(Edits, FindAPieceByItsPlace) {
  const Build build = test::sample_build();
  ASSERT_NE(find(build, {small, suction, 2}), nullptr);
  EXPECT_EQ(kind_key(find(build, {small, suction, 2})->shape), "sensor_boss");
  EXPECT_EQ(find(build, {small, suction, 4}), nullptr);
  EXPECT_EQ(find(build, {small, {"none"}, 0}), nullptr);
  EXPECT_EQ(find(build, {{"none"}, suction, 0}), nullptr);
}

TEST(Edits, LeaveTheOldBuildAndShareOtherRuns) {
  const Build before = test::sample_build();
  const Build kept = before;
  const Build after = with_piece_inserted(before, {small, cold, 0}, plain_tube(mm(100)));
  EXPECT_EQ(before, kept);
  EXPECT_NE(after, before);
  EXPECT_EQ(run_of(after, cold).pieces.size(), run_of(before, cold).pieces.size() + 1);
  EXPECT_EQ(&run_of(after, hot), &run_of(before, hot));
  EXPECT_EQ(&run_of(after, cold, wide), &run_of(before, cold, wide));
}

TEST(Edits, InsertBeforeARowOrBehindTheLast) {
  const Build build = test::sample_build();
  EXPECT_EQ(order(with_piece_inserted(build, {small, suction, 0}, plain_tube(1)), suction),
            "tube hose tube sensor_boss hose_reducer");
  EXPECT_EQ(order(with_piece_inserted(build, {small, suction, 4}, plain_tube(1)), suction),
            "hose tube sensor_boss hose_reducer tube");
}

TEST(Edits, InsertNeverTakesAFittingFromItsHost) {
  const Build build = test::sample_build();
  const Build tube = with_piece_inserted(build, {small, suction, 2}, plain_tube(mm(99)));
  EXPECT_EQ(order(tube, suction), "hose tube sensor_boss tube hose_reducer");
  EXPECT_EQ(full_length_m(run_of(tube, suction).pieces[3].shape), mm(99));
  const Piece boss{SensorBoss{mm(20), 0, "M10x1.0"}, Material::aluminium, {}, ""};
  const Build second = with_piece_inserted(build, {small, suction, 2}, boss);
  EXPECT_EQ(order(second, suction), "hose tube sensor_boss sensor_boss hose_reducer");
  EXPECT_EQ(run_of(second, suction).pieces[2], boss);
}

TEST(Edits, RemoveTakesFittingsAlong) {
  const Build build = test::sample_build();
  EXPECT_EQ(rows_with_fittings(run_of(build, suction), 0), 1u);
  EXPECT_EQ(rows_with_fittings(run_of(build, suction), 1), 2u);
  EXPECT_EQ(rows_with_fittings(run_of(build, suction), 2), 1u);
  EXPECT_EQ(order(with_piece_removed(build, {small, suction, 1}), suction), "hose hose_reducer");
  EXPECT_EQ(order(with_piece_removed(build, {small, suction, 2}), suction), "hose tube hose_reducer");
}

TEST(Edits, ReplaceKeepsTheRest) {
  const Build build = test::sample_build();
  const Build after = with_piece_replaced(build, {small, suction, 1}, plain_tube(mm(123)));
  EXPECT_EQ(*find(after, {small, suction, 1}), plain_tube(mm(123)));
  EXPECT_EQ(*find(after, {small, suction, 2}), *find(build, {small, suction, 2}));
}

TEST(Edits, MoveTakesFittingsAlong) {
  const Build build = test::sample_build();
  struct Case {
    std::size_t row, to;
    const char* order;
  };
  for (const Case& c : {
           Case{1, 0, "tube sensor_boss hose hose_reducer"},
           Case{1, 4, "hose hose_reducer tube sensor_boss"},
           Case{1, 1, "hose tube sensor_boss hose_reducer"},
           Case{1, 2, "hose tube sensor_boss hose_reducer"},
           Case{1, 3, "hose tube sensor_boss hose_reducer"},
           Case{0, 1, "hose tube sensor_boss hose_reducer"},
           Case{0, 2, "tube sensor_boss hose hose_reducer"},
           Case{0, 3, "tube sensor_boss hose hose_reducer"},
           Case{3, 0, "hose_reducer hose tube sensor_boss"},
           Case{3, 2, "hose tube sensor_boss hose_reducer"},
           Case{2, 4, "hose tube hose_reducer sensor_boss"},
       }) {
    SCOPED_TRACE(testing::Message() << c.row << " to " << c.to);
    EXPECT_EQ(order(with_piece_moved(build, {small, suction, c.row}, c.to), suction), c.order);
  }
  EXPECT_EQ(with_piece_moved(build, {small, suction, 1}, 1), build)
      << "a move to where it is changes nothing";
}

TEST(Edits, DuplicateCopiesFittingsToo) {
  const Build build = test::sample_build();
  EXPECT_EQ(order(with_piece_duplicated(build, {small, suction, 1}), suction),
            "hose tube sensor_boss tube sensor_boss hose_reducer");
  EXPECT_EQ(order(with_piece_duplicated(build, {small, suction, 2}), suction),
            "hose tube sensor_boss sensor_boss hose_reducer");
  EXPECT_EQ(order(with_piece_duplicated(build, {small, suction, 3}), suction),
            "hose tube sensor_boss hose_reducer hose_reducer");
}

// Identity, over every kind of piece of the samples: both bores are what was asked, walls are kept, and
// asking for the bore that is there changes nothing.
TEST(Edits, WithBoreKeepsTheWall) {
  for (const Build& build : test::all_sample_builds())
    for (const Option& option : build.options)
      for (const auto& run : option.runs)
        for (const Piece& piece : run->pieces) {
          SCOPED_TRACE(kind_key(piece.shape));
          const Piece changed = with_bore(piece, mm(80));
          if (is_fitting(piece.shape)) {
            EXPECT_EQ(changed, piece);
            continue;
          }
          EXPECT_TRUE(close(bore_in_m(changed.shape), mm(80), 1e-13));
          EXPECT_TRUE(close(bore_out_m(changed.shape), mm(80), 1e-13));
          EXPECT_TRUE(close(wall_m(changed.shape), wall_m(piece.shape), 1e-13));
          EXPECT_EQ(full_length_m(changed.shape), full_length_m(piece.shape));
          EXPECT_EQ(changed.stock, StockId{});
          EXPECT_EQ(changed.material, piece.material);
          EXPECT_EQ(changed.label, piece.label);
          EXPECT_EQ(with_bore(changed, bore_in_m(changed.shape)).shape.index(), piece.shape.index());
        }
  const Piece hose{Hose{mm(60), mm(5), mm(75), {mm(30), mm(30)}}, Material::silicone, {"hose"}, "x"};
  EXPECT_EQ(with_bore(hose, mm(60)), hose);
}

TEST(Edits, RunBoreReachesEveryPieceOfOneDiameter) {
  const Build build = test::sample_build();
  const Build after = with_run_bore(build, small, cold, mm(70), mm(2));
  const auto& pieces = run_of(after, cold).pieces;
  EXPECT_EQ(std::get<Hose>(pieces[0].shape).bore_m, mm(70));
  EXPECT_EQ(std::get<Hose>(pieces[0].shape).wall_m, mm(4.5));
  EXPECT_EQ(pieces[0].stock, StockId{}) << "what has another size is another thing to buy";
  EXPECT_EQ(std::get<TubeBend>(pieces[1].shape).outer_diameter_m, mm(70));
  EXPECT_EQ(std::get<TubeBend>(pieces[1].shape).wall_m, mm(2));
  EXPECT_EQ(std::get<Tube>(pieces[2].shape).outer_diameter_m, mm(70));
  EXPECT_EQ(std::get<Adapter>(pieces[3].shape).outer_diameter_in_m, mm(70));
  EXPECT_TRUE(close(std::get<Adapter>(pieces[3].shape).bore_out_m, mm(66), 1e-13));
  EXPECT_EQ(pieces[4], run_of(build, cold).pieces[4]);
  EXPECT_EQ(std::get<HoseElbow>(pieces[5].shape).bore_in_m, mm(70));
}

TEST(Edits, RunBoreKeepsTheEndsThatMeetPorts) {
  // The reducer at the end of the suction run meets the blower: its outlet stays.
  const Build after = with_run_bore(test::sample_build(), small, suction, mm(89), mm(2));
  const auto& reducer = std::get<HoseReducer>(run_of(after, suction).pieces[3].shape);
  EXPECT_EQ(reducer.bore_in_m, mm(89));
  EXPECT_EQ(reducer.bore_out_m, mm(70));
  // Both ends of the only piece meet ports: nothing to change.
  const Build compressor = test::compressor_build();
  EXPECT_EQ(with_run_bore(compressor, {"first"}, {"intake"}, mm(70), mm(2)), compressor);
  const Build charge = with_run_bore(compressor, {"first"}, {"charge"}, mm(63.5), mm(1.65));
  const auto& pieces = run_of(charge, {"charge"}, {"first"}).pieces;
  EXPECT_EQ(std::get<HoseReducer>(pieces[0].shape).bore_in_m, mm(51));
  EXPECT_EQ(std::get<HoseReducer>(pieces[0].shape).bore_out_m, mm(63.5));
  EXPECT_EQ(std::get<HoseReducer>(pieces[2].shape).bore_in_m, mm(63.5));
  EXPECT_EQ(std::get<HoseReducer>(pieces[2].shape).bore_out_m, mm(60.3));
  // A cone amid the run takes the new diameter at both ends; a fitting behind the last piece changes no end.
  const Build cone = with_run_bore(test::sample_build(), small, hot, mm(70), mm(2));
  const auto& in_the_middle = std::get<Cone>(run_of(cone, hot).pieces[2].shape);
  EXPECT_EQ(in_the_middle.outer_diameter_in_m, mm(70));
  EXPECT_EQ(in_the_middle.outer_diameter_out_m, mm(70));
  const auto& hump = std::get<HumpHose>(run_of(cone, hot).pieces[0].shape);
  EXPECT_TRUE(close(hump.hump_bore_m - hump.bore_m, mm(12), 1e-12));
}

TEST(Edits, RunBoreCountsFittingsAsPartOfTheLastPiece) {
  Build build = test::bench_build();
  auto run = run_of(build, {"specimen"}, {"only"});
  run.pieces[1].shape = Cone{mm(63.5), mm(76.2), mm(1.65), mm(80), {}};
  run.pieces.push_back({SensorBoss{mm(10), 0, "M10x1.0"}, Material::aluminium, {}, ""});
  build.options[0].runs[0] = run;
  const Build after = with_run_bore(build, {"only"}, {"specimen"}, mm(60), mm(1.65));
  const auto& cone = std::get<Cone>(run_of(after, {"specimen"}, {"only"}).pieces[1].shape);
  EXPECT_EQ(cone.outer_diameter_in_m, mm(60));
  EXPECT_EQ(cone.outer_diameter_out_m, mm(76.2));
}

TEST(Edits, SetParts) {
  const Build build = test::sample_build();
  const MachineKind throttle = machine::Throttle{mm(65), 0.3};
  EXPECT_EQ(with_machine(build, {"throttle"}, throttle).find(MachineId{"throttle"})->kind, throttle);
  EXPECT_EQ(with_demand(build, FixedFlow{0.1, 1e5, 300}).demand, (Demand{FixedFlow{0.1, 1e5, 300}}));
  EXPECT_EQ(with_ambient(build, Altitude{500, 0.5}).ambient, (Ambient{Altitude{500, 0.5}}));
  EXPECT_EQ(with_title(build, "Other").title, "Other");
  EXPECT_EQ(with_budget(build, {test::euro(), test::euros(1, 50)}).budget.limit, test::euros(1, 50));
  EXPECT_EQ(with_title(build, build.title), build);
}

TEST(Edits, SetTheBay) {
  const Build build = test::sample_build();
  const Build warm = with_bay(build, BayAir{343.15, 2});
  EXPECT_EQ(warm.bay, (BayAir{343.15, 2}));
  EXPECT_EQ(with_bay(warm, std::nullopt), build);
  EXPECT_EQ(with_bay(build, std::nullopt), build);
  EXPECT_EQ(validate(with_bay(build, BayAir{501, 2}))->place.path, "$.bay.temperature_K");
}

TEST(Edits, LagAPieceOrStripIt) {
  const Build build = test::sample_build();
  const Lagging wrap{mm(3), 0.07};
  const Build lagged = with_lagging(build, {small, suction, 1}, wrap);
  EXPECT_EQ(validate(lagged), std::nullopt);
  EXPECT_EQ(find(lagged, {small, suction, 1})->lagging, wrap);
  EXPECT_EQ(find(lagged, {wide, suction, 1})->lagging, std::nullopt) << "the other option stays";
  EXPECT_EQ(find(lagged, {small, suction, 1})->shape, find(build, {small, suction, 1})->shape);
  EXPECT_EQ(with_lagging(lagged, {small, suction, 1}, std::nullopt), build);
  EXPECT_EQ(&run_of(with_lagging(lagged, {small, suction, 1}, wrap), suction), &run_of(lagged, suction))
      << "what changes nothing stays shared";
}

TEST(Edits, LagARunButNotItsFittings) {
  const Build build = test::sample_build();
  const Lagging wrap{mm(3), 0.07};
  const Build lagged = with_lagging_on_run(build, small, suction, wrap);
  EXPECT_EQ(validate(lagged), std::nullopt);
  for (const Piece& piece : run_of(lagged, suction).pieces)
    EXPECT_EQ(piece.lagging, is_fitting(piece.shape) ? std::nullopt : std::optional(wrap)) << title(piece);
  EXPECT_EQ(&run_of(lagged, hot), &run_of(build, hot));
  EXPECT_EQ(&run_of(lagged, suction, wide), &run_of(build, suction, wide));
  EXPECT_EQ(with_lagging_on_run(lagged, small, suction, std::nullopt), build);
}

TEST(Edits, KeepLaggingWhenTheSizeChanges) {
  const Lagging wrap{mm(3), 0.07};
  const Build lagged = with_lagging_on_run(test::sample_build(), small, cold, wrap);
  EXPECT_EQ(with_bore(*find(lagged, {small, cold, 0}), mm(70)).lagging, wrap);
  EXPECT_EQ(find(with_run_bore(lagged, small, cold, mm(70), mm(2)), {small, cold, 1})->lagging, wrap);
}

TEST(Edits, SetAndForgetWhatWasMeasured) {
  const Build build = test::sample_build();
  const std::vector<Measured> found{{Coefficient::duct_losses, 1.2, 0.1},
                                    {Coefficient::filter_drop, 0.9, 0.05}};
  const Build fitted = with_measured(build, found);
  EXPECT_EQ(validate(fitted), std::nullopt);
  EXPECT_EQ(fitted.measured, found);
  EXPECT_EQ(*fitted.find(Coefficient::filter_drop), found[1]);
  EXPECT_EQ(fitted.find(Coefficient::cooler_drop), nullptr);
  const std::vector<Measured> again{{Coefficient::cooler_drop, 1.1, 0.2}};
  EXPECT_EQ(with_measured(fitted, again).measured, again);
  EXPECT_EQ(without_measured(fitted), build);
  EXPECT_EQ(without_measured(build), build);
}

TEST(Edits, OwnedIsSetAddedAndTakenOut) {
  const Build build = test::sample_build();
  const Build more = with_owned(build, {"clamp-70"}, 5);
  EXPECT_EQ(more.owned[1], (Owned{{"clamp-70"}, 5}));
  const Build added = with_owned(build, {"hose-63"}, 2);
  ASSERT_EQ(added.owned.size(), 3u);
  EXPECT_EQ(added.owned[2], (Owned{{"hose-63"}, 2}));
  EXPECT_EQ(with_owned(build, {"tube-63"}, 0).owned.size(), 1u);
  EXPECT_EQ(with_owned(build, {"hose-63"}, 0), build);
}

TEST(Edits, OptionsAreCopiedRenamedRemoved) {
  const Build build = test::sample_build();
  const Build copied = with_option_copied(build, small, {"third"});
  ASSERT_EQ(copied.options.size(), 3u);
  EXPECT_EQ(copied.options[1].id, OptionId{"third"});
  EXPECT_EQ(copied.options[1].runs, build.options[0].runs);
  EXPECT_EQ(&*copied.options[1].runs[0], &*build.options[0].runs[0]);
  const Build removed = with_option_removed(copied, {"third"});
  EXPECT_EQ(removed, build);
  const Build renamed = with_option_renamed(build, wide, {"broad"});
  EXPECT_EQ(renamed.find(wide), nullptr);
  EXPECT_EQ(renamed.options[1].id, OptionId{"broad"});
}

} // namespace
} // namespace bellmouth::build
