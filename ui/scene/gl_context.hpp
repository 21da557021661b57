// SPDX-License-Identifier: GPL-3.0-or-later
// An OpenGL 3.3 context without a window.
#pragma once

#include <QString>

#include <memory>

namespace bellmouth::ui::scene {

class GlContext {
public:
  virtual ~GlContext() = default;
  /// Makes it the thread's own; false when it was lost.
  [[nodiscard]] virtual bool take() = 0;
  virtual void leave() = 0;
};

struct MadeContext {
  std::unique_ptr<GlContext> context; ///< not taken yet
  QString why_not;
};
/// From Qt's platform, with a surface that is never shown.
[[nodiscard]] MadeContext make_qt_context();
/// From EGL without a display server or a surface.
[[nodiscard]] MadeContext make_egl_context();

} // namespace bellmouth::ui::scene
