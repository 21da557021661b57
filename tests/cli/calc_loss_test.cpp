// SPDX-License-Identifier: GPL-3.0-or-later
// The sums of `calc` on fittings and meters against figures from outside, through the arguments a person
// would type.
#include "prompt.hpp"
#include "support/close.hpp"
#include "support/reference.hpp"

#include <cmath>
#include <sstream>

namespace bellmouth::cli::test {
namespace {

using bellmouth::test::close;
using bellmouth::test::reference;
using bellmouth::test::Row;

void expect_banded(const nlohmann::json& found, double wanted, double relative, double absolute = 0) {
  ASSERT_TRUE(found.contains("loss_coefficient")) << found.dump();
  const double k = found["loss_coefficient"].get<double>();
  EXPECT_TRUE(close(k, wanted, relative, absolute)) << k << ' ' << wanted;
  EXPECT_LE(found["band_low"].get<double>(), k);
  EXPECT_GE(found["band_high"].get<double>(), k);
  EXPECT_FALSE(found["source"].get<std::string>().empty());
  EXPECT_FALSE(found["range"].get<std::string>().empty());
  EXPECT_TRUE(found["outside_range"] == "yes" || found["outside_range"] == "no");
}

// Published formulas (Idelchik): tees.csv, every row.
TEST(CalcLoss, GivesTheTees) {
  for (const Row& row : reference("tees.csv")) {
    SCOPED_TRACE(row.text("row_id"));
    const bool combining = row.text("flow") == "converging";
    expect_banded(calc({"tee-loss", "--direction", combining ? "combining" : "dividing", "--path",
                        row.text("path"), "--angle", row.text("angle_deg"), "--bore", "60", "--branch-bore",
                        written(60 * std::sqrt(row.number("area_ratio"))), "--share", row.text("q")}),
                  row.number("K_Idelchik"), 1e-4, 1e-4);
  }
}

// Published values: Idelchik's entries, and exits, of entrances_exits.csv.
TEST(CalcLoss, GivesEntriesAndExits) {
  int rows = 0;
  for (const Row& row : reference("entrances_exits.csv")) {
    SCOPED_TRACE(row.text("row_id"));
    const std::string& kind = row.text("kind");
    const std::string& parameter = row.text("parameter");
    if (kind == "projecting pipe") {
      ++rows;
      expect_banded(calc({"entry-loss", "--kind", "projecting", "--projection-ratio", row.text("value"),
                          "--wall-ratio", written(std::stod(parameter.substr(4)))}),
                    row.number("K"), 1e-9);
    } else if (kind == "flush bevelled" && row.text("method") == "Idelchik") {
      ++rows;
      expect_banded(
          calc({"entry-loss", "--kind", "bevelled", "--bevel-angle", written(std::stod(parameter.substr(6))),
                "--bevel-length-ratio", row.text("value")}),
          row.number("K"), 1e-6);
    } else if (kind.starts_with("exit")) {
      ++rows;
      expect_banded(calc({"exit-loss", "--profile", "turbulent", "--reynolds", "1e5"}), row.number("K"),
                    0.06);
    }
  }
  EXPECT_EQ(rows, 39);
}

// Published values: step_joints.csv (gaps of twenty step heights, plates), filters.csv and its screens at
// Reynolds number 5000 of the opening.
TEST(CalcLoss, GivesGapsAndGauze) {
  int rows = 0;
  for (const Row& row : reference("step_joints.csv")) {
    SCOPED_TRACE(row.text("row_id"));
    const std::string& kind = row.text("kind");
    const auto open = kind.find("open fraction ");
    if (kind.starts_with("gap")) {
      ++rows;
      const double length_mm = 10 * (row.number("d2_mm") - row.number("d1_mm"));
      const nlohmann::json found =
          calc({"gap-loss", "--bore", row.text("d1_mm"), "--gap-bore", row.text("d2_mm"), "--length",
                written(length_mm), "--reynolds", "1e5"});
      expect_banded(found, row.number("K"), 0,
                    0.018 * length_mm / row.number("d1_mm")); // friction of the gap
      EXPECT_GT(found["loss_coefficient"].get<double>(), row.number("K"));
    } else if (kind.starts_with("square-edged")) {
      ++rows;
      expect_banded(calc({"plate-loss", "--open-share", written(std::stod(kind.substr(open + 14)))}),
                    row.number("K"), 1e-6);
    } else if (kind.starts_with("round-wire")) {
      ++rows;
      const double share = std::stod(kind.substr(open + 14));
      const double wire_mm = 2 * (1 - std::sqrt(share));
      const nlohmann::json found = calc({"gauze-loss", "--bore", "60", "--wire", written(wire_mm), "--pitch",
                                         "2", "--reynolds", written(5000 * 60 / (2 - wire_mm))});
      expect_banded(found, row.number("K"), 0.01);
      EXPECT_TRUE(close(found["open_share"].get<double>(), share, 1e-9));
    }
  }
  EXPECT_EQ(rows, 17);
}

// Published values: the disc valve (ASHRAE Duct Fitting Database, CD9-1), angles off edge on.
TEST(CalcLoss, GivesTheThrottlePlate) {
  for (const auto& [angle_deg, k] : {std::pair{20, 1.54}, {30, 3.91}, {40, 10.8}, {50, 32.6}, {60, 118.0}})
    expect_banded(calc({"butterfly-loss", "--opening", std::to_string(90 - angle_deg),
                        "--wide-open-coefficient", "0.2"}),
                  k, 0.15);
}

// Published equations: orifices.csv, the grid of ISO 5167 plates with corner taps, flow from difference and
// back.
TEST(CalcLoss, GivesTheOrifice) {
  int rows = 0;
  for (const Row& row : reference("orifices.csv")) {
    if (row.text("kind") != "ISO 5167 orifice, corner taps")
      continue;
    ++rows;
    SCOPED_TRACE(row.text("row_id"));
    const double throat_mm = 1000 * row.number("D_m") * row.number("beta");
    const Arguments where{"orifice",
                          "--bore",
                          row.text("D_m") + " m",
                          "--pressure",
                          row.text("P1_Pa") + " Pa",
                          "--temperature",
                          row.text("T_K") + " K"};
    const auto with = [&](const Arguments& more) {
      Arguments all = where;
      all.insert(all.end(), more.begin(), more.end());
      return calc(all);
    };
    const auto there = with({"--throat", written(throat_mm), "--difference", row.text("dp_Pa") + " Pa"});
    const double flow = there["mass_flow_kg_s"].get<double>();
    EXPECT_TRUE(close(flow, row.number("value"), 1e-3)) << flow; // gamma of the air there 1.4
    EXPECT_LT(there["mass_flow_low_kg_s"].get<double>(), flow);
    EXPECT_GT(there["mass_flow_high_kg_s"].get<double>(), flow);
    const auto back = with({"--throat", written(throat_mm), "--flow", written(flow) + " kg/s"});
    EXPECT_TRUE(close(back["differential_pressure_Pa"].get<double>(), row.number("dp_Pa"), 1e-9));
    const auto sized = with({"--flow", written(flow) + " kg/s", "--difference", row.text("dp_Pa") + " Pa"});
    EXPECT_TRUE(close(sized["throat_diameter_mm"].get<double>(), throat_mm, 1e-6));
  }
  EXPECT_EQ(rows, 36);
}

// Identity: two bends far apart are the sum of the two; a bend of mitres of one joint is a mitre; the rest of
// the sums answer with a band.
TEST(CalcLoss, AnswersEverySum) {
  const auto bend =
      calc({"bend-loss", "--angle", "90", "--radius-ratio", "1.5", "--reynolds", "1e5"})["loss_coefficient"];
  expect_banded(calc({"bend-pair-loss", "--spacing-ratio", "30", "--twist", "0", "--first-angle", "90",
                      "--first-radius-ratio", "1.5", "--second-angle", "90", "--second-radius-ratio", "1.5",
                      "--reynolds", "1e5"}),
                2 * bend.get<double>(), 1e-9);
  const auto near = calc({"bend-pair-loss", "--spacing-ratio", "1", "--twist", "180", "--first-angle", "90",
                          "--first-radius-ratio", "1.5", "--second-angle", "90", "--second-radius-ratio",
                          "1.5", "--reynolds", "1e5"});
  EXPECT_TRUE(close(near["loss_coefficient"].get<double>(),
                    2 * bend.get<double>() * near["interaction_factor"].get<double>(), 1e-9));
  const auto mitre = calc({"mitre-loss", "--angle", "60"})["loss_coefficient"].get<double>();
  expect_banded(
      calc({"segmented-loss", "--angle", "60", "--radius-ratio", "1.5", "--bore", "60", "--joints", "1"}),
      mitre, 1e-9);
  const std::vector<Arguments> others{
      {"pleated-loss", "--angle", "90", "--bore", "60"},
      {"hump-loss", "--bore", "60", "--hump-bore", "75", "--length", "30", "--reynolds", "1e5"},
      {"hose-loss", "--kind", "corrugated", "--length", "300", "--bore", "60", "--reynolds", "1e5"},
      {"hose-loss", "--kind", "wire", "--length", "300", "--bore", "60", "--pitch", "10", "--depth", "0.8",
       "--reynolds", "1e5"},
      {"probe-loss", "--bore", "60", "--diameter", "10", "--depth", "20"},
      {"side-hole-loss", "--bore", "60", "--hole", "25"},
      {"step-loss", "--from", "60", "--to", "50", "--edge-radius", "3"},
      {"cone-loss", "--from", "50", "--to", "60", "--length", "50", "--reynolds", "1e5", "--behind-bend",
       "2"},
      {"wye-loss", "--direction", "combining", "--angle", "45", "--bore", "60", "--leg-bore", "42", "--share",
       "0.5"}};
  for (const Arguments& arguments : others) {
    SCOPED_TRACE(arguments.front());
    const auto found = calc(arguments);
    expect_banded(found, found["loss_coefficient"].get<double>(), 1e-12);
  }
}

// A law asked below its least Reynolds number says so.
TEST(CalcLoss, SaysWhenOutsideTheRange) {
  const Arguments gauze{"gauze-loss", "--bore", "60", "--wire", "0.5", "--pitch", "2", "--reynolds"};
  for (const auto& [reynolds, outside] : {std::pair{"1e5", "no"}, {"500", "yes"}}) {
    Arguments all = gauze;
    all.emplace_back(reynolds);
    EXPECT_EQ(calc(all)["outside_range"], outside);
  }
  EXPECT_EQ(calc({"butterfly-loss", "--opening", "10", "--wide-open-coefficient", "0.2"})["outside_range"],
            "yes");
}

struct Wrong {
  Arguments arguments;
  std::vector<std::string> said;
};

// Wrong input: where, what was found, what is accepted; exit 2, or 4 where no solution is.
TEST(CalcLoss, RefusesWhatCannotBe) {
  const std::vector<Wrong> cases{
      {{"gap-loss", "--bore", "60", "--gap-bore", "55", "--length", "5", "--reynolds", "1e5"},
       {"--gap-bore", "55", "at least the bore, 60"}},
      {{"gauze-loss", "--bore", "60", "--wire", "0.5", "--pitch", "0.4", "--reynolds", "1e5"},
       {"--pitch", "more than the wire"}},
      {{"hose-loss", "--kind", "wire", "--length", "300", "--bore", "60", "--pitch", "10", "--reynolds",
        "1e5"},
       {"--depth", "ridge"}},
      {{"hose-loss", "--kind", "corrugated", "--length", "300", "--bore", "60", "--depth", "3", "--reynolds",
        "1e5"},
       {"--pitch"}},
      {{"butterfly-loss", "--opening", "0", "--wide-open-coefficient", "0.2"}, {"--opening", "at least 1"}},
      {{"probe-loss", "--bore", "60", "--diameter", "10", "--depth", "70"}, {"--depth", "at most the bore"}},
      {{"probe-loss", "--bore", "60", "--diameter", "40", "--depth", "10"}, {"--diameter", "half the bore"}},
      {{"side-hole-loss", "--bore", "60", "--hole", "61"}, {"--hole", "at most the bore"}},
      {{"step-loss", "--from", "50", "--to", "60", "--edge-radius", "3"}, {"--edge-radius", "narrows"}},
      {{"cone-loss", "--from", "60", "--to", "50", "--length", "50", "--reynolds", "1e5", "--behind-bend",
        "2"},
       {"--behind-bend", "widens"}},
      {{"entry-loss", "--kind", "flush", "--wall-ratio", "0.02"}, {"--wall-ratio", "projecting"}},
      {{"entry-loss", "--kind", "bevelled", "--bevel-angle", "45"}, {"--bevel-length-ratio", "nothing"}},
      {{"exit-loss", "--profile", "turbulent"}, {"--reynolds", "nothing"}},
      {{"tee-loss", "--direction", "combining", "--path", "branch", "--angle", "90", "--bore", "60",
        "--branch-bore", "60", "--share", "1.2"},
       {"--share", "at most 1"}},
      {{"orifice", "--bore", "60", "--pressure", "100", "--temperature", "20", "--throat", "30"},
       {"two of --throat, --difference and --flow"}},
      {{"orifice", "--bore", "60", "--pressure", "100", "--temperature", "20", "--throat", "60", "--flow",
        "0.1"},
       {"--throat", "less than the bore"}},
      {{"orifice", "--bore", "60", "--pressure", "100", "--temperature", "20", "--throat", "30",
        "--difference", "60"},
       {"--difference", "less than half"}}};
  for (const Wrong& wrong : cases) {
    const Said said = say(calc_arguments(wrong.arguments));
    EXPECT_EQ(said.exit, 2) << wrong.arguments.front() << said.err;
    for (const std::string& part : wrong.said)
      EXPECT_TRUE(holds(said.err, part)) << part << " in: " << said.err;
  }
  const Said none = say({"calc", "orifice", "--bore", "60", "--pressure", "100", "--temperature", "20",
                         "--throat", "10", "--flow", "1"});
  EXPECT_EQ(none.exit, 4);
  EXPECT_TRUE(holds(none.err, "no difference")) << none.err;
  const Said no_throat = say({"calc", "orifice", "--bore", "60", "--pressure", "100", "--temperature", "20",
                              "--difference", "1", "--flow", "5"});
  EXPECT_EQ(no_throat.exit, 4);
}

// Closed form: the same loss on the leg's own velocity, K / (V leg / V combined)^2.
TEST(CalcLoss, SaysATeesLossOnTheLegsOwnVelocity) {
  const auto branch = calc({"tee-loss", "--direction", "dividing", "--path", "branch", "--angle", "90",
                            "--bore", "60", "--branch-bore", "45", "--share", "0.4"});
  const double velocities = 0.4 * (60.0 / 45) * (60.0 / 45);
  EXPECT_TRUE(close(branch["loss_coefficient_on_own_velocity"].get<double>(),
                    branch["loss_coefficient"].get<double>() / (velocities * velocities), 1e-12));
  const auto still = calc({"tee-loss", "--direction", "dividing", "--path", "branch", "--angle", "90",
                           "--bore", "60", "--branch-bore", "45", "--share", "0"});
  EXPECT_TRUE(still["loss_coefficient_on_own_velocity"].is_null());
}

} // namespace
} // namespace bellmouth::cli::test
