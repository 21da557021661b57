// SPDX-License-Identifier: GPL-3.0-or-later
// Quantities as people type and read them. Inside the program every quantity is a double in SI units; text
// with units is read and written only here.
#pragma once

#include <bellmouth/quantity/money.hpp>
#include <bellmouth/quantity/result.hpp>

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace bellmouth::quantity {

/// What a number measures. SI unit in brackets.
enum class Dimension {
  length,                 // [m]
  area,                   // [m2]
  volume,                 // [m3]
  angle,                  // [rad]
  pressure,               // [Pa] see Reference: absolute, gauge or a difference
  temperature,            // [K] a point on the scale: 20 C is 293.15
  temperature_difference, // [K] an interval: 20 C is 20
  mass_flow,              // [kg/s]
  volume_flow,            // [m3/s]
  velocity,               // [m/s]
  rotational_speed,       // [rev/s]; "rpm" is a unit of it
  force,                  // [N]
  power,                  // [W]
  density,                // [kg/m3]
  viscosity,              // [Pa s]
  mass,                   // [kg]
  torque,                 // [N m]
  ratio,                  // [-] plain number; "%" is a unit of it
};

/// What a pressure is counted from. Gauge and absolute pressures are never mixed in silence.
enum class Reference { difference, gauge, absolute };

/// One unit of a dimension: symbol as written by us, value [SI] = number * factor + offset.
struct Unit {
  Dimension dimension;
  std::string_view symbol;
  double factor;
  double offset;
};

/// All units of a dimension, the SI one first. Symbols are unique within a dimension. Factors are exact by
/// definition (NIST SP 811, 2008, Appendix B.8): "hp" is 550 ft lbf/s, "PS" 75 kgf m/s; columns of water and
/// mercury are conventional, so that 1 inH2O is 249.08891 Pa.
[[nodiscard]] std::span<const Unit> units(Dimension dimension);
/// A unit by its symbol or a usual other spelling ("mm", "inch", "\"", "degC", "lbf", "m³/s"...); nullopt if
/// unknown. Capitals matter for metric symbols (mPa is not MPa) and not for inch-pound ones.
[[nodiscard]] std::optional<Unit> find_unit(Dimension dimension, std::string_view symbol);

/// How text is read where it leaves something open.
struct Reading {
  std::string_view default_unit; ///< unit of a bare number, by symbol; empty: a bare number is an error
  char decimal = '.';            ///< decimal sign of the reader's locale
  Reference reference = Reference::absolute; ///< for pressures: what the place wants
  /// For pressures: ambient pressure [Pa] with which gauge text is turned into absolute and the other way.
  /// Without it, text with the other reference is an error.
  std::optional<double> ambient_Pa;
};

/// Reads a quantity as people type it: "57", "57mm", "57 mm", "2 1/4 in", "2.25\"", "2-1/4\"", "2¼ in", "1/2
/// in", "12 psi", "0.8 bar", "20 C", "68 F" with or without degree sign, "0.09 kg/s", "180 cfm", "12 lb/min",
/// "1e-3 m", "-5 C", "90 deg", "90°". No sign stands between thousands; a thin or non-breaking space may ("12
/// 000 rpm", ISO 80000-1). A fraction behind a whole number is smaller than one. Pressures may say
/// "gauge"/"abs" ("12 psi gauge", "101.3 kPa abs", also psig, psia, barg, bara); unsaid, they are what
/// `reading.reference` wants; a difference says neither. Returns the value in SI. Errors: empty text, no
/// number, unknown unit, unit of another dimension, rubbish behind the unit, not finite, below absolute zero,
/// gauge where absolute is wanted (or the reverse) and no ambient pressure is given; each with the column and
/// what is accepted.
[[nodiscard]] Result<double> read(Dimension dimension, std::string_view text, const Reading& reading = {});

/// A flow typed either by mass or by volume.
struct Flow {
  double value;        ///< [kg/s] or [m3/s]
  Dimension dimension; ///< mass_flow or volume_flow
};
/// Reads a flow in any mass or volume unit; the unit decides which it is.
[[nodiscard]] Result<Flow> read_flow(std::string_view text, const Reading& reading = {});

/// Writes `value_si` in `unit` (a unit of its dimension, must exist) with at most `significant` significant
/// digits (1 to 17), no trailing zeros, never "-0", no exponent from 1e-6 to 1e15: "57.15 mm", "12 psi",
/// "90°". The unit is written by its symbol whatever its spelling here. `decimal` is the locale's sign. What
/// is not finite reads "nan" or "inf".
[[nodiscard]] std::string write(Dimension dimension, double value_si, std::string_view unit,
                                int significant = 6, char decimal = '.');
/// The same with a fixed number of decimals, for tables: "57.2".
[[nodiscard]] std::string write_fixed(Dimension dimension, double value_si, std::string_view unit,
                                      int decimals, bool with_unit = true, char decimal = '.');

/// The value in `unit` as a plain number.
[[nodiscard]] double in_unit(Dimension dimension, double value_si, std::string_view unit);

} // namespace bellmouth::quantity
