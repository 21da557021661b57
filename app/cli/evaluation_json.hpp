// SPDX-License-Identifier: GPL-3.0-or-later
// An evaluation for machines.
#pragma once

#include "json.hpp"

#include <bellmouth/evaluate.hpp>

#include <optional>
#include <vector>

namespace bellmouth::cli {

/// The clearances of an evaluation's runs in a state of the bay.
struct Clearances {
  std::optional<build::StateId> state; ///< unset: at rest
  std::vector<bay::RunClearance> runs;
};
/// A place of a piece whose state is asked for, and the state there.
struct Tap {
  build::RunId run;
  std::size_t row = 0;
  double distance_m = 0; ///< from the piece's inlet
  flow::Section state;
};
/// Everything `evaluate` says. The operating point must be usable (an assertion).
[[nodiscard]] Json json_of(const build::Build& build, const Evaluation& evaluation,
                           const Clearances& clearances, const std::vector<Tap>& taps);
[[nodiscard]] Json json_of(const std::vector<check::Finding>& findings);
/// Amounts in whole units of the currency; `left` is null without a budget.
[[nodiscard]] Json json_of(const buy::Totals& totals);
/// The amount alone, null when it is not known.
[[nodiscard]] Json json_of(const std::optional<quantity::Money>& money);
/// The rows that something leads back to.
[[nodiscard]] Json json_of(const build::PieceRef& piece);

/// The section that a row's coefficient, velocity, Mach and Reynolds number are those of: its smaller end.
[[nodiscard]] const flow::Section& section_of(const flow::PieceFlow& piece);

} // namespace bellmouth::cli
