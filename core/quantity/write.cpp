// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit_table.hpp"

#include <array>
#include <cassert>
#include <charconv>
#include <cmath>

namespace bellmouth::quantity {

namespace {

/// Powers of ten of the first digit between which a number is written without an exponent.
constexpr int smallest_plain = -6;
constexpr int largest_plain = 14;

const Unit& known_unit(Dimension dimension, std::string_view symbol) {
  const Unit* unit = detail::unit_by_spelling(dimension, symbol);
  assert(unit != nullptr);
  return *unit;
}

double convert(double value_si, const Unit& unit) {
  return (value_si - unit.offset) / unit.factor;
}

std::string not_finite(double value) {
  return std::isnan(value) ? "nan" : value > 0 ? "inf" : "-inf";
}

/// Takes the sign off a zero and puts the reader's decimal sign in.
std::string finish(std::string number, char decimal) {
  if (number.find_first_of("123456789") == std::string::npos && number.starts_with('-'))
    number.erase(0, 1);
  if (const std::size_t point = number.find('.'); point != std::string::npos)
    number[point] = decimal;
  return number;
}

void append_unit(std::string& text, std::string_view symbol) {
  if (symbol.empty())
    return;
  if (symbol != "°") // the one symbol that stands close to its number, ISO 80000-1, 7.1.4
    text += ' ';
  text += symbol;
}

/// Shortest plain text of a number with at most `significant` digits, decimal point.
std::string plain(double value, int significant) {
  std::array<char, 40> buffer{};
  const auto [end, error] = std::to_chars(buffer.data(), buffer.data() + buffer.size(), std::abs(value),
                                          std::chars_format::scientific, significant - 1);
  assert(error == std::errc{});
  const std::string_view text(buffer.data(), static_cast<std::size_t>(end - buffer.data()));
  const std::size_t e = text.find('e');
  int exponent = 0;
  const std::size_t exponent_at = e + (text[e + 1] == '+' ? 2 : 1);
  std::from_chars(text.data() + exponent_at, text.data() + text.size(), exponent);

  std::string digits;
  for (const char c : text.substr(0, e))
    if (c != '.')
      digits += c;
  digits.erase(std::max<std::size_t>(digits.find_last_not_of('0') + 1, 1));

  const std::string sign = std::signbit(value) ? "-" : "";
  if (exponent < smallest_plain || exponent > largest_plain) {
    if (digits.size() > 1)
      digits.insert(1, 1, '.');
    return sign + digits + 'e' + std::to_string(exponent);
  }
  if (exponent < 0)
    return sign + "0." + std::string(static_cast<std::size_t>(-exponent - 1), '0') + digits;
  const auto whole = static_cast<std::size_t>(exponent) + 1;
  if (digits.size() <= whole)
    return sign + digits + std::string(whole - digits.size(), '0');
  return sign + digits.insert(whole, 1, '.');
}

std::string fixed(double value, int decimals) {
  std::array<char, 400> buffer{}; // 309 digits before the point, 17 behind
  const auto [end, error] =
      std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed, decimals);
  assert(error == std::errc{});
  return {buffer.data(), end};
}

} // namespace

std::string write(Dimension dimension, double value_si, std::string_view unit, int significant,
                  char decimal) {
  assert(significant >= 1 && significant <= 17);
  const Unit& known = known_unit(dimension, unit);
  const double value = convert(value_si, known);
  std::string text = std::isfinite(value) ? finish(plain(value, significant), decimal) : not_finite(value);
  append_unit(text, known.symbol);
  return text;
}

std::string write_fixed(Dimension dimension, double value_si, std::string_view unit, int decimals,
                        bool with_unit, char decimal) {
  assert(decimals >= 0 && decimals <= 17);
  const Unit& known = known_unit(dimension, unit);
  const double value = convert(value_si, known);
  std::string text = std::isfinite(value) ? finish(fixed(value, decimals), decimal) : not_finite(value);
  if (with_unit)
    append_unit(text, known.symbol);
  return text;
}

double in_unit(Dimension dimension, double value_si, std::string_view unit) {
  return convert(value_si, known_unit(dimension, unit));
}

} // namespace bellmouth::quantity
