// SPDX-License-Identifier: GPL-3.0-or-later
// The bounds of what may be said of machines, pieces, branches, the bay and measurements, each with what is
// told outside them. They are our own: wide enough for whatever is built, narrow enough for the models.
#include "support/sample_builds.hpp"

#include <bellmouth/build.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <string>
#include <vector>

namespace bellmouth::build {
namespace {

using test::deg;
using test::mm;

template <class Kind> Kind& kind_of(Build& build, const char* id) {
  return std::get<Kind>(std::ranges::find(build.machines, MachineId{id}, &Machine::id)->kind);
}
machine::Filter& filter(Build& b) {
  return kind_of<machine::Filter>(b, "filter");
}
machine::MeterBody& meter(Build& b) {
  return kind_of<machine::MeterBody>(b, "meter");
}
machine::DisplacementBlower& blower(Build& b) {
  return kind_of<machine::DisplacementBlower>(b, "blower");
}
machine::GearedCompressor& geared(Build& b) {
  return kind_of<machine::GearedCompressor>(b, "compressor");
}
machine::ChargeCooler& water(Build& b) {
  return kind_of<machine::ChargeCooler>(b, "water_cooler");
}
machine::ChargeCooler& front(Build& b) {
  return kind_of<machine::ChargeCooler>(b, "front_cooler");
}
machine::Engine& engine(Build& b) {
  return std::get<machine::Engine>(b.demand);
}

/// A number of a build: its bounds in SI and what is said of a value outside. `low` may be a bound that is
/// out itself.
struct Bounds {
  std::string path, accepted;
  double low, high;
  std::function<double&(Build&)> number;
  Build (*sample)() = &test::geared_build;
};

const std::vector<Bounds>& all_bounds() {
  const std::string rpm = "a number not below 1 rpm and not above 500000 rpm";
  const std::string share = "a number not below 0 and not above 1";
  const std::string efficiency = "a number not below 0.01 and not above 1";
  const std::string volumetric = "a number not below 0.01 and not above 1.2";
  const std::string map_ratio = "a number not below 0.5 and not above 20";
  const std::string flow = "a number not below 1e-06 kg/s and not above 100 kg/s";
  const std::string loss = "a number not below 0 and not above 1000";
  const std::string kelvin = "a number not below 200 K and not above 1000 K";
  static const std::vector<Bounds> all{
      {"$.machines[0].wet_factor", "a number not below 1 and not above 100", 1, 100,
       [](Build& b) -> double& { return filter(b).wet_factor; }},
      {"$.machines[1].screen.wire_diameter_mm", "a number above 0 mm and not above 50 mm", 0, mm(50),
       [](Build& b) -> double& { return meter(b).screen->wire_diameter_m; }},
      {"$.machines[1].screen.pitch_mm", "a number above 0 mm and not above 50 mm", 0, mm(50),
       [](Build& b) -> double& { return meter(b).screen->pitch_m; }},
      {"$.machines[2].drive_ratio", "a number not below 0.01 and not above 100", 0.01, 100,
       [](Build& b) -> double& { return geared(b).drive_ratio; }},
      {"$.machines[2].mechanical_efficiency", efficiency, 0.01, 1,
       [](Build& b) -> double& { return geared(b).mechanical_efficiency; }},
      {"$.machines[2].max_speed_rpm", rpm, 1 / 60.0, 500e3 / 60,
       [](Build& b) -> double& { return geared(b).max_speed_rev_s; }},
      {"$.machines[2].max_outlet_temperature_K", kelvin, 200, 1000,
       [](Build& b) -> double& { return geared(b).max_outlet_temperature_K; }},
      {"$.machines[2].map.reference_temperature_K", kelvin, 200, 1000,
       [](Build& b) -> double& { return geared(b).map.reference_temperature_K; }},
      {"$.machines[2].map.reference_pressure_Pa", "a number not below 10000 Pa and not above 1000000 Pa",
       10e3, 1e6, [](Build& b) -> double& { return geared(b).map.reference_pressure_Pa; }},
      {"$.machines[2].map.points[5].corrected_speed_rpm", rpm, 1 / 60.0, 500e3 / 60,
       [](Build& b) -> double& { return geared(b).map.points[5].corrected_speed_rev_s; }},
      {"$.machines[2].map.points[5].corrected_flow_kg_s", flow, 1e-6, 100,
       [](Build& b) -> double& { return geared(b).map.points[5].corrected_flow_kg_s; }},
      {"$.machines[2].map.points[5].pressure_ratio", map_ratio, 0.5, 20,
       [](Build& b) -> double& { return geared(b).map.points[5].pressure_ratio; }},
      {"$.machines[2].map.points[5].adiabatic_efficiency", efficiency, 0.01, 1,
       [](Build& b) -> double& { return geared(b).map.points[5].adiabatic_efficiency; }},
      {"$.machines[2].bypass.bore_mm", "a number above 0 mm and not above 1000 mm", 0, 1,
       [](Build& b) -> double& { return geared(b).bypass->bore_m; }},
      {"$.machines[2].bypass.opening", share, 0, 1,
       [](Build& b) -> double& { return geared(b).bypass->opening; }},
      {"$.machines[2].bypass.discharge_coefficient", efficiency, 0.01, 1,
       [](Build& b) -> double& { return geared(b).bypass->discharge_coefficient; }},
      {"$.machines[2].bypass.leak_area_m2", "a number not below 0 m2 and not above 0.01 m2", 0, 0.01,
       [](Build& b) -> double& { return geared(b).bypass->leak_area_m2; }},
      {"$.machines[3].core.conductance_W_K", "a number above 0 W/K and not above 100000 W/K", 0, 100e3,
       [](Build& b) -> double& { return water(b).core->conductance_W_K; }},
      {"$.machines[3].core.rated_charge_flow_kg_s", flow, 1e-6, 100,
       [](Build& b) -> double& { return water(b).core->rated_charge_flow_kg_s; }},
      {"$.machines[3].core.charge_side_share", share, 0, 1,
       [](Build& b) -> double& { return water(b).core->charge_side_share; }},
      {"$.machines[3].core.coolant_flow_kg_s", flow, 1e-6, 100,
       [](Build& b) -> double& { return water(b).core->coolant_flow_kg_s; }},
      {"$.machines[3].loop.water_flow_kg_s", flow, 1e-6, 100,
       [](Build& b) -> double& { return water(b).loop->water_flow_kg_s; }},
      {"$.machines[3].loop.front_effectiveness", efficiency, 0.01, 1,
       [](Build& b) -> double& { return water(b).loop->front_effectiveness; }},
      {"$.machines[3].loop.front_air_flow_kg_s", flow, 1e-6, 100,
       [](Build& b) -> double& { return water(b).loop->front_air_flow_kg_s; }},
      {"$.machines[4].effectiveness_table[1].charge_flow_kg_s", flow, 1e-6, 100,
       [](Build& b) -> double& { return front(b).effectiveness_table[1].charge_flow_kg_s; }},
      {"$.machines[4].effectiveness_table[1].effectiveness", share, 0, 1,
       [](Build& b) -> double& { return front(b).effectiveness_table[1].effectiveness; }},
      {"$.machines[5].opening_deg", "a number not below 1 deg and not above 90 deg", deg(1), deg(90),
       [](Build& b) -> double& { return *kind_of<machine::Throttle>(b, "throttle").opening_rad; }},
      {"$.machines[1].internal_volume_ratio", "a number not below 1 and not above 5", 1, 5,
       [](Build& b) -> double& { return blower(b).internal_volume_ratio; }, &test::leaky_blower_build},
      {"$.machines[1].leak.speed_rpm", rpm, 1 / 60.0, 500e3 / 60,
       [](Build& b) -> double& { return blower(b).leak->speed_rev_s; }, &test::leaky_blower_build},
      {"$.machines[1].leak.pressure_ratio", "a number above 1 and not above 20", 1, 20,
       [](Build& b) -> double& { return blower(b).leak->pressure_ratio; }, &test::leaky_blower_build},
      {"$.machines[1].leak.volumetric_efficiency", volumetric, 0.01, 1.2,
       [](Build& b) -> double& { return blower(b).leak->volumetric_efficiency; }, &test::leaky_blower_build},
      {"$.machines[1].map[4].speed_rpm", rpm, 1 / 60.0, 500e3 / 60,
       [](Build& b) -> double& { return blower(b).map[4].speed_rev_s; }, &test::mapped_blower_build},
      {"$.machines[1].map[4].pressure_ratio", map_ratio, 0.5, 20,
       [](Build& b) -> double& { return blower(b).map[4].pressure_ratio; }, &test::mapped_blower_build},
      {"$.machines[1].map[4].volumetric_efficiency", volumetric, 0.01, 1.2,
       [](Build& b) -> double& { return blower(b).map[4].volumetric_efficiency; },
       &test::mapped_blower_build},
      {"$.machines[1].map[4].adiabatic_efficiency", efficiency, 0.01, 1,
       [](Build& b) -> double& { return blower(b).map[4].adiabatic_efficiency; }, &test::mapped_blower_build},
      {"$.demand.pulsation_factor", "a number not below 1 and not above 10", 1, 10,
       [](Build& b) -> double& { return engine(b).pulsation_factor; }},
      {"$.demand.lost_in_scavenging", "a number not below 0 and not above 0.9", 0, 0.9,
       [](Build& b) -> double& { return engine(b).lost_in_scavenging; }},
      {"$.demand.work_per_air_J_kg", "a number not below 10000 J/kg and not above 5000000 J/kg", 1e4, 5e6,
       [](Build& b) -> double& { return *engine(b).work_per_air_J_kg; }},
      {"$.branches[1].split_loss", loss, 0, 1000,
       [](Build& b) -> double& { return b.branches[1].split_loss; }},
      {"$.branches[1].join_loss", loss, 0, 1000, [](Build& b) -> double& { return b.branches[1].join_loss; }},
      {"$.bay.temperature_K", "a number not below 200 K and not above 500 K", 200, 500,
       [](Build& b) -> double& { return b.bay->temperature_K; }},
      {"$.bay.speed_m_s", "a number not below 0 m/s and not above 100 m/s", 0, 100,
       [](Build& b) -> double& { return b.bay->speed_m_s; }},
      {"$.measured[1].factor", "a number not below 0.05 and not above 20", 0.05, 20,
       [](Build& b) -> double& { return b.measured[1].factor; }},
      {"$.measured[1].band", "a number not below 0 and not above 5", 0, 5,
       [](Build& b) -> double& { return b.measured[1].band; }},
  };
  return all;
}

TEST(Bounds, AreToldOutsideAndHoldInside) {
  for (const Bounds& c : all_bounds()) {
    SCOPED_TRACE(c.path);
    const auto error_with = [&](double value) {
      Build build = c.sample();
      c.number(build) = value;
      return validate(build);
    };
    const bool low_is_out = c.accepted.starts_with("a number above");
    // A step that the digits of a file tell from the bound.
    const double step = 1e-9 * std::max(1.0, std::abs(c.high));
    std::vector<double> outside{c.low - step, c.high + step, std::numeric_limits<double>::quiet_NaN(),
                                std::numeric_limits<double>::infinity()};
    std::vector<double> inside{c.low + step, c.high};
    (low_is_out ? outside : inside).push_back(c.low);
    for (const double value : outside) {
      const auto error = error_with(value);
      ASSERT_TRUE(error.has_value()) << value;
      EXPECT_EQ(error->place.path, c.path) << value;
      EXPECT_EQ(error->accepted, c.accepted) << value;
    }
    // At its bound a number may break a rule that speaks of others too, but not the bound.
    for (const double value : inside) {
      const auto error = error_with(value);
      EXPECT_TRUE(!error || error->accepted != c.accepted) << value;
    }
  }
}

TEST(Bounds, OfLaggingAndTipsAreToldByThePiece) {
  const auto lagged = [](double thickness_m, double conductivity_W_mK) {
    return validate(Piece{Tube{mm(60), mm(2), mm(300), {}},
                          Material::aluminium,
                          {},
                          "",
                          Lagging{thickness_m, conductivity_W_mK}},
                    "$");
  };
  EXPECT_EQ(lagged(mm(50), 0.005), std::nullopt);
  EXPECT_EQ(lagged(mm(0.1), 500), std::nullopt);
  EXPECT_EQ(lagged(0, 0.05)->place.path, "$.lagging.thickness_mm");
  EXPECT_EQ(lagged(mm(50.1), 0.05)->accepted, "a number above 0 mm and not above 50 mm");
  EXPECT_EQ(lagged(mm(5), 0.0049)->place.path, "$.lagging.conductivity_W_mK");
  EXPECT_EQ(lagged(mm(5), 500.1)->accepted, "a number not below 0.005 W/(m K) and not above 500 W/(m K)");
  const auto boss = [](double diameter_m, double depth_m) {
    return validate(
        Piece{SensorBoss{mm(10), 0, "M12x1.5", Tip{diameter_m, depth_m}}, Material::aluminium, {}, ""}, "$");
  };
  EXPECT_EQ(boss(mm(8), mm(20)), std::nullopt);
  EXPECT_EQ(boss(0, mm(20))->place.path, "$.tip.diameter_mm");
  EXPECT_EQ(boss(mm(8), 0)->place.path, "$.tip.depth_mm");
  Piece lagged_boss{SensorBoss{mm(10), 0, "M12x1.5"}, Material::aluminium, {}, "", Lagging{mm(5), 0.05}};
  EXPECT_EQ(validate(lagged_boss, "$")->accepted, "lagging of pieces only, not of fittings");
}

/// The build of geared_build() with another tip, its host a cone where `cone`.
std::optional<Error> error_of_tip(const Tip& tip, bool cone) {
  Build build = test::geared_build();
  const PieceRef host{{"only"}, {"suction"}, 1}, boss{{"only"}, {"suction"}, 2};
  if (cone)
    build = with_piece_replaced(build, host,
                                {Cone{mm(76.2), mm(60), mm(1.5), mm(160), {}}, Material::aluminium, {}, ""});
  Piece piece = *find(build, boss);
  std::get<SensorBoss>(piece.shape).tip = tip;
  return validate(with_piece_replaced(build, boss, piece));
}

// Closed form: bore of the tube 76.2 - 2 * 1.5 = 73.2 mm, half of its area pi/8 73.2^2 = 2104.2 mm2; of the
// cone's narrow end 57 mm.
TEST(Bounds, ATipStaysWithinTheBoreOfItsHost) {
  const std::string path = "$.options[0].runs[0].pieces[2].tip";
  EXPECT_EQ(error_of_tip({mm(8), mm(73.2)}, false), std::nullopt);
  EXPECT_EQ(error_of_tip({mm(8), mm(73.3)}, false)->place.path, path + ".depth_mm");
  EXPECT_EQ(error_of_tip({mm(8), mm(73.3)}, false)->accepted,
            "a depth not above the bore of 73.2 mm of the tube");
  EXPECT_EQ(error_of_tip({mm(28.7), mm(73.2)}, false), std::nullopt);
  EXPECT_EQ(error_of_tip({mm(28.8), mm(73.2)}, false)->place.path, path + ".diameter_mm");
  EXPECT_EQ(error_of_tip({mm(8), mm(57)}, true), std::nullopt);
  EXPECT_EQ(error_of_tip({mm(8), mm(57.1)}, true)->accepted,
            "a depth not above the bore of 57 mm of the cone");
}

// Rules between the numbers of a machine; those that a file can break are told in malformed/.
TEST(Bounds, AScreenLeavesAnOpening) {
  Build build = test::geared_build();
  meter(build).screen = machine::Screen{mm(1), mm(1.1)};
  EXPECT_EQ(validate(build), std::nullopt);
  meter(build).screen = machine::Screen{mm(1), mm(1.09)};
  EXPECT_EQ(validate(build)->place.path, "$.machines[1].screen.pitch_mm");
}

TEST(Bounds, ALeakIsBelowWhatIsDeliveredWithoutPressure) {
  Build build = test::leaky_blower_build();
  blower(build).leak->volumetric_efficiency = blower(build).volumetric_efficiency;
  EXPECT_EQ(validate(build)->place.path, "$.machines[1].leak.volumetric_efficiency");
  EXPECT_EQ(validate(build)->found, "0.94");
}

TEST(Bounds, MapsAreToldByTheirFault) {
  Build build = test::mapped_blower_build();
  blower(build).map.pop_back();
  auto error = validate(build);
  ASSERT_TRUE(error.has_value());
  EXPECT_EQ(error->place.path, "$.machines[1].map");
  EXPECT_EQ(error->found, "a speed that lacks one of the pressure ratios of the others");
  build = test::geared_build();
  std::swap(geared(build).map.points[0], geared(build).map.points[1]);
  error = validate(build);
  ASSERT_TRUE(error.has_value());
  EXPECT_EQ(error->place.path, "$.machines[2].map.points");
  EXPECT_EQ(error->found, "a line of constant speed whose flows do not rise");
}

} // namespace
} // namespace bellmouth::build
