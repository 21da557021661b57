// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/renderers.hpp"

namespace bellmouth::ui::scene {

Attempt try_gl() {
  return {nullptr, "OpenGL of the window system is not built in.", false};
}
Attempt try_egl() {
  return {nullptr, "OpenGL without a window is not built in.", false};
}

} // namespace bellmouth::ui::scene
