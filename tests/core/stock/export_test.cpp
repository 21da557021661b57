// SPDX-License-Identifier: GPL-3.0-or-later
// What goes out comes in again, and others can read it. Kinds of the checks: identities, and another reader
// (the csv module of Python 3).
#include "support/command_output.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/build/stock_items.hpp>
#include <bellmouth/stock/export.hpp>
#include <bellmouth/stock/import.hpp>
#include <bellmouth/stock/search.hpp>

#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <fstream>
#include <memory>
#include <random>

namespace bellmouth::stock {
namespace {

using namespace build;
using test::euros;
using test::mm;

/// Items of every kind with all that can be said, of odd sizes. The random numbers are the same every time.
struct Random {
  std::vector<StockItem> items;
  std::vector<Owned> owned;
};
Random random_list(unsigned start, int count) {
  std::mt19937 random(start);
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution(low, high)(random);
  };
  const auto chance = [&] { return random() % 2 == 0; };
  const auto pick = [&](std::size_t choices) { return static_cast<std::size_t>(random() % choices); };
  const std::array<std::string, 6> words{
      "plain", "\"quoted\", with, commas", "semi;colons", "caf\u00e9 \u00d8 63", "tab\there", "12,5"};
  Random list;
  for (int i = 0; i < count; ++i) {
    StockItem item;
    item.id.text = "item " + std::to_string(i) + (chance() ? ", \"odd\"" : "");
    item.kind = static_cast<StockKind>(pick(stock_kind_words().size()));
    item.name = i % 7 == 0 ? "" : words[pick(words.size())];
    std::erase(item.name, '\t'); // a file holds no tabs in a line
    item.material = static_cast<Material>(pick(material_words().size()));
    const auto length = [&](std::optional<double>& size, double most) { size = between(0.001, most); };
    length(item.bore_m, 0.2);
    length(item.bore_out_m, 0.2);
    length(item.wall_m, 0.01);
    item.outer_diameter_m = *item.wall_m * 2.5 + between(0.001, 0.2);
    length(item.length_m, 3);
    length(item.radius_m, 0.3);
    length(item.leg_in_m, 0.4);
    length(item.leg_out_m, 0.4);
    item.angle_rad = between(0.01, 6.2);
    length(item.clamp_min_m, 0.05);
    item.clamp_max_m = *item.clamp_min_m + between(0.001, 0.05);
    if (chance())
      length(item.band_width_m, 0.03);
    item.thread = "M" + std::to_string(i % 20 + 1) + "x1.5";
    if (chance())
      item.max_temperature_K = between(250, 600);
    if (chance())
      item.max_gauge_Pa = between(1, 1e6);
    if (chance())
      item.torque_Nm = between(0.1, 20);
    if (chance())
      item.plies = static_cast<int>(1 + pick(20));
    if (chance())
      item.clamp_type = static_cast<ClampType>(pick(clamp_type_words().size()));
    item.oil_proof = chance();
    item.wire = chance();
    item.price = {static_cast<std::int64_t>(random() % 1'000'000), test::euro()};
    item.per = chance() ? Per::each : Per::metre;
    item.pack = item.per == Per::each ? static_cast<int>(1 + pick(1000)) : 1;
    item.supplier = words[pick(4)];
    list.items.push_back(as_filed(item));
    if (chance())
      list.owned.push_back(
          {item.id, item.per == Per::metre ? between(0.1, 9) : static_cast<double>(1 + pick(9)),
           chance() ? std::optional(euros(static_cast<std::int64_t>(pick(100)), 50)) : std::nullopt});
  }
  return list;
}

Build empty_build() {
  return with_stock(test::sample_build(), {});
}

// Identity, for every way of writing it.
TEST(StockExport, WhatGoesOutComesInAgain) {
  const Random list = random_list(7, 400);
  for (const TableWriting& writing : {TableWriting{}, TableWriting{';', ','}, TableWriting{'\t', '.'},
                                      TableWriting{';', '.'}, TableWriting{',', ','}}) {
    const std::string text = csv(list.items, list.owned, writing);
    const auto table = read_table(text);
    ASSERT_TRUE(table) << table.error().text();
    EXPECT_EQ(table->delimiter, writing.delimiter);
    const auto found = preview(*table, propose(*table), empty_build());
    ASSERT_TRUE(found) << found.error().text();
    for (const BadRow& bad : found->bad)
      ADD_FAILURE() << bad.error.text();
    EXPECT_TRUE(found->unused.empty());
    EXPECT_TRUE(found->taken_as.empty());
    const Build taken = take(empty_build(), *found, OnClash::replace).value();
    EXPECT_EQ(*taken.stock, list.items);
    ASSERT_EQ(taken.owned.size(), list.owned.size());
    for (std::size_t i = 0; i < list.owned.size(); ++i) {
      EXPECT_EQ(taken.owned[i].stock, list.owned[i].stock);
      EXPECT_EQ(taken.owned[i].paid, list.owned[i].paid);
      // Written to 15 digits, as files are.
      EXPECT_NEAR(taken.owned[i].quantity, list.owned[i].quantity, 1e-14 * list.owned[i].quantity);
    }
  }
}

TEST(StockExport, JsonComesInAgain) {
  const Random list = random_list(11, 100);
  const auto found = preview_json(json(list.items, list.owned, test::euro()), "", empty_build());
  ASSERT_TRUE(found) << found.error().text();
  EXPECT_TRUE(found->bad.empty());
  const Build taken = take(empty_build(), *found, OnClash::replace).value();
  EXPECT_EQ(*taken.stock, list.items);
  EXPECT_EQ(taken.owned.size(), list.owned.size());
}

TEST(StockExport, AnEmptyListIsItsHeading) {
  const std::string text = csv({});
  const auto table = read_table(text);
  ASSERT_TRUE(table);
  EXPECT_TRUE(table->rows.empty());
  const auto found = preview(*table, propose(*table), empty_build());
  ASSERT_TRUE(found);
  EXPECT_TRUE(found->good.empty() && found->bad.empty());
}

// Another reader: Python's csv module finds the same cells.
TEST(StockExport, AnotherReaderFindsTheSameCells) {
  const Random list = random_list(13, 60);
  const std::string file = ::testing::TempDir() + "bellmouth_stock_export.csv";
  std::ofstream(file, std::ios::binary) << csv(list.items, list.owned);
  const std::string said = test::said_by(
      "/usr/bin/python3 -I -c \"import csv\n"
      "with open('" +
      file +
      "', newline='', encoding='utf-8') as f:\n"
      "    rows = list(csv.reader(f, strict=True))\n"
      "print(len(rows), len(rows[0]), len(set(map(len, rows))))\n"
      "for row in csv.DictReader(open('" +
      file +
      "', newline='', encoding='utf-8'), strict=True):\n"
      "    print(row['id'], row['name'], row['price'], row['currency'], row['supplier'], sep='|')\n\"");
  std::size_t columns = 0;
  for (const FieldInfo& field : fields())
    columns += field.heading.empty() ? 0 : 1;
  std::string wanted = std::to_string(list.items.size() + 1) + ' ' + std::to_string(columns) + " 1\n";
  for (const StockItem& item : list.items) {
    const std::string price = quantity::write(item.price);
    wanted += item.id.text + '|' + item.name + '|' + price.substr(0, price.find(' ')) + "|EUR|" +
              item.supplier + '\n';
  }
  EXPECT_EQ(said, wanted);
  std::remove(file.c_str());
}

struct Search {
  const char* words;
  bool found;
};

TEST(StockSearch, EveryWordIsFoundSomewhere) {
  StockItem clamp;
  clamp.id = {"c-60-80"};
  clamp.kind = StockKind::clamp;
  clamp.name = "Lined clamp";
  clamp.material = Material::stainless_steel;
  clamp.clamp_min_m = mm(60);
  clamp.clamp_max_m = mm(80);
  clamp.clamp_type = ClampType::round_bolt;
  clamp.supplier = "Shelf";
  for (const Search& each : {Search{"", true}, Search{"  ", true}, Search{"lined", true},
                             Search{"LINED shelf", true}, Search{"stainless round bolt", true},
                             Search{"T-bolt 70", true}, Search{"73.5", true}, Search{"clamp 80", true},
                             Search{"81", false}, Search{"lined worm", false}, Search{"59.9 clamp", false}})
    EXPECT_EQ(matches(clamp, each.words), each.found) << each.words;
  StockItem bend;
  bend.id = {"b"};
  bend.kind = StockKind::tube_bend;
  bend.outer_diameter_m = mm(63.5);
  bend.angle_rad = test::deg(90);
  EXPECT_TRUE(matches(bend, "bend 63.5 90"));
  EXPECT_FALSE(matches(bend, "bend 63.5 45"));
  bend.oil_proof = true;
  EXPECT_TRUE(matches(bend, "oil-proof"));
}

} // namespace
} // namespace bellmouth::stock
