// SPDX-License-Identifier: GPL-3.0-or-later
// How each renderer is made.
#pragma once

#include "scene/render.hpp"

namespace bellmouth::ui::scene {

/// A renderer, or why there is none: a sentence.
struct Attempt {
  std::unique_ptr<Renderer> renderer;
  QString why_not;
  bool in_software = false; ///< no graphics chip draws
};
[[nodiscard]] Attempt try_gl();
[[nodiscard]] Attempt try_egl();

} // namespace bellmouth::ui::scene
