// SPDX-License-Identifier: GPL-3.0-or-later
#include "units.hpp"

#include <QLocale>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bellmouth::ui {

using quantity::Dimension;

namespace {

UnitChoice& choice_of_this_run() {
  static UnitChoice choice;
  return choice;
}

/// With the minus sign of print in place of the hyphen.
QString typeset(QString text) {
  return text.replace('-', QChar(0x2212));
}

QString fixed(Dimension dimension, double value, int decimals) {
  return typeset(QString::fromStdString(
      quantity::write_fixed(dimension, value, shown_unit(dimension), decimals, true, decimal_sign())));
}

/// Decimals that show `significant` digits of a value in the unit shown.
int decimals_for(Dimension dimension, double value, int significant) {
  constexpr int most = 6;
  const double size = std::abs(in_shown_unit(dimension, value));
  if (!std::isfinite(size) || size == 0)
    return significant - 1;
  const int decimals = std::clamp(significant - 1 - static_cast<int>(std::floor(std::log10(size))), 0, most);
  // 9.996 reads 10.0, not 10.00.
  const double rounded = std::round(size * std::pow(10, decimals)) / std::pow(10, decimals);
  return rounded > 0
             ? std::clamp(significant - 1 - static_cast<int>(std::floor(std::log10(rounded))), 0, most)
             : decimals;
}

/// Three significant digits, trailing zeros included.
QString three_digits(Dimension dimension, double value) {
  return fixed(dimension, value, decimals_for(dimension, value, 3));
}

/// Decimals that make a pressure readable to about the last digit that means anything.
int pressure_decimals() {
  switch (units().pressure) {
  case UnitChoice::Pressure::kilopascals:
    return 1;
  case UnitChoice::Pressure::bars:
    return 3;
  case UnitChoice::Pressure::psi:
    return 2;
  }
  return 1;
}

} // namespace

const UnitChoice& units() {
  return choice_of_this_run();
}
void use_units(const UnitChoice& choice) {
  choice_of_this_run() = choice;
}

std::string_view shown_unit(Dimension dimension) {
  const UnitChoice& choice = units();
  const bool inches = choice.length == UnitChoice::Length::inches;
  const bool imperial = choice.flow == UnitChoice::Flow::imperial;
  const bool fahrenheit = choice.temperature == UnitChoice::Temperature::fahrenheit;
  switch (dimension) {
  case Dimension::length:
    return inches ? "in" : "mm";
  case Dimension::area:
    return inches ? "in2" : "cm2";
  case Dimension::volume:
    return imperial ? "in3" : "L";
  case Dimension::angle:
    return "°";
  case Dimension::pressure:
    switch (choice.pressure) {
    case UnitChoice::Pressure::kilopascals:
      return "kPa";
    case UnitChoice::Pressure::bars:
      return "bar";
    case UnitChoice::Pressure::psi:
      return "psi";
    }
    break;
  case Dimension::temperature:
  case Dimension::temperature_difference:
    return fahrenheit ? "°F" : "°C";
  case Dimension::mass_flow:
    return imperial ? "lb/min" : "kg/s";
  case Dimension::volume_flow:
    return imperial ? "cfm" : "m3/s";
  case Dimension::velocity:
    return imperial ? "ft/s" : "m/s";
  case Dimension::rotational_speed:
    return "rpm";
  case Dimension::power:
    return imperial ? "hp" : "kW";
  case Dimension::force:
    return imperial ? "lbf" : "N";
  default:
    break;
  }
  return quantity::units(dimension).front().symbol;
}

char decimal_sign() {
  return QLocale().decimalPoint() == "," ? ',' : '.';
}

double in_shown_unit(Dimension dimension, double value) {
  return quantity::in_unit(dimension, value, shown_unit(dimension));
}

QString show(Dimension dimension, double value, int significant) {
  return typeset(QString::fromStdString(
      quantity::write(dimension, value, shown_unit(dimension), significant, decimal_sign())));
}

QString show_length(double length_m) {
  return fixed(Dimension::length, length_m, units().length == UnitChoice::Length::inches ? 3 : 1);
}
QString show_angle(double angle_rad) {
  // To a hundredth of a degree: a remainder of 1e-15 is nothing to show.
  constexpr double shown_rad = std::numbers::pi / 180 / 100;
  return show(Dimension::angle, std::round(angle_rad / shown_rad) * shown_rad, 5);
}
QString show_pressure_abs(double pressure_Pa) {
  return fixed(Dimension::pressure, pressure_Pa, pressure_decimals()) + " abs";
}
QString show_pressure_gauge(double pressure_Pa, double ambient_Pa) {
  return fixed(Dimension::pressure, pressure_Pa - ambient_Pa, pressure_decimals()) + " gauge";
}
QString show_pressure_difference(double pressure_Pa) {
  return three_digits(Dimension::pressure, pressure_Pa);
}
QString show_pressure_band(double low_Pa, double high_Pa) {
  const int decimals = decimals_for(Dimension::pressure, high_Pa, 3);
  const QString low = fixed(Dimension::pressure, low_Pa, decimals);
  return low.left(low.lastIndexOf(' ')) + " to " + fixed(Dimension::pressure, high_Pa, decimals);
}
QString show_drop_with_band(double drop_Pa, double low_Pa, double high_Pa) {
  const QString band = show_pressure_band(low_Pa, high_Pa);
  return QString("%1 (%2)").arg(show_pressure_difference(drop_Pa), band.left(band.lastIndexOf(' ')));
}
QString show_temperature(double temperature_K) {
  return fixed(Dimension::temperature, temperature_K, 1);
}
QString show_temperature_difference(double difference_K) {
  return fixed(Dimension::temperature_difference, difference_K, 1);
}
QString show_mass_flow(double mass_flow_kg_s) {
  return three_digits(Dimension::mass_flow, mass_flow_kg_s);
}
QString show_velocity(double velocity_m_s) {
  return fixed(Dimension::velocity, velocity_m_s, units().flow == UnitChoice::Flow::imperial ? 0 : 1);
}
QString show_volume(double volume_m3) {
  return three_digits(Dimension::volume, volume_m3);
}
QString show_power(double power_W) {
  return three_digits(Dimension::power, power_W);
}
QString show_force(double force_N) {
  return three_digits(Dimension::force, force_N);
}
QString show_engine_speed(double speed_rev_s) {
  return fixed(Dimension::rotational_speed, speed_rev_s, 0);
}
QString show_time(double time_s) {
  return typeset(QLocale().toString(time_s, 'g', 2)) + " s";
}
QString show_ratio(double ratio, int decimals) {
  return typeset(QLocale().toString(ratio, 'f', decimals));
}
QString show_percent(double share, int decimals) {
  return typeset(QLocale().toString(100.0 * share, 'f', decimals)) + " %";
}
QString show_count(double count) {
  return typeset(QLocale().toString(std::round(count), 'f', 0));
}
QString show_money(const quantity::Money& money) {
  return typeset(QString::fromStdString(quantity::write(money, decimal_sign())));
}

} // namespace bellmouth::ui
