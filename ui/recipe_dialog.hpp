// SPDX-License-Identifier: GPL-3.0-or-later
// Asks which machines a new build has.
#pragma once

#include "new_build.hpp"

#include <optional>

class QWidget;

namespace bellmouth::ui {

/// The user's answer; nothing when they think better of it.
[[nodiscard]] std::optional<Recipe> ask_recipe(QWidget* parent);

} // namespace bellmouth::ui
