// SPDX-License-Identifier: GPL-3.0-or-later
// The obstacle-free problem solved exactly on a grid of clockings: every sequence of bends whose clockings
// are whole steps and that ends in the wanted direction, and for each the straights of least length by a
// linear programme.
//
// The formulation is the first of the two in M. Stanczak, C. Pralet, V. Vidal, V. Baudoui, "Optimal Pipe
// Routing Techniques in an Obstacle-Free 3D Space", ICORES 2020: bends from a catalogue, enumerated over the
// directions that they reach; the lengths of the straights by a linear programme for each combination. The
// programmes are solved by GLPK. Rotations are matrices, apart from the program's own placing.
#pragma once

#include <bellmouth/way.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <glpk.h>
#include <memory>
#include <numbers>
#include <optional>
#include <utility>
#include <vector>

namespace bellmouth::test {

/// Columns: direction, reference, and the cross product of the two.
using Axes = std::array<build::Vector, 3>;

/// `own`, said in the axes `axes`, in the world.
[[nodiscard]] inline build::Vector in_world(const Axes& axes, const build::Vector& own) {
  build::Vector world{};
  for (std::size_t i = 0; i < 3; ++i)
    for (std::size_t k = 0; k < 3; ++k)
      world[k] += axes[i][k] * own[i];
  return world;
}
[[nodiscard]] inline Axes in_world(const Axes& axes, const Axes& own) {
  return {in_world(axes, own[0]), in_world(axes, own[1]), in_world(axes, own[2])};
}
[[nodiscard]] inline double angle_between(const build::Vector& a, const build::Vector& b) {
  double chord = 0;
  for (std::size_t k = 0; k < 3; ++k)
    chord += (a[k] - b[k]) * (a[k] - b[k]);
  return 2 * std::asin(std::min(1.0, std::sqrt(chord) / 2));
}

/// A bend with a clocking of whole steps, in the axes that it starts in.
struct GridTurn {
  std::size_t bend = 0;
  double clocking_rad = 0;
  build::Vector step_m{}; ///< from its start to its end
  Axes axes{};            ///< at its end
};

/// A sequence of turns that ends in the wanted direction.
struct GridSequence {
  std::vector<const GridTurn*> turns;
  std::vector<build::Vector> directions; ///< of the straights, one more than turns
  build::Vector bends_m{};               ///< all the way that the bends make
};

/// All of them for a problem. The last bend is not tried but looked up: its angle is that between the
/// direction before it and the one wanted.
class ReachableDirections {
public:
  ReachableDirections(const way::Problem& problem, int steps_a_turn)
      : problem_(problem), steps_a_turn_(steps_a_turn) {
    const build::Vector& u = problem.start.direction;
    const build::Vector& v = problem.reference;
    start_ = {u, v, {u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]}};
    for (std::size_t k = 0; k < 3; ++k)
      wanted_[k] = -problem.end.direction[k];
    for (std::size_t b = 0; b < problem.bends.size(); ++b)
      for (int i = 0; i < steps_a_turn; ++i) {
        const double clocking = 2 * std::numbers::pi * i / steps_a_turn;
        const double c = std::cos(clocking), s = std::sin(clocking);
        const double angle = problem.bends[b].angle_rad, radius = problem.bends[b].radius_m;
        const double ca = std::cos(angle), sa = std::sin(angle);
        const double along = radius * sa, aside = radius * (1 - ca);
        turns_.push_back({b,
                          clocking,
                          {along, aside * c, aside * s},
                          {build::Vector{ca, sa * c, sa * s}, {-sa, ca * c, ca * s}, {0, -s, c}}});
      }
  }

  /// Sequences of so many bends (at least one).
  [[nodiscard]] std::vector<GridSequence> of(std::size_t bends) {
    found_.clear();
    chosen_.clear();
    grow(start_, bends);
    return std::move(found_);
  }

private:
  void grow(const Axes& axes, std::size_t left) {
    if (left == 1) {
      const double angle = angle_between(axes[0], wanted_);
      for (std::size_t b = 0; b < problem_.bends.size(); ++b)
        if (std::abs(problem_.bends[b].angle_rad - angle) < problem_.rules.end_angle_rad)
          for (int i = 0; i < steps_a_turn_; ++i)
            end_with(axes, turns_[b * static_cast<std::size_t>(steps_a_turn_) + static_cast<std::size_t>(i)]);
      return;
    }
    for (const GridTurn& turn : turns_) {
      chosen_.push_back(&turn);
      grow(in_world(axes, turn.axes), left - 1);
      chosen_.pop_back();
    }
  }
  void end_with(const Axes& axes, const GridTurn& last) {
    if (angle_between(in_world(axes, last.axes[0]), wanted_) > problem_.rules.end_angle_rad)
      return;
    GridSequence sequence;
    sequence.turns = chosen_;
    sequence.turns.push_back(&last);
    Axes at = start_;
    for (const GridTurn* turn : sequence.turns) {
      sequence.directions.push_back(at[0]);
      const build::Vector step = in_world(at, turn->step_m);
      for (std::size_t k = 0; k < 3; ++k)
        sequence.bends_m[k] += step[k];
      at = in_world(at, turn->axes);
    }
    sequence.directions.push_back(at[0]);
    found_.push_back(std::move(sequence));
  }

  const way::Problem& problem_;
  int steps_a_turn_;
  Axes start_{};
  build::Vector wanted_{};
  std::vector<GridTurn> turns_; ///< bend by bend, each with its clockings in order
  std::vector<const GridTurn*> chosen_;
  std::vector<GridSequence> found_;
};

/// The straights of a sequence: least total length, the end met exactly, each within its limits.
class StraightsProgramme {
public:
  explicit StraightsProgramme(const way::Problem& problem, std::size_t bends)
      : problem_(problem), programme_(glp_create_prob(), glp_delete_prob),
        columns_(static_cast<int>(bends) + 1) {
    glp_term_out(GLP_OFF);
    glp_set_obj_dir(programme_.get(), GLP_MIN);
    glp_add_rows(programme_.get(), 3);
    glp_add_cols(programme_.get(), columns_);
    for (int j = 1; j <= columns_; ++j) {
      const double least = j == 1          ? problem.start.straight_m
                           : j == columns_ ? problem.end.straight_m
                                           : problem.rules.straight_between_bends_m;
      glp_set_col_bnds(programme_.get(), j, GLP_DB, least, problem.tube.longest_m);
      glp_set_obj_coef(programme_.get(), j, 1);
    }
  }

  /// The lengths [m]; unset where the sequence cannot end at the port.
  [[nodiscard]] std::optional<std::vector<double>> solved(const GridSequence& sequence) {
    for (int row = 1; row <= 3; ++row) {
      const auto k = static_cast<std::size_t>(row - 1);
      const double gap_m = problem_.end.position_m[k] - problem_.start.position_m[k] - sequence.bends_m[k];
      glp_set_row_bnds(programme_.get(), row, GLP_FX, gap_m, gap_m);
    }
    const std::array<int, 4> rows{0, 1, 2, 3};
    for (int j = 1; j <= columns_; ++j) {
      const build::Vector& d = sequence.directions[static_cast<std::size_t>(j - 1)];
      const std::array<double, 4> values{0, d[0], d[1], d[2]};
      glp_set_mat_col(programme_.get(), j, 3, rows.data(), values.data());
    }
    glp_std_basis(programme_.get());
    glp_smcp how;
    glp_init_smcp(&how);
    how.msg_lev = GLP_MSG_OFF;
    if (glp_simplex(programme_.get(), &how) != 0 || glp_get_status(programme_.get()) != GLP_OPT)
      return std::nullopt;
    std::vector<double> lengths_m;
    for (int j = 1; j <= columns_; ++j)
      lengths_m.push_back(glp_get_col_prim(programme_.get(), j));
    return lengths_m;
  }

private:
  const way::Problem& problem_;
  std::unique_ptr<glp_prob, decltype(&glp_delete_prob)> programme_;
  int columns_;
};

/// A way on the grid and its length.
struct GridWay {
  way::Way way;
  double length_m = 0;
};
/// Every sequence of `least` to `most` bends that meets the end, each with its shortest straights; the
/// shortest way first.
[[nodiscard]] inline std::vector<GridWay> grid_ways(const way::Problem& problem, std::size_t least,
                                                    std::size_t most, int steps_a_turn) {
  std::vector<GridWay> ways;
  ReachableDirections directions(problem, steps_a_turn);
  for (std::size_t bends = least; bends <= most; ++bends) {
    StraightsProgramme programme(problem, bends);
    for (const GridSequence& sequence : directions.of(bends))
      if (auto lengths_m = programme.solved(sequence)) {
        GridWay found;
        for (const GridTurn* turn : sequence.turns) {
          const way::Bend& bend = problem.bends[turn->bend];
          found.way.turns.push_back({turn->bend, bend.angle_rad, turn->clocking_rad, std::nullopt});
          found.length_m += bend.angle_rad * bend.radius_m;
        }
        for (const double straight_m : *lengths_m)
          found.length_m += straight_m;
        found.way.straights_m = std::move(*lengths_m);
        ways.push_back(std::move(found));
      }
  }
  std::sort(ways.begin(), ways.end(),
            [](const GridWay& a, const GridWay& b) { return a.length_m < b.length_m; });
  return ways;
}

} // namespace bellmouth::test
