// SPDX-License-Identifier: GPL-3.0-or-later
#include "rule_cases.hpp"

#include <bellmouth/mesh.hpp>

#include <cmath>

namespace bellmouth::test {

namespace {

using namespace build;
using enum check::Severity;

/// A ball above the suction run's tube (63.5 mm from its end on at y 450, z 200), so far from its surface.
KeepOut ball(double gap_mm) {
  KeepOut result;
  result.name = "bracket";
  result.shape = Sphere{{mm(600), mm(450), mm(200 + 76.2 / 2 + gap_mm + 20)}, mm(20)};
  return result;
}
auto ball_at(double gap_mm) {
  return [=](Scene& s) { s.build.keep_outs.push_back(ball(gap_mm)); };
}
/// The same, there in one state only.
auto ball_in_state(double gap_mm) {
  return [=](Scene& s) {
    s.build.states = {{{"bonnet_shut"}, 0}};
    s.build.keep_outs.push_back(ball(12));
    s.build.keep_outs.push_back(ball(gap_mm));
    s.build.keep_outs.back().states = {{"bonnet_shut"}};
  };
}
auto ball_with_doubt(double tolerance_mm) {
  return [=](Scene& s) {
    s.build.keep_outs.push_back(ball(13));
    s.build.keep_outs.back().survey = Survey{true, mm(tolerance_mm), ""};
  };
}
void bracket_in_the_own_machine(Scene& s) {
  KeepOut body;
  body.name = "filter";
  body.machine = MachineId{"filter"};
  body.shape = Box{{mm(800), mm(450), mm(200)}, {mm(100), mm(100), mm(100)}};
  s.build.keep_outs.push_back(body);
}
/// The other end of the suction run turned so that it cuts the cold side: a tube laid across.
void crossing(Scene& s) {
  s.runs[suction].pieces[1] = tube(76.2, 700, {true, true});
  s.runs[cold].pieces[1] = tube(63.5, 400, {true, false});
  s.port("cooler_out").pose = Pose{{mm(300), mm(100), mm(200)}, {0, 1, 0}};
}

auto free_straight(double wanted_mm) {
  // 10 mm of hose between the tube ends, then the bend's leg of 100 mm.
  return [=](Scene& s) { s.port("blower_out").free_straight_m = mm(wanted_mm); };
}
auto free_straight_at_end(double wanted_mm) {
  return [=](Scene& s) { s.port("cooler_in").free_straight_m = mm(wanted_mm); };
}

Piece hump_in_line() {
  return {HumpHose{mm(63.5), mm(4.5), mm(120), mm(36), mm(76), {mm(40), mm(40)}}, Material::silicone, {}, ""};
}
/// One hump between the blower and the rest of the hot side, 40 mm long between the tube ends; the blower
/// alone is on the engine.
void one_hump(Scene& s) {
  s.erase(hot, 2);
  s.runs[hot].pieces[0] = hump_in_line();
  s.port("blower_in").mounting = s.port("throttle_in").mounting = Mounting::body;
}
/// The engine rolls about a lengthwise axis so far below the hump's middle.
auto rolls(double roll_deg, double below_mm) {
  return [=](Scene& s) {
    one_hump(s);
    // Out of the blower straight down: the hump's middle is 20 mm below the port, at z 130.
    s.build.movement = EngineMovement{{0, mm(200), mm(130 - below_mm)}, {1, 0, 0}, deg(roll_deg), 0};
  };
}
auto shakes(double shake_mm) {
  return [=](Scene& s) {
    one_hump(s);
    s.build.movement = EngineMovement{{0, 0, 0}, {1, 0, 0}, 0, mm(shake_mm)};
  };
}
void movement_that_is_entered(Scene& s) {
  rolls(3, 200)(s);
  s.runs[hot].pieces[0].give = Give{mm(10), mm(11), deg(4)};
}

KeepOut scan(const char* digest, std::string problem) {
  mesh::Surface surface;
  surface.points = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}};
  surface.triangles = {{0, 1, 2}};
  Scan result;
  result.file = "bay.stl";
  result.unit = mesh::Unit::millimetre;
  result.origin_m = {5, 5, 5};
  result.problem = std::move(problem);
  if (result.problem.empty())
    result.loaded = mesh::make_scan(std::move(surface));
  result.digest = digest;
  KeepOut keep_out;
  keep_out.name = "bay scan";
  keep_out.shape = std::move(result);
  return keep_out;
}
auto scanned(const char* digest, const char* problem) {
  return [=](Scene& s) { s.build.keep_outs.push_back(scan(digest, problem)); };
}
auto port_is(bool measured) {
  return [=](Scene& s) { s.port("blower_in").survey = Survey{measured, mm(6), ""}; };
}

} // namespace

std::vector<Case> clearance_cases() {
  return {
      {"too-near", stop, "4.0 mm into bracket", ball_at(-4), ball_at(10)},
      {"too-near", caution, "7.0 mm from bracket", ball_at(7), ball_at(10)},
      {"too-near", caution, "in state bonnet shut; 10 mm are wanted", ball_in_state(3), ball_in_state(11)},
      {"too-near", stop, "into row 2 (tube) of cold side", crossing, bracket_in_the_own_machine},
      {"near-within-doubt", note, "may be off by 4 mm", ball_with_doubt(4), ball_with_doubt(2.9)},
      {"bend-in-free-straight", caution, "begins 110 mm from port blower out; 111 mm of straight are wanted",
       free_straight(111), free_straight(110)},
      {"bend-in-free-straight", caution, "begins 110 mm from port cooler in", free_straight_at_end(111),
       free_straight_at_end(109)},
      // Closed form: one joint takes the whole roll, and its lever sideways: 80 sin 3 = 4.19, 70 sin 3 = 3.66
      // mm.
      {"movement-beyond-hose", caution, "4.2 mm sideways and 3.0°", rolls(3, 80), rolls(3, 70)},
      {"movement-beyond-hose", caution, "0.0 mm in line, 0.0 mm sideways and 4.1°", rolls(4.1, 0),
       rolls(3.9, 0)},
      {"movement-beyond-hose", caution, "10.5 mm sideways", rolls(3, 200), movement_that_is_entered},
      {"movement-beyond-hose", caution, "5.0 mm in line", shakes(5), shakes(3.9)},
      {"scan-not-read", caution, "no such file", scanned("", "bay.stl: no such file"), scanned("", "")},
      {"scan-changed", caution, "bay.stl", scanned("0123", ""), scanned("", "")},
      {"assumed-place", note, "Port blower in is assumed, to 6 mm.", port_is(false), port_is(true)},
  };
}

} // namespace bellmouth::test
