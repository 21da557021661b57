// SPDX-License-Identifier: GPL-3.0-or-later
// Which fields each kind of machine, and a port, has in the editor.
#pragma once

#include "form.hpp"

#include <bellmouth/build.hpp>

#include <vector>

namespace bellmouth::ui {

/// The rows for the kind of this machine. Pressures may be typed as gauge over `ambient_Pa`.
[[nodiscard]] std::vector<FormRow<build::Machine>> machine_fields(const build::Machine& machine,
                                                                  double ambient_Pa);
[[nodiscard]] std::vector<FormRow<build::Port>> port_fields(const build::Port& port);

} // namespace bellmouth::ui
