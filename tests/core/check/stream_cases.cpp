// SPDX-License-Identifier: GPL-3.0-or-later
#include "rule_cases.hpp"
#include "streams.hpp"

namespace bellmouth::test {

namespace {

using namespace build;
using enum check::Severity;

void nothing(Scene&) {}

auto velocity(std::size_t run, double velocity_m_s) {
  return [=](Scene& s) {
    s.after_flow = [=](flow::PathFlow& flow) {
      flow.runs[run].peak_velocity_m_s = flow.runs[run].rows[1].inlet.station.velocity_m_s = velocity_m_s;
    };
  };
}
auto mach(double value) {
  return [=](Scene& s) { s.after_flow = [=](flow::PathFlow& flow) { flow.runs[hot].peak_mach = value; }; };
}
/// Total pressure lost before the blower.
auto lost(double lost_Pa) {
  return [=](Scene& s) {
    s.after_flow = [=](flow::PathFlow& flow) {
      flow.machines[1].inlet.total_pressure_Pa = 100000.0 - lost_Pa;
    };
  };
}
/// An elbow before the blower, with so much suction in it.
auto suction_elbow(double depression_Pa, bool pleated, int plies) {
  return [=](Scene& s) {
    auto& piece = s.runs[suction].pieces[2];
    piece.shape =
        HoseElbow{mm(76.2), mm(76.2), mm(4.5), deg(90), mm(80), mm(40), mm(40), 0, pleated, {mm(40), mm(40)}};
    piece.stock = {"elbow"};
    StockItem item;
    item.id = {"elbow"};
    item.kind = StockKind::hose_elbow;
    if (plies > 0)
      item.plies = plies;
    s.build.stock = std::vector{item};
    s.after_flow = [=](flow::PathFlow& flow) {
      flow.runs[suction].rows[2].outlet.station.static_pressure_Pa = 100000.0 - depression_Pa;
    };
  };
}
auto cooler_drop(double drop_Pa) {
  return [=](Scene& s) { s.after_flow = [=](flow::PathFlow& flow) { flow.machines[2].drop_Pa = drop_Pa; }; };
}
auto charge_drop(double drop_Pa) {
  return [=](Scene& s) {
    s.after_flow = [=](flow::PathFlow& flow) {
      flow.machines[1].outlet.total_pressure_Pa = flow.point.manifold_pressure_Pa + drop_Pa;
    };
  };
}
/// A reducing hose from 63.5 to 76.2 mm whose taper is `taper_mm` long.
auto widening(double taper_mm) {
  return [=](Scene& s) {
    s.insert(cold, 1, tube(76.2, 120, {true, true}));
    s.shape(cold, 0) = HoseReducer{mm(63.5), mm(76.2), mm(4.5), mm(80 + taper_mm), {mm(40), mm(40)}};
  };
}
auto radius(double radius_mm) {
  return [=](Scene& s) { s.piece<TubeBend>(hot, 1).radius_m = mm(radius_mm); };
}
auto mitre(int joints) {
  return [=](Scene& s) {
    s.shape(hot, 1) =
        MitredBend{mm(63.5), mm(1.65), deg(90), mm(95), joints, mm(100), mm(100), 0, {true, true}};
  };
}
auto hot_hose(double temperature_C, Material material, double rated_C = 0) {
  return [=](Scene& s) {
    s.runs[hot].pieces[0].material = material;
    if (rated_C > 0) {
      StockItem item;
      item.id = {"hose"};
      item.kind = StockKind::hose;
      item.max_temperature_K = 273.15 + rated_C;
      s.build.stock = std::vector{item};
      s.runs[hot].pieces[0].stock = {"hose"};
    }
    s.after_flow = warmed(hot, temperature_C);
  };
}
auto blower_outlet(double temperature_C) {
  return [=](Scene& s) {
    s.after_flow = [=](flow::PathFlow& flow) {
      flow.machines[1].outlet.total_temperature_K = 273.15 + temperature_C;
    };
  };
}
auto blower_ratio(double ratio) {
  return [=](Scene& s) {
    s.after_flow = [=](flow::PathFlow& flow) { flow.machines[1].pressure_ratio = ratio; };
  };
}
auto plate_limit(double limit_rpm) {
  return [=](Scene& s) { s.machine<machine::DisplacementBlower>("blower").max_speed_rev_s = limit_rpm / 60; };
}
auto impeller_limit(double limit_rpm) {
  return [=](Scene& s) { geared(s).max_speed_rev_s = limit_rpm / 60; };
}
auto manifold(double temperature_C) {
  return [=](Scene& s) {
    s.after_flow = [=](flow::PathFlow& flow) { flow.point.manifold_temperature_K = 273.15 + temperature_C; };
  };
}
/// The cooler made into a length of tube with a loss.
auto without_cooler(double gauge_Pa) {
  return [=](Scene& s) {
    s.build.machines[2].kind = machine::MeterBody{mm(60), mm(100), 0.1};
    s.after_flow = [=](flow::PathFlow& flow) { flow.point.manifold_pressure_Pa = 100000.0 + gauge_Pa; };
  };
}
auto plastic(std::size_t run, double rated_C = 0) {
  return [=](Scene& s) {
    s.runs[run].pieces[1].material = Material::plastic;
    if (rated_C > 0) {
      StockItem item;
      item.id = {"duct"};
      item.kind = StockKind::tube_bend;
      item.max_temperature_K = 273.15 + rated_C;
      s.build.stock = std::vector{item};
      s.runs[run].pieces[1].stock = {"duct"};
    }
    s.after_flow = warmed(run, 75);
  };
}

} // namespace

std::vector<Case> stream_cases() {
  return {
      // A bore of 12 mm, and a target beyond the compressor, worked out by the solver itself.
      {"no-operating-point", stop, "chokes in", [](Scene& s) { s.piece<Tube>(suction, 1).wall_m = mm(32.1); },
       nothing},
      {"no-operating-point", stop, "out of the compressor's reach",
       [](Scene& s) { s.machine<machine::TargetCompressor>("blower").target_pressure_Pa = 300000; }, nothing,
       true},

      {"fast-before-blower", caution, "45 m/s", velocity(suction, 45), velocity(suction, 40)},
      {"fast-behind-blower", caution, "95 m/s", velocity(hot, 95), velocity(hot, 90)},
      {"mach-high", caution, "Mach 0.31", mach(0.31), mach(0.29)},

      {"restriction", note, "4.0 kPa are lost before the blower", lost(4000), lost(3600)},
      {"restriction", caution, "7.0 kPa are lost before the blower", lost(7000), lost(3700)},
      // Bore 76.2, wall 4.5, 125.7 mm free: t/D = 0.05576, L/D = 1.557; at 3 and 10 MPa the formula for short
      // tubes, worked by hand, gives 4.56 and 15.2 kPa.
      {"hose-may-flatten", caution, "folds at 4.6 kPa to 15.2 kPa", suction_elbow(4700, false, 0),
       suction_elbow(4500, false, 0)},
      {"hose-may-flatten", caution, "pleated", suction_elbow(3000, true, 3), suction_elbow(3000, true, 4)},
      {"hose-may-flatten", stop, "13.0 kPa below ambient", suction_elbow(13000, false, 4),
       suction_elbow(12000, false, 4)},
      {"cooler-drop", note, "8.0 kPa", cooler_drop(8000), cooler_drop(6900)},
      {"cooler-drop", caution, "15.0 kPa", cooler_drop(15000), cooler_drop(7000)},
      {"charge-drop", caution, "14.0 kPa", charge_drop(14000), charge_drop(13400)},

      // 12.7 mm of step: 14 degrees included take 12.7 / (2 tan 7 deg) = 51.7 mm, 20 degrees 36.0 mm.
      {"steep-cone", note, "within 45 mm is 16.1° included", widening(45), widening(52)},
      {"steep-cone", caution, "within 20 mm", widening(20), widening(60)},
      {"tight-bend", note, "1.26 diameters", radius(80), radius(95)},
      {"tight-bend", caution, "0.79 diameters", radius(50), radius(95.25)},
      {"sharp-mitre", caution, "90.0° in 2 cuts of 45.0° each", mitre(2), mitre(3)},
      {"sharp-mitre", caution, "in one cut", mitre(1), mitre(5)},

      {"hose-too-hot", caution, "Air of 165 °C", hot_hose(165, Material::silicone),
       hot_hose(159, Material::silicone)},
      {"hose-too-hot", stop, "good to 100 °C", hot_hose(105, Material::rubber),
       hot_hose(89, Material::rubber)},
      {"hose-too-hot", stop, "rated to 140 °C", hot_hose(145, Material::silicone, 140),
       hot_hose(155, Material::rubber, 180)},
      {"blower-outlet-hot", stop, "155 °C", blower_outlet(155), blower_outlet(139)},
      {"blower-outlet-hot", caution, "145 °C", blower_outlet(145), blower_outlet(140)},
      // 6600 rpm x 1.05 x 1.3 = 9009 rpm.
      {"blower-overspeed", stop, "9009 rpm", plate_limit(9000), plate_limit(9010)},
      // 6600 rpm x 1.05 x 9.6 = 66528 rpm.
      {"blower-overspeed", stop, "66528 rpm", impeller_limit(66500), impeller_limit(66600)},
      {"blower-driven", caution, "0.85", blower_ratio(0.85), blower_ratio(1.02)},
      {"charge-hot", caution, "65 °C", manifold(65), manifold(60)},
      {"no-cooler", note, "55.0 kPa of boost", without_cooler(55e3), without_cooler(50e3)},
      {"plastic-under-pressure", stop, "no rating stated", plastic(hot), plastic(suction)},
      {"plastic-under-pressure", caution, "rated to 80 °C", plastic(hot, 80), plastic(hot, 120)},
      {"plastic-under-pressure", stop, "rated to 70 °C", plastic(hot, 70), plastic(hot, 90)},

      {"hot-feed", note, "from the bay",
       [](Scene& s) { s.machine<machine::Filter>("filter").cold_feed = false; }, nothing},
      {"oiled-filter-before-meter", note, "oiled",
       [](Scene& s) {
         s.machine<machine::Filter>("filter").oiled = true;
         s.build.machines[2].kind = machine::MeterBody{mm(60), mm(100), 0.1};
       },
       [](Scene& s) { s.machine<machine::Filter>("filter").oiled = true; }},
  };
}

} // namespace bellmouth::test
