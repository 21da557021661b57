// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/gl_context.hpp"

#include <EGL/egl.h>
#include <EGL/eglext.h>
#include <array>
#include <cstring>

namespace bellmouth::ui::scene {

namespace {

class EglContext final : public GlContext {
public:
  ~EglContext() override {
    if (context_ != EGL_NO_CONTEXT)
      eglDestroyContext(display_, context_);
    if (display_ != EGL_NO_DISPLAY)
      eglTerminate(display_);
  }

  /// Empty when it worked.
  [[nodiscard]] QString make() {
    const char* const extensions = eglQueryString(EGL_NO_DISPLAY, EGL_EXTENSIONS);
    if (!extensions || !std::strstr(extensions, "EGL_MESA_platform_surfaceless"))
      return "EGL has no platform without a display.";
    const auto get_display =
        reinterpret_cast<PFNEGLGETPLATFORMDISPLAYEXTPROC>(eglGetProcAddress("eglGetPlatformDisplayEXT"));
    if (!get_display)
      return "EGL has no platform displays.";
    display_ = get_display(EGL_PLATFORM_SURFACELESS_MESA, nullptr, nullptr);
    if (display_ == EGL_NO_DISPLAY || !eglInitialize(display_, nullptr, nullptr))
      return "EGL without a display cannot be started.";
    if (!eglBindAPI(EGL_OPENGL_API))
      return "EGL has no OpenGL.";
    constexpr std::array wanted{EGL_SURFACE_TYPE, 0, EGL_RENDERABLE_TYPE, EGL_OPENGL_BIT, EGL_NONE};
    EGLConfig config = nullptr;
    EGLint found = 0;
    if (!eglChooseConfig(display_, wanted.data(), &config, 1, &found) || found < 1)
      return "EGL has no setting for OpenGL.";
    constexpr std::array version{EGL_CONTEXT_MAJOR_VERSION,
                                 3,
                                 EGL_CONTEXT_MINOR_VERSION,
                                 3,
                                 EGL_CONTEXT_OPENGL_PROFILE_MASK,
                                 EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT,
                                 EGL_NONE};
    context_ = eglCreateContext(display_, config, EGL_NO_CONTEXT, version.data());
    return context_ == EGL_NO_CONTEXT ? "EGL gives no OpenGL 3.3." : QString();
  }

  [[nodiscard]] bool take() override {
    return eglBindAPI(EGL_OPENGL_API) && eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, context_);
  }
  void leave() override { eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT); }

private:
  EGLDisplay display_ = EGL_NO_DISPLAY;
  EGLContext context_ = EGL_NO_CONTEXT;
};

} // namespace

MadeContext make_egl_context() {
  auto context = std::make_unique<EglContext>();
  if (const QString why_not = context->make(); !why_not.isEmpty())
    return {nullptr, why_not};
  return {std::move(context), {}};
}

} // namespace bellmouth::ui::scene
