// SPDX-License-Identifier: GPL-3.0-or-later
// The compiled path: what a march walks over. Nothing here is allocated or looked up while marching.
#pragma once

#include <bellmouth/flow.hpp>

#include <cmath>
#include <cstddef>
#include <string>
#include <variant>
#include <vector>

namespace bellmouth::flow {

/// Area of a round bore [m2].
[[nodiscard]] inline double disc_m2(double bore_m) {
  return bore_m * bore_m * (M_PI / 4);
}

/// Stretches of one bore and roughness at one temperature share a friction factor, worked out where the air
/// first meets the stretch: between two such places only static temperature differs, which moves the factor
/// by less than a thousandth. Each such stretch has a slot.
inline constexpr std::size_t friction_slots = 48;
/// For stretches beyond the last slot: worked out every time.
inline constexpr std::size_t no_slot = friction_slots;

/// A bore as the march needs it.
struct Bore {
  double bore_m, area_m2, relative_roughness;
  std::size_t friction_slot = no_slot;
};

/// A fitting with a loss law on the velocity in one bore.
struct LossElement {
  loss::Law law;
  Bore bore;
};
/// A straight of constant bore: Fanno flow.
struct DuctElement {
  double friction_length_per_f; ///< length / bore
  Bore bore;
  double band; ///< relative, of the friction factor
};
/// A two-term drop on the volume flow at total density.
struct RestrictionElement {
  machine::TwoTermDrop drop;
  double factor; ///< dirt
};
struct DisplacementElement {
  machine::DisplacementBlower blower;
};
struct TargetElement {
  machine::TargetCompressor compressor;
};
struct CoolingElement {
  double effectiveness, coolant_K;
};
/// A bore that the stream must pass, where no loss asks: the spigots of machines and the end of the path.
struct GateElement {
  double area_m2;
};
using Law = std::variant<GateElement, LossElement, DuctElement, RestrictionElement, DisplacementElement,
                         TargetElement, CoolingElement>;

inline constexpr std::size_t no_row = static_cast<std::size_t>(-1);

/// One thing that happens to the stream, and whom it belongs to.
struct Element {
  Law law;
  std::size_t step; ///< in the path
  std::size_t row;  ///< of the run, or no_row for machines and entries
  double length_m;  ///< along the centreline
};

/// A row of a run as the recorder needs it.
struct RowPlan {
  double bore_in_m = 0, bore_out_m = 0;
  std::size_t first = 0, last = 0; ///< elements [first, last) that belong to it
  double volume_m3 = 0;
  std::optional<std::size_t> host; ///< fittings: the row they sit on
  double host_share = 0;           ///< and how far along it, 0 to 1
};
struct StepPlan {
  bool is_run = false;
  std::size_t first = 0, last = 0;      ///< elements
  double bore_in_m = 0, bore_out_m = 0; ///< 0: open air
  std::vector<RowPlan> rows;
  std::string name;
  std::vector<std::string> titles; ///< of the rows
};

struct Path::Impl {
  std::vector<Element> elements;
  std::vector<Element> machines_only; ///< the same without ducts
  std::vector<StepPlan> steps;
  air::Mixture air;
  double ambient_pressure_Pa = 0;
  double inlet_pressure_Pa = 0, inlet_temperature_K = 0; ///< total, where the path begins
  std::variant<machine::Engine, build::FixedFlow> demand;
  double plenum_exit_loss = 1;
  double last_bore_m = 0;
  const machine::DisplacementBlower* displacement = nullptr; ///< points into `elements`
  const machine::TargetCompressor* target = nullptr;
};

/// What the two unknowns are: the mass flow, and the blower's pressure ratio where there is one to be found.
struct Unknowns {
  double mass_flow_kg_s;
  double pressure_ratio;
};

/// A quantity with its derivatives by the two unknowns. They are exact but for the friction factor's answer
/// to Reynolds number and the heat capacity's to temperature; they steer Newton's method and nothing else.
struct Sloped {
  double value = 0, by_flow = 0, by_ratio = 0;
};

/// How a march ends.
enum class Ended { passed, chokes, too_hot };

struct Marched {
  Ended ended = Ended::passed;
  std::size_t choke_element = 0;              ///< elements.size(): the plenum
  Sloped pressure, temperature;               ///< in the plenum (or at the end of a fixed flow's path)
  Sloped blower_pressure, blower_temperature; ///< total, at the blower's inlet
  double blower_ratio = 1;                    ///< the ratio it worked at
};

/// Hears of every element with the state before and behind it; only the last march of a solve needs one.
class Recorder {
public:
  virtual ~Recorder() = default;
  /// The drop has a band where its law has one; elsewhere both ends are the drop itself.
  virtual void passed(std::size_t element, double pressure_before_Pa, double pressure_Pa,
                      double temperature_before_K, double temperature_K, double drop_low_Pa,
                      double drop_high_Pa) = 0;
};

/// Walks the stream over the elements. Total state starts at the inlet of the path.
[[nodiscard]] Marched march(const Path::Impl& path, const std::vector<Element>& elements, Unknowns at,
                            Recorder* recorder);

/// Finds the operating point over `elements` at an engine speed.
struct Solution {
  OperatingPoint point;
  Unknowns at;
};
[[nodiscard]] Solution solve(const Path::Impl& path, const std::vector<Element>& elements,
                             double engine_speed_rev_s, const OperatingPoint* near);

} // namespace bellmouth::flow
