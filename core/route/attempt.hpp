// SPDX-License-Identifier: GPL-3.0-or-later
// One try at a run: found, written into it, and placed anew.
#pragma once

#include "task.hpp"

#include <bellmouth/bay/clearance.hpp>
#include <bellmouth/route.hpp>

namespace bellmouth::route {

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

/// The same with as few sizes altered as can be: those that changed least are held, one after another, as
/// long as the run still meets its port and the whole change, the root of the sum of weight x change^2, stays
/// within `few_times` that of `found`, which must have met.
[[nodiscard]] Attempt with_few_changes(const Task& task, Attempt found);
inline constexpr double few_times = 3;

/// What would let the run meet its port: tried one by one.
[[nodiscard]] std::vector<Help> helps(const Task& task, const Attempt& failed);

} // namespace bellmouth::route
