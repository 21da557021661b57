// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/close.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/stock.hpp>

#include <gtest/gtest.h>

#include <functional>

namespace bellmouth::stock {
namespace {

using namespace build;
using test::close;
using test::deg;
using test::euros;
using test::mm;

const StockItem& item(const Build& b, const char* id) {
  const StockItem* found = b.find(StockId{id});
  if (found == nullptr)
    throw std::runtime_error(std::string("no item ") + id);
  return *found;
}

StockItem clamp(const char* id, double low_mm, double high_mm, quantity::Money price) {
  StockItem made;
  made.id = {id};
  made.kind = StockKind::clamp;
  made.clamp_min_m = mm(low_mm);
  made.clamp_max_m = mm(high_mm);
  made.price = price;
  return made;
}
Build with_stock(std::vector<StockItem> items) {
  Build b;
  b.stock = std::move(items);
  return b;
}

TEST(Stock, EveryKindOfPieceHasAStockKindOfTheSameName) {
  for (const Build& b : test::all_sample_builds())
    for (const Option& option : b.options)
      for (const auto& run : option.runs)
        for (const Piece& piece : run->pieces)
          EXPECT_EQ(stock::kind_name(kind_of(piece.shape)), build::kind_name(piece.shape));
  EXPECT_EQ(stock::kind_name(StockKind::clamp), "clamp");
}

// Identity: what an item makes, it serves, and a piece of it says where it came from.
TEST(Stock, AnItemServesAPieceOfItself) {
  for (const StockItem& each : test::sample_stock()) {
    if (each.kind == StockKind::clamp)
      continue;
    const Piece piece = piece_of(each);
    EXPECT_EQ(kind_of(piece.shape), each.kind);
    EXPECT_EQ(piece.stock, each.id);
    EXPECT_TRUE(serves(each, piece)) << each.id.text;
  }
}

TEST(Stock, APieceHasTheItemsSizesInFull) {
  const Build b = test::sample_build();
  EXPECT_EQ(std::get<Tube>(piece_of(item(b, "tube-63")).shape), (Tube{mm(63.5), mm(1.65), mm(300), {}}));
  EXPECT_EQ(std::get<TubeBend>(piece_of(item(b, "bend-63-90")).shape),
            (TubeBend{mm(63.5), mm(1.65), deg(90), mm(95), mm(100), mm(100), 0, {}}));
  const auto hose = std::get<Hose>(piece_of(item(b, "hose-63")).shape);
  EXPECT_EQ(hose.length_m, mm(80));
  // 8 mm between the tubes (common practice, no source found): (80 - 8) / 2.
  EXPECT_TRUE(close(hose.engagement.in_m, mm(36), 1e-12));
  const auto elbow = std::get<HoseElbow>(piece_of(item(b, "elbow-63-45")).shape);
  EXPECT_EQ(elbow.bore_out_m, mm(63.5)); // one bore stated: the same at both ends
  EXPECT_TRUE(close(elbow.engagement.out_m, mm(40), 1e-12));
}

/// Changes a piece and says whether the item still serves it.
struct Change {
  const char* what;
  const char* item;
  std::function<void(Piece&)> change;
  bool wanted;
};

template <class S> auto shape(void (*change)(S&)) {
  return [change](Piece& piece) { change(std::get<S>(piece.shape)); };
}

TEST(Stock, ServesWhatCanBeMadeOfIt) {
  const Change cases[] = {
      {"another material", "tube-63", [](Piece& p) { p.material = Material::mild_steel; }, false},
      {"another kind", "tube-63",
       [](Piece& p) {
         p.shape = Hose{mm(63.5), mm(1.65), mm(80), {}};
       },
       false},
      {"3 m of what is sold by the metre", "tube-63", shape<Tube>([](Tube& s) { s.length_m = 3; }), true},
      {"0.2 mm off", "tube-63", shape<Tube>([](Tube& s) { s.outer_diameter_m += mm(0.2); }), true},
      {"0.3 mm off", "tube-63", shape<Tube>([](Tube& s) { s.outer_diameter_m += mm(0.3); }), false},
      {"another wall", "tube-63", shape<Tube>([](Tube& s) { s.wall_m = mm(2); }), false},
      {"a bend cut down, one leg kept", "bend-63-90",
       shape<TubeBend>([](TubeBend& s) { s.angle_rad = deg(60), s.leg_out_m = 0; }), true},
      {"a bend cut down cannot keep both legs", "bend-63-90",
       shape<TubeBend>([](TubeBend& s) { s.angle_rad = deg(60); }), false},
      {"a bend of more than is sold", "bend-63-90",
       shape<TubeBend>([](TubeBend& s) { s.angle_rad = deg(91); }), false},
      {"another bend radius", "bend-63-90", shape<TubeBend>([](TubeBend& s) { s.radius_m = mm(63.5); }),
       false},
      {"a shorter leg", "bend-63-90", shape<TubeBend>([](TubeBend& s) { s.leg_in_m = mm(30); }), true},
      {"a longer leg", "bend-63-90", shape<TubeBend>([](TubeBend& s) { s.leg_in_m = mm(130); }), false},
      {"a shorter hose", "hose-63", shape<Hose>([](Hose& s) { s.length_m = mm(60); }), true},
      {"a longer hose", "hose-63", shape<Hose>([](Hose& s) { s.length_m = mm(90); }), false},
      {"a hose elbow keeps its angle", "elbow-63-45",
       shape<HoseElbow>([](HoseElbow& s) { s.angle_rad = deg(40); }), false},
      {"a hose elbow with a second bore", "elbow-63-45",
       shape<HoseElbow>([](HoseElbow& s) { s.bore_out_m = mm(70); }), false},
      {"a reducer turned round", "reducer-76-70",
       shape<HoseReducer>([](HoseReducer& s) { std::swap(s.bore_in_m, s.bore_out_m); }), true},
      {"an adapter turned round", "adapter-63-70", shape<Adapter>([](Adapter& s) {
         std::swap(s.bore_in_m, s.bore_out_m), std::swap(s.outer_diameter_in_m, s.outer_diameter_out_m);
       }),
       true},
      {"a cone turned round", "cone-60-63", shape<Cone>([](Cone& s) { s.outer_diameter_in_m = mm(60); }),
       true},
      {"a cone keeps its length", "cone-60-63", shape<Cone>([](Cone& s) { s.length_m = mm(40); }), false},
      {"another thread", "boss-m12", shape<SensorBoss>([](SensorBoss& s) { s.thread = "M10x1"; }), false},
      {"another flange", "flange-25", shape<ValveFlange>([](ValveFlange& s) { s.bore_m = mm(30); }), false},
  };
  const Build b = test::sample_build();
  for (const Change& c : cases) {
    Piece piece = piece_of(item(b, c.item));
    c.change(piece);
    EXPECT_EQ(serves(item(b, c.item), piece), c.wanted) << c.what;
  }
}

TEST(Stock, AMitredBendIsCutFromStraightTube) {
  const Build b = test::sample_build();
  const Piece mitred{
      MitredBend{mm(63.5), mm(1.65), deg(90), mm(95), 3, mm(40), mm(40), 0, {}}, Material::aluminium, {}, ""};
  const auto found = choices(b, mitred);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found.front()->id.text, "tube-63");
  // Closed form: two legs and 6 half wedges of R tan(15 degrees).
  EXPECT_TRUE(close(amount_for(*found.front(), mitred), mm(80 + 6 * 95 * 0.26794919243112270), 1e-12));
}

TEST(Stock, ChoicesComeCheapestFirst) {
  std::vector<StockItem> items = test::sample_stock();
  StockItem dear = items[0], cheap = items[0], same = items[0], whole = items[0];
  dear.id = {"dear"}, dear.price = euros(30, 0);
  cheap.id = {"cheap"}, cheap.price = euros(18, 0);
  same.id = {"same"}; // as dear as the first
  whole.id = {"whole"}, whole.per = Per::each, whole.price = euros(5, 0);
  items.insert(items.end(), {dear, cheap, same, whole});
  const Build b = with_stock(items);
  Piece piece = piece_of(items[0]); // 300 mm: 5.40 by the metre at the cheapest
  std::vector<std::string> ids;
  for (const StockItem* found : choices(b, piece))
    ids.push_back(found->id.text);
  EXPECT_EQ(ids, (std::vector<std::string>{"whole", "cheap", "tube-63", "same", "dear"}));
}

TEST(Stock, MoneyIsExact) {
  const Build b = test::sample_build();
  EXPECT_EQ(price_of(item(b, "tube-63"), 1.37), euros(32, 88));   // 24.00 a metre
  EXPECT_EQ(price_of(item(b, "bend-63-90"), 3), euros(59, 70));   // 19.90 each
  EXPECT_EQ(price_of(item(b, "bend-63-90"), 2.2), euros(59, 70)); // whole pieces
  EXPECT_EQ(price_of(item(b, "bend-63-90"), 0), euros(0, 0));
}

// Published rule (guides of clamp makers): the diameter should lie in the middle half of the clamp's range.
TEST(Clamp, MiddleHalfGoesBeforeRangeAndPriceDecidesAmongEquals) {
  const Build b = with_stock({clamp("60-80", 60, 80, euros(2, 0)), clamp("70-90", 70, 90, euros(1, 0)),
                              clamp("71-79", 71, 79, euros(6, 0)), clamp("60-80 again", 60, 80, euros(2, 0)),
                              clamp("90-110", 90, 110, euros(2, 0))});
  const auto id = [&](double diameter_mm) {
    const StockItem* found = clamp_for(b, mm(diameter_mm));
    return found == nullptr ? std::string("none") : found->id.text;
  };
  EXPECT_EQ(id(72), "60-80"); // middle half 65 to 75; cheaper 70-90 holds it only at its edge
  EXPECT_EQ(id(74), "60-80"); // so does 71-79 (73 to 77), but it is dearer
  EXPECT_EQ(id(76), "70-90"); // middle half 75 to 85
  EXPECT_EQ(id(61), "60-80"); // in range only
  EXPECT_EQ(id(88), "70-90"); // in range only
  EXPECT_EQ(id(90), "70-90"); // both at their ends, the cheaper
  EXPECT_EQ(id(59.9), "none");
  EXPECT_EQ(id(110.1), "none");
  EXPECT_EQ(clamp_for(Build{}, mm(70)), nullptr);
}

TEST(Stock, TubeSizesAreDistinctAndRising) {
  std::vector<StockItem> items = test::sample_stock();
  StockItem again = items[0], thick = items[0], steel = items[0], small = items[0];
  again.id = {"again"};
  thick.wall_m = mm(2);
  steel.material = Material::stainless_steel;
  small.outer_diameter_m = mm(50.8);
  items.insert(items.begin(), {again, thick, steel, small});
  const std::vector<TubeSize> wanted{{mm(50.8), mm(1.65), Material::aluminium},
                                     {mm(63.5), mm(1.65), Material::aluminium},
                                     {mm(63.5), mm(1.65), Material::stainless_steel},
                                     {mm(63.5), mm(2), Material::aluminium}};
  EXPECT_EQ(tube_sizes(with_stock(items)), wanted);
  EXPECT_TRUE(tube_sizes(Build{}).empty());
}

} // namespace
} // namespace bellmouth::stock
