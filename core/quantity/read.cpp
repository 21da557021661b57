// SPDX-License-Identifier: GPL-3.0-or-later
#include "characters.hpp"
#include "number.hpp"
#include "unit_table.hpp"

#include <bellmouth/quantity/complaint.hpp>

#include <spdlog/fmt/fmt.h>

#include <array>
#include <cassert>
#include <cmath>

namespace bellmouth::quantity {

namespace {

using detail::complaint;
using detail::quoted;

/// The dimensions that a text may have; more than one where the unit decides.
using Dimensions = std::span<const Dimension>;

std::string unit_list(Dimension dimension) {
  std::string list;
  for (const Unit& unit : units(dimension)) {
    list += list.empty() ? "" : ", ";
    list += unit.symbol.empty() ? "none" : unit.symbol;
  }
  return list;
}

/// "a unit of length (m, mm, ...)", with what a bare number and a pressure's reference may be.
std::string accepted_units(Dimensions dimensions, const Reading& reading) {
  std::string text;
  for (const Dimension dimension : dimensions)
    text += fmt::format("{}a unit of {} ({})", text.empty() ? "" : " or ", detail::name(dimension),
                        unit_list(dimension));
  if (dimensions.front() == Dimension::pressure && reading.reference != Reference::difference)
    text += ", with \"gauge\" or \"abs\" behind it where that is meant";
  if (!reading.default_unit.empty())
    text += fmt::format("; a number alone is read in {}", reading.default_unit);
  return text;
}

/// A pressure's unit and what it says about the reference.
struct TypedUnit {
  std::string_view unit;
  std::optional<Reference> reference;
  std::size_t reference_at = 0; ///< bytes from the start of the unit
};

bool ends_with_any_case(std::string_view text, std::string_view end) {
  if (text.size() < end.size())
    return false;
  const std::string_view tail = text.substr(text.size() - end.size());
  for (std::size_t i = 0; i < end.size(); ++i)
    if (detail::lower(tail[i]) != end[i])
      return false;
  return true;
}

/// Parts "psi gauge", "psig", "bar (a)", "kPa abs" and the like. A lone letter counts only where the rest is
/// a unit and the whole is not: "Pa" ends in an a, "mmHg" in a g.
TypedUnit split_reference(std::string_view typed) {
  struct Suffix {
    std::string_view text;
    Reference reference;
  };
  static constexpr Suffix suffixes[] = {
      {"gauge", Reference::gauge},       {"gage", Reference::gauge},   {"(g)", Reference::gauge},
      {"absolute", Reference::absolute}, {"abs", Reference::absolute}, {"(a)", Reference::absolute},
      {"g", Reference::gauge},           {"a", Reference::absolute},
  };
  if (detail::unit_by_spelling(Dimension::pressure, typed) != nullptr)
    return {typed, std::nullopt};
  for (const auto& [suffix, reference] : suffixes) {
    if (!ends_with_any_case(typed, suffix))
      continue;
    const std::size_t reference_at = typed.size() - suffix.size();
    const std::string_view unit = detail::trim_end(typed.substr(0, reference_at));
    const bool known = detail::unit_by_spelling(Dimension::pressure, unit) != nullptr;
    if (known || (unit.empty() && suffix.size() > 1))
      return {unit, reference, reference_at};
  }
  return {typed, std::nullopt};
}

/// The complaint about a unit that was not understood, as exact as can be.
tl::unexpected<Error> unit_complaint(Dimensions dimensions, std::string_view text, std::size_t unit_at,
                                     std::string_view typed, const Reading& reading) {
  if (typed.empty())
    return complaint(text, unit_at, "a number without a unit", accepted_units(dimensions, reading));
  if (const auto other = detail::dimension_by_spelling(typed))
    return complaint(text, unit_at, fmt::format("{}, a unit of {}", quoted(typed), detail::name(*other)),
                     accepted_units(dimensions, reading));
  const detail::NumberFault fault = detail::trailing_fault(text, unit_at, reading.decimal);
  if (fault.length > 0)
    return complaint(text, fault.at, quoted(text.substr(fault.at, fault.length)),
                     std::string(fault.accepted));
  // A unit with something behind it: blame what is behind. No spelling is longer than this, which bounds the
  // search.
  constexpr std::size_t longest = 40;
  for (std::size_t end = std::min(typed.size() - 1, longest); end > 0; --end) {
    if (detail::space_at(typed, end) == 0)
      continue;
    const std::string_view unit = typed.substr(0, end);
    const std::string_view behind = typed.substr(detail::skip_spaces(typed, end));
    for (const Dimension dimension : dimensions)
      if (detail::unit_by_spelling(dimension, unit) != nullptr)
        return complaint(text, static_cast<std::size_t>(behind.data() - text.data()), quoted(behind),
                         fmt::format("nothing more behind {}", unit));
  }
  return complaint(text, unit_at, quoted(typed), accepted_units(dimensions, reading));
}

struct Typed {
  double value;
  Dimension dimension;
};

/// Turns a pressure that says `actual` (or nothing) into the wanted reference and refuses what cannot exist.
Result<double> refer_pressure(std::string_view text, std::size_t number_at, std::size_t unit_at,
                              const TypedUnit& typed, double pressure_Pa, const Reading& reading) {
  const std::size_t reference_at = unit_at + typed.reference_at;
  const auto found = [&] { return quoted(detail::trim_end(text.substr(reference_at))); };
  if (reading.reference == Reference::difference) {
    if (typed.reference)
      return complaint(text, reference_at, found(),
                       "a pressure difference, which is neither gauge nor absolute");
    return pressure_Pa;
  }
  const Reference actual = typed.reference.value_or(reading.reference);
  if (actual != reading.reference) {
    if (!reading.ambient_Pa)
      return complaint(text, reference_at, found(),
                       actual == Reference::gauge ? "an absolute pressure, as no ambient pressure is known"
                                                  : "a gauge pressure, as no ambient pressure is known");
    pressure_Pa += actual == Reference::gauge ? *reading.ambient_Pa : -*reading.ambient_Pa;
  }
  const std::optional<double> zero_Pa = reading.reference == Reference::absolute ? 0.0
                                        : reading.ambient_Pa ? std::optional(-*reading.ambient_Pa)
                                                             : std::nullopt;
  if (zero_Pa && pressure_Pa < *zero_Pa)
    return complaint(text, number_at, quoted(text.substr(number_at)),
                     reading.reference == Reference::absolute && !typed.reference
                         ? "an absolute pressure of zero or more (write \"gauge\" behind a gauge pressure)"
                         : "a pressure of absolute zero or more");
  return pressure_Pa;
}

Result<Typed> read_any(Dimensions dimensions, std::string_view text, const Reading& reading) {
  assert(reading.decimal == '.' || reading.decimal == ',');
  const std::size_t number_at = detail::skip_spaces(text, 0);
  if (number_at == text.size())
    return complaint(text, number_at, "nothing", "a number with " + accepted_units(dimensions, reading));
  const auto number = detail::scan_number(text, number_at, reading.decimal);
  if (!number) {
    const auto& [at, length, accepted] = number.error();
    std::string wanted(accepted);
    if (wanted == "a number")
      wanted += " with " + accepted_units(dimensions, reading);
    return complaint(text, at, quoted(text.substr(at, length)), std::move(wanted));
  }

  const std::size_t unit_at = detail::skip_spaces(text, number->end);
  const std::string_view raw = detail::trim_end(text.substr(unit_at));
  const bool is_pressure = dimensions.front() == Dimension::pressure;
  const TypedUnit typed = is_pressure ? split_reference(raw) : TypedUnit{raw, std::nullopt};
  const std::string_view spelling = typed.unit.empty() ? reading.default_unit : typed.unit;
  const Unit* unit = nullptr;
  for (const Dimension dimension : dimensions)
    if (unit == nullptr)
      unit = detail::unit_by_spelling(dimension, spelling);
  assert(unit != nullptr || !typed.unit.empty() || reading.default_unit.empty());
  if (unit == nullptr)
    return unit_complaint(dimensions, text, unit_at, typed.unit, reading);

  const double value = number->value * unit->factor + unit->offset;
  if (!std::isfinite(value))
    return complaint(text, number_at, quoted(text.substr(number_at)),
                     "a number that is not too large to hold");
  if (unit->dimension == Dimension::temperature && value < 0)
    return complaint(text, number_at, quoted(text.substr(number_at)),
                     "a temperature of absolute zero (-273.15 °C, -459.67 °F) or more");
  if (!is_pressure)
    return Typed{value, unit->dimension};
  return refer_pressure(text, number_at, unit_at, typed, value, reading).map([&](double pressure_Pa) {
    return Typed{pressure_Pa, Dimension::pressure};
  });
}

} // namespace

Result<double> read(Dimension dimension, std::string_view text, const Reading& reading) {
  return read_any({&dimension, 1}, text, reading).map([](const Typed& typed) { return typed.value; });
}

Result<Flow> read_flow(std::string_view text, const Reading& reading) {
  static constexpr std::array flows = {Dimension::mass_flow, Dimension::volume_flow};
  return read_any(flows, text, reading).map([](const Typed& typed) {
    return Flow{typed.value, typed.dimension};
  });
}

} // namespace bellmouth::quantity
