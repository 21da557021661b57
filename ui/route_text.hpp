// SPDX-License-Identifier: GPL-3.0-or-later
// Routes in words.
#pragma once

#include "route_search.hpp"

#include <QString>
#include <QStringList>

namespace bellmouth::ui {

/// In what it is best or another way, or else "Route 3".
[[nodiscard]] QString route_title(const find::Proposal& route, std::size_t number);
/// Price and drop; joints, length and volume; how it ends, and how much the checks say of it alone; what it
/// comes nearest to. `ghost` is the route in the build.
[[nodiscard]] QStringList route_lines(const find::Proposal& route, const RouteGhost& ghost);
/// What can be done with it, and what the checks say of it alone.
[[nodiscard]] QString route_tip(const find::Proposal& route);
/// "1.4 s, 120 rounds, best cost 96.2".
[[nodiscard]] QString progress_words(const RouteSearch::Progress& progress);
/// What the cost is, and how little it could be.
[[nodiscard]] QString progress_tip(const RouteSearch::Progress& progress);

} // namespace bellmouth::ui
