// SPDX-License-Identifier: GPL-3.0-or-later
// How solids look: colours and finishes by what they are.
#pragma once

#include "scene/render.hpp"
#include "scene/solid.hpp"

namespace bellmouth::ui::scene {

/// Items for solids, one each, the id of an item being its solid's place + 1. `dark` is for a dark window.
[[nodiscard]] Scene dressed(const std::vector<Solid>& solids, bool dark);

} // namespace bellmouth::ui::scene
