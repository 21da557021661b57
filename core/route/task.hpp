// SPDX-License-Identifier: GPL-3.0-or-later
// What is to be met, and how what was found gets into the run.
#pragma once

#include "closing.hpp"

#include <bellmouth/route.hpp>

namespace bellmouth::route {

/// How a run lies, worked out from the build itself.
struct Lay {
  std::vector<bay::Track> tracks;
  std::vector<bay::Frame> frames;
  std::optional<bay::Meeting> meeting; ///< unset: a port is not measured
};
[[nodiscard]] Lay lay(const build::Build& build, const build::Run& run);

/// A build's run with what may move, and what is wanted.
struct Task {
  const build::Build& build;
  const build::OptionId& option;
  const build::Run& run;
  std::vector<Freedom> freedoms; ///< in order of rows
  Wanted wanted;
};

[[nodiscard]] bool within(const bay::Meeting& meeting, const Wanted& wanted);
[[nodiscard]] bool holds(const Freedom& freedom, double size);

/// The sizes that may move, as they are.
[[nodiscard]] std::vector<double> present_sizes(const Task& task);
/// Bends reach behind their fittings, whatever the end misses its port by: that weighs a thousand times.
[[nodiscard]] std::vector<Plane> host_planes(const Task& task, const Closing& closing);
/// The run with sizes as found, each within its limits.
[[nodiscard]] build::Run written_into(const Task& task, const std::vector<double>& present,
                                      const Closing& closing, const Found& found);
/// The limits that keep it from coming nearer.
[[nodiscard]] std::vector<Binding> bindings(const Task& task, Closing& closing, const Found& found);

} // namespace bellmouth::route
