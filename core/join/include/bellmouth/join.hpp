// SPDX-License-Identifier: GPL-3.0-or-later
// Proposals that put right what is wrong at joints: what is missing between two ends, and the mend that a
// finding has.
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/check.hpp>
#include <bellmouth/evaluate.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::join {

/// A change to a build, to be looked at before it is taken. Taking it is one step.
struct Proposal {
  std::string title;              ///< "Join suction": what the step is called
  std::vector<std::string> steps; ///< each thing that is done, in words with figures, in order of flow
  std::vector<std::string> open;  ///< what stays undone, each with the reason
  build::Build build;             ///< with all that done; equal to the given one when there are no steps

  [[nodiscard]] bool does_something() const { return !steps.empty(); }
};

/// Puts in what is missing at the joints of a run, or of all runs of an option: couplers between rigid ends
/// of one size that are not to be welded, reducers in the steps that exist in stock between ends of different
/// size, tubes between hose ends, hoses in the place of those that do not go on their spigots, beads where
/// the pressure at the working speed asks for them and none at welds, engagements that leave room for the
/// clamp. What is owned is taken first, then what is cheapest; clamps are chosen with the joints. Whether a
/// run still meets its port afterwards is not asked; the last step of a run says by how much its length
/// changes. Joining what was joined does nothing. The option, and the run where one is named, must exist
/// (assertions).
[[nodiscard]] Proposal join(const build::Build& build, const build::OptionId& option,
                            const std::optional<build::RunId>& run = std::nullopt);

/// The mend of a finding of an evaluated option, or of its purchase; nothing where there is none that a
/// program could choose. It holds what it promises: at the evaluated speed the mended option has fewer
/// findings of that rule in that run, or lesser ones, and no stop that was not there (of findings about a
/// purchase, which no evaluation holds, only the latter). Some mends do the same for all pieces of the option
/// that the rule speaks of; what they cannot do stands in `open`.
[[nodiscard]] std::optional<Proposal> mend(const build::Build& build, const Evaluation& evaluation,
                                           const check::Finding& finding);

/// The keys of the rules whose findings can have a mend.
[[nodiscard]] std::vector<std::string_view> mended_rules();

} // namespace bellmouth::join
