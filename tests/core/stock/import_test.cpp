// SPDX-License-Identifier: GPL-3.0-or-later
// Rows become items or one clear error each, and nothing enters a build before it is asked to. Kinds of the
// numeric checks: identities, and closed forms (1 in is 25.4 mm by definition; a degree is pi/180).
#include "support/close.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/build/stock_items.hpp>
#include <bellmouth/stock/export.hpp>
#include <bellmouth/stock/import.hpp>

#include <gtest/gtest.h>

#include <random>

namespace bellmouth::stock {
namespace {

using namespace build;
using test::close;
using test::deg;
using test::euros;
using test::mm;

Build empty_build() {
  Build build = test::sample_build();
  build = with_stock(build, {});
  return build;
}

/// The preview of a text by its own headings.
Preview look(std::string_view text, const Build& build = empty_build()) {
  const auto table = read_table(text, "list.csv");
  if (!table)
    throw std::runtime_error(table.error().text());
  auto found = preview(*table, propose(*table), build);
  if (!found)
    throw std::runtime_error(found.error().text());
  return *std::move(found);
}
StockItem only(std::string_view text) {
  const Preview found = look(text);
  if (found.good.size() != 1)
    throw std::runtime_error(found.bad.empty() ? "no row" : found.bad.front().error.text());
  return found.good.front().item;
}

StockItem item(const char* id, StockKind kind, Material material, quantity::Money price) {
  StockItem made;
  made.id = {id};
  made.kind = kind;
  made.material = material;
  made.price = price;
  return made;
}

TEST(StockImport, ARowBecomesAnItem) {
  StockItem tube = item("t1", StockKind::tube, Material::stainless_steel, euros(29, 40));
  tube.name = "a tube";
  tube.outer_diameter_m = mm(63.5);
  tube.wall_m = mm(1.5);
  tube.per = Per::metre;
  tube.supplier = "shelf";
  EXPECT_EQ(only("id,kind,name,material,OD [mm],wall [mm],price EUR,per,supplier\n"
                 "t1,tube,a tube,stainless steel,63.5,1.5,29.40,metre,shelf\n"),
            tube);

  StockItem bend = item("b", StockKind::tube_bend, Material::aluminium, euros(22, 0));
  bend.outer_diameter_m = mm(63.5);
  bend.wall_m = mm(2);
  bend.angle_rad = deg(90);
  bend.radius_m = mm(95.25);
  bend.leg_in_m = bend.leg_out_m = mm(100);
  EXPECT_EQ(only("part no;type;alloy;OD in;wall mm;angle;CLR in;legs mm;price\n"
                 "b;mandrel bend;6061-T6;2 1/2;2;90;3.75;100;22\n"),
            bend);

  StockItem elbow = item("e", StockKind::hose_elbow, Material::silicone, euros(24, 80));
  elbow.bore_m = mm(63);
  elbow.bore_out_m = mm(76);
  elbow.wall_m = mm(5);
  elbow.angle_rad = deg(67);
  elbow.radius_m = mm(76);
  elbow.leg_in_m = mm(102);
  elbow.leg_out_m = mm(127);
  elbow.plies = 4;
  elbow.max_temperature_K = 443.15;
  elbow.max_gauge_Pa = 200e3;
  elbow.oil_proof = true;
  elbow.pack = 2;
  EXPECT_EQ(only("id\tkind\tmaterial\those id [mm]\tsecond bore [mm]\twall [mm]\tangle [deg]\tradius "
                 "[mm]\tleg 1 [mm]"
                 "\tleg 2 [mm]\tplies\tmax temp [C]\tmax pressure [bar]\tlining\tprice\tpack\n"
                 "e\telbow\tsilicone\t63\t76\t5\t67\t76\t102\t127\t4-ply\t170\t2\tfluoro-lined\t24.80 "
                 "EUR\tpack of 2\n"),
            elbow);

  StockItem clamp = item("c", StockKind::clamp, Material::stainless_steel, euros(6, 0));
  clamp.clamp_min_m = mm(74);
  clamp.clamp_max_m = mm(79);
  clamp.clamp_type = ClampType::round_bolt;
  clamp.band_width_m = mm(19);
  clamp.torque_Nm = 6.5;
  EXPECT_EQ(
      only("id,kind,clamp range [mm],band width [mm],torque [N m],price\nc,T-bolt clamp,74-79,19,6.5,6\n"),
      clamp);

  StockItem hose = item("h", StockKind::hose, Material::rubber, euros(47, 50));
  hose.bore_m = mm(63);
  hose.wall_m = mm(5);
  hose.per = Per::metre;
  hose.wire = true;
  EXPECT_EQ(only("id,kind,material,ID mm,wall mm,wire,price [EUR/m]\nh,suction hose,EPDM,63,5,yes,47.50\n"),
            hose);

  StockItem boss = item("g", StockKind::sensor_boss, Material::mild_steel, euros(7, 0));
  boss.thread = "1/8 NPT";
  EXPECT_EQ(only("id,kind,material,thread,price\ng,weld bung,mild steel,1/8 NPT,€7\n"), boss);
}

struct Cell {
  const char* heading;
  const char* text;
  double OD_mm;
};

TEST(StockImport, LengthsAreReadInTheirUnits) {
  const Cell cases[] = {
      {"OD [mm]", "63.5", 63.5},   {"OD [in]", "2.5", 63.5},     {"OD [in]", "2 1/2", 63.5},
      {"OD [in]", "2-1/2", 63.5},  {"OD", "63.5 mm", 63.5},      {"OD", "2.5\"\"", 63.5},
      {"OD [mm]", "2.5 in", 63.5}, {"OD [cm]", "6.35", 63.5},    {"OD [in]", "2\u00bd", 63.5},
      {"OD [in]", "2.25", 57.15},  {"OD [in]", "2 3/8", 60.325},
  };
  for (const Cell& each : cases) {
    const StockItem found = only(std::string("kind,material,wall mm,per,price,") + each.heading +
                                 "\ntube,alu,2,metre,20,\"" + each.text + "\"\n");
    // What a file holds of it, to the last bit.
    EXPECT_EQ(*found.outer_diameter_m, mm(each.OD_mm)) << each.heading << each.text;
  }
}

TEST(StockImport, DecimalCommasAreRead) {
  const StockItem found = only("kind;material;OD mm;wall mm;per;price\ntube;alu;63,5;1,65;m;25,40\n");
  EXPECT_EQ(*found.outer_diameter_m, mm(63.5));
  EXPECT_EQ(*found.wall_m, mm(1.65));
  EXPECT_EQ(found.price, euros(25, 40));
}

TEST(StockImport, AnIdIsMadeOfKindAndSizes) {
  const std::string text = "kind,material,bore mm,wall mm,length mm,price\n"
                           "hose,silicone,63,5,76,7\nhose,silicone,63,5,76,8\nhose,silicone,70,5,76,9\n";
  for (int time = 0; time < 2; ++time) {
    const Preview found = look(text);
    ASSERT_EQ(found.good.size(), 3u);
    EXPECT_TRUE(found.good[0].id_made);
    EXPECT_EQ(found.good[0].item.id.text, "hose-silicone-63-5-76");
    EXPECT_EQ(found.good[1].item.id.text, "hose-silicone-63-5-76-2");
    EXPECT_EQ(found.good[2].item.id.text, "hose-silicone-70-5-76");
  }
  // One that a row says itself stays its own.
  const Preview mixed = look("id,kind,material,bore mm,wall mm,length mm,price\n"
                             "hose-silicone-63-5-76,hose,silicone,57,5,76,7\n,hose,silicone,63,5,76,8\n");
  ASSERT_EQ(mixed.good.size(), 2u);
  EXPECT_EQ(mixed.good[1].item.id.text, "hose-silicone-63-5-76-2");
}

struct Bad {
  const char* what;
  const char* head;
  const char* row;
  const char* where;
  const char* found;
  const char* accepted;
};

TEST(StockImport, ABadRowSaysWhereWhatAndWhatIsAccepted) {
  const char* const tube = "kind,material,OD mm,wall mm,per,price";
  const char* const bend = "kind,material,OD mm,wall mm,angle,CLR mm,legs mm,price";
  const Bad cases[] = {
      {"no kind", tube, ",alu,63,2,m,20", "row 1, kind", "nothing", "hump hose"},
      {"another kind", tube, "wheel,alu,63,2,m,20", "row 1, kind", "\"wheel\"", "hump hose"},
      {"pipe is named by its bore", tube, "pipe,alu,63,2,m,20", "row 1, kind", "\"pipe\"", "tube"},
      {"no material", tube, "tube,,63,2,m,20", "row 1, material", "nothing", "silicone"},
      {"another material", tube, "tube,wood,63,2,m,20", "row 1, material", "\"wood\"", "silicone"},
      {"an elbow of nothing", bend, "elbow,,63,2,90,95,100,20", "row 1, kind", "elbow", "hose elbow"},
      {"no number", tube, "tube,alu,wide,2,m,20", "row 1, OD mm", "\"wide\"", "number"},
      {"no diameter", tube, "tube,alu,,2,m,20", "row 1, OD mm", "nothing", "a tube needs it"},
      {"below nothing", tube, "tube,alu,-63,2,m,20", "row 1, OD mm", "\"-63\"", "above 0 mm"},
      {"too wide", tube, "tube,alu,6300,2,m,20", "row 1, OD mm", "\"6300\"", "not above 1000 mm"},
      {"two signs", tube, "tube,alu,\"1,063.5\",2,m,20", "row 1, OD mm", "\"1,063.5\"", ""},
      {"a wall that closes the tube", tube, "tube,alu,63,40,m,20", "row 1, wall mm", "\"40\"",
       "half the outside"},
      {"another unit", tube, "tube,alu,63 kg,2,m,20", "row 1, OD mm", "\"63 kg\"", ""},
      {"not a number at all", tube, "tube,alu,nan,2,m,20", "row 1, OD mm", "\"nan\"", "number"},
      {"beyond all numbers", tube, "tube,alu,1e999,2,m,20", "row 1, OD mm", "\"1e999\"", ""},
      {"no price", tube, "tube,alu,63,2,m,", "row 1, price", "nothing", "12.50"},
      {"no money", tube, "tube,alu,63,2,m,cheap", "row 1, price", "\"cheap\"", "12.50"},
      {"below nothing", tube, "tube,alu,63,2,m,-1", "row 1, price", "\"-1\"", "amount"},
      {"parts of a cent", tube, "tube,alu,63,2,m,1.234", "row 1, price", "\"1.234\"", "2 decimals"},
      {"too much money", tube, "tube,alu,63,2,m,999999999999999999999", "row 1, price", "", "at most"},
      {"another currency", tube, "tube,alu,63,2,m,20 USD", "row 1, price", "in USD", "nothing is converted"},
      {"another sign", tube, "tube,alu,63,2,m,£20", "row 1, price", "in GBP", "EUR"},
      {"another price", tube, "tube,alu,63,2,bunch,20", "row 1, per", "\"bunch\"", "each or metre"},
      {"by the piece without a length", tube, "tube,alu,63,2,each,20", "row 1, length", "nothing",
       "sold by the piece"},
      {"no angle", bend, "bend,alu,63,2,,95,100,20", "row 1, angle", "nothing", "tube bend needs it"},
      {"no radius", bend, "bend,alu,63,2,90,,100,20", "row 1, CLR mm", "nothing", "tube bend needs it"},
      {"no legs", bend, "bend,alu,63,2,90,95,,20", "row 1, legs mm", "nothing", "tube bend needs it"},
      {"all the way round", bend, "bend,alu,63,2,360,95,100,20", "row 1, angle", "\"360\"", "below 360"},
      {"no range", "kind,price", "clamp,3", "row 1, clamp from", "nothing", "clamp needs it"},
      {"a range of one", "kind,range mm,price", "clamp,70,3", "row 1, range mm", "\"70\"", "60-80 mm"},
      {"a range upside down", "kind,range mm,price", "clamp,80-60,3", "row 1, range mm", "\"80-60\"",
       "above the least"},
      {"one end of a range", "kind,clamp from mm,price", "clamp,60,3", "row 1, clamp to", "nothing",
       "needs it"},
      {"no thread", "kind,material,price", "boss,alu,3", "row 1, thread", "nothing", "needs it"},
      {"plies that are no number", "kind,material,plies,price", "hose,silicone,some,3", "row 1, plies",
       "\"some\"", "whole number"},
      {"too many plies", "kind,material,bore mm,wall mm,length mm,plies,price", "hose,silicone,63,5,76,40,3",
       "row 1, plies", "\"40\"", "1 to 20"},
      {"an answer that is none", "kind,lined,price", "hose,maybe,3", "row 1, lined", "\"maybe\"",
       "yes or no"},
      {"colder than can be", "kind,max temp C,price", "hose,-300,3", "row 1, max temp C", "\"-300\"", ""},
      {"an absolute pressure", "kind,max pressure [bar],price", "hose,2 bar abs,3",
       "row 1, max pressure [bar]", "\"2 bar abs\"", "gauge"},
      {"a pack of none", "kind,range mm,price,pack", "clamp,60-80,3,0", "row 1, pack", "\"0\"", "1 to 1000"},
      {"packs of the metre", "kind,material,OD mm,wall mm,per,price,pack", "tube,alu,63,2,m,20,3",
       "row 1, pack", "\"3\"", "per metre"},
      {"less than nothing owned", "kind,range mm,price,owned", "clamp,60-80,3,-1", "row 1, owned", "\"-1\"",
       "number"},
      {"too much owned", "kind,range mm,price,owned", "clamp,60-80,3,1e9", "row 1, owned", "", "100000"},
      {"paid for nothing", "kind,range mm,price,paid", "clamp,60-80,3,6", "row 1, paid", "\"6\"", "owned"},
      {"a currency that is none", "kind,range mm,price,currency", "clamp,60-80,3,ABC", "row 1, currency",
       "\"ABC\"", "ISO 4217"},
      {"two currencies", "kind,range mm,price EUR,currency", "clamp,60-80,3,USD", "row 1, price EUR",
       "in USD", "EUR"},
      {"a kind of clamp that is none", "kind,range mm,price,clamp type", "clamp,60-80,3,glue",
       "row 1, clamp type", "\"glue\"", "constant tension"},
      {"an id that is too long", "kind,range mm,price,id",
       "clamp,60-80,3,"
       "01234567890123456789012345678901234567890123456789012345678901234567890123456789012345678901234"
       "567890",
       "row 1, id", "", "1 to 100 characters"},
  };
  for (const Bad& each : cases) {
    const Preview found = look(std::string(each.head) + '\n' + each.row + '\n');
    ASSERT_EQ(found.bad.size(), 1u) << each.what;
    EXPECT_TRUE(found.good.empty()) << each.what;
    const Error& error = found.bad.front().error;
    EXPECT_EQ(error.place.file, "list.csv") << each.what;
    EXPECT_EQ(error.place.line, 2) << each.what;
    EXPECT_EQ(error.place.path, each.where) << each.what << ": " << error.text();
    EXPECT_NE(error.found.find(each.found), std::string::npos) << each.what << ": " << error.text();
    EXPECT_NE(error.accepted.find(each.accepted), std::string::npos) << each.what << ": " << error.text();
    EXPECT_FALSE(error.found.empty()) << each.what;
    EXPECT_FALSE(error.accepted.empty()) << each.what;
  }
}

TEST(StockImport, ANumberWithoutAUnitIsNotGuessed) {
  const std::string text =
      "kind,material,OD,wall,per,price\ntube,alu,2.5,0.065,m,20\ntube,alu,2.5 in,1.65 mm,m,20\n";
  const Preview found = look(text);
  ASSERT_EQ(found.bad.size(), 1u);
  EXPECT_NE(found.bad[0].error.accepted.find("unit"), std::string::npos) << found.bad[0].error.text();
  ASSERT_EQ(found.good.size(), 1u);
  const RawTable table = *read_table(text);
  const auto told =
      preview(table, with_unit(propose(table), quantity::Dimension::length, "in"), empty_build());
  ASSERT_TRUE(told);
  ASSERT_EQ(told->good.size(), 2u);
  EXPECT_EQ(*told->good[0].item.outer_diameter_m, mm(63.5));
  EXPECT_EQ(*told->good[1].item.wall_m, mm(1.65));
}

TEST(StockImport, WhatIsTheSameInEveryRowMayBeSaidOnce) {
  const RawTable table = *read_table("range mm;price\n60-80;2,50\n70-90;2,70\n");
  Mapping mapping = propose(table);
  mapping.fixed = {{Field::kind, "worm clamp"}, {Field::supplier, "shelf"}, {Field::currency, "EUR"}};
  const auto found = preview(table, mapping, empty_build());
  ASSERT_TRUE(found);
  ASSERT_EQ(found->good.size(), 2u);
  EXPECT_EQ(found->good[1].item.clamp_type, ClampType::worm);
  EXPECT_EQ(found->good[1].item.supplier, "shelf");
  EXPECT_EQ(found->good[1].item.price, euros(2, 70));
  mapping.fixed = {{Field::kind, "worm clamp"}, {Field::currency, "USD"}};
  EXPECT_EQ(preview(table, mapping, empty_build())->bad.size(), 2u);
}

TEST(StockImport, NothingIsTakenInSilence) {
  const Preview found = look("kind,range mm,price,colour,,quantity,\nworm clamp,60-80,3,blue,4,5,\n");
  EXPECT_EQ(found.unused, (std::vector<std::string>{"column 4 (colour)", "column 5", "column 6 (quantity)"}));
  ASSERT_EQ(found.taken_as.size(), 4u);
  for (std::size_t i = 0; i < 4; ++i)
    EXPECT_NE(found.taken_as[i].find(std::array{"EUR", "each", "pack", "stainless"}[i]), std::string::npos);
  EXPECT_TRUE(
      look("kind,range mm,price EUR,per,pack,material\nclamp,60-80,3,each,1,stainless\n").taken_as.empty());
}

TEST(StockImport, AnIdTwiceIsBadTheSecondTime) {
  const Preview found = look("id,kind,range mm,price\na,clamp,60-80,3\nb,clamp,60-80,3\na,clamp,70-90,3\n");
  EXPECT_EQ(found.good.size(), 2u);
  ASSERT_EQ(found.bad.size(), 1u);
  EXPECT_EQ(found.bad[0].number, 3u);
  EXPECT_EQ(found.bad[0].error.place.path, "row 3, id");
  EXPECT_NE(found.bad[0].error.accepted.find("row 1"), std::string::npos);
}

/// Three items of which a list changes one, has one alike, and brings a new one.
struct Clash {
  Build build;
  Preview preview;
};
Clash clash() {
  Build build = empty_build();
  const Preview first =
      look("id,kind,range mm,price,owned,paid\na,clamp,60-80,3,4,10\nb,clamp,70-90,3,0,\nc,clamp,"
           "80-100,3,0,\n",
           build);
  build = take(build, first, OnClash::replace).value();
  return {
      build,
      look("id,kind,range mm,price,owned\na,clamp,60-80,4,5\nb,clamp,70-90,3,\nd,clamp,20-32,1,0\n", build)};
}

TEST(StockTake, WhatIsNewChangedAndSameIsTold) {
  const Clash made = clash();
  EXPECT_EQ(made.build.owned, (std::vector<Owned>{{{"a"}, 4, euros(10, 0)}}));
  EXPECT_EQ(made.preview.count(Against::changed), 1u);
  EXPECT_EQ(made.preview.count(Against::same), 1u);
  EXPECT_EQ(made.preview.count(Against::fresh), 1u);
  EXPECT_EQ(made.preview.good[0].against, Against::changed);
  EXPECT_EQ(made.preview.good[1].against, Against::same);
  EXPECT_EQ(made.preview.good[2].against, Against::fresh);
}

TEST(StockTake, TheCallerChoosesWhatBecomesOfAClash) {
  const Clash made = clash();
  const auto ids = [](const Build& build) {
    std::string all;
    for (const StockItem& each : *build.stock)
      all += each.id.text + ' ';
    return all;
  };
  const Build replaced = take(made.build, made.preview, OnClash::replace).value();
  EXPECT_EQ(ids(replaced), "a b c d ");
  EXPECT_EQ(replaced.find(StockId{"a"})->price, euros(4, 0));
  EXPECT_EQ(replaced.owned, (std::vector<Owned>{{{"a"}, 5, euros(10, 0)}}));

  const Build both = take(made.build, made.preview, OnClash::keep_both).value();
  EXPECT_EQ(ids(both), "a b c a-2 d ");
  EXPECT_EQ(both.find(StockId{"a"})->price, euros(3, 0));
  EXPECT_EQ(both.find(StockId{"a-2"})->price, euros(4, 0));
  EXPECT_EQ(both.owned, (std::vector<Owned>{{{"a"}, 4, euros(10, 0)}, {{"a-2"}, 5, std::nullopt}}));

  const Build skipped = take(made.build, made.preview, OnClash::skip).value();
  EXPECT_EQ(ids(skipped), "a b c d ");
  EXPECT_EQ(skipped.find(StockId{"a"})->price, euros(3, 0));
  EXPECT_EQ(skipped.owned, made.build.owned);

  for (const Build& each : {replaced, both, skipped})
    EXPECT_FALSE(validate(each)) << validate(each)->text();
  // Looked at again, all that was replaced is the same.
  EXPECT_EQ(
      take(replaced, look("id,kind,range mm,price,owned\na,clamp,60-80,4,5\n", replaced), OnClash::replace)
          .value(),
      replaced);
}

TEST(StockTake, NothingOwnedTakesTheEntryOut) {
  const Clash made = clash();
  const Preview found = look("id,kind,range mm,price,owned\na,clamp,60-80,3,0\n", made.build);
  EXPECT_EQ(found.good[0].against, Against::changed);
  EXPECT_TRUE(take(made.build, found, OnClash::replace)->owned.empty());
}

TEST(StockTake, PiecesKeepTheItemThatIsReplaced) {
  const Build build = test::sample_build();
  const Preview found =
      look("id,kind,material,bore mm,wall mm,length mm,price\nhose-63,hose,silicone,63.5,4.5,80,1\n", build);
  const Build taken = take(build, found, OnClash::replace).value();
  EXPECT_EQ(taken.options, build.options);
  EXPECT_EQ(taken.find(StockId{"hose-63"})->price, euros(1, 0));
}

TEST(StockTake, MoreThanABuildHoldsIsAnError) {
  std::string text = "id,kind,range mm,price\n";
  for (std::size_t i = 0; i <= max_stock_items(); ++i)
    text.append("c").append(std::to_string(i)).append(",clamp,60-80,3\n");
  const Preview found = look(text);
  EXPECT_EQ(found.good.size(), max_stock_items() + 1);
  const auto taken = take(empty_build(), found, OnClash::replace);
  ASSERT_FALSE(taken);
  EXPECT_NE(taken.error().accepted.find("20000"), std::string::npos) << taken.error().text();
}

TEST(StockImport, JsonIsLookedAtInTheSameWay) {
  const Build build = test::sample_build();
  const std::string text = json(*build.stock, build.owned, test::euro());
  const auto same = preview_json(text, "list.json", build);
  ASSERT_TRUE(same) << same.error().text();
  EXPECT_EQ(same->count(Against::same), build.stock->size());
  EXPECT_EQ(take(build, *same, OnClash::replace).value(), build);
  const Build filled =
      take(empty_build(), preview_json(text, "", empty_build()).value(), OnClash::skip).value();
  EXPECT_EQ(*filled.stock, *build.stock);
  EXPECT_EQ(filled.owned, build.owned);
}

TEST(StockImport, JsonNamesEveryItemThatIsWrong) {
  const std::string text = R"({
  "format": "bellmouth-stock/1", "currency": "EUR",
  "items": [
    {"id": "a", "kind": "clamp", "material": "stainless_steel", "clamp_min_mm": 60, "clamp_max_mm": 80, "price": "3.00", "per": "each"},
    {"id": "b", "kind": "wheel", "material": "stainless_steel", "price": "3.00", "per": "each"},
    {"id": "c", "kind": "clamp", "material": "stainless_steel", "price": "3.00", "per": "each"},
    {"id": "a", "kind": "valve_flange", "material": "aluminium", "bore_mm": 25, "price": "3.00", "per": "each"},
    7
  ],
  "owned": [{"stock": "a", "quantity": 2}]
})";
  const auto found = preview_json(text, "list.json", empty_build());
  ASSERT_TRUE(found) << found.error().text();
  ASSERT_EQ(found->good.size(), 1u);
  EXPECT_EQ(found->good[0].owned, 2.0);
  ASSERT_EQ(found->bad.size(), 4u);
  const std::array paths{"$.items[1].kind", "$.items[2].clamp_min_mm", "$.items[3].id", "$.items[4]"};
  for (std::size_t i = 0; i < paths.size(); ++i) {
    EXPECT_EQ(found->bad[i].error.place.path, paths[i]);
    EXPECT_EQ(found->bad[i].error.place.file, "list.json");
    EXPECT_EQ(found->bad[i].number, i + 2);
    EXPECT_FALSE(found->bad[i].error.accepted.empty());
  }
  for (
      const char* wrong :
      {"{", "[]", "{\"format\": \"bellmouth-stock/1\"}", "{\"format\": \"bellmouth-stock/2\"}",
       R"({"format": "bellmouth-stock/1", "currency": "USD", "items": []})",
       R"({"format": "bellmouth-stock/1", "currency": "EUR", "items": [], "owned": [{"stock": "a", "quantity": 2}]})",
       R"({"format": "bellmouth-stock/1", "currency": "EUR", "items": [], "colour": 1})"}) {
    const auto none = preview_json(wrong, "list.json", empty_build());
    EXPECT_FALSE(none) << wrong;
  }
}

// A hundred thousand rows, of which every third is wrong: a time that grew with the square of the rows would
// be hours.
TEST(StockImport, ALongListIsReadInStep) {
  std::string text = "kind,material,bore mm,wall mm,length mm,price\n";
  for (int i = 0; i < 100'000; ++i)
    text +=
        i % 3 == 0 ? "hose,silicone,,5,76,7\n" : "hose,silicone,63,5,76," + std::to_string(i % 100) + "\n";
  const Preview found = look(text);
  EXPECT_EQ(found.bad.size(), 33'334u);
  EXPECT_EQ(found.good.size(), 66'666u);
}

// Any bytes give a preview or one clear error, never a crash. The random numbers are the same every time.
TEST(StockImport, AnyBytesArePreviewedOrRefused) {
  const Build build = test::sample_build();
  const std::string table = csv(*build.stock, build.owned),
                    list = json(*build.stock, build.owned, test::euro());
  const std::string bytes = std::string("\"\";,\t\r\n{}[]:") + '\0' + "\xFF\xC3\xA9#0123456789.,-eE inm";
  std::mt19937 random(4711);
  std::uniform_int_distribution<std::size_t> pick(0, bytes.size() - 1);
  for (int trial = 0; trial < 4'000; ++trial) {
    std::string text = trial % 2 == 0 ? table : list;
    for (int changes = 1 + trial % 9; changes > 0 && !text.empty(); --changes) {
      const std::size_t at = std::uniform_int_distribution<std::size_t>(0, text.size() - 1)(random);
      if (trial % 5 < 2)
        text.erase(at, 1 + trial % 40);
      else
        text[at] = bytes[pick(random)];
    }
    if (is_json(text)) {
      if (const auto found = preview_json(text, "", build)) {
        EXPECT_LE(found->good.size(), build.stock->size());
      }
      continue;
    }
    const auto cells = read_table(text);
    if (!cells)
      continue;
    const auto found = preview(*cells, propose(*cells), build);
    ASSERT_TRUE(found) << found.error().text();
    EXPECT_EQ(found->good.size() + found->bad.size(), cells->rows.size());
    const auto taken = take(build, *found, OnClash::keep_both);
    ASSERT_TRUE(taken);
    EXPECT_FALSE(validate(*taken)) << validate(*taken)->text();
  }
}

} // namespace
} // namespace bellmouth::stock
