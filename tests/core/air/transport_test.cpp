// SPDX-License-Identifier: GPL-3.0-or-later
// Viscosity beyond the rows of air.csv (see properties_test.cpp), thermal conductivity, Prandtl number.
#include "support/close.hpp"

#include <bellmouth/air.hpp>

#include <cmath>

namespace bellmouth::air {
namespace {

using test::close;

// Published value: Incropera et al., Fundamentals of Heat and Mass Transfer, Table A.4 (air, one atmosphere),
// as several public programs copy it. That table is older than the law used here; 2 % is the uncertainty of
// the latter's conductivity, and the table has three digits.
TEST(Conductivity, IsThatOfTheHandbookTable) {
  struct Line {
    double temperature_K, milli_W_mK, prandtl;
  };
  for (const Line& line :
       {Line{250, 22.3, 0.720}, Line{300, 26.3, 0.707}, Line{350, 30.0, 0.700}, Line{400, 33.8, 0.690},
        Line{450, 37.3, 0.686}, Line{500, 40.7, 0.684}, Line{550, 43.9, 0.683}, Line{600, 46.9, 0.685}}) {
    EXPECT_TRUE(close(Mixture().conductivity_W_mK(line.temperature_K) * 1e3, line.milli_W_mK, 0.021))
        << line.temperature_K;
    EXPECT_TRUE(close(Mixture().prandtl(line.temperature_K), line.prandtl, 0.027)) << line.temperature_K;
  }
}

// Published value: Lemmon & Jacobsen (2004), Table V, air at 300 K and no density; the conductivity as a
// public property library quotes it, the viscosity from memory.
TEST(Conductivity, GivesTheCheckValueOfItsAuthors) {
  EXPECT_NEAR(Mixture().conductivity_W_mK(300) * 1e3, 26.3529, 5e-5);
  EXPECT_NEAR(Mixture().viscosity_Pa_s(300) * 1e6, 18.5230, 1e-4);
}

/// The law of Lemmon & Jacobsen written again, with the powers of tau as powers.
double dry_viscosity_Pa_s(double temperature_K) {
  double exponent = 0;
  const double b[] = {0.431, -0.4623, 0.08406, 0.005341, -0.00331};
  for (int i = 0; i < 5; ++i)
    exponent += b[i] * std::pow(std::log(temperature_K / 103.3), i);
  return 0.0266958e-6 * std::sqrt(28.9586 * temperature_K) / (0.36 * 0.36 * std::exp(exponent));
}

double vapour_viscosity_Pa_s(double temperature_K) {
  const double t = temperature_K / 647.096;
  return 100e-6 * std::sqrt(t) / (1.67752 + 2.20462 / t + 0.6366564 / (t * t) - 0.241605 / (t * t * t));
}

// Closed form: the polynomial in the root of the temperature against the law that it stands for, and Wilke's
// rule as the handbooks print it (Poling, Prausnitz & O'Connell, The Properties of Gases and Liquids, 5th ed.
// 2001, equation 9-5.14).
TEST(Viscosity, KeepsToItsLaws) {
  for (double t = 150; t < 1200; t += 0.37) {
    EXPECT_TRUE(close(Mixture().viscosity_Pa_s(t), dry_viscosity_Pa_s(t), 1.5e-8)) << t;
    for (const double humidity : {0.005, 0.02, 0.3}) {
      const double mole_water = humidity / 0.621945 / (1 + humidity / 0.621945);
      const double mole[] = {1 - mole_water, mole_water};
      const double mass[] = {28.9586, 18.01528};
      const double mu[] = {dry_viscosity_Pa_s(t), vapour_viscosity_Pa_s(t)};
      double mixed = 0;
      for (int i = 0; i < 2; ++i) {
        double below = 0;
        for (int j = 0; j < 2; ++j)
          below += mole[j] * std::pow(1 + std::sqrt(mu[i] / mu[j]) * std::pow(mass[j] / mass[i], 0.25), 2) /
                   std::sqrt(8 * (1 + mass[i] / mass[j]));
        mixed += mole[i] * mu[i] / below;
      }
      EXPECT_TRUE(close(Mixture(humidity).viscosity_Pa_s(t), mixed, 2e-4 * humidity)) << t << ' ' << humidity;
    }
  }
}

// Identity: the same on both sides of the ends of the polynomial; vapour lowers both, and dry air is the
// limit.
TEST(Viscosity, IsContinuous) {
  for (const double humidity : {0.0, 0.02, 0.3})
    for (const double end : {lowest_temperature_K, highest_temperature_K}) {
      const Mixture air(humidity);
      EXPECT_TRUE(close(air.viscosity_Pa_s(end * (1 - 1e-12)), air.viscosity_Pa_s(end * (1 + 1e-12)), 7e-5));
      EXPECT_TRUE(
          close(air.conductivity_W_mK(end * (1 - 1e-12)), air.conductivity_W_mK(end * (1 + 1e-12)), 7e-5));
    }
  for (double t = 280; t < 480; t += 10) {
    EXPECT_LT(Mixture(0.05).viscosity_Pa_s(t), Mixture().viscosity_Pa_s(t));
    EXPECT_TRUE(close(Mixture(1e-9).viscosity_Pa_s(t), Mixture().viscosity_Pa_s(t), 1e-8));
    EXPECT_TRUE(close(Mixture(1e-9).conductivity_W_mK(t), Mixture().conductivity_W_mK(t), 1e-8));
  }
}

// Pinned own value: what humidity does, beside the closed form above.
TEST(Viscosity, FallsWithHumidity) {
  EXPECT_NEAR(Mixture(0.02).viscosity_Pa_s(300) / Mixture().viscosity_Pa_s(300), 0.984, 5e-4);
  EXPECT_NEAR(Mixture(0.02).conductivity_W_mK(300) / Mixture().conductivity_W_mK(300), 0.990, 5e-4);
}

} // namespace
} // namespace bellmouth::air
