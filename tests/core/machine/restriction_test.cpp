// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/close.hpp"
#include "support/reference.hpp"

#include <bellmouth/machine.hpp>

#include <gtest/gtest.h>

#include <cmath>

namespace bellmouth::machine {
namespace {

using test::close;

// Seven digits are printed in filters.csv.
constexpr double printed = 5e-7;

/// Viscosity as the reference rows have it: Sutherland's law, constants of the US Standard Atmosphere 1976.
double viscosity(double temperature_K) {
  return 1.458e-6 * std::pow(temperature_K, 1.5) / (temperature_K + 110.4);
}
double density(double pressure_Pa, double temperature_K) {
  return pressure_Pa / (287.05287 * temperature_K);
}

const double rating_viscosity = viscosity(rating_temperature_K);
const double rating_density = density(rating_pressure_Pa, rating_temperature_K);

TwoTermDrop law(double a, double b) {
  return {a / rating_viscosity, b / rating_density};
}

// Published values: filters.csv, the law at reference air and in other air.
TEST(TwoTermDrop, IsTheTables) {
  int rows = 0;
  for (const auto& row : test::reference("filters.csv")) {
    const auto& inputs = row.text("inputs");
    const bool scaled = row.text("quantity").starts_with("dp scaled");
    if (!scaled && !row.text("quantity").starts_with("dp = A Q"))
      continue;
    double temperature = rating_temperature_K, pressure = rating_pressure_Pa;
    if (scaled) {
      temperature = test::input(inputs, "T");
      pressure = test::input(inputs, "p");
    }
    const double found =
        law(test::input(inputs, "A"), test::input(inputs, "B"))
            .drop_Pa(test::input(inputs, "Q"), density(pressure, temperature), viscosity(temperature));
    EXPECT_TRUE(close(found, row.number("value"), printed)) << row.text("row_id");
    ++rows;
  }
  EXPECT_EQ(rows, 18);
}

double printed_value(const std::string& id) {
  for (const auto& row : test::reference("filters.csv"))
    if (row.text("row_id") == id)
      return row.number("value");
  throw std::runtime_error("no row " + id);
}

// Published values: filters.csv FL019 to FL022: the law found again from its points; two alike in parallel,
// where each takes half of the flow, and in series.
TEST(TwoTermDrop, IsRecoveredFromItsPointsAndAddsUp) {
  const auto found =
      fit_drop({{0.04, 156}, {0.08, 504}, {0.12, 1044}, {0.16, 1776}}, rating_density, rating_viscosity);
  EXPECT_TRUE(close(found.viscous_per_m3 * rating_viscosity, printed_value("FL019"), 1e-9));
  EXPECT_TRUE(close(found.inertial_per_m4 * rating_density, printed_value("FL020"), 1e-9));
  const auto element = law(2000, 40000);
  EXPECT_TRUE(close(element.drop_Pa(0.05, rating_density, rating_viscosity), printed_value("FL021"), 1e-12));
  EXPECT_TRUE(
      close(2 * element.drop_Pa(0.1, rating_density, rating_viscosity), printed_value("FL022"), 1e-12));
}

// Identity: two points are met exactly, and one is met by the inertial term.
TEST(FitDrop, ReproducesItsPoints) {
  const auto two = fit_drop({{0.05, 300}, {0.1, 900}}, rating_density, rating_viscosity);
  EXPECT_GT(two.viscous_per_m3, 0);
  EXPECT_TRUE(close(two.drop_Pa(0.05, rating_density, rating_viscosity), 300, 1e-12));
  EXPECT_TRUE(close(two.drop_Pa(0.1, rating_density, rating_viscosity), 900, 1e-12));
  const auto one = fit_drop({{0.1, 900}}, rating_density, rating_viscosity);
  EXPECT_EQ(one.viscous_per_m3, 0);
  EXPECT_TRUE(close(one.drop_Pa(0.2, rating_density, rating_viscosity), 3600, 1e-12));
  const auto same = fit_drop({{0.1, 900}, {0.1, 1100}}, rating_density, rating_viscosity);
  EXPECT_TRUE(close(same.drop_Pa(0.1, rating_density, rating_viscosity), 1000, 1e-12));
}

// Closed form: a law that a free fit would make negative in one term keeps the other alone, by least squares
// of dp/Q.
TEST(FitDrop, HasNoNegativeTerm) {
  const auto steep = fit_drop({{0.05, 100}, {0.1, 900}}, rating_density, rating_viscosity);
  EXPECT_EQ(steep.viscous_per_m3, 0);
  EXPECT_TRUE(close(steep.inertial_per_m4 * rating_density, (100 + 900) / (0.05 * 0.05 + 0.1 * 0.1), 1e-12));
  const auto flat = fit_drop({{0.05, 300}, {0.1, 400}}, rating_density, rating_viscosity);
  EXPECT_EQ(flat.inertial_per_m4, 0);
  EXPECT_TRUE(close(flat.viscous_per_m3 * rating_viscosity, (6000 + 4000) / 2.0, 1e-12));
}

// Identity: the state multiplies the clean drop; pulsation only what goes with the square.
TEST(Filter, DropsByItsStateAndByPulsation) {
  Filter filter{{{0.05, 300}, {0.1, 900}}, 2.5};
  filter.wet_factor = 1.6;
  const air::Mixture dry;
  const auto drop = [&](double pulsation) {
    return filter.drop(pulsation).drop_Pa(0.1, dry.density_kg_m3(rating_pressure_Pa, rating_temperature_K),
                                          dry.viscosity_Pa_s(rating_temperature_K));
  };
  filter.state = FilterState::clean;
  EXPECT_EQ(filter.factor(), 1.0);
  EXPECT_TRUE(close(drop(1), 900, 1e-12));
  // dp = A Q + B Q^2 with A = 3000, B = 60000
  EXPECT_TRUE(close(drop(2), 300 + 2 * 600, 1e-12));
  filter.state = FilterState::dirty;
  EXPECT_TRUE(close(drop(2), 2.5 * 1500, 1e-12));
  filter.state = FilterState::wet;
  EXPECT_EQ(filter.factor(), 4.0);
  EXPECT_TRUE(close(drop(1), 3600, 1e-12));
}

// Identity: flow the other way costs the same the other way.
TEST(TwoTermDrop, IsOdd) {
  const auto element = law(2000, 40000);
  EXPECT_DOUBLE_EQ(element.drop_Pa(-0.1, 1.2, 1.8e-5), -element.drop_Pa(0.1, 1.2, 1.8e-5));
}

} // namespace
} // namespace bellmouth::machine
