// SPDX-License-Identifier: GPL-3.0-or-later
// A table is taken apart into cells as RFC 4180 says, and its headings are understood. Kinds of the numeric
// checks: identities.
#include <bellmouth/stock/table.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

namespace bellmouth::stock {
namespace {

using Cells = std::vector<std::string>;

RawTable table_of(std::string_view text, const TableReading& reading = {}) {
  auto table = read_table(text, "list.csv", reading);
  if (!table)
    throw std::runtime_error(table.error().text());
  return *std::move(table);
}

struct Apart {
  const char* what;
  std::string text;
  char delimiter;
  Cells headings;
  std::vector<Cells> rows;
};

TEST(StockTable, IsTakenApartAsTheStandardSays) {
  const Apart cases[] = {
      {"commas",
       "kind,bore,price\r\nhose,63,12.5\r\n",
       ',',
       {"kind", "bore", "price"},
       {{"hose", "63", "12.5"}}},
      {"semicolons with decimal commas",
       "kind;bore;price\nhose;63,5;12,5\n",
       ';',
       {"kind", "bore", "price"},
       {{"hose", "63,5", "12,5"}}},
      {"tabs",
       "kind\tbore\tprice\nhose\t63\t12.5",
       '\t',
       {"kind", "bore", "price"},
       {{"hose", "63", "12.5"}}},
      {"carriage returns alone",
       "kind,bore\rhose,63\rhose,70\r",
       ',',
       {"kind", "bore"},
       {{"hose", "63"}, {"hose", "70"}}},
      {"a byte-order mark", "\xEF\xBB\xBFkind,bore\nhose,63\n", ',', {"kind", "bore"}, {{"hose", "63"}}},
      {"quoted delimiters, quotes and line breaks",
       "kind,name\nhose,\"a \"\"63\"\", blue\r\nand long\"\n",
       ',',
       {"kind", "name"},
       {{"hose", "a \"63\", blue\r\nand long"}}},
      {"spaces round cells and quotes",
       " kind , name \n hose , \"blue\" \n",
       ',',
       {"kind", "name"},
       {{"hose", "blue"}}},
      {"inches behind a digit",
       "kind,bore\nhose,2.5\"\nhose,\"2 1/2\"\"\"\n",
       ',',
       {"kind", "bore"},
       {{"hose", "2.5\""}, {"hose", "2 1/2\""}}},
      {"empty rows are left out", "\n\nkind,bore\n,\nhose,63\n\n", ',', {"kind", "bore"}, {{"hose", "63"}}},
      {"empty cells too many are left out",
       "kind,bore\nhose,63,,\n",
       ',',
       {"kind", "bore"},
       {{"hose", "63"}}},
      {"one column", "name\nhose\n", ',', {"name"}, {{"hose"}}},
      {"no heading that is known: the delimiter that makes most cells",
       "a,b;c;d\n1,2;3;4\n",
       ';',
       {"a,b", "c", "d"},
       {{"1,2", "3", "4"}}},
      {"a known heading goes before more cells",
       "price, EUR;kind\n1;2\n",
       ';',
       {"price, EUR", "kind"},
       {{"1", "2"}}},
  };
  for (const Apart& each : cases) {
    const RawTable table = table_of(each.text);
    EXPECT_EQ(table.delimiter, each.delimiter) << each.what;
    EXPECT_EQ(table.headings, each.headings) << each.what;
    ASSERT_EQ(table.rows.size(), each.rows.size()) << each.what;
    for (std::size_t row = 0; row < table.rows.size(); ++row) {
      EXPECT_FALSE(table.rows[row].fault) << each.what;
      EXPECT_EQ(table.rows[row].cells, each.rows[row]) << each.what;
    }
  }
}

TEST(StockTable, TheDelimiterMayBeAskedFor) {
  const RawTable table = table_of("kind,bore;wall\nhose,63;5\n", {.delimiter = ';'});
  EXPECT_EQ(table.headings, (Cells{"kind,bore", "wall"}));
}

struct Wrong {
  const char* what;
  std::string text;
  std::size_t row; ///< number of the row that is wrong; 0: the whole text is
  const char* found;
};

TEST(StockTable, WhatIsWrongIsSaidAndTheRestIsRead) {
  const std::string head = "kind,bore\n", good = "hose,70\n";
  const Wrong cases[] = {
      {"empty", "", 0, "nothing"},
      {"only spaces and delimiters", " \n,,\n\n", 0, "nothing"},
      {"only a byte-order mark", "\xEF\xBB\xBF", 0, "nothing"},
      {"UTF-16", std::string("\xFF\xFEk\0i\0", 6), 0, "UTF-16"},
      {"a broken heading", "kind,\"bore\nhose,63\n", 0, "never closed"},
      {"no text in the heading", "kind,b\xFFre\n", 0, "value 255"},
      {"too few cells", head + "hose\n" + good, 1, "1 cell"},
      {"too many cells", head + "hose,63,5\n" + good, 1, "3 cells"},
      {"a quotation mark inside", head + "ho\"se,63\n" + good, 1, "inside a cell"},
      {"more behind a quotation mark", head + "\"ho\"se,63\n" + good, 1, "behind a closing"},
      {"a quotation mark never closed", head + "\"hose,63\n" + good, 1, "never closed"},
      {"a byte that is no text", head + "h\xE9se,63\n" + good, 1, "value 233"},
      {"a zero byte", head + std::string("h\0se,63\n", 8) + good, 1, "value 0"},
      {"half a character", head + "h\xC3,63\n" + good, 1, "value 195"},
  };
  for (const Wrong& each : cases) {
    const auto table = read_table(each.text, "list.csv");
    if (each.row == 0) {
      ASSERT_FALSE(table) << each.what;
      EXPECT_NE(table.error().text().find(each.found), std::string::npos)
          << each.what << table.error().text();
      EXPECT_FALSE(table.error().accepted.empty()) << each.what;
      continue;
    }
    ASSERT_TRUE(table) << each.what;
    ASSERT_EQ(table->rows.size(), 2u) << each.what;
    const auto& fault = table->rows[each.row - 1].fault;
    ASSERT_TRUE(fault) << each.what;
    EXPECT_NE(fault->found.find(each.found), std::string::npos) << each.what << ": " << fault->text();
    EXPECT_EQ(fault->place.file, "list.csv");
    EXPECT_EQ(fault->place.line, 2) << each.what;
    EXPECT_EQ(fault->place.path, "row 1") << each.what;
    EXPECT_FALSE(fault->accepted.empty());
    EXPECT_FALSE(table->rows[1].fault) << each.what;
    EXPECT_EQ(table->rows[1].cells, (Cells{"hose", "70"})) << each.what;
    EXPECT_EQ(table->rows[1].line, 3) << each.what;
  }
}

TEST(StockTable, TooMuchIsRefused) {
  std::string wide = "a";
  for (std::size_t i = 0; i < max_table_columns; ++i)
    wide += ",a";
  EXPECT_FALSE(read_table(wide));
  std::string tall = "kind\n";
  for (std::size_t i = 0; i <= max_table_rows; ++i)
    tall += "x\n";
  EXPECT_FALSE(read_table(tall));
}

// Were each quotation mark that is not closed followed to the end of the text, this would read 4 GB.
TEST(StockTable, QuotationMarksThatAreNeverClosedCostNoMoreThanTheirLine) {
  std::string text = "kind,bore\n";
  for (int i = 0; i < 40'000; ++i)
    text += "\"open,1\n\"a\"b\n";
  const RawTable table = table_of(text);
  EXPECT_EQ(table.rows.size(), 80'000u);
}

TEST(StockTable, JsonIsToldFromATable) {
  EXPECT_TRUE(is_json("{}"));
  EXPECT_TRUE(is_json("\xEF\xBB\xBF \r\n[1]"));
  EXPECT_FALSE(is_json("kind,bore"));
  EXPECT_FALSE(is_json(""));
  EXPECT_FALSE(is_json("  "));
}

TEST(StockFields, AreFoundByKeyAndName) {
  for (const FieldInfo& each : fields()) {
    EXPECT_EQ(find_field(each.key), each.field) << each.key;
    EXPECT_EQ(find_field(each.name), each.field) << each.name;
    EXPECT_EQ(info(each.field).key, each.key);
    EXPECT_EQ(each.dimension.has_value(), !each.unit.empty()) << each.key;
    EXPECT_FALSE(each.accepted.empty());
  }
  EXPECT_FALSE(find_field("colour"));
}

struct Heading {
  const char* text;
  std::optional<Field> field;
  const char* unit = "";
  const char* currency = "";
};

TEST(StockMapping, IsProposedFromTheHeadings) {
  const Heading cases[] = {
      {"kind", Field::kind},
      {"Type", Field::kind},
      {"Part No.", Field::id},
      {"ID", Field::id},
      {"ID [mm]", Field::bore, "mm"},
      {"hose id mm", Field::bore, "mm"},
      {"I.D. (inch)", Field::bore, "in"},
      {"OD", Field::outer_diameter},
      {"OD in", Field::outer_diameter, "in"},
      {"O.D. (\")", Field::outer_diameter, "in"},
      {"od\"", Field::outer_diameter, "in"},
      {"Outside diameter, mm", Field::outer_diameter, "mm"},
      {"outer_diameter_mm", Field::outer_diameter, "mm"},
      {"bore_out_mm", Field::bore_out, "mm"},
      {"wall [mm]", Field::wall, "mm"},
      {"Wall thickness (in)", Field::wall, "in"},
      {"wall (gauge)", Field::wall},
      {"angle", Field::angle, "°"},
      {"angle [deg]", Field::angle, "°"},
      {"bend angle (rad)", Field::angle, "rad"},
      {"CLR mm", Field::radius, "mm"},
      {"Centre-line radius [in]", Field::radius, "in"},
      {"leg length mm", Field::legs, "mm"},
      {"first leg [mm]", Field::leg_in, "mm"},
      {"leg_out_mm", Field::leg_out, "mm"},
      {"Length (ft)", Field::length, "ft"},
      {"No. of plies", Field::plies},
      {"clamp range mm", Field::clamp_range, "mm"},
      {"band width mm", Field::band_width, "mm"},
      {"torque [N m]", Field::torque, "N m"},
      {"torque_Nm", Field::torque, "N m"},
      {"Torque (lb in)", Field::torque, "lb in"},
      {"max temperature [degC]", Field::max_temperature, "°C"},
      {"max_temperature_K", Field::max_temperature, "K"},
      {"Temp °F", Field::max_temperature, "°F"},
      {"max_gauge_Pa", Field::max_gauge, "Pa"},
      {"working pressure, bar", Field::max_gauge, "bar"},
      {"price", Field::price},
      {"price EUR", Field::price, "", "EUR"},
      {"Price (€)", Field::price, "", "EUR"},
      {"unit price [USD]", Field::price, "", "USD"},
      {"Price (net)", Field::price},
      {"price [EUR/m]", Field::price, "", "EUR"},
      {"price per metre, GBP", Field::price, "", "GBP"},
      {"pack size", Field::pack},
      {"vendor", Field::supplier},
      {"on hand", Field::owned},
      {"paid EUR", Field::paid, "", "EUR"},
      {"colour", std::nullopt},
      {"diameter", std::nullopt}, // outside or inside, nobody knows
      {"quantity", std::nullopt}, // the shop's or the owner's, nobody knows
      {"", std::nullopt},
      {"[mm]", std::nullopt},
      {"wall [kg]", Field::wall},
  };
  for (const Heading& each : cases) {
    RawTable table;
    table.headings = {each.text};
    const Mapping mapping = propose(table);
    const ColumnMapping& column = mapping.columns.front();
    EXPECT_EQ(column.field, each.field) << each.text;
    EXPECT_EQ(column.unit, each.unit) << each.text;
    EXPECT_EQ(column.currency ? column.currency->text() : "", each.currency) << each.text;
    EXPECT_FALSE(validate(table, mapping)) << each.text;
  }
}

TEST(StockMapping, OurOwnHeadingsAreKnown) {
  RawTable table;
  std::vector<std::optional<Field>> wanted;
  for (const FieldInfo& each : fields())
    if (!each.heading.empty()) {
      table.headings.emplace_back(each.heading);
      wanted.emplace_back(each.field);
    }
  const Mapping mapping = propose(table);
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    EXPECT_EQ(mapping.columns[i].field, wanted[i]) << table.headings[i];
    EXPECT_EQ(mapping.columns[i].unit, info(*wanted[i]).unit) << table.headings[i];
  }
}

TEST(StockMapping, TheFirstOfTwoColumnsCounts) {
  RawTable table;
  table.headings = {"OD mm", "outside diameter [in]", "leg mm", "leg_in_mm"};
  const Mapping mapping = propose(table);
  EXPECT_EQ(mapping.columns[0].field, Field::outer_diameter);
  EXPECT_FALSE(mapping.columns[1].field);
  EXPECT_EQ(mapping.columns[2].field, Field::legs);
  EXPECT_FALSE(mapping.columns[3].field);
}

TEST(StockMapping, APricePerMetreIsSaidForAllRows) {
  RawTable table;
  table.headings = {"kind", "price per metre"};
  EXPECT_EQ(propose(table).fixed, (std::vector<FixedField>{{Field::per, "metre"}}));
  table.headings.push_back("sold by");
  EXPECT_TRUE(propose(table).fixed.empty());
}

struct Decimal {
  const char* what;
  Cells cells;
  char decimal;
};

TEST(StockMapping, TheDecimalSignIsRecognised) {
  const Decimal cases[] = {
      {"commas", {"63,5", "70"}, ','},
      {"points", {"63.5", "70"}, '.'},
      {"none", {"63", "70"}, '.'},
      {"thousands or not", {"1,000", "2,000"}, '.'},
      {"both in one", {"1.234,50"}, ','},
      {"the other way round", {"1,234.50"}, '.'},
      {"most count", {"1.5", "2,5", "3,5"}, ','},
      {"thousands twice", {"1,234,000"}, '.'},
  };
  for (const Decimal& each : cases) {
    RawTable table;
    table.headings = {"OD mm"};
    for (const std::string& cell : each.cells)
      table.rows.push_back({table.rows.size() + 1, 2, {cell}, {}});
    EXPECT_EQ(propose(table).columns.front().decimal, each.decimal) << each.what;
  }
  // A column that leaves it open has that of the others.
  RawTable table;
  table.headings = {"OD mm", "wall mm"};
  table.rows = {{1, 2, {"63,5", "2"}, {}}};
  EXPECT_EQ(propose(table).columns[1].decimal, ',');
}

TEST(StockMapping, AUnitIsPutInWhereNoneWasSaid) {
  RawTable table;
  table.headings = {"OD", "wall [mm]", "max temp"};
  const Mapping mapping = with_unit(propose(table), quantity::Dimension::length, "in");
  EXPECT_EQ(mapping.columns[0].unit, "in");
  EXPECT_EQ(mapping.columns[1].unit, "mm");
  EXPECT_EQ(mapping.columns[2].unit, "");
}

TEST(StockMapping, WhatIsWrongWithItIsSaid) {
  RawTable table;
  table.headings = {"a", "b"};
  const auto wrong = [&](const Mapping& mapping) {
    const auto error = validate(table, mapping);
    return error ? error->text() : std::string("nothing");
  };
  const auto of = [](ColumnMapping first, ColumnMapping second, std::vector<FixedField> fixed = {}) {
    return Mapping{{std::move(first), std::move(second)}, std::move(fixed)};
  };
  const ColumnMapping none;
  EXPECT_EQ(wrong(of(none, none)), "nothing");
  EXPECT_EQ(wrong(of({Field::wall, "mm", {}, '.'}, {Field::bore, "in", {}, ','})), "nothing");
  EXPECT_NE(wrong(of({Field::wall, "mm", {}, '.'}, {Field::wall, "mm", {}, '.'})).find("column 2 (b)"),
            std::string::npos);
  EXPECT_NE(wrong(of({Field::legs, "mm", {}, '.'}, {Field::leg_out, "mm", {}, '.'})).find("both legs"),
            std::string::npos);
  EXPECT_NE(wrong(of({Field::wall, "kg", {}, '.'}, none)).find("mm"), std::string::npos);
  EXPECT_NE(wrong(of({Field::kind, "mm", {}, '.'}, none)).find("no unit"), std::string::npos);
  EXPECT_NE(wrong(of({Field::wall, "mm", quantity::Currency{{'E', 'U', 'R'}}, '.'}, none)).find("currency"),
            std::string::npos);
  EXPECT_NE(wrong(of({Field::wall, "mm", {}, '\''}, none)).find("decimal"), std::string::npos);
  EXPECT_EQ(wrong(of(none, none, {{Field::kind, "t-bolt clamp"}, {Field::supplier, "shelf"}})), "nothing");
  EXPECT_NE(wrong(of(none, none, {{Field::kind, "wheel"}})).find("hump hose"), std::string::npos);
  EXPECT_NE(wrong(of(none, none, {{Field::kind, "hose"}, {Field::kind, "tube"}})).find("already"),
            std::string::npos);
}

// Any bytes give a table or one clear error, never a crash. The random numbers are the same every time.
TEST(StockTable, AnyBytesAreATableOrAnError) {
  const std::string start = "kind;OD [mm];wall mm;price EUR;name\ntube;63,5;2;12,50;\"a \"\"good\"\" tube\"\n"
                            "hose;\"63\";5;7,20;caf\xC3\xA9\n";
  std::mt19937 random(20'240);
  const std::string bytes = std::string("\"\";,\t\r\n") + '\0' + "\xFF\xC3\xA9#[]()0123456789.,-";
  std::uniform_int_distribution<std::size_t> pick(0, bytes.size() - 1);
  for (int trial = 0; trial < 20'000; ++trial) {
    std::string text = start;
    for (int changes = 1 + trial % 6; changes > 0; --changes) {
      const std::size_t at = std::uniform_int_distribution<std::size_t>(0, text.size() - 1)(random);
      if (trial % 3 == 0)
        text.erase(at, 1);
      else if (trial % 3 == 1)
        text.insert(at, 1, bytes[pick(random)]);
      else
        text[at] = bytes[pick(random)];
    }
    const auto table = read_table(text);
    if (!table) {
      EXPECT_FALSE(table.error().found.empty());
      EXPECT_FALSE(table.error().accepted.empty());
      continue;
    }
    const Mapping mapping = propose(*table);
    EXPECT_FALSE(validate(*table, mapping)) << text;
    for (const RawRow& row : table->rows)
      EXPECT_EQ(row.cells.size(), row.fault ? 0 : table->headings.size());
  }
}

} // namespace
} // namespace bellmouth::stock
