// SPDX-License-Identifier: GPL-3.0-or-later
// What the walls of the ducting let through at the state that is really there.
#pragma once

#include "report.hpp"

namespace bellmouth::flow {

/// Solves with heat from the bay: what the walls let through depends on the flow and follows it in turns,
/// until neither changes. Without bay air this is `solve`. The conductances of `variation` are taken as a
/// beginning and left as they came out.
[[nodiscard]] Solution settle(const Path::Impl& path, Variation& variation, double engine_speed_rev_s,
                              const OperatingPoint* near);

} // namespace bellmouth::flow
