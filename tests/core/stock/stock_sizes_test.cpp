// SPDX-License-Identifier: GPL-3.0-or-later
// Every size that the trade sells is in the lists that come along. Where no source is named the sizes are
// common practice for which none was found; the tables of the standards are those of tests/reference.
#include "shipped_lists.hpp"
#include "support/reference.hpp"
#include "support/sample_parts.hpp"

#include <bellmouth/build/stock_items.hpp>

#include <gtest/gtest.h>

#include <set>

namespace bellmouth::stock {
namespace {

using namespace build;
using test::deg;

bool is_deg(const std::optional<double>& angle_rad, double angle_deg) {
  return angle_rad && std::abs(*angle_rad - deg(angle_deg)) < 1e-6;
}

const List& metric() {
  static const List list = load("metric");
  return list;
}
const List& inch() {
  static const List list = load("inch");
  return list;
}

/// Outside diameters of tube commonly stocked: those in inches from a mandrel-bend catalogue page, those in
/// millimetres common practice.
const std::vector<double> metric_od_mm{38, 40, 45, 48, 50, 51, 54, 57, 60, 63, 63.5, 65, 70, 76, 80, 89, 102};
const std::vector<double> inch_od_in{1.5, 1.75, 2, 2.25, 2.375, 2.5, 2.75, 3, 3.5, 4};
/// Bores of hoses as sold.
const std::vector<double> bores_mm{32, 35, 38, 40, 42, 45, 48, 51, 54, 57, 60,
                                   63, 65, 68, 70, 76, 80, 83, 89, 95, 102};

TEST(StockSizes, TubesOfEveryDiameterAndMaterial) {
  for (const Material material : {Material::aluminium, Material::stainless_steel, Material::mild_steel}) {
    const auto by_the_metre = [&](double od_mm) {
      return [=](const StockItem& item) {
        return item.kind == StockKind::tube && item.per == Per::metre && item.material == material &&
               is_mm(item.outer_diameter_m, od_mm);
      };
    };
    for (const double od_mm : metric_od_mm)
      EXPECT_TRUE(has(metric(), by_the_metre(od_mm))) << od_mm << material_name(material);
    for (const double od_in : inch_od_in)
      EXPECT_TRUE(has(inch(), by_the_metre(od_in * inch_mm))) << od_in << material_name(material);
  }
}

// Walls: aluminium 1.5, 1.6 and 2 mm, 2 to 3 mm for who learns to weld; steel 1.2 to 1.6 mm; 16 and 14 gauge.
TEST(StockSizes, TubesOfEveryWall) {
  struct Wall {
    const List& list;
    Material material;
    double wall_mm;
  };
  for (const Wall& each :
       {Wall{metric(), Material::aluminium, 1.5}, Wall{metric(), Material::aluminium, 1.6},
        Wall{metric(), Material::aluminium, 2}, Wall{metric(), Material::aluminium, 3},
        Wall{metric(), Material::stainless_steel, 1.2}, Wall{metric(), Material::stainless_steel, 1.5},
        Wall{metric(), Material::mild_steel, 1.2}, Wall{metric(), Material::mild_steel, 1.5},
        Wall{inch(), Material::aluminium, 1.651}, Wall{inch(), Material::aluminium, 2.108},
        Wall{inch(), Material::stainless_steel, 1.651}, Wall{inch(), Material::mild_steel, 1.651}})
    EXPECT_TRUE(has(each.list, [&](const StockItem& item) {
      return item.kind == StockKind::tube && item.material == each.material &&
             is_mm(item.wall_m, each.wall_mm) && is_mm(item.outer_diameter_m, 63.5);
    })) << each.wall_mm;
}

TEST(StockSizes, TubesInLengths) {
  for (const List& list : lists())
    for (const double length_mm : {500.0, 600.0, 1000.0, 2000.0})
      EXPECT_TRUE(has(list, [&](const StockItem& item) {
        return item.kind == StockKind::tube && item.per == Per::each && is_mm(item.length_m, length_mm);
      })) << length_mm;
}

// The series of ISO 4200 / EN 10220, from memory as the table says, where a hose is sold for it: from 38 mm.
TEST(StockSizes, TubesOfTheStandardsSeries) {
  for (const test::Row& row : test::reference("tube_od.csv")) {
    const double od_mm = row.number("od_mm");
    const bool has_hose = std::ranges::any_of(bores_mm, [&](double bore_mm) {
      return od_mm - bore_mm > -0.51 && od_mm - bore_mm < 1.01; // half a millimetre of slack, one of stretch
    });
    if (od_mm < 38 || od_mm > 102 || !has_hose)
      continue;
    // 82.5 and the others: to what the trade rounds them.
    EXPECT_TRUE(has(metric(), [&](const StockItem& item) {
      return item.kind == StockKind::tube && is_mm(item.outer_diameter_m, od_mm);
    })) << od_mm;
  }
}

// A stock list of steel and stainless bends: centre-line radii [in] by outside diameter [in].
TEST(StockSizes, BendsOfEveryRadius) {
  struct Radii {
    double od_in;
    std::vector<double> radii_in;
  };
  for (const Radii& each :
       {Radii{1.5, {2, 2.5, 3, 4}}, Radii{1.75, {2, 3, 4, 5, 6}}, Radii{2, {2.5, 3, 4, 5, 6}},
        Radii{2.25, {3, 3.5, 4, 6}}, Radii{2.5, {3, 4, 5, 6}}, Radii{2.75, {4}}, Radii{3, {4, 6}}})
    for (const double radius_in : each.radii_in)
      for (const Material material : {Material::stainless_steel, Material::mild_steel})
        for (const double angle_deg : {45.0, 90.0, 180.0})
          EXPECT_TRUE(has(inch(),
                          [&](const StockItem& item) {
                            return item.kind == StockKind::tube_bend && item.material == material &&
                                   is_mm(item.outer_diameter_m, each.od_in * inch_mm) &&
                                   is_mm(item.radius_m, radius_in * inch_mm) &&
                                   is_deg(item.angle_rad, angle_deg);
                          }))
              << each.od_in << ' ' << radius_in << ' ' << angle_deg;
}

// Aluminium: 1.5 outside diameters, some 1; 30, 45, 60, 90, 135, 180 degrees.
TEST(StockSizes, BendsOfEveryAngle) {
  const auto bend = [](double od_mm, double ratio, double angle_deg) {
    return [=](const StockItem& item) {
      return item.kind == StockKind::tube_bend && item.material == Material::aluminium &&
             is_mm(item.outer_diameter_m, od_mm) && is_mm(item.radius_m, ratio * od_mm) &&
             is_deg(item.angle_rad, angle_deg);
    };
  };
  for (const double angle_deg : {30.0, 45.0, 60.0, 90.0, 135.0, 180.0}) {
    for (const double od_mm : metric_od_mm)
      EXPECT_TRUE(has(metric(), bend(od_mm, 1.5, angle_deg))) << od_mm << ' ' << angle_deg;
    for (const double od_in : inch_od_in)
      EXPECT_TRUE(has(inch(), bend(od_in * inch_mm, 1.5, angle_deg))) << od_in << ' ' << angle_deg;
  }
  EXPECT_TRUE(has(metric(), bend(63.5, 1, 90)));
  EXPECT_TRUE(has(inch(), bend(63.5, 1, 90)));
}

// Legs of 75 to 150 mm; of bends with one long leg 200 to 400 mm; of those of 180 degrees both alike.
TEST(StockSizes, BendsHaveLegsAsSold) {
  for (const List& list : lists()) {
    std::set<int> long_legs_mm;
    for (const StockItem& item : list.items)
      if (item.kind == StockKind::tube_bend) {
        const double short_mm = std::min(*item.leg_in_m, *item.leg_out_m) * 1e3;
        const double long_mm = std::max(*item.leg_in_m, *item.leg_out_m) * 1e3;
        EXPECT_GE(short_mm, 74.9) << item.id.text;
        EXPECT_LE(short_mm, 150.1) << item.id.text;
        if (long_mm > 150.1) {
          EXPECT_TRUE(is_deg(item.angle_rad, 90)) << item.id.text;
          long_legs_mm.insert(static_cast<int>(std::lround(long_mm)));
        }
        if (is_deg(item.angle_rad, 180)) {
          EXPECT_EQ(item.leg_in_m, item.leg_out_m) << item.id.text;
        }
      }
    EXPECT_EQ(long_legs_mm, (std::set{200, 300, 400})) << list.name;
  }
}

TEST(StockSizes, CouplersOfEveryBoreAndLength) {
  const auto coupler = [](double bore_mm, double length_mm) {
    return [=](const StockItem& item) {
      return item.kind == StockKind::hose && item.per == Per::each && is_mm(item.bore_m, bore_mm) &&
             is_mm(item.length_m, length_mm);
    };
  };
  for (const double length_mm : {76.0, 102.0, 152.0}) {
    for (const double bore_mm : bores_mm)
      EXPECT_TRUE(has(metric(), coupler(bore_mm, length_mm))) << bore_mm << ' ' << length_mm;
    for (const double od_in : inch_od_in)
      EXPECT_TRUE(has(inch(), coupler(od_in * inch_mm, length_mm))) << od_in << ' ' << length_mm;
  }
}

// EN ISO 1307, the nominal bores of its table from 25 mm on.
TEST(StockSizes, CouplersOfTheStandardsBores) {
  for (const test::Row& row : test::reference("hose_bores.csv"))
    if (const double bore_mm = row.number("nominal_mm"); bore_mm >= 25) {
      EXPECT_TRUE(has(metric(), [&](const StockItem& item) {
        return item.kind == StockKind::hose && is_mm(item.bore_m, bore_mm);
      })) << bore_mm;
    }
}

// 3 plies about 4 mm, 4 plies about 5 mm, 5 to 6 plies 6 mm.
TEST(StockSizes, HosesHaveTheWallOfTheirPlies) {
  for (const List& list : lists()) {
    std::set<int> plies;
    for (const StockItem& item : list.items)
      if (is_hose(item) && item.material == Material::silicone) {
        plies.insert(*item.plies);
        EXPECT_TRUE(is_mm(item.wall_m, *item.plies == 3 ? 4 : *item.plies == 4 ? 5 : 6)) << item.id.text;
      }
    EXPECT_EQ(plies, (std::set{3, 4, 6})) << list.name;
  }
}

// Plain and lined against oil; for the hot side; bonded wire ahead of the blower. A rating falls with the
// bore: typical of 4 plies, 51 to 76 mm, is 2 to 4 bar.
TEST(StockSizes, HosesForOilHeatAndSuction) {
  for (const List& list : lists()) {
    for (const StockKind kind : {StockKind::hose, StockKind::hose_elbow, StockKind::hump_hose})
      EXPECT_TRUE(has(list, [&](const StockItem& item) { return item.kind == kind && item.oil_proof; }));
    EXPECT_TRUE(
        has(list, [](const StockItem& item) { return is_hose(item) && item.max_temperature_K > 490.0; }));
    EXPECT_TRUE(has(
        list, [](const StockItem& item) { return is_hose(item) && item.wire && item.per == Per::metre; }));
    for (const StockItem& item : list.items) {
      EXPECT_EQ(item.max_gauge_Pa.has_value(), is_hose(item)) << item.id.text;
      const double bore_mm = std::max(item.bore_m.value_or(0), item.bore_out_m.value_or(0)) * 1e3;
      if (is_hose(item) && item.plies == 4 && bore_mm > 50.5 && bore_mm < 76.5) {
        EXPECT_GE(*item.max_gauge_Pa, 2e5) << item.id.text;
        EXPECT_LE(*item.max_gauge_Pa, 4e5) << item.id.text;
      }
    }
  }
}

// Angles of hose elbows; legs of 75 to 102 mm on small bores and 102 to 152 mm on large ones; a radius of
// about one bore.
TEST(StockSizes, HoseElbowsOfEveryAngle) {
  for (const List& list : lists()) {
    for (const double angle_deg : {15.0, 23.0, 30.0, 45.0, 60.0, 67.0, 90.0, 135.0, 180.0})
      for (const double bore_mm : list.is_metric()
                                      ? std::vector<double>{38, 51, 57, 60, 63, 70, 76, 89, 102}
                                      : std::vector<double>{38.1, 50.8, 57.15, 63.5, 76.2, 88.9, 101.6})
        EXPECT_TRUE(has(list,
                        [&](const StockItem& item) {
                          return item.kind == StockKind::hose_elbow && !item.bore_out_m &&
                                 is_mm(item.bore_m, bore_mm) && is_deg(item.angle_rad, angle_deg);
                        }))
            << angle_deg << ' ' << bore_mm;
    for (const StockItem& item : list.items)
      if (item.kind == StockKind::hose_elbow) {
        EXPECT_GE(*item.leg_in_m, 74.9e-3) << item.id.text;
        EXPECT_LE(*item.leg_in_m, 152.1e-3) << item.id.text;
        EXPECT_NEAR(*item.radius_m / std::max(*item.bore_m, item.bore_out_m.value_or(0)), 1, 0.02)
            << item.id.text;
      }
  }
}

// Straight reducers of 76 to 102 mm; reducing elbows in steps of 6 to 13 mm.
TEST(StockSizes, ReducersBetweenNeighbouringBores) {
  for (const List& list : lists()) {
    std::vector<double> sizes_mm = bores_mm;
    if (!list.is_metric()) {
      sizes_mm.clear();
      for (const double od_in : inch_od_in)
        sizes_mm.push_back(od_in * inch_mm);
    }
    for (std::size_t i = 1; i < sizes_mm.size(); ++i)
      EXPECT_TRUE(has(list,
                      [&](const StockItem& item) {
                        return item.kind == StockKind::hose_reducer && is_mm(item.bore_m, sizes_mm[i - 1]) &&
                               is_mm(item.bore_out_m, sizes_mm[i]);
                      }))
          << sizes_mm[i - 1] << ' ' << sizes_mm[i];
    for (const StockItem& item : list.items) {
      if (item.kind == StockKind::hose_reducer) {
        EXPECT_TRUE(is_mm(item.length_m, 76) || is_mm(item.length_m, 102)) << item.id.text;
      }
      if (item.kind == StockKind::hose_elbow && item.bore_out_m) {
        const double step_mm = (*item.bore_out_m - *item.bore_m) * 1e3;
        EXPECT_GE(step_mm, 5.99) << item.id.text;
        EXPECT_LE(step_mm, 13.01) << item.id.text;
      }
    }
  }
}

// Worm clamps by DIN 3017-1, round bolts by DIN 3017-3, both from memory.
TEST(StockSizes, ClampsOfEveryRange) {
  const auto clamp = [](ClampType type, double low_mm, double high_mm) {
    return [=](const StockItem& item) {
      return item.kind == StockKind::clamp && item.clamp_type == type && is_mm(item.clamp_min_m, low_mm) &&
             is_mm(item.clamp_max_m, high_mm);
    };
  };
  using Range = std::pair<double, double>;
  for (const auto& [low, high] : {Range{32, 50}, Range{40, 60}, Range{50, 70}, Range{60, 80}, Range{70, 90},
                                  Range{80, 100}, Range{90, 110}})
    for (const double band_mm : {9.0, 12.0})
      EXPECT_TRUE(has(metric(),
                      [&, low = low, high = high](const StockItem& item) {
                        return clamp(ClampType::lined_worm, low, high)(item) &&
                               is_mm(item.band_width_m, band_mm);
                      }))
          << low << ' ' << band_mm;
  for (const auto& [low, high] :
       {Range{56, 59}, Range{60, 63}, Range{64, 67}, Range{68, 73}, Range{74, 79}, Range{80, 85},
        Range{86, 91}, Range{92, 97}, Range{98, 103}, Range{104, 112}})
    EXPECT_TRUE(has(metric(), [&, low = low, high = high](const StockItem& item) {
      return clamp(ClampType::round_bolt, low, high)(item) && is_mm(item.band_width_m, 19);
    })) << low;
  // Numbers of SAE J1508, from memory: 40 opens to about 76 mm, 48 to 89, 56 to 102.
  for (const double high_mm : {76.2, 88.9, 101.6})
    EXPECT_TRUE(has(inch(), [&](const StockItem& item) {
      return item.clamp_type == ClampType::lined_worm && is_mm(item.clamp_max_m, high_mm);
    })) << high_mm;
  // A page on DIN 3021: nominal 51 fits about 44 to 54 mm.
  for (const List& list : lists())
    EXPECT_TRUE(has(list, clamp(ClampType::spring, 44, 54)));
}

// An engine maker's manual: worm with a 12 mm band 4.5 N m; constant tension 7.5 N m to 51 mm, about 10
// above. A clamp maker: half-inch band 30 to 45 lb in. A military truck manual: round bolt 6 to 7 N m.
TEST(StockSizes, ClampsHaveTheirTorque) {
  constexpr double lb_in = 0.112984829;
  for (const List& list : lists())
    for (const StockItem& item : list.items) {
      if (item.kind != StockKind::clamp)
        continue;
      ASSERT_TRUE(item.clamp_type) << item.id.text;
      const double torque_Nm = item.torque_Nm.value_or(0);
      switch (*item.clamp_type) {
      case ClampType::worm:
      case ClampType::lined_worm:
        if (is_mm(item.band_width_m, 12)) {
          EXPECT_EQ(torque_Nm, 4.5);
        } else if (is_mm(item.band_width_m, 12.7)) {
          EXPECT_TRUE(torque_Nm >= 30 * lb_in && torque_Nm <= 45 * lb_in) << item.id.text;
        } else {
          EXPECT_LT(torque_Nm, 4.5); // a narrower band
        }
        break;
      case ClampType::round_bolt:
        EXPECT_TRUE(torque_Nm >= 6 && torque_Nm <= 7) << item.id.text;
        break;
      case ClampType::constant_tension:
        EXPECT_EQ(torque_Nm, *item.clamp_max_m < 53e-3 ? 7.5 : 10) << item.id.text;
        break;
      case ClampType::spring:
        EXPECT_FALSE(item.torque_Nm) << item.id.text; // no screw
        break;
      case ClampType::lug:
        ADD_FAILURE() << item.id.text;
        break;
      }
    }
}

TEST(StockSizes, ClampsInPacks) {
  for (const List& list : lists())
    for (const ClampType type : {ClampType::lined_worm, ClampType::round_bolt}) {
      std::set<int> packs;
      for (const StockItem& item : list.items)
        if (item.clamp_type == type)
          packs.insert(item.pack);
      EXPECT_EQ(packs, (std::set{1, 2, 4, 10})) << list.name;
    }
}

// Every thread of the tables, and only those: tests/reference says ISO 724, ASME B1.20.1, ISO 228-1, ISO 7-1.
TEST(StockSizes, BossesOfEveryThread) {
  std::set<std::string> wanted;
  for (const test::Row& row : test::reference("threads.csv")) {
    std::string name = row.text("designation");
    if (name.ends_with(".0"))
      name.resize(name.size() - 2);
    wanted.insert(name);
  }
  for (const List& list : lists())
    for (const Material material : {Material::aluminium, Material::stainless_steel, Material::mild_steel}) {
      std::set<std::string> found;
      for (const StockItem& item : list.items)
        if (item.kind == StockKind::sensor_boss && item.material == material)
          found.insert(item.thread.value_or(""));
      EXPECT_EQ(found, wanted) << list.name;
    }
}

TEST(StockSizes, FlangesForValves) {
  for (const double bore_mm : {25.0, 32.0, 34.0, 38.0})
    EXPECT_TRUE(has(metric(), [&](const StockItem& item) {
      return item.kind == StockKind::valve_flange && is_mm(item.bore_m, bore_mm);
    })) << bore_mm;
  for (const double bore_in : {1.0, 1.25, 1.375, 1.5})
    EXPECT_TRUE(has(inch(), [&](const StockItem& item) {
      return item.kind == StockKind::valve_flange && is_mm(item.bore_m, bore_in * inch_mm);
    })) << bore_in;
}

// Odd sizes met on turbochargers, throttles and coolers: a kit-car build diary.
TEST(StockSizes, AdaptersForOddDiameters) {
  for (const List& list : lists())
    for (const double odd_mm : {52.0, 54.0, 65.0, 68.0, 78.0, 82.0})
      EXPECT_TRUE(has(list,
                      [&](const StockItem& item) {
                        return item.kind == StockKind::adapter &&
                               (is_mm(item.bore_m, odd_mm - 6) || is_mm(item.bore_out_m, odd_mm - 6)) &&
                               is_mm(item.wall_m, 3);
                      }))
          << list.name << odd_mm;
}

} // namespace
} // namespace bellmouth::stock
