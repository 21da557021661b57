// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/build/text_files.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/build.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <clocale>
#include <cmath>
#include <locale>
#include <random>

namespace bellmouth::build {
namespace {

using test::deg;
using test::mm;

TEST(Files, WhatIsWrittenIsReadAgain) {
  for (const Build& build : test::all_sample_builds()) {
    SCOPED_TRACE(build.title);
    ASSERT_EQ(validate(build), std::nullopt) << validate(build)->text();
    const std::string text = write_build(build);
    const auto read = read_build(text);
    ASSERT_TRUE(read.has_value()) << read.error().text();
    EXPECT_EQ(*read, build);
    EXPECT_EQ(write_build(*read), text);
  }
}

TEST(Files, StockIsReadAgain) {
  const auto stock = test::sample_stock();
  const std::string text = write_stock(stock, test::euro());
  const auto read = read_stock(text);
  ASSERT_TRUE(read.has_value()) << read.error().text();
  EXPECT_EQ(*read, stock);
  EXPECT_EQ(write_stock(*read, test::euro()), text);
  EXPECT_TRUE(text.starts_with(
      "{\n  \"format\": \"bellmouth-stock/1\",\n  \"currency\": \"EUR\",\n  \"items\": [\n"));
  EXPECT_TRUE(read_stock(write_stock({}, test::euro())).has_value());
}

/// A build whose only bend has these sizes.
Build with_bend(const TubeBend& bend) {
  const Build build = test::bench_build();
  return with_piece_replaced(build, {{"only"}, {"specimen"}, 1}, {bend, Material::aluminium, {}, ""});
}
const TubeBend& bend_of(const Build& build) {
  return std::get<TubeBend>(find(build, {{"only"}, {"specimen"}, 1})->shape);
}

TEST(Files, NumbersAreWrittenAsTheyWereTyped) {
  for (const char* typed : {"63.5", "57.15", "0.1", "60", "19.05", "50.8", "76.2", "101.6", "88.9",
                            "33.333333333333", "0.3", "12345.6789", "1.0000000000001"}) {
    std::string text = write_build(test::bench_build());
    const std::string key = "\"leg_in_mm\": ";
    text.replace(text.find(key + "0"), key.size() + 1, key + typed);
    const auto read = read_build(text);
    ASSERT_TRUE(read.has_value()) << read.error().text();
    EXPECT_EQ(write_build(*read), text) << typed;
    EXPECT_EQ(bend_of(*read).leg_in_m, std::stod(typed) / 1000.0);
  }
  for (int angle = 1; angle < 3600; ++angle) {
    const double typed = angle / 10.0;
    const Build build = with_bend({mm(60), mm(2), deg(typed), mm(90), 0, 0, deg(-typed), {}});
    const auto read = read_build(write_build(build));
    ASSERT_TRUE(read.has_value());
    ASSERT_EQ(bend_of(*read).angle_rad, deg(typed));
    ASSERT_EQ(bend_of(*read).clocking_rad, deg(-typed));
  }
}

// Identity: write(read(write(b))) == write(b) for values that nobody typed.
TEST(Files, WritingAgainGivesTheSameBytes) {
  std::mt19937_64 random(11);
  std::uniform_real_distribution<double> unit(0.0, 1.0);
  for (int i = 0; i < 3000; ++i) {
    const double diameter_m = std::exp(-7 * unit(random));
    const TubeBend bend{diameter_m,
                        std::min(0.049, diameter_m * 0.4 * unit(random) + 1e-7),
                        6.28 * unit(random) + 1e-6,
                        diameter_m * (0.51 + 3 * unit(random)),
                        std::exp(-20 * unit(random)),
                        std::exp(-20 * unit(random)),
                        6.28 * (2 * unit(random) - 1),
                        {}};
    Build build = with_bend(bend);
    auto engine = test::sample_engine();
    engine.working_speed_rev_s = 16 + 80 * unit(random);
    build.demand = engine;
    ASSERT_EQ(validate(build), std::nullopt) << validate(build)->text();
    const std::string text = write_build(build);
    const auto read = read_build(text);
    ASSERT_TRUE(read.has_value()) << read.error().text();
    ASSERT_EQ(write_build(*read), text);
    ASSERT_NEAR(bend_of(*read).leg_in_m, bend.leg_in_m, bend.leg_in_m * 1e-14);
  }
}

TEST(Files, LayoutIsFixed) {
  const std::string text = write_build(test::bench_build());
  EXPECT_TRUE(text.starts_with(
      "{\n"
      "  \"format\": \"bellmouth-build/1\",\n"
      "  \"title\": \"Bench\",\n"
      "  \"ambient\": {\"kind\": \"weather\", \"pressure_Pa\": 101325, \"temperature_K\": 293.15, "
      "\"relative_humidity\": 0.5},\n"
      "  \"demand\": {\n"
      "    \"kind\": \"fixed_flow\",\n"
      "    \"mass_flow_kg_s\": 0.12,\n"))
      << text;
  EXPECT_TRUE(
      text.ends_with("  \"budget\": {\"currency\": \"XXX\"},\n  \"stock\": [],\n  \"owned\": []\n}\n"))
      << text;
  std::istringstream lines(write_build(test::sample_build()));
  for (std::string line; std::getline(lines, line);) {
    EXPECT_LE(line.size(), 112u) << line;
    EXPECT_FALSE(line.ends_with(' ')) << line;
  }
}

TEST(Files, OrderOfKeysAndBlanksDoNotMatter) {
  const auto plain = read_build(test::file_text(test::build_tests_dir() / "small.json"));
  ASSERT_TRUE(plain.has_value());
  std::string text = write_build(*plain);
  const std::string first = "  \"format\": \"bellmouth-build/1\",\n";
  text.erase(text.find(first), first.size());
  text.replace(text.rfind("\n}"), 2, ",\n\t\"format\"\r\n:\"bellmouth-build/1\"  }  ");
  const auto read = read_build(text);
  ASSERT_TRUE(read.has_value()) << read.error().text();
  EXPECT_EQ(*read, *plain);
}

TEST(Files, TextOfAnyLanguageIsKept) {
  const std::string title = "R\xC3\xB6hre \"\xE2\x8C\x80 60\" \\ \xF0\x9F\x94\xA7 /";
  Build build = with_title(test::natural_build(), title);
  build.note = "first line\nsecond\tline";
  const auto read = read_build(write_build(build));
  ASSERT_TRUE(read.has_value()) << read.error().text();
  EXPECT_EQ(*read, build);
  const auto escaped = read_build([&] {
    std::string text = write_build(with_title(build, "@"));
    text.replace(text.find("\"@\""), 3, R"("\u00e9\ud83d\udd27")");
    return text;
  }());
  ASSERT_TRUE(escaped.has_value()) << escaped.error().text();
  EXPECT_EQ(escaped->title, "\xC3\xA9\xF0\x9F\x94\xA7");
}

/// Numbers with a comma, and dots between the thousands.
class CommaNumbers : public std::numpunct<char> {
  [[nodiscard]] char do_decimal_point() const override { return ','; }
  [[nodiscard]] char do_thousands_sep() const override { return '.'; }
  [[nodiscard]] std::string do_grouping() const override { return "\3"; }
};

TEST(Files, AreTheSameInEveryLocale) {
  const Build build = test::sample_build();
  const std::string text = write_build(build);
  const std::locale before = std::locale::global(std::locale(std::locale::classic(), new CommaNumbers));
  const std::string c_before = std::setlocale(LC_NUMERIC, nullptr);
  // Where the system has such a locale, the C library is asked too.
  for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8"})
    if (std::setlocale(LC_NUMERIC, name))
      break;
  const std::string written = write_build(build);
  const auto read = read_build(text);
  std::setlocale(LC_NUMERIC, c_before.c_str());
  std::locale::global(before);
  EXPECT_EQ(written, text);
  ASSERT_TRUE(read.has_value()) << read.error().text();
  EXPECT_EQ(*read, build);
}

} // namespace
} // namespace bellmouth::build
