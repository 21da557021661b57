// SPDX-License-Identifier: GPL-3.0-or-later
#include "number.hpp"

#include "characters.hpp"

#include <charconv>
#include <optional>
#include <string>

namespace bellmouth::quantity::detail {

namespace {

struct VulgarFraction {
  std::string_view text;
  int numerator;
  int denominator;
};

// Unicode blocks Latin-1 Supplement and Number Forms.
constexpr VulgarFraction vulgar_fractions[] = {
    {"½", 1, 2}, {"¼", 1, 4}, {"¾", 3, 4}, {"⅛", 1, 8}, {"⅜", 3, 8}, {"⅝", 5, 8},
    {"⅞", 7, 8}, {"⅓", 1, 3}, {"⅔", 2, 3}, {"⅕", 1, 5}, {"⅖", 2, 5}, {"⅗", 3, 5},
    {"⅘", 4, 5}, {"⅙", 1, 6}, {"⅚", 5, 6}, {"⅐", 1, 7}, {"⅑", 1, 9}, {"⅒", 1, 10},
};

constexpr std::string_view fractions_of_whole = "a fraction of whole numbers such as 1/2";
constexpr std::string_view within_range = "a number that is zero or between 1e-307 and 1e308 in size";

const VulgarFraction* vulgar_at(std::string_view text, std::size_t at) {
  const std::string_view rest = text.substr(at);
  if (rest.empty() || is_digit(rest.front()))
    return nullptr;
  for (const VulgarFraction& fraction : vulgar_fractions)
    if (rest.starts_with(fraction.text))
      return &fraction;
  return nullptr;
}

/// Bytes of "/" or U+2044 at `at`, 0 if none.
std::size_t slash_at(std::string_view text, std::size_t at) {
  const std::string_view rest = text.substr(at);
  return rest.starts_with('/') ? 1 : rest.starts_with("\u2044") ? 3 : 0;
}

std::size_t skip_digits(std::string_view text, std::size_t at) {
  while (digit_at(text, at))
    ++at;
  return at;
}

/// Appends the digits at `at`, groups of three included, to `digits`; returns the byte behind them.
std::size_t take_digits(std::string_view text, std::size_t at, std::string& digits) {
  std::size_t end = skip_digits(text, at);
  digits += text.substr(at, end - at);
  if (end == at || end - at > 3)
    return end;
  for (;;) {
    const std::size_t space = fixed_space_at(text, end);
    const std::size_t group = end + space;
    const std::size_t group_end = skip_digits(text, group);
    if (space == 0 || group_end - group != 3 || slash_at(text, group_end) > 0)
      return end;
    digits += text.substr(group, 3);
    end = group_end;
  }
}

/// The value of plain digits with at most one '.' and an exponent; nothing if out of the range of a double.
std::optional<double> value_of(std::string_view digits) {
  double value = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (error != std::errc{} || end != digits.data() + digits.size())
    return std::nullopt;
  return value;
}

struct Fraction {
  double numerator;
  double denominator;
  std::size_t end;
};

/// The fraction "1/2" or "½" at `at`, if there is one.
tl::expected<std::optional<Fraction>, NumberFault> scan_fraction(std::string_view text, std::size_t at) {
  if (const VulgarFraction* vulgar = vulgar_at(text, at))
    return Fraction{double(vulgar->numerator), double(vulgar->denominator), at + vulgar->text.size()};
  const std::size_t numerator_end = skip_digits(text, at);
  const std::size_t slash = slash_at(text, numerator_end);
  const std::size_t denominator_at = numerator_end + slash;
  const std::size_t end = skip_digits(text, denominator_at);
  if (numerator_end == at || slash == 0 || end == denominator_at)
    return std::nullopt;
  const auto numerator = value_of(text.substr(at, numerator_end - at));
  const auto denominator = value_of(text.substr(denominator_at, end - denominator_at));
  if (!numerator || !denominator)
    return tl::unexpected(NumberFault{at, end - at, within_range});
  if (*denominator == 0)
    return tl::unexpected(NumberFault{denominator_at, end - denominator_at, "a denominator other than zero"});
  return Fraction{*numerator, *denominator, end};
}

/// Where the fraction of a mixed number begins when its whole part ends at `at`: behind spaces, behind one
/// hyphen ("2-1/4"), or at once ("2¼").
std::size_t fraction_start(std::string_view text, std::size_t at) {
  return at < text.size() && text[at] == '-' ? at + 1 : skip_spaces(text, at);
}

/// The fault of a '.' or ',' at `at`, if one stands there: it is not the reader's decimal sign or has no
/// digits behind it.
std::optional<NumberFault> decimal_fault(std::string_view text, std::size_t at, char decimal) {
  if (at >= text.size() || (text[at] != '.' && text[at] != ','))
    return std::nullopt;
  if (text[at] == decimal)
    return NumberFault{at, 1, "one decimal sign with digits behind it"};
  return NumberFault{at, 1,
                     decimal == ',' ? "',' as the decimal sign and no sign between thousands"
                                    : "'.' as the decimal sign and no sign between thousands"};
}

} // namespace

tl::expected<Number, NumberFault> scan_number(std::string_view text, std::size_t at, char decimal) {
  const std::size_t start = at;
  const std::size_t minus = minus_at(text, at);
  const double sign = minus > 0 ? -1.0 : 1.0;
  at += minus > 0 ? minus : text.substr(at).starts_with('+') ? 1 : 0;
  const std::size_t digits_at = at;

  if (digit_at(text, at) || vulgar_at(text, at)) {
    const auto fraction = scan_fraction(text, at);
    if (!fraction)
      return tl::unexpected(fraction.error());
    if (*fraction)
      return Number{sign * ((*fraction)->numerator / (*fraction)->denominator), (*fraction)->end};
  }

  std::string digits;
  at = take_digits(text, at, digits);
  bool whole = !digits.empty();
  if (at < text.size() && text[at] == decimal && digit_at(text, at + 1)) {
    whole = false;
    const std::size_t end = skip_digits(text, at + 1);
    digits += digits.empty() ? "0." : ".";
    digits += text.substr(at + 1, end - at - 1);
    at = end;
  }
  if (digits.empty()) {
    const auto fault = decimal_fault(text, at, decimal);
    return tl::unexpected(fault.value_or(NumberFault{start, text.size() - start, "a number"}));
  }
  if (at < text.size() && lower(text[at]) == 'e') {
    const bool signed_exponent = at + 1 < text.size() && (text[at + 1] == '+' || text[at + 1] == '-');
    const std::size_t exponent_at = at + (signed_exponent ? 2 : 1);
    if (digit_at(text, exponent_at)) {
      whole = false;
      const std::size_t end = skip_digits(text, exponent_at);
      digits += text.substr(at, end - at);
      at = end;
    }
  }
  const auto value = value_of(digits);
  if (!value)
    return tl::unexpected(NumberFault{digits_at, at - digits_at, within_range});
  if (!whole)
    return Number{sign * *value, at};

  const std::size_t fraction_at = fraction_start(text, at);
  const auto fraction = scan_fraction(text, fraction_at);
  if (!fraction)
    return tl::unexpected(fraction.error());
  if (!*fraction)
    return Number{sign * *value, at};
  const auto [numerator, denominator, end] = **fraction;
  if (numerator >= denominator)
    return tl::unexpected(
        NumberFault{fraction_at, end - fraction_at, "a fraction smaller than one behind a whole number"});
  return Number{sign * ((*value * denominator + numerator) / denominator), end};
}

NumberFault trailing_fault(std::string_view text, std::size_t at, char decimal) {
  const auto fault = [&](std::string_view accepted) {
    return NumberFault{at, trim_end(text.substr(at)).size(), accepted};
  };
  if (at >= text.size())
    return {at, 0, {}};
  if (const auto fault_there = decimal_fault(text, at, decimal))
    return *fault_there;
  if (slash_at(text, at) > 0 && digit_at(text, at + slash_at(text, at)))
    return fault(fractions_of_whole);
  const std::size_t minus = minus_at(text, at);
  if (digit_at(text, minus > 0 ? skip_spaces(text, at + minus) : at) || vulgar_at(text, at))
    return fault("one number: decimal (57.15), fraction (1/2) or mixed (2 1/4)");
  return {at, 0, {}};
}

} // namespace bellmouth::quantity::detail
