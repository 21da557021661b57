// SPDX-License-Identifier: GPL-3.0-or-later
// Isothermal pipes: published examples and identities.
#include "support/close.hpp"
#include "support/reference.hpp"
#include "support/root.hpp"
#include "support/worked_examples.hpp"

#include <bellmouth/air/isothermal.hpp>

#include <cmath>
#include <map>
#include <numbers>

namespace bellmouth::air {
namespace {

using test::close;

double area(double bore_m) {
  return std::numbers::pi / 4 * bore_m * bore_m;
}

using test::Answers;

/// W13 and W14: air; Fanning friction factors, four to a Darcy factor.
void air_pipes(Answers& answers) {
  const double energy = 287 * 288;
  const double ratio = 5. / 8;
  const auto flow_less_wanted = [&](double bore) {
    const double psi = isothermal_flow(ratio, 4 * 0.006 * 145 / bore, Acceleration::left_out);
    return 8e5 * area(bore) * std::sqrt(psi / energy) - 0.32;
  };
  const double bore = test::root(flow_less_wanted, 0.01, 0.2);
  const double psi = isothermal_flow(ratio, 4 * 0.006 * 145 / bore, Acceleration::left_out);
  const double half = isothermal_pressure_ratio(psi, 2 * 0.006 * 145 / bore, Acceleration::left_out).value();
  answers["W13"] = {{1, bore}, {2, std::sqrt(psi / 1.4)}, {3, std::sqrt(psi / 1.4) / ratio}, {4, 8e5 * half}};
  const double velocity = 28. / 60 / area(0.1);
  const double length = 4 * 0.004 * 60 / 0.1;
  const double at_inlet = velocity * velocity / energy;
  answers["W14"] = {{1, 200 * isothermal_pressure_ratio(at_inlet, length, Acceleration::left_out).value()},
                    {2, 200 * isothermal_pressure_ratio(at_inlet, length).value()}};
}

/// W15 to W17: nitrogen and methane.
void other_gases(Answers& answers) {
  constexpr double molar_J_kmolK = 8314.34; // as that book has it
  const double reynolds = 0.010 * 9 / 1.77e-5;
  const double fanning = 0.079 * std::pow(reynolds, -0.25);
  const double psi = 9. * 9 * molar_J_kmolK / 28.02 * 298.15 / (202650. * 202650);
  answers["W15"] = {
      {1, reynolds},
      {2,
       202650 * isothermal_pressure_ratio(psi, 4 * fanning * 200 / 0.010, Acceleration::left_out).value()}};
  // The inlet pressure from that at the outlet.
  const auto inlet_Pa = [](double outlet_Pa, double flux, double energy, double length) {
    return test::root(
        [&](double p) {
          return isothermal_friction_length(flux * flux * energy / (p * p), outlet_Pa / p) - length;
        },
        outlet_Pa, 100 * outlet_Pa);
  };
  answers["W16"] = {{1, inlet_Pa(170.3e3, 2.077 * 16 / area(1.016), molar_J_kmolK / 16 * 288.8,
                                 4 * 0.0027 * 160.9e3 / 1.016)}};
  const double density = 101.3e3 * 16 / (8314. * 288);
  answers["W17"] = {
      {1, inlet_Pa(170e3, 50 * density / area(0.6), 8314. / 16 * 292.5, 8 * 0.0015 * 3000 / 0.6)}};
}

/// W19: US units; the friction factor of Colebrook & White by iteration.
void discharge(Answers& answers) {
  constexpr double psi_Pa = 6894.757, inch = 0.0254;
  const double bore = 0.546 * inch, temperature = (100 + 459.67) / 1.8;
  const double p1 = (19.3 + 14.7) * psi_Pa;
  const double energy = 287.05 * temperature;
  double friction = 0.025, mass_flow = 0;
  for (int i = 0; i < 60; ++i) {
    const double psi = isothermal_flow(14.7 * psi_Pa / p1, friction * 120 / 0.546 + 1);
    const double flux = p1 * std::sqrt(psi / energy);
    mass_flow = flux * area(bore);
    const double root =
        -2 * std::log10(0.0018 / 0.546 / 3.7 + 2.51 / (flux * bore / 1.9e-5 * std::sqrt(friction)));
    friction = 1 / (root * root);
  }
  const double standard = 14.7 * psi_Pa / (287.05 * (60 + 459.67) / 1.8);
  answers["W19"] = {{1, mass_flow / standard * 3600 / std::pow(0.3048, 3)}};
}

// Published value, at the row's tolerance, and the recomputed column (other method).
TEST(WorkedExamples, OfIsothermalPipes) {
  Answers answers;
  air_pipes(answers);
  other_gases(answers);
  discharge(answers);
  EXPECT_EQ(test::expect_published(answers, 1e-3), 11U);
}

// Identity: the three forms are one, friction lengths add up, and the pipe chokes at psi = 1.
TEST(Isothermal, FormsAgree) {
  for (double psi = 1e-8; psi < 0.99; psi *= 1.3) {
    const double longest = isothermal_friction_length(psi, std::sqrt(psi));
    for (const double share : {1e-4, 0.1, 0.6, 0.99}) {
      const double length = share * longest;
      const double ratio = isothermal_pressure_ratio(psi, length).value();
      EXPECT_TRUE(close(isothermal_friction_length(psi, ratio), length, 1e-10, 1e-15)) << psi;
      EXPECT_TRUE(close(isothermal_flow(ratio, length), psi, 1e-10)) << psi;
      const double half = isothermal_pressure_ratio(psi, length / 2).value();
      EXPECT_TRUE(
          close(isothermal_pressure_ratio(psi / (half * half), length / 2).value() * half, ratio, 1e-10));
    }
    const auto beyond = isothermal_pressure_ratio(psi, longest * (1 + 1e-9));
    ASSERT_FALSE(beyond.has_value());
    EXPECT_TRUE(close(beyond.error().limit, longest, 1e-10));
  }
  EXPECT_FALSE(isothermal_pressure_ratio(0.01, 100, Acceleration::left_out).has_value());
}

} // namespace
} // namespace bellmouth::air
