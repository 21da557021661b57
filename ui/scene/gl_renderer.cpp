// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/gl_context.hpp"
#include "scene/gl_parts.hpp"
#include "scene/light.hpp"
#include "scene/renderers.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <optional>

namespace bellmouth::ui::scene {

namespace {

constexpr std::size_t ramp_colours = 64;
/// How much nearer than its surface an edge counts: a share in perspective, metres in parallel projection.
constexpr float edge_lift = 0.0012F;

// The picture is drawn upside down, as OpenGL sees it, so that it is read back with its top row first.
constexpr const char* scene_vertex = R"(#version 330 core
layout(location = 0) in vec3 point;
layout(location = 1) in vec3 normal;
layout(location = 2) in float along;
uniform mat3 axes;
uniform mat3 turn;
uniform vec3 origin;
uniform vec2 scale;
uniform vec2 reach;
uniform vec4 cut;
uniform bool perspective;
uniform float lift;
noperspective out vec2 light;
noperspective out float parallel_nearness;
out float place;
invariant gl_Position;
void main() {
  vec3 seen = axes * point + origin;
  float depth = perspective ? seen.z * (1.0 - lift) : seen.z - lift;
  float far = reach.y, near = reach.x;
  if (perspective)
    gl_Position = vec4(seen.x * scale.x, -seen.y * scale.y,
                       ((far + near) * depth - 2.0 * far * near) / (far - near), seen.z);
  else
    gl_Position = vec4(seen.x * scale.x, -seen.y * scale.y, (2.0 * depth - far - near) / (far - near), 1.0);
  vec3 turned = turn * normal;
  light = turned.xy;
  parallel_nearness = -seen.z;
  place = along;
  gl_ClipDistance[0] = -(dot(cut.xyz, point) + cut.w);
}
)";
constexpr const char* scene_fragment = R"(#version 330 core
noperspective in vec2 light;
noperspective in float parallel_nearness;
in float place;
uniform sampler2DArray lights;
uniform float layer;
uniform vec3 colour;
uniform vec3 cut_face;
uniform vec3 ramp[64];
uniform bool ramped;
uniform bool closed;
uniform bool plain;
uniform bool perspective;
uniform float opacity;
uniform uint item;
layout(location = 0) out vec4 out_colour;
layout(location = 1) out uint out_item;
layout(location = 2) out float out_nearness;
void main() {
  vec3 shown = colour;
  if (!plain) {
    if (closed && !gl_FrontFacing) {
      shown = cut_face;
    } else {
      vec2 facing = gl_FrontFacing ? light : -light;
      float size = float(textureSize(lights, 0).x);
      vec4 lit = texture(lights, vec3(((size - 1.0) * (0.5 + 0.5 * facing) + 0.5) / size, layer));
      if (ramped) {
        float at = clamp(place, 0.0, 1.0) * 63.0;
        int before = int(at);
        shown = mix(ramp[before], ramp[min(before + 1, 63)], at - float(before));
      }
      shown = shown * lit.rgb + lit.a;
    }
  }
  out_colour = vec4(shown, opacity);
  out_item = item;
  out_nearness = perspective ? gl_FragCoord.w : parallel_nearness;
}
)";
constexpr const char* ground_vertex = R"(#version 330 core
out vec2 place;
void main() {
  vec2 at = vec2(gl_VertexID == 1 ? 3.0 : -1.0, gl_VertexID == 2 ? 3.0 : -1.0);
  place = 0.5 + 0.5 * at;
  gl_Position = vec4(at, 0.0, 1.0);
}
)";
constexpr const char* ground_fragment = R"(#version 330 core
in vec2 place;
uniform vec3 top;
uniform vec3 bottom;
uniform bool backed;
uniform sampler2D backdrop;
layout(location = 0) out vec4 out_colour;
void main() { out_colour = vec4(backed ? texture(backdrop, place).rgb : mix(top, bottom, place.y), 1.0); }
)";

void set_colour(GLint uniform, QRgb colour) {
  glUniform3f(uniform, static_cast<float>(qRed(colour)) / 255, static_cast<float>(qGreen(colour)) / 255,
              static_cast<float>(qBlue(colour)) / 255);
}

/// Everything that lives in the context.
class Drawer {
public:
  Drawer() : scene_(scene_vertex, scene_fragment), ground_(ground_vertex, ground_fragment) {
    glGenVertexArrays(1, &no_arrays_);
    glGenTextures(1, &backdrop_);
    glBindTexture(GL_TEXTURE_2D, backdrop_);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_NEAREST);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_NEAREST);
    glGenTextures(1, &lights_);
    glBindTexture(GL_TEXTURE_2D_ARRAY, lights_);
    glTexImage3D(GL_TEXTURE_2D_ARRAY, 0, GL_RGBA32F, light_size, light_size,
                 static_cast<GLsizei>(all_finishes.size()), 0, GL_RGBA, GL_FLOAT, nullptr);
    for (std::size_t i = 0; i < all_finishes.size(); ++i)
      glTexSubImage3D(GL_TEXTURE_2D_ARRAY, 0, 0, 0, static_cast<GLint>(i), light_size, light_size, 1, GL_RGBA,
                      GL_FLOAT, light_table(all_finishes[i]).data());
    for (const auto& [name, value] : {std::pair{GL_TEXTURE_MIN_FILTER, GL_LINEAR},
                                      {GL_TEXTURE_MAG_FILTER, GL_LINEAR},
                                      {GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE},
                                      {GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE}})
      glTexParameteri(GL_TEXTURE_2D_ARRAY, static_cast<GLenum>(name), value);
    glGetIntegerv(GL_MAX_RENDERBUFFER_SIZE, &largest_);
  }
  ~Drawer() {
    glDeleteTextures(1, &lights_);
    glDeleteTextures(1, &backdrop_);
    glDeleteVertexArrays(1, &no_arrays_);
  }
  Drawer(const Drawer&) = delete;
  Drawer& operator=(const Drawer&) = delete;

  [[nodiscard]] std::string error() const { return scene_.error() + ground_.error(); }

  /// False when the chip has no room for it.
  [[nodiscard]] bool draw(Frame& frame, const Scene& scene, const Camera& camera, const DrawOptions& options,
                          Bounds& bounds) {
    if (frame.width > largest_ || frame.height > largest_ || !target_.fit(frame.width, frame.height))
      return false;
    uploads_.forget_the_gone();
    camera_ = &camera;
    options_ = &options;
    frame_ = &frame;
    target_.bind();
    glViewport(0, 0, frame.width, frame.height);
    clear();
    find_reach(scene, bounds);
    scene_.use();
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D_ARRAY, lights_);
    glUniform1i(scene_.at("lights"), 0);
    glFrontFace(GL_CW);
    glLineWidth(1);
    const Order order = order_of(scene, camera, options.quality, bounds);
    draw_opaque(scene, order);
    if (!order.translucent.empty())
      draw_translucent(scene, order);
    glDisable(GL_CLIP_DISTANCE0);
    target_.read(frame);
    return true;
  }

private:
  void clear() {
    glDisable(GL_BLEND);
    glDisable(GL_CULL_FACE);
    glDisable(GL_STENCIL_TEST);
    write(true, true, true);
    constexpr std::array<GLuint, 4> nothing{};
    constexpr std::array<float, 4> far{nothing_near, 0, 0, 0};
    glClearBufferuiv(GL_COLOR, 1, nothing.data());
    glClearBufferfv(GL_COLOR, 2, far.data());
    glClearBufferfi(GL_DEPTH_STENCIL, 0, 1.0F, 0);
    write(true, false, false);
    glDisable(GL_DEPTH_TEST);
    ground_.use();
    set_colour(ground_.at("top"), options_->background_top);
    set_colour(ground_.at("bottom"), options_->background_bottom);
    const QImage backdrop = backdrop_of(*options_);
    glUniform1i(ground_.at("backed"), !backdrop.isNull());
    glUniform1i(ground_.at("backdrop"), 0);
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D, backdrop_);
    if (!backdrop.isNull())
      glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, backdrop.width(), backdrop.height(), 0, GL_BGRA,
                   GL_UNSIGNED_INT_8_8_8_8_REV, backdrop.constBits());
    glBindVertexArray(no_arrays_);
    glDrawArrays(GL_TRIANGLES, 0, 3);
    glEnable(GL_DEPTH_TEST);
  }

  /// Which of colour, item with nearness, and depth are written.
  static void write(bool colour, bool item, bool depth) {
    const auto mask = [](GLuint buffer, bool on) {
      const GLboolean flag = on ? GL_TRUE : GL_FALSE;
      glColorMaski(buffer, flag, flag, flag, flag);
    };
    mask(0, colour);
    mask(1, item);
    mask(2, item);
    glDepthMask(depth ? GL_TRUE : GL_FALSE);
  }
  static void blend(bool on) {
    // Of the items and the nearness nothing is ever blended; the picture's own alpha stays 1.
    if (on)
      glEnablei(GL_BLEND, 0);
    else
      glDisablei(GL_BLEND, 0);
    glDisablei(GL_BLEND, 1);
    glDisablei(GL_BLEND, 2);
    glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ZERO, GL_ONE);
  }

  /// The depths between which everything lies.
  void find_reach(const Scene& scene, Bounds& bounds) {
    double near = 1e9, far = -1e9;
    const Vector forward = camera_->forward(), eye = camera_->eye_m();
    for (const Item& item : scene.items) {
      if (!item.mesh || item.mesh->points_m.empty())
        continue;
      const Extent box = bounds.of(item);
      const Vector middle = times(0.5, plus(box.low, box.high)), half = times(0.5, minus(box.high, box.low));
      const double depth = dot(minus(middle, eye), forward);
      const double spread =
          std::abs(half[0] * forward[0]) + std::abs(half[1] * forward[1]) + std::abs(half[2] * forward[2]);
      near = std::min(near, depth - spread);
      far = std::max(far, depth + spread);
    }
    if (near > far)
      near = far = 1;
    const double room = 0.01 + 0.01 * (far - near);
    near_ = static_cast<float>(camera_->perspective ? std::max(near - room, near_m) : near - room);
    far_ = std::max(static_cast<float>(far + room), near_ + 0.01F);
  }

  void set(const Item& item, const TriangleMesh& mesh, std::uint32_t index) {
    const std::array<Vector, 3> looks{camera_->right(), camera_->up(), camera_->forward()};
    const Vector eye = camera_->eye_m();
    std::array<float, 9> turn{}, axes{};
    std::array<float, 3> origin{};
    for (std::size_t row = 0; row < 3; ++row) {
      for (std::size_t axis = 0; axis < 3; ++axis) {
        const double part = dot(looks[row], item.placement.axes[axis]);
        turn[3 * axis + row] = static_cast<float>(part);
        axes[3 * axis + row] = static_cast<float>(part * item.placement.scale);
      }
      origin[row] = static_cast<float>(dot(looks[row], minus(item.placement.origin_m, eye)));
    }
    glUniformMatrix3fv(scene_.at("turn"), 1, GL_FALSE, turn.data());
    glUniformMatrix3fv(scene_.at("axes"), 1, GL_FALSE, axes.data());
    glUniform3fv(scene_.at("origin"), 1, origin.data());
    const double px = frame_->height / (2 * std::tan(camera_->field_of_view_rad / 2)) /
                      (camera_->perspective ? 1.0 : camera_->distance_m);
    glUniform2f(scene_.at("scale"), static_cast<float>(2 * px / frame_->width),
                static_cast<float>(2 * px / frame_->height));
    glUniform2f(scene_.at("reach"), near_, far_);
    glUniform1i(scene_.at("perspective"), camera_->perspective);
    const bool cut = options_->section && item.cuttable;
    if (cut) {
      const Vector normal = unit(options_->section->normal);
      std::array<float, 4> plane{};
      for (std::size_t axis = 0; axis < 3; ++axis)
        plane[axis] = static_cast<float>(dot(normal, item.placement.axes[axis]) * item.placement.scale);
      plane[3] = static_cast<float>(dot(normal, minus(item.placement.origin_m, options_->section->point_m)));
      glUniform4fv(scene_.at("cut"), 1, plane.data());
      glEnable(GL_CLIP_DISTANCE0);
    } else {
      glUniform4f(scene_.at("cut"), 0, 0, 0, -1);
      glDisable(GL_CLIP_DISTANCE0);
    }
    if (mesh.closed && !cut)
      glEnable(GL_CULL_FACE);
    else
      glDisable(GL_CULL_FACE);
    glUniform1f(scene_.at("layer"), static_cast<float>(item.finish));
    set_colour(scene_.at("colour"), item.colour);
    set_colour(scene_.at("cut_face"), cut_colour(item.colour));
    const bool ramped = !item.ramp.empty() && !mesh.along.empty();
    glUniform1i(scene_.at("ramped"), ramped);
    if (ramped)
      set_ramp(item.ramp);
    glUniform1i(scene_.at("closed"), mesh.closed);
    glUniform1i(scene_.at("plain"), 0);
    glUniform1f(scene_.at("opacity"), static_cast<float>(std::min(item.opacity, 1.0)));
    glUniform1f(scene_.at("lift"), 0);
    glUniform1ui(scene_.at("item"), index);
  }

  void set_ramp(const std::vector<QRgb>& ramp) {
    std::array<float, 3 * ramp_colours> colours{};
    for (std::size_t i = 0; i < ramp_colours; ++i) {
      const double place = static_cast<double>(i) / static_cast<double>(ramp_colours - 1) *
                           static_cast<double>(ramp.size() - 1);
      const auto before = static_cast<std::size_t>(place), behind = std::min(before + 1, ramp.size() - 1);
      const QRgb colour = mixed(ramp[before], ramp[behind], place - static_cast<double>(before));
      colours[3 * i] = static_cast<float>(qRed(colour)) / 255;
      colours[3 * i + 1] = static_cast<float>(qGreen(colour)) / 255;
      colours[3 * i + 2] = static_cast<float>(qBlue(colour)) / 255;
    }
    glUniform3fv(scene_.at("ramp"), static_cast<GLsizei>(ramp_colours), colours.data());
  }

  /// The item's edges over what is there; its uniforms must be set.
  void edges(const Item& item, const gl::Uploaded& uploaded) {
    write(true, false, false);
    blend(true);
    glDepthFunc(GL_LEQUAL);
    const bool translucent = item.opacity < 1;
    set_colour(scene_.at("colour"),
               translucent ? mixed(item.colour, options_->outline, 0.25) : options_->outline);
    glUniform1i(scene_.at("plain"), 1);
    glUniform1f(scene_.at("lift"), edge_lift);
    glUniform1f(scene_.at("opacity"),
                (translucent ? 0.9F : 0.5F) * (options_->quality == Quality::resting ? 1.0F : 0.75F));
    uploaded.draw_edges();
  }

  void draw_opaque(const Scene& scene, const Order& order) {
    glEnable(GL_STENCIL_TEST);
    glStencilFunc(GL_ALWAYS, 1, 0xff);
    glStencilOp(GL_KEEP, GL_KEEP, GL_REPLACE);
    for (const std::size_t place : order.opaque) {
      const auto& mesh = mesh_of(scene.items[place], options_->quality);
      set(scene.items[place], *mesh, static_cast<std::uint32_t>(place + 1));
      write(true, true, true);
      blend(false);
      glDepthFunc(GL_LESS);
      uploads_.of(mesh).draw_triangles();
    }
    glDisable(GL_STENCIL_TEST);
    for (const std::size_t place : order.opaque) {
      const auto& mesh = mesh_of(scene.items[place], options_->quality);
      if (mesh->edges.empty())
        continue;
      set(scene.items[place], *mesh, static_cast<std::uint32_t>(place + 1));
      edges(scene.items[place], uploads_.of(mesh));
    }
  }

  /// Of each item the nearest surface only: its depth first, then its colour where the depth is the same.
  void draw_translucent(const Scene& scene, const Order& order) {
    target_.keep_depth();
    for (const std::size_t place : order.translucent) {
      const Item& item = scene.items[place];
      const auto& mesh = mesh_of(item, options_->quality);
      const gl::Uploaded& uploaded = uploads_.of(mesh);
      set(item, *mesh, static_cast<std::uint32_t>(place + 1));
      write(false, false, true);
      blend(false);
      glDepthFunc(GL_LESS);
      uploaded.draw_triangles();
      glDepthFunc(GL_EQUAL);
      write(true, false, false);
      blend(true);
      uploaded.draw_triangles();
      // Which item it is counts only where nothing opaque stands.
      glEnable(GL_STENCIL_TEST);
      glStencilFunc(GL_EQUAL, 0, 0xff);
      glStencilOp(GL_KEEP, GL_KEEP, GL_KEEP);
      write(false, true, false);
      blend(false);
      uploaded.draw_triangles();
      glDisable(GL_STENCIL_TEST);
      write(true, true, true);
      target_.restore_depth();
      edges(item, uploaded);
    }
  }

  gl::Program scene_, ground_;
  gl::Uploads uploads_;
  gl::Target target_;
  GLuint lights_ = 0, backdrop_ = 0, no_arrays_ = 0;
  GLint largest_ = 0;
  const Camera* camera_ = nullptr;
  const DrawOptions* options_ = nullptr;
  const Frame* frame_ = nullptr;
  float near_ = 0, far_ = 1;
};

class GlRenderer final : public Renderer {
public:
  GlRenderer(std::unique_ptr<GlContext> context, Kind kind)
      : context_(std::move(context)), kind_(kind), workers_(0) {}
  ~GlRenderer() override {
    // Without the context its objects are gone already; freeing them would reach into another one.
    if (context_->take()) {
      drawer_.reset();
      context_->leave();
    } else {
      static_cast<void>(drawer_.release());
    }
  }

  /// What is wrong; empty when it can draw.
  [[nodiscard]] QString begin() {
    if (!context_->take())
      return "The OpenGL context cannot be used.";
    GLint major = 0, minor = 0;
    glGetIntegerv(GL_MAJOR_VERSION, &major);
    glGetIntegerv(GL_MINOR_VERSION, &minor);
    maker_ = QString::fromLatin1(reinterpret_cast<const char*>(glGetString(GL_RENDERER)));
    name_ = QString("OpenGL %1.%2, %3").arg(major).arg(minor).arg(maker_);
    QString problem;
    if (std::pair(major, minor) < std::pair(3, 3)) {
      problem = QString("%1 is older than 3.3.").arg(name_);
    } else {
      drawer_ = std::make_unique<Drawer>();
      if (const std::string error = drawer_->error(); !error.empty())
        problem = QString("%1 does not take our shaders: %2").arg(name_, QString::fromStdString(error));
    }
    context_->leave();
    return problem;
  }
  [[nodiscard]] bool in_software() const {
    return maker_.contains("llvmpipe") || maker_.contains("softpipe") || maker_.contains("swrast");
  }

  [[nodiscard]] QString name() const override { return name_; }
  [[nodiscard]] Kind kind() const override { return kind_; }

  Picture draw(const Scene& scene, const Camera& camera, const DrawOptions& options) override {
    assert(!options.size_px.isEmpty());
    bounds_.forget_the_gone();
    frame_.resize(options.size_px, samples_of(options.quality));
    const bool drawn = context_->take() && drawer_->draw(frame_, scene, camera, options, bounds_);
    context_->leave();
    if (drawn)
      return finished(frame_, scene, camera, options, workers_);
    // The context was lost, or the picture is too large for it.
    if (!instead_) {
      instead_ = make_cpu_renderer();
      name_ += ", lost: " + instead_->name();
    }
    return instead_->draw(scene, camera, options);
  }

private:
  std::unique_ptr<GlContext> context_;
  Kind kind_;
  QString name_, maker_;
  std::unique_ptr<Drawer> drawer_;
  std::unique_ptr<Renderer> instead_;
  Workers workers_;
  Bounds bounds_;
  Frame frame_;
};

Attempt attempt(MadeContext made, Renderer::Kind kind) {
  if (!made.context)
    return {nullptr, made.why_not, false};
  auto renderer = std::make_unique<GlRenderer>(std::move(made.context), kind);
  if (const QString problem = renderer->begin(); !problem.isEmpty())
    return {nullptr, problem, false};
  const bool in_software = renderer->in_software();
  return {std::move(renderer), {}, in_software};
}

} // namespace

Attempt try_gl() {
  return attempt(make_qt_context(), Renderer::Kind::gl);
}
Attempt try_egl() {
  return attempt(make_egl_context(), Renderer::Kind::egl);
}

} // namespace bellmouth::ui::scene
