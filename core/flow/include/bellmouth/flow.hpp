// SPDX-License-Identifier: GPL-3.0-or-later
// The stream: the air path as a list of elements, the march along it, and the operating point at which
// engine, blower and ducting agree on one mass flow.
#pragma once

#include <bellmouth/air.hpp>
#include <bellmouth/build.hpp>
#include <bellmouth/joint.hpp>
#include <bellmouth/loss.hpp>
#include <bellmouth/machine.hpp>

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace bellmouth::flow {

/// A cross-section on the way.
struct Section {
  air::Station station;
  double bore_m = 0;
  double reynolds = 0;
};

/// What one row of a run does to the stream.
struct PieceFlow {
  Section inlet, outlet;
  double loss_coefficient = 0; ///< total pressure lost over rho V^2 / 2 at the end with the smaller bore
  double drop_Pa = 0;          ///< total pressure lost, the steps inside its hose joints included
  double drop_low_Pa = 0;      ///< the same at the low end of the bands
  double drop_high_Pa = 0;
  double volume_m3 = 0;
  double heat_W = 0;          ///< picked up through the wall; negative: given off
  bool outside_range = false; ///< a correlation was used outside its range
  std::string_view range;     ///< which range that is, of the first such correlation
};

struct RunFlow {
  std::vector<PieceFlow>
      rows; ///< one per row of the run; fittings show the state where they sit and lose nothing
  double drop_Pa = 0, drop_low_Pa = 0, drop_high_Pa = 0;
  double volume_m3 = 0;
  double peak_mach = 0;
  double peak_velocity_m_s = 0;
  double heat_W = 0; ///< picked up through the walls
};

/// Where a compressor works on its map.
struct MapPlace {
  double margin_to_surge = 0; ///< flow over the flow at surge at this speed, less one
  bool below_surge = false, beyond_choke = false, outside_speeds = false;
};

struct MachineFlow {
  air::Station inlet, outlet; ///< at the bores of the ports, or of the neighbours
  double drop_Pa = 0;         ///< negative for a blower: the rise
  double drop_low_Pa = 0;     ///< the same at the ends of its band
  double drop_high_Pa = 0;
  double pressure_ratio = 1;        ///< total, outlet over inlet
  double shaft_power_W = 0;         ///< blowers
  double adiabatic_efficiency = 0;  ///< blowers
  double volumetric_efficiency = 0; ///< displacement blowers: delivered over swept, leakage taken off
  double speed_rev_s = 0;           ///< blowers, where it is known
  double bypass_kg_s = 0;   ///< through the bypass valve, back or out; negative: past the blower, forwards
  bool outside_map = false; ///< a map was read outside its points
  std::optional<MapPlace> on_map;         ///< compressors with a map
  double heat_W = 0;                      ///< coolers: taken from the air
  double effectiveness = 0;               ///< coolers: of the temperature difference to the coolant's inlet
  double water_in_K = 0, water_out_K = 0; ///< coolers with a water circuit
};

/// A point of the plot along the path.
struct PathPoint {
  double distance_m = 0;
  double total_pressure_Pa = 0, static_pressure_Pa = 0, velocity_m_s = 0, total_temperature_K = 0, mach = 0;
  std::size_t step = 0; ///< index in the build's path
};

/// Why a solve ended.
enum class Stop {
  not_run,
  converged,
  fixed_flow,     ///< nothing to solve: the flow is given
  chokes,         ///< no flow the engine would take gets through; see `choke_where` and `max_mass_flow_kg_s`
  out_of_reach,   ///< the target pressure is beyond what the compressor can do
  target_too_low, ///< the target lies below what the compressor is given
  too_hot,        ///< the blower is so large that its outlet would pass 1000 K, where the model of air ends
  backwards,      ///< one of several branches cannot hold against the others: its air would turn round
  no_agreement,   ///< Newton and the bracketed fallback both failed; a bug or a most unusual build
};
[[nodiscard]] std::string_view text(Stop stop);

struct OperatingPoint {
  Stop stop = Stop::not_run;
  int iterations = 0;  ///< marches done
  double residual = 0; ///< relative: (engine's flow - path's flow) / path's flow, and the like for the target
  double engine_speed_rev_s = 0; ///< 0 for a fixed flow
  double mass_flow_kg_s = 0;
  double blower_pressure_ratio = 1; ///< total, outlet over inlet; 1 without a blower
  double manifold_pressure_Pa = 0;  ///< total = static in the plenum; at the path's end for a fixed flow
  double manifold_temperature_K = 0;
  std::size_t choke_element =
      0; ///< of the compiled path, when it chokes; choke_step and choke_where say it in words
  std::optional<std::size_t>
      choke_step; ///< path step at which the flow chokes; unset: on entering the manifold
  std::optional<std::size_t> choke_row; ///< row of that run
  std::string choke_where;
  double max_mass_flow_kg_s = 0; ///< when it chokes: the flow at which it would not
  double drive_power_W = 0;      ///< of the blowers that the crank drives
  double crank_power_W = 0;      ///< of the engine, that power taken off; 0 for a fixed flow
  std::vector<double> unknowns;  ///< where the solver stands, to start from nearby

  /// Whether the flow values may be used.
  [[nodiscard]] bool usable() const { return stop == Stop::converged || stop == Stop::fixed_flow; }
};

/// The state along the whole path. `runs` and `machines` have an entry for each path step of that kind, in
/// order.
struct PathFlow {
  OperatingPoint point;
  std::vector<RunFlow> runs;
  std::vector<MachineFlow> machines;
  std::vector<PathPoint> profile;
};

/// What a piece, a run or a machine takes from the engine: the same point found again with that thing
/// lossless.
struct Cost {
  bool known = false;     ///< false: there is no operating point without that thing's losses; the rest is 0
  double air_kg_s = 0;    ///< air that the engine would draw more
  double power_W = 0;     ///< power at the crank that there would be more
  double pressure_Pa = 0; ///< pressure in the manifold that there would be more
};
struct Costs {
  struct Run {
    Cost whole;
    std::vector<Cost> rows; ///< one per row of the run; fittings have their own
  };
  std::vector<Run> runs;      ///< in path order, as the machines
  std::vector<Cost> machines; ///< filters, coolers, meter bodies, throttles without their drop; blowers: none
  Cost ducting;               ///< all runs at once; not the sum, since they share the stream
};

/// A result with the ends of its band (about 19 in 20).
struct Banded {
  double value = 0, low = 0, high = 0;
};
/// A source of doubt and what it moves, from its low to its high end alone.
struct Doubt {
  std::string name;   ///< what is in doubt
  std::string source; ///< whose band it is
  std::size_t members = 0;
  double manifold_pressure_low_Pa = 0, manifold_pressure_high_Pa = 0; ///< change of the result
  double crank_power_low_W = 0, crank_power_high_W = 0;
};
/// The bands of the results. Errors of one correlation are taken to go together in all pieces that use it,
/// those of different ones to be independent; each is moved to both ends of its band alone and the changes
/// are added in squares (first order).
struct Bands {
  Banded manifold_pressure_Pa, manifold_temperature_K, mass_flow_kg_s, crank_power_W, drive_power_W;
  std::vector<Banded> run_drops_Pa; ///< in path order
  std::vector<Doubt> doubts;
};

/// Time [s] in which a volume that is fed with `supply_kg_s` and from which an engine swallows
/// `swallow_m3_s` goes from one density to another at one temperature: V d(rho)/dt = m - q rho, so that it
/// nears m/q with the time constant V/q (mass balance of a well-mixed volume; closed form). Without an engine
/// the rise is straight. Nothing when the density is never reached. Volume, supply and densities above zero,
/// swallow not below (assertions).
[[nodiscard]] std::optional<double> fill_time_s(double volume_m3, double from_kg_m3, double to_kg_m3,
                                                double supply_kg_s, double swallow_m3_s);

/// The path of one option made ready to march: lengths, bores and loss laws worked out once. Cheap to march
/// many times, and const while doing so.
class Path {
public:
  /// `fits` holds the joints of the option's runs in the order in which the path names them.
  Path(const build::Build& build, const build::Option& option, const std::vector<joint::RunFit>& fits);
  ~Path();
  Path(Path&&) noexcept;
  Path& operator=(Path&&) noexcept;

  /// The operating point at an engine speed (ignored for a fixed flow), and the state along the path there.
  [[nodiscard]] PathFlow solve(double engine_speed_rev_s) const;
  /// The operating point alone, starting from `near` where one is given.
  [[nodiscard]] OperatingPoint operating_point(double engine_speed_rev_s,
                                               const OperatingPoint* near = nullptr) const;
  /// The same path with ducts that cost nothing: machines only.
  [[nodiscard]] OperatingPoint operating_point_without_ducts(double engine_speed_rev_s,
                                                             const OperatingPoint* near = nullptr) const;

  /// What each piece, run and machine costs at a usable operating point of this path.
  [[nodiscard]] Costs costs(const OperatingPoint& point) const;
  /// The bands of the results at a usable operating point of this path.
  [[nodiscard]] Bands bands(const OperatingPoint& point) const;

  /// The state at a place of a piece at a usable operating point of this path: what a sensor or a valve meets
  /// there. `run` counts runs in path order; the row must be no fitting (assertions). `distance_m` goes from
  /// the piece's inlet along its centreline, 0 to its length, and is cut to that; a mitred bend counts along
  /// its cuts. Friction in straights is followed to the place exactly (Fanno flow); a bend, a cone, a hump
  /// lose evenly along their length, a cone's bore changes evenly, and so does what the wall lets through.
  [[nodiscard]] Section tapping(const OperatingPoint& point, std::size_t run, std::size_t row,
                                double distance_m) const;

  /// How many sources of doubt there are.
  [[nodiscard]] std::size_t doubts() const;
  /// The operating point with each source of doubt moved by that many half widths of its band (-1: its low
  /// end, 1: its high end), and the drops of the runs there. `deviations` has one entry for each.
  struct Deviated {
    OperatingPoint point;
    std::vector<double> run_drops_Pa;
  };
  [[nodiscard]] Deviated deviated(const OperatingPoint& point, const std::vector<double>& deviations) const;

  struct Impl;

private:
  std::unique_ptr<const Impl> impl_;
};

} // namespace bellmouth::flow
