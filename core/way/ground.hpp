// SPDX-License-Identifier: GPL-3.0-or-later
// The keep-outs of a problem made ready to be asked very often, a little less strictly than judge() asks.
#pragma once

#include <bellmouth/bay/solids.hpp>
#include <bellmouth/bay/vectors.hpp>
#include <bellmouth/way.hpp>

#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <variant>
#include <vector>

namespace bellmouth::way {

/// How far a point is from a keep-out beyond its clearance, and which way that grows fastest (a unit vector).
struct Touch {
  double gap_m = 0;
  Vector away{};
};

/// Immutable, shared by threads.
class Ground {
public:
  explicit Ground(const Problem& problem);

  [[nodiscard]] std::size_t size() const { return solids_.size(); }
  /// How far a point is from a keep-out beyond its clearance. One of more than `cutoff_m` may come back as
  /// infinite.
  [[nodiscard]] double gap_m(std::size_t keep_out, const Vector& point,
                             double cutoff_m = std::numeric_limits<double>::infinity()) const;
  [[nodiscard]] Touch touch(std::size_t keep_out, const Vector& point) const;
  /// Lengths of the way at its ends that do not count.
  [[nodiscard]] double not_from_start_m(std::size_t keep_out) const {
    return solids_[keep_out].not_from_start_m;
  }
  [[nodiscard]] double not_to_end_m(std::size_t keep_out) const { return solids_[keep_out].not_to_end_m; }

private:
  struct SurfaceSolid {
    const mesh::Tree* tree;
    const mesh::Surface* surface;
    mesh::Placement placement;
    bool closed;
  };
  struct PipeSolid {
    bay::PulledBall ball;
    Vector from, direction;
  };
  struct Solid {
    std::variant<bay::BoxSolid, bay::CylinderSolid, bay::SphereSolid, bay::HalfSpaceSolid, SurfaceSolid,
                 PipeSolid>
        shape;
    double clearance_m = 0, not_from_start_m = 0, not_to_end_m = 0;
  };
  static Touch touch_surface(const SurfaceSolid& solid, const Vector& point, double cutoff_m);
  std::vector<Solid> solids_;
};

/// Remembers which keep-outs are near a cell of space. One for each thread; what it answers does not depend
/// on what it was asked before.
class Cells {
public:
  static constexpr std::uint64_t no_key = ~std::uint64_t{0};

  /// Keep-outs count as near whose gap is at most `reach_m` anywhere in the cell.
  Cells(const Ground& ground, double cell_m, double reach_m);

  struct Near {
    std::uint32_t keep_out;
    double
        from_middle_m; ///< its gap at the middle of the cell: no point's is less by more than the way there
  };
  struct Cell {
    std::uint64_t key = no_key;
    Vector middle{};
    std::uint32_t first = 0, count = 0;
  };
  /// Good until it is asked for another.
  [[nodiscard]] const Cell& at(const Vector& point);
  [[nodiscard]] std::span<const Near> near(const Cell& cell) const {
    return std::span(lists_).subspan(cell.first, cell.count);
  }

private:
  const Ground* ground_;
  double cell_m_, reach_m_;
  std::vector<Cell> table_; ///< open addressing; a power of two long, at most half full
  std::size_t used_ = 0;
  std::vector<Near> lists_;
  const Cell* last_;

  [[nodiscard]] std::size_t slot(std::uint64_t key) const;
  void grow();
};

} // namespace bellmouth::way
