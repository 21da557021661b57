// SPDX-License-Identifier: GPL-3.0-or-later
// Money: whole minor units and a currency. Never a floating-point number.
#pragma once

#include <bellmouth/quantity/result.hpp>

#include <array>
#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

namespace bellmouth::quantity {

/// A currency by its ISO 4217 code, three capital letters; "XXX" (no currency) when not set.
struct Currency {
  std::array<char, 3> code{'X', 'X', 'X'};

  [[nodiscard]] std::string_view text() const { return {code.data(), code.size()}; }
  /// Digits after the decimal sign by ISO 4217 (0 for JPY, 3 for KWD, 2 for most).
  [[nodiscard]] int digits() const;

  friend auto operator<=>(const Currency&, const Currency&) = default;
};

/// Reads a code such as "EUR"; unknown codes are an error (the list holds ISO 4217's active codes).
[[nodiscard]] Result<Currency> read_currency(std::string_view text);

/// An amount of money in minor units (cents). Sums of different currencies do not exist: see add().
struct Money {
  std::int64_t minor = 0;
  Currency currency;

  friend bool operator==(const Money&, const Money&) = default;
};

/// Largest amount that read_money() takes, either sign: sums and products of what a list can hold then stay
/// far inside 64 bits.
inline constexpr std::int64_t largest_minor = 10'000'000'000'000;

/// The sum; the two must be of one currency and the sum within 64 bits (assertions), as every reader makes
/// sure.
[[nodiscard]] Money add(Money a, Money b);
[[nodiscard]] Money times(Money price, std::int64_t count);
/// price x amount, rounded half away from zero to a whole minor unit: the price of 1.37 m at so much a metre.
[[nodiscard]] Money times(Money price, double amount);

/// Reads "12.50", "EUR 12.50" or "12.50 EUR", exactly, by its decimal digits; a bare number takes `currency`.
/// `decimal` is the reader's decimal sign ('.' or ','). Errors, with the column: no amount, another currency
/// than `currency`, more decimals than it has, a sign between thousands, more than `largest_minor`, anything
/// behind the amount.
[[nodiscard]] Result<Money> read_money(std::string_view text, Currency currency, char decimal = '.');

/// "12.50 EUR".
[[nodiscard]] std::string write(Money money, char decimal = '.');

} // namespace bellmouth::quantity
