// SPDX-License-Identifier: GPL-3.0-or-later
// Fields of how the engine moves on its mounts and how far ducting stays off things.
#pragma once

#include "bay_rows.hpp"

namespace bellmouth::ui {

[[nodiscard]] std::vector<FormRow<build::Build>> movement_fields(const BuildNow& now);
[[nodiscard]] std::vector<FormRow<build::Build>> clearance_fields();

/// An engine on soft mounts, to start from: about a lengthwise axis through the origin, 15 mm to either side
/// at 400 mm above it, without a shake (common practice from memory: 10 to 25 mm at the top of the engine).
[[nodiscard]] build::EngineMovement soft_mounted_engine();

} // namespace bellmouth::ui
