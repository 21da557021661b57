// SPDX-License-Identifier: GPL-3.0-or-later
// The units and how they are spelled. Factors are exact by definition where NIST SP 811 (2008), Appendix B.8,
// prints them in bold, or are built from such ones here, so that no rounded figure is typed.
#include "characters.hpp"
#include "unit_table.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <numbers>

namespace bellmouth::quantity {

namespace {

// Definitions: NIST SP 811 (2008), B.6 footnotes and B.8; ISO 80000-3 and ISO 80000-4, annexes.
constexpr double inch_m = 0.0254;
constexpr double foot_m = 12 * inch_m;
constexpr double mile_m = 5280 * foot_m;
constexpr double pound_kg = 0.45359237;
constexpr double gravity_m_s2 = 9.80665; // standard acceleration of free fall, CGPM 1901
constexpr double pound_force_N = pound_kg * gravity_m_s2;
constexpr double psi_Pa = pound_force_N / (inch_m * inch_m);
// Conventional columns (SP 811 B.8, footnote 12): water taken as 1000 kg/m3 and mercury as 13 595.1 kg/m3
// under standard gravity. An inch of water is thus 249.088 91 Pa; that of real water at 4 C would be 249.082
// Pa.
constexpr double water_mm_Pa = gravity_m_s2;
constexpr double mercury_mm_Pa = 13.5951 * gravity_m_s2;
constexpr double horsepower_W = 550 * foot_m * pound_force_N; // mechanical, 550 ft lbf/s
constexpr double metric_horsepower_W = 75 * gravity_m_s2;     // 75 kgf m/s
constexpr double degree_rad = std::numbers::pi / 180;
constexpr double rankine_K = 5.0 / 9.0;
constexpr double minute_s = 60;
constexpr double hour_s = 3600;

constexpr double cube(double x) {
  return x * x * x;
}

/// Whether capitals matter in the spelling. They do wherever another unit differs by them alone (mPa and
/// MPa).
enum class Letters { as_written, any_case };
using enum Letters;
using enum Dimension;

struct Row {
  Unit unit;
  Letters letters;
  std::string_view also; ///< other spellings, in the form fold() leaves, separated by '|'
};

constexpr Row rows[] = {
    {{length, "m", 1, 0}, as_written, "metre|meter|metres|meters"},
    {{length, "mm", 1e-3, 0}, as_written, "millimetre|millimeter|millimetres|millimeters"},
    {{length, "cm", 1e-2, 0}, as_written, "centimetre|centimeter|centimetres|centimeters"},
    {{length, "µm", 1e-6, 0}, as_written, "um|micron|microns"},
    {{length, "in", inch_m, 0}, any_case, "inch|inches|\"|''"},
    {{length, "ft", foot_m, 0}, any_case, "foot|feet|'"},

    {{area, "m2", 1, 0}, as_written, "sq m"},
    {{area, "cm2", 1e-4, 0}, as_written, "sq cm"},
    {{area, "mm2", 1e-6, 0}, as_written, "sq mm"},
    {{area, "in2", inch_m* inch_m, 0}, any_case, "sq in"},
    {{area, "ft2", foot_m* foot_m, 0}, any_case, "sq ft"},

    {{volume, "m3", 1, 0}, as_written, ""},
    {{volume, "L", 1e-3, 0}, as_written, "l|litre|liter|litres|liters"},
    {{volume, "cm3", 1e-6, 0}, as_written, "cc|CC|ccm|mL|ml"},
    {{volume, "mm3", 1e-9, 0}, as_written, ""},
    {{volume, "in3", cube(inch_m), 0}, any_case, "cu in|ci"},
    {{volume, "ft3", cube(foot_m), 0}, any_case, "cu ft"},

    {{angle, "rad", 1, 0}, as_written, "radian|radians"},
    {{angle, "°", degree_rad, 0}, any_case, "deg|degree|degrees"},

    {{pressure, "Pa", 1, 0}, as_written, ""},
    {{pressure, "kPa", 1e3, 0}, any_case, ""},
    {{pressure, "MPa", 1e6, 0}, as_written, ""},
    {{pressure, "bar", 1e5, 0}, any_case, ""},
    {{pressure, "mbar", 1e2, 0}, as_written, "hPa"},
    {{pressure, "psi", psi_Pa, 0}, any_case, "lbf/in2|lb/in2"},
    {{pressure, "inHg", 25.4 * mercury_mm_Pa, 0},
     any_case,
     "in Hg|\"Hg|\" Hg|inch Hg|inches Hg|inch of mercury|inches of mercury"},
    {{pressure, "inH2O", 25.4 * water_mm_Pa, 0},
     any_case,
     "in H2O|\"H2O|\" H2O|inch H2O|inches H2O|inch of water|inches of water|inWC|in WC"},
    {{pressure, "mmHg", mercury_mm_Pa, 0}, as_written, "mm Hg"},
    {{pressure, "mmH2O", water_mm_Pa, 0}, as_written, "mm H2O|mmWC|mm WC"},
    {{pressure, "atm", 101325, 0}, any_case, ""},

    {{temperature, "K", 1, 0}, as_written, "kelvin"},
    {{temperature, "°C", 1, 273.15}, any_case, "C|degC|deg C|° C|celsius"},
    {{temperature, "°F", rankine_K, 459.67 * rankine_K}, any_case, "F|degF|deg F|° F|fahrenheit"},

    {{temperature_difference, "K", 1, 0}, as_written, "kelvin"},
    {{temperature_difference, "°C", 1, 0}, any_case, "C|degC|deg C|° C|celsius"},
    {{temperature_difference, "°F", rankine_K, 0}, any_case, "F|degF|deg F|° F|fahrenheit"},

    {{mass_flow, "kg/s", 1, 0}, as_written, ""},
    {{mass_flow, "g/s", 1e-3, 0}, as_written, ""},
    {{mass_flow, "kg/min", 1 / minute_s, 0}, as_written, ""},
    {{mass_flow, "kg/h", 1 / hour_s, 0}, as_written, "kg/hr"},
    {{mass_flow, "lb/s", pound_kg, 0}, any_case, "lbs/s|lbm/s"},
    {{mass_flow, "lb/min", pound_kg / minute_s, 0}, any_case, "lbs/min|lbm/min"},
    {{mass_flow, "lb/h", pound_kg / hour_s, 0}, any_case, "lb/hr|lbs/h|lbs/hr|lbm/h|lbm/hr"},

    {{volume_flow, "m3/s", 1, 0}, as_written, ""},
    {{volume_flow, "m3/min", 1 / minute_s, 0}, as_written, ""},
    {{volume_flow, "m3/h", 1 / hour_s, 0}, as_written, "m3/hr"},
    {{volume_flow, "L/s", 1e-3, 0}, as_written, "l/s"},
    {{volume_flow, "L/min", 1e-3 / minute_s, 0}, as_written, "l/min|lpm|LPM"},
    {{volume_flow, "cfm", cube(foot_m) / minute_s, 0}, any_case, "ft3/min|cu ft/min"},

    {{velocity, "m/s", 1, 0}, as_written, ""},
    {{velocity, "km/h", 1000 / hour_s, 0}, as_written, "kph|km/hr"},
    {{velocity, "ft/s", foot_m, 0}, any_case, "fps"},
    {{velocity, "ft/min", foot_m / minute_s, 0}, any_case, "fpm"},
    {{velocity, "mph", mile_m / hour_s, 0}, any_case, ""},

    {{rotational_speed, "rev/s", 1, 0}, any_case, "r/s|1/s|rps"},
    {{rotational_speed, "rpm", 1 / minute_s, 0}, any_case, "rev/min|r/min|1/min|min-1"},
    {{rotational_speed, "rad/s", 0.5 / std::numbers::pi, 0}, as_written, ""},

    {{force, "N", 1, 0}, as_written, "newton|newtons"},
    {{force, "kN", 1e3, 0}, as_written, ""},
    {{force, "lbf", pound_force_N, 0}, any_case, ""},

    {{power, "W", 1, 0}, as_written, "watt|watts"},
    {{power, "kW", 1e3, 0}, as_written, ""},
    {{power, "hp", horsepower_W, 0}, any_case, ""},
    {{power, "PS", metric_horsepower_W, 0}, as_written, ""},

    {{density, "kg/m3", 1, 0}, as_written, ""},
    {{density, "g/cm3", 1e3, 0}, as_written, "g/cc|kg/L|kg/l"},
    {{density, "lb/ft3", pound_kg / cube(foot_m), 0}, any_case, "lbs/ft3|lbm/ft3"},

    {{viscosity, "Pa s", 1, 0}, as_written, "Pas|Pa.s|Pa-s"},
    {{viscosity, "mPa s", 1e-3, 0}, as_written, "mPas|mPa.s|mPa-s|cP"},
    {{viscosity, "µPa s", 1e-6, 0}, as_written, "uPa s|uPas|uPa.s|uPa-s"},

    {{mass, "kg", 1, 0}, any_case, ""},
    {{mass, "g", 1e-3, 0}, as_written, "gram|grams"},
    {{mass, "lb", pound_kg, 0}, any_case, "lbs|lbm|pound|pounds"},
    {{mass, "oz", pound_kg / 16, 0}, any_case, "ounce|ounces"},

    {{torque, "N m", 1, 0}, as_written, "Nm|N.m|N-m"},
    {{torque, "lb in", pound_force_N* inch_m, 0}, any_case, "in lb|lb-in|in-lb|lbf in|in lbf|lbf-in|in-lbf"},
    {{torque, "lb ft", pound_force_N* foot_m, 0}, any_case, "ft lb|lb-ft|ft-lb|lbf ft|ft lbf|lbf-ft|ft-lbf"},

    {{ratio, "", 1, 0}, as_written, ""},
    {{ratio, "%", 0.01, 0}, any_case, "percent|per cent"},
};

constexpr std::array<std::string_view, 18> names = {
    "length",
    "area",
    "volume",
    "angle",
    "pressure",
    "temperature",
    "temperature difference",
    "mass flow",
    "volume flow",
    "velocity",
    "rotational speed",
    "force",
    "power",
    "density",
    "viscosity",
    "mass",
    "torque",
    "ratio",
};
constexpr std::size_t dimensions = names.size();
static_assert(static_cast<std::size_t>(ratio) + 1 == dimensions);

constexpr std::size_t index(Dimension dimension) {
  return static_cast<std::size_t>(dimension);
}

constexpr auto all_units = [] {
  std::array<Unit, std::size(rows)> units{};
  std::ranges::transform(rows, units.begin(), &Row::unit);
  return units;
}();
static_assert(std::ranges::is_sorted(all_units, {}, &Unit::dimension));

/// First row of each dimension, and the end.
constexpr auto first_row = [] {
  std::array<std::size_t, dimensions + 1> first{};
  for (std::size_t d = 0; d <= dimensions; ++d)
    while (first[d] < all_units.size() && index(all_units[first[d]].dimension) < d)
      ++first[d];
  return first;
}();

/// A spelling in the one form that the table has: single spaces, none beside '/', superscripts and primes as
/// ASCII.
class Folded {
public:
  explicit Folded(std::string_view typed) {
    for (std::size_t at = 0; at < typed.size();)
      at += take(typed, at);
  }
  [[nodiscard]] std::string_view text() const { return {bytes_.data(), size_}; }
  /// False if the text is longer than any spelling.
  [[nodiscard]] bool fits() const { return fits_; }

private:
  std::array<char, 24> bytes_{};
  std::size_t size_ = 0;
  bool fits_ = true;
  bool space_due_ = false;

  struct Replacement {
    std::string_view typed;
    std::string_view written;
  };
  static constexpr Replacement replacements[] = {
      {"²", "2"}, {"³", "3"}, {"₂", "2"},  {"·", " "},  {"⋅", " "}, {"*", " "},  {"µ", "u"},  {"μ", "u"},
      {"′", "'"}, {"’", "'"}, {"″", "\""}, {"”", "\""}, {"º", "°"}, {"℃", "°C"}, {"℉", "°F"},
  };

  void put(char c) {
    if (size_ == bytes_.size())
      fits_ = false;
    else
      bytes_[size_++] = c;
  }

  std::size_t take(std::string_view typed, std::size_t at) {
    if (const std::size_t space = space_length(typed, at); space > 0) {
      space_due_ = size_ > 0;
      return space;
    }
    if (typed[at] == '^' && size_ > 0 && detail::digit_at(typed, at + 1))
      return 1;
    if (space_due_ && typed[at] != '/' && bytes_[size_ - 1] != '/')
      put(' ');
    space_due_ = false;
    const Replacement* replacement = replacement_at(typed, at);
    if (replacement == nullptr) {
      put(typed[at]);
      return 1;
    }
    for (const char c : replacement->written)
      put(c);
    return replacement->typed.size();
  }

  static const Replacement* replacement_at(std::string_view typed, std::size_t at) {
    if (detail::is_letter(typed[at]) || detail::is_digit(typed[at]))
      return nullptr;
    const auto found = std::ranges::find_if(
        replacements, [&](const Replacement& each) { return typed.substr(at).starts_with(each.typed); });
    return found == std::end(replacements) ? nullptr : found;
  }

  /// A multiplication sign counts as a space.
  static std::size_t space_length(std::string_view typed, std::size_t at) {
    if (const std::size_t space = detail::space_at(typed, at); space > 0)
      return space;
    const Replacement* replacement = replacement_at(typed, at);
    return replacement != nullptr && replacement->written == " " ? replacement->typed.size() : 0;
  }
};

bool same(std::string_view a, std::string_view b, Letters letters) {
  if (letters == as_written)
    return a == b;
  return std::ranges::equal(a, b, {}, detail::lower, detail::lower);
}

bool is_spelled(const Row& row, std::string_view folded) {
  if (same(row.unit.symbol, folded, row.letters))
    return true;
  std::string_view rest = row.also;
  while (!rest.empty()) {
    const std::size_t bar = std::min(rest.find('|'), rest.size());
    if (same(rest.substr(0, bar), folded, row.letters))
      return true;
    rest.remove_prefix(std::min(bar + 1, rest.size()));
  }
  return false;
}

const Unit* unit_folded(Dimension dimension, std::string_view folded) {
  for (std::size_t row = first_row[index(dimension)]; row < first_row[index(dimension) + 1]; ++row)
    if (is_spelled(rows[row], folded))
      return &all_units[row];
  return nullptr;
}

} // namespace

namespace detail {

std::string_view name(Dimension dimension) {
  return names[index(dimension)];
}

const Unit* unit_by_spelling(Dimension dimension, std::string_view spelling) {
  const Folded folded(spelling);
  return folded.fits() ? unit_folded(dimension, folded.text()) : nullptr;
}

std::optional<Dimension> dimension_by_spelling(std::string_view spelling) {
  const Folded folded(spelling);
  for (std::size_t d = 0; folded.fits() && d < dimensions; ++d)
    if (unit_folded(static_cast<Dimension>(d), folded.text()) != nullptr)
      return static_cast<Dimension>(d);
  return std::nullopt;
}

} // namespace detail

std::span<const Unit> units(Dimension dimension) {
  const std::size_t first = first_row[index(dimension)];
  return std::span(all_units).subspan(first, first_row[index(dimension) + 1] - first);
}

std::optional<Unit> find_unit(Dimension dimension, std::string_view symbol) {
  const Unit* unit = detail::unit_by_spelling(dimension, symbol);
  return unit == nullptr ? std::nullopt : std::optional(*unit);
}

} // namespace bellmouth::quantity
