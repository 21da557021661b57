// SPDX-License-Identifier: GPL-3.0-or-later
// A run as elements of the path.
#pragma once

#include "assembly.hpp"

#include <bellmouth/joint.hpp>

namespace bellmouth::flow {

/// Where a run stands.
struct RunPlace {
  bool from_open_air = false;
  bool behind_blower = false;
  std::size_t first = none; ///< element at which it begins: what the air loses where branches divide
};

/// Appends the elements of a run and its plan.
void compile_run(Assembly& assembly, const build::Build& build, const build::Run& run,
                 const joint::RunFit& fit, const RunPlace& place);

} // namespace bellmouth::flow
