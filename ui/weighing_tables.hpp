// SPDX-License-Identifier: GPL-3.0-or-later
// What the parts of an option cost the engine, and where the doubt about its figures comes from, as tables.
#pragma once

#include "ranked_table.hpp"

#include <bellmouth/evaluate.hpp>

namespace bellmouth::ui {

/// \name Columns
///@{
enum CostColumn { cost_where, cost_what, cost_power, cost_air, cost_pressure, cost_drop, cost_columns };
enum DoubtColumn { doubt_what, doubt_source, doubt_pressure, doubt_power, doubt_pieces, doubt_columns };
///@}

/// Every piece, run and machine, and all the ducting last. Where the flow is given there is no engine: power
/// and air are nothing then. The evaluation must be usable, the weighing its own.
[[nodiscard]] Ranking costs_ranking(const build::Build& build, const Evaluation& evaluation,
                                    const Weighing& weighing);
/// What each doubt alone moves, and all together last.
[[nodiscard]] Ranking doubts_ranking(const Weighing& weighing);
/// What the numbers of either table mean, in a sentence or two.
[[nodiscard]] QString costs_words(const build::Build& build);
[[nodiscard]] QString doubts_words();

} // namespace bellmouth::ui
