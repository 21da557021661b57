// SPDX-License-Identifier: GPL-3.0-or-later
#include "cell_text.hpp"

#include <bellmouth/build/stock_items.hpp>
#include <bellmouth/stock.hpp>
#include <bellmouth/stock/search.hpp>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <numbers>

namespace bellmouth::stock {

namespace {

using build::StockItem;

constexpr double mm = 1e-3, degree = std::numbers::pi / 180;
/// Sizes that read alike are alike.
constexpr double near_enough = 0.05;

std::string in_small_letters(std::string_view text) {
  std::string small(text);
  std::ranges::transform(small, small.begin(), lower);
  return small;
}

std::optional<double> number_of(std::string_view word) {
  double number = 0;
  const auto [stop, trouble] = std::from_chars(word.data(), word.data() + word.size(), number);
  return trouble == std::errc() && stop == word.data() + word.size() ? std::optional(number) : std::nullopt;
}

bool has_size(const StockItem& item, double number) {
  const auto is = [&](const std::optional<double>& size, double unit) {
    return size && std::abs(*size / unit - number) <= near_enough;
  };
  const std::array lengths{&item.outer_diameter_m, &item.bore_m,     &item.bore_out_m, &item.wall_m,
                           &item.radius_m,         &item.leg_in_m,   &item.leg_out_m,  &item.length_m,
                           &item.clamp_min_m,      &item.clamp_max_m};
  return std::ranges::any_of(lengths, [&](const auto* size) { return is(*size, mm); }) ||
         is(item.angle_rad, degree) ||
         (item.clamp_min_m && item.clamp_max_m && number >= *item.clamp_min_m / mm &&
          number <= *item.clamp_max_m / mm);
}

/// All that an item says in words.
std::string words_of(const StockItem& item) {
  std::string text = item.id.text + '\n' + item.name + '\n' + std::string(kind_name(item.kind)) + '\n' +
                     std::string(build::material_name(item.material)) + '\n' + item.supplier + '\n' +
                     item.thread.value_or(std::string());
  if (item.clamp_type) {
    std::string type(build::clamp_type_words()[static_cast<std::size_t>(*item.clamp_type)]);
    std::ranges::replace(type, '_', ' ');
    text += '\n' + type;
    if (item.clamp_type == build::ClampType::round_bolt)
      text += "\nt-bolt";
  }
  if (item.oil_proof)
    text += "\noil-proof";
  if (item.wire)
    text += "\nwire";
  return in_small_letters(text);
}

} // namespace

bool matches(const StockItem& item, std::string_view words) {
  const std::string text = words_of(item), wanted = in_small_letters(words);
  for (std::size_t at = wanted.find_first_not_of(' '); at != std::string::npos;) {
    const std::size_t end = std::min(wanted.find(' ', at), wanted.size());
    const std::string_view word = std::string_view(wanted).substr(at, end - at);
    const auto number = number_of(word);
    if (text.find(word) == std::string::npos && !(number && has_size(item, *number)))
      return false;
    at = wanted.find_first_not_of(' ', end);
  }
  return true;
}

} // namespace bellmouth::stock
