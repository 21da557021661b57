// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/close.hpp"

#include <bellmouth/quantity.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <clocale>
#include <cmath>
#include <locale>
#include <numbers>
#include <random>

namespace bellmouth::quantity {
namespace {

using enum Dimension;
using test::close;
using ::testing::PrintToString;

constexpr double in = 0.0254;
constexpr double psi = 6894.757293168361; // NIST SP 811: lbf/in2
constexpr double deg = std::numbers::pi / 180;

struct Right {
  Dimension dimension;
  std::string_view text;
  double value_si;
};

struct Wrong {
  Dimension dimension;
  std::string_view text;
  int column;
  std::string_view found;    ///< the whole of it
  std::string_view accepted; ///< a part of it
};

void expect(const Right& row, const Reading& reading = {}) {
  const auto value = read(row.dimension, row.text, reading);
  ASSERT_TRUE(value) << row.text << ": " << value.error().text();
  EXPECT_TRUE(close(*value, row.value_si, 1e-15, 1e-13 * (row.dimension == temperature))) << row.text;
}

void expect(const Wrong& row, const Reading& reading = {}) {
  const auto value = read(row.dimension, row.text, reading);
  ASSERT_FALSE(value) << row.text << " read as " << *value;
  const Error& error = value.error();
  EXPECT_EQ(error.place.column, row.column) << row.text << ": " << error.text();
  EXPECT_EQ(error.found, row.found) << row.text;
  EXPECT_NE(error.accepted.find(row.accepted), std::string::npos) << row.text << ": " << error.text();
  EXPECT_EQ(error.line, row.text);
}

// Closed form: each value is worked out beside its text from the definitions of the units.
TEST(Read, TakesDecimalsFractionsAndMixedNumbers) {
  const Right rows[] = {
      {length, "57mm", 0.057},
      {length, "57 mm", 0.057},
      {length, "  57\tmm  ", 0.057},
      {length, "57\u00a0mm", 0.057},
      {length, "57\u2009mm", 0.057},
      {length, "57\u202fmm\u00a0", 0.057},
      {length, "2 1/4 in", 2.25 * in},
      {length, "2.25\"", 2.25 * in},
      {length, "2-1/4\"", 2.25 * in},
      {length, "2-1/4 in", 2.25 * in},
      {length, "1/2 in", 0.5 * in},
      {length, "-1/2 in", -0.5 * in},
      {length, "-2 1/4 in", -2.25 * in},
      {length, "-2-1/4 in", -2.25 * in},
      {length, "\u22122 1/4 in", -2.25 * in},
      {length, "5/4 in", 1.25 * in},
      {length, "½ in", 0.5 * in},
      {length, "2¼\"", 2.25 * in},
      {length, "2 ¼ ″", 2.25 * in},
      {length, "2-¾\"", 2.75 * in},
      {length, "-⅞ in", -0.875 * in},
      {length, "1⅓ ft", 4.0 / 3 * 0.3048},
      {length, "1 1⁄2 in", 1.5 * in},
      {length, "3 11/64 in", (3 + 11.0 / 64) * in},
      {length, "2\u00a01/4 in", 2.25 * in},
      {length, "2\u00a0125/1000 in", 2.125 * in},
      {length, "1e-3 m", 1e-3},
      {length, "1E+3mm", 1},
      {length, ".5 in", 0.5 * in},
      {length, "+.5 in", 0.5 * in},
      {length, "-0 mm", -0.0},
      {length, "0000057 mm", 0.057},
      {length, "1\u2009250 mm", 1.25},
      {length, "12\u00a0000\u00a0000.5 mm", 12000.0005},
      {rotational_speed, "12\u202f000 rpm", 200},
      {rotational_speed, "3000 1/min", 50},
  };
  for (const Right& row : rows)
    expect(row);
}

// Closed form, as above.
TEST(Read, TakesEveryDimension) {
  const Right rows[] = {
      {area, "1 in²", in * in},
      {volume, "1.6 L", 1.6e-3},
      {volume, "122 ci", 122 * in * in * in},
      {angle, "90 deg", 90 * deg},
      {angle, "90°", 90 * deg},
      {angle, "22 1/2°", 22.5 * deg},
      {pressure, "101.3 kPa abs", 101300},
      {pressure, "29.92 inHg", 29.92 * 25.4 * 133.322387415},
      {temperature, "20 C", 293.15},
      {temperature, "20 °C", 293.15},
      {temperature, "-5 C", 268.15},
      {temperature, "68 F", 293.15},
      {temperature, "68°F", 293.15},
      {temperature, "300 K", 300},
      {temperature, "-273.15 C", 0},
      {temperature, "-459.67 F", 0},
      {temperature, "0 K", 0},
      {temperature, "-40 F", 233.15},
      {temperature_difference, "20 C", 20},
      {temperature_difference, "9 F", 5},
      {temperature_difference, "-300 K", -300},
      {mass_flow, "0.09 kg/s", 0.09},
      {mass_flow, "12 lb/min", 12 * 0.45359237 / 60},
      {volume_flow, "180 cfm", 180 * 0.028316846592 / 60},
      {velocity, "100 km/h", 1000.0 / 36},
      {rotational_speed, "6000 rpm", 100},
      {force, "10 lbf", 44.482216152605},
      {power, "1 hp", 745.69987158227022},
      {density, "1.2 kg/m3", 1.2},
      {viscosity, "18.2 µPa s", 18.2e-6},
      {mass, "2 lb", 0.90718474},
      {torque, "7 N m", 7},
      {torque, "12 lb in", 4.4482216152605 * 0.3048},
      {ratio, "0.7", 0.7},
      {ratio, "70 %", 0.7},
      {ratio, "70%", 0.7},
      {ratio, "3/4", 0.75},
  };
  for (const Right& row : rows)
    expect(row);
}

TEST(Read, RefusesWhatIsNotANumber) {
  const Wrong rows[] = {
      {length, "", 1, "nothing", "a unit of length (m, mm, cm, µm, in, ft)"},
      {length, "   ", 4, "nothing", "a number"},
      {length, "mm", 1, "\"mm\"", "a number with a unit of length"},
      {length, "- 5 mm", 1, "\"- 5 mm\"", "a number with"},
      {length, "--5 mm", 1, "\"--5 mm\"", "a number with"},
      {length, "nan mm", 1, "\"nan mm\"", "a number"},
      {length, "inf", 1, "\"inf\"", "a number"},
      {length, "0x10 mm", 2, "\"x10 mm\"", "a unit of length"},
      {length, "1e999 mm", 1, "\"1e999\"", "1e308"},
      {length, "-1e-999 mm", 2, "\"1e-999\"", "1e-307"},
      {length, "1/0 in", 3, "\"0\"", "other than zero"},
      {length, "2 1/0 in", 5, "\"0\"", "other than zero"},
      {length, "2 5/4 in", 3, "\"5/4\"", "smaller than one"},
      {length, "2 4/4 in", 3, "\"4/4\"", "smaller than one"},
      {length, "1/2/3 in", 4, "\"/3 in\"", "a fraction of whole numbers"},
      {length, "1.5/2 in", 4, "\"/2 in\"", "a fraction of whole numbers"},
      {length, "2.5 1/4 in", 5, "\"1/4 in\"", "one number"},
      {length, "2 - 1/4 in", 3, "\"- 1/4 in\"", "one number"},
      {length, "5-3 mm", 2, "\"-3 mm\"", "one number"},
      {length, "57 58 mm", 4, "\"58 mm\"", "one number"},
      {length, "1 250 mm", 3, "\"250 mm\"", "one number"},
      {length, "12\u00a00000 mm", 5, "\"0000 mm\"", "one number"},
      {length, "1½½ in", 4, "\"½ in\"", "one number"},
      {length, "1,250 mm", 2, "\",\"", "'.' as the decimal sign and no sign between thousands"},
      {length, "1,5 mm", 2, "\",\"", "'.' as the decimal sign"},
      {length, ",5 mm", 1, "\",\"", "'.' as the decimal sign"},
      {length, "1.2.3 mm", 4, "\".\"", "one decimal sign"},
      {length, "5. mm", 2, "\".\"", "digits behind it"},
      {length, "1/2.5 in", 4, "\".\"", "one decimal sign"},
  };
  for (const Wrong& row : rows)
    expect(row);
}

TEST(Read, RefusesWhatIsNotAUnit) {
  const Wrong rows[] = {
      {length, "57", 3, "a number without a unit", "a unit of length (m, mm, cm, µm, in, ft)"},
      {length, "57 ", 4, "a number without a unit", "a unit of length"},
      {length, "57 furlong", 4, "\"furlong\"", "(m, mm, cm, µm, in, ft)"},
      {length, "57 kg", 4, "\"kg\", a unit of mass", "a unit of length"},
      {length, "57 mm gauge", 7, "\"gauge\"", "nothing more behind mm"},
      {length, "57 mm 58 mm", 7, "\"58 mm\"", "nothing more behind mm"},
      {length, "5' 3\"", 4, "\"3\"\"", "nothing more behind '"},
      {mass_flow, "180 cfm", 5, "\"cfm\", a unit of volume flow", "(kg/s, g/s"},
      {rotational_speed, "3000/min", 5, "\"/min\"", "rpm"},
      {temperature, "20°", 3, "\"°\", a unit of angle", "a unit of temperature (K, °C, °F)"},
      {temperature, "-274 C", 1, "\"-274 C\"", "absolute zero"},
      {temperature, "-1 K", 1, "\"-1 K\"", "absolute zero"},
      {pressure, "12 psi g a", 8, "\"g a\"", "nothing more behind psi"},
      {pressure, "1e308 bar", 1, "\"1e308 bar\"", "too large"},
      {ratio, "5 %%", 3, "\"%%\"", "a unit of ratio (none, %)"},
  };
  for (const Wrong& row : rows)
    expect(row);
}

TEST(Read, TakesTheDefaultUnitForANumberAlone) {
  Reading reading;
  reading.default_unit = "mm";
  expect(Right{length, "57", 0.057}, reading);
  expect(Right{length, "2 1/4", 2.25e-3}, reading);
  expect(Right{length, "57 in", 57 * in}, reading);
  expect(Wrong{length, "57 kg", 4, "\"kg\", a unit of mass", "a number alone is read in mm"}, reading);
  reading.default_unit = "%";
  expect(Right{ratio, "70", 0.7}, reading);
}

TEST(Read, TakesTheCommaWhereItIsTheDecimalSign) {
  Reading comma;
  comma.decimal = ',';
  expect(Right{length, "57,15 mm", 0.05715}, comma);
  expect(Right{length, ",5 in", 0.5 * in}, comma);
  expect(Right{length, "1,5e-3 m", 1.5e-3}, comma);
  expect(Right{length, "2 1/4 in", 2.25 * in}, comma);
  expect(Wrong{length, "57.15 mm", 3, "\".\"", "',' as the decimal sign and no sign between thousands"},
         comma);
  expect(Wrong{length, "1.250,5 mm", 2, "\".\"", "',' as the decimal sign"}, comma);
  expect(Wrong{length, ".5 in", 1, "\".\"", "',' as the decimal sign"}, comma);
}

struct CommaLocale : std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

TEST(Read, DoesNotLookAtTheLocale) {
  const std::string c_before = std::setlocale(LC_ALL, nullptr);
  const std::locale before = std::locale::global(std::locale(std::locale::classic(), new CommaLocale));
  for (const char* name : {"de_DE.UTF-8", "tr_TR.UTF-8", "C"}) {
    if (std::setlocale(LC_ALL, name) == nullptr)
      continue; // not installed here; the C++ locale above always is
    expect(Right{length, "1257.15 IN", 1257.15 * in});
    EXPECT_EQ(write(length, 1.25715, "mm"), "1257.15 mm") << name;
    EXPECT_EQ(write_fixed(length, 1.2572, "mm", 1), "1257.2 mm") << name;
  }
  std::locale::global(before);
  std::setlocale(LC_ALL, c_before.c_str());
}

struct Pressure {
  std::string_view text;
  Reference wanted;
  bool ambient_known; ///< 100 kPa
  double pressure_Pa;
};

// Closed form: gauge + ambient = absolute.
TEST(ReadPressure, KeepsGaugeAndAbsoluteApart) {
  const Pressure rows[] = {
      {"12 psi", Reference::absolute, false, 12 * psi},
      {"12 psi", Reference::gauge, false, 12 * psi},
      {"12 psi", Reference::difference, false, 12 * psi},
      {"-12 psi", Reference::difference, false, -12 * psi},
      {"12 psi gauge", Reference::gauge, false, 12 * psi},
      {"12 psig", Reference::gauge, false, 12 * psi},
      {"12 PSIG", Reference::gauge, false, 12 * psi},
      {"12 psi g", Reference::gauge, false, 12 * psi},
      {"12 psi gage", Reference::gauge, false, 12 * psi},
      {"0.8 bar (g)", Reference::gauge, false, 0.8e5},
      {"0.8 bar(g)", Reference::gauge, false, 0.8e5},
      {"0.8barg", Reference::gauge, false, 0.8e5},
      {"-0.3 bar gauge", Reference::gauge, false, -0.3e5},
      {"101.3 kPa abs", Reference::absolute, false, 101300},
      {"101.3 kPa absolute", Reference::absolute, false, 101300},
      {"101.3 kPa\u00a0abs\u00a0", Reference::absolute, false, 101300},
      {"14.7 psia", Reference::absolute, false, 14.7 * psi},
      {"1 bara", Reference::absolute, false, 1e5},
      {"100 Pa a", Reference::absolute, false, 100},
      {"100 Paa", Reference::absolute, false, 100},
      {"100 Pa", Reference::gauge, false, 100},
      {"760 mmHg", Reference::gauge, false, 760 * 133.322387415},
      {"760 mmHgg", Reference::gauge, false, 760 * 133.322387415},
      {"0.8 bar gauge", Reference::absolute, true, 1.8e5},
      {"1.8 bar abs", Reference::gauge, true, 0.8e5},
      {"0.8 bar", Reference::absolute, true, 0.8e5},
      {"-1 bar gauge", Reference::absolute, true, 0},
      {"0 bar abs", Reference::gauge, true, -1e5},
  };
  for (const auto& [text, wanted, ambient_known, pressure_Pa] : rows) {
    Reading reading;
    reading.reference = wanted;
    if (ambient_known)
      reading.ambient_Pa = 1e5;
    const auto value = read(pressure, text, reading);
    ASSERT_TRUE(value) << text << ": " << value.error().text();
    EXPECT_TRUE(close(*value, pressure_Pa, 1e-15)) << text;
  }
}

struct WrongPressure {
  Wrong row;
  Reference wanted;
  bool ambient_known;
};

TEST(ReadPressure, RefusesWhatItWouldHaveToGuess) {
  const WrongPressure rows[] = {
      {{pressure, "12 psi gauge", 8, "\"gauge\"", "an absolute pressure, as no ambient"},
       Reference::absolute,
       false},
      {{pressure, "12 psig", 7, "\"g\"", "an absolute pressure, as no ambient"}, Reference::absolute, false},
      {{pressure, "12 psia ", 7, "\"a\"", "a gauge pressure, as no ambient"}, Reference::gauge, false},
      {{pressure, "12 psi gauge", 8, "\"gauge\"", "a pressure difference"}, Reference::difference, true},
      {{pressure, "12 kPa abs", 8, "\"abs\"", "a pressure difference"}, Reference::difference, true},
      {{pressure, "-0.3 bar", 1, "\"-0.3 bar\"", "write \"gauge\""}, Reference::absolute, false},
      {{pressure, "-0.3 bar abs", 1, "\"-0.3 bar abs\"", "absolute zero"}, Reference::absolute, false},
      {{pressure, "-1.1 bar gauge", 1, "\"-1.1 bar gauge\"", "absolute zero"}, Reference::absolute, true},
      {{pressure, "-1.1 bar", 1, "\"-1.1 bar\"", "absolute zero"}, Reference::gauge, true},
      {{pressure, "12 gauge", 4, "a number without a unit", "with \"gauge\" or \"abs\" behind it"},
       Reference::gauge,
       false},
      {{pressure, "12 g", 4, "\"g\", a unit of mass", "(Pa, kPa"}, Reference::gauge, false},
      {{pressure, "12 psi vacuum", 8, "\"vacuum\"", "nothing more behind psi"}, Reference::gauge, false},
  };
  for (const auto& [row, wanted, ambient_known] : rows) {
    Reading reading;
    reading.reference = wanted;
    if (ambient_known)
      reading.ambient_Pa = 1e5;
    expect(row, reading);
  }
}

TEST(ReadPressure, TakesTheDefaultUnitBeforeTheReference) {
  Reading reading;
  reading.default_unit = "kPa";
  reading.reference = Reference::gauge;
  expect(Right{pressure, "80", 80e3}, reading);
  expect(Right{pressure, "80 gauge", 80e3}, reading);
  reading.ambient_Pa = 1e5;
  expect(Right{pressure, "180 abs", 80e3}, reading);
}

TEST(ReadFlow, LetsTheUnitDecide) {
  const auto by_mass = read_flow("12 lb/min");
  ASSERT_TRUE(by_mass);
  EXPECT_EQ(by_mass->dimension, mass_flow);
  EXPECT_TRUE(close(by_mass->value, 12 * 0.45359237 / 60, 1e-15));
  const auto by_volume = read_flow("180 cfm");
  ASSERT_TRUE(by_volume);
  EXPECT_EQ(by_volume->dimension, volume_flow);
  EXPECT_TRUE(close(by_volume->value, 180 * 0.028316846592 / 60, 1e-15));
  Reading reading;
  reading.default_unit = "L/s";
  const auto bare = read_flow("85", reading);
  ASSERT_TRUE(bare);
  EXPECT_EQ(bare->dimension, volume_flow);
  EXPECT_TRUE(close(bare->value, 0.085, 1e-15));
}

TEST(ReadFlow, NamesBothKindsOfUnit) {
  for (const std::string_view text : {"180", "180 mm", "180 grogs"}) {
    const auto flow = read_flow(text);
    ASSERT_FALSE(flow);
    EXPECT_NE(flow.error().accepted.find("a unit of mass flow (kg/s"), std::string::npos);
    EXPECT_NE(flow.error().accepted.find("or a unit of volume flow (m3/s"), std::string::npos);
  }
}

TEST(Read, CutsLongTextBetweenCharacters) {
  std::string text = "5 x";
  for (int i = 0; i < 1000; ++i)
    text += "°";
  const auto value = read(length, text);
  ASSERT_FALSE(value);
  std::string found = "\"x";
  for (int i = 0; i < 29; ++i)
    found += "°";
  EXPECT_EQ(value.error().found, found + "...\"");
}

// Identity: any bytes give a value or an error that points into the text; spaces at the ends change no value.
TEST(Read, SurvivesAnyBytes) {
  constexpr std::string_view pieces[] = {"1",      "25",   "0",    ".",  ",",      "/",  "-",   "+", " ",
                                         "\u00a0", "½",    "e",    "E3", "in",     "\"", "psi", "g", "abs",
                                         "°C",     "\xc2", "\xff", "mm", "\u2212", "%",  "⁄"};
  std::mt19937 random(7);
  std::uniform_int_distribution<std::size_t> pick(0, std::size(pieces) - 1);
  std::uniform_int_distribution<int> count(0, 5);
  std::size_t values = 0;
  for (int i = 0; i < 200000; ++i) {
    std::string text;
    for (int n = count(random); n > 0; --n)
      text += pieces[pick(random)];
    const Dimension dimension = i % 3 == 0 ? length : i % 3 == 1 ? pressure : temperature;
    if (i % 2 == 0) // so that half of the texts end as they should
      text += units(dimension).back().symbol;
    const auto value = read(dimension, text);
    if (value) {
      ++values;
      ASSERT_TRUE(std::isfinite(*value)) << PrintToString(text);
      ASSERT_EQ(read(dimension, " " + text + "\u00a0").value(), *value) << PrintToString(text);
    } else {
      ASSERT_GE(value.error().place.column, 1) << PrintToString(text);
      ASSERT_LE(value.error().place.column, int(text.size()) + 1) << PrintToString(text);
      ASSERT_FALSE(value.error().accepted.empty()) << PrintToString(text);
    }
  }
  EXPECT_GT(values, 1000U);
}

} // namespace
} // namespace bellmouth::quantity
