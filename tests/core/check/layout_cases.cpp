// SPDX-License-Identifier: GPL-3.0-or-later
#include "rule_cases.hpp"

#include <cmath>

namespace bellmouth::test {

namespace {

using namespace build;
using enum check::Severity;

void nothing(Scene&) {}

void rigid_hot_side(Scene& s) {
  s.erase(hot, 2);
  s.erase(hot, 0);
}
/// Bend welded to the cooler, one piece of hose at the blower.
auto one_hose(Piece piece) {
  return [piece](Scene& s) {
    s.erase(hot, 2);
    s.runs[hot].pieces[0] = piece;
  };
}
Piece hump() {
  return {HumpHose{mm(63.5), mm(4.5), mm(120), mm(36), mm(76), {mm(40), mm(40)}}, Material::silicone, {}, ""};
}
Piece boss(double position_mm, const char* thread) {
  return {SensorBoss{mm(position_mm), 0, thread}, Material::aluminium, {}, ""};
}
void boss_on_suction(Scene& s) {
  s.insert(suction, 2, boss(90, "M12x1.5"));
}
void boss_on_hot_side(Scene& s) {
  s.insert(hot, 2, boss(60, "M12x1.5"));
}
void no_boss(Scene& s) {
  s.erase(cold, 3);
}

auto near_cooler(double position_mm) {
  return [=](Scene& s) { s.insert(cold, 2, boss(position_mm, "M12x1.5")); };
}

/// The throttle between filter and blower.
void throttle_first(Scene& s) {
  s.build.machines[0].kind = s.build.machines[3].kind;
  s.build.machines[3].kind = machine::MeterBody{mm(60), mm(100), 0.1};
}

/// A meter in place of the filter, with so much straight tube behind it before a bend.
auto meter_before_bend(double straight_mm) {
  return [=](Scene& s) {
    s.build.machines[0].kind = machine::MeterBody{mm(72.9), mm(100), 0.1};
    s.insert(suction, 1, bend(76.2, 45, {true, true}));
    s.piece<TubeBend>(suction, 1).leg_in_m = mm(straight_mm - 10);
    s.insert(suction, 2, hose(76.2));
  };
}
/// A meter in place of the throttle, with so much straight tube before it behind the bend.
auto meter_behind_bend(double tube_mm) {
  return [=](Scene& s) {
    s.build.machines[3].kind = machine::MeterBody{mm(60), mm(100), 0.1};
    s.piece<Tube>(cold, 2).length_m = mm(tube_mm);
  };
}
/// A bend ahead of the blower whose leg ends `straight_mm` before the port.
auto bend_ahead(double straight_mm) {
  return [=](Scene& s) {
    s.runs[suction].pieces[1] = bend(76.2, 60, {true, true});
    s.piece<TubeBend>(suction, 1).leg_out_m = mm(straight_mm - 10);
  };
}

auto off_port(double gap_mm) {
  return [=](Scene& s) {
    s.to_ports_follow = false;
    // The suction run goes 10 + 180 + 10 mm against x from (700, 450, 200) mm.
    s.port("blower_in").pose = Pose{{mm(500), mm(450 + gap_mm), mm(200)}, {1, 0, 0}};
    s.port("cooler_in").pose.reset();
    s.port("throttle_in").pose.reset();
  };
}
auto askew(double angle_deg) {
  return [=](Scene& s) {
    off_port(0)(s);
    s.port("blower_in").pose->direction = {std::cos(deg(angle_deg)), std::sin(deg(angle_deg)), 0};
  };
}
auto small_tube(double bore_mm) {
  return [=](Scene& s) { s.piece<Tube>(cold, 2).wall_m = mm((63.5 - bore_mm) / 2); };
}
auto long_tube(double length_mm) {
  return [=](Scene& s) { s.piece<Tube>(suction, 1).length_m = mm(length_mm); };
}

} // namespace

std::vector<Case> layout_cases() {
  return {
      {"no-flexible-joint", stop, "on the engine", rigid_hot_side,
       [](Scene& s) {
         rigid_hot_side(s);
         s.port("cooler_in").mounting = Mounting::engine;
       }},
      {"plain-hose-for-movement", caution, "plain hose alone", one_hose(hose(63.5)), one_hose(hump())},
      {"no-flexible-near-blower", note, "No hose", rigid_hot_side, nothing},
      // The bend welded to the blower is 100 + 149.6 + 100 mm long.
      {"no-flexible-near-blower", note, "349.6 mm behind", [](Scene& s) { s.erase(hot, 0); },
       [](Scene& s) {
         s.erase(hot, 0);
         s.piece<TubeBend>(hot, 1 - 1).leg_in_m = mm(50);
       }},

      {"sensor-before-blower", stop, "behind the blower",
       [](Scene& s) {
         no_boss(s);
         boss_on_suction(s);
       },
       boss_on_suction},
      // A tap of an eighth of an inch is no place for a temperature sensor.
      {"no-charge-sensor", caution, "behind the cooler",
       [](Scene& s) { s.piece<SensorBoss>(cold, 3).thread = "1/8 NPT"; },
       [](Scene& s) { s.piece<SensorBoss>(cold, 3).thread = "3/8 NPT"; }},
      {"no-charge-sensor", caution, "behind the cooler",
       [](Scene& s) {
         no_boss(s);
         boss_on_hot_side(s);
       },
       boss_on_hot_side},
      // 10 mm of hose and 90 mm of leg; three bores are 180.6 mm.
      {"sensor-near-cooler", note, "100 mm behind the cooler", near_cooler(90), near_cooler(171)},

      {"no-relief-valve", stop, "blower and the throttle", [](Scene& s) { s.erase(cold, 4); }, nothing},
      {"no-relief-valve", caution, "compressor and the throttle", [](Scene& s) { s.erase(cold, 4); }, nothing,
       true},
      {"no-bypass-valve", caution, "No valve flange",
       [](Scene& s) {
         throttle_first(s);
         s.erase(cold, 4);
       },
       throttle_first},

      // Two bores of 72.9 mm are 145.8 mm, five of 60 mm 300 mm. Straight before the meter: the bend's leg of
      // 100 mm, the tube, and 10 mm of hose.
      {"meter-not-straight", caution, "140 mm of straight tube behind", meter_before_bend(140),
       meter_before_bend(146)},
      {"meter-not-straight", caution, "250 mm of straight tube before", meter_behind_bend(140),
       meter_behind_bend(191)},
      {"bend-before-impeller", caution, "60 mm of straight tube before the impeller", bend_ahead(60),
       bend_ahead(73), true},

      {"run-does-not-meet", caution, "ends 2.0 mm from port blower in", off_port(2), off_port(0.9)},
      {"run-does-not-meet", caution, "1.0° off its axis", askew(1), askew(0.4)},
      {"port-not-measured", note, "Port blower in", [](Scene& s) { s.port("blower_in").pose.reset(); },
       nothing},
      {"port-not-measured", note, "Ports filter out and blower in",
       [](Scene& s) {
         s.port("blower_in").pose.reset();
         s.port("filter_out").pose.reset();
       },
       nothing},
      // 97 % of 60.2 mm is 58.4 mm.
      {"smaller-than-port", caution, "57 mm between ports of 60.2 mm and 60.2 mm", small_tube(57),
       small_tube(59)},
      // 97 % of 58 mm is 56.3 mm: the run begins at a narrow outlet.
      {"smaller-than-port", caution, "55 mm between ports of 58 mm and 60.2 mm",
       [](Scene& s) {
         s.port("cooler_out").bore_m = mm(58);
         small_tube(55)(s);
       },
       [](Scene& s) {
         s.port("cooler_out").bore_m = mm(58);
         small_tube(57)(s);
       }},
      {"long-unsupported", note, "600 mm of rigid duct", long_tube(600), long_tube(500)},
  };
}

} // namespace bellmouth::test
