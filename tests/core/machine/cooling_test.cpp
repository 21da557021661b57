// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/close.hpp"
#include "support/root.hpp"

#include <bellmouth/machine.hpp>
#include <bellmouth/machine/cooling.hpp>

#include <gtest/gtest.h>

#include <cmath>

namespace bellmouth::machine {
namespace {

using test::close;

ChargeCooler by_core(Arrangement arrangement = Arrangement::cross_flow_unmixed) {
  ChargeCooler cooler{{{0.1, 3000}, {0.05, 900}}, 0.65, 5};
  cooler.core = CoolerCore{arrangement, 250, 0.12, 0.6, 0.5};
  return cooler;
}
ChargeCooler with_loop() {
  ChargeCooler cooler = by_core(Arrangement::counterflow);
  cooler.air_to_water = true;
  cooler.core->coolant_flow_kg_s = 0.25;
  cooler.loop = CoolantLoop{0.25, 0.55, 0.6};
  return cooler;
}

TEST(PreparedCooler, HoldsAConstantAndFollowsATable) {
  ChargeCooler cooler{{{0.1, 3000}}, 0.65, 5};
  EXPECT_EQ(PreparedCooler(cooler).act(0.1, 1010).effectiveness, 0.65);
  EXPECT_EQ(PreparedCooler(cooler).act(0.0, 1010).by_flow, 0.0);
  cooler.effectiveness_table = {{0.05, 0.8}, {0.1, 0.7}, {0.2, 0.55}};
  const PreparedCooler table(cooler);
  EXPECT_TRUE(close(table.act(0.075, 1010).effectiveness, 0.75, 1e-12));
  EXPECT_TRUE(close(table.act(0.15, 1010).by_flow, -1.5, 1e-12));
  EXPECT_EQ(table.act(0.01, 1010).effectiveness, 0.8);
  EXPECT_EQ(table.act(0.3, 1010).effectiveness, 0.55);
  EXPECT_TRUE(table.act(0.01, 1010).outside_table);
  EXPECT_TRUE(table.act(0.3, 1010).outside_table);
  EXPECT_FALSE(table.act(0.2, 1010).outside_table);
  EXPECT_FALSE(table.act(0.05, 1010).outside_table);
  EXPECT_FALSE(table.inside(0.1, 1010, 400, 300));
}

// Identity: at the rated flow the core has its rated conductance.
TEST(PreparedCooler, IsTheCoreAtItsRatedFlow) {
  const double cp = 1012, rate = 0.12 * cp, other = 0.5 * cooling_air_cp_J_kgK;
  const auto found = PreparedCooler(by_core()).act(0.12, cp);
  EXPECT_TRUE(close(found.effectiveness,
                    effectiveness(Arrangement::cross_flow_unmixed, 250 / rate, rate / other), 1e-12));
  EXPECT_FALSE(found.outside_table);
}

// Other method: 1/(U A) is the sum of the two sides, the charge's as the flow to the power 0.8; effectiveness
// on the weaker stream, turned to the charge's.
TEST(PreparedCooler, ChangesItsConductanceWithTheCharge) {
  const PreparedCooler cooler(by_core());
  for (const double flow : {0.01, 0.06, 0.3, 0.9}) {
    const double cp = 1010, charge = flow * cp, air = 0.5 * cooling_air_cp_J_kgK;
    const double resistance = 0.6 / 250 / std::pow(flow / 0.12, 0.8) + 0.4 / 250;
    const double least = std::min(charge, air);
    const double core =
        effectiveness(Arrangement::cross_flow_unmixed, 1 / resistance / least, least / std::max(charge, air));
    EXPECT_TRUE(close(cooler.act(flow, cp).effectiveness, core * least / charge, 1e-12)) << flow;
    const auto inside = cooler.inside(flow, cp, 400, 300);
    EXPECT_TRUE(close(inside->core_effectiveness, core, 1e-12));
    EXPECT_TRUE(close(inside->heat_W, core * least * 100, 1e-12));
    EXPECT_EQ(inside->coolant_in_K, 300);
    EXPECT_TRUE(close(inside->coolant_out_K - 300, inside->heat_W / air, 1e-12));
  }
}

// Published value: worked_examples.csv W45 and W46 (Incropera et al., Ex. 11.3 and 11.4): gas of 1.5 kg/s
// with 1000 J/(kg K) at 250 C, water of 1 kg/s with 4197 J/(kg K) at 35 C, U A = 4000 W/K, both unmixed: 0.82
// by the chart (2.5 %), gas to 73.7 C (6 % of it), water to 98 C (3 %). The area of the first, 39.7 m2 (3 %),
// follows from the NTU at which the effectiveness is 0.75.
TEST(PreparedCooler, GivesTheTextbookHeaters) {
  ChargeCooler cooler{{{0.1, 3000}}, 0.65, 0, true};
  cooler.core = CoolerCore{Arrangement::cross_flow_unmixed, 4000, 1.5, 0.5, 4197 / water_cp_J_kgK};
  const auto found = PreparedCooler(cooler).inside(1.5, 1000, 250, 35);
  EXPECT_TRUE(close(found->core_effectiveness, 0.82, 0.025));
  EXPECT_TRUE(close(250 - found->heat_W / 1500, 73.7, 0.06));
  EXPECT_TRUE(close(found->coolant_out_K, 98, 0.03));
  // Ex. 11.3: water 1 kg/s from 35 to 125 C takes what gas gives from 300 to 100 C; U = 100 W/(m2 K).
  const double heat = 4197 * 90, gas = heat / 200, wanted = 200.0 / 265.0;
  EXPECT_TRUE(close(wanted, 0.75, 0.01));
  const double ntu = test::root(
      [&](double n) { return effectiveness(Arrangement::cross_flow_unmixed, n, gas / 4197) - wanted; }, 0.1,
      10);
  EXPECT_TRUE(close(ntu * gas / 100, 39.7, 0.03));
}

// Published value: worked_examples.csv W47 (Holman, Ex. 10.9): oil of 0.725 kg/s with 1900 J/(kg K) at 15 C
// heated by steam of 5.2 kg/s with 1860 J/(kg K) at 130 C, mixed; U A = 275 x 10.83 W/K. The book rounds to
// 0.80 (4.5 %) and finds 34 % less heat than the 193.44 kW of full flow (7 %).
TEST(PreparedCooler, GivesTheTextbookOilHeater) {
  ChargeCooler cooler{{{0.1, 3000}}, 0.65, 0};
  cooler.core = CoolerCore{Arrangement::cross_flow_max_mixed, 275 * 10.83, 0.725, 0.0,
                           5.2 * 1860 / cooling_air_cp_J_kgK};
  const auto found = PreparedCooler(cooler).inside(0.725, 1900, 15, 130);
  EXPECT_TRUE(close(found->core_effectiveness, 0.80, 0.045));
  EXPECT_TRUE(close(100 * (1 + found->heat_W / 193.44e3), 34, 0.07));
}

// Identity: a stream that is mixed stays so when it becomes the stronger one; nothing jumps there.
TEST(PreparedCooler, KeepsTheMixedSideMixed) {
  for (const auto arrangement : {Arrangement::cross_flow_min_mixed, Arrangement::cross_flow_max_mixed}) {
    const PreparedCooler cooler(by_core(arrangement));
    const double cp = cooling_air_cp_J_kgK; // both streams are as strong at 0.5 kg/s
    const double below = cooler.act(0.5 * (1 - 1e-9), cp).effectiveness;
    EXPECT_TRUE(close(cooler.act(0.5 * (1 + 1e-9), cp).effectiveness, below, 1e-8));
    const auto other = arrangement == Arrangement::cross_flow_min_mixed ? Arrangement::cross_flow_max_mixed
                                                                        : Arrangement::cross_flow_min_mixed;
    const auto inside = cooler.inside(1.0, cp, 400, 300);
    EXPECT_TRUE(close(inside->core_effectiveness, effectiveness(other, inside->ntu, 0.5), 1e-12));
    const auto weaker = cooler.inside(0.25, cp, 400, 300);
    EXPECT_TRUE(close(weaker->core_effectiveness, effectiveness(arrangement, weaker->ntu, 0.5), 1e-12));
  }
}

// Identity: three energy balances hold round the water circuit.
TEST(PreparedCooler, BalancesTheWaterCircuit) {
  const ChargeCooler kind = with_loop();
  const PreparedCooler cooler(kind);
  for (const double flow : {0.02, 0.1, 0.35}) {
    const double cp = 1011, inlet = 410, air = 305, water = 0.25 * water_cp_J_kgK;
    const double front = std::min(water, 0.6 * cooling_air_cp_J_kgK);
    const auto inside = cooler.inside(flow, cp, inlet, air);
    ASSERT_TRUE(inside);
    const double outlet = cooler_outlet_K(cooler.act(flow, cp).effectiveness, inlet, air);
    EXPECT_TRUE(close(flow * cp * (inlet - outlet), inside->heat_W, 1e-12));
    EXPECT_TRUE(close(water * (inside->coolant_out_K - inside->coolant_in_K), inside->heat_W, 1e-9));
    EXPECT_TRUE(close(0.55 * front * (inside->coolant_out_K - air), inside->heat_W, 1e-9));
    EXPECT_TRUE(
        close(inside->core_effectiveness * std::min(water, flow * cp) * (inlet - inside->coolant_in_K),
              inside->heat_W, 1e-9));
    EXPECT_GT(inside->coolant_in_K, air);
    // Closed form of the header.
    const double e =
        1 /
        (flow * cp *
         (1 / (inside->core_effectiveness * std::min(water, flow * cp)) + 1 / (0.55 * front) - 1 / water));
    EXPECT_TRUE(close(cooler.act(flow, cp).effectiveness, e, 1e-12));
  }
}

// Identity: with endless water and a perfect outer exchanger the loop is the core alone.
TEST(PreparedCooler, LosesNothingInAPerfectCircuit) {
  ChargeCooler perfect = with_loop();
  perfect.loop = CoolantLoop{1e6, 1.0, 1e9};
  ChargeCooler alone = perfect;
  alone.loop.reset();
  alone.core->coolant_flow_kg_s = 1e6;
  EXPECT_TRUE(close(PreparedCooler(perfect).act(0.1, 1010).effectiveness,
                    PreparedCooler(alone).act(0.1, 1010).effectiveness, 1e-6));
}

// Identity: falls with flow, with its slope by differences; the limit at no flow.
TEST(PreparedCooler, FallsWithFlowAtItsSlope) {
  for (const ChargeCooler& kind : {by_core(), by_core(Arrangement::parallel_flow), with_loop()}) {
    const PreparedCooler cooler(kind);
    double last = 1 + 1e-12;
    for (const double flow : {0.0, 1e-4, 0.01, 0.05, 0.1, 0.2, 0.6}) {
      const auto found = cooler.act(flow, 1010);
      EXPECT_LE(found.effectiveness, last);
      EXPECT_GE(found.effectiveness, 0);
      last = found.effectiveness;
      if (flow > 0.005) {
        const double step = 1e-5 * flow;
        EXPECT_TRUE(close(
            found.by_flow,
            (cooler.act(flow + step, 1010).effectiveness - cooler.act(flow - step, 1010).effectiveness) /
                (2 * step),
            1e-4, 1e-6));
      }
    }
    EXPECT_TRUE(close(cooler.act(0, 1010).effectiveness, 1, 1e-6));
    EXPECT_EQ(cooler.act(0, 1010).by_flow, 0.0);
  }
}

// Identity: the drop at rating air is what was measured, and goes with density and viscosity elsewhere.
TEST(PreparedCooler, DropsAsItWasRated) {
  const air::Mixture dry;
  const TwoTermDrop drop = PreparedCooler(by_core()).drop();
  const double density = dry.density_kg_m3(rating_pressure_Pa, rating_temperature_K),
               viscosity = dry.viscosity_Pa_s(rating_temperature_K);
  EXPECT_TRUE(close(drop.drop_Pa(0.1, density, viscosity), 3000, 1e-12));
  EXPECT_TRUE(close(drop.drop_Pa(0.05, density, viscosity), 900, 1e-12));
  EXPECT_TRUE(close(drop.drop_Pa(0.1, 2 * density, 2 * viscosity), 6000, 1e-12));
  EXPECT_TRUE(close(drop.drop_Pa(0.1, 2 * density, viscosity) - 3000,
                    3000 - drop.drop_Pa(0.1, density, 2 * viscosity) + 3000, 1e-9));
}

} // namespace
} // namespace bellmouth::machine
