// SPDX-License-Identifier: GPL-3.0-or-later
#include "march.hpp"

#include <bellmouth/air/running_state.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace bellmouth::flow {
namespace {

/// Slower than this nothing is lost that a double could hold.
constexpr double least_mach_squared = 1e-14;
/// More of the pressure than this is not lost by a restriction that still is one.
constexpr double greatest_restriction = 0.9;

/// How a drop answers, relatively, to mass flow, total pressure and total temperature.
struct Elasticity {
  double flow, pressure, temperature;
};

/// Of a two-term drop: m^power T / p.
Elasticity of_power(double power) {
  return {power, -1, 1};
}

/// Of rho V^2 / 2 at a squared Mach number in a fixed area, and of a friction factor that goes as Re^-0.2 in
/// `share` of the drop (in turbulent flow the exponent lies between -0.17 and -0.25; it steers Newton's
/// method and nothing else). From the mass-flow function: d ln q / d ln m = (2 - M^2) / (1 - M^2).
Elasticity of_dynamic_pressure(double mach_squared, double friction_share) {
  const double power = (2 - mach_squared) / std::max(1e-9, 1 - mach_squared);
  return {power - 0.2 * friction_share, 1 - power, power / 2};
}

template <std::size_t N> class March {
public:
  March(const Path::Impl& path, const Variation& variation, double engine_speed_rev_s, const Unknowns& at,
        Recorder* recorder)
      : path_(path), variation_(variation), speed_(engine_speed_rev_s), at_(at), recorder_(recorder),
        gamma_(path.air.gamma(path.inlet_temperature_K)), state_(gamma_) {}

  Marched<N> run() {
    if (path_.flow_unknown)
      log_flow_ = {at_[0], {1}};
    else
      log_flow_ = Sloped<N>::constant(std::log(std::get<build::FixedFlow>(path_.demand).mass_flow_kg_s));
    pressure_ = Sloped<N>::constant(path_.inlet_pressure_Pa);
    temperature_ = Sloped<N>::constant(path_.inlet_temperature_K);
    stream_changed();
    const auto& elements = recorder_ == nullptr ? *variation_.joined : *variation_.elements;
    for (const Element& element : elements) {
      scale_ = element.scale;
      if (recorder_ != nullptr)
        begin_passage();
      const bool passes = std::visit([this](const auto& law) { return pass(law); }, element.law);
      if (!passes)
        return stopped(element.origin);
      if (recorder_ != nullptr)
        end_passage();
    }
    if (!enter_plenum())
      return stopped(variation_.elements->size());
    result_.flow = exp_of_sloped(log_flow_);
    result_.pressure = pressure_;
    result_.temperature = temperature_;
    return result_;
  }

private:
  static Sloped<N> exp_of_sloped(const Sloped<N>& x) {
    Sloped<N> result = Sloped<N>::constant(std::exp(x.value));
    return result.lean(result.value, x);
  }

  Marched<N> stopped(std::size_t element) {
    result_.ended = too_hot_ ? Ended::too_hot : Ended::chokes;
    result_.stop_element = element;
    return result_;
  }

  void begin_passage() {
    passage_ = {};
    passage_.pressure_before_Pa = pressure_.value;
    passage_.temperature_before_K = temperature_.value;
    passage_.flow_before_kg_s = flow_;
    passage_.low_Pa = passage_.high_Pa = -1;
  }
  void end_passage() {
    passage_.pressure_behind_Pa = pressure_.value;
    passage_.temperature_behind_K = temperature_.value;
    passage_.flow_behind_kg_s = flow_;
    if (passage_.low_Pa < 0)
      passage_.low_Pa = passage_.high_Pa = passage_.pressure_before_Pa - passage_.pressure_behind_Pa;
    recorder_->passed(passage_);
  }

  /// What depends on flow and total temperature; to be called whenever either changes.
  void stream_changed() {
    flow_ = std::exp(log_flow_.value);
    temperature_changed();
    friction_.fill(0);
  }
  void temperature_changed() {
    state_area_m2_ = 0;
    if (const double gamma = path_.air.gamma(temperature_.value); gamma != gamma_) {
      gamma_ = gamma;
      state_ = air::RunningState(gamma);
    }
    flow_scale_ = flow_ * std::sqrt(path_.air.gas_constant_J_kgK() * temperature_.value);
  }

  /// Puts the running state into a bore; false when the flow does not pass.
  bool into(double area_m2) {
    const bool same = area_m2 == state_area_m2_;
    if (same && state_holds_)
      return true;
    const double function = flow_scale_ / (area_m2 * pressure_.value);
    state_area_m2_ = area_m2;
    state_holds_ = true;
    return same ? state_.move(function) : state_.set(function);
  }

  double friction_in(const Bore& bore) {
    double* kept = bore.friction_slot < friction_slots ? &friction_[bore.friction_slot] : nullptr;
    if (kept != nullptr && *kept > 0)
      return *kept;
    const double f = loss::darcy_friction_factor(reynolds_in(bore), bore.relative_roughness);
    if (kept != nullptr)
      *kept = f;
    return f;
  }
  /// The model of air ends there; colder states are met on a solver's way only.
  double viscosity_at(double temperature_K) const {
    return path_.air.viscosity_Pa_s(std::max(temperature_K, air::lowest_temperature_K));
  }
  double reynolds_in(const Bore& bore) const {
    const double static_K = temperature_.value / (1 + (gamma_ - 1) / 2 * state_.mach_squared());
    return flow_ * bore.bore_m / (bore.area_m2 * viscosity_at(static_K));
  }

  /// Takes off a drop.
  void lose(double drop, const Elasticity& elasticity) {
    const double by_p = 1 - drop * elasticity.pressure / pressure_.value;
    const double by_T = -drop * elasticity.temperature / temperature_.value;
    const double by_m = -drop * elasticity.flow;
    pressure_.value -= drop;
    state_holds_ = false;
    for (std::size_t i = 0; i < N; ++i)
      pressure_.by[i] = by_p * pressure_.by[i] + by_T * temperature_.by[i] + by_m * log_flow_.by[i];
  }

  bool pass(const GateElement& element) {
    return flow_scale_ <= state_.greatest() * element.area_m2 * pressure_.value;
  }

  bool pass(const LossElement& element) {
    if (!into(element.bore.area_m2))
      return false;
    const double q = pressure_.value * state_.dynamic_pressure_share();
    const auto& law = element.law;
    const double f = law.per_friction != 0 ? friction_in(element.bore) : 0;
    const bool asks_reynolds = law.per_inverse_reynolds != 0 || recorder_ != nullptr;
    const double inverse_reynolds = asks_reynolds ? 1 / reynolds_in(element.bore) : 0;
    const double drop = scale_ * law.at(f, inverse_reynolds) * q;
    if (drop >= pressure_.value)
      return false;
    if (recorder_ != nullptr) {
      passage_.low_Pa = scale_ * law.low(f, inverse_reynolds) * q;
      passage_.high_Pa = scale_ * law.high(f, inverse_reynolds) * q;
      passage_.friction = f;
    }
    const double friction_share = drop > 0 ? scale_ * law.per_friction * f * q / drop : 0;
    lose(drop, of_dynamic_pressure(state_.mach_squared(), friction_share));
    return true;
  }

  bool pass(const DuctElement& element) {
    if (!into(element.bore.area_m2))
      return false;
    const double mach_squared = state_.mach_squared();
    if (mach_squared < least_mach_squared)
      return true;
    const double f = friction_in(element.bore);
    const double before = state_.phi();
    if (!state_.duct(scale_ * f * element.friction_length_per_f))
      return false;
    // Mass flow, area and total temperature are the same at both ends, so p0 times the mass-flow function is
    // too.
    const double drop = pressure_.value * (1 - before / state_.phi());
    if (recorder_ != nullptr) {
      const double band = reynolds_in(element.bore) < turbulent_reynolds ? slow_friction_band : friction_band;
      passage_.low_Pa = drop * (1 - band);
      passage_.high_Pa = drop * (1 + band);
      passage_.friction = f;
    }
    lose(drop, of_dynamic_pressure(mach_squared, 1));
    state_holds_ = true;
    return true;
  }

  bool pass(const RestrictionElement& element) {
    const double density = path_.air.density_kg_m3(pressure_.value, temperature_.value);
    const double volume_flow = flow_ / density;
    const double viscosity = viscosity_at(temperature_.value);
    const double viscous = scale_ * element.drop.viscous_per_m3 * viscosity * volume_flow;
    const double inertial = scale_ * element.drop.inertial_per_m4 * density * volume_flow * volume_flow;
    const double drop = viscous + inertial;
    if (drop >= greatest_restriction * pressure_.value)
      return false;
    if (drop > 0)
      lose(drop, of_power((viscous + 2 * inertial) / drop));
    return true;
  }

  bool pass(const PlateElement& element) {
    // A larger drop is that of a smaller area.
    const double area = element.effective_area_m2 / std::sqrt(scale_);
    state_area_m2_ = 0;
    if (element.throat == none) {
      if (!state_.set(flow_scale_ / (area * pressure_.value)))
        return false;
      lose(pressure_.value * (1 - state_.pressure_ratio()), of_velocity_head());
      return true;
    }
    const double s = std::exp(at_[element.throat]), mach = std::min(s, 1.0), k = (gamma_ - 1) / 2;
    const double heat = 1 + k * mach * mach;
    const double given = air::mass_flow_function(mach, gamma_) * area * pressure_.value / flow_scale_;
    Sloped<N> excess = Sloped<N>::constant(given - 1)
                           .lean(-given, log_flow_)
                           .lean(given / pressure_.value, pressure_)
                           .lean(-0.5 * given / temperature_.value, temperature_);
    excess.by[element.throat] += given * (1 - mach * mach) / heat; // d ln(phi) / d ln(M)
    result_.residuals[result_.residual_count++] = excess;
    const double fall = gamma_ / (1 + k);
    const double ratio = air::pressure_ratio(mach, gamma_) * (s > 1 ? std::exp(-fall * (s - 1)) : 1.0);
    pressure_ = ratio * pressure_;
    pressure_.by[element.throat] -= pressure_.value * (s > 1 ? fall * s : gamma_ * mach * mach / heat);
    state_holds_ = false;
    return pressure_.value > 0;
  }

  /// Of p0 - p in a fixed area: d ln(p/p0) / d ln(phi) = -gamma M^2 / (1 - M^2).
  Elasticity of_velocity_head() const {
    const double x = state_.mach_squared(), share = state_.pressure_ratio();
    const double power = gamma_ * x / std::max(1e-9, 1 - x) * share / std::max(1 - share, 1e-300);
    return {power, 1 - power, power / 2};
  }

  bool pass(const BlowerElement& element) {
    const Blower& blower = path_.blowers[element.blower];
    const auto* target = blower.target();
    const BlowerScene scene{path_.air, variation_.tuning, speed_, path_.ambient_pressure_Pa};
    AtBlower at{flow_, pressure_.value, temperature_.value, 1};
    Sloped<N> log_ratio;
    if (element.ratio == none) { // held at its outlet
      at.ratio = target->target_pressure_Pa / pressure_.value;
      log_ratio = Sloped<N>::constant(std::log(at.ratio)).lean(-1 / pressure_.value, pressure_);
    } else {
      at.ratio = std::exp(at_[element.ratio]);
      log_ratio = Sloped<N>::constant(at_[element.ratio]);
      log_ratio.by[element.ratio] = 1;
    }
    const auto blown = blower.blow(scene, at);
    if (!blown) {
      too_hot_ = true;
      return false;
    }
    const auto slopes = blower.slopes(scene, at, *blown);
    const auto sloped = [&](double value, const std::array<double, 4>& by) {
      return Sloped<N>::constant(value)
          .lean(by[0], log_flow_)
          .lean(by[1] / pressure_.value, pressure_)
          .lean(by[2] / temperature_.value, temperature_)
          .lean(by[3], log_ratio);
    };
    const Sloped<N> temperature = sloped(blown->temperature_K, slopes.temperature_K);
    if (element.ratio != none && target == nullptr)
      result_.residuals[result_.residual_count++] = sloped(blown->excess, slopes.excess);
    Sloped<N> log_flow = log_flow_;
    if (blown->flow_kg_s != flow_)
      log_flow = sloped(std::log(blown->flow_kg_s), slopes.ln_flow);
    if (element.ratio == none)
      pressure_ = Sloped<N>::constant(target->target_pressure_Pa);
    else
      pressure_ = (at.ratio * pressure_).lean(at.ratio * pressure_.value, log_ratio);
    temperature_ = temperature;
    log_flow_ = log_flow;
    result_.blower_ratio = at.ratio;
    if (target != nullptr) {
      result_.below_target = result_.below_target || at.ratio < 1;
      result_.beyond_reach = result_.beyond_reach || at.ratio > target->max_pressure_ratio;
    }
    if (!blower.driven_by_exhaust())
      result_.drive_power_W += blown->shaft_power_W;
    if (recorder_ != nullptr)
      recorder_->blew(element.blower, *blown);
    stream_changed();
    return flow_ > 0;
  }

  bool pass(const CoolingElement& element) {
    const auto cooled = path_.coolers[element.cooler].act(flow_, path_.air.cp_J_kgK(temperature_.value));
    const double effectiveness = std::min(1.0, variation_.tuning.cooling * cooled.effectiveness);
    const double above = temperature_.value - element.reference_K;
    const double by_flow = variation_.tuning.cooling * cooled.by_flow * flow_;
    temperature_.value -= effectiveness * above;
    for (std::size_t i = 0; i < N; ++i)
      temperature_.by[i] = (1 - effectiveness) * temperature_.by[i] - above * by_flow * log_flow_.by[i];
    temperature_changed();
    friction_.fill(0);
    return true;
  }

  bool pass(const HeatElement& element) {
    if (variation_.conductance_W_K.empty())
      return true;
    const Wall& wall = path_.walls[element.wall];
    const double area = M_PI / 4 * wall.bore_m * wall.bore_m;
    if (!into(area))
      return false;
    const double ntu =
        variation_.conductance_W_K[element.wall] / (flow_ * path_.air.cp_J_kgK(temperature_.value));
    const double kept = std::exp(-ntu);
    const double below = path_.bay->temperature_K - temperature_.value;
    const double before = temperature_.value;
    temperature_.value += (1 - kept) * below;
    for (std::size_t i = 0; i < N; ++i)
      temperature_.by[i] = kept * temperature_.by[i] - kept * ntu * below * log_flow_.by[i];
    // Heat costs total pressure: dp0/p0 = -gamma M^2/2 dT0/T0 (Rayleigh flow; Shapiro 1953, table 8.1).
    const double drop =
        pressure_.value * gamma_ / 2 * state_.mach_squared() * std::log(temperature_.value / before);
    lose(drop, of_dynamic_pressure(state_.mach_squared(), 0));
    temperature_changed();
    return true;
  }

  // --- branches

  bool pass(const SplitElement& element) {
    group_ = &path_.groups[element.group];
    split_ = {log_flow_, pressure_, temperature_};
    branch_ = 0;
    joined_.flow = {};
    joined_.enthalpy = {};
    // Shares: w_j / sum of w, with w_0 = 1 and w_j = exp(u_j).
    double sum = 1;
    for (std::size_t j = 1; j < group_->branches; ++j)
      sum += std::exp(at_[group_->first_share + j - 1]);
    share_sum_ = sum;
    begin_branch();
    return true;
  }

  void begin_branch() {
    log_flow_ = split_.log_flow;
    log_flow_.value -= std::log(share_sum_);
    for (std::size_t j = 1; j < group_->branches; ++j) {
      const std::size_t place = group_->first_share + j - 1;
      log_flow_.by[place] -= std::exp(at_[place]) / share_sum_;
      if (j == branch_) {
        log_flow_.value += at_[place];
        log_flow_.by[place] += 1;
      }
    }
    pressure_ = split_.pressure;
    temperature_ = split_.temperature;
    stream_changed();
  }

  void end_branch() {
    const Sloped<N> flow = exp_of_sloped(log_flow_);
    const double cp = path_.air.cp_J_kgK(temperature_.value);
    const Sloped<N> enthalpy =
        Sloped<N>::constant(path_.air.enthalpy_J_kg(temperature_.value)).lean(cp, temperature_);
    joined_.flow += flow;
    joined_.enthalpy += flow * enthalpy;
    if (branch_ == 0)
      joined_.pressure = pressure_;
    else // the branches meet at one pressure
      result_.residuals[result_.residual_count++] = pressure_ / joined_.pressure - 1;
  }

  bool pass(const BranchElement&) {
    end_branch();
    ++branch_;
    begin_branch();
    return true;
  }

  bool pass(const JoinElement&) {
    end_branch();
    const Sloped<N> enthalpy = joined_.enthalpy / joined_.flow;
    const double mixed_K = path_.air.temperature_at_enthalpy_K(enthalpy.value);
    temperature_ = Sloped<N>::constant(mixed_K).lean(1 / path_.air.cp_J_kgK(mixed_K), enthalpy);
    pressure_ = joined_.pressure;
    log_flow_ = Sloped<N>::constant(std::log(joined_.flow.value)).lean(1 / joined_.flow.value, joined_.flow);
    stream_changed();
    return true;
  }

  bool enter_plenum() {
    if (path_.last_bore_m <= 0 || std::holds_alternative<build::FixedFlow>(path_.demand))
      return true;
    if (!into(disc_m2(path_.last_bore_m)))
      return false;
    lose(path_.plenum_exit_loss * pressure_.value * (1 - state_.pressure_ratio()), of_velocity_head());
    return true;
  }

  const Path::Impl& path_;
  const Variation& variation_;
  double speed_;
  const Unknowns& at_;
  Recorder* recorder_;
  Recorder::Passage passage_{};
  Marched<N> result_;

  Sloped<N> log_flow_, pressure_, temperature_; ///< the total state on its way
  double flow_ = 0, scale_ = 1;
  std::array<double, friction_slots> friction_{}; ///< 0: not worked out yet
  double gamma_;
  air::RunningState state_;
  double state_area_m2_ = 0; ///< the bore that the running state belongs to
  bool state_holds_ = false; ///< and whether it is that of the present pressure
  double flow_scale_ = 0;    ///< m sqrt(R T0)
  bool too_hot_ = false;

  struct Split {
    Sloped<N> log_flow, pressure, temperature;
  };
  struct Joined {
    Sloped<N> flow, enthalpy, pressure; ///< enthalpy: its flow [W]
  };
  const Group* group_ = nullptr;
  std::size_t branch_ = 0;
  double share_sum_ = 1;
  Split split_;
  Joined joined_;
};

} // namespace

template <std::size_t N>
Marched<N> march(const Path::Impl& path, const Variation& variation, double engine_speed_rev_s,
                 const Unknowns& at, Recorder* recorder) {
  return March<N>(path, variation, engine_speed_rev_s, at, recorder).run();
}

template Marched<1> march<1>(const Path::Impl&, const Variation&, double, const Unknowns&, Recorder*);
template Marched<4> march<4>(const Path::Impl&, const Variation&, double, const Unknowns&, Recorder*);
template Marched<2> march<2>(const Path::Impl&, const Variation&, double, const Unknowns&, Recorder*);
template Marched<most_unknowns> march<most_unknowns>(const Path::Impl&, const Variation&, double,
                                                     const Unknowns&, Recorder*);

} // namespace bellmouth::flow
