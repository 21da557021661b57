// SPDX-License-Identifier: GPL-3.0-or-later
#include "rule_cases.hpp"
#include "streams.hpp"

#include <cmath>

namespace bellmouth::test {

namespace {

using namespace build;
using enum check::Severity;

void nothing(Scene&) {}

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

/// A turned piece between the blower's outlet and its hose, which it is bolted or screwed to.
auto connected(const char* size, Connection::Kind kind = Connection::Kind::flange) {
  return [=](Scene& s) {
    s.port("blower_out").connection = {kind, size};
    s.insert(hot, 0,
             {Adapter{mm(63.5), mm(63.5), mm(60.2), mm(60.2), mm(60), {false, true}, {kind, size}, {}},
              Material::aluminium,
              {},
              ""});
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
      {"wrong-joint", stop, "A flange \"4 x M8 on 80\" meets a hose end of 63.5 mm.",
       [](Scene& s) {
         s.port("blower_out").connection = {Connection::Kind::flange, "4 x M8 on 80"};
       },
       connected("4 x M8 on 80")},
      {"wrong-joint", stop, "A thread \"G 2\" meets a thread \"M60x2\".",
       [](Scene& s) {
         connected("G 2", Connection::Kind::thread)(s);
         s.port("blower_out").connection.size = "G 2";
         s.piece<Adapter>(hot, 0).connection_in.size = "M60x2";
       },
       connected("G 2", Connection::Kind::thread)},

      // Sizes that are easily mistaken; 76.2 against 76 mm are too near to tell.
      {"near-miss-size", note, "Hose of 63 mm on a spigot of 63.5 mm", hose_bore(63), hose_bore(63.4)},
      // DN 50 in ISO 4200 series 1.
      {"pipe-size", note, "60.3 mm is 2 in pipe (DN 50)",
       [](Scene& s) { s.port("throttle_in").outer_diameter_m = mm(60.3); },
       [](Scene& s) { s.port("throttle_in").outer_diameter_m = mm(88.9); }},

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

      // The tube of 140 mm is under a hose for its last 40.
      {"fitting-under-hose", stop, "110 mm along its host", boss_at(110), boss_at(84)},
      {"fitting-under-hose", stop, "150 mm along its host", boss_at(150), boss_at(0)},
  };
}

} // namespace bellmouth::test
