// SPDX-License-Identifier: GPL-3.0-or-later
// Rules and thresholds listed, findings that are waived, and the sums of clamps and hoses.
#include "command_folder.hpp"
#include "prompt.hpp"
#include "support/close.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/check.hpp>
#include <bellmouth/evaluate.hpp>
#include <bellmouth/trade.hpp>

#include <cmath>
#include <numbers>
#include <optional>
#include <string>
#include <string_view>

namespace bellmouth::cli::test {
namespace {

using bellmouth::test::close;
using nlohmann::json;

using TradePrompt = CommandFolder;

TEST_F(TradePrompt, RulesListsEachRule) {
  const json found = results({"rules"})["rules"];
  ASSERT_EQ(found.size(), check::rules().size());
  for (std::size_t i = 0; i < found.size(); ++i) {
    EXPECT_EQ(found[i]["rule"], check::rules()[i].key);
    EXPECT_EQ(found[i]["severity"], check::text(check::rules()[i].severity));
    EXPECT_EQ(found[i]["basis"], check::rules()[i].basis);
  }
  EXPECT_TRUE(holds(say({"rules"}).out, "hose-loose: "));
}

TEST_F(TradePrompt, ThresholdsListsTheTradesFiguresAndTheBuilds) {
  const auto of = [](const json& all, std::string_view key) {
    for (const json& each : all["thresholds"])
      if (each["key"] == key)
        return each;
    return json();
  };
  const json usual = results({"thresholds"});
  ASSERT_EQ(usual["thresholds"].size(), trade::thresholds().size());
  EXPECT_EQ(of(usual, "kerf_mm")["value"], 2.5);
  EXPECT_EQ(of(usual, "kerf_mm")["unit"], "mm");
  EXPECT_EQ(of(usual, "kerf_mm")["source"], "common practice, no source found");

  build::Build build = bellmouth::test::sample_build();
  build.thresholds = {{"kerf_mm", 1.5}};
  const std::string file = file_of(build);
  const json changed = results({"thresholds", file});
  EXPECT_EQ(of(changed, "kerf_mm")["value"], 1.5);
  EXPECT_EQ(of(changed, "kerf_mm")["trade_value"], 2.5);
  EXPECT_EQ(of(changed, "hose_margin_K")["value"], of(usual, "hose_margin_K")["value"]);
  EXPECT_TRUE(holds(say({"thresholds", file}).out, "kerf_mm = 1.5 mm, changed from 2.5"));

  const Said missing = say({"thresholds", (folder / "none.json").string()});
  EXPECT_EQ(missing.exit, 3);
  EXPECT_TRUE(holds(missing.err, "none.json")) << missing.err;
}

// Identity: what is waived stays listed with the user's reason, and no longer counts.
TEST_F(TradePrompt, CheckDoesNotCountWhatIsWaived) {
  build::Build build = bellmouth::test::sample_build();
  const build::OptionId option = build.options.front().id;
  const auto stops_left = [&] {
    const auto all = evaluate(build, option).findings;
    for (const check::Finding& finding : all)
      if (finding.severity == check::Severity::stop && !finding.waived)
        return std::optional(finding);
    return std::optional<check::Finding>();
  };
  ASSERT_TRUE(stops_left());
  EXPECT_EQ(say({"check", file_of(build)}).exit, 1);
  std::size_t waived = 0;
  while (const auto stop = stops_left()) {
    const std::string rule(stop->rule);
    build = stop->where.piece ? build::with_waiver(build, *stop->where.piece, rule, "seen to")
                              : build::with_waiver(build, stop->where.machine, rule, "seen to");
    ASSERT_LT(++waived, 50U);
  }
  const std::string file = file_of(build);
  const json found = results({"check", file}, 0);
  EXPECT_EQ(found["counts"]["stop"], 0);
  EXPECT_GE(found["counts"]["waived"], waived);
  std::size_t reasons = 0;
  for (const json& finding : found["findings"])
    reasons += finding["waived"] == "seen to" ? 1 : 0;
  EXPECT_EQ(found["counts"]["waived"], reasons);
  const Said said = say({"check", file});
  EXPECT_EQ(said.exit, 0);
  EXPECT_TRUE(holds(said.out, "waived: seen to")) << said.out;
  EXPECT_TRUE(holds(said.out, "no stops"));
}

// Closed form: torque / (0.2 x 8 mm), a quarter of it, friction 0.05.
TEST_F(TradePrompt, JointHoldIsThatOfTheBand) {
  const json plain = calc({"joint-hold", "--type", "worm", "--torque", "4 N m"});
  EXPECT_TRUE(close(plain["band_tension_N"].get<double>(), 2500, 1e-9));
  EXPECT_TRUE(close(plain["held_low_N"].get<double>(), 2 * std::numbers::pi * 625 * 0.05, 1e-9));
  const json beaded = calc({"joint-hold", "--type", "worm", "--torque", "4 N m", "--bead"});
  EXPECT_GT(beaded["held_low_N"], plain["held_low_N"]);
  EXPECT_EQ(calc({"joint-hold", "--type", "worm", "--band", "7.5 mm"})["torque_Nm"], 1.4);
  const Said wrong = say(calc_arguments({"joint-hold", "--type", "wire"}));
  EXPECT_EQ(wrong.exit, 2);
  EXPECT_TRUE(holds(wrong.err, "round-bolt")) << wrong.err;
}

// Closed form: a long hose folds at 2 E / (1 - 0.25) (t / D)^3, D = bore + wall, E 3 and 10 MPa.
TEST_F(TradePrompt, HoseCollapseIsThatOfAThinTube) {
  const json found = calc({"hose-collapse", "--bore", "76 mm", "--wall", "4 mm", "--length", "50 m"});
  EXPECT_TRUE(close(found["collapse_low_Pa"].get<double>(), 2 * 3e6 / 0.75 * std::pow(0.05, 3), 1e-9));
  EXPECT_TRUE(close(found["collapse_high_Pa"].get<double>(), 2 * 10e6 / 0.75 * std::pow(0.05, 3), 1e-9));
  const json held = calc({"hose-collapse", "--bore", "76 mm", "--wall", "4 mm", "--length", "5 mm"});
  EXPECT_TRUE(held["collapse_low_Pa"].is_null());
}

} // namespace
} // namespace bellmouth::cli::test
