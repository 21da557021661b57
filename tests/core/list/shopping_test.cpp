// SPDX-License-Identifier: GPL-3.0-or-later
// Shopping list, clamps and money. Amounts are worked by hand from the sizes and the invented prices (closed
// form).
#include "core/list/small_work.hpp"
#include "support/close.hpp"
#include "support/sample_builds.hpp"

#include <gtest/gtest.h>

#include <map>

namespace bellmouth::list {
namespace {

using namespace build;
using test::close;
using test::deg;
using test::euros;
using test::mm;
using test::WorkOf;

constexpr Material aluminium = Material::aluminium, silicone = Material::silicone;

/// Two hoses, two tubes, a bend and a mitred bend, all of 63.5 mm, between two ports.
Build small_build() {
  Build b;
  b.demand = FixedFlow{0.1, 101325.0, 293.15};
  b.ports = {test::sample_port("a", {}, Mounting::body, 60.2, 63.5, 40),
             test::sample_port("b", {}, Mounting::engine, 60.2, 63.5, 30)};
  b.path = {RunId{"run"}};
  b.stock = test::sample_stock();
  b.budget = {test::euro(), euros(100, 0)};
  const Piece hose{Hose{mm(63.5), mm(4.5), mm(80), {mm(32), mm(32)}}, silicone, {"hose-63"}, ""};
  b.options = {{{"only"},
                "",
                {Run{{"run"},
                     {"a"},
                     {"b"},
                     {hose,
                      {Tube{mm(63.5), mm(1.65), mm(310), {true, false}}, aluminium, {"tube-63"}, ""},
                      {TubeBend{mm(63.5), mm(1.65), deg(90), mm(95), mm(60), mm(60), 0, {}},
                       aluminium,
                       {"bend-63-90"},
                       ""},
                      {MitredBend{mm(63.5), mm(1.65), deg(45), mm(100), 2, mm(40), mm(40), 0, {}},
                       aluminium,
                       {"tube-63"},
                       ""},
                      {Tube{mm(63.5), mm(1.65), mm(125.5), {false, true}}, aluminium, {"tube-63"}, ""},
                      hose}}}}};
  return b;
}

Build with_pieces(std::vector<Piece> pieces) {
  Build b = small_build();
  Run run = *b.options.front().runs.front();
  run.pieces = std::move(pieces);
  b.options.front().runs = {run};
  return b;
}
const std::vector<Piece>& pieces_of(const Build& b) {
  return b.options.front().runs.front()->pieces;
}

const ShoppingLine& line(const Lists& lists, const char* stock) {
  for (const ShoppingLine& each : lists.shopping)
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

// 310 + 125.5 mm of straight tube, the mitred bend 80 + 4 x 100 tan(11.25 deg); kerf 2.5 mm for each of 2 +
// (1 + 2) cuts.
TEST(Shopping, TubeByTheMetreTakesInTheKerf) {
  const Build b = small_build();
  const ShoppingLine tube = line(WorkOf(b).lists(), "tube-63");
  EXPECT_TRUE(
      close(tube.needed, mm(310 + 125.5 + 80 + 400 * 0.19891236737965800 + 5 * 2.5), 1e-12)); // 607.56 mm
  EXPECT_EQ(tube.owned, 0);
  EXPECT_EQ(tube.to_buy, tube.needed);
  EXPECT_EQ(tube.per, Per::metre);
  EXPECT_EQ(tube.unit_price, euros(24, 0));
  EXPECT_EQ(tube.price, euros(14, 58)); // 0.60756 x 24.00 = 14.581
  EXPECT_EQ(rows(tube.pieces), (std::vector<std::size_t>{1, 3, 4}));
}

TEST(Shopping, OneLineForEachItemByKind) {
  const Build b = small_build();
  const Lists lists = WorkOf(b).lists();
  std::vector<std::string> groups, items;
  for (const ShoppingLine& each : lists.shopping) {
    groups.push_back(each.group);
    items.push_back(each.description);
  }
  EXPECT_EQ(groups, (std::vector<std::string>{"tube", "tube bend", "hose", "clamp"}));
  EXPECT_EQ(items, (std::vector<std::string>{"Tube 63.5 x 1.65", "Bend 63.5, 90 degrees", "Hose 63.5",
                                             "Clamp 68 to 76"}));
  EXPECT_EQ(line(lists, "hose-63").needed, 2);
  EXPECT_EQ(line(lists, "hose-63").price, euros(19, 0));
  EXPECT_EQ(line(lists, "clamp-70").needed, 4);
  EXPECT_EQ(line(lists, "clamp-70").price, euros(13, 60));
  EXPECT_EQ(rows(line(lists, "clamp-70").pieces), (std::vector<std::size_t>{0, 0, 5, 5}));
  // 14.58 + 19.90 + 19.00 + 13.60
  EXPECT_EQ(lists.totals.total, euros(67, 8));
  EXPECT_EQ(lists.totals.owned_value, euros(0, 0));
  EXPECT_EQ(lists.totals.left, euros(32, 92));
  EXPECT_EQ(lists.totals.unpriced, 0);
}

TEST(Shopping, OwnedThingsAreTakenOff) {
  Build b = small_build();
  b.owned = {{{"tube-63"}, 0.4}, {{"clamp-70"}, 3}, {{"hose-63"}, 5}, {{"flange-25"}, 1}};
  b.budget.limit = euros(20, 0);
  const Lists lists = WorkOf(b).lists();
  EXPECT_TRUE(close(line(lists, "tube-63").to_buy, 0.20756494695186, 1e-10));
  EXPECT_EQ(line(lists, "tube-63").price, euros(4, 98));
  EXPECT_EQ(line(lists, "clamp-70").to_buy, 1);
  EXPECT_EQ(line(lists, "clamp-70").price, euros(3, 40));
  EXPECT_EQ(line(lists, "hose-63").owned, 2); // of what is needed
  EXPECT_EQ(line(lists, "hose-63").to_buy, 0);
  EXPECT_EQ(line(lists, "hose-63").price, euros(0, 0));
  // 4.98 + 19.90 + 0 + 3.40, of 67.08 in all
  EXPECT_EQ(lists.totals.total, euros(28, 28));
  EXPECT_EQ(lists.totals.owned_value, euros(38, 80));
  EXPECT_EQ(lists.totals.left, (quantity::Money{-828, test::euro()}));
}

TEST(Shopping, AHalfOwnedPieceIsBoughtWhole) {
  Build b = small_build();
  b.owned = {{{"bend-63-90"}, 0.5}};
  EXPECT_EQ(line(WorkOf(b).lists(), "bend-63-90").to_buy, 1);
}

TEST(Shopping, NothingIsChosenInSilence) {
  const Build whole = small_build();
  std::vector<Piece> pieces = pieces_of(whole);
  pieces[0].stock = pieces[5].stock = {};                    // two of one description
  std::get<Tube>(pieces[1].shape).outer_diameter_m = mm(70); // the chosen tube does not serve
  pieces[2].stock = {"bend-1"};                              // no such item
  const Build b = with_pieces(pieces);
  const Lists lists = WorkOf(b).lists();
  std::map<std::string, double> unpriced;
  for (const ShoppingLine& each : lists.shopping)
    if (!each.stock) {
      EXPECT_EQ(each.price, std::nullopt);
      EXPECT_EQ(each.unit_price, std::nullopt);
      EXPECT_EQ(each.to_buy, each.needed);
      unpriced[each.description] = each.needed;
    }
  const std::map<std::string, double> wanted{
      {"silicone hose bore 63.5, wall 4.5, 80 long: not chosen", 2},
      {"aluminium tube 70 x 1.65, 310 long: cannot be made of tube-63", 1},
      {"aluminium tube bend 63.5 x 1.65, 90 deg, R 95, 269.2 long: not in stock is bend-1", 1},
      {"clamp for 79 mm: none in stock", 1}};
  EXPECT_EQ(unpriced, wanted);
  EXPECT_EQ(lists.totals.unpriced, 4);
}

TEST(Clamps, BySizeWithTheHosesTheyClose) {
  Build b =
      with_pieces({{Hose{mm(63.5), mm(4.5), mm(80), {mm(32), mm(32)}}, silicone, {"hose-63"}, ""},
                   {Tube{mm(63.5), mm(1.65), mm(310), {true, true}}, aluminium, {"tube-63"}, ""},
                   {HoseReducer{mm(63.5), mm(76.2), mm(4.5), mm(102), {mm(32), mm(32)}}, silicone, {}, ""}});
  b.ports[1].outer_diameter_m = mm(76.2);
  const Lists lists = WorkOf(b).lists();
  ASSERT_EQ(lists.clamps.size(), 2u);
  EXPECT_TRUE(close(lists.clamps[0].installed_diameter_m, mm(72.5), 1e-9));
  EXPECT_EQ(lists.clamps[0].stock, StockId{"clamp-70"});
  EXPECT_EQ(lists.clamps[0].description, "Clamp 68 to 76");
  EXPECT_EQ(lists.clamps[0].count, 3);
  EXPECT_EQ(rows(lists.clamps[0].pieces), (std::vector<std::size_t>{0, 0, 2}));
  EXPECT_TRUE(close(lists.clamps[1].installed_diameter_m, mm(85.2), 1e-9));
  EXPECT_EQ(lists.clamps[1].stock, std::nullopt);
  EXPECT_EQ(lists.clamps[1].description, "none in stock");
  EXPECT_EQ(lists.clamps[1].count, 1);
  const ShoppingLine& missing = lists.shopping.back();
  EXPECT_EQ(missing.group, "clamp");
  EXPECT_EQ(missing.description, "clamp for 85.2 mm: none in stock");
  EXPECT_EQ(missing.needed, 1);
}

// Identities, over every option of every sample build.
TEST(Shopping, EveryPieceAndEveryClampIsOnIt) {
  for (const Build& b : test::all_sample_builds())
    for (std::size_t option = 0; option < b.options.size(); ++option) {
      const WorkOf work(b, option);
      const Lists lists = work.lists();
      std::map<std::pair<std::string, std::size_t>, int> seen;
      double clamps = 0;
      std::int64_t priced = 0;
      int unpriced = 0;
      for (const ShoppingLine& each : lists.shopping) {
        if (each.group == "clamp") {
          clamps += each.needed;
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
      int needed = 0, listed = 0;
      for (std::size_t i = 0; i < work.runs().size(); ++i) {
        pieces += work.runs()[i]->pieces.size();
        for (const joint::Joint& joint : work.fits()[i].joints)
          needed += joint::clamps_needed(joint);
      }
      for (const ClampLine& each : lists.clamps)
        listed += each.count;
      EXPECT_EQ(seen.size(), pieces);
      for (const auto& [ref, times] : seen)
        EXPECT_EQ(times, 1) << ref.first << " " << ref.second;
      EXPECT_EQ(clamps, needed);
      EXPECT_EQ(listed, needed);
      EXPECT_EQ(lists.totals.total.minor, priced);
      EXPECT_EQ(lists.totals.unpriced, unpriced);
    }
}

} // namespace
} // namespace bellmouth::list
