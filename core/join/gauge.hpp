// SPDX-License-Identifier: GPL-3.0-or-later
// Pressures at the joints, and a run put back into its build.
#pragma once

#include <bellmouth/flow.hpp>
#include <bellmouth/joint.hpp>

#include <vector>

namespace bellmouth::join {

/// Static pressure above ambient in each joint of a spigot in a hose [Pa]; 0 elsewhere and where the
/// operating point is not usable.
[[nodiscard]] std::vector<double> gauges_Pa(const build::Build& build, const joint::RunFit& fit,
                                            const flow::RunFlow& flow);

/// The build with a run in the place of the one with its id.
[[nodiscard]] build::Build with_run(const build::Build& build, const build::OptionId& option,
                                    const build::Run& run);

} // namespace bellmouth::join
