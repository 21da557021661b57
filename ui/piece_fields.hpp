// SPDX-License-Identifier: GPL-3.0-or-later
// Which fields each kind of piece has in the editor.
#pragma once

#include "form.hpp"

#include <bellmouth/build.hpp>

#include <vector>

namespace bellmouth::ui {

/// The rows for the kind of this piece: sizes first, then material and label.
[[nodiscard]] std::vector<FormRow<build::Piece>> piece_fields(const build::Piece& piece);

} // namespace bellmouth::ui
