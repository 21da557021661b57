// SPDX-License-Identifier: GPL-3.0-or-later
// The machines on the air path as plain values, and the law of each: filter, meter body, blowers, charge
// cooler, throttle, engine. No machine knows where it stands; the flow solver asks each for its effect on a
// stream.
#pragma once

#include <bellmouth/air.hpp>

#include <optional>
#include <string>
#include <vector>

namespace bellmouth::machine {

/// Total-pressure drop by a two-term law dp = a mu Q + b rho Q^2 (Darcy-Forchheimer, the usual fit of a
/// restriction curve), scaled with the viscosity and density that are really there.
struct TwoTermDrop {
  double viscous_per_m3 = 0.0;  ///< a [1/m3]
  double inertial_per_m4 = 0.0; ///< b [1/m4]
  [[nodiscard]] double drop_Pa(double volume_flow_m3_s, double density_kg_m3, double viscosity_Pa_s) const;
};

/// One measured point of a restriction curve.
struct RatedPoint {
  double volume_flow_m3_s; ///< > 0
  double drop_Pa;          ///< > 0
  friend bool operator==(const RatedPoint&, const RatedPoint&) = default;
};
/// The law through the rated points, measured at `density_kg_m3` and `viscosity_Pa_s`. One point: the
/// inertial term alone. Two or more: least squares of dp/Q over Q with neither term negative (a term that
/// would be is zero and the other is fitted alone). Points that all have one flow are fitted by the inertial
/// term alone, too.
[[nodiscard]] TwoTermDrop fit_drop(const std::vector<RatedPoint>& points, double density_kg_m3,
                                   double viscosity_Pa_s);

/// Air at which a restriction curve is understood to be measured when nothing else is said: 20 C, 101.325
/// kPa, dry.
inline constexpr double rating_temperature_K = 293.15;
inline constexpr double rating_pressure_Pa = 101325.0;

/// An air filter with its neck.
struct Filter {
  std::vector<RatedPoint> rated; ///< clean, at rating air; at least one
  double dirty_factor = 1.0;     ///< drop now over drop when clean, >= 1
  bool cold_feed = true;         ///< draws from outside the bay
  bool oiled = false;            ///< oiled media
  friend bool operator==(const Filter&, const Filter&) = default;
};

/// The body of an air-flow meter.
struct MeterBody {
  double bore_m;
  double length_m;
  double loss_coefficient; ///< on its own bore
  friend bool operator==(const MeterBody&, const MeterBody&) = default;
};

/// A blower that traps a volume per turn.
struct DisplacementBlower {
  double swept_volume_m3_rev;
  double drive_ratio;           ///< blower turns per engine turn
  double volumetric_efficiency; ///< 0 to 1.1, on inlet total density
  /// Adiabatic (total-to-total) efficiency; unset: no internal compression, all work is done against the full
  /// discharge pressure: delta h = v1 (p2 - p1) / volumetric efficiency.
  std::optional<double> adiabatic_efficiency;
  double mechanical_efficiency; ///< shaft, gears and belt
  double max_speed_rev_s;       ///< plate limit
  double max_outlet_temperature_K;
  friend bool operator==(const DisplacementBlower&, const DisplacementBlower&) = default;
};

/// Where a pressure target is held.
enum class TargetAt { blower_outlet, manifold };

/// A dynamic compressor whose control holds a target pressure.
struct TargetCompressor {
  double target_pressure_Pa; ///< absolute, total
  TargetAt target_at;
  double adiabatic_efficiency; ///< total-to-total
  double mechanical_efficiency;
  bool driven_by_exhaust;    ///< takes no crank power
  double max_pressure_ratio; ///< what the compressor can do at all
  double max_outlet_temperature_K;
  friend bool operator==(const TargetCompressor&, const TargetCompressor&) = default;
};

/// A charge cooler. The drop is flange to flange, tanks included.
struct ChargeCooler {
  std::vector<RatedPoint> rated; ///< at rating air; at least one
  double effectiveness;          ///< 0 to 1
  double coolant_rise_K;         ///< coolant (air or water) temperature at its inlet above ambient
  bool air_to_water = false;
  friend bool operator==(const ChargeCooler&, const ChargeCooler&) = default;
};

/// A throttle, wide open.
struct Throttle {
  double bore_m;
  double loss_coefficient; ///< wide open, on its own bore
  friend bool operator==(const Throttle&, const Throttle&) = default;
};

/// Volumetric efficiency at one engine speed, on the density in the manifold.
struct EfficiencyPoint {
  double speed_rev_s;
  double volumetric_efficiency;
  friend bool operator==(const EfficiencyPoint&, const EfficiencyPoint&) = default;
};

/// The engine: what draws the air.
struct Engine {
  double displacement_m3;
  int strokes;   ///< 4 or 2
  int cylinders; ///< 1 to 16
  std::vector<EfficiencyPoint>
      efficiency; ///< by rising speed, at least one; straight lines between, held outside
  double idle_speed_rev_s;
  double max_speed_rev_s;
  double
      working_speed_rev_s; ///< the speed at which the desktop opens and `evaluate` works when none is named

  /// Volumetric efficiency at a speed.
  [[nodiscard]] double volumetric_efficiency(double speed_rev_s) const;
  /// Mass flow [kg/s] that the engine takes from a manifold at this density.
  [[nodiscard]] double mass_flow_kg_s(double speed_rev_s, double manifold_density_kg_m3) const;

  friend bool operator==(const Engine&, const Engine&) = default;
};

/// What a compression does.
struct Compression {
  double outlet_temperature_K; ///< total
  double shaft_power_W;        ///< drive power, mechanical losses included
  double adiabatic_efficiency; ///< isentropic work over work done on the air
};
/// Compression of a stream by `pressure_ratio` > 0 (total to total) with an adiabatic efficiency: the work is
/// the isentropic one, with cp varying, divided by the efficiency. Below a pressure ratio of 1 the air drives
/// the machine: it yields the isentropic work times the efficiency, and the shaft power is negative.
[[nodiscard]] Compression compress(const air::Mixture& air, double inlet_temperature_K, double pressure_ratio,
                                   double mass_flow_kg_s, double adiabatic_efficiency,
                                   double mechanical_efficiency);
/// The same in a blower without internal compression: the work is the displaced volume times the pressure
/// rise (P = V_swept n (p2 - p1)), leakage (volumetric efficiency below one) heats the delivered air the
/// more. At a pressure ratio below 1 the blower is driven by the air: the shaft power is negative.
[[nodiscard]] Compression compress_without_internal(const air::Mixture& air, double inlet_pressure_Pa,
                                                    double inlet_temperature_K, double pressure_ratio,
                                                    double mass_flow_kg_s, double volumetric_efficiency,
                                                    double mechanical_efficiency);
/// Either of the two, as the blower says.
[[nodiscard]] Compression compress(const air::Mixture& air, const DisplacementBlower& blower,
                                   double inlet_pressure_Pa, double inlet_temperature_K,
                                   double pressure_ratio, double mass_flow_kg_s);

/// Mass flow [kg/s] a displacement blower delivers at an engine speed from inlet total density.
[[nodiscard]] double mass_flow_kg_s(const DisplacementBlower& blower, double engine_speed_rev_s,
                                    double inlet_density_kg_m3);

/// Outlet total temperature [K] of a cooler fed at `inlet_temperature_K` by coolant at
/// `coolant_temperature_K`.
[[nodiscard]] double cooler_outlet_K(double effectiveness, double inlet_temperature_K,
                                     double coolant_temperature_K);

/// \name Effectiveness of a heat exchanger by NTU (Kays & London). capacity_ratio = Cmin/Cmax, 0 to 1; ntu 0
/// to max_ntu (assertions). With both streams unmixed the exact series (Mason 1954) is summed, not the usual
/// approximation.
///@{
inline constexpr double max_ntu = 1000.0;
enum class Arrangement {
  counterflow,
  parallel_flow,
  cross_flow_unmixed,
  cross_flow_min_mixed,
  cross_flow_max_mixed
};
[[nodiscard]] double effectiveness(Arrangement arrangement, double ntu, double capacity_ratio);
///@}

/// Highest isentropic efficiency a blower without internal compression can have at `pressure_ratio` > 1,
/// before leakage and mechanical loss, for a perfect gas with constant `gamma`.
[[nodiscard]] double lobe_blower_ideal_efficiency(double pressure_ratio, double gamma);

} // namespace bellmouth::machine
