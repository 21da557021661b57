// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/quantity.hpp>

#include <gtest/gtest.h>

namespace bellmouth {
namespace {

struct Case {
  Error error;
  std::string text;
};

TEST(Error, SaysWhereWhatAndWhatIsAccepted) {
  const Case cases[] = {
      {{{"a.json", 3, 12, "$.bore_mm"}, "\"x\"", "a number", ""},
       "a.json:3:12 ($.bore_mm): found \"x\"; accepted: a number"},
      {{{"a.csv", 3, 0, "row 4, price"}, "\"x\"", "an amount", "1,2,x"},
       "a.csv:3 (row 4, price): found \"x\"; accepted: an amount; in: 1,2,x"},
      {{{"a.json", 0, 0, ""}, "a folder", "a file", ""}, "a.json: found a folder; accepted: a file"},
      {{{"", 3, 12, ""}, "\"x\"", "a number", ""}, "line 3, column 12: found \"x\"; accepted: a number"},
      {{{"", 0, 12, ""}, "\"x\"", "a number", "57 x"},
       "column 12: found \"x\"; accepted: a number; in: 57 x"},
      {{{"", 0, 0, "$.a"}, "\"x\"", "a number", ""}, "$.a: found \"x\"; accepted: a number"},
      {{{}, "", "a number", ""}, "found nothing; accepted: a number"},
      {{{}, "\"x\"", "", ""}, "found \"x\""},
  };
  for (const auto& [error, text] : cases)
    EXPECT_EQ(error.text(), text);
}

TEST(Error, TravelsInAResult) {
  const Error error{{"", 0, 1, ""}, "\"x\"", "a number", "x"};
  const Result<double> result = fail(error);
  ASSERT_FALSE(result.has_value());
  EXPECT_EQ(result.error(), error);
}

} // namespace
} // namespace bellmouth
