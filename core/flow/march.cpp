// SPDX-License-Identifier: GPL-3.0-or-later
#include "elements.hpp"

#include <array>
#include <cmath>
#include <optional>

namespace bellmouth::flow {
namespace {

constexpr double greatest_temperature_K = air::highest_temperature_K;
/// Slower than this nothing is lost that a double could hold.
constexpr double least_mach = 1e-7;

/// The total state on its way, with slopes.
struct Stream {
  Sloped pressure, temperature;
};

/// How a drop answers, relatively, to mass flow, total pressure and total temperature.
struct Elasticity {
  double flow, pressure, temperature;
};

/// Of a two-term drop: m^power T / p.
Elasticity of_power(double power) {
  return {power, -1, 1};
}

/// Of rho V^2 / 2 at Mach number `mach` in a fixed area, and of a friction factor that goes as Re^-0.2 in
/// `share` of the drop (in turbulent flow the exponent lies between -0.17 and -0.25; it steers Newton's
/// method and nothing else). From the mass-flow function: d ln q / d ln m = (2 - M^2) / (1 - M^2).
Elasticity of_dynamic_pressure(double mach, double friction_share) {
  const double square = mach * mach;
  const double power = (2 - square) / (1 - square);
  return {power - 0.2 * friction_share, 1 - power, power / 2};
}

/// Takes off a drop.
void lose(Stream& stream, double drop, double mass_flow_kg_s, const Elasticity& elasticity) {
  const double by_m = drop * elasticity.flow / mass_flow_kg_s;
  const double by_p = drop * elasticity.pressure / stream.pressure.value;
  const double by_T = drop * elasticity.temperature / stream.temperature.value;
  Sloped& p = stream.pressure;
  const Sloped& T = stream.temperature;
  p = {p.value - drop, p.by_flow - (by_m + by_p * p.by_flow + by_T * T.by_flow),
       p.by_ratio - (by_p * p.by_ratio + by_T * T.by_ratio)};
}

class March {
public:
  March(const Path::Impl& path, const std::vector<Element>& elements, Unknowns at, Recorder* recorder)
      : path_(path), elements_(elements), at_(at), recorder_(recorder) {}

  Marched run() {
    stream_.pressure = {path_.inlet_pressure_Pa, 0, 0};
    stream_.temperature = {path_.inlet_temperature_K, 0, 0};
    temperature_changed();
    for (std::size_t i = 0; i < elements_.size(); ++i) {
      const double pressure = stream_.pressure.value;
      const double temperature = stream_.temperature.value;
      low_ = high_ = -1;
      const bool passes = std::visit([this](const auto& element) { return pass(element); }, elements_[i].law);
      if (!passes)
        return stopped(i);
      if (recorder_ != nullptr) {
        const double drop = pressure - stream_.pressure.value;
        recorder_->passed(i, pressure, stream_.pressure.value, temperature, stream_.temperature.value,
                          low_ < 0 ? drop : low_, high_ < 0 ? drop : high_);
      }
    }
    if (path_.last_bore_m > 0 && path_.plenum_exit_loss > 0 &&
        !std::holds_alternative<build::FixedFlow>(path_.demand)) {
      const auto state = state_in(disc_m2(path_.last_bore_m));
      if (!state)
        return stopped(elements_.size());
      const double drop = path_.plenum_exit_loss * stream_.pressure.value * (1 - state->pressure_ratio);
      lose(stream_, drop, at_.mass_flow_kg_s, of_dynamic_pressure(state->mach, 0));
    }
    result_.pressure = stream_.pressure;
    result_.temperature = stream_.temperature;
    return result_;
  }

private:
  Marched stopped(std::size_t element) {
    result_.ended = too_hot_ ? Ended::too_hot : Ended::chokes;
    result_.choke_element = element;
    return result_;
  }

  /// What depends on the total temperature alone; to be called whenever it changes.
  void temperature_changed() {
    left_area_m2_ = 0;
    gamma_ = path_.air.gamma(stream_.temperature.value);
    subsonic_ = air::SubsonicStates(gamma_);
    flow_scale_ = at_.mass_flow_kg_s * std::sqrt(path_.air.gas_constant_J_kgK() * stream_.temperature.value);
  }

  /// Mach number and p/p0 in a bore; nothing when the flow does not pass.
  std::optional<air::SubsonicStates::State> state_in(double area_m2) const {
    if (area_m2 == left_area_m2_) // just behind a duct of that bore
      return air::SubsonicStates::State{left_mach_, air::pressure_ratio(left_mach_, gamma_)};
    const auto state = subsonic_.at(flow_scale_ / (area_m2 * stream_.pressure.value));
    if (state)
      return *state;
    return std::nullopt;
  }
  std::optional<double> mach_in(double area_m2) const {
    if (area_m2 == left_area_m2_)
      return left_mach_;
    const auto state = subsonic_.at(flow_scale_ / (area_m2 * stream_.pressure.value));
    return state ? std::optional(state->mach) : std::nullopt;
  }

  double friction_in(const Bore& bore, double mach) {
    double* kept = bore.friction_slot < friction_slots ? &friction_[bore.friction_slot] : nullptr;
    if (kept != nullptr && *kept > 0)
      return *kept;
    const double static_K = stream_.temperature.value * air::temperature_ratio(mach, gamma_);
    const double reynolds =
        at_.mass_flow_kg_s * bore.bore_m / (bore.area_m2 * path_.air.viscosity_Pa_s(static_K));
    const double f = loss::darcy_friction_factor(reynolds, bore.relative_roughness);
    if (kept != nullptr)
      *kept = f;
    return f;
  }

  bool pass(const GateElement& element) {
    return flow_scale_ <= subsonic_.greatest() * element.area_m2 * stream_.pressure.value;
  }

  bool pass(const LossElement& element) {
    if (at_.mass_flow_kg_s <= 0)
      return true;
    const auto state = state_in(element.bore.area_m2);
    if (!state)
      return false;
    const double mach = state->mach;
    // rho V^2 / 2 = gamma p M^2 / 2
    const double q = 0.5 * gamma_ * mach * mach * stream_.pressure.value * state->pressure_ratio;
    const double f = element.law.per_friction != 0 ? friction_in(element.bore, mach) : 0;
    const double drop = element.law.at(f) * q;
    if (drop >= stream_.pressure.value)
      return false;
    if (recorder_ != nullptr) {
      low_ = element.law.low(f) * q;
      high_ = element.law.high(f) * q;
    }
    const double friction_share = drop > 0 ? element.law.per_friction * f * q / drop : 0;
    lose(stream_, drop, at_.mass_flow_kg_s, of_dynamic_pressure(mach, friction_share));
    left_area_m2_ = 0;
    return true;
  }

  bool pass(const DuctElement& element) {
    if (at_.mass_flow_kg_s <= 0)
      return true;
    const auto mach = mach_in(element.bore.area_m2);
    if (!mach)
      return false;
    if (*mach < least_mach)
      return true;
    const double f = friction_in(element.bore, *mach);
    const auto outlet = air::fanno_outlet_mach(*mach, f * element.friction_length_per_f, gamma_);
    if (!outlet)
      return false;
    // Mass flow, area and total temperature are the same at both ends, so p0 times the mass-flow function is
    // too.
    const double behind = flow_scale_ / (element.bore.area_m2 * air::mass_flow_function(*outlet, gamma_));
    const double drop = stream_.pressure.value - behind;
    if (recorder_ != nullptr) {
      low_ = drop * (1 - element.band);
      high_ = drop * (1 + element.band);
    }
    lose(stream_, drop, at_.mass_flow_kg_s, of_dynamic_pressure(*mach, 1));
    left_area_m2_ = element.bore.area_m2;
    left_mach_ = *outlet;
    return true;
  }

  bool pass(const RestrictionElement& element) {
    const double density = path_.air.density_kg_m3(stream_.pressure.value, stream_.temperature.value);
    const double volume_flow = at_.mass_flow_kg_s / density;
    const double viscosity = path_.air.viscosity_Pa_s(stream_.temperature.value);
    const double viscous = element.factor * element.drop.viscous_per_m3 * viscosity * volume_flow;
    const double inertial =
        element.factor * element.drop.inertial_per_m4 * density * volume_flow * volume_flow;
    const double drop = viscous + inertial;
    if (drop >= 0.9 * stream_.pressure.value)
      return false;
    left_area_m2_ = 0;
    if (drop > 0)
      lose(stream_, drop, at_.mass_flow_kg_s, of_power((viscous + 2 * inertial) / drop));
    return true;
  }

  void remember_blower() {
    result_.blower_pressure = stream_.pressure;
    result_.blower_temperature = stream_.temperature;
  }

  /// Raises the stream to `pressure` at `temperature_K`; `heating` is dT2/d(ratio), `ratio` carries slopes.
  void raise(const Sloped& pressure, double temperature_K, double heating, const Sloped& ratio) {
    Sloped& T = stream_.temperature;
    const double growth = temperature_K / T.value;
    T = {temperature_K, growth * T.by_flow + heating * ratio.by_flow,
         growth * T.by_ratio + heating * ratio.by_ratio};
    stream_.pressure = pressure;
    result_.blower_ratio = ratio.value;
    temperature_changed();
  }

  /// dT2/d(ratio) of an isentropic compression at efficiency one [K].
  double isentropic_heating(double temperature_K, double ratio) const {
    const double gamma = path_.air.gamma(temperature_K);
    const double k = (gamma - 1) / gamma;
    return temperature_K * k * std::pow(ratio, k - 1);
  }

  /// Whether a compression would leave the range of the heat capacities; constant gamma is good enough to
  /// tell.
  bool leaves_range(double temperature_K, double rise_K) {
    too_hot_ = temperature_K + rise_K > greatest_temperature_K;
    return too_hot_;
  }

  double isentropic_rise_K(double temperature_K, double ratio) const {
    const double gamma = path_.air.gamma(temperature_K);
    return temperature_K * (std::pow(ratio, (gamma - 1) / gamma) - 1);
  }

  bool pass(const DisplacementElement& element) {
    remember_blower();
    const Sloped p = stream_.pressure;
    const double T = stream_.temperature.value;
    const double ratio = at_.pressure_ratio;
    const double efficiency = element.blower.volumetric_efficiency;
    const double leakage = ratio >= 1 ? 1 / efficiency : efficiency;
    const double rise_K = element.blower.adiabatic_efficiency
                              ? isentropic_rise_K(T, ratio) / *element.blower.adiabatic_efficiency
                              : isentropic_heating(T, 1.0) * (ratio - 1) * leakage;
    if (leaves_range(T, rise_K))
      return false;
    const auto compression =
        machine::compress(path_.air, element.blower, p.value, T, ratio, at_.mass_flow_kg_s);
    const double heating = element.blower.adiabatic_efficiency
                               ? isentropic_heating(T, ratio) / *element.blower.adiabatic_efficiency
                               : isentropic_heating(T, 1.0) * leakage;
    raise({ratio * p.value, ratio * p.by_flow, p.value + ratio * p.by_ratio},
          compression.outlet_temperature_K, heating, {ratio, 0, 1});
    return true;
  }

  bool pass(const TargetElement& element) {
    remember_blower();
    const Sloped p = stream_.pressure;
    const double T = stream_.temperature.value;
    const auto& compressor = element.compressor;
    const bool held_here = compressor.target_at == machine::TargetAt::blower_outlet;
    const double ratio = held_here ? compressor.target_pressure_Pa / p.value : at_.pressure_ratio;
    if (ratio > 1 && leaves_range(T, isentropic_rise_K(T, ratio) / compressor.adiabatic_efficiency))
      return false;
    // Below a ratio of one the compressor is a hole: the solver refuses such a point, the march only passes
    // it.
    const double T2 =
        ratio > 1 ? machine::compress(path_.air, T, ratio, at_.mass_flow_kg_s,
                                      compressor.adiabatic_efficiency, compressor.mechanical_efficiency)
                        .outlet_temperature_K
                  : T;
    const double heating = ratio > 1 ? isentropic_heating(T, ratio) / compressor.adiabatic_efficiency : 0;
    if (held_here)
      raise({compressor.target_pressure_Pa, 0, 0}, T2, heating,
            {ratio, -ratio / p.value * p.by_flow, -ratio / p.value * p.by_ratio});
    else
      raise({ratio * p.value, ratio * p.by_flow, p.value + ratio * p.by_ratio}, T2, heating, {ratio, 0, 1});
    return true;
  }

  bool pass(const CoolingElement& element) {
    Sloped& T = stream_.temperature;
    const double kept = 1 - element.effectiveness;
    T = {machine::cooler_outlet_K(element.effectiveness, T.value, element.coolant_K), kept * T.by_flow,
         kept * T.by_ratio};
    temperature_changed();
    return true;
  }

  const Path::Impl& path_;
  const std::vector<Element>& elements_;
  Unknowns at_;
  Recorder* recorder_;
  Stream stream_;
  Marched result_;
  std::array<double, friction_slots> friction_{}; ///< 0: not worked out yet
  double gamma_ = 0;
  air::SubsonicStates subsonic_{1.4};
  double flow_scale_ = 0;                   ///< m sqrt(R T0)
  double left_area_m2_ = 0, left_mach_ = 0; ///< where the stream just left a duct; 0: somewhere else
  bool too_hot_ = false;
  double low_ = -1, high_ = -1;
};

} // namespace

Marched march(const Path::Impl& path, const std::vector<Element>& elements, Unknowns at, Recorder* recorder) {
  return March(path, elements, at, recorder).run();
}

} // namespace bellmouth::flow
