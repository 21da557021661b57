// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/reference.hpp"

#include <bellmouth/quantity/money.hpp>

#include <gtest/gtest.h>

#include <limits>
#include <random>

namespace bellmouth::quantity {
namespace {

constexpr Currency eur{{'E', 'U', 'R'}};
constexpr Currency jpy{{'J', 'P', 'Y'}};
constexpr Currency kwd{{'K', 'W', 'D'}};
constexpr Currency clf{{'C', 'L', 'F'}};

// Published value: ISO 4217, list one; tests/reference/currency_minor_units.csv.
TEST(Currency, HasTheDigitsOfTheStandard) {
  for (const test::Row& row : test::reference("currency_minor_units.csv")) {
    const std::string& code = row.text("code");
    const auto currency = read_currency(code);
    ASSERT_EQ(currency.has_value(), row.text("status") == "active") << code;
    if (currency) {
      EXPECT_EQ(currency->text(), code);
      EXPECT_EQ(currency->digits(), row.number("minor_units")) << code;
    }
  }
}

// Identity: of all three-letter codes exactly those of the list are read.
TEST(Currency, KnowsNoOtherCode) {
  std::size_t active = 0;
  for (const test::Row& row : test::reference("currency_minor_units.csv"))
    active += row.text("status") == "active" ? 1 : 0;
  std::size_t known = 0;
  for (char a = 'A'; a <= 'Z'; ++a)
    for (char b = 'A'; b <= 'Z'; ++b)
      for (char c = 'A'; c <= 'Z'; ++c)
        known += read_currency(std::string{a, b, c}) ? 1 : 0;
  EXPECT_EQ(known, active);
}

TEST(Currency, RefusesOtherText) {
  for (const std::string_view text : {"", "eur", "EU", "EURO", "EU ", " EUR", "ZZZ", "€", "ED "}) {
    const auto currency = read_currency(text);
    ASSERT_FALSE(currency) << text;
    EXPECT_EQ(currency.error().place.column, 1);
    EXPECT_NE(currency.error().accepted.find("ISO 4217"), std::string::npos);
  }
}

struct Right {
  std::string_view text;
  Currency currency;
  std::int64_t minor;
  char decimal = '.';
};

TEST(ReadMoney, IsExact) {
  const Right rows[] = {
      {"12.50", eur, 1250},
      {"12.5", eur, 1250},
      {"12", eur, 1200},
      {".5", eur, 50},
      {"0.07", eur, 7},
      {"EUR 12.50", eur, 1250},
      {"12.50 EUR", eur, 1250},
      {"EUR12.50", eur, 1250},
      {"12.50EUR", eur, 1250},
      {"  12.50\u00a0EUR ", eur, 1250},
      {"-12.50", eur, -1250},
      {"EUR -12.50", eur, -1250},
      {"\u22120.01 EUR", eur, -1},
      {"+1", eur, 100},
      {"-0", eur, 0},
      {"000000000000000000012.50", eur, 1250},
      {"1250", jpy, 1250},
      {"1.234", kwd, 1234},
      {"1.2345", clf, 12345},
      {"12,50", eur, 1250, ','},
      {"100000000000.00", eur, 10'000'000'000'000},
      {"-100000000000", eur, -10'000'000'000'000},
      {"0.29", eur, 29},
      {"1.15", eur, 115},
      {"4.35", eur, 435}, // not whole cents as doubles
  };
  for (const auto& [text, currency, minor, decimal] : rows) {
    const auto money = read_money(text, currency, decimal);
    ASSERT_TRUE(money) << text << ": " << money.error().text();
    EXPECT_EQ(*money, (Money{minor, currency})) << text;
  }
}

struct Wrong {
  std::string_view text;
  Currency currency;
  int column;
  std::string_view found;
  std::string_view accepted;
  char decimal = '.';
};

TEST(ReadMoney, RefusesWithPlaceAndAdvice) {
  const Wrong rows[] = {
      {"", eur, 1, "nothing", "an amount of EUR"},
      {"EUR", eur, 4, "\"\"", "an amount such as 12.5 or 12 EUR"},
      {"-", eur, 1, "\"-\"", "an amount such as"},
      {"abc", eur, 1, "\"abc\"", "EUR or no currency"},
      {"12.50 USD", eur, 7, "\"USD\", another currency", "EUR or no currency"},
      {"USD 12.50", eur, 1, "\"USD\", another currency", "EUR or no currency"},
      {"12.50 eur", eur, 7, "\"eur\"", "EUR or no currency"},
      {"EUR 12.50 EUR", eur, 11, "\"EUR\"", "nothing more"},
      {"12.505", eur, 4, "\"505\"", "at most 2 decimals in EUR"},
      {"12.500", eur, 4, "\"500\"", "at most 2 decimals in EUR"},
      {"12.0", jpy, 4, "\"0\"", "without decimals"},
      {"1,250.00", eur, 2, "\",250.00\"", "'.' as the decimal sign"},
      {"12.", eur, 3, "\".\"", "digits behind it"},
      {"12.50", eur, 3, "\".50\"", "',' as the decimal sign", ','},
      {"1.250,00", eur, 2, "\".250,00\"", "',' as the decimal sign", ','},
      {"12 50", eur, 4, "\"50\"", "nothing more"},
      {"1e3", eur, 2, "\"e\"", "EUR or no currency"},
      {"100000000000.01", eur, 1, "\"100000000000.01\"", "at most 100000000000.00 EUR"},
      {"9223372036854775808", jpy, 1, "\"9223372036854775808\"", "at most 10000000000000 JPY"},
      {"99999999999999999999999999", eur, 1, "\"99999999999999999999999999\"", "at most"},
  };
  for (const auto& [text, currency, column, found, accepted, decimal] : rows) {
    const auto money = read_money(text, currency, decimal);
    ASSERT_FALSE(money) << text;
    EXPECT_EQ(money.error().place.column, column) << text << ": " << money.error().text();
    EXPECT_EQ(money.error().found, found) << text;
    EXPECT_NE(money.error().accepted.find(accepted), std::string::npos) << money.error().text();
    EXPECT_EQ(money.error().line, text);
  }
}

TEST(WriteMoney, KeepsTheDigitsOfTheCurrency) {
  EXPECT_EQ(write(Money{1250, eur}), "12.50 EUR");
  EXPECT_EQ(write(Money{1250, eur}, ','), "12,50 EUR");
  EXPECT_EQ(write(Money{7, eur}), "0.07 EUR");
  EXPECT_EQ(write(Money{-7, eur}), "-0.07 EUR");
  EXPECT_EQ(write(Money{0, eur}), "0.00 EUR");
  EXPECT_EQ(write(Money{1250, jpy}), "1250 JPY");
  EXPECT_EQ(write(Money{1250, kwd}), "1.250 KWD");
  EXPECT_EQ(write(Money{1250, clf}), "0.1250 CLF");
  EXPECT_EQ(write(Money{std::numeric_limits<std::int64_t>::min(), eur}), "-92233720368547758.08 EUR");
}

// Identity: what is written reads back.
TEST(WriteMoney, ReadsBack) {
  std::mt19937_64 random(4217);
  std::uniform_int_distribution<std::int64_t> minor(-largest_minor, largest_minor);
  for (const Currency currency : {eur, jpy, kwd, clf})
    for (const char decimal : {'.', ','})
      for (int i = 0; i < 500; ++i) {
        const Money money{minor(random) >> (i % 40), currency};
        const auto back = read_money(write(money, decimal), currency, decimal);
        ASSERT_TRUE(back) << write(money, decimal);
        EXPECT_EQ(*back, money);
      }
}

TEST(Money, AddsAndMultipliesExactly) {
  EXPECT_EQ(add({1250, eur}, {-50, eur}), (Money{1200, eur}));
  EXPECT_EQ(times(Money{333, eur}, std::int64_t{3}), (Money{999, eur}));
  EXPECT_EQ(times(Money{333, eur}, std::int64_t{-3}), (Money{-999, eur}));
  EXPECT_EQ(times(Money{largest_minor, eur}, std::int64_t{900'000}).minor, 9'000'000'000'000'000'000);
}

struct Product {
  std::int64_t minor;
  double amount;
  std::int64_t product;
};

// Closed form: rounded by hand, half away from zero. The doubles nearest 1.005 and 0.145 lie below them, so
// that their products lie below the half.
TEST(Money, RoundsHalfAwayFromZero) {
  const Product rows[] = {
      {1000, 1.37, 1370},
      {5, 0.5, 3},
      {-5, 0.5, -3},
      {5, -0.5, -3},
      {3, 0.5, 2},
      {1, 0.5, 1},
      {1, 0.499, 0},
      {100, 1.005, 100},
      {-100, 1.005, -100},
      {100, 0.145, 14},
      {100, 0.125, 13},
      {999, 0, 0},
      {1'000'000'000'001, 2.5, 2'500'000'000'003},
  };
  for (const auto& [minor, amount, product] : rows)
    EXPECT_EQ(times(Money{minor, eur}, amount), (Money{product, eur})) << minor << " x " << amount;
}

} // namespace
} // namespace bellmouth::quantity
