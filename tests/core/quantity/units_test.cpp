// SPDX-License-Identifier: GPL-3.0-or-later
#include "dimensions.hpp"
#include "support/close.hpp"
#include "support/reference.hpp"

#include <bellmouth/quantity.hpp>

#include <gtest/gtest.h>

#include <numbers>
#include <set>

namespace bellmouth::quantity {
namespace {

using enum Dimension;
using test::close;

double factor(Dimension dimension, std::string_view symbol) {
  const auto unit = find_unit(dimension, symbol);
  if (!unit)
    throw std::runtime_error("no unit " + std::string(symbol));
  return unit->factor;
}

// Published value: NIST SP 811 (2008), Appendix B.8; tests/reference/unit_factors.csv.
TEST(Units, HaveThePublishedFactors) {
  for (const test::Row& row : test::reference("unit_factors.csv")) {
    const double tolerance = row.text("exact") == "1" ? 1e-15 : 5e-7;
    EXPECT_TRUE(close(factor(test::dimension(row.text("dimension")), row.text("symbol")),
                      row.number("factor"), tolerance))
        << row.text("name");
  }
}

// Published value: definitions, NIST SP 811 (2008), B.6: pound 0.453 592 37 kg, pound-force 4.448 221 615 260
// 5 N, exactly; conventional inch of water 249.088 91 Pa = 25.4 x 9.806 65 (B.8, footnote 12).
TEST(Units, AreExactByDefinition) {
  EXPECT_EQ(factor(mass, "lb"), 0.45359237);
  EXPECT_TRUE(close(factor(force, "lbf"), 4.4482216152605, 2e-16));
  EXPECT_TRUE(close(factor(pressure, "inH2O"), 249.08891, 2e-16));
  EXPECT_TRUE(close(factor(power, "PS"), 735.49875, 2e-16));
}

// Published value: a general units library (pint 0.19.2 of Debian 12), one unit converted to SI.
TEST(Units, AgreeWithAUnitsLibrary) {
  EXPECT_TRUE(close(factor(pressure, "psi"), 6894.7572931683635, 1e-15));
  EXPECT_TRUE(close(factor(pressure, "inHg"), 3386.3886403409997, 1e-15));
  EXPECT_TRUE(close(factor(pressure, "mmHg"), 133.32238741499998, 1e-15));
  EXPECT_TRUE(close(factor(power, "hp"), 745.6998715822701, 1e-15));
  EXPECT_TRUE(close(factor(mass_flow, "lb/min"), 0.007559872833333334, 1e-15));
  EXPECT_TRUE(close(factor(volume_flow, "cfm"), 0.0004719474431999999, 1e-15));
}

// Published value: NIST SP 811 (2008), B.8, revolution per minute 1.047 198 E-01 rad/s.
TEST(Units, TurnRevolutionsIntoRadians) {
  EXPECT_TRUE(close(in_unit(rotational_speed, 1.0 / 60, "rad/s"), 0.1047198, 5e-7));
  EXPECT_TRUE(close(in_unit(rotational_speed, 1, "rad/s"), 2 * std::numbers::pi, 1e-15));
}

// Identity: what must hold between units whatever their factors.
TEST(Units, HangTogether) {
  const double inch = factor(length, "in");
  EXPECT_TRUE(close(factor(length, "ft"), 12 * inch, 1e-15));
  EXPECT_TRUE(close(factor(area, "ft2"), 144 * factor(area, "in2"), 1e-15));
  EXPECT_TRUE(close(factor(volume, "ft3"), 1728 * factor(volume, "in3"), 1e-15));
  EXPECT_TRUE(close(factor(pressure, "psi") * factor(area, "in2"), factor(force, "lbf"), 1e-15));
  EXPECT_TRUE(close(factor(torque, "lb ft"), 12 * factor(torque, "lb in"), 1e-15));
  EXPECT_TRUE(close(factor(mass_flow, "lb/s"), 3600 * factor(mass_flow, "lb/h"), 1e-15));
  EXPECT_TRUE(close(factor(mass_flow, "kg/min"), 60 * factor(mass_flow, "kg/h"), 1e-15));
  EXPECT_TRUE(close(factor(volume_flow, "m3/min"), 1000 * factor(volume_flow, "L/min"), 1e-15));
  EXPECT_TRUE(close(60 * factor(volume_flow, "cfm"), factor(volume, "ft3"), 1e-15));
  EXPECT_TRUE(close(factor(volume, "L"), 1e3 * factor(volume, "cm3"), 1e-15));
  EXPECT_TRUE(close(factor(volume, "cm3"), 1e3 * factor(volume, "mm3"), 1e-15));
  EXPECT_TRUE(close(180 * factor(angle, "°"), std::numbers::pi, 1e-15));
}

// Identity: the SI unit leads each list and converts by 1; symbols are there once, and are found.
TEST(Units, AreListedOnceWithTheSiUnitFirst) {
  for (const auto& [name, dimension] : test::dimensions) {
    const auto list = units(dimension);
    ASSERT_FALSE(list.empty()) << name;
    EXPECT_EQ(list.front().factor, 1) << name;
    EXPECT_EQ(list.front().offset, 0) << name;
    std::set<std::string_view> symbols;
    for (const Unit& unit : list) {
      EXPECT_EQ(unit.dimension, dimension) << name;
      EXPECT_GT(unit.factor, 0) << unit.symbol;
      EXPECT_TRUE(symbols.insert(unit.symbol).second) << unit.symbol;
      const auto found = find_unit(dimension, unit.symbol);
      ASSERT_TRUE(found) << unit.symbol;
      EXPECT_EQ(found->symbol, unit.symbol);
    }
  }
}

struct Spelling {
  Dimension dimension;
  std::string_view typed;
  std::string_view symbol;
};

TEST(Units, AreFoundInOtherSpellings) {
  const Spelling spellings[] = {
      {length, "inch", "in"},
      {length, "\"", "in"},
      {length, "″", "in"},
      {length, "”", "in"},
      {length, "IN", "in"},
      {length, "''", "in"},
      {length, "′", "ft"},
      {length, "'", "ft"},
      {length, "μm", "µm"},
      {length, "um", "µm"},
      {area, "mm²", "mm2"},
      {area, "in^2", "in2"},
      {area, "sq in", "in2"},
      {volume, "cc", "cm3"},
      {volume, "l", "L"},
      {volume, "cm³", "cm3"},
      {angle, "deg", "°"},
      {angle, "º", "°"},
      {pressure, "PSI", "psi"},
      {pressure, "in H2O", "inH2O"},
      {pressure, "in H₂O", "inH2O"},
      {pressure, "inch  of water", "inH2O"},
      {pressure, "\"Hg", "inHg"},
      {pressure, "mm Hg", "mmHg"},
      {pressure, "hPa", "mbar"},
      {temperature, "C", "°C"},
      {temperature, "degC", "°C"},
      {temperature, "deg F", "°F"},
      {temperature, "℃", "°C"},
      {mass_flow, "lb / min", "lb/min"},
      {mass_flow, "kg/hr", "kg/h"},
      {volume_flow, "CFM", "cfm"},
      {volume_flow, "ft³/min", "cfm"},
      {volume_flow, "m³/s", "m3/s"},
      {volume_flow, "l/min", "L/min"},
      {velocity, "fpm", "ft/min"},
      {rotational_speed, "1/min", "rpm"},
      {rotational_speed, "RPM", "rpm"},
      {power, "HP", "hp"},
      {density, "kg/m³", "kg/m3"},
      {viscosity, "mPa·s", "mPa s"},
      {viscosity, "cP", "mPa s"},
      {torque, "N·m", "N m"},
      {torque, "Nm", "N m"},
      {torque, "N⋅m", "N m"},
      {torque, "ft-lb", "lb ft"},
      {torque, "lbf·in", "lb in"},
      {ratio, "", ""},
      {ratio, "percent", "%"},
  };
  for (const auto& [dimension, typed, symbol] : spellings) {
    const auto unit = find_unit(dimension, typed);
    ASSERT_TRUE(unit) << typed;
    EXPECT_EQ(unit->symbol, symbol) << typed;
  }
}

TEST(Units, AreNotFoundWhereLettersOrDimensionDiffer) {
  const Spelling wrong[] = {
      {length, "MM", ""},       {length, "M", ""},      {length, "kg", ""},
      {length, "", ""},         {length, "mm mm", ""},  {pressure, "mpa", ""},
      {pressure, "mPa", ""},    {pressure, "psig", ""}, {pressure, "pa", ""},
      {force, "n", ""},         {force, "lb", ""},      {power, "kw", ""},
      {viscosity, "MPa s", ""}, {temperature, "k", ""}, {temperature, "°", ""},
      {mass, "lbf", ""},        {ratio, "%%", ""},      {length, "in^", ""},
      {length, "^mm", ""},      {velocity, "m//s", ""}, {length, "millimetresmillimetresmillimetres", ""},
  };
  for (const auto& [dimension, typed, symbol] : wrong)
    EXPECT_FALSE(find_unit(dimension, typed)) << typed;
}

} // namespace
} // namespace bellmouth::quantity
