// SPDX-License-Identifier: GPL-3.0-or-later
// Which fields a keep-out of each shape has in the editor.
#pragma once

#include "bay_rows.hpp"

namespace bellmouth::ui {

/// The rows for the shape of this keep-out in this build. `now` gives the build whenever a place is typed.
[[nodiscard]] std::vector<FormRow<build::KeepOut>>
keep_out_fields(const build::KeepOut& keep_out, const build::Build& build, const BuildNow& now);

} // namespace bellmouth::ui
