// SPDX-License-Identifier: GPL-3.0-or-later
// What the screen writes. Figures are exact by the definition of the units (NIST SP 811) and rounded as the
// screen does.
#include <QLocale>
#include <QTemporaryDir>
#include <gtest/gtest.h>

#include <settings.hpp>
#include <units.hpp>

namespace bellmouth::ui {
namespace {

class Units : public testing::Test {
protected:
  ~Units() override {
    use_units({});
    QLocale::setDefault(before);
  }
  QLocale before;
};

TEST_F(Units, MetricByDefault) {
  EXPECT_EQ(show_length(0.06033), "60.3 mm");
  EXPECT_EQ(show_pressure_abs(154300), "154.3 kPa abs");
  EXPECT_EQ(show_pressure_gauge(154325, 101325), "53.0 kPa gauge");
  EXPECT_EQ(show_pressure_difference(1250), "1.25 kPa");
  EXPECT_EQ(show_temperature(337.35), "64.2 °C");
  EXPECT_EQ(show_temperature_difference(12), "12.0 °C");
  EXPECT_EQ(show_velocity(34.06), "34.1 m/s");
  EXPECT_EQ(show_volume(3.42e-3), "3.42 L");
  EXPECT_EQ(show_power(12400), "12.4 kW");
  EXPECT_EQ(show_angle(0.785398163397448), "45°");
  EXPECT_EQ(show_angle(8.7e-17), "0°");
  EXPECT_EQ(show_engine_speed(100), "6000 rpm");
  EXPECT_EQ(show_drop_with_band(1250, 1000, 1500), "1.25 kPa (1.00 to 1.50)");
  EXPECT_EQ(show_pressure_band(990, 1800), "0.99 to 1.80 kPa");
}

TEST_F(Units, ThreeDigitsKeepTheirZeros) {
  EXPECT_EQ(show_power(5900), "5.90 kW");
  EXPECT_EQ(show_power(9996), "10.0 kW");
  EXPECT_EQ(show_mass_flow(0.11), "0.110 kg/s");
  EXPECT_EQ(show_volume(6.9e-3), "6.90 L");
  EXPECT_EQ(show_force(1234), "1234 N");
}

TEST_F(Units, OneMinusSign) {
  EXPECT_EQ(show_temperature(268.15), "−5.0 °C");
  EXPECT_EQ(show_pressure_difference(-1250), "−1.25 kPa");
  EXPECT_EQ(show_pressure_gauge(100325, 101325), "−1.0 kPa gauge");
  EXPECT_EQ(show_percent(-0.021), "−2.1 %");
  EXPECT_EQ(show_money({-1250, {{'E', 'U', 'R'}}}), "−12.50 EUR");
}

TEST_F(Units, InchesPsiFahrenheit) {
  use_units({UnitChoice::Length::inches, UnitChoice::Pressure::psi, UnitChoice::Temperature::fahrenheit,
             UnitChoice::Flow::imperial});
  EXPECT_EQ(show_length(0.05715), "2.250 in");
  EXPECT_EQ(show_pressure_gauge(101325 + 82737.0875, 101325), "12.00 psi gauge"); // 12 x 6894.757 Pa
  EXPECT_EQ(show_temperature(293.15), "68.0 °F");
  EXPECT_EQ(show_temperature_difference(10), "18.0 °F");
  EXPECT_EQ(show_velocity(30.48), "100 ft/s");
}

TEST_F(Units, DecimalSignOfTheLocale) {
  QLocale::setDefault(QLocale(QLocale::German, QLocale::Germany));
  EXPECT_EQ(show_length(0.06033), "60,3 mm");
  EXPECT_EQ(show_percent(0.0321), "3,2 %");
  EXPECT_EQ(show_money({1250, {{'E', 'U', 'R'}}}), "12,50 EUR");
}

TEST_F(Units, AreRemembered) {
  const QTemporaryDir folder;
  const QString file = folder.filePath("settings.ini");
  const UnitChoice choice{UnitChoice::Length::inches, UnitChoice::Pressure::bars,
                          UnitChoice::Temperature::fahrenheit, UnitChoice::Flow::imperial};
  {
    Settings settings(file);
    EXPECT_EQ(settings.units(), UnitChoice{});
    settings.set_units(choice);
    settings.set_look(Look::dark);
  }
  const Settings again(file);
  EXPECT_EQ(again.units(), choice);
  EXPECT_EQ(again.look(), Look::dark);
}

TEST_F(Units, RecentFilesAreFewAndLatestFirst) {
  const QTemporaryDir folder;
  Settings settings(folder.filePath("settings.ini"));
  for (int i = 0; i < Settings::recent_limit + 3; ++i)
    settings.add_recent_file(QString("/builds/%1.json").arg(i));
  settings.add_recent_file("/builds/9.json");
  EXPECT_EQ(settings.recent_files().size(), Settings::recent_limit);
  EXPECT_EQ(settings.recent_files().front(), "/builds/9.json");
  EXPECT_EQ(settings.recent_files().count("/builds/9.json"), 1);
}

} // namespace
} // namespace bellmouth::ui
