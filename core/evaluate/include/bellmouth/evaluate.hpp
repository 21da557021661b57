// SPDX-License-Identifier: GPL-3.0-or-later
// The one door: from a build to everything that screen, paper and prompt show. Pure, deterministic,
// thread-safe.
#pragma once

#include <bellmouth/bay.hpp>
#include <bellmouth/bay/clearance.hpp>
#include <bellmouth/build.hpp>
#include <bellmouth/buy.hpp>
#include <bellmouth/check.hpp>
#include <bellmouth/flow.hpp>
#include <bellmouth/joint.hpp>
#include <bellmouth/list.hpp>

#include <optional>
#include <vector>

namespace bellmouth {

/// One run of the evaluated option.
struct RunResult {
  build::RunId id;
  joint::RunFit fit;
  flow::RunFlow flow;                  ///< empty rows when the operating point is not usable
  double length_m = 0;                 ///< of the centreline
  std::vector<bay::Frame> frames;      ///< empty when the start port is not measured
  std::optional<bay::Meeting> meeting; ///< unset when a port is not measured
  bay::RunRoom room;                   ///< at rest
  bay::RunClearance clearance;         ///< at rest: what is tight alone, see clearances_in()
  int joints = 0;                      ///< hose joints and welds
};

/// Everything about one option at one engine speed. Stands on its own: it shares the build's stock, at which
/// the joints point.
struct Evaluation {
  build::OptionId option;
  build::Shared<std::vector<build::StockItem>> stock;
  flow::PathFlow path;         ///< `path.runs` has been moved into `runs`
  std::vector<RunResult> runs; ///< in path order
  list::Lists lists;
  std::vector<check::Finding> findings;
  double duct_volume_m3 = 0;
  double duct_drop_Pa = 0; ///< sum over the runs
  /// Share of the air that the ducting costs: 1 - mass flow / mass flow with ideal ducts; unset for a fixed
  /// flow.
  std::optional<double> air_lost_to_ducting;
  /// Seconds to fill the runs behind the blower from ambient to manifold pressure at this mass flow: volume x
  /// density rise / mass flow. Cooler and manifold, whose volumes are not known, are left out. Unset without
  /// a blower.
  std::optional<double> fill_time_s;
  /// Seconds in which the pressure behind the blower makes 95 % of its way from ambient to where it ends,
  /// while the engine draws all the time. The same volumes; unset where the fill time is.
  std::optional<double> response_time_s;
};

/// Evaluates an option at an engine speed; without one, at the engine's working speed. The option must exist
/// (assertion).
[[nodiscard]] Evaluation evaluate(const build::Build& build, const build::OptionId& option,
                                  std::optional<double> engine_speed_rev_s = std::nullopt);

/// The clearances of an evaluated option's runs, in their order, in a state of the bay; no state: at rest. A
/// state must be one of the build's (an assertion).
[[nodiscard]] std::vector<bay::RunClearance> clearances_in(const build::Build& build,
                                                           const Evaluation& evaluation,
                                                           const std::optional<build::StateId>& state);

/// The findings of an evaluated option with those about its purchase: stops, then cautions, then notes.
[[nodiscard]] std::vector<check::Finding> findings(const build::Build& build, const Evaluation& evaluation,
                                                   const buy::Purchase& purchase);

/// What the parts of an evaluated option cost the engine, and how far its figures can be trusted. Both take
/// some dozens of solves and are asked for apart.
struct Weighing {
  flow::Costs costs;
  flow::Bands bands;
};
/// Weighs an option at the point of its evaluation; nothing where that point is not usable.
[[nodiscard]] std::optional<Weighing> weigh(const build::Build& build, const Evaluation& evaluation);

/// The state of the air at a place of a piece, `distance_m` from its inlet along the centreline: see
/// flow::Path::tapping. The point must be usable, the piece one of the evaluated option that is no fitting
/// (assertions).
[[nodiscard]] flow::Section tapping(const build::Build& build, const Evaluation& evaluation,
                                    const build::RunId& run, std::size_t row, double distance_m);

/// The operating point at each speed, each started from the one before.
[[nodiscard]] std::vector<flow::OperatingPoint> sweep(const build::Build& build,
                                                      const build::OptionId& option,
                                                      const std::vector<double>& engine_speeds_rev_s);

/// The build with a run in another tube size and its material: every constant-bore piece takes the size, and
/// each piece is made from the stock near it where there is some.
[[nodiscard]] build::Build with_run_in_size(const build::Build& build, const build::OptionId& option,
                                            const build::RunId& run, const stock::TubeSize& tube);

/// One row of a sizing table: the run with every constant-bore piece in that tube size, and each piece as it
/// can be bought where stock has one near. Lengths change with the stock's bend radii; whether the run still
/// meets its port is not asked.
struct SizeRow {
  stock::TubeSize size;
  bool as_it_is = false; ///< the run is in this size now
  double bore_m = 0;
  std::optional<Error>
      refused; ///< why the run cannot be in this size at all; nothing else of the row holds then
  bool usable = false;
  int stops = 0; ///< stop findings that are not waived: ends that no longer fit in this size, and the like
  double peak_velocity_m_s = 0, peak_mach = 0, drop_Pa = 0, volume_m3 = 0;
  double mass_flow_kg_s = 0, manifold_pressure_Pa = 0;
  quantity::Money total; ///< of the whole option
  int unpriced = 0;
};
[[nodiscard]] std::vector<SizeRow> size(const build::Build& build, const build::OptionId& option,
                                        const build::RunId& run,
                                        std::optional<double> engine_speed_rev_s = std::nullopt);

} // namespace bellmouth
