// SPDX-License-Identifier: GPL-3.0-or-later
// The stock lists that come along: readable, consistent, and of sizes that the trade knows.
#include "shipped_lists.hpp"
#include "support/close.hpp"
#include "support/reference.hpp"
#include "support/sample_parts.hpp"

#include <bellmouth/stock.hpp>
#include <bellmouth/stock/export.hpp>
#include <bellmouth/stock/import.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <set>

namespace bellmouth::stock {
namespace {

using namespace build;
using test::close;
using test::deg;
using test::mm;

/// Bores of an item in millimetres, one or two.
std::vector<double> bores_mm(const StockItem& item) {
  std::vector<double> bores;
  for (const auto& bore_m : {item.bore_m, item.bore_out_m})
    if (bore_m)
      bores.push_back(*bore_m * 1e3);
  return bores;
}
std::vector<double> column(const char* table, const char* name) {
  std::vector<double> values;
  for (const test::Row& row : test::reference(table))
    values.push_back(row.number(name));
  return values;
}

TEST(StockLists, AreWrittenAsTheyAreRead) {
  for (const List& list : lists()) {
    ASSERT_FALSE(list.items.empty());
    EXPECT_EQ(write_stock(list.items, list.items.front().price.currency), list.text) << list.name;
  }
}

// Identity: the table of a list is what we would write of it, and holds the same.
TEST(StockLists, TheTableHoldsTheSame) {
  for (const List& list : lists()) {
    const std::string text = file_text(list.name + ".csv");
    EXPECT_EQ(csv(list.items), text) << list.name;
    Build empty;
    empty.budget.currency = list.items.front().price.currency;
    const auto table = read_table(text);
    ASSERT_TRUE(table) << table.error().text();
    const auto found = preview(*table, propose(*table), empty);
    ASSERT_TRUE(found) << found.error().text();
    EXPECT_TRUE(found->bad.empty()) << found->bad.front().error.text();
    EXPECT_TRUE(found->unused.empty());
    EXPECT_TRUE(found->taken_as.empty());
    const auto taken = take(empty, *found, OnClash::replace);
    ASSERT_TRUE(taken);
    EXPECT_EQ(*taken->stock, list.items) << list.name;
  }
}

TEST(StockLists, AreBroadAndEveryNameIsThereOnce) {
  for (const List& list : lists()) {
    std::set<std::string> ids, names;
    std::set<StockKind> kinds;
    for (const StockItem& item : list.items) {
      EXPECT_TRUE(ids.insert(item.id.text).second) << item.id.text;
      EXPECT_TRUE(names.insert(item.name).second) << item.name;
      EXPECT_GT(item.price.minor, 0) << item.name;
      kinds.insert(item.kind);
    }
    // Every kind but the mitred bend, which is made and not bought.
    EXPECT_EQ(kinds.size(), static_cast<std::size_t>(StockKind::clamp)) << list.name;
    EXPECT_FALSE(kinds.contains(StockKind::mitred_bend));
  }
}

// Identity: an item makes a valid piece of itself.
TEST(StockLists, EveryItemMakesAValidPieceThatItServes) {
  for (const List& list : lists())
    for (const StockItem& item : list.items) {
      if (item.kind == StockKind::clamp)
        continue;
      const Piece piece = piece_of(item);
      const auto wrong = validate(piece, "$");
      EXPECT_FALSE(wrong.has_value()) << item.id.text << ": " << wrong.value_or(Error{}).text();
      EXPECT_TRUE(serves(item, piece)) << item.id.text;
    }
}

// Published values: preferred outside diameters (ISO 4200 / EN 10220, recalled and from memory, as the
// table says), those which the trade stocks besides (common practice, no source found), and the inch sizes
// that tube sellers stock.
TEST(StockLists, TubesHaveSizesOfTheTrade) {
  std::vector<double> metric = column("tube_od.csv", "od_mm");
  metric.insert(metric.end(), {38, 40, 45, 48, 50, 51, 54, 57, 60, 63, 63.5, 65, 70, 76, 80, 89, 102});
  std::vector<double> inch;
  for (const double size_in : {1.5, 1.75, 2.0, 2.25, 2.375, 2.5, 2.75, 3.0, 3.5, 4.0})
    inch.push_back(size_in * inch_mm);
  for (const List& list : lists())
    for (const StockItem& item : list.items)
      if (item.kind == StockKind::tube || item.kind == StockKind::tube_bend) {
        EXPECT_TRUE(among(*item.outer_diameter_m * 1e3, list.is_metric() ? metric : inch)) << item.id.text;
      }
}

// Hoses are named by their bore. Metric: nominal bores of EN ISO 1307 or those which the trade sells (common
// practice, no source found). Inch: the outside diameters of the tube they go on.
TEST(StockLists, HosesHaveSizesOfTheTrade) {
  std::vector<double> metric = column("hose_bores.csv", "nominal_mm");
  metric.insert(metric.end(),
                {32, 35, 38, 40, 42, 45, 48, 51, 54, 57, 60, 63, 65, 68, 70, 76, 80, 83, 89, 95, 102});
  for (const List& list : lists()) {
    std::vector<double> tubes;
    for (const StockItem& item : list.items)
      if (item.kind == StockKind::tube)
        tubes.push_back(*item.outer_diameter_m * 1e3);
    for (const StockItem& item : list.items)
      if (is_hose(item)) {
        for (const double bore_mm : bores_mm(item))
          EXPECT_TRUE(among(bore_mm, list.is_metric() ? metric : tubes)) << item.id.text;
      }
  }
}

// A hose should be of the tube's outside diameter or up to 1 mm smaller; 1 mm larger leaks (common practice,
// no source found): half a millimetre is taken as the line.
TEST(StockLists, EveryTubeFindsAHoseAndItsClamp) {
  for (const List& list : lists()) {
    Build b;
    b.stock = list.items;
    for (const TubeSize& size : tube_sizes(b)) {
      const auto fits = [&](const StockItem& item) {
        const double interference_m =
            item.kind == StockKind::hose ? size.outer_diameter_m - *item.bore_m : -1.0;
        return interference_m > -mm(0.51) && interference_m < mm(1.01);
      };
      const auto hose = std::ranges::find_if(list.items, fits);
      ASSERT_NE(hose, list.items.end()) << size.outer_diameter_m;
      const double installed_m = size.outer_diameter_m + 2 * *hose->wall_m;
      const StockItem* const clamp = clamp_for(b, installed_m);
      ASSERT_NE(clamp, nullptr) << installed_m;
      // The middle half of the clamp's range (guides of clamp makers).
      const double share = (installed_m - *clamp->clamp_min_m) / (*clamp->clamp_max_m - *clamp->clamp_min_m);
      EXPECT_GE(share, 0.25 - 1e-9) << clamp->id.text << " round " << installed_m;
      EXPECT_LE(share, 0.75 + 1e-9) << clamp->id.text << " round " << installed_m;
    }
  }
}

// Radii from 1 to 3 outside diameters (general sources on tube bending) and those of a stock list of steel
// bends, which go up to 3.5; angles that are sold (common practice, no source found).
TEST(StockLists, BendsAreSuchAsAreSold) {
  for (const List& list : lists())
    for (const StockItem& item : list.items)
      if (item.kind == StockKind::tube_bend) {
        const double ratio = *item.radius_m / *item.outer_diameter_m;
        EXPECT_GE(ratio, 0.999) << item.id.text;
        EXPECT_LE(ratio, 3.5) << item.id.text;
        EXPECT_TRUE(among(*item.angle_rad / deg(1), {30, 45, 60, 90, 135, 180})) << item.id.text;
      }
}

// Published rule from memory (SAE J1508): greatest diameter of worm size n is (n + 8)/16 in.
TEST(StockLists, InchWormClampsOpenAsTheirNumberSays) {
  int seen = 0;
  for (const StockItem& item : load("inch").items) {
    const std::string start = "worm-clamp-no-";
    if (!item.id.text.starts_with(start))
      continue;
    ++seen; // "worm-clamp-no-40-pack-4": the number ends where it ends
    EXPECT_NEAR(*item.clamp_max_m, mm((std::stoi(item.id.text.substr(start.size())) + 8) / 16.0 * inch_mm),
                mm(0.051));
  }
  EXPECT_GE(seen, 5);
}

} // namespace
} // namespace bellmouth::stock
