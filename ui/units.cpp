// SPDX-License-Identifier: GPL-3.0-or-later
#include "units.hpp"

#include <QLocale>

#include <cmath>
#include <numbers>

namespace bellmouth::ui {

using quantity::Dimension;

namespace {

UnitChoice& choice_of_this_run() {
  static UnitChoice choice;
  return choice;
}

QString fixed(Dimension dimension, double value, int decimals) {
  return QString::fromStdString(
      quantity::write_fixed(dimension, value, shown_unit(dimension), decimals, true, decimal_sign()));
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
  return QString::fromStdString(
      quantity::write(dimension, value, shown_unit(dimension), significant, decimal_sign()));
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
  return show(Dimension::pressure, pressure_Pa, 3);
}
QString show_drop_with_band(double drop_Pa, double low_Pa, double high_Pa) {
  const auto plain = [](double value_Pa) {
    const QString text = show(Dimension::pressure, value_Pa, 2);
    return text.left(text.lastIndexOf(' '));
  };
  return QString("%1 (%2 to %3)").arg(show_pressure_difference(drop_Pa), plain(low_Pa), plain(high_Pa));
}
QString show_temperature(double temperature_K) {
  return fixed(Dimension::temperature, temperature_K, 1);
}
QString show_temperature_difference(double difference_K) {
  return fixed(Dimension::temperature_difference, difference_K, 1);
}
QString show_mass_flow(double mass_flow_kg_s) {
  return show(Dimension::mass_flow, mass_flow_kg_s, 3);
}
QString show_velocity(double velocity_m_s) {
  return fixed(Dimension::velocity, velocity_m_s, units().flow == UnitChoice::Flow::imperial ? 0 : 1);
}
QString show_volume(double volume_m3) {
  return show(Dimension::volume, volume_m3, 3);
}
QString show_power(double power_W) {
  return show(Dimension::power, power_W, 3);
}
QString show_force(double force_N) {
  return show(Dimension::force, force_N, 3);
}
QString show_engine_speed(double speed_rev_s) {
  return fixed(Dimension::rotational_speed, speed_rev_s, 0);
}
QString show_time(double time_s) {
  return QLocale().toString(time_s, 'g', 2) + " s";
}
QString show_ratio(double ratio, int decimals) {
  return QLocale().toString(ratio, 'f', decimals);
}
QString show_percent(double share, int decimals) {
  return QLocale().toString(100.0 * share, 'f', decimals) + " %";
}
QString show_count(double count) {
  return QLocale().toString(std::round(count), 'f', 0);
}
QString show_money(const quantity::Money& money) {
  return QString::fromStdString(quantity::write(money, decimal_sign()));
}

} // namespace bellmouth::ui
