// SPDX-License-Identifier: GPL-3.0-or-later
// The sums of heat against worked problems of textbooks; the sources are those of
// tests/core/flow/heat_test.cpp.
#include "prompt.hpp"
#include "support/close.hpp"

namespace bellmouth::cli::test {
namespace {

using bellmouth::test::close;

// Published value (another method: Dittus & Boelter, inside the band of 10 %): Incropera et al., example 8.6,
// hot air in a duct, 304.3 W/m2 over 26.3 K.
TEST(CalcHeat, GivesTheInsideFilmOfADuctOfHotAir) {
  const auto found = results({"calc", "inside-film", "--flow", "0.05", "--bore", "150", "--length", "5 m",
                              "--temperature", "77 °C"});
  EXPECT_TRUE(close(found["reynolds"].get<double>(), 20384, 0.005));
  EXPECT_TRUE(close(found["film_W_m2K"].get<double>(), 304.3 / 26.3, 0.10));
}

// Published value: Incropera et al., example 9.4, 763 W to a metre of horizontal steam pipe.
TEST(CalcHeat, GivesTheOutsideFilmOfASteamPipe) {
  const auto found = results({"calc", "outside-film", "--od", "100", "--surface-temperature", "165 °C",
                              "--bay-temperature", "23 °C", "--emissivity", "0.85"});
  EXPECT_TRUE(close(found["film_W_m2K"].get<double>(), 763 / (3.14159265 * 0.1 * 142), 0.01));
  EXPECT_EQ(found["outside_range"], "no");
}

const Arguments hose{
    "calc",        "pipe-heat", "--bore", "60",   "--wall",        "5",  "--length",          "400",
    "--material",  "silicone",  "--flow", "0.08", "--temperature", "30", "--bay-temperature", "80",
    "--air-speed", "3"};

Arguments with(Arguments arguments, const Arguments& more) {
  arguments.insert(arguments.end(), more.begin(), more.end());
  return arguments;
}

// Identity: heat is what the rise of the stream says (cp of air at 300 K: 1007 +-0.3 %, air.csv AR166ff),
// inside its band.
TEST(CalcHeat, BalancesThePipe) {
  const auto found = results(hose);
  const double rise_K = found["outlet_temperature_K"].get<double>() - 303.15;
  EXPECT_GT(rise_K, 0);
  EXPECT_TRUE(close(found["heat_W"].get<double>(), 0.08 * 1007 * rise_K, 3e-3));
  EXPECT_LT(found["band_low_W"].get<double>(), found["heat_W"].get<double>());
  EXPECT_GT(found["band_high_W"].get<double>(), found["heat_W"].get<double>());
  EXPECT_LT(
      results(with(hose, {"--lagging", "10", "--lagging-conductivity", "0.04"}))["heat_W"].get<double>(),
      found["heat_W"].get<double>());
}

TEST(CalcHeat, RefusesLaggingOfUnknownConductivity) {
  const Said said = say(with(hose, {"--lagging", "10"}));
  EXPECT_EQ(said.exit, 2);
  EXPECT_TRUE(holds(said.err, "--lagging-conductivity")) << said.err;
}

TEST(CalcHeat, TakesStillAir) {
  Arguments still = hose;
  still[11] = "0";
  const auto found = results(still);
  EXPECT_EQ(found["heat_W"].get<double>(), 0);
  EXPECT_TRUE(close(found["outlet_temperature_K"].get<double>(), 353.15, 1e-12));
  EXPECT_GT(found["conductance_W_K"].get<double>(), 0);
}

TEST(CalcHeat, TellsPeopleTheUnits) {
  const Said said = say(hose);
  EXPECT_EQ(said.exit, 0) << said.err;
  for (const char* unit : {" W\n", "W/K", "W/(m2 K)"})
    EXPECT_TRUE(holds(said.out, unit)) << said.out;
}

} // namespace
} // namespace bellmouth::cli::test
