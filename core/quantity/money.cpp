// SPDX-License-Identifier: GPL-3.0-or-later
#include "characters.hpp"

#include <bellmouth/quantity/complaint.hpp>
#include <bellmouth/quantity/money.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <optional>

namespace bellmouth::quantity {

namespace {

using detail::complaint;
using detail::quoted;

/// Codes that share a number of digits behind the decimal sign.
struct Codes {
  int digits;
  std::string_view codes; ///< each of three letters and a space
};

// ISO 4217, list one, as in force on 2026-01-01 (amendments to number 180). Where the list says "N.A."
// (metals, units of account, the test code, no currency) there is no minor unit, which is 0 digits.
constexpr Codes currencies[] = {
    {2, "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF CHE "
        "CHF CHW "
        "CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL "
        "HTG HUF "
        "IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR "
        "MVR MWK "
        "MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK "
        "SGD SHP "
        "SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST XAD "
        "XCD XCG "
        "YER ZAR ZMW ZWG "},
    {0, "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF "
        "XAG XAU XBA XBB XBC XBD XDR XPD XPT XSU XTS XUA XXX "},
    {3, "BHD IQD JOD KWD LYD OMR TND "},
    {4, "CLF UYW "},
};

std::optional<int> digits_of(std::string_view code) {
  for (const auto& [digits, codes] : currencies)
    for (std::size_t at = 0; at < codes.size(); at += 4)
      if (codes.substr(at, 3) == code)
        return digits;
  return std::nullopt;
}

constexpr std::int64_t lowest = std::numeric_limits<std::int64_t>::min();
constexpr std::int64_t highest = std::numeric_limits<std::int64_t>::max();

std::size_t skip_letters(std::string_view text, std::size_t at) {
  while (at < text.size() && detail::is_letter(text[at]))
    ++at;
  return at;
}

/// Reads a currency's code at `at`, which must be the wanted one; returns the byte behind it.
Result<std::size_t> read_code(std::string_view text, std::size_t at, Currency wanted) {
  const std::size_t end = skip_letters(text, at);
  const std::string_view code = text.substr(at, end - at);
  if (code == wanted.text())
    return end;
  const bool known = digits_of(code).has_value();
  return complaint(text, at, quoted(code) + (known ? ", another currency" : ""),
                   fmt::format("{} or no currency", wanted.text()));
}

struct Amount {
  std::int64_t minor;
  std::size_t end;
};

Result<Amount> read_amount(std::string_view text, std::size_t at, Currency currency, char decimal) {
  const int places = currency.digits();
  const std::size_t start = at;
  const std::size_t minus = detail::minus_at(text, at);
  at += minus > 0 ? minus : text.substr(at).starts_with('+') ? 1 : 0;

  std::int64_t minor = 0;
  int digits = 0;
  int behind_sign = 0;
  const auto take = [&](char digit) {
    ++digits;
    return !__builtin_mul_overflow(minor, std::int64_t{10}, &minor) &&
           !__builtin_add_overflow(minor, std::int64_t{digit - '0'}, &minor) && minor <= largest_minor;
  };
  bool fits = true;
  for (; fits && detail::digit_at(text, at); ++at)
    fits = take(text[at]);
  if (fits && at < text.size() && text[at] == decimal && detail::digit_at(text, at + 1)) {
    const std::size_t decimals_at = ++at;
    for (; fits && detail::digit_at(text, at); ++at) {
      if (++behind_sign > places)
        return complaint(text, decimals_at, quoted(text.substr(decimals_at)),
                         places == 0 ? fmt::format("an amount of {} without decimals", currency.text())
                                     : fmt::format("at most {} decimals in {}", places, currency.text()));
      fits = take(text[at]);
    }
  }
  if (digits == 0)
    return complaint(text, start, quoted(text.substr(start)),
                     fmt::format("an amount such as 12{} or 12 {}",
                                 places == 0 ? "" : fmt::format("{}5", decimal), currency.text()));
  for (; fits && behind_sign < places; ++behind_sign)
    fits = take('0');
  if (!fits)
    return complaint(text, start, quoted(text.substr(start)),
                     fmt::format("an amount of at most {}", write(Money{largest_minor, currency}, decimal)));
  return Amount{minus > 0 ? -minor : minor, at};
}

} // namespace

int Currency::digits() const {
  const auto known = digits_of(text());
  assert(known.has_value());
  return known.value_or(0);
}

Result<Currency> read_currency(std::string_view text) {
  if (digits_of(text))
    return Currency{{text[0], text[1], text[2]}};
  return complaint(text, 0, text.empty() ? "nothing" : quoted(text),
                   "a currency code of ISO 4217, three capital letters such as EUR");
}

Money add(Money a, Money b) {
  assert(a.currency == b.currency);
  Money sum = a;
  if (__builtin_add_overflow(a.minor, b.minor, &sum.minor)) {
    assert(!"a sum of money that does not fit");
    sum.minor = a.minor > 0 ? highest : lowest;
  }
  return sum;
}

Money times(Money price, std::int64_t count) {
  Money product = price;
  if (__builtin_mul_overflow(price.minor, count, &product.minor)) {
    assert(!"a product of money that does not fit");
    product.minor = (price.minor > 0) == (count > 0) ? highest : lowest;
  }
  return product;
}

Money times(Money price, double amount) {
  const auto minor = static_cast<double>(price.minor);
  const double product = minor * amount;
  // What the product lost by rounding decides where it seems to lie exactly between two minor units.
  const double lost = std::fma(minor, amount, -product);
  const double whole = std::trunc(product);
  double rounded = std::round(product);
  if (std::abs(product - whole) == 0.5 && lost * product < 0)
    rounded = whole;
  constexpr double limit = 0x1p63;
  assert(rounded > -limit && rounded < limit);
  if (!(rounded > -limit && rounded < limit))
    return {rounded > 0 ? highest : lowest, price.currency};
  return {static_cast<std::int64_t>(rounded), price.currency};
}

Result<Money> read_money(std::string_view text, Currency currency, char decimal) {
  assert(decimal == '.' || decimal == ',');
  std::size_t at = detail::skip_spaces(text, 0);
  if (at == text.size())
    return complaint(text, at, "nothing", fmt::format("an amount of {}", currency.text()));
  const bool code_first = detail::is_letter(text[at]);
  if (code_first) {
    const auto code_end = read_code(text, at, currency);
    if (!code_end)
      return fail(code_end.error());
    at = detail::skip_spaces(text, *code_end);
  }
  const auto amount = read_amount(text, at, currency, decimal);
  if (!amount)
    return fail(amount.error());
  at = detail::skip_spaces(text, amount->end);
  if (!code_first && at < text.size() && detail::is_letter(text[at])) {
    const auto code_end = read_code(text, at, currency);
    if (!code_end)
      return fail(code_end.error());
    at = detail::skip_spaces(text, *code_end);
  }
  if (at < text.size())
    return complaint(
        text, at, quoted(text.substr(at)),
        text[at] == '.' || text[at] == ','
            ? fmt::format("'{}' as the decimal sign, digits behind it, and no sign between thousands",
                          decimal)
            : std::string("nothing more behind the amount"));
  return Money{amount->minor, currency};
}

std::string write(Money money, char decimal) {
  const auto places = static_cast<std::size_t>(money.currency.digits());
  const bool negative = money.minor < 0;
  const auto bits = static_cast<std::uint64_t>(money.minor);
  std::string digits = std::to_string(negative ? 0 - bits : bits);
  if (digits.size() <= places)
    digits.insert(0, places + 1 - digits.size(), '0');
  if (places > 0)
    digits.insert(digits.size() - places, 1, decimal);
  return fmt::format("{}{} {}", negative ? "-" : "", digits, money.currency.text());
}

} // namespace bellmouth::quantity
