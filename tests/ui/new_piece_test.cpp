// SPDX-License-Identifier: GPL-3.0-or-later
// Pieces that are added, builds that are started: valid wherever they come to lie. Identities of the
// contract.
#include "sample.hpp"

#include <bellmouth/evaluate.hpp>

#include <gtest/gtest.h>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <new_piece.hpp>
#include <set>

namespace bellmouth::ui {
namespace {

TEST(NewPiece, EveryKindIsValidAtEveryPlace) {
  const build::Build build = test::sample_build();
  const build::Run& run = *build.options.front().find(test::first_run());
  for (std::size_t shape = 0; shape < shape_count; ++shape) {
    for (std::size_t row = 0; row <= run.pieces.size(); ++row) {
      const build::PieceRef before{{"first"}, test::first_run(), row};
      const build::Piece piece = new_piece(shape, build, before);
      EXPECT_EQ(piece.shape.index(), shape);
      // A boss or flange needs metal before it: here behind row 1, the tube.
      if (build::is_fitting(piece.shape) && row != 2)
        continue;
      const auto error = build::validate(build::with_piece_inserted(build, before, piece));
      EXPECT_FALSE(error) << kind_name(shape) << " before row " << row << ": " << error->text();
    }
  }
}

TEST(NewPiece, TakesTheSizeOfItsNeighbour) {
  const build::Build build = test::sample_build();
  const auto at = [](std::size_t row) { return build::PieceRef{{"first"}, test::first_run(), row}; };
  const build::Piece tube = new_piece(0, build, at(1)); // behind a hose with a bore of 63.5 mm
  EXPECT_DOUBLE_EQ(std::get<build::Tube>(tube.shape).outer_diameter_m, 63.5e-3);
  EXPECT_EQ(tube.stock.text, "tube-63");
  const build::Piece hose = new_piece(5, build, at(2)); // behind the tube
  EXPECT_DOUBLE_EQ(std::get<build::Hose>(hose.shape).bore_m, 63.5e-3);
  EXPECT_EQ(hose.stock.text, "hose-63");
}

TEST(NewPiece, GoesWithAHoseThatIsALittleTighter) {
  // A hose of 63 mm goes on a spigot of 63.5 mm: tubes for it are those of 63.5 mm.
  build::Build build = test::sample_build();
  const build::PieceRef first{{"first"}, test::first_run(), 0};
  build = build::with_piece_replaced(build, first, build::with_bore(*build::find(build, first), 63e-3));
  const build::Piece tube = new_piece(0, build, {{"first"}, test::first_run(), 1});
  EXPECT_EQ(tube.stock.text, "tube-63");
}

TEST(NewPiece, BeadsWhereAHoseGoesAndNotWhereItIsWelded) {
  const build::Build build = test::sample_build();
  const auto beads = [&](std::size_t row) {
    return std::get<build::Tube>(new_piece(0, build, {{"first"}, test::first_run(), row}).shape).beads;
  };
  EXPECT_EQ(beads(1), (build::Beads{true, false})); // hose, here, tube
  EXPECT_EQ(beads(2), (build::Beads{false, true})); // tube, here, hose
  EXPECT_EQ(beads(3), (build::Beads{true, true}));  // hose, here, port
}

TEST(NewPiece, TapersBetweenTwoSizes) {
  build::Build build = test::sample_build();
  for (build::Port& port : build.ports)
    if (port.id.text == "blower_in") {
      port.outer_diameter_m = 76e-3;
      port.bore_m = 72e-3;
    }
  const build::PieceRef end{{"first"}, test::first_run(), 3};
  const auto cone = std::get<build::Cone>(new_piece(3, build, end).shape);
  EXPECT_DOUBLE_EQ(cone.outer_diameter_in_m, 63.5e-3);
  EXPECT_DOUBLE_EQ(cone.outer_diameter_out_m, 76e-3);
}

TEST(NewPiece, SitsInTheMiddleOfItsHost) {
  const build::Build build = test::sample_build();
  const build::Piece boss = new_piece(9, build, {{"first"}, test::first_run(), 2});
  EXPECT_DOUBLE_EQ(std::get<build::SensorBoss>(boss.shape).position_m, 0.200); // of the 400 mm tube
}

TEST(NewBuild, EveryRecipeIsValidAndRuns) {
  using Blower = Recipe::Blower;
  for (const Blower blower : {Blower::none, Blower::displacement, Blower::compressor, Blower::geared})
    for (const bool cooler : {false, true})
      for (const bool meter : {false, true}) {
        const build::Build build = new_build({blower, cooler, meter}, test::sample_stock());
        const auto error = build::validate(build);
        ASSERT_FALSE(error) << error->text();
        const Evaluation evaluation = evaluate(build, build.options.front().id);
        EXPECT_TRUE(evaluation.path.point.usable()) << flow::text(evaluation.path.point.stop);
        const auto again = build::read_build(build::write_build(build));
        ASSERT_TRUE(again) << again.error().text();
        EXPECT_EQ(*again, build);
      }
}

TEST(NewBuild, GearedCompressorStaysOnItsMap) {
  const build::Build build = new_build({.blower = Recipe::Blower::geared}, test::sample_stock());
  const auto& engine = std::get<machine::Engine>(build.demand);
  for (double speed = engine.max_speed_rev_s / 3; speed <= engine.max_speed_rev_s; speed += 5) {
    const Evaluation evaluation = evaluate(build, build.options.front().id, speed);
    ASSERT_TRUE(evaluation.path.point.usable()) << flow::text(evaluation.path.point.stop);
    const auto blower = std::ranges::find_if(
        evaluation.path.machines, [](const flow::MachineFlow& flow) { return flow.on_map.has_value(); });
    ASSERT_NE(blower, evaluation.path.machines.end());
    EXPECT_FALSE(blower->on_map->below_surge) << 60 * speed << " rpm";
    EXPECT_FALSE(blower->on_map->beyond_choke) << 60 * speed << " rpm";
  }
}

TEST(NewBuild, StartsWithoutFaults) {
  std::ifstream file(std::filesystem::path(BELLMOUTH_SHARED_DIR) / "stock" / "metric.json");
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  const auto stock = build::read_stock(text);
  ASSERT_TRUE(stock) << stock.error().text();
  // Hump hoses in stock are 102 mm long and leave 34 mm for each spigot; without a cooler the charge is hot.
  constexpr std::size_t few = 2;
  using Blower = Recipe::Blower;
  for (const Blower blower : {Blower::none, Blower::displacement, Blower::compressor, Blower::geared})
    for (const bool cooler : {false, true})
      for (const bool meter : {false, true}) {
        const build::Build build = new_build({blower, cooler, meter}, *stock);
        const Evaluation evaluation = evaluate(build, build.options.front().id);
        std::string said;
        std::set<std::string_view> cautions;
        for (const check::Finding& finding : evaluation.findings) {
          EXPECT_NE(finding.severity, check::Severity::stop) << finding.message;
          if (finding.severity == check::Severity::caution)
            cautions.insert(finding.rule);
          said += fmt::format("{} {}: {}\n", check::text(finding.severity), finding.rule, finding.message);
        }
        EXPECT_LE(cautions.size(), few)
            << "blower " << static_cast<int>(blower) << ", cooler " << cooler << ", meter " << meter << "\n"
            << said;
        EXPECT_TRUE(std::ranges::all_of(cautions, [&](std::string_view rule) {
          return rule == "short-engagement" || (rule == "charge-hot" && !cooler);
        })) << said;
        for (const auto& run : build.options.front().runs) {
          EXPECT_EQ(run->id.text.find('_'), std::string::npos) << run->id.text;
          for (const build::Piece& piece : run->pieces)
            if (const auto* hose = std::get_if<build::Hose>(&piece.shape)) {
              EXPECT_NEAR(hose->length_m - hose->engagement.in_m - hose->engagement.out_m, 8e-3, 1e-12);
            }
        }
      }
}

} // namespace
} // namespace bellmouth::ui
