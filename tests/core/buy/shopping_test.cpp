// SPDX-License-Identifier: GPL-3.0-or-later
// Shopping list and money. Amounts are worked by hand from the sizes and the invented prices (closed
// form).
#include "support/close.hpp"
#include "support/sample_builds.hpp"
#include "support/small_build.hpp"

#include <bellmouth/buy.hpp>

#include <gtest/gtest.h>

#include <limits>
#include <map>

namespace bellmouth::buy {
namespace {

using namespace build;
using test::close;
using test::deg;
using test::euros;
using test::mm;
using test::pieces_of;
using test::small_build;
using test::with_pieces;

constexpr Material aluminium = Material::aluminium;

/// Planned until it is proven.
Purchase purchase(const Build& b, std::size_t option = 0, Aim aim = Aim::money) {
  return buy::purchase(b, b.options.at(option).id,
                       {.aim = aim, .seconds = std::numeric_limits<double>::infinity()});
}

ShoppingLine line(const Purchase& bought, const char* stock) {
  for (const ShoppingLine& each : bought.shopping)
    if (each.stock && each.stock->text == stock)
      return each;
  throw std::runtime_error(std::string("no line of ") + stock);
}

std::vector<std::size_t> rows(const std::vector<PieceRef>& refs) {
  std::vector<std::size_t> found;
  for (const PieceRef& ref : refs)
    found.push_back(ref.row);
  return found;
}

// 310 + 125.5 mm of straight tube, the mitred bend 80 + 4 x 100 tan(11.25 deg); kerf 2.5 mm for each of 2 + 1
// square cuts and 2.5 mm / cos(11.25 deg) for each of 2 slanting ones.
TEST(Shopping, TubeByTheMetreTakesInTheKerf) {
  const Build b = small_build();
  const ShoppingLine tube = line(purchase(b), "tube-63");
  EXPECT_TRUE(close(
      tube.needed, mm(310 + 125.5 + 80 + 400 * 0.19891236737965800 + 3 * 2.5 + 2 * 2.5 / 0.98078528040323045),
      1e-12)); // 607.66 mm
  EXPECT_EQ(tube.owned, 0);
  EXPECT_EQ(tube.to_buy, tube.needed);
  EXPECT_EQ(tube.per, Per::metre);
  EXPECT_EQ(tube.unit_price, euros(24, 0));
  EXPECT_EQ(tube.price, euros(14, 58)); // 0.60766 x 24.00 = 14.584
  EXPECT_EQ(rows(tube.pieces), (std::vector<std::size_t>{1, 3, 4}));
}

TEST(Shopping, OneLineForEachItemByKind) {
  const Build b = small_build();
  const Purchase bought = purchase(b);
  std::vector<std::string> groups, items;
  for (const ShoppingLine& each : bought.shopping) {
    groups.push_back(each.group);
    items.push_back(each.description);
  }
  EXPECT_EQ(groups, (std::vector<std::string>{"tube", "tube bend", "hose", "clamp"}));
  EXPECT_EQ(items, (std::vector<std::string>{"Tube 63.5 x 1.65", "Bend 63.5, 90 degrees", "Hose 63.5",
                                             "Clamp 68 to 76"}));
  EXPECT_EQ(line(bought, "hose-63").needed, 2);
  EXPECT_EQ(line(bought, "hose-63").price, euros(19, 0));
  EXPECT_EQ(line(bought, "clamp-70").needed, 4);
  EXPECT_EQ(line(bought, "clamp-70").price, euros(13, 60));
  EXPECT_EQ(rows(line(bought, "clamp-70").pieces), (std::vector<std::size_t>{0, 0, 5, 5}));
  // 14.58 + 19.90 + 19.00 + 13.60
  EXPECT_EQ(bought.totals.total, euros(67, 8));
  EXPECT_EQ(bought.totals.owned_value, euros(0, 0));
  EXPECT_EQ(bought.totals.left, euros(32, 92));
  EXPECT_EQ(bought.totals.unpriced, 0);
}

// Of 0.4 m that are owned in one length the longest piece comes, 310 mm and a kerf; the mitred bend (159.6 mm
// and 2 slanting kerfs of 2.549 mm and a square one) and the short tube are bought: 159.56 + 7.6 + 125.5
// + 2.5 mm.
TEST(Shopping, OwnedThingsAreTakenOff) {
  Build b = small_build();
  b.owned = {{{"tube-63"}, 0.4, euros(9, 60)}, {{"clamp-70"}, 3}, {{"hose-63"}, 5}, {{"flange-25"}, 1}};
  b.budget.limit = euros(20, 0);
  const Purchase bought = purchase(b);
  const ShoppingLine tube = line(bought, "tube-63");
  EXPECT_TRUE(close(tube.to_buy, 0.29516290274290, 1e-10));
  EXPECT_TRUE(close(tube.owned, 0.3125, 1e-12));
  EXPECT_EQ(tube.price, euros(7, 8)); // 0.29516 x 24.00 = 7.0839
  EXPECT_EQ(tube.paid, euros(9, 60));
  EXPECT_EQ(line(bought, "clamp-70").to_buy, 1);
  EXPECT_EQ(line(bought, "clamp-70").price, euros(3, 40));
  EXPECT_EQ(line(bought, "hose-63").owned, 2); // of what is needed
  EXPECT_EQ(line(bought, "hose-63").to_buy, 0);
  EXPECT_EQ(line(bought, "hose-63").price, euros(0, 0));
  EXPECT_EQ(bought.totals.total, euros(30, 38));       // 7.08 + 19.90 + 0 + 3.40
  EXPECT_EQ(bought.totals.owned_value, euros(36, 70)); // 0.3125 m x 24 + 2 x 9.50 + 3 x 3.40
  EXPECT_EQ(bought.totals.spent, euros(9, 60));
  EXPECT_EQ(bought.totals.in_all, euros(39, 98));
  EXPECT_EQ(bought.totals.left, (quantity::Money{-1998, test::euro()}));
}

TEST(Shopping, AHalfOwnedPieceIsBoughtWhole) {
  Build b = small_build();
  b.owned = {{{"bend-63-90"}, 0.5}};
  EXPECT_EQ(line(purchase(b), "bend-63-90").to_buy, 1);
}

TEST(Shopping, WhatNothingServesIsSaid) {
  const Build whole = small_build();
  std::vector<Piece> pieces = pieces_of(whole);
  pieces[0].stock = pieces[5].stock = {}; // two of one description: the plan takes what serves
  std::get<Tube>(pieces[1].shape).outer_diameter_m = mm(70); // the chosen tube does not serve
  pieces[2].stock = {};
  std::get<TubeBend>(pieces[2].shape).angle_rad = deg(120); // more than any bend has
  const Build b = with_pieces(pieces);
  const Purchase bought = purchase(b);
  EXPECT_EQ(line(bought, "hose-63").needed, 2);
  std::map<std::string, double> unpriced;
  for (const ShoppingLine& each : bought.shopping)
    if (!each.stock) {
      EXPECT_EQ(each.price, std::nullopt);
      EXPECT_EQ(each.unit_price, std::nullopt);
      EXPECT_EQ(each.to_buy, each.needed);
      unpriced[each.description] = each.needed;
    }
  const std::map<std::string, double> wanted{
      {"aluminium tube 70 x 1.65, 310 long: neither tube-63 serves it nor anything in stock that is as good",
       1},
      {"aluminium tube bend 63.5 x 1.65, 120 deg, R 95, 319 long: nothing in stock serves it", 1},
      {"clamp for 79 mm: none in stock", 1}};
  EXPECT_EQ(unpriced, wanted);
  EXPECT_EQ(bought.totals.unpriced, 3);
}

// What is named may be replaced by its equal or better, not by worse.
TEST(Shopping, NothingWorseTakesThePlaceOfWhatIsNamed) {
  Build b = small_build();
  std::vector<StockItem> stock = *b.stock;
  StockItem good = *b.find(StockId{"hose-63"}), cheap = good, better = good;
  good.plies = 4;
  cheap.id = {"hose-cheap"};
  cheap.plies = 3;
  cheap.price = euros(1, 0);
  better.id = {"hose-better"};
  better.plies = 5;
  better.price = euros(8, 0); // less than the 9.50 of the named one
  *std::ranges::find(stock, good.id, &StockItem::id) = good;
  stock.push_back(cheap);
  b.stock = stock;
  EXPECT_EQ(line(purchase(b), "hose-63").to_buy, 2);
  stock.push_back(better);
  b.stock = stock;
  EXPECT_EQ(line(purchase(b), "hose-better").to_buy, 2);
}

TEST(Shopping, PacksAndSparesAreCounted) {
  Build b = small_build();
  std::vector<StockItem> stock = *b.stock;
  StockItem& clamp = *std::ranges::find(stock, StockId{"clamp-70"}, &StockItem::id);
  clamp.pack = 2;
  clamp.price = euros(5, 0);
  b.stock = stock;
  b.budget.spares = {{StockKind::clamp, 10}}; // of 4: one
  const ShoppingLine clamps = line(purchase(b), "clamp-70");
  EXPECT_EQ(clamps.needed, 5);
  EXPECT_EQ(clamps.spare, 1);
  EXPECT_EQ(clamps.to_buy, 3); // packs
  EXPECT_EQ(clamps.pack, 2);
  EXPECT_EQ(clamps.price, euros(15, 0));
  EXPECT_EQ(rows(clamps.pieces), (std::vector<std::size_t>{0, 0, 5, 5}));
}

TEST(Shopping, OffcutsComeFirst) {
  Build b = small_build();
  b.offcuts = {{{"tube-63"}, 1, mm(128)}, {{"bend-63-90"}, 1, mm(60), deg(90), mm(60)}};
  const Purchase bought = purchase(b);
  EXPECT_TRUE(close(line(bought, "tube-63").owned, mm(128), 1e-12)); // 125.5 mm and the kerf
  EXPECT_EQ(line(bought, "bend-63-90").to_buy, 0);
  EXPECT_EQ(line(bought, "bend-63-90").owned, 1);
}

// 180 degrees of bend for two of 90 that have a straight end each, at less than two bends of 90.
TEST(Shopping, ABendOfHalfATurnGivesTwo) {
  Build b = small_build();
  const auto bend = [](double in_mm, double out_mm) {
    return Piece{
        TubeBend{mm(63.5), mm(1.65), deg(90), mm(95), mm(in_mm), mm(out_mm), 0, {}}, aluminium, {}, ""};
  };
  b = with_pieces({bend(50, 0), bend(0, 50)});
  std::vector<StockItem> stock = *b.stock;
  StockItem half = *b.find(StockId{"bend-63-90"});
  half.id = {"bend-63-180"};
  half.name = "Bend 63.5, 180 degrees";
  half.angle_rad = deg(180);
  half.price = euros(31, 0); // against 2 x 19.90
  stock.push_back(half);
  b.stock = stock;
  const Purchase bought = purchase(b);
  EXPECT_EQ(line(bought, "bend-63-180").to_buy, 1);
  EXPECT_EQ(bought.totals.total, euros(31, 0));
  for (const Use& use : bought.plan.uses)
    for (const Cut& cut : use.cuts) // half of the kerf each: 2.5 mm / 95 mm / 2
      EXPECT_TRUE(close(cut.short_by_rad, 2.5 / 95 / 2, 1e-9));
}

// Whatever a build may hold makes a valid question.
TEST(Task, IsAValidQuestion) {
  for (const Build& b : test::all_sample_builds())
    for (const Option& option : b.options) {
      std::vector<const build::Run*> runs;
      for (const PathStep& step : b.path)
        if (const auto* run = std::get_if<RunId>(&step))
          runs.push_back(option.find(*run));
      const auto fits = joint::fits(b, option);
      const auto wrong = validate(task({b, option, runs, fits}).question);
      EXPECT_FALSE(wrong) << wrong->text();
    }
}

// A price by the metre is rounded once for all that is bought of the item, packs of sawn things are counted
// whole.
TEST(Shopping, PricesAreThoseOfThePlan) {
  Build b = small_build();
  std::vector<StockItem> stock = *b.stock;
  StockItem& bend = *std::ranges::find(stock, StockId{"bend-63-90"}, &StockItem::id);
  bend.pack = 3;
  b.stock = stock;
  std::vector<Piece> pieces = pieces_of(b);
  pieces.insert(pieces.begin() + 3, pieces[2]);
  build::Run run = *b.options.front().runs.front();
  run.pieces = pieces;
  b.options.front().runs = {run};
  const Purchase bought = purchase(b);
  EXPECT_EQ(line(bought, "bend-63-90").needed, 2);
  EXPECT_EQ(line(bought, "bend-63-90").to_buy, 1);
  EXPECT_EQ(line(bought, "bend-63-90").price, euros(19, 90));
  EXPECT_EQ(bought.totals.goods.minor, bought.plan.goods_minor);
}

// Tax worked by hand: 19 % in 67.08 are 10.71 (67.08 x 19 / 119 = 10.7103), on top 12.75 (12.7452).
TEST(Money, TaxIsInThePricesOrOnTop) {
  Build b = small_build();
  b.budget.tax = Tax{1900, true};
  Totals totals = purchase(b).totals;
  EXPECT_EQ(totals.tax, euros(10, 71));
  EXPECT_EQ(totals.total, euros(67, 8));
  EXPECT_EQ(totals.without_tax, euros(56, 37));
  b.budget.tax = Tax{1900, false};
  totals = purchase(b).totals;
  EXPECT_EQ(totals.tax, euros(12, 75));
  EXPECT_EQ(totals.total, euros(79, 83));
  EXPECT_EQ(totals.without_tax, euros(67, 8));
  EXPECT_EQ(totals.left, euros(20, 17));
}

TEST(Money, TaxIsRoundedHalfAwayFromZero) {
  const auto on = [](std::int64_t minor, int basis_points, bool prices_include) {
    return tax_on({minor, test::euro()}, Tax{basis_points, prices_include}).minor;
  };
  EXPECT_EQ(on(50, 100, false), 1); // 0.5
  EXPECT_EQ(on(49, 100, false), 0);
  EXPECT_EQ(on(-50, 100, false), -1);
  EXPECT_EQ(on(120, 2000, true), 20);
  EXPECT_EQ(on(100, 0, true), 0);
  EXPECT_EQ(on(quantity::largest_minor, 10000, false), quantity::largest_minor);
}

TEST(Money, CategoriesAddUpToTheGoods) {
  for (const Build& b : test::all_sample_builds()) {
    const Totals totals = purchase(b).totals;
    std::int64_t sum = 0;
    for (const Category& category : totals.categories)
      sum += category.planned.minor;
    EXPECT_EQ(sum, totals.goods.minor);
  }
}

// Identities, over every option of every sample build.
TEST(Shopping, EveryPieceAndEveryClampIsOnIt) {
  for (const Build& b : test::all_sample_builds())
    for (std::size_t option = 0; option < b.options.size(); ++option) {
      const Purchase bought = purchase(b, option);
      std::map<std::pair<std::string, std::size_t>, int> seen;
      double clamps = 0;
      std::int64_t priced = 0;
      int unpriced = 0;
      for (const ShoppingLine& each : bought.shopping) {
        if (each.group == "clamp") {
          clamps += each.needed - each.spare;
        } else {
          for (const PieceRef& ref : each.pieces) {
            EXPECT_NE(find(b, ref), nullptr);
            ++seen[{ref.run.text, ref.row}];
          }
        }
        priced += each.price ? each.price->minor : 0;
        unpriced += each.price ? 0 : 1;
      }
      std::size_t pieces = 0;
      int needed = 0;
      for (const auto& run : b.options[option].runs)
        pieces += run->pieces.size();
      for (const joint::RunFit& fit : joint::fits(b, b.options[option]))
        for (const joint::Joint& joint : fit.joints)
          needed += joint::clamps_needed(joint);
      EXPECT_EQ(seen.size(), pieces);
      for (const auto& [ref, times] : seen)
        EXPECT_EQ(times, 1) << ref.first << " " << ref.second;
      EXPECT_EQ(clamps, needed);
      EXPECT_EQ(bought.totals.goods.minor, priced);
      EXPECT_EQ(bought.totals.unpriced, unpriced);
    }
}

} // namespace
} // namespace bellmouth::buy
