// SPDX-License-Identifier: GPL-3.0-or-later
// The stream in the runs, pressures at their joints, and a run put back into its build.
#pragma once

#include <bellmouth/flow.hpp>
#include <bellmouth/joint.hpp>

#include <optional>
#include <utility>
#include <vector>

namespace bellmouth::join {

using IdFlow = std::pair<build::RunId, flow::RunFlow>;
/// The stream in each run in path order, at an engine speed or else the working speed; without rows where
/// there is no operating point.
[[nodiscard]] std::vector<IdFlow> flows_of(const build::Build& build, const build::OptionId& option,
                                           std::optional<double> engine_speed_rev_s = std::nullopt);
[[nodiscard]] const flow::RunFlow& of_run(const std::vector<IdFlow>& flows, const build::RunId& run);

/// Static pressure above ambient in each joint of a spigot in a hose [Pa]; 0 elsewhere and where the
/// operating point is not usable.
[[nodiscard]] std::vector<double> gauges_Pa(const build::Build& build, const joint::RunFit& fit,
                                            const flow::RunFlow& flow);

/// The build with a run in the place of the one with its id.
[[nodiscard]] build::Build with_run(const build::Build& build, const build::OptionId& option,
                                    const build::Run& run);

} // namespace bellmouth::join
