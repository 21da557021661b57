// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/gl_context.hpp"

#include <QGuiApplication>
#include <QOffscreenSurface>
#include <QOpenGLContext>
#include <QSurfaceFormat>

namespace bellmouth::ui::scene {

namespace {

class QtContext final : public GlContext {
public:
  QtContext() {
    QSurfaceFormat format;
    format.setRenderableType(QSurfaceFormat::OpenGL);
    format.setVersion(3, 3);
    format.setProfile(QSurfaceFormat::CoreProfile);
    context_.setFormat(format);
    surface_.setFormat(format);
  }
  [[nodiscard]] bool make() {
    if (!context_.create())
      return false;
    surface_.create();
    return surface_.isValid();
  }
  [[nodiscard]] bool new_enough() const { return context_.format().version() >= qMakePair(3, 3); }
  [[nodiscard]] bool take() override { return context_.makeCurrent(&surface_); }
  void leave() override { context_.doneCurrent(); }

private:
  QOffscreenSurface surface_;
  QOpenGLContext context_;
};

} // namespace

MadeContext make_qt_context() {
  if (!qGuiApp)
    return {nullptr, "OpenGL of the window system needs a running window program."};
  auto context = std::make_unique<QtContext>();
  if (!context->make())
    return {nullptr, QString("The window system (%1) gives no OpenGL.").arg(QGuiApplication::platformName())};
  if (!context->new_enough())
    return {nullptr, "The window system's OpenGL is older than 3.3."};
  return {std::move(context), {}};
}

} // namespace bellmouth::ui::scene
