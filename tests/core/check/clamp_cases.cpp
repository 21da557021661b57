// SPDX-License-Identifier: GPL-3.0-or-later
// Clamps, and what pressure does to the joints that they hold.
#include "rule_cases.hpp"
#include "streams.hpp"

#include <cmath>

namespace bellmouth::test {

namespace {

using namespace build;
using enum check::Severity;

auto only_clamp(double from_mm, double to_mm, ClampType type = ClampType::constant_tension) {
  return [=](Scene& s) {
    auto only = clamp("only", from_mm, to_mm);
    only.clamp_type = type;
    s.build.stock = std::vector{only, clamp("clamp-85", 80, 90)};
  };
}
/// The clamps of both sizes of one type under boost.
auto clamped(ClampType type, double gauge_Pa, std::optional<double> torque_Nm = {}) {
  return [=](Scene& s) {
    s.build.stock = std::vector{clamp("clamp-72", 68, 77), clamp("clamp-85", 80, 90)};
    s.each_item([=](StockItem& item) {
      item.clamp_type = type;
      item.torque_Nm = torque_Nm;
    });
    s.after_flow = boost(gauge_Pa);
  };
}
auto band(double width_mm) {
  return [=](Scene& s) { s.each_item([=](StockItem& item) { item.band_width_m = mm(width_mm); }); };
}
/// Worm clamps done up too little, and a force that parts the joints of 63.5 mm.
auto weak(double torque_Nm, double force_N) {
  return clamped(ClampType::worm, pressure_for(force_N, 63.5), torque_Nm);
}

} // namespace

std::vector<Case> clamp_cases() {
  return {
      // Installed diameter 63.5 + 2 x 4.5 = 72.5 mm, 76.5 mm over a bead of 2 mm.
      {"no-clamp", caution, "goes round 72.5 mm", only_clamp(60, 70), only_clamp(68, 77)},
      {"clamp-off-middle", note, "95 % of its range on 72.5 mm", only_clamp(63, 73), only_clamp(65, 76)},
      {"clamp-not-over-bead", note, "76.5 mm over the bead; the clamp opens to 76 mm", only_clamp(66, 76),
       only_clamp(66, 77)},
      {"clamp-not-over-bead", note, "76.5 mm over the bead", only_clamp(68, 76, ClampType::worm),
       only_clamp(68, 76, ClampType::round_bolt)},
      // 7 + 5 / 2 to behind the bead, the band, 6 mm of hose; 40 mm are there.
      {"no-room-for-band", caution, "A band of 25 mm wants 40.5 mm", band(25), band(24)},
      {"spring-clamp-under-boost", caution, "under more than 30.0 kPa gauge, the first of 8 joints",
       clamped(ClampType::spring, 31e3), clamped(ClampType::spring, 29e3)},
      {"worm-under-pressure", note, "more than 100.0 kPa gauge, the first of 8 joints",
       clamped(ClampType::worm, 110e3), clamped(ClampType::worm, 95e3)},
      {"slotted-band-on-silicone", note, "A worm clamp on a silicone hose", clamped(ClampType::worm, 0),
       clamped(ClampType::lined_worm, 0)},
      {"slotted-band-on-silicone", note, "A worm clamp on a silicone hose, the first of 12 joints",
       clamped(ClampType::worm, 0),
       [](Scene& s) {
         clamped(ClampType::worm, 0)(s);
         for (auto& run : s.runs)
           for (auto& piece : run.pieces)
             if (is_flexible(piece.shape))
               piece.material = Material::rubber;
       }},
      {"clamp-overtorqued", caution, "more than 6.0 N m", clamped(ClampType::worm, 0, 7.5),
       clamped(ClampType::worm, 0, 5.0)},
      {"clamp-overtorqued", caution, "more than 6.0 N m", clamped(ClampType::worm, 0, 7.5),
       clamped(ClampType::round_bolt, 0, 7.5)},
      {"retorque", note, "first of 8 joints under pressure", clamped(ClampType::round_bolt, 40e3),
       clamped(ClampType::constant_tension, 40e3)},
      {"retorque", note, "first of 8 joints under pressure", clamped(ClampType::worm, 40e3),
       clamped(ClampType::worm, 20e3)},

      // 0.5 N m on a screw of 8 mm with a nut factor of 0.2 draws 312.5 N; a quarter of it, oily, behind a
      // bead of 2 x 5 mm holds 2 pi 78.1 tan(21.80 + 2.86 degrees) = 225 N; three quarters, dry, 2 pi 234.4
      // tan(38.66 + 16.70 degrees) = 2131 N.
      {"joint-may-part", caution,
       "230 N at 72.6 kPa gauge try to part it; clamp and bead hold 225 N to 2131 N", weak(0.5, 230),
       weak(0.5, 220)},
      {"joint-may-part", stop, "hold 23 N to 213 N", weak(0.05, 230), weak(0.5, 220)},

      // 110 kPa on 76.2 mm are 501.6 N; 151 kPa on 63.5 mm 478 N.
      {"parting-force", caution, "501 N try to part this joint at 109.9 kPa gauge (4 joints",
       [](Scene& s) { s.after_flow = gauge(suction, pressure_for(501, 76.2)); },
       [](Scene& s) { s.after_flow = gauge(suction, pressure_for(499, 76.2)); }},
      {"parting-force", caution, "478 N try to part this joint at 151.0 kPa gauge (4 joints",
       [](Scene& s) { s.after_flow = gauge(hot, 151e3); },
       [](Scene& s) { s.after_flow = gauge(hot, 149e3); }},
      // 2 p A sin 45 degrees; 63.5 mm at 1 bar gives 448 N. The run leaves the blower downwards and turns
      // forward: outwards is down and back.
      {"bend-thrust", note, "448 N push this bend outwards, back and down, at",
       [](Scene& s) { s.after_flow = still(hot, 100e3); },
       [](Scene& s) { s.after_flow = still(hot, pressure_for(399 / std::sqrt(2.0), 63.5)); }},
      // Not measured: nothing is said of the direction.
      {"bend-thrust", note, "448 N push this bend outwards at",
       [](Scene& s) {
         s.port("blower_out").pose.reset();
         s.after_flow = still(hot, 100e3);
       },
       [](Scene& s) { s.after_flow = still(hot, 80e3); }},
  };
}

} // namespace bellmouth::test
