// SPDX-License-Identifier: GPL-3.0-or-later
// Published problems of tests/reference/worked_examples.csv that gas dynamics alone answers. Inputs are
// copied from the row beside the answer; books take R = 287 (or 286.9) and gamma = 1.4, so the relations are
// used, not the mixture.
#include "support/close.hpp"
#include "support/reference.hpp"
#include "support/root.hpp"
#include "support/worked_examples.hpp"

#include <bellmouth/air.hpp>

#include <map>
#include <numbers>

namespace bellmouth::air {
namespace {

using test::close;

constexpr double g = 1.4;
constexpr double R = 287;

double area(double bore_m) {
  return std::numbers::pi / 4 * bore_m * bore_m;
}
double sound(double temperature_K, double gas_constant = R) {
  return std::sqrt(g * gas_constant * temperature_K);
}

/// The Mach number at which p/p0 is `ratio`.
double mach_of_pressure_ratio(double ratio) {
  return std::sqrt(2 / (g - 1) * (std::pow(ratio, -(g - 1) / g) - 1));
}

/// Mass flow [kg/s] through `area_m2` at Mach number and total state.
double mass_flow(double mach, double p0_Pa, double t0_K, double area_m2, double gas_constant = R) {
  return mass_flow_function(mach, g) * area_m2 * p0_Pa / std::sqrt(gas_constant * t0_K);
}

using test::Answers;

void choked_pipe(Answers& answers) {
  // W01: choked Fanno flow in a smooth duct.
  const double to_sonic = fanno_parameter(0.4, g);
  answers["W01"] = {{1, to_sonic * 0.03 / 0.0148},
                    {2, 300 / fanno_temperature_ratio(0.4, g)},
                    {3, 150 / fanno_pressure_ratio(0.4, g)},
                    {4, 0.4 * sound(300) * fanno_density_ratio(0.4, g)},
                    {5, 1 - 1 / fanno_total_pressure_ratio(0.4, g)}};
  // W02: exit of a Fanno duct.
  const double inlet = 85 / sound(450);
  const double length = 0.023 * 27 / 0.05;
  const double outlet = fanno_outlet_mach(inlet, length, g).value();
  answers["W02"] = {{1, outlet},
                    {2, 220e3 / (R * 450) * 85 * area(0.05)},
                    {3, fanno_parameter(inlet, g) * 0.05 / 0.023},
                    {4, fanno_parameter(outlet, g) * 0.05 / 0.023}};
}

void reservoir_and_duct(Answers& answers) {
  // W03 to W05: isentropic inlet, then a duct of 2 m or 1 m.
  const double t0 = 288, p0 = 101e3, r = 286.9;
  const double entry = mach_of_fanno_parameter(0.02 * 2 / 0.1, g);
  const double p1 = p0 * pressure_ratio(entry, g);
  const double t1 = t0 * temperature_ratio(entry, g);
  const double t_sonic = t0 * temperature_ratio(1, g);
  answers["W03"] = {{1, entry},
                    {2, mass_flow(entry, p0, t0, area(0.1), r)},
                    {3, t1},
                    {4, p1 / 1e3},
                    {5, sound(t_sonic, r)},
                    {6, p1 / fanno_pressure_ratio(entry, g) / 1e3},
                    {7, p0 / fanno_total_pressure_ratio(entry, g) / 1e3}};
  const double entry_half = mach_of_fanno_parameter(0.02 * 1 / 0.1, g);
  answers["W04"] = {{1, mass_flow(entry_half, p0, t0, area(0.1), r)}};
  const double entry_less =
      mach_of_mass_flow_function(1.65 * std::sqrt(r * t0) / (area(0.1) * p0), g).value();
  const double exit_less = fanno_outlet_mach(entry_less, 0.02 * 1 / 0.1, g).value();
  answers["W05"] = {{1, exit_less},
                    {2, p0 * pressure_ratio(entry_less, g) * fanno_pressure_ratio(exit_less, g) /
                            fanno_pressure_ratio(entry_less, g) / 1e3}};
}

/// Mach number downstream in a Fanno duct where the pressure has fallen by `ratio` from Mach number `mach`.
double mach_after_pressure_fall(double mach, double ratio) {
  return test::root(
      [&](double m) { return fanno_pressure_ratio(mach, g) * ratio - fanno_pressure_ratio(m, g); }, mach,
      1.0);
}

void measured_ducts(Answers& answers) {
  // W06: friction factor from pressures.
  const double a = mach_of_pressure_ratio(500.0 / 510);
  const double b = mach_after_pressure_fall(a, 280.0 / 500);
  const double c = mach_after_pressure_fall(a, 100.0 / 500);
  const double f_darcy = (fanno_parameter(a, g) - fanno_parameter(b, g)) * 0.02 / 12;
  answers["W06"] = {{1, f_darcy / 4},
                    {2, (fanno_parameter(a, g) - fanno_parameter(c, g)) * 0.02 / f_darcy},
                    {3, mass_flow(a, 510e3, 294, area(0.02))}};
  // W07: lengths for Mach 0.1 to 0.5 to 1.
  const double half = fanno_parameter(0.5, g) * 0.02 / 0.016;
  answers["W07"] = {{1, fanno_parameter(0.1, g) * 0.02 / 0.016 - half}, {2, half}};
  // W08: two pressures.
  const double inlet = 235 / sound(543);
  const double outlet = mach_after_pressure_fall(inlet, 10.0 / 13);
  answers["W08"] = {{1, 543 * fanno_temperature_ratio(outlet, g) / fanno_temperature_ratio(inlet, g)},
                    {2, 235 * fanno_density_ratio(inlet, g) / fanno_density_ratio(outlet, g)},
                    {3, (fanno_parameter(inlet, g) - fanno_parameter(outlet, g)) * 0.15 / 0.02}};
  // W09: sizing from mass flow.
  const double section = 8.25 / (345e3 / (R * 311) * 0.15 * sound(311));
  const double bore = std::sqrt(section * 4 / std::numbers::pi);
  const double p02_over_p01 = fanno_total_pressure_ratio(0.5, g) / fanno_total_pressure_ratio(0.15, g);
  answers["W09"] = {{1, bore},
                    {2, 345 * fanno_pressure_ratio(0.5, g) / fanno_pressure_ratio(0.15, g)},
                    {3, (fanno_parameter(0.15, g) - fanno_parameter(0.5, g)) * bore / 0.02},
                    {4, 345 / pressure_ratio(0.15, g) * (1 - p02_over_p01)}};
  // W10, W11: laboratory tube of 7.16 mm.
  const double start = mach_of_pressure_ratio(98.5 / 101);
  const double end = std::sqrt((296.0 / 287 - 1) * 2 / (g - 1));
  answers["W10"] = {{1, mass_flow(start, 101e3, 296, area(0.00716))},
                    {2, 101 * fanno_total_pressure_ratio(end, g) / fanno_total_pressure_ratio(start, g)}};
  const double first = mach_of_pressure_ratio((760 - 18.9) / 760);
  const double second = mach_after_pressure_fall(first, (760 - 412.0) / (760 - 18.9));
  answers["W11"] = {{1, fanno_parameter(first, g) * 0.00716 / 0.0235},
                    {2, second},
                    {3, (fanno_parameter(first, g) - fanno_parameter(second, g)) * 0.00716 / 0.0235}};
  // W12: distances.
  answers["W12"] = {{1, fanno_parameter(0.2, g) * 0.05 / 0.015},
                    {2, (fanno_parameter(0.2, g) - fanno_parameter(0.6, g)) * 0.05 / 0.015}};
}

void nozzles(Answers& answers) {
  // W20, W21: converging nozzles.
  answers["W20"] = {{1, mass_flow(mach_of_pressure_ratio(80.0 / 101), 101e3, 288, 1e-4, 286.9)},
                    {2, mass_flow(1, 101e3, 288, 1e-4, 286.9)}};
  const double exit = mach_of_pressure_ratio(0.591);
  answers["W21"] = {{1, exit}, {2, mass_flow(exit, 1e6, 333, 1e-3)}};
  // W22, W23: a 1 in nozzle in slug, ft, lbf and degrees Rankine; 53.3 ft lbf/(lb R) times 32.174 lb/slug.
  const double gas_constant = 53.3 * 32.174;
  const double section = area(1.0 / 12);
  answers["W22"] = {
      {1, mass_flow(mach_of_pressure_ratio(14.7 / 19.7), 19.7 * 144, 539.6, section, gas_constant)}};
  answers["W23"] = {{1, mass_flow(1, 64.7 * 144, 539.6, section, gas_constant)}};
  // W24: converging section from Mach 0.3 to 0.8.
  const double t0 = 335 / temperature_ratio(0.3, g);
  answers["W24"] = {
      {1, t0}, {2, 650 / pressure_ratio(0.3, g)}, {3, 0.8 * sound(t0 * temperature_ratio(0.8, g))}};
  // W25: venturi: the same total state and mass flow at both sections.
  const double fall = (0.760 + 0.150) / (0.760 + 0.250);
  const auto throat = [](double m) {
    return mach_of_mass_flow_function(mass_flow_function(m, g) * 9, g).value(); // (75/25)^2
  };
  const double inlet = test::root(
      [&](double m) { return fall - pressure_ratio(throat(m), g) / pressure_ratio(m, g); }, 1e-4, 0.06);
  const double p1 = 1.010 * 13600 * 9.81;
  answers["W25"] = {{1, inlet * std::sqrt(g * p1 / 1.6) * area(0.075)}};
}

// Published value, at the row's tolerance (it covers the book's rounding), and the recomputed column (other
// method), which rounds gas constants of its own.
TEST(WorkedExamples, OfPipesAndNozzles) {
  Answers answers;
  choked_pipe(answers);
  reservoir_and_duct(answers);
  measured_ducts(answers);
  nozzles(answers);
  std::size_t wanted = 0;
  for (const auto& [example, results] : answers)
    wanted += results.size();
  EXPECT_EQ(wanted, 48u);

  EXPECT_EQ(test::expect_published(answers, 2e-3), wanted);
}

} // namespace
} // namespace bellmouth::air
