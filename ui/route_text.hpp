// SPDX-License-Identifier: GPL-3.0-or-later
// Routes in words.
#pragma once

#include "route_search.hpp"

#include <QString>
#include <QStringList>

namespace bellmouth::ui {

/// In what it is best or another way, or else "Route 3".
[[nodiscard]] QString route_title(const find::Proposal& route, std::size_t number);
/// Price, drop, joints; length, volume, how it ends; what it comes nearest to; what the checks say of it
/// alone. `ghost` is the route in the build.
[[nodiscard]] QStringList route_lines(const find::Proposal& route, const RouteGhost& ghost);
/// "120 rounds, 1.4 s; the best costs 96.2, none can cost less than 91.0".
[[nodiscard]] QString progress_words(const RouteSearch::Progress& progress);

} // namespace bellmouth::ui
