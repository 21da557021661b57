// SPDX-License-Identifier: GPL-3.0-or-later
// Moist air and the standard atmosphere against tests/reference/air.csv, where the source stands beside every
// row.
#include "support/close.hpp"
#include "support/reference.hpp"

#include <bellmouth/air.hpp>

#include <functional>
#include <random>
#include <vector>

namespace bellmouth::air {
namespace {

using test::close;
using test::Row;

double temperature(const Row& row) {
  return row.number("T_K");
}
double altitude(const Row& row) {
  return row.number("altitude_m");
}
Mixture moist(const Row& row) {
  return Mixture(humidity_ratio(row.number("T_K"), row.number("p_Pa"), row.number("RH")));
}
double moist_density(const Row& row) {
  return moist(row).density_kg_m3(row.number("p_Pa"), row.number("T_K"));
}

/// How one quantity of air.csv is computed here. `relative` is the tolerance; zero takes the row's own.
struct Quantity {
  const char* name;
  std::size_t rows; ///< how many rows of it the file holds, so that none goes missing unnoticed
  double relative;
  std::function<double(const Row&)> value;
};

void PrintTo(const Quantity& quantity, std::ostream* stream) {
  *stream << quantity.name;
}

class AirReference : public testing::TestWithParam<Quantity> {};

TEST_P(AirReference, AgreesWithEveryRow) {
  const Quantity& quantity = GetParam();
  std::size_t rows = 0;
  for (const Row& row : test::reference("air.csv")) {
    if (row.text("quantity") != quantity.name)
      continue;
    ++rows;
    const double tolerance = quantity.relative > 0 ? quantity.relative : row.number("rtol");
    EXPECT_TRUE(close(quantity.value(row), row.number("value"), tolerance)) << row.text("row_id");
  }
  EXPECT_EQ(rows, quantity.rows);
}

std::string name_of(const testing::TestParamInfo<Quantity>& info) {
  return info.param.name;
}

// Closed form or other method, at the row's own tolerance or the seven figures the row is printed with: the
// same formula from the named standard.
std::vector<Quantity> same_formula() {
  return {
      Quantity{"ISA_T_geopotential", 15, 1e-6,
               [](const Row& r) { return standard_atmosphere_geopotential(altitude(r)).temperature_K; }},
      Quantity{"ISA_p_geopotential", 15, 0,
               [](const Row& r) { return standard_atmosphere_geopotential(altitude(r)).pressure_Pa; }},
      Quantity{"ISA_rho_geopotential", 15, 0,
               [](const Row& r) { return standard_atmosphere_geopotential(altitude(r)).density_kg_m3; }},
      Quantity{"USSA76_T_geometric", 8, 0,
               [](const Row& r) { return standard_atmosphere(altitude(r)).temperature_K; }},
      // The library's gas constant differs in the sixth figure.
      Quantity{"USSA76_p_geometric", 8, 3e-6,
               [](const Row& r) { return standard_atmosphere(altitude(r)).pressure_Pa; }},
      Quantity{"USSA76_rho_geometric", 8, 3e-6,
               [](const Row& r) { return standard_atmosphere(altitude(r)).density_kg_m3; }},
      Quantity{"USSA76_mu_geometric", 8, 0,
               [](const Row& r) {
                 return standard_viscosity_Pa_s(standard_atmosphere(altitude(r)).temperature_K);
               }},
      Quantity{"mu_Sutherland_USSA76", 15, 5e-7,
               [](const Row& r) { return standard_viscosity_Pa_s(temperature(r)); }},
      Quantity{"cp_dry_air_NASA7", 14, 1e-6, [](const Row& r) { return Mixture().cp_J_kgK(temperature(r)); }},
      Quantity{"gamma_dry_air_NASA7", 14, 1e-6, [](const Row& r) { return Mixture().gamma(temperature(r)); }},
      Quantity{"T2s_variable_cp", 12, 0,
               [](const Row& r) {
                 return Mixture().isentropic_temperature_K(temperature(r), r.number("p_Pa") / 1e5);
               }},
      Quantity{"psat_water_ASHRAE", 17, 0,
               [](const Row& r) { return saturation_pressure_Pa(temperature(r)); }}};
}
INSTANTIATE_TEST_SUITE_P(SameFormula, AirReference, testing::ValuesIn(same_formula()), name_of);

// Published values, at the figures printed.
std::vector<Quantity> published() {
  return {
      Quantity{"USSA76_T_geometric_table", 5, 0,
               [](const Row& r) { return standard_atmosphere(altitude(r)).temperature_K; }},
      Quantity{"USSA76_p_geometric_table", 5, 0,
               [](const Row& r) { return standard_atmosphere(altitude(r)).pressure_Pa; }},
      Quantity{"USSA76_rho_geometric_table", 5, 0,
               [](const Row& r) { return standard_atmosphere(altitude(r)).density_kg_m3; }},
      Quantity{"USSA76_mu_geometric_table", 5, 0,
               [](const Row& r) {
                 return standard_viscosity_Pa_s(standard_atmosphere(altitude(r)).temperature_K);
               }},
      // The standard holds the ratio of specific heats at 1.4; ours is 1.4011 at -40 C and 1.3998 at 28 C.
      Quantity{"USSA76_a_geometric", 8, 4e-4,
               [](const Row& r) {
                 return Mixture().sound_speed_m_s(standard_atmosphere(altitude(r)).temperature_K);
               }},
      Quantity{"USSA76_a_geometric_table", 5, 4e-4,
               [](const Row& r) {
                 return Mixture().sound_speed_m_s(standard_atmosphere(altitude(r)).temperature_K);
               }},
      Quantity{"std_atm_p_ASHRAE", 6, 0,
               [](const Row& r) { return standard_atmosphere_geopotential(altitude(r)).pressure_Pa; }},
      // The table is older; ours is within its own 1 %.
      Quantity{"mu_Incropera_A4", 8, 6e-3,
               [](const Row& r) { return Mixture().viscosity_Pa_s(temperature(r)); }},
      // The table is for real air, 0.3 % above the ideal gas at 250 K.
      Quantity{"cp_Incropera_A4", 8, 3.1e-3, [](const Row& r) { return Mixture().cp_J_kgK(temperature(r)); }},
      Quantity{"rho_Incropera_A4", 4, 0,
               [](const Row& r) { return Mixture().density_kg_m3(r.number("p_Pa"), temperature(r)); }},
      Quantity{"psat_water_ASHRAE_table", 7, 0,
               [](const Row& r) { return saturation_pressure_Pa(temperature(r)); }},
      Quantity{"rho_moist_ASHRAE_example", 1, 0,
               [](const Row& r) { return Mixture(0.02).density_kg_m3(r.number("p_Pa"), temperature(r)); }},
      Quantity{"v_moist_ASHRAE_example1", 1, 0,
               [](const Row& r) { return (1 + moist(r).humidity_ratio()) / moist_density(r); }},
      Quantity{"v_dry_air_ASHRAE", 1, 0, [](const Row& r) { return 1 / moist_density(r); }}};
}
INSTANTIATE_TEST_SUITE_P(Published, AirReference, testing::ValuesIn(published()), name_of);

// Other models of the same air. The tolerance is what the simpler model costs, as the header of air.csv
// states it.
std::vector<Quantity> other_model() {
  return {// The same authors with the density of one atmosphere, which ours leaves out.
          Quantity{"mu_LemmonJacobsen2004", 15, 1.1e-3,
                   [](const Row& r) { return Mixture().viscosity_Pa_s(temperature(r)); }},
          Quantity{"mu_Sutherland_White", 15, 2e-3,
                   [](const Row& r) { return standard_viscosity_Pa_s(temperature(r)); }},
          // Real gas at one atmosphere against ideal gas: worst at the cold end.
          Quantity{"cp_dry_air_iapws", 14, 3.2e-3,
                   [](const Row& r) { return Mixture().cp_J_kgK(temperature(r)); }},
          Quantity{"gamma_dry_air_iapws", 14, 2.5e-3,
                   [](const Row& r) { return Mixture().gamma(temperature(r)); }},
          Quantity{"speed_of_sound_iapws", 14, 1.2e-3,
                   [](const Row& r) { return Mixture().sound_speed_m_s(temperature(r)); }},
          Quantity{"rho_dry_air_iapws", 14, 1.5e-3,
                   [](const Row& r) { return Mixture().density_kg_m3(r.number("p_Pa"), temperature(r)); }},
          // An ideal gas has a compressibility factor of one: good to 0.1 % in boost ducting.
          Quantity{"Z_compressibility", 9, 1e-3,
                   [](const Row& r) {
                     const Mixture air;
                     return r.number("p_Pa") / (air.density_kg_m3(r.number("p_Pa"), temperature(r)) *
                                                air.gas_constant_J_kgK() * temperature(r));
                   }},
          Quantity{"psat_water_IAPWS97", 15, 1.2e-3,
                   [](const Row& r) { return saturation_pressure_Pa(temperature(r)); }},
          // The CIPM equation is meant for 0 to 27 C; the file follows it to 60 C.
          Quantity{"psat_water_CIPM", 11, 1.2e-3,
                   [](const Row& r) { return saturation_pressure_Pa(temperature(r)); }},
          // That library's dry-air gas constant is 287.042 J/(kg K), ours follows from the composition:
          // 287.048.
          Quantity{"rho_moist_psychrolib", 12, 4e-5, moist_density},
          Quantity{"rho_moist_CIPM2007", 11, 7e-4, moist_density}};
}
INSTANTIATE_TEST_SUITE_P(OtherModel, AirReference, testing::ValuesIn(other_model()), name_of);

// Identity: the quantities of air.csv are all tested above.
TEST(AirReferenceFile, IsTestedWhole) {
  std::size_t tested = 0;
  for (const auto& quantities : {same_formula(), published(), other_model()})
    for (const Quantity& quantity : quantities)
      tested += quantity.rows;
  EXPECT_EQ(test::reference("air.csv").size(), tested);
}

// Identity: h and s are integrals of cp, and their inverses undo them.
TEST(Mixture, EnthalpyAndIsentropeFollowCp) {
  std::mt19937_64 random(20240501);
  std::uniform_real_distribution<double> temperature_K(205, 990);
  std::uniform_real_distribution<double> humidity(0, 0.05);
  std::uniform_real_distribution<double> ratio(0.4, 4);
  for (int i = 0; i < 2000; ++i) {
    const Mixture air(humidity(random));
    const double t = temperature_K(random);
    EXPECT_TRUE(close((air.enthalpy_J_kg(t + 0.5) - air.enthalpy_J_kg(t - 0.5)), air.cp_J_kgK(t), 1e-7));
    EXPECT_TRUE(close(air.temperature_at_enthalpy_K(air.enthalpy_J_kg(t)), t, 1e-12));
    const double pressure = ratio(random);
    const double compressed = air.isentropic_temperature_K(t, pressure);
    EXPECT_TRUE(close(air.isentropic_temperature_K(compressed, 1 / pressure), t, 1e-12));
    const double d = 1e-5; // dT/T = R/cp dp/p
    EXPECT_TRUE(
        close((air.isentropic_temperature_K(t, 1 + d) - air.isentropic_temperature_K(t, 1 - d)) / (2 * d),
              air.gas_constant_J_kgK() / air.cp_J_kgK(t) * t, 1e-8));
    EXPECT_TRUE(close(air.gamma(t), air.cp_J_kgK(t) / (air.cp_J_kgK(t) - air.gas_constant_J_kgK()), 1e-15));
  }
  EXPECT_NEAR(Mixture().enthalpy_J_kg(298.15), 0, 1e-9);
}

// Identity: past the ends of the polynomial everything stays continuous and invertible.
TEST(Mixture, StaysInvertibleOutsideTheRange) {
  const Mixture air(0.01);
  EXPECT_EQ(air.cp_J_kgK(150), air.cp_J_kgK(lowest_temperature_K));
  EXPECT_EQ(air.cp_J_kgK(1600), air.cp_J_kgK(highest_temperature_K));
  for (const double t : {60.0, 150.0, 199.999, 200.001, 999.999, 1000.001, 1600.0, 4000.0}) {
    EXPECT_TRUE(close(air.temperature_at_enthalpy_K(air.enthalpy_J_kg(t)), t, 1e-12)) << t;
    for (const double ratio : {0.01, 0.5, 1.0, 2.0, 100.0})
      EXPECT_TRUE(
          close(air.isentropic_temperature_K(air.isentropic_temperature_K(t, ratio), 1 / ratio), t, 1e-11))
          << t;
    EXPECT_TRUE(
        close(air.enthalpy_J_kg(t + 0.01) - air.enthalpy_J_kg(t - 0.01), 0.02 * air.cp_J_kgK(t), 1e-5))
        << t;
  }
}

// Closed form: mixing by mass. Gas constants from the molar masses, 8314.4626/28.9656 and 8314.4626/18.01528.
TEST(Mixture, VapourMakesAirLighterAndHoldMoreHeat) {
  EXPECT_TRUE(close(Mixture().gas_constant_J_kgK(), 287.048, 1e-5));
  EXPECT_TRUE(close(Mixture(0.02).gas_constant_J_kgK(), (287.048 + 0.02 * 461.523) / 1.02, 1e-5));
  // cp of water vapour at 300 K, 1865 J/(kg K): from memory of the NIST tables, hence the wide tolerance.
  EXPECT_TRUE(close(Mixture(0.02).cp_J_kgK(300), (Mixture().cp_J_kgK(300) + 0.02 * 1865) / 1.02, 1e-4));
  EXPECT_LT(Mixture(0.02).density_kg_m3(1e5, 300), Mixture().density_kg_m3(1e5, 300));
}

TEST(Mixture, ComparesByComposition) {
  EXPECT_EQ(Mixture(), Mixture(0.0));
  EXPECT_EQ(Mixture(0.012), Mixture(0.012));
  EXPECT_NE(Mixture(0.012), Mixture(0.013));
}

// Identity: pressure falls with height as the weight of the air above, dp/dH = -rho g.
TEST(StandardAtmosphere, IsInHydrostaticBalance) {
  for (double h = -1900; h <= 10900; h += 100) {
    const double rise = standard_atmosphere_geopotential(h + 1).pressure_Pa -
                        standard_atmosphere_geopotential(h - 1).pressure_Pa;
    EXPECT_TRUE(close(rise / 2, -standard_atmosphere_geopotential(h).density_kg_m3 * 9.80665, 1e-7)) << h;
  }
  EXPECT_EQ(standard_atmosphere(0).pressure_Pa, 101325.0);
}

} // namespace
} // namespace bellmouth::air
