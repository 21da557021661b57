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
  bool outside_range = false; ///< a correlation was used outside its range
};

struct RunFlow {
  std::vector<PieceFlow>
      rows; ///< one per row of the run; fittings show the state where they sit and lose nothing
  double drop_Pa = 0, drop_low_Pa = 0, drop_high_Pa = 0;
  double volume_m3 = 0;
  double peak_mach = 0;
  double peak_velocity_m_s = 0;
};

struct MachineFlow {
  air::Station inlet, outlet;      ///< at the bores of the ports, or of the neighbours
  double drop_Pa = 0;              ///< negative for a blower: the rise
  double pressure_ratio = 1;       ///< total, outlet over inlet
  double shaft_power_W = 0;        ///< blowers
  double adiabatic_efficiency = 0; ///< blowers
  double speed_rev_s = 0;          ///< displacement blowers
  double heat_W = 0;               ///< coolers: taken from the air
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

  struct Impl;

private:
  std::unique_ptr<const Impl> impl_;
};

} // namespace bellmouth::flow
