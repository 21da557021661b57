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

/// The law through points measured in dry rating air.
[[nodiscard]] TwoTermDrop fit_rated(const std::vector<RatedPoint>& points);

/// The state of a filter that is worked with.
enum class FilterState { clean, dirty, wet };

/// An air filter with its neck.
struct Filter {
  std::vector<RatedPoint> rated;          ///< clean, at rating air; at least one
  double dirty_factor = 1.0;              ///< drop when dirty over drop when clean, >= 1
  bool cold_feed = true;                  ///< draws from outside the bay
  bool oiled = false;                     ///< oiled media
  double wet_factor = 1.0;                ///< drop when soaked by rain or spray over drop when dry, >= 1
  FilterState state = FilterState::dirty; ///< dirty: the dirty factor counts; wet: both factors do

  /// What the clean drop is multiplied with in its state.
  [[nodiscard]] double factor() const;
  /// Its drop in its state. In a flow that pulses the viscous term goes with the mean flow and the inertial
  /// one with the mean of its square, so that the latter alone grows with `pulsation_factor` (>= 1), see
  /// Engine.
  [[nodiscard]] TwoTermDrop drop(double pulsation_factor = 1.0) const;
  friend bool operator==(const Filter&, const Filter&) = default;
};

/// A woven wire screen across a bore.
struct Screen {
  double wire_diameter_m, pitch_m; ///< pitch: from wire to wire, above the wire's diameter
  friend bool operator==(const Screen&, const Screen&) = default;
};

/// The body of an air-flow meter.
struct MeterBody {
  double bore_m;
  double length_m;
  double loss_coefficient; ///< on its own bore, its screen left out
  std::optional<Screen> screen = std::nullopt;
  friend bool operator==(const MeterBody&, const MeterBody&) = default;
};

/// Where a bypass valve lets the air go.
enum class BypassTo { inlet, open_air };

/// A valve that lets air past the blower: back from its outlet to its inlet, or out into the open. Taken to
/// sit at the blower's outlet.
struct BypassValve {
  double bore_m;
  double opening;               ///< share of the bore's area that is open, 0 (shut) to 1
  double discharge_coefficient; ///< of that area
  double leak_area_m2;          ///< effective area that leaks when shut; added to the open one
  BypassTo to = BypassTo::inlet;

  /// Area of an ideal nozzle that passes the same [m2].
  [[nodiscard]] double effective_area_m2() const;
  friend bool operator==(const BypassValve&, const BypassValve&) = default;
};

/// What a displacement blower was found to deliver at a stated speed and pressure ratio: from it follows the
/// leakage through its clearances, which grows with pressure and, as a share, falls with speed.
struct RatedLeak {
  double speed_rev_s;           ///< of the blower
  double pressure_ratio;        ///< total, > 1
  double volumetric_efficiency; ///< below that without pressure
  friend bool operator==(const RatedLeak&, const RatedLeak&) = default;
};

/// One point of a displacement blower's map. A map is a full grid: every speed with every pressure ratio.
struct BlowerMapPoint {
  double speed_rev_s; ///< of the blower
  double pressure_ratio;
  double volumetric_efficiency;
  double adiabatic_efficiency;
  friend bool operator==(const BlowerMapPoint&, const BlowerMapPoint&) = default;
};

/// A blower that traps a volume per turn.
struct DisplacementBlower {
  double swept_volume_m3_rev;
  double drive_ratio; ///< blower turns per engine turn
  double
      volumetric_efficiency; ///< 0 to 1.1, on inlet total density, without a pressure rise if `leak` is set
  /// Adiabatic (total-to-total) efficiency; unset: by the law of the internal compression.
  std::optional<double> adiabatic_efficiency;
  double mechanical_efficiency; ///< shaft, gears and belt
  double max_speed_rev_s;       ///< plate limit
  double max_outlet_temperature_K;
  /// Built-in volume ratio: trapped volume over volume at which the outlet opens. 1: no internal compression,
  /// all work is done against the full discharge pressure. Used where no adiabatic efficiency is given.
  double internal_volume_ratio = 1.0;
  std::optional<RatedLeak> leak = std::nullopt; ///< unset: the volumetric efficiency holds everywhere
  std::vector<BlowerMapPoint> map = {};         ///< replaces efficiencies and leak where it is not empty
  std::optional<BypassValve> bypass = std::nullopt;
  friend bool operator==(const DisplacementBlower&, const DisplacementBlower&) = default;
};

/// Where a pressure target is held.
enum class TargetAt { blower_outlet, manifold };

/// One point of a dynamic compressor's map, in corrected quantities: speed N sqrt(Tref/T), mass flow
/// m sqrt(T/Tref) pref/p, with the total state at the inlet.
struct CompressorMapPoint {
  double corrected_speed_rev_s;
  double corrected_flow_kg_s;
  double pressure_ratio; ///< total to total
  double adiabatic_efficiency;
  friend bool operator==(const CompressorMapPoint&, const CompressorMapPoint&) = default;
};
/// A map: lines of constant speed by rising speed, each by rising flow from surge to choke, two lines of two
/// points at least.
struct CompressorMap {
  double reference_temperature_K = 0;
  double reference_pressure_Pa = 0;
  std::vector<CompressorMapPoint> points;
  friend bool operator==(const CompressorMap&, const CompressorMap&) = default;
};

/// A dynamic compressor whose control holds a target pressure.
struct TargetCompressor {
  double target_pressure_Pa; ///< absolute, total
  TargetAt target_at;
  double adiabatic_efficiency; ///< total-to-total
  double mechanical_efficiency;
  bool driven_by_exhaust;    ///< takes no crank power
  double max_pressure_ratio; ///< what the compressor can do at all
  double max_outlet_temperature_K;
  std::optional<CompressorMap> map = std::nullopt; ///< gives efficiency, speed, surge and choke
  std::optional<BypassValve> bypass = std::nullopt;
  friend bool operator==(const TargetCompressor&, const TargetCompressor&) = default;
};

/// A dynamic compressor geared to the engine: its speed follows the engine's, its map says the rest.
struct GearedCompressor {
  double drive_ratio; ///< impeller turns per engine turn, the step-up gear included
  double mechanical_efficiency;
  double max_speed_rev_s; ///< of the impeller
  double max_outlet_temperature_K;
  CompressorMap map;
  std::optional<BypassValve> bypass = std::nullopt;
  friend bool operator==(const GearedCompressor&, const GearedCompressor&) = default;
};

/// Effectiveness measured at one charge flow.
struct EffectivenessPoint {
  double charge_flow_kg_s;
  double effectiveness;
  friend bool operator==(const EffectivenessPoint&, const EffectivenessPoint&) = default;
};
enum class Arrangement {
  counterflow,
  parallel_flow,
  cross_flow_unmixed,
  cross_flow_min_mixed,
  cross_flow_max_mixed
};
/// A core by its number of transfer units. The conductance U A holds at the rated charge flow and the coolant
/// flow given; the charge side's film varies with its flow to the power 0.8, the rest stays.
struct CoolerCore {
  Arrangement arrangement = Arrangement::cross_flow_unmixed;
  double conductance_W_K = 0;
  double rated_charge_flow_kg_s = 0;
  double charge_side_share = 0.5; ///< share of the resistance 1/(U A) on the charge side when rated, 0 to 1
  double coolant_flow_kg_s = 0;   ///< air through the fins, or water
  friend bool operator==(const CoolerCore&, const CoolerCore&) = default;
};
/// The water circuit of an air-to-water cooler (its water flow counts in the core, too): water goes round
/// between the core and a heat exchanger in the open air, whose effectiveness is on the smaller of the two
/// heat capacity rates.
struct CoolantLoop {
  double water_flow_kg_s = 0;
  double front_effectiveness = 0; ///< of the outer heat exchanger, 0 to 1 (0 itself excluded)
  double front_air_flow_kg_s = 0;
  friend bool operator==(const CoolantLoop&, const CoolantLoop&) = default;
};

/// A charge cooler. The drop is flange to flange, tanks included.
struct ChargeCooler {
  std::vector<RatedPoint> rated; ///< at rating air; at least one
  double effectiveness;          ///< 0 to 1; used where neither table nor core is given
  double coolant_rise_K;         ///< coolant (air or water) temperature at its inlet above ambient
  bool air_to_water = false;
  std::vector<EffectivenessPoint> effectiveness_table =
      {};                                         ///< by rising flow; straight between, held outside
  std::optional<CoolerCore> core = std::nullopt;  ///< not together with a table
  std::optional<CoolantLoop> loop = std::nullopt; ///< air-to-water with a core; `coolant_rise_K` is then that
                                                  ///< of the air at the outer heat exchanger
  friend bool operator==(const ChargeCooler&, const ChargeCooler&) = default;
};

/// A butterfly throttle.
struct Throttle {
  double bore_m;
  double loss_coefficient; ///< wide open, on its own bore
  /// Angle of the plate [rad]: 0 square across the bore (shut), pi/2 along it. Unset: wide open.
  std::optional<double> opening_rad = std::nullopt;
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
  /// Mean square over squared mean of the flow at the filter, >= 1: pulsation raises what grows with the
  /// square. 1: steady, as behind the volumes of a blown engine.
  double pulsation_factor = 1.0;
  /// Share of the air that passes straight through to the exhaust: scavenging of a two-stroke, valve overlap
  /// of a blown four-stroke. It is drawn, and gives no power; 0 to 0.9.
  double lost_in_scavenging = 0.0;
  /// Crank work of a kilogram of trapped air [J/kg], without the blower's drive; unset: a rule of the trade,
  /// see crank_work_J_kg().
  std::optional<double> work_per_air_J_kg = std::nullopt;

  /// Volumetric efficiency at a speed.
  [[nodiscard]] double volumetric_efficiency(double speed_rev_s) const;
  /// Crank work of a kilogram of trapped air [J/kg], as given or by the rule.
  [[nodiscard]] double crank_work_J_kg() const;
  /// Crank power [W] of this air flow, before a blower's drive power is taken off: the air that is trapped
  /// times its work. Two strokes or four makes no difference here, only to how much is drawn.
  [[nodiscard]] double crank_power_W(double mass_flow_kg_s) const;
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
/// Mean square over squared mean of the flow into `cylinders` (>= 1) cylinders that fire at even intervals
/// and draw straight from the open air, each in a half-sine pulse of half a turn: the upper bound of
/// Engine::pulsation_factor for a filter right at the engine, with nothing between that evens the flow out.
/// With D the interval of the pulses [rad] (2 pi strokes/2 over the number of cylinders),
///   D/4 [pi/2 + sum over k >= 1, k D < pi of ((pi - k D) cos k D + sin k D)]:
/// pi^2/2 for one cylinder of four strokes, pi^2/4 for two, pi^2/8 for four. Its root is by how much a filter
/// for a steady flow has to be larger; trade practice (an air-cleaner selection guide) has 2.1, 1.5, 1.2
/// and 1.0 for 1, 2, 3, 4 and more cylinders where the roots are 2.22, 1.57, 1.28, 1.11. Band: an upper
/// bound.
[[nodiscard]] double pulsation_factor_undamped(int cylinders, int strokes);

/// Crank work of a kilogram of air in a petrol engine at best power [J/kg]: 1.02 g/s of air for a kilowatt,
/// the middle of the rule of the trade (9.5 to 10.5 hp for each lb/min, that is 0.97 to 1.07 g/s per kW).
/// From mixtures of 12 to 13 to 1 and 304 to 335 g/kWh of fuel follow 1.01 to 1.21 g/s per kW; diesel engines
/// take about 1.9. Band: bands.hpp.
inline constexpr double default_work_per_air_J_kg = 1e6 / 1.02;

/// Compression of a stream by `pressure_ratio` > 0 (total to total) with an adiabatic efficiency: the work is
/// the isentropic one, with cp varying, divided by the efficiency. Below a pressure ratio of 1 the air drives
/// the machine: it yields the isentropic work times the efficiency, and the shaft power is negative.
[[nodiscard]] Compression compress(const air::Mixture& air, double inlet_temperature_K, double pressure_ratio,
                                   double mass_flow_kg_s, double adiabatic_efficiency,
                                   double mechanical_efficiency);
/// Outlet total temperature [K] of a cooler fed at `inlet_temperature_K` by coolant at
/// `coolant_temperature_K`.
[[nodiscard]] double cooler_outlet_K(double effectiveness, double inlet_temperature_K,
                                     double coolant_temperature_K);

/// \name Effectiveness of a heat exchanger by NTU (Kays & London). capacity_ratio = Cmin/Cmax, 0 to 1; ntu 0
/// to max_ntu (assertions). With both streams unmixed the exact series (Mason 1954) is summed, not the usual
/// approximation.
///@{
inline constexpr double max_ntu = 1000.0;
[[nodiscard]] double effectiveness(Arrangement arrangement, double ntu, double capacity_ratio);
///@}

/// Adiabatic efficiency of a compression by `pressure_ratio` > 1 whose small steps each have the polytropic
/// efficiency given, for a perfect gas with constant `gamma`:
///   (r^k - 1)/(r^(k/eta_p) - 1), k = (gamma - 1)/gamma (textbooks, e.g. Dixon & Hall, from memory).
[[nodiscard]] double adiabatic_of_polytropic(double polytropic_efficiency, double pressure_ratio,
                                             double gamma);

/// Highest isentropic efficiency a blower without internal compression can have at `pressure_ratio` > 1,
/// before leakage and mechanical loss, for a perfect gas with constant `gamma`.
[[nodiscard]] double lobe_blower_ideal_efficiency(double pressure_ratio, double gamma);

} // namespace bellmouth::machine
