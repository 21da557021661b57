// SPDX-License-Identifier: GPL-3.0-or-later
// Quantities as the screen shows and reads them: in the units the user has chosen, with the decimal sign of
// the locale.
#pragma once

#include <bellmouth/quantity.hpp>

#include <QString>

namespace bellmouth::ui {

/// The units to show. What is typed may carry any unit; a bare number means the unit shown.
struct UnitChoice {
  enum class Length { millimetres, inches } length = Length::millimetres;
  enum class Pressure { kilopascals, bars, psi } pressure = Pressure::kilopascals;
  enum class Temperature { celsius, fahrenheit } temperature = Temperature::celsius;
  /// Mass flow, velocity, volume and power: kg/s, m/s, L, kW or lb/min, ft/s, cu in, hp.
  enum class Flow { metric, imperial } flow = Flow::metric;
  friend bool operator==(const UnitChoice&, const UnitChoice&) = default;
};

/// The choice of this program run; like the application's palette there is one. Whoever changes it tells the
/// session (Session::show_everything_anew), and so all views.
[[nodiscard]] const UnitChoice& units();
void use_units(const UnitChoice& choice);

/// The symbol in which a dimension is shown and a bare number is read.
[[nodiscard]] std::string_view shown_unit(quantity::Dimension dimension);
[[nodiscard]] char decimal_sign();

/// A value in the unit shown, as a plain number: what a chart plots.
[[nodiscard]] double in_shown_unit(quantity::Dimension dimension, double value);

/// \name A value with its unit. Pressures say what they are counted from. Flow, drop, volume, power and force
/// carry three significant digits, trailing zeros included; show() leaves trailing zeros out.
///@{
[[nodiscard]] QString show(quantity::Dimension dimension, double value, int significant = 3);
[[nodiscard]] QString show_length(double length_m);                               ///< "57.2 mm", "2.252 in"
[[nodiscard]] QString show_angle(double angle_rad);                               ///< "45°"
[[nodiscard]] QString show_pressure_abs(double pressure_Pa);                      ///< "154.3 kPa abs"
[[nodiscard]] QString show_pressure_gauge(double pressure_Pa, double ambient_Pa); ///< "53.0 kPa gauge"
[[nodiscard]] QString show_pressure_difference(double pressure_Pa);               ///< "1.25 kPa"
/// "0.99 to 1.80 kPa", both with the decimals of the higher.
[[nodiscard]] QString show_pressure_band(double low_Pa, double high_Pa);
/// A drop with its band: "1.25 kPa (1.00 to 1.50)".
[[nodiscard]] QString show_drop_with_band(double drop_Pa, double low_Pa, double high_Pa);
[[nodiscard]] QString show_temperature(double temperature_K);           ///< "64.2 °C"
[[nodiscard]] QString show_temperature_difference(double difference_K); ///< "12.0 °C"
[[nodiscard]] QString show_mass_flow(double mass_flow_kg_s);            ///< "0.112 kg/s"
[[nodiscard]] QString show_velocity(double velocity_m_s);               ///< "34.1 m/s"
[[nodiscard]] QString show_volume(double volume_m3);                    ///< "3.42 L"
[[nodiscard]] QString show_power(double power_W);                       ///< "12.4 kW"
[[nodiscard]] QString show_force(double force_N);                       ///< "412 N"
[[nodiscard]] QString show_engine_speed(double speed_rev_s);            ///< "6200 rpm"
[[nodiscard]] QString show_time(double time_s);                         ///< "0.032 s"
[[nodiscard]] QString show_ratio(double ratio, int decimals = 2);       ///< "1.52"
[[nodiscard]] QString show_percent(double share, int decimals = 1);     ///< 0.032 is "3.2 %"
[[nodiscard]] QString show_count(double count);                 ///< "84 200", grouped as the locale does
[[nodiscard]] QString show_money(const quantity::Money& money); ///< "12.50 EUR"
///@}

} // namespace bellmouth::ui
