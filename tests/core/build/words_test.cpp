// SPDX-License-Identifier: GPL-3.0-or-later
// Every word that a file may hold for one of several things is written and read back as that thing, and what
// a file may leave out is left out and read as said.
#include "core/build/text_files.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/build.hpp>

#include <gtest/gtest.h>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <functional>
#include <string>
#include <vector>

namespace bellmouth::build {
namespace {

using test::mm;

/// One key and, in the order of the enumerators, its words; `set` makes a build hold one.
struct Words {
  std::string key;
  std::vector<std::string> words;
  std::function<void(Build&, int)> set;
};

template <class Kind> Kind& kind_of(Build& build, const char* id) {
  return std::get<Kind>(std::ranges::find(build.machines, MachineId{id}, &Machine::id)->kind);
}
machine::GearedCompressor& compressor_of(Build& build) {
  return kind_of<machine::GearedCompressor>(build, "compressor");
}

/// Changes the first piece of the first run.
void change_piece(Build& build, const std::function<void(Piece&)>& change) {
  const PieceRef first{build.options[0].id, build.options[0].runs[0]->id, 0};
  Piece piece = *find(build, first);
  change(piece);
  build = with_piece_replaced(build, first, piece);
}

const std::vector<Words>& all_words() {
  static const std::vector<Words> all{
      {"state",
       {"clean", "dirty", "wet"},
       [](Build& b, int i) {
         kind_of<machine::Filter>(b, "filter").state = static_cast<machine::FilterState>(i);
       }},
      {"to",
       {"inlet", "open_air"},
       [](Build& b, int i) { compressor_of(b).bypass->to = static_cast<machine::BypassTo>(i); }},
      {"arrangement",
       {"counterflow", "parallel_flow", "cross_flow_unmixed", "cross_flow_min_mixed", "cross_flow_max_mixed"},
       [](Build& b, int i) {
         kind_of<machine::ChargeCooler>(b, "water_cooler").core->arrangement =
             static_cast<machine::Arrangement>(i);
       }},
      {"lining",
       {"smooth", "wire", "corrugated"},
       [](Build& b, int i) {
         change_piece(b, [&](Piece& p) { std::get<Hose>(p.shape).lining = static_cast<Lining>(i); });
       }},
      {"coefficient",
       {"engine_volumetric_efficiency", "blower_volumetric_efficiency", "blower_adiabatic_efficiency",
        "filter_drop", "cooler_drop", "cooler_effectiveness", "duct_losses"},
       [](Build& b, int i) {
         b.measured = {{static_cast<Coefficient>(i), 1.1, 0.1}};
       }},
      {"material",
       {"aluminium", "mild_steel", "stainless_steel", "silicone", "rubber", "plastic"},
       [](Build& b, int i) { change_piece(b, [&](Piece& p) { p.material = static_cast<Material>(i); }); }},
      {"mounting",
       {"engine", "body"},
       [](Build& b, int i) { b.machines[0].mounting = static_cast<Mounting>(i); }},
      {"class",
       {"fixed", "moving", "hot"},
       [](Build& b, int i) {
         b.keep_outs = {{"", static_cast<KeepOutClass>(i), std::nullopt, Sphere{{0, 0, 0}, mm(10)}}};
       }},
      {"kind",
       {"bellmouth", "flush", "projecting"},
       [](Build& b, int i) {
         b.inlet = {static_cast<OpenInlet::Kind>(i), i == 0 ? mm(15) : 0.0};
       }},
  };
  return all;
}

TEST(Words, AreWrittenAndReadAsWhatTheyMean) {
  for (const Words& entry : all_words())
    for (std::size_t i = 0; i < entry.words.size(); ++i) {
      SCOPED_TRACE(entry.key + " " + entry.words[i]);
      Build build = test::geared_build();
      entry.set(build, static_cast<int>(i));
      ASSERT_EQ(validate(build), std::nullopt) << validate(build)->text();
      const std::string text = write_build(build);
      const auto read = read_build(text);
      ASSERT_TRUE(read.has_value()) << read.error().text();
      EXPECT_EQ(*read, build);
      // Words that mean what holds where nothing is said are left out.
      const bool left_out = (entry.key == "lining" && i == 0) || (entry.key == "state" && i == 1);
      EXPECT_EQ(text.find(fmt::format(R"("{}": "{}")", entry.key, entry.words[i])) == std::string::npos,
                left_out);
    }
}

/// Changes the one place of a text where `old` stands.
std::string replaced(std::string text, const std::string& old, const std::string& by) {
  const std::size_t at = text.find(old);
  EXPECT_NE(at, std::string::npos) << old;
  EXPECT_EQ(text.find(old, at + 1), std::string::npos) << old << " twice";
  return text.replace(at, old.size(), by);
}

// Files from before these keys were known must read as they did.
TEST(LeftOut, KeysAreNotWrittenWhereNothingIsSaid) {
  for (const Build& build : test::sample_builds()) {
    const std::string text = write_build(build);
    for (const char* key : {"wet_factor",
                            "state",
                            "screen",
                            "internal_volume_ratio",
                            "leak",
                            "map",
                            "bypass",
                            "effectiveness_table",
                            "core",
                            "loop",
                            "opening_deg",
                            "pulsation_factor",
                            "lost_in_scavenging",
                            "work_per_air_J_kg",
                            "lining",
                            "tip",
                            "lagging",
                            "branch",
                            "branches",
                            "bay"})
      EXPECT_EQ(text.find(fmt::format(R"("{}":)", key)), std::string::npos) << build.title << ": " << key;
    EXPECT_EQ(text.find(R"("measured": [)"), std::string::npos)
        << build.title; // a survey has a "measured" too
  }
}

TEST(LeftOut, KeysMeanWhatHeldBefore) {
  const auto build = load_build(test::build_tests_dir() / "small.json");
  ASSERT_TRUE(build.has_value()) << build.error().text();
  const auto& filter = std::get<machine::Filter>(build->machines[0].kind);
  EXPECT_EQ(filter.wet_factor, 1.0);
  EXPECT_EQ(filter.state, machine::FilterState::dirty);
  const auto& compressor = std::get<machine::TargetCompressor>(build->machines[1].kind);
  EXPECT_EQ(compressor.map, std::nullopt);
  EXPECT_EQ(compressor.bypass, std::nullopt);
  const auto& engine = std::get<machine::Engine>(build->demand);
  EXPECT_EQ(engine.pulsation_factor, 1.0);
  EXPECT_EQ(engine.lost_in_scavenging, 0.0);
  EXPECT_EQ(engine.work_per_air_J_kg, std::nullopt);
  const auto& pieces = build->options[0].runs[0]->pieces;
  EXPECT_EQ(std::get<Hose>(pieces[0].shape).lining, Lining::smooth);
  EXPECT_EQ(std::get<SensorBoss>(pieces[2].shape).tip, std::nullopt);
  EXPECT_EQ(pieces[0].lagging, std::nullopt);
  for (const PathStep& step : build->path)
    EXPECT_EQ(step.branch, BranchId{});
  EXPECT_TRUE(build->branches.empty());
  EXPECT_EQ(build->bay, std::nullopt);
  EXPECT_TRUE(build->measured.empty());
}

TEST(LeftOut, SayingItAnywayIsTheSame) {
  const std::string text = test::file_text(test::build_tests_dir() / "small.json");
  const auto plain = read_build(text);
  ASSERT_TRUE(plain.has_value());
  for (const auto& [old, by] : std::vector<std::pair<std::string, std::string>>{
           {R"("oiled": false)", R"("oiled": false, "wet_factor": 1, "state": "dirty")"},
           {R"("engagement_out_mm": 31)", R"("lining": "smooth", "engagement_out_mm": 31)"},
           {R"("strokes": 4)", R"("strokes": 4, "pulsation_factor": 1.0, "lost_in_scavenging": 0)"},
           {R"("budget":)", R"("branches": [], "measured": [], "budget":)"}}) {
    SCOPED_TRACE(by);
    const auto read = read_build(replaced(text, old, by));
    ASSERT_TRUE(read.has_value()) << read.error().text();
    EXPECT_EQ(*read, *plain);
    EXPECT_EQ(write_build(*read), write_build(*plain));
  }
}

} // namespace
} // namespace bellmouth::build
