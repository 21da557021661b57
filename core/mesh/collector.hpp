// SPDX-License-Identifier: GPL-3.0-or-later
// Gathers what the readers find into a surface whose points at one place are one.
#pragma once

#include "source.hpp"

#include <span>

namespace bellmouth::mesh {

class Collector {
public:
  explicit Collector(const Source& source) : source_(source) {}

  /// A triangle by its corners. Left out and counted when it has no area.
  void add(const Point& a, const Point& b, const Point& c);

  /// For files that number their points: the points in the file's order, and faces between them.
  void add_point(const Point& point) { numbered_.push_back({point, none}); }
  void reserve_points(std::size_t count) { numbered_.reserve(count); }
  [[nodiscard]] std::size_t points() const { return numbered_.size(); }
  /// A face with three corners or more, whose numbers lead to points. Split into triangles.
  void add_face(std::span<const std::uint32_t> corners);

  void remark(std::string words) { remarks_.push_back(std::move(words)); }
  /// "1 `one`" or "7 `many`"; nothing for 0.
  void remark(std::size_t count, std::string_view one, std::string_view many);
  /// What has been gathered. A fault when that is no triangle.
  [[nodiscard]] Imported finish() &&;

private:
  static constexpr std::uint32_t none = 0xFFFFFFFFU;
  struct Numbered {
    Point point;
    std::uint32_t joined; ///< the surface's point, once one is used
  };
  const Source& source_;
  Surface surface_;
  std::vector<std::uint32_t> table_; ///< surface's points by the hash of their place
  std::vector<Numbered> numbered_;
  std::vector<Point> outline_; ///< of a face, kept for its memory
  std::vector<std::string> remarks_;
  std::size_t taken_ = 0, without_area_ = 0, crossing_ = 0;

  /// Counts a triangle; whether it has an area.
  bool take(const Point& a, const Point& b, const Point& c);
  /// The number of the surface's point at the place.
  std::uint32_t joined(const Point& place);
  std::uint32_t joined(Numbered& numbered);
  void grow();
};

} // namespace bellmouth::mesh
