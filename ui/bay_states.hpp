// SPDX-License-Identifier: GPL-3.0-or-later
// The bay in the state that is looked at: what moved with the engine, and where it is tight then.
#pragma once

#include "fact_list.hpp"
#include "scene/solid.hpp"
#include "session.hpp"

#include <QString>

#include <optional>
#include <vector>

namespace bellmouth::ui {

/// The engine's roll in the state that is looked at, as a share of its movement; 0 at rest.
[[nodiscard]] double roll_share(const Session& session);
/// Where a solid lies when the engine has rolled. A flexible piece is moved as a whole, by the mean of what
/// its two ends do.
[[nodiscard]] mesh::Placement placement_in_state(const Session& session, const scene::Solid& solid);

/// The clearances in the state that is looked at, one entry for each run of the evaluation.
[[nodiscard]] std::vector<bay::RunClearance> clearances_shown(const Session& session);

/// A place that is tighter than it should be, or the closest of a run.
struct TightPlace {
  build::Vector from_m{}, to_m{};
  enum class Judgement { fine, doubtful, tight } judgement = Judgement::fine;
  QString words; ///< "8.2 mm to battery"
};
/// The tightest places of all runs, the worst first and no more than `most` of them; for a run that is clear,
/// the closest it comes to anything within 100 mm.
[[nodiscard]] std::vector<TightPlace>
tight_places(const Session& session, const std::vector<bay::RunClearance>& clearances, std::size_t most = 6);
/// How near a piece comes to what is nearest: "8.2 mm to battery; 10.0 mm asked for". Empty where nothing is
/// known.
[[nodiscard]] QString clearance_words(const Session& session,
                                      const std::vector<bay::RunClearance>& clearances,
                                      const build::RunId& run, std::size_t row);

/// The same as figures, in the state that is looked at, for a row or the closest place of a whole run.
/// Nothing where nothing is known.
[[nodiscard]] std::vector<Fact> clearance_facts(const Session& session, const build::RunId& run,
                                                std::optional<std::size_t> row = std::nullopt);

} // namespace bellmouth::ui
