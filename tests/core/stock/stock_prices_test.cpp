// SPDX-License-Identifier: GPL-3.0-or-later
// The invented prices keep within usual bands and grow with size. The bands are orders of magnitude from
// common practice, no source found; they are no market prices.
#include "shipped_lists.hpp"
#include "support/sample_parts.hpp"

#include <gtest/gtest.h>

#include <map>
#include <tuple>

namespace bellmouth::stock {
namespace {

using namespace build;
using test::deg;
using test::euros;

bool near_63(const std::optional<double>& size_m) {
  return size_m && (is_mm(size_m, 63) || is_mm(size_m, 63.5));
}
bool turns(const StockItem& item, double angle_deg) {
  return item.angle_rad && std::abs(*item.angle_rad - deg(angle_deg)) < 1e-6;
}
bool lined(const StockItem& item) {
  return item.oil_proof;
}
bool one_bore(const StockItem& item) {
  return !item.bore_out_m;
}

struct Band {
  const char* what;
  Asks asks;
  int low, high; ///< whole units of money
};

TEST(StockPrices, KeepWithinUsualBands) {
  const Band bands[] = {
      {"straight aluminium tube of 63.5 mm by the metre",
       [](const StockItem& item) {
         return item.kind == StockKind::tube && item.per == Per::metre &&
                item.material == Material::aluminium && is_mm(item.outer_diameter_m, 63.5);
       },
       15, 45},
      {"aluminium bend of 63.5 mm, 90 degrees",
       [](const StockItem& item) {
         return item.kind == StockKind::tube_bend && item.material == Material::aluminium &&
                is_mm(item.outer_diameter_m, 63.5) && turns(item, 90);
       },
       12, 40},
      {"stainless bend of 63.5 mm, 180 degrees",
       [](const StockItem& item) {
         return item.kind == StockKind::tube_bend && item.material == Material::stainless_steel &&
                is_mm(item.outer_diameter_m, 63.5) && turns(item, 180);
       },
       25, 80},
      {"straight coupler of 63 mm, 4 plies",
       [](const StockItem& item) {
         return item.kind == StockKind::hose && item.per == Per::each && item.plies == 4 &&
                near_63(item.bore_m) && !lined(item) && item.max_temperature_K < 450.0;
       },
       6, 30},
      {"hose elbow of 63 mm, 90 degrees, 4 plies",
       [](const StockItem& item) {
         return item.kind == StockKind::hose_elbow && one_bore(item) && item.plies == 4 &&
                near_63(item.bore_m) && turns(item, 90) && !lined(item);
       },
       12, 55},
      {"lined hose elbow of 63 mm, 90 degrees",
       [](const StockItem& item) {
         return item.kind == StockKind::hose_elbow && near_63(item.bore_m) && turns(item, 90) && lined(item);
       },
       35, 120},
      {"plain hump hose of 63 mm",
       [](const StockItem& item) {
         return item.kind == StockKind::hump_hose && near_63(item.bore_m) && !lined(item);
       },
       12, 45},
      {"round-bolt clamp",
       [](const StockItem& item) { return item.clamp_type == ClampType::round_bolt && item.pack == 1; }, 3,
       12},
      {"lined worm clamp",
       [](const StockItem& item) { return item.clamp_type == ClampType::lined_worm && item.pack == 1; }, 1,
       5},
      {"weld boss", [](const StockItem& item) { return item.kind == StockKind::sensor_boss; }, 3, 15},
      {"valve flange", [](const StockItem& item) { return item.kind == StockKind::valve_flange; }, 10, 40},
  };
  for (const List& list : lists())
    for (const Band& band : bands) {
      int seen = 0;
      for (const StockItem& item : list.items) {
        if (!band.asks(item))
          continue;
        ++seen;
        EXPECT_GE(item.price.minor, euros(band.low, 0).minor) << band.what << ": " << item.id.text;
        EXPECT_LE(item.price.minor, euros(band.high, 0).minor) << band.what << ": " << item.id.text;
      }
      EXPECT_GT(seen, 0) << list.name << ": " << band.what;
    }
}

/// What two items have in common that differ in diameter only.
auto family(const StockItem& item) {
  const auto whole = [](const std::optional<double>& value, double unit) {
    return value ? std::lround(*value / unit) : -1;
  };
  const double radius_ratio =
      item.radius_m ? *item.radius_m / std::max({item.outer_diameter_m.value_or(0), item.bore_m.value_or(0),
                                                 item.bore_out_m.value_or(0)})
                    : 0;
  const std::string tag = item.supplier + (item.name.find("dearer") != std::string::npos ? " dearer" : "");
  return std::tuple(
      item.kind, item.material, item.per, item.pack, item.plies.value_or(0), whole(item.max_temperature_K, 1),
      item.oil_proof, item.wire, item.kind == StockKind::tube ? whole(item.wall_m, 1e-6) : 0,
      whole(item.length_m, 1e-4), whole(item.angle_rad, 1e-4), std::lround(radius_ratio * 20),
      item.bore_out_m.has_value(), item.clamp_type ? static_cast<int>(*item.clamp_type) : -1,
      whole(item.band_width_m, 1e-4), tag,
      item.kind == StockKind::hose_elbow || item.kind == StockKind::tube_bend
          ? std::lround((*item.leg_out_m - *item.leg_in_m) * 1e3) + (item.leg_in_m > 0.15 ? 1000 : 0)
          : 0);
}
double size_of(const StockItem& item) {
  if (item.outer_diameter_m)
    return *item.outer_diameter_m;
  return item.clamp_max_m ? *item.clamp_max_m
                          : std::max(item.bore_m.value_or(0), item.bore_out_m.value_or(0));
}

// Identity: of what differs in diameter only, the larger is never cheaper, and a step of one size is no jump.
TEST(StockPrices, GrowWithSize) {
  for (const List& list : lists()) {
    std::map<decltype(family(list.items.front())), std::vector<const StockItem*>> families;
    for (const StockItem& item : list.items)
      if (item.kind != StockKind::sensor_boss)
        families[family(item)].push_back(&item);
    for (auto& [key, members] : families) {
      std::ranges::stable_sort(members, {}, [](const StockItem* item) { return size_of(*item); });
      for (std::size_t i = 1; i < members.size(); ++i) {
        EXPECT_GE(members[i]->price.minor, members[i - 1]->price.minor)
            << members[i - 1]->id.text << " and " << members[i]->id.text;
        const double larger = size_of(*members[i]) / size_of(*members[i - 1]);
        EXPECT_LE(static_cast<double>(members[i]->price.minor),
                  1.02 * std::pow(larger, 1.25) * static_cast<double>(members[i - 1]->price.minor) + 10)
            << members[i - 1]->id.text << " and " << members[i]->id.text;
      }
    }
    EXPECT_GT(families.size(), 50u);
  }
}

// Identity: more in a pack costs more, but less by the piece.
TEST(StockPrices, PacksAreCheaperByThePiece) {
  for (const List& list : lists()) {
    int seen = 0;
    for (const StockItem& item : list.items) {
      if (item.pack == 1)
        continue;
      const std::string single = item.id.text.substr(0, item.id.text.find("-pack-"));
      const auto found =
          std::ranges::find(list.items, single, [](const StockItem& each) { return each.id.text; });
      ASSERT_NE(found, list.items.end()) << item.id.text;
      EXPECT_GT(item.price.minor, found->price.minor) << item.id.text;
      EXPECT_LT(item.price.minor, found->price.minor * item.pack) << item.id.text;
      ++seen;
    }
    EXPECT_GT(seen, 50) << list.name;
  }
}

TEST(StockPrices, EverythingHasASupplierOfALabelOnly) {
  for (const List& list : lists())
    for (const StockItem& item : list.items)
      EXPECT_TRUE(item.supplier == "supplier A" || item.supplier == "supplier B" ||
                  item.supplier == "supplier C")
          << item.id.text;
}

} // namespace
} // namespace bellmouth::stock
