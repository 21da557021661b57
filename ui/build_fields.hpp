// SPDX-License-Identifier: GPL-3.0-or-later
// Which fields the build as a whole has in the editor.
#pragma once

#include "form.hpp"
#include "session.hpp"
#include "table_files.hpp"

#include <bellmouth/build.hpp>

#include <vector>

namespace bellmouth::ui {

/// A form's heading and its rows.
struct BuildGroup {
  QString title;
  std::vector<FormRow<build::Build>> rows;
};
/// The groups; what a build has not is not shown. What a choice takes away it keeps aside. A flow bench that
/// takes the engine's place for the first time starts from the flow that the session shows.
[[nodiscard]] std::vector<BuildGroup> build_fields(const Session& session, const TableFiles& files);

/// An engine of ordinary size, to start from: four cylinders, 2 litres, four strokes.
[[nodiscard]] machine::Engine ordinary_engine();

} // namespace bellmouth::ui
