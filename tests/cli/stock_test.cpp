// SPDX-License-Identifier: GPL-3.0-or-later
// `stock`: listing, searching, taking lists in, writing them out. What it shows is what core/stock gives.
#include "prompt.hpp"
#include "support/command_output.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/stock/export.hpp>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <memory>

namespace bellmouth::cli::test {
namespace {

using nlohmann::json;
namespace fs = std::filesystem;

/// A folder of its own for each test, with a build in it.
class StockCommand : public ::testing::Test {
protected:
  fs::path folder;
  build::Build build = bellmouth::test::sample_build();
  std::string build_file;

  void SetUp() override {
    const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
    folder = fs::path(::testing::TempDir()) / ("bellmouth_stock_" + std::string(test->name()));
    fs::remove_all(folder);
    fs::create_directories(folder);
    build_file = (folder / "build.json").string();
    const auto saved = build::save_build(build_file, build);
    ASSERT_TRUE(saved) << saved.error().text();
    build = *build::load_build(build_file);
  }
  void TearDown() override { fs::remove_all(folder); }

  [[nodiscard]] std::string path(const std::string& name) const { return (folder / name).string(); }
  [[nodiscard]] std::string file(const std::string& name, const std::string& text) const {
    std::ofstream(folder / name, std::ios::binary) << text;
    return path(name);
  }
  [[nodiscard]] static std::string text_of(const std::string& name) {
    std::ifstream stream(name, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
  }
};

const char* const good_list = "id,kind,OD [mm],wall [mm],material,per,price EUR,owned\n"
                              "t-76,tube,76.1,2,aluminium,metre,31.10,1.5\n"
                              "t-89,tube,88.9,2,aluminium,metre,37.40,\n";
const char* const mixed_list = "id;kind;range;price;colour\n"
                               "w-1;worm clamp;60-80 mm;2,50;blue\n"
                               "w-2;worm clamp;wide;2,70;blue\n"
                               "clamp-70;T-bolt clamp;70-78 mm;6,00;blue\n";

TEST_F(StockCommand, ListsWhatTheBuildHas) {
  const Said said = say({"stock", build_file});
  EXPECT_EQ(said.exit, 0) << said.err;
  for (const build::StockItem& item : *build.stock)
    EXPECT_TRUE(holds(said.out, item.id.text)) << said.out;
  const json found = results({"stock", build_file});
  EXPECT_EQ(found["items"].size(), build.stock->size());
  EXPECT_EQ(found["currency"], "EUR");
  EXPECT_EQ(found["owned"].size(), build.owned.size());
}

TEST_F(StockCommand, ListsWhatComesAlong) {
  for (const char* list : {"metric", "inch"}) {
    const json found = results({"stock", "--list", list});
    EXPECT_GT(found["items"].size(), 500u) << list;
  }
}

TEST_F(StockCommand, SearchesAndSorts) {
  const json bends =
      results({"stock", "--list", "metric", "--kind", "tube_bend", "--search", "63.5 stainless 90"});
  ASSERT_FALSE(bends["items"].empty());
  for (const json& item : bends["items"]) {
    EXPECT_EQ(item["kind"], "tube_bend");
    EXPECT_EQ(item["material"], "stainless_steel");
  }
  const Said none = say({"stock", build_file, "--search", "nothing-like-this"});
  EXPECT_EQ(none.exit, 0);
  EXPECT_TRUE(holds(none.out, "none of")) << none.out;
}

TEST_F(StockCommand, ShowsWhatWouldComeOfAList) {
  const std::string before = text_of(build_file);
  const Said said = say({"stock", build_file, "--import", file("list.csv", mixed_list)});
  EXPECT_EQ(said.exit, 0) << said.err;
  for (const char* part : {"2 rows good (1 new, 1 changed, 0 same), 1 bad", "Columns", "clamp_range",
                           "Good rows", "Bad rows", "row 2, range", "\"wide\"", "not used: column 5 (colour)",
                           "no column says the currency", "taken as EUR"})
    EXPECT_TRUE(holds(said.out, part)) << part << '\n' << said.out;
  EXPECT_EQ(text_of(build_file), before);

  const json found = results({"stock", build_file, "--import", path("list.csv")});
  EXPECT_EQ(found["delimiter"], ";");
  EXPECT_EQ(found["columns"][3]["decimal"], "comma");
  EXPECT_EQ(found["new"], 1);
  EXPECT_EQ(found["changed"], 1);
  ASSERT_EQ(found["good"].size(), 2u);
  EXPECT_EQ(found["good"][0]["item"]["price"], "2.50");
  EXPECT_EQ(found["good"][1]["against"], "changed");
  ASSERT_EQ(found["bad"].size(), 1u);
  EXPECT_EQ(found["bad"][0]["line"], 3);
  EXPECT_EQ(found["bad"][0]["where"], "row 2, range");
  EXPECT_EQ(found["unused"][0], "column 5 (colour)");
}

TEST_F(StockCommand, TakesAListInWhenAskedTo) {
  const Said said =
      say({"stock", build_file, "--import", file("list.csv", good_list), "--out", path("new.json")});
  ASSERT_EQ(said.exit, 0) << said.err;
  EXPECT_TRUE(holds(said.err, "written: ")) << said.err;
  const build::Build taken = *build::load_build(path("new.json"));
  ASSERT_EQ(taken.stock->size(), build.stock->size() + 2);
  EXPECT_EQ(taken.find(build::StockId{"t-76"})->price, bellmouth::test::euros(31, 10));
  EXPECT_EQ(taken.owned.back().quantity, 1.5);
  EXPECT_EQ(taken.options, build.options);
}

TEST_F(StockCommand, TakesGoodRowsOnlyWhenAskedTo) {
  const std::string list = file("list.csv", mixed_list);
  const Said all = say({"stock", build_file, "--import", list, "--out", path("new.json")});
  EXPECT_EQ(all.exit, 3);
  EXPECT_TRUE(holds(all.err, "1 of 3 rows are bad; nothing was written")) << all.err;
  EXPECT_FALSE(fs::exists(path("new.json")));

  for (const auto& [on_clash, more] : {std::pair{"replace", 1}, {"keep-both", 2}, {"skip", 1}}) {
    const Said good = say({"stock", build_file, "--import", list, "--take", "good", "--on-clash", on_clash,
                           "--out", path("new.json")});
    EXPECT_EQ(good.exit, 0) << good.err;
    const build::Build taken = *build::load_build(path("new.json"));
    EXPECT_EQ(taken.stock->size(), build.stock->size() + static_cast<std::size_t>(more)) << on_clash;
    const bool replaced = std::string(on_clash) == "replace";
    EXPECT_EQ(*taken.find(build::StockId{"clamp-70"}) == *build.find(build::StockId{"clamp-70"}), !replaced)
        << on_clash;
  }
}

TEST_F(StockCommand, ColumnsCanBeToldWhatTheyHold) {
  const std::string list =
      file("list.csv", "what;size;thick;cost\nstraight;2.5;0.065;20\nstraight;3;0.065;25\n");
  EXPECT_EQ(say({"stock", build_file, "--import", list}).exit, 3); // no kind, no material
  const json found = results({"stock", build_file,  "--import", list,
                              "--map", "what=-",    "--map",    "size=outer_diameter:in",
                              "--map", "#3=wall",   "--map",    "cost=price:EUR",
                              "--set", "kind=tube", "--set",    "material=aluminium",
                              "--set", "per=metre", "--unit",   "in"});
  ASSERT_EQ(found["good"].size(), 2u) << found.dump(1);
  EXPECT_EQ(found["good"][0]["item"]["outer_diameter_mm"], 63.5);
  EXPECT_EQ(found["good"][0]["item"]["wall_mm"], 1.651);
  EXPECT_EQ(found["good"][0]["id_made"], true);
  EXPECT_EQ(found["unused"], json::array({"column 1 (what)"}));
}

TEST_F(StockCommand, WhatIsWrittenIsTakenInAgain) {
  for (const char* name : {"stock.csv", "stock.json"}) {
    const Said said = say({"stock", build_file, "--export", path(name)});
    ASSERT_EQ(said.exit, 0) << said.err;
    EXPECT_TRUE(holds(said.err, std::string("written: ") + path(name)));
  }
  EXPECT_EQ(text_of(path("stock.csv")), stock::csv(*build.stock, build.owned));
  const json found = results({"stock", build_file, "--import", path("stock.json")});
  EXPECT_EQ(found["same"], build.stock->size());
  EXPECT_FALSE(found.contains("columns"));
  // Every item of a list that comes along, through a table.
  ASSERT_EQ(say({"stock", "--list", "metric", "--export", path("metric.csv")}).exit, 0);
  const json metric =
      results({"stock", build_file, "--import", path("metric.csv"), "--out", path("new.json")});
  EXPECT_EQ(metric["new"], results({"stock", "--list", "metric"})["items"].size());
  const json again = results({"stock", path("new.json"), "--import", path("metric.csv")});
  EXPECT_EQ(again["same"], metric["new"]);
}

// Another reader: Python's csv module.
TEST_F(StockCommand, AnotherReaderReadsTheTable) {
  ASSERT_EQ(say({"stock", "--list", "inch", "--search", "coupler 63.5", "--export", path("stock.csv")}).exit,
            0);
  const std::string ids = bellmouth::test::said_by("/usr/bin/python3 -I -c \"import csv\n"
                                                   "for row in csv.DictReader(open('" +
                                                   path("stock.csv") +
                                                   "', newline='', encoding='utf-8'), strict=True):\n"
                                                   "    print(row['id'], row['bore [mm]'], row['price'])\"");
  const json listed = results({"stock", "--list", "inch", "--search", "coupler 63.5"});
  std::string wanted;
  for (const json& item : listed["items"])
    wanted += item["id"].get<std::string>() + ' ' + item["bore_mm"].dump() + ' ' +
              item["price"].get<std::string>() + '\n';
  EXPECT_FALSE(wanted.empty());
  EXPECT_EQ(ids, wanted);
}

TEST_F(StockCommand, WhatCannotBeReadEndsWithThree) {
  struct Case {
    const char* what;
    std::string text;
    const char* said;
  };
  for (const Case& each :
       {Case{"nothing", "", "found nothing"}, Case{"headings only", "id,kind,price\n", "no row"},
        Case{"no list", "{\"format\": 1}", "format"},
        Case{"another currency", R"({"format": "bellmouth-stock/1", "currency": "USD", "items": []})",
             "nothing is converted"},
        Case{"bad rows only", "kind,price\nwheel,1\n", "no row that can be taken in"}}) {
    const Said said =
        say({"stock", build_file, "--import", file("list.csv", each.text), "--out", path("new.json")});
    EXPECT_EQ(said.exit, 3) << each.what;
    EXPECT_TRUE(holds(said.err, each.said)) << each.what << ": " << said.err;
    EXPECT_FALSE(fs::exists(path("new.json"))) << each.what;
  }
  EXPECT_EQ(say({"stock", build_file, "--import", path("missing.csv")}).exit, 3);
  EXPECT_EQ(say({"stock", path("missing.json")}).exit, 3);
}

TEST_F(StockCommand, WrongUsageEndsWithTwo) {
  struct Case {
    Arguments arguments;
    const char* said;
  };
  const std::string list = file("list.csv", good_list), json_list = file("list.json", "{}");
  for (const Case& each : {
           Case{{"stock"}, "either BUILD or --list"},
           Case{{"stock", build_file, "--list", "metric"}, "either BUILD or --list"},
           Case{{"stock", "--list", "cubits"}, "metric, inch"},
           Case{{"stock", "--list", "metric", "--import", list}, "a build to take it into"},
           Case{{"stock", build_file, "--take", "good"}, "--import beside it"},
           Case{{"stock", build_file, "--out", "x"}, "--import beside it"},
           Case{{"stock", build_file, "--kind", "wheel"}, "tube_bend"},
           Case{{"stock", build_file, "--export", "stock.txt"}, ".csv or .json"},
           Case{{"stock", build_file, "--import", list, "--search", "tube"}, "one or the other"},
           Case{{"stock", build_file, "--import", list, "--take", "some"}, "all-or-nothing"},
           Case{{"stock", build_file, "--import", list, "--on-clash", "fight"}, "keep-both"},
           Case{{"stock", build_file, "--import", list, "--map", "price"}, "COLUMN=FIELD"},
           Case{{"stock", build_file, "--import", list, "--map", "colour=name"}, "OD [mm]"},
           Case{{"stock", build_file, "--import", list, "--map", "#99=name"}, "#1 to #8"},
           Case{{"stock", build_file, "--import", list, "--map", "id=hue"}, "outer_diameter"},
           Case{{"stock", build_file, "--import", list, "--map", "OD [mm]=outer_diameter:kg"}, "a unit for"},
           Case{{"stock", build_file, "--import", list, "--map", "OD [mm]=wall:mm"}, "another field"},
           Case{{"stock", build_file, "--import", list, "--set", "kind"}, "FIELD=TEXT"},
           Case{{"stock", build_file, "--import", list, "--set", "kind=wheel"}, "hump hose"},
           Case{{"stock", build_file, "--import", list, "--unit", "kg"}, "unit of length"},
           Case{{"stock", build_file, "--import", list, "--delimiter", "|"}, "tab"},
           Case{{"stock", build_file, "--import", list, "--decimal", "'"}, ". or ,"},
           Case{{"stock", build_file, "--import", json_list, "--unit", "mm"}, "a list in JSON"},
       }) {
    const Said said = say(each.arguments);
    EXPECT_EQ(said.exit, 2) << each.said << ": " << said.err;
    EXPECT_TRUE(holds(said.err, each.said)) << each.said << ": " << said.err;
    EXPECT_EQ(said.out, "") << each.said;
  }
}

} // namespace
} // namespace bellmouth::cli::test
