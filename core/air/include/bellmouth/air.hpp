// SPDX-License-Identifier: GPL-3.0-or-later
// Air as an ideal gas mixture of dry air and water vapour, the standard atmosphere, and one-dimensional
// compressible flow of a perfect gas. Everything in SI; temperatures in kelvin, pressures absolute.
#pragma once

#include <tl/expected.hpp>

#include <array>
#include <optional>

namespace bellmouth::air {

/// Range of the heat capacity [K]. Outside it cp is held at its value at the nearer end, so that every
/// function stays defined, continuous and invertible; whoever lets people enter temperatures beyond it must
/// say so to them.
inline constexpr double lowest_temperature_K = 200.0;
inline constexpr double highest_temperature_K = 1000.0;

/// Moist air of one composition. Its heat capacity is a polynomial in temperature, mixed once from those of
/// the constituents, so that asking is cheap. Temperatures are above zero (an assertion).
class Mixture {
public:
  /// Dry air.
  Mixture();
  /// Moist air with `humidity_ratio` kilograms of vapour to a kilogram of dry air (0 to 0.3, an assertion).
  explicit Mixture(double humidity_ratio);

  [[nodiscard]] double humidity_ratio() const { return humidity_ratio_; }
  /// Specific gas constant [J/(kg K)].
  [[nodiscard]] double gas_constant_J_kgK() const { return gas_constant_; }
  /// Specific heat at constant pressure [J/(kg K)] as an ideal gas: NASA TM-4513 polynomials, see
  /// mixture.cpp. At one atmosphere real air lies 0.05 % (600 K) to 0.3 % (230 K) higher.
  [[nodiscard]] double cp_J_kgK(double temperature_K) const;
  /// Ratio of specific heats [-].
  [[nodiscard]] double gamma(double temperature_K) const;
  /// Dynamic viscosity [Pa s]: the dilute gas of Lemmon & Jacobsen (2004) with vapour by IAPWS R12-08 and
  /// Wilke's mixing rule, see transport.cpp. 60 to 2000 K, uncertainty 1 % dry, 3 % with much vapour; at 3
  /// bar 0.2 % more. From 200 to 1000 K by a polynomial that keeps to it within 1e-8 dry and 6e-5 at a
  /// humidity ratio of 0.3.
  [[nodiscard]] double viscosity_Pa_s(double temperature_K) const;
  /// Thermal conductivity [W/(m K)] from the same sources (vapour: IAPWS R15-11); 2 % dry, 4 % with much
  /// vapour.
  [[nodiscard]] double conductivity_W_mK(double temperature_K) const;
  /// Prandtl number [-]: cp times viscosity over conductivity.
  [[nodiscard]] double prandtl(double temperature_K) const;
  /// Speed of sound [m/s].
  [[nodiscard]] double sound_speed_m_s(double temperature_K) const;
  /// Density [kg/m3].
  [[nodiscard]] double density_kg_m3(double pressure_Pa, double temperature_K) const;
  /// Specific enthalpy relative to 298.15 K [J/kg]: the integral of cp.
  [[nodiscard]] double enthalpy_J_kg(double temperature_K) const;
  /// Temperature [K] after an isentropic change of pressure by `pressure_ratio` (> 0) from `temperature_K`,
  /// with cp varying on the way.
  [[nodiscard]] double isentropic_temperature_K(double temperature_K, double pressure_ratio) const;
  /// Temperature [K] at which the enthalpy is `enthalpy_J_kg`, which must be above that at absolute zero (an
  /// assertion).
  [[nodiscard]] double temperature_at_enthalpy_K(double enthalpy_J_kg) const;

  friend bool operator==(const Mixture&, const Mixture&) = default;

private:
  /// Powers of what sqrt(T) is between 200 K (-1) and 1000 K (1).
  using InRootOfTemperature = std::array<double, 10>;

  double humidity_ratio_ = 0.0;
  double gas_constant_ = 0.0;
  std::array<double, 5> cp_{}; ///< cp = sum of cp_[i] T^i
  InRootOfTemperature viscosity_{}, conductivity_{};

  [[nodiscard]] double vapour_fraction() const;
};

/// \name Vapour in air
/// Ideal gases; the enhancement of the saturation pressure by the air (ASHRAE Fundamentals (2017), chapter 1:
/// 0.4 % at one atmosphere, about 1 % at 3 bar) is left out.
///@{
/// Range of the saturation pressure [K].
inline constexpr double lowest_saturation_K = 173.15;
inline constexpr double highest_saturation_K = 473.15;
/// Pressure of saturated water vapour [Pa] over liquid water, up to 273.15 K over ice; 173.15 to 473.15 K (an
/// assertion). Hyland & Wexler as printed in ASHRAE Fundamentals (2017).
[[nodiscard]] double saturation_pressure_Pa(double temperature_K);
/// Kilograms of vapour per kilogram of dry air at `relative_humidity` (0 to 1). The vapour's own pressure
/// must be below `pressure_Pa` (an assertion).
[[nodiscard]] double humidity_ratio(double temperature_K, double pressure_Pa, double relative_humidity);
/// The pressure of the vapour alone [Pa] in air of `humidity_ratio` (>= 0, an assertion) at `pressure_Pa`.
[[nodiscard]] double vapour_pressure_Pa(double humidity_ratio, double pressure_Pa);
/// The temperature [K] at which vapour of this pressure is saturated: the inverse of
/// saturation_pressure_Pa(), to 1e-9 K; between 611.154 and 611.213 Pa, where ice gives way to water, 273.15
/// K. Nothing outside its range, so for dry air.
[[nodiscard]] std::optional<double> dew_point_of_vapour_K(double vapour_pressure_Pa);
/// The temperature [K] to which moist air can be cooled at `pressure_Pa` before water (below 273.15 K: frost)
/// falls out. Nothing outside the range of the saturation pressure, so for dry air.
[[nodiscard]] std::optional<double> dew_point_K(const Mixture& air, double pressure_Pa);
/// Kilograms of vapour that a kilogram of dry air holds at most. Nothing where water boils: air holds any
/// amount. Temperature as for saturation_pressure_Pa().
[[nodiscard]] std::optional<double> saturated_humidity_ratio(double temperature_K, double pressure_Pa);
/// Kilograms of water per kilogram of dry air that fall out when moist air is cooled to `temperature_K` (as
/// for saturation_pressure_Pa()) at `pressure_Pa`; 0 above the dew point.
[[nodiscard]] double condensate_kg_kg(const Mixture& air, double temperature_K, double pressure_Pa);
///@}

/// The standard atmosphere of ISO 2533.
struct AtmosphereState {
  double temperature_K, pressure_Pa, density_kg_m3;
};
/// At a geometric altitude above mean sea level [m], -2000 to 11000 (an assertion).
[[nodiscard]] AtmosphereState standard_atmosphere(double altitude_m);
/// Its dynamic viscosity [Pa s]: Sutherland's law with the constants of ISO 2533. Low by 0.4 % at 25 C, 1.0 %
/// at 150 C and 1.6 % at 250 C against Mixture::viscosity_Pa_s().
[[nodiscard]] double standard_viscosity_Pa_s(double temperature_K);
/// At a geopotential altitude [m], the argument of the standard's own tables.
[[nodiscard]] AtmosphereState standard_atmosphere_geopotential(double altitude_m);

/// \name Isentropic relations of a perfect gas (NACA Report 1135). Ratios are static over total.
///@{
[[nodiscard]] double temperature_ratio(double mach, double gamma);
[[nodiscard]] double pressure_ratio(double mach, double gamma);
[[nodiscard]] double density_ratio(double mach, double gamma);
/// A/A*: area over the area at which the same flow would be sonic.
[[nodiscard]] double area_ratio(double mach, double gamma);
/// The mass-flow function m sqrt(R T0) / (A p0) [-]; greatest at Mach 1.
[[nodiscard]] double mass_flow_function(double mach, double gamma);
/// No subsonic flow.
struct Choked {
  double limit; ///< the greatest mass-flow function, or the greatest friction length, that flows
};
/// The subsonic Mach number of a mass-flow function (>= 0), exact to 1e-12 (towards Mach 1, where the
/// function is flat, to what the last digit of `value` can tell). A value above the greatest is an error.
[[nodiscard]] tl::expected<double, Choked> mach_of_mass_flow_function(double value, double gamma);
/// The same for whoever asks many times at one gamma: what depends on gamma alone is worked out once.
class SubsonicStates {
public:
  explicit SubsonicStates(double gamma);
  /// The greatest mass-flow function, at Mach 1.
  [[nodiscard]] double greatest() const { return sonic_; }
  struct State {
    double mach;
    double pressure_ratio; ///< static over total
  };
  [[nodiscard]] tl::expected<State, Choked> at(double mass_flow_function) const;

private:
  double gamma_, sonic_;
};
///@}

/// \name Fanno flow: adiabatic, constant area, with friction (f is the Darcy factor)
///@{
/// f L*/D: friction length from `mach` (> 0) to sonic flow; no digits are lost near Mach 1.
[[nodiscard]] double fanno_parameter(double mach, double gamma);
/// p0/p0*, p/p*, T/T*, rho/rho*.
[[nodiscard]] double fanno_total_pressure_ratio(double mach, double gamma);
[[nodiscard]] double fanno_pressure_ratio(double mach, double gamma);
[[nodiscard]] double fanno_temperature_ratio(double mach, double gamma);
[[nodiscard]] double fanno_density_ratio(double mach, double gamma);
/// The subsonic Mach number with f L*/D = `parameter` (>= 0).
[[nodiscard]] double mach_of_fanno_parameter(double parameter, double gamma);
/// Mach number at the end of a duct with friction length `friction_length` = f L/D (>= 0) entered at `mach`
/// (0 to 1; still air stays still). Error: the duct is longer than the flow can reach; holds the friction
/// length at which it would be sonic.
[[nodiscard]] tl::expected<double, Choked> fanno_outlet_mach(double mach, double friction_length,
                                                             double gamma);
///@}

/// The state of a stream at one cross-section.
struct Station {
  double mass_flow_kg_s = 0;
  double area_m2 = 0;
  double total_pressure_Pa = 0;
  double total_temperature_K = 0;
  double mach = 0;
  double static_pressure_Pa = 0;
  double static_temperature_K = 0;
  double density_kg_m3 = 0;
  double velocity_m_s = 0;
  double gamma = 0;

  /// rho V^2 / 2 [Pa].
  [[nodiscard]] double dynamic_pressure_Pa() const {
    return 0.5 * density_kg_m3 * velocity_m_s * velocity_m_s;
  }
};

/// The flow does not pass.
struct Choking {
  double max_mass_flow_kg_s; ///< what would pass at these total quantities and this area
};

/// The state at a cross-section from total pressure, total temperature, mass flow (>= 0) and area (> 0). The
/// ratio of specific heats is taken at the total temperature and held: at Mach 0.3 this moves no quantity by
/// more than 3e-5.
[[nodiscard]] tl::expected<Station, Choking> station(const Mixture& air, double total_pressure_Pa,
                                                     double total_temperature_K, double mass_flow_kg_s,
                                                     double area_m2);
/// Reynolds number of a stream in a round bore.
[[nodiscard]] double reynolds(const Mixture& air, const Station& station, double bore_m);

} // namespace bellmouth::air
