// SPDX-License-Identifier: GPL-3.0-or-later
// OpenGL objects that free themselves. All of it needs its context to be the thread's own.
#pragma once

#include "scene/frame.hpp"

#define GL_GLEXT_PROTOTYPES 1
#include <GL/glcorearb.h>
#include <map>
#include <memory>
#include <string>
#include <vector>

namespace bellmouth::ui::scene::gl {

/// A program of two shaders; `error` says what was wrong with them.
class Program {
public:
  Program(const char* vertex, const char* fragment);
  ~Program() { glDeleteProgram(program_); }
  Program(const Program&) = delete;
  Program& operator=(const Program&) = delete;

  void use() const { glUseProgram(program_); }
  [[nodiscard]] GLint at(const char* uniform) const { return glGetUniformLocation(program_, uniform); }
  [[nodiscard]] const std::string& error() const { return error_; }

private:
  GLuint program_;
  std::string error_;
};

/// A mesh in the memory of the graphics chip.
class Uploaded {
public:
  explicit Uploaded(const TriangleMesh& mesh);
  ~Uploaded();
  Uploaded(const Uploaded&) = delete;
  Uploaded& operator=(const Uploaded&) = delete;

  void draw_triangles() const;
  void draw_edges() const;

private:
  GLuint arrays_ = 0, points_ = 0, triangles_ = 0, edges_ = 0;
  GLsizei triangle_count_, edge_count_;
};

/// Meshes by identity, dropped when nobody else has them any more.
class Uploads {
public:
  [[nodiscard]] const Uploaded& of(const std::shared_ptr<const TriangleMesh>& mesh);
  void forget_the_gone();

private:
  struct Known {
    std::weak_ptr<const TriangleMesh> mesh;
    std::unique_ptr<Uploaded> uploaded;
  };
  std::map<const TriangleMesh*, Known> known_;
};

/// What is drawn into: colours, items, nearness, depth with a stencil; and a second depth to go back to.
class Target {
public:
  ~Target() { free(); }
  /// Makes it as large as this; false when the chip has no room.
  [[nodiscard]] bool fit(int width, int height);
  void bind() const { glBindFramebuffer(GL_FRAMEBUFFER, frame_); }
  void keep_depth() const { copy_depth(frame_, saved_); }
  void restore_depth() const { copy_depth(saved_, frame_); }
  void read(Frame& frame) const;

private:
  void free();
  void copy_depth(GLuint from, GLuint to) const;
  GLuint frame_ = 0, saved_ = 0;
  std::array<GLuint, 5> buffers_{}; ///< colour, item, nearness, depth, saved depth
  int width_ = 0, height_ = 0;
};

} // namespace bellmouth::ui::scene::gl
