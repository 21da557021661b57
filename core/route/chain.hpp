// SPDX-License-Identifier: GPL-3.0-or-later
// A run as a chain of joints that slide and turn, one for each size that may move.
#pragma once

#include <bellmouth/build/vectors.hpp>
#include <bellmouth/route.hpp>

#include <span>

namespace bellmouth::route {

using build::cross, build::dot, build::length, build::plus, build::times;
using build::Vector;

/// How a size moves what is behind it: a point p goes slide + turn x p, to a unit of the size.
struct Motion {
  Vector turn{}, slide{};
  [[nodiscard]] Vector at(const Vector& point) const { return plus(slide, 1, cross(turn, point)); }
};

/// The centreline with sizes altered, and how its points follow each size.
class Chain {
public:
  /// Sizes in order of rows, and of What within a row.
  Chain(const bay::Frame& start, std::vector<bay::Track> tracks, const std::vector<Freedom>& freedoms);

  [[nodiscard]] std::size_t size() const { return sizes_.size(); }
  /// Lays the chain with each size altered by so much.
  void lay(std::span<const double> changes);

  /// \name Of the chain as it was last laid
  ///@{
  [[nodiscard]] const bay::Frame& end() const;
  [[nodiscard]] double length_m(std::size_t row) const { return laid_[row].track.length_m(); }
  [[nodiscard]] const Motion& motion(std::size_t size) const { return motions_[size]; }
  /// How the point `along_m` on a row's centreline follows a size. On the part that the size lengthens a
  /// point keeps its share.
  [[nodiscard]] Vector follows(std::size_t row, double along_m, const Vector& point, std::size_t size) const;
  ///@}

private:
  struct Size {
    std::size_t row;
    What what;
  };
  struct Laid {
    bay::Track track;
    bay::Frame start, bend, bent, end;
  };

  bay::Frame start_;
  std::vector<bay::Track> tracks_;
  std::vector<Size> sizes_;
  std::vector<Laid> laid_;
  std::vector<Motion> motions_;
};

} // namespace bellmouth::route
