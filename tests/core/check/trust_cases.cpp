// SPDX-License-Identifier: GPL-3.0-or-later
#include "rule_cases.hpp"

namespace bellmouth::test {

namespace {

using namespace build;
using enum check::Severity;

void nothing(Scene&) {}

/// So many rows of the hot side beyond one range, with 100 Pa each that may be 50 Pa or 200 Pa.
auto outside(std::size_t rows) {
  return [=](Scene& s) {
    s.after_flow = [=](flow::PathFlow& flow) {
      for (std::size_t row = 0; row < rows; ++row) {
        auto& piece = flow.runs[hot].rows[row];
        piece.outside_range = true;
        piece.range = "any angle";
        piece.drop_Pa = 100;
        piece.drop_low_Pa = 50;
        piece.drop_high_Pa = 200;
      }
    };
  };
}
/// A map about the place where the blower works, or with its speeds or its ratios elsewhere.
auto blower_map(double speed_factor, double more_ratio) {
  return [=](Scene& s) {
    auto& blower = s.machine<machine::DisplacementBlower>("blower");
    blower.map = sample_blower_map();
    for (auto& point : blower.map) {
      point.speed_rev_s *= speed_factor;
      point.pressure_ratio += more_ratio;
    }
  };
}
auto cooler_table(double from_kg_s, double to_kg_s) {
  return [=](Scene& s) {
    s.machine<machine::ChargeCooler>("cooler").effectiveness_table = {{from_kg_s, 0.75}, {to_kg_s, 0.68}};
  };
}
/// Without a blower, so many cylinders.
auto natural(int cylinders, double pulsation) {
  return [=](Scene& s) {
    auto& engine = std::get<machine::Engine>(s.build.demand);
    engine.cylinders = cylinders;
    engine.pulsation_factor = pulsation;
    s.build.machines[1].kind = machine::MeterBody{mm(60), mm(100), 0.1};
    s.machine<machine::Filter>("filter").rated = {{0.06, 1000.0}};
    s.after_flow = [=](flow::PathFlow& flow) {
      // The rated drop goes with density and the square of the flow: 1 kPa at 0.06 m3/s and 1.2041 kg/m3.
      auto& in = flow.machines[0].inlet;
      in.density_kg_m3 = 1.2041;
      in.mass_flow_kg_s = 0.06 * 1.2041;
    };
  };
}
auto two_stroke(double lost) {
  return [=](Scene& s) {
    auto& engine = std::get<machine::Engine>(s.build.demand);
    engine.strokes = 2;
    engine.displacement_m3 /= 2;
    engine.lost_in_scavenging = lost;
  };
}
/// The hot side twice, side by side.
auto branches(double split_loss, double join_loss) {
  return [=](Scene& s) {
    s.runs.insert(s.runs.begin() + cold, s.runs[hot]);
    s.runs[cold].id = {"second_hot_side"};
    PathStep left{RunId{"hot_side"}}, right{RunId{"second_hot_side"}};
    left.branch = {"left"};
    right.branch = {"right"};
    s.build.path[3] = left;
    s.build.path.insert(s.build.path.begin() + 4, right);
    s.build.branches = {{{"left"}, split_loss, join_loss}, {{"right"}, split_loss, join_loss}};
  };
}
auto measured(Coefficient coefficient, double factor) {
  return [=](Scene& s) { s.build.measured = {{coefficient, factor, 0.03}}; };
}

} // namespace

std::vector<Case> trust_cases() {
  using enum Coefficient;
  return {
      {"outside-correlation", note,
       "The loss of this piece was worked out beyond the range of the correlation (any angle).", outside(1),
       outside(0)},
      {"outside-correlation", note, "losses of 3 pieces", outside(3), outside(0)},

      // 90 x 1.3 = 117 rev/s, 7020 rpm.
      {"outside-table", note, "blower's map of 9000 rpm to 27000 rpm", blower_map(2, 0), blower_map(1, 0)},
      {"outside-table", note, "map of 4500 rpm to 13500 rpm and 2.20 to 2.80", blower_map(1, 1), nothing},
      {"outside-table", note, "cooler's table of 0.02 kg/s to 0.05 kg/s", cooler_table(0.02, 0.05),
       cooler_table(0.02, 0.3)},

      // 117 of 400 rev/s is slow, 117 of 233 is not.
      {"tight-blower", note, "counts as tight: at 7020 rpm",
       [](Scene& s) { s.machine<machine::DisplacementBlower>("blower").max_speed_rev_s = 400; }, nothing},
      {"tight-blower", note, "counts as tight",
       [](Scene& s) { s.machine<machine::DisplacementBlower>("blower").max_speed_rev_s = 400; },
       [](Scene& s) {
         auto& blower = s.machine<machine::DisplacementBlower>("blower");
         blower.max_speed_rev_s = 400;
         blower.leak = machine::RatedLeak{150, 1.5, 0.8};
       }},

      // pi^2/2 for one cylinder of four strokes, pi^2/8 for four.
      {"pulsation-left-out", note,
       "1.0 kPa on the filter; in the pulses of one cylinder it would drop up to 4.9 kPa", natural(1, 1),
       natural(1, 2.5)},
      {"pulsation-left-out", note, "2 cylinders", natural(2, 1), natural(4, 1)},
      {"pulsation-left-out", note, "3 cylinders", natural(3, 1),
       [](Scene& s) { std::get<machine::Engine>(s.build.demand).cylinders = 3; }},
      {"scavenging-left-out", note, "loses no air", two_stroke(0), two_stroke(0.1)},

      {"branch-without-loss", note, "parts and joins", branches(0, 0), branches(0.4, 0)},

      {"measured-far-off", note, "the filter's drop is 1.25 times", measured(filter_drop, 1.25),
       measured(filter_drop, 1.09)},
      {"measured-far-off", caution, "the losses of the ducting are 1.50 times", measured(duct_losses, 1.5),
       measured(duct_losses, 0.91)},
      {"measured-far-off", caution, "0.65 times", measured(blower_adiabatic_efficiency, 0.65), nothing},
  };
}

} // namespace bellmouth::test
