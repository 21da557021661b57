// SPDX-License-Identifier: GPL-3.0-or-later
// What hoses stand, and what making the pieces takes.
#include "rule_cases.hpp"
#include "streams.hpp"

namespace bellmouth::test {

namespace {

using namespace build;
using enum check::Severity;

void nothing(Scene&) {}

/// The hoses behind the blower under pressure, made for some or for a figure that nobody says.
auto rated(std::optional<double> made_for_Pa, double gauge_Pa, double wall_mm = 4.5) {
  return [=](Scene& s) {
    s.each_item([=](StockItem& item) { item.max_gauge_Pa = made_for_Pa; });
    for (const std::size_t run : {hot, cold})
      for (auto& piece : s.runs[run].pieces)
        if (auto* hose = std::get_if<Hose>(&piece.shape))
          hose->wall_m = mm(wall_mm);
    s.after_flow = boost(gauge_Pa);
  };
}
/// A long bend between two hoses, warm, with so much gap in the first.
auto grown(double gap_mm, double temperature_C) {
  return [=](Scene& s) {
    s.piece<TubeBend>(hot, 1).leg_in_m = mm(1000);
    s.piece<Hose>(hot, 0).length_m = mm(80 + gap_mm);
    s.after_flow = warmed(hot, temperature_C);
  };
}
auto mitred(double radius_mm, int joints) {
  return [=](Scene& s) {
    s.shape(hot, 1) =
        MitredBend{mm(63.5), mm(1.65), deg(90), mm(radius_mm), joints, mm(100), mm(100), 0, {true, true}};
  };
}
auto threaded(const char* thread) {
  return [=](Scene& s) { s.piece<SensorBoss>(cold, 3).thread = thread; };
}
auto tube_of(Material material, std::optional<double> bay_C = {}) {
  return [=](Scene& s) {
    s.runs[suction].pieces[1].material = material;
    if (bay_C)
      s.build.bay = BayAir{273.15 + *bay_C, 2.0};
  };
}
auto wire_elbow(bool wire) {
  return [=](Scene& s) {
    auto& piece = s.runs[suction].pieces[2];
    piece.shape =
        HoseElbow{mm(76.2), mm(76.2), mm(3), deg(90), mm(100), mm(40), mm(40), 0, false, {mm(40), mm(40)}};
    s.each_item([=](StockItem& item) {
      item.plies = 3;
      item.wire = wire;
    });
    s.after_flow = [](flow::PathFlow& flow) {
      flow.runs[suction].rows[2].outlet.station.static_pressure_Pa = 100000.0 - 8000.0;
    };
  };
}

} // namespace

std::vector<Case> hose_cases() {
  return {
      {"hose-over-rating", stop, "310.0 kPa gauge in a hose rated for 300.0 kPa", rated(300e3, 310e3),
       rated(300e3, 239e3)},
      {"hose-over-rating", caution, "250.0 kPa gauge in a hose rated for 300.0 kPa", rated(300e3, 250e3),
       rated(320e3, 250e3)},
      // 4.5 mm on 63.5 mm is more than 5 mm on 76 mm: 200 kPa. 3 mm is less: 200 x (3 / 63.5) / (5 / 76).
      {"hose-over-rating", stop, "good for some 200.0 kPa", rated({}, 210e3), rated({}, 150e3)},
      {"hose-over-rating", stop, "good for some 143.6 kPa", rated({}, 150e3, 3), rated({}, 110e3, 3)},
      {"hose-rating-assumed", note, "made for, the first of 4 hoses under pressure", rated({}, 31e3),
       rated({}, 29e3)},
      {"hose-rating-assumed", note, "made for, the first of 4", rated({}, 31e3), rated(300e3, 31e3)},
      {"oil-mist-on-silicone", note, "oil-proof lining, the first of 4 hoses",
       [](Scene& s) { s.each_item([](StockItem& item) { item.oil_proof = false; }); },
       [](Scene& s) {
         s.each_item([](StockItem& item) { item.oil_proof = false; });
         for (const std::size_t run : {hot, cold})
           for (auto& piece : s.runs[run].pieces)
             if (is_flexible(piece.shape))
               piece.material = Material::rubber;
       }},
      // Wall 3 on bore 76.2, 157 mm free: a soft wall folds at 1.3 kPa, a firm one at 4.4 kPa.
      {"hose-may-flatten", stop, "8.0 kPa below ambient", wire_elbow(false), wire_elbow(true)},
      // 1000 + 149.6 + 100 mm of aluminium, 140 K: 1249.6 x 23.6e-6 x 140 = 4.1 mm, half of which and 3.2 mm
      // are 5.3 mm.
      {"growth-closes-gap", note, "1250 mm of tube grow by 4.1 mm up to 160 °C", grown(5.2, 160),
       grown(5.4, 160)},
      {"growth-closes-gap", note, "use up the gap of 5.2 mm", grown(5.2, 160), grown(5.2, 100)},
      // 63.5 mm, 90 degrees in 6 joints on 63.5 mm: 8.4 and 25.1 mm; in 5 on 95.3 mm: 20.1 mm.
      {"narrow-wedge", caution, "8.4 mm wide on the inside and 25.1 mm on the outside", mitred(63.5, 6),
       mitred(95.3, 5)},
      {"unknown-thread", note, "\"M13x1.5\"", threaded("M13x1.5"), threaded("1/8-27 NPT")},
      {"rust-inside", note, "Mild steel", tube_of(Material::mild_steel), tube_of(Material::stainless_steel)},
      {"plastic-softens", caution, "softens at 70 °C in a bay of 60 °C", tube_of(Material::plastic, 60),
       tube_of(Material::plastic, 35)},
      {"waiver-without-finding", note, "\"hose-loose\" (as measured), which is not found here",
       [](Scene& s) {
         s.runs[cold].pieces[5].waivers = {{"hose-loose", "as measured"}};
       },
       [](Scene& s) {
         s.piece<Hose>(cold, 5).bore_m = mm(65);
         s.runs[cold].pieces[5].waivers = {{"hose-loose", "as measured"}};
       }},
      {"waiver-without-finding", note, "\"no-such-rule\", which is no rule",
       [](Scene& s) {
         s.build.waivers = {{{"no-such-rule", "why not"}, std::nullopt}};
       },
       nothing},
  };
}

} // namespace bellmouth::test
