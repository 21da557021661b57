// SPDX-License-Identifier: GPL-3.0-or-later
#include "rule_cases.hpp"

#include <cmath>

namespace bellmouth::test {

namespace {

using namespace build;
using enum check::Severity;

void nothing(Scene&) {}

/// Sets the static pressure all along a run to a gauge pressure.
auto gauge(std::size_t run, double gauge_Pa) {
  return [=](flow::PathFlow& flow) {
    for (auto& piece : flow.runs[run].rows)
      piece.inlet.station.static_pressure_Pa = piece.outlet.station.static_pressure_Pa = 100000.0 + gauge_Pa;
  };
}

/// The pressure at which pi/4 OD^2 p is a force.
double pressure_for(double force_N, double outer_mm) {
  return force_N / (M_PI / 4 * mm(outer_mm) * mm(outer_mm));
}

/// A hose bore at both ends of the hose before the throttle.
auto hose_bore(double bore_mm) {
  return [=](Scene& s) { s.piece<Hose>(cold, 5).bore_m = mm(bore_mm); };
}
auto engagement(double engagement_mm) {
  return [=](Scene& s) {
    s.piece<Hose>(suction, 0).engagement = {mm(engagement_mm), mm(engagement_mm)};
    s.piece<Hose>(suction, 0).length_m = mm(2 * engagement_mm + 10);
  };
}
auto gap(double gap_mm) {
  return [=](Scene& s) { s.piece<Hose>(hot, 0).length_m = mm(80 + gap_mm); };
}
auto leg(double leg_mm) {
  return [=](Scene& s) { s.piece<TubeBend>(hot, 1).leg_in_m = mm(leg_mm); };
}
auto plain_end(double gauge_Pa) {
  return [=](Scene& s) {
    s.piece<TubeBend>(hot, 1).beads.out = false;
    s.after_flow = gauge(hot, gauge_Pa);
  };
}
auto hump(double engagement_mm) {
  return [=](Scene& s) {
    s.shape(hot, 0) =
        HumpHose{mm(63.5), mm(4.5), mm(120), mm(36), mm(76), {mm(engagement_mm), mm(engagement_mm)}};
  };
}
auto elbow(double leg_mm) {
  return [=](Scene& s) {
    s.shape(hot, 2) = HoseElbow{mm(63.5),   mm(63.5),   mm(4.5), deg(45), mm(64),
                                mm(leg_mm), mm(leg_mm), 0,       false,   {mm(40), mm(40)}};
  };
}
auto boss_at(double position_mm) {
  return [=](Scene& s) { s.piece<ValveFlange>(cold, 4).position_m = mm(position_mm); };
}
auto only_clamp(double from_mm, double to_mm) {
  return [=](Scene& s) {
    s.build.stock = std::vector{clamp("only", from_mm, to_mm), clamp("clamp-85", 80, 90)};
  };
}

} // namespace

std::vector<Case> joint_cases() {
  return {
      // The weld of equal tubes in the clean build, with a bead left on one end.
      {"bead-at-weld", note, "carries a bead", [](Scene& s) { s.piece<Tube>(cold, 2).beads.in = true; },
       nothing},
      // Two hoses end to end, rigid ends of 60 on 63.5 mm; a weld of equal tubes stands in the clean build.
      {"wrong-joint", stop, "Two hose ends", [](Scene& s) { s.insert(hot, 1, hose(63.5)); }, nothing},
      {"wrong-joint", stop, "63.5 mm and 60 mm",
       [](Scene& s) { s.piece<Tube>(cold, 2).outer_diameter_m = mm(60); },
       [](Scene& s) { s.piece<Tube>(cold, 2).outer_diameter_m = mm(63.3); }},

      // The near misses of 63, 63.5 and 65 mm.
      {"hose-loose", stop, "65 mm on a spigot of 63.5 mm: 1.5 mm", hose_bore(65), hose_bore(63.5)},
      {"hose-loose", caution, "0.7 mm loose", hose_bore(64.2), hose_bore(64)},
      {"hose-tight", caution, "1.5 mm of stretch", hose_bore(62), hose_bore(63)},
      {"hose-tight", stop, "3.5 mm of stretch", hose_bore(60), hose_bore(62.5)},

      {"short-engagement", caution, "30 mm into the hose", engagement(30), engagement(40)},
      {"short-engagement", stop, "20 mm into the hose", engagement(20), engagement(45)},

      // A cut arc, a short leg, a cone, hoses that meet on a short tube, an elbow with a short leg.
      {"no-straight-end", stop, "only 0 mm", leg(0), leg(40)},
      {"no-straight-end", caution, "only 30 mm", leg(30), leg(41)},
      {"no-straight-end", stop, "40 mm and 40 mm of a piece 70 mm",
       [](Scene& s) { s.piece<Tube>(suction, 1).length_m = mm(70); },
       [](Scene& s) { s.piece<Tube>(suction, 1).length_m = mm(81); }},
      {"no-straight-end", caution, "leg is 30 mm", elbow(30), elbow(40)},
      {"no-straight-end", stop, "only 0 mm",
       [](Scene& s) {
         s.shape(suction, 1) = Cone{mm(76.2), mm(76.2), mm(1.65), mm(180), {true, true}};
       },
       nothing},

      {"tube-in-hump", stop, "hump begins after 42 mm", hump(45), hump(42)},
      {"tube-ends-touch", caution, "3 mm between", gap(3), gap(5)},
      {"tube-ends-touch", stop, "8 mm longer together", gap(-8), gap(12)},
      // A quarter of the bore of 63.5 mm is 15.9 mm.
      {"tube-gap-wide", caution, "18 mm between", gap(18), gap(15.5)},

      {"tube-without-bead", caution, "under 40.0 kPa gauge", plain_end(40e3), plain_end(29e3)},
      // 90 kPa on 63.5 mm is 285 N.
      {"tube-without-bead", stop, "285 N", plain_end(90e3),
       [](Scene& s) { s.after_flow = gauge(hot, 90e3); }},

      // Installed diameter 63.5 + 2 x 4.5 = 72.5 mm.
      {"no-clamp", caution, "goes round 72.5 mm", only_clamp(60, 70), only_clamp(68, 77)},
      {"clamp-off-middle", note, "95 % of its range on 72.5 mm", only_clamp(63, 73), only_clamp(65, 76)},

      // The tube of 140 mm is under a hose for its last 40.
      {"fitting-under-hose", stop, "110 mm along its host", boss_at(110), boss_at(84)},
      {"fitting-under-hose", stop, "150 mm along its host", boss_at(150), boss_at(0)},

      {"parting-force", caution, "501 N try to part this joint (4 joints",
       [](Scene& s) { s.after_flow = gauge(hot, pressure_for(501, 63.5)); },
       [](Scene& s) { s.after_flow = gauge(hot, pressure_for(499, 63.5)); }},
      // 2 p A sin 45 degrees; 63.5 mm at 1 bar gives 448 N.
      {"bend-thrust", note, "448 N", [](Scene& s) { s.after_flow = gauge(hot, 100e3); },
       [](Scene& s) { s.after_flow = gauge(hot, pressure_for(399 / std::sqrt(2.0), 63.5)); }},
  };
}

} // namespace bellmouth::test
