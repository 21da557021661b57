// SPDX-License-Identifier: GPL-3.0-or-later
// The state of a stream: conservation, choking, limits.
#include "support/close.hpp"

#include <bellmouth/air.hpp>

#include <algorithm>
#include <numbers>
#include <random>
#include <vector>

namespace bellmouth::air {
namespace {

using test::close;

struct Stream {
  Mixture air;
  double total_pressure_Pa, total_temperature_K, area_m2;
  double max_mass_flow_kg_s;
};

/// Random streams of the trade: 30 kPa to 400 kPa, -40 C to 300 C, bores of 20 mm to 150 mm.
std::vector<Stream> streams() {
  std::mt19937_64 random(11);
  const auto between = [&random](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  std::vector<Stream> result;
  for (int i = 0; i < 2000; ++i) {
    const double bore = between(0.02, 0.15);
    Stream stream{Mixture(between(0, 0.04)), between(3e4, 4e5), between(233, 573),
                  std::numbers::pi / 4 * bore * bore, 0};
    const auto blocked =
        station(stream.air, stream.total_pressure_Pa, stream.total_temperature_K, 1e3, stream.area_m2);
    stream.max_mass_flow_kg_s = blocked.error().max_mass_flow_kg_s;
    result.push_back(stream);
  }
  return result;
}

Station at(const Stream& stream, double share) {
  return station(stream.air, stream.total_pressure_Pa, stream.total_temperature_K,
                 share * stream.max_mass_flow_kg_s, stream.area_m2)
      .value();
}

constexpr double shares[] = {1e-12, 1e-6, 1e-3, 0.05, 0.3, 0.6, 0.9, 0.99, 0.999999, 1 - 1e-10, 1.0};

// Identity: continuity, the equation of state, the isentrope, the first law with constant cp.
TEST(Station, ConservesMassEnergyAndEntropy) {
  for (const Stream& stream : streams())
    for (const double share : shares) {
      const Station s = at(stream, share);
      const double r = stream.air.gas_constant_J_kgK();
      const double cp = s.gamma / (s.gamma - 1) * r;
      EXPECT_TRUE(close(s.density_kg_m3 * s.velocity_m_s * s.area_m2, s.mass_flow_kg_s, 1e-13)) << share;
      EXPECT_TRUE(close(s.density_kg_m3 * r * s.static_temperature_K, s.static_pressure_Pa, 1e-14));
      EXPECT_TRUE(close(cp * s.static_temperature_K + s.velocity_m_s * s.velocity_m_s / 2,
                        cp * s.total_temperature_K, 1e-14));
      EXPECT_TRUE(close(std::pow(s.static_temperature_K / s.total_temperature_K, s.gamma / (s.gamma - 1)),
                        s.static_pressure_Pa / s.total_pressure_Pa, 1e-13));
      EXPECT_TRUE(close(s.velocity_m_s / std::sqrt(s.gamma * r * s.static_temperature_K), s.mach, 1e-14));
      EXPECT_TRUE(close(s.static_pressure_Pa, s.total_pressure_Pa * pressure_ratio(s.mach, s.gamma), 1e-13));
      EXPECT_EQ(s.gamma, stream.air.gamma(s.total_temperature_K));
    }
}

// Identity: just the greatest flow passes, at Mach 1; a hair more does not.
TEST(Station, ChokesAtTheGreatestFlow) {
  for (const Stream& stream : streams()) {
    EXPECT_TRUE(close(at(stream, 1).mach, 1, 1e-7));
    const auto more = station(stream.air, stream.total_pressure_Pa, stream.total_temperature_K,
                              stream.max_mass_flow_kg_s * (1 + 1e-14), stream.area_m2);
    ASSERT_FALSE(more.has_value());
    EXPECT_EQ(more.error().max_mass_flow_kg_s, stream.max_mass_flow_kg_s);
    const double gamma = stream.air.gamma(stream.total_temperature_K);
    EXPECT_TRUE(close(stream.max_mass_flow_kg_s,
                      mass_flow_function(1, gamma) * stream.area_m2 * stream.total_pressure_Pa /
                          std::sqrt(stream.air.gas_constant_J_kgK() * stream.total_temperature_K),
                      1e-14));
  }
}

// Identity: nothing flows, nothing moves.
TEST(Station, IsAtRestWithoutFlow) {
  const Station s = station(Mixture(), 1e5, 300, 0, 1e-3).value();
  EXPECT_EQ(s.mach, 0);
  EXPECT_EQ(s.velocity_m_s, 0);
  EXPECT_EQ(s.static_pressure_Pa, 1e5);
  EXPECT_EQ(s.static_temperature_K, 300);
  EXPECT_EQ(s.dynamic_pressure_Pa(), 0);
}

// Identity: signs. More flow: faster, colder, thinner, lower static pressure, in every step.
TEST(Station, MovesTheRightWay) {
  const Mixture air(0.008);
  const double greatest = station(air, 1.1e5, 320, 10, 2e-3).error().max_mass_flow_kg_s;
  Station before = station(air, 1.1e5, 320, 0, 2e-3).value();
  for (int i = 1; i <= 200; ++i) {
    const auto now = station(air, 1.1e5, 320, greatest * i / 200, 2e-3);
    ASSERT_TRUE(now.has_value());
    EXPECT_GT(now->mach, before.mach);
    EXPECT_GT(now->velocity_m_s, before.velocity_m_s);
    EXPECT_LT(now->static_pressure_Pa, before.static_pressure_Pa);
    EXPECT_LT(now->static_temperature_K, before.static_temperature_K);
    EXPECT_LT(now->density_kg_m3, before.density_kg_m3);
    before = *now;
  }
  EXPECT_EQ(before.mach, 1);
}

// Closed form: the incompressible limit, p0 - p = rho V^2 / 2 (1 + M^2/4 + ...).
TEST(Station, IsIncompressibleAtLowMach) {
  const Mixture air;
  for (const double flow : {1e-6, 1e-4, 1e-2}) {
    const Station s = station(air, 1e5, 300, flow, 2e-3).value();
    EXPECT_TRUE(close(s.velocity_m_s, flow / (air.density_kg_m3(1e5, 300) * 2e-3), s.mach * s.mach));
    EXPECT_TRUE(close(1e5 - s.static_pressure_Pa, s.dynamic_pressure_Pa() * (1 + s.mach * s.mach / 4),
                      std::pow(s.mach, 4), 5e-11));
  }
}

// Other method: with cp varying along the expansion (energy by the enthalpy, pressure by the entropy of the
// mixture) at the velocity found. Holding gamma at its total-temperature value costs less than 3e-5 to Mach
// 0.3, as the header says.
TEST(Station, HoldingGammaCostsLittle) {
  double worst = 0;
  for (const Stream& stream : streams()) {
    const Station s =
        station(stream.air, stream.total_pressure_Pa, stream.total_temperature_K,
                mass_flow_function(0.3, 1.4) / mass_flow_function(1, 1.4) * stream.max_mass_flow_kg_s,
                stream.area_m2)
            .value();
    const double h0 = stream.air.enthalpy_J_kg(s.total_temperature_K);
    const double temperature = stream.air.temperature_at_enthalpy_K(h0 - s.velocity_m_s * s.velocity_m_s / 2);
    EXPECT_TRUE(close(s.static_temperature_K, temperature, 3e-5));
    const double expanded = stream.air.isentropic_temperature_K(s.total_temperature_K,
                                                                s.static_pressure_Pa / s.total_pressure_Pa);
    EXPECT_TRUE(close(s.static_temperature_K, expanded, 3e-5));
    worst = std::max(worst, std::abs(s.static_temperature_K / temperature - 1));
  }
  EXPECT_GT(worst, 1e-8); // it does cost something: the other method is another one
}

// Closed form: rho V D / mu at the static state.
TEST(Station, Reynolds) {
  const Mixture air;
  const Station s = station(air, 1.2e5, 310, 0.1, std::numbers::pi / 4 * 0.06 * 0.06).value();
  EXPECT_TRUE(close(reynolds(air, s, 0.06),
                    4 * 0.1 / (std::numbers::pi * 0.06 * air.viscosity_Pa_s(s.static_temperature_K)), 1e-13));
}

} // namespace
} // namespace bellmouth::air
