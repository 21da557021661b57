// SPDX-License-Identifier: GPL-3.0-or-later
// What every law has to keep, and problems that need several of them.
#include "support/close.hpp"
#include "support/reference.hpp"
#include "support/root.hpp"
#include "support/worked_examples.hpp"

#include <bellmouth/loss.hpp>

#include <map>
#include <numbers>
#include <type_traits>
#include <vector>

namespace bellmouth::loss {
namespace {

using test::close;

constexpr double degree = std::numbers::pi / 180;

std::vector<Fitting> every_kind() {
  std::vector<Fitting> all{Straight{0.3, 0.06},
                           Entry{EntryKind::bellmouth, 0.1, true},
                           Entry{EntryKind::flush},
                           Entry{EntryKind::projecting},
                           Exit{},
                           Fixed{0.4, 0.2},
                           Fixed{0, 0},
                           Straight{0, 0.06},
                           CorrugatedHose{0.4, 0.06},
                           CorrugatedHose{0.4, 0.06, 0.008, 0.001},
                           WireHose{0.4, 0.06},
                           WireHose{0.4, 0.06, 0.01, 0.001},
                           PerforatedPlate{0.05},
                           PerforatedPlate{0.6},
                           Exit{ExitProfile::turbulent},
                           Exit{ExitProfile::laminar}};
  for (const double size : {0.0, 0.005, 0.02, 0.05}) {
    all.emplace_back(Gap{0.06, 0.06 + size, 0.01});
    all.emplace_back(Gap{0.06, 0.065, size});
    all.emplace_back(Hump{0.06, 0.06 + size, 0.03});
    all.emplace_back(Hump{0.06, 0.07, size});
    all.emplace_back(Probe{0.06, 0.01, size});
    all.emplace_back(SideHole{0.06, 0.005 + size});
    all.emplace_back(Gauze{0.06, 0.0004, 0.0006 + size});
    all.emplace_back(Butterfly{0.02 + size, 0.3});
    Entry projecting{EntryKind::projecting};
    projecting.projection_ratio = size;
    projecting.wall_ratio = size;
    all.emplace_back(projecting);
    Entry bevelled{EntryKind::bevelled};
    bevelled.bevel_angle_rad = 20 * size;
    bevelled.bevel_length_ratio = 10 * size;
    all.emplace_back(bevelled);
  }
  for (const double angle : {5.0, 30.0, 90.0, 135.0, 180.0}) {
    all.emplace_back(Mitre{angle * degree});
    for (const double size : {0.03, 0.06, 0.12}) {
      all.emplace_back(PleatedElbow{angle * degree, size});
      for (int joints = 1; joints < 8; ++joints)
        all.emplace_back(SegmentedBend{angle * degree, 1.5, size, joints});
    }
    for (const double ratio : {0.4, 1.0, 1.5, 8.0})
      all.emplace_back(Bend{angle * degree, ratio});
  }
  for (const double in : {0.03, 0.05, 0.06, 0.061, 0.12})
    for (const double out : {0.03, 0.05, 0.06, 0.061, 0.12}) {
      all.emplace_back(Step{in, out});
      if (in > out)
        all.emplace_back(RoundedContraction{in, out, 0.004});
      for (const double length : {0.0, 0.001, 0.02, 0.1, 1.0})
        all.emplace_back(Cone{in, out, length});
    }
  return all;
}

// Identity, over every kind of fitting.
TEST(Law, KeepsItsPromises) {
  for (const Fitting& fitting : every_kind()) {
    const Law law = loss::law(fitting);
    EXPECT_FALSE(law.source.empty());
    EXPECT_FALSE(law.range.empty()) << law.source;
    EXPECT_GE(law.per_inverse_reynolds, 0);
    EXPECT_GE(law.least_reynolds, 0);
    EXPECT_GE(law.constant, 0);
    EXPECT_GE(law.per_friction, 0);
    for (const double friction : {0.0, 0.009, 0.02, 0.09}) {
      const double k = law.at(friction);
      EXPECT_TRUE(std::isfinite(k));
      EXPECT_GE(law.low(friction), 0);
      EXPECT_LE(law.low(friction), k);
      EXPECT_GE(law.high(friction), k);
      EXPECT_DOUBLE_EQ(k, law.constant + friction * law.per_friction);
      EXPECT_GE(law.at(friction, 1e-4), k);
      EXPECT_LE(law.low(friction, 1e-4), law.at(friction, 1e-4));
      EXPECT_GE(law.high(friction, 1e-4), law.at(friction, 1e-4));
    }
    const auto of_alternative = std::visit([](const auto& shape) { return loss::law(shape); }, fitting);
    EXPECT_EQ(of_alternative.constant, law.constant);
    EXPECT_EQ(of_alternative.basis, law.basis);
  }
}

static_assert(std::is_trivially_copyable_v<Law>);

// Closed form: the band is the wider of the relative and the absolute one, and never reaches below zero.
TEST(Law, Band) {
  Law law;
  law.constant = 0.2;
  law.per_friction = 10;
  law.band_low = 0.25;
  law.band_high = 0.5;
  EXPECT_DOUBLE_EQ(law.low(0.02), 0.3);
  EXPECT_DOUBLE_EQ(law.high(0.02), 0.6);
  law.band_absolute = 0.15;
  EXPECT_DOUBLE_EQ(law.low(0.02), 0.25);
  EXPECT_DOUBLE_EQ(law.high(0.02), 0.6);
  law.band_absolute = 0.5;
  EXPECT_DOUBLE_EQ(law.low(0.02), 0);
  EXPECT_DOUBLE_EQ(law.high(0.02), 0.9);
}

TEST(Law, StraightAndFixed) {
  EXPECT_DOUBLE_EQ(law(Straight{0.3, 0.06}).at(0.02), 0.1);
  EXPECT_DOUBLE_EQ(law(Straight{0.3, 0.06}).high(0.02), 0.105);
  EXPECT_DOUBLE_EQ(law(Fixed{0.8, 0.25}).at(0.02), 0.8);
  EXPECT_DOUBLE_EQ(law(Fixed{0.8, 0.25}).low(0.02), 0.6);
}

double area(double bore) {
  return std::numbers::pi / 4 * bore * bore;
}

using test::Answers;

/// W18: a compressed-air line, isothermal with acceleration, friction by Colebrook-White. Inputs in US units.
void air_line(Answers& answers) {
  constexpr double psi = 6894.757;
  constexpr double inch = 0.0254;
  const double p1 = (65 + 14.7) * psi;
  const double temperature = (115 + 459.67) / 1.8;
  const double standard = 14.7 * psi / (287.05 * (60 + 459.67) / 1.8);
  const double mass_flow = standard * 100 * std::pow(0.3048, 3) / 60;
  const double bore = 1.049 * inch;
  const double flux = mass_flow / area(bore);
  const double viscosity = 1.458e-6 * std::pow(temperature, 1.5) / (temperature + 110.4);
  const double friction = darcy_friction_factor(flux * bore / viscosity, 0.0018 * inch / bore);
  const double length = law(Straight{75 * 0.3048, bore}).at(friction);
  const double p2 = test::root(
      [&](double p) {
        return flux * flux * 287.05 * temperature * (length + 2 * std::log(p1 / p)) - (p1 * p1 - p * p);
      },
      0.5 * p1, p1);
  const double per_ft_min = 0.3048 / 60;
  answers["W18"] = {{1, (p1 - p2) / psi},
                    {2, flux * 287.05 * temperature / p1 / per_ft_min},
                    {3, flux * 287.05 * temperature / p2 / per_ft_min}};
}

/// W28: the bore of a long air duct from its head loss.
void air_duct(Answers& answers) {
  const double nu = 1.655e-5, flow = 0.35, gravity = 9.81;
  const auto friction = [&](double bore) { return darcy_friction_factor(flow / area(bore) * bore / nu, 0); };
  const double bore = test::root(
      [&](double d) {
        const double velocity = flow / area(d);
        return 20 - law(Straight{150, d}).at(friction(d)) * velocity * velocity / (2 * gravity);
      },
      0.05, 1.0);
  answers["W28"] = {{1, bore}, {2, friction(bore)}, {3, flow / area(bore)}};
}

/// W29: a vent of flush entry, straight, four elbows of given K and exit; feet, pounds, seconds.
void vent(Answers& answers) {
  const double bore = 4.0 / 12;
  const double k = law(Entry{EntryKind::flush}).at(0.022) + law(Straight{20, bore}).at(0.022) +
                   4 * law(Fixed{1.5, 0.1}).at(0.022) + law(Exit{}).at(0.022);
  const double head = 0.2 / 12 * 62.4 / 0.0709; // of water, in feet of air
  answers["W29"] = {{1, area(bore) * std::sqrt(2 * 32.2 * head / k)}};
}

/// W30: two reservoirs, head of water; K of the book's own fittings, ours for entry and friction.
void reservoirs(Answers& answers) {
  const double bore = 0.05, velocity = 0.006 / area(bore);
  const double k = law(Entry{EntryKind::flush}).at(0.0315) + law(Straight{89, bore}).at(0.0315) +
                   law(Fixed{2 * 0.3 + 0.2 + 1.06, 0}).at(0.0315);
  answers["W30"] = {{1, 4 + k * velocity * velocity / (2 * 9.81)}};
}

// Published values: problems of tests/reference/worked_examples.csv, at the row's tolerance, which covers the
// book's rounding; and its recomputed column (other method).
TEST(WorkedExamples, OfDuctsAndFittings) {
  Answers answers;
  air_line(answers);
  air_duct(answers);
  vent(answers);
  reservoirs(answers);
  EXPECT_EQ(test::expect_published(answers, 3e-3), 8U);
}

} // namespace
} // namespace bellmouth::loss
