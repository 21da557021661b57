// SPDX-License-Identifier: GPL-3.0-or-later
#include "figures.hpp"

#include "table.hpp"

#include <bellmouth/quantity.hpp>

#include <algorithm>

namespace bellmouth::cli {

namespace {

struct Suffix {
  std::string_view text, unit;
  double factor = 1;
};
/// Longer ones before those that they end in.
constexpr Suffix suffixes[] = {
    {"_W_m2K", "W/(m2 K)"},
    {"_W_mK", "W/(m K)"},
    {"_W_K", "W/K"},
    {"_W", "W"},
    {"_J_kgK", "J/(kg K)"},
    {"_J_kg", "J/kg"},
    {"_kg_m3", "kg/m3"},
    {"_kg_kg", "kg/kg"},
    {"_kg_s", "kg/s"},
    {"_Pa_s", "µPa s", 1e6},
    {"_m3_s", "m3/s"},
    {"_m_s", "m/s"},
    {"_mm2", "mm2"},
    {"_mm", "mm"},
    {"_deg", "°"},
    {"_Pa", "Pa"},
    {"_K", "K"},
    {"_N", "N"},
    {"_s", "s"},
};
constexpr Suffix plain{"", ""};

} // namespace

Meaning meaning_of(std::string_view key) {
  const auto found =
      std::ranges::find_if(suffixes, [&](const Suffix& suffix) { return key.ends_with(suffix.text); });
  const Suffix& suffix = found == std::end(suffixes) ? plain : *found;
  Meaning meaning{std::string(key.substr(0, key.size() - suffix.text.size())), suffix.unit, suffix.factor};
  std::ranges::replace(meaning.words, '_', ' ');
  return meaning;
}

std::string text(const Figure& figure, const Meaning& meaning) {
  if (const auto* number = std::get_if<double>(&figure))
    return quantity::write(quantity::Dimension::ratio, *number * meaning.factor, "");
  if (const auto* word = std::get_if<std::string>(&figure))
    return *word;
  return std::string(unknown);
}

} // namespace bellmouth::cli
