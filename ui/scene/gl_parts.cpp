// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/gl_parts.hpp"

#include <array>
#include <cstddef>

namespace bellmouth::ui::scene::gl {

namespace {

GLuint shader(GLenum kind, const char* text, std::string& error) {
  const GLuint made = glCreateShader(kind);
  glShaderSource(made, 1, &text, nullptr);
  glCompileShader(made);
  GLint good = 0;
  glGetShaderiv(made, GL_COMPILE_STATUS, &good);
  if (!good) {
    std::array<char, 1024> log{};
    glGetShaderInfoLog(made, static_cast<GLsizei>(log.size()), nullptr, log.data());
    error += log.data();
  }
  return made;
}

struct Vertex {
  std::array<float, 3> point, normal;
  float along;
};

/// OpenGL takes a place within a buffer as a pointer.
const void* offset(std::size_t bytes) {
  return reinterpret_cast<const void*>(bytes); // NOLINT(performance-no-int-to-ptr)
}

template <std::size_t N> GLuint indices(const std::vector<std::array<std::uint32_t, N>>& list) {
  GLuint buffer = 0;
  glGenBuffers(1, &buffer);
  glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, buffer);
  glBufferData(GL_ELEMENT_ARRAY_BUFFER, static_cast<GLsizeiptr>(list.size() * sizeof(list.front())),
               list.data(), GL_STATIC_DRAW);
  return buffer;
}

} // namespace

Program::Program(const char* vertex, const char* fragment) : program_(glCreateProgram()) {
  const GLuint first = shader(GL_VERTEX_SHADER, vertex, error_),
               second = shader(GL_FRAGMENT_SHADER, fragment, error_);
  glAttachShader(program_, first);
  glAttachShader(program_, second);
  glLinkProgram(program_);
  GLint good = 0;
  glGetProgramiv(program_, GL_LINK_STATUS, &good);
  if (!good && error_.empty())
    error_ = "the shaders do not go together";
  glDeleteShader(first);
  glDeleteShader(second);
}

Uploaded::Uploaded(const TriangleMesh& mesh)
    : triangle_count_(static_cast<GLsizei>(3 * mesh.triangles.size())),
      edge_count_(static_cast<GLsizei>(2 * mesh.edges.size())) {
  std::vector<Vertex> vertices(mesh.points_m.size());
  for (std::size_t i = 0; i < vertices.size(); ++i) {
    for (std::size_t axis = 0; axis < 3; ++axis)
      vertices[i].point[axis] = static_cast<float>(mesh.points_m[i][axis]);
    vertices[i].normal = mesh.normals[i];
    vertices[i].along = mesh.along.empty() ? 0 : mesh.along[i];
  }
  glGenVertexArrays(1, &arrays_);
  glBindVertexArray(arrays_);
  glGenBuffers(1, &points_);
  glBindBuffer(GL_ARRAY_BUFFER, points_);
  glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(vertices.size() * sizeof(Vertex)), vertices.data(),
               GL_STATIC_DRAW);
  const auto field = [](GLuint place, GLint parts, std::size_t at) {
    glEnableVertexAttribArray(place);
    glVertexAttribPointer(place, parts, GL_FLOAT, GL_FALSE, sizeof(Vertex), offset(at));
  };
  field(0, 3, offsetof(Vertex, point));
  field(1, 3, offsetof(Vertex, normal));
  field(2, 1, offsetof(Vertex, along));
  edges_ = indices(mesh.edges);
  triangles_ = indices(mesh.triangles);
  glBindVertexArray(0);
}

Uploaded::~Uploaded() {
  for (const GLuint buffer : {points_, triangles_, edges_})
    glDeleteBuffers(1, &buffer);
  glDeleteVertexArrays(1, &arrays_);
}

void Uploaded::draw_triangles() const {
  glBindVertexArray(arrays_);
  glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, triangles_);
  glDrawElements(GL_TRIANGLES, triangle_count_, GL_UNSIGNED_INT, nullptr);
}

void Uploaded::draw_edges() const {
  glBindVertexArray(arrays_);
  glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, edges_);
  glDrawElements(GL_LINES, edge_count_, GL_UNSIGNED_INT, nullptr);
}

const Uploaded& Uploads::of(const std::shared_ptr<const TriangleMesh>& mesh) {
  Known& known = known_[mesh.get()];
  if (known.mesh.lock() != mesh)
    known = {mesh, std::make_unique<Uploaded>(*mesh)};
  return *known.uploaded;
}

void Uploads::forget_the_gone() {
  std::erase_if(known_, [](const auto& entry) { return entry.second.mesh.expired(); });
}

bool Target::fit(int width, int height) {
  if (width == width_ && height == height_)
    return true;
  free();
  glGenRenderbuffers(static_cast<GLsizei>(buffers_.size()), buffers_.data());
  constexpr std::array<GLenum, 5> formats{GL_RGBA8, GL_R32UI, GL_R32F, GL_DEPTH24_STENCIL8,
                                          GL_DEPTH24_STENCIL8};
  for (std::size_t i = 0; i < buffers_.size(); ++i) {
    glBindRenderbuffer(GL_RENDERBUFFER, buffers_[i]);
    glRenderbufferStorage(GL_RENDERBUFFER, formats[i], width, height);
  }
  glGenFramebuffers(1, &frame_);
  glBindFramebuffer(GL_FRAMEBUFFER, frame_);
  constexpr std::array<GLenum, 3> drawn{GL_COLOR_ATTACHMENT0, GL_COLOR_ATTACHMENT1, GL_COLOR_ATTACHMENT2};
  for (std::size_t i = 0; i < drawn.size(); ++i)
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, drawn[i], GL_RENDERBUFFER, buffers_[i]);
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_STENCIL_ATTACHMENT, GL_RENDERBUFFER, buffers_[3]);
  glDrawBuffers(static_cast<GLsizei>(drawn.size()), drawn.data());
  const bool good = glCheckFramebufferStatus(GL_FRAMEBUFFER) == GL_FRAMEBUFFER_COMPLETE;
  glGenFramebuffers(1, &saved_);
  glBindFramebuffer(GL_FRAMEBUFFER, saved_);
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_STENCIL_ATTACHMENT, GL_RENDERBUFFER, buffers_[4]);
  glDrawBuffer(GL_NONE);
  glReadBuffer(GL_NONE);
  const bool both = good && glCheckFramebufferStatus(GL_FRAMEBUFFER) == GL_FRAMEBUFFER_COMPLETE;
  if (!both) {
    free();
    return false;
  }
  width_ = width;
  height_ = height;
  return true;
}

void Target::read(Frame& frame) const {
  bind();
  glPixelStorei(GL_PACK_ALIGNMENT, 4);
  glReadBuffer(GL_COLOR_ATTACHMENT0);
  glReadPixels(0, 0, width_, height_, GL_BGRA, GL_UNSIGNED_INT_8_8_8_8_REV, frame.colour.data());
  glReadBuffer(GL_COLOR_ATTACHMENT1);
  glReadPixels(0, 0, width_, height_, GL_RED_INTEGER, GL_UNSIGNED_INT, frame.item.data());
  glReadBuffer(GL_COLOR_ATTACHMENT2);
  glReadPixels(0, 0, width_, height_, GL_RED, GL_FLOAT, frame.nearness.data());
}

void Target::free() {
  glDeleteFramebuffers(1, &frame_);
  glDeleteFramebuffers(1, &saved_);
  glDeleteRenderbuffers(static_cast<GLsizei>(buffers_.size()), buffers_.data());
  frame_ = saved_ = 0;
  buffers_ = {};
  width_ = height_ = 0;
}

void Target::copy_depth(GLuint from, GLuint to) const {
  glBindFramebuffer(GL_READ_FRAMEBUFFER, from);
  glBindFramebuffer(GL_DRAW_FRAMEBUFFER, to);
  glBlitFramebuffer(0, 0, width_, height_, 0, 0, width_, height_, GL_DEPTH_BUFFER_BIT, GL_NEAREST);
  glBindFramebuffer(GL_FRAMEBUFFER, frame_);
}

} // namespace bellmouth::ui::scene::gl
