// SPDX-License-Identifier: GPL-3.0-or-later
// One try at a run: found, written into it, and placed anew.
#pragma once

#include "closing.hpp"

#include <bellmouth/bay/clearance.hpp>
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

struct Attempt {
  Stop stop = Stop::not_measured;
  build::Run run; ///< as found
  std::optional<bay::Meeting> meeting;
  std::vector<bay::Gap> in_the_way; ///< where it is not clear, what falls short most first
  std::vector<Binding> binding;
  int evaluations = 0;
};
/// How hard to try.
struct Trouble {
  Effort effort;
  int ways = 6;    ///< that are tried to get past what stands in the way
  int rounds = 20; ///< of a way, each with what has come too near till then kept off
};
[[nodiscard]] Attempt attempt(const Task& task, const Trouble& trouble);

/// What would let the run meet its port: tried one by one.
[[nodiscard]] std::vector<Help> helps(const Task& task, const Attempt& failed);

[[nodiscard]] bool within(const bay::Meeting& meeting, const Wanted& wanted);

} // namespace bellmouth::route
