// SPDX-License-Identifier: GPL-3.0-or-later
// Wrong usage: exit code 2, and one complaint that says where, what was found and what is accepted.
#include "prompt.hpp"

namespace bellmouth::cli::test {
namespace {

struct Wrong {
  const char* name;
  Arguments arguments;
  int exit;
  std::vector<std::string> parts; ///< of the complaint
};

void PrintTo(const Wrong& wrong, std::ostream* out) {
  *out << wrong.name;
}

class WrongUsage : public ::testing::TestWithParam<Wrong> {};

TEST_P(WrongUsage, IsSaidClearly) {
  const Said said = say(GetParam().arguments);
  EXPECT_EQ(said.exit, GetParam().exit);
  EXPECT_EQ(said.out, "");
  for (const std::string& part : GetParam().parts)
    EXPECT_TRUE(holds(said.err, part)) << part << " in: " << said.err;
  EXPECT_TRUE(said.err.ends_with('\n'));
}

INSTANTIATE_TEST_SUITE_P(
    Commands, WrongUsage,
    ::testing::Values(
        Wrong{"nothing",
              {},
              2,
              {"found nothing",
               "accepted: evaluate, sweep, check, rules, thresholds, lists, buy, stock, compare, size, join, "
               "mend, place, clearance, meet, route, scan, fit, calc"}},
        Wrong{"a command that is not there",
              {"frobnicate", "x.json"},
              2,
              {"\"frobnicate\"", "accepted: evaluate"}},
        Wrong{"no build", {"evaluate"}, 2, {"bellmouth-cli evaluate", "BUILD is required"}},
        Wrong{"an unknown option",
              {"check", "x.json", "--colour"},
              2,
              {"\"--colour\"", "accepted:", "--option"}},
        Wrong{"one option to compare", {"compare", "x.json", "--options", "a"}, 2, {"--options"}},
        Wrong{"no run to size", {"size", "x.json"}, 2, {"--run is required"}},
        Wrong{"no run to meet its port", {"meet", "x.json"}, 2, {"--run is required"}},
        Wrong{"no file to route", {"route"}, 2, {"FILE is required"}},
        Wrong{"no log to fit", {"fit", "x.json"}, 2, {"LOG is required"}},
        Wrong{"no sum", {"calc"}, 2, {"found nothing", "friction-factor", "thread"}},
        Wrong{"a sum that is not there", {"calc", "luck"}, 2, {"\"luck\"", "friction-factor"}}));

INSTANTIATE_TEST_SUITE_P(
    Quantities, WrongUsage,
    ::testing::Values(
        Wrong{"a missing argument", {"calc", "atmosphere"}, 2, {"calc atmosphere", "--altitude is required"}},
        Wrong{"a unit of something else",
              {"calc", "mitre-loss", "--angle", "30 mm"},
              2,
              {"mitre-loss", "--angle", "column 4", "\"mm\"", "a unit of angle"}},
        Wrong{"no number", {"calc", "mitre-loss", "--angle", "steep"}, 2, {"--angle", "steep", "accepted"}},
        Wrong{"empty text", {"calc", "mitre-loss", "--angle", ""}, 2, {"--angle", "found nothing"}},
        Wrong{"an unknown unit",
              {"calc", "clamp", "--od", "3 furlong", "--wall", "4"},
              2,
              {"--od", "furlong", "mm"}},
        Wrong{"below the range",
              {"calc", "fanno", "--mach", "0"},
              2,
              {"--mach", "\"0\"", "more than 0", "at most 10"}},
        Wrong{"above the range", {"calc", "atmosphere", "--altitude", "12 000 m"}, 2, {"--altitude"}},
        Wrong{"too high",
              {"calc", "atmosphere", "--altitude", "12000"},
              2,
              {"\"12000\"", "at least -2000 m, at most 11000 m"}},
        Wrong{"a negative number",
              {"calc", "clamp", "--od", "-3", "--wall", "4"},
              2,
              {"--od", "\"-3\"", "more than 0 mm"}},
        Wrong{"absolute pressure where gauge is meant",
              {"calc", "joint-thrust", "--bore", "60", "--pressure", "1 bar abs"},
              2,
              {"--pressure", "abs", "gauge"}},
        Wrong{"half a joint",
              {"calc", "wedge", "--od", "60", "--radius", "90", "--angle", "90", "--joints", "2.5"},
              2,
              {"--joints", "\"2.5\"", "a whole number from 1 to 100"}},
        Wrong{"a radius inside the tube",
              {"calc", "wedge", "--od", "60", "--radius", "20", "--angle", "90", "--joints", "2"},
              2,
              {"--radius", "20 mm", "at least half the outside diameter, 30 mm"}},
        Wrong{"pulleys that overlap",
              {"calc", "belt", "--large", "200", "--small", "100", "--centres", "120"},
              2,
              {"--centres", "120 mm", "at least 150 mm"}},
        Wrong{"the pulleys the wrong way",
              {"calc", "belt", "--large", "100", "--small", "200", "--centres", "400"},
              2,
              {"--small", "200 mm"}},
        Wrong{"a word that is no choice",
              {"calc", "cooler", "--ntu", "1", "--capacity-ratio", "0.5", "--arrangement", "sideways"},
              2,
              {"--arrangement", "sideways", "counterflow, parallel-flow"}},
        Wrong{"a lip on a sharp entry",
              {"calc", "entry-loss", "--kind", "flush", "--radius-ratio", "0.1"},
              2,
              {"--radius-ratio"}},
        Wrong{"a bellmouth without a lip",
              {"calc", "entry-loss", "--kind", "bellmouth"},
              2,
              {"--radius-ratio"}},
        Wrong{"a thread that is not there",
              {"calc", "thread", "--name", "M12"},
              2,
              {"--name", "\"M12\"", "M12x1.5", "1/8 NPT"}},
        Wrong{"two ways to say the flow",
              {"calc", "mass-flow", "--mach", "0.3", "--function", "0.2"},
              2,
              {"one of --mach, --function, --flow"}},
        Wrong{"half a state",
              {"calc", "mass-flow", "--flow", "0.1", "--bore", "60"},
              2,
              {"--bore, --pressure and --temperature"}},
        Wrong{"moist air too hot",
              {"calc", "air", "--temperature", "300", "--pressure", "100", "--relative-humidity", "0.5"},
              2,
              {"--temperature", "300 °C", "-100 °C to 200 °C"}},
        Wrong{"more vapour than air",
              {"calc", "air", "--temperature", "99", "--pressure", "100", "--relative-humidity", "90 %"},
              2,
              {"--relative-humidity", "90 %"}}));

INSTANTIATE_TEST_SUITE_P(Choking, WrongUsage,
                         ::testing::Values(Wrong{"more than the bore passes",
                                                 {"calc", "mass-flow", "--flow", "5", "--bore", "60",
                                                  "--pressure", "100", "--temperature", "20"},
                                                 4,
                                                 {"chokes", "5 kg/s", "at most 0.667407 kg/s"}},
                                           Wrong{"a function above its top",
                                                 {"calc", "mass-flow", "--function", "0.7"},
                                                 4,
                                                 {"chokes", "0.7", "0.684731"}},
                                           Wrong{"a result beyond all numbers",
                                                 {"calc", "fanno", "--mach", "1e-300"},
                                                 4,
                                                 {"fanno parameter", "too large"}},
                                           Wrong{"faster than sound",
                                                 {"calc", "velocity", "--flow", "2", "--bore", "60",
                                                  "--pressure", "100", "--temperature", "20"},
                                                 4,
                                                 {"chokes", "2 kg/s"}}));

TEST(Help, IsThereForEveryCommandAndSum) {
  const Said whole = say({"--help"});
  EXPECT_EQ(whole.exit, 0);
  EXPECT_EQ(whole.err, "");
  for (const char* command :
       {"evaluate", "sweep", "check", "lists", "stock", "compare", "size", "route", "fit", "calc"}) {
    EXPECT_TRUE(holds(whole.out, command)) << whole.out;
    const Said said = say({command, "--help"});
    EXPECT_EQ(said.exit, 0);
    EXPECT_TRUE(holds(said.out, std::string("Usage: bellmouth-cli ") + command)) << said.out;
  }
  const Said calc = say({"calc", "--help"});
  for (const char* sum :
       {"friction-factor", "bend-loss",      "mitre-loss",     "cone-loss",    "step-loss",      "entry-loss",
        "isentropic",      "fanno",          "mass-flow",      "air",          "atmosphere",     "velocity",
        "blower-outlet",   "lobe-blower",    "cooler",         "joint-thrust", "belt",           "wedge",
        "clamp",           "thread",         "bend-pair-loss", "pleated-loss", "segmented-loss", "exit-loss",
        "gap-loss",        "hump-loss",      "hose-loss",      "gauze-loss",   "plate-loss",     "probe-loss",
        "side-hole-loss",  "butterfly-loss", "tee-loss",       "wye-loss",     "orifice",        "rayleigh",
        "isothermal",      "dew-point"}) {
    EXPECT_TRUE(holds(calc.out, std::string("  ") + sum)) << calc.out;
    const Said said = say({"calc", sum, "--help"});
    EXPECT_EQ(said.exit, 0);
    EXPECT_TRUE(holds(said.out, std::string("Usage: bellmouth-cli calc ") + sum)) << said.out;
    EXPECT_TRUE(holds(said.out, "--json")) << said.out;
  }
}

TEST(Help, NamesTheUnitOfABareNumber) {
  const Said said = say({"calc", "velocity", "--help"});
  for (const char* part : {"--bore mm REQUIRED", "--pressure kPa REQUIRED", "--temperature degC REQUIRED"})
    EXPECT_TRUE(holds(said.out, part)) << part << " in: " << said.out;
}

TEST(Usage, SaysItsVersion) {
  const auto said = say({"--version"});
  EXPECT_EQ(said.exit, 0);
  EXPECT_NE(said.out.find("bellmouth-cli "), std::string::npos);
}

} // namespace
} // namespace bellmouth::cli::test
