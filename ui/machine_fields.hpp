// SPDX-License-Identifier: GPL-3.0-or-later
// Which fields each kind of machine, and a port, has in the editor.
#pragma once

#include "form.hpp"
#include "table_files.hpp"

#include <bellmouth/build.hpp>
#include <bellmouth/flow.hpp>

#include <functional>
#include <vector>

namespace bellmouth::ui {

/// What the fields of a machine are made with.
struct MachineContext {
  double ambient_Pa = 0; ///< pressures may be typed as gauge over it
  TableFiles files;
  /// What the machine does now, or nullptr: for the working point on a map, and to start new parts from.
  std::function<const flow::MachineFlow*()> flow;
};

/// The rows for the kind of this machine.
[[nodiscard]] std::vector<FormRow<build::Machine>> machine_fields(const build::Machine& machine,
                                                                  const MachineContext& context);
/// `build` gives the build as it is whenever a place is typed in words.
[[nodiscard]] std::vector<FormRow<build::Port>>
port_fields(const build::Port& port, const std::function<const build::Build&()>& build);

} // namespace bellmouth::ui
