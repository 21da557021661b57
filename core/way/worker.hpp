// SPDX-License-Identifier: GPL-3.0-or-later
// One unit of the search: chains drawn or altered, the most promising fitted, and what comes out made better.
#pragma once

#include "choice.hpp"
#include "corners.hpp"
#include "fitter.hpp"
#include "passages.hpp"
#include "random.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace bellmouth::way {

/// What all units know and none changes.
struct Field {
  Field(const Problem& problem, std::uint64_t seed);
  const Problem& problem;
  Choice choice;
  Ground ground;
  FreeSpace space;
};

/// A chain with what it may do.
struct Draft {
  Pattern pattern;
  Chain chain;
  double wrong = 0; ///< squares of all that is wrong [m2]
};
struct Candidate {
  Draft draft;
  Way way;
  Figures figures;
  bool is_bettered = false; ///< what alters it a little makes it no cheaper
};
struct Yield {
  std::vector<Candidate> ways; ///< good as far as samples tell
  std::vector<Draft> strays;   ///< chains that did not come free
  std::optional<Path> path;
};

class Worker {
public:
  explicit Worker(const Field& field) : field_(field), fitter_(field.problem, field.ground) {}

  /// Chains drawn anew.
  [[nodiscard]] Yield fresh(std::size_t turns, Random& random);
  /// A path through the bay, the straightest or by some liking.
  [[nodiscard]] Yield passage_drawn(double liking, Random& random);
  /// Chains along a path.
  [[nodiscard]] Yield along(const Path& path, std::size_t turns, Random& random);
  /// Chains made from another, a stray or a good one; with a second, from the beginning of the one and the end
  /// of the other.
  [[nodiscard]] Yield altered(const Draft& from, const Draft* other, Random& random);
  /// A good one with what else its pieces and sizes could be, as long as that makes it cheaper.
  [[nodiscard]] Yield bettered(Candidate good, Random& random);

private:
  [[nodiscard]] std::optional<Draft> drawn(std::size_t turns, Random& random);
  [[nodiscard]] std::optional<Draft> drawn_fixed(std::size_t turns, Random& random);
  [[nodiscard]] std::optional<Draft> crossed(const Draft& from, const Draft& other, Random& random);
  [[nodiscard]] std::optional<Draft> varied(const Draft& from, Random& random);
  [[nodiscard]] std::optional<Draft> with_corners(Pattern pattern, const Corners& corners);
  void shift(Corners& corners, std::size_t turns, std::size_t i, double by_m, Random& random) const;
  [[nodiscard]] bool choose_turns(Pattern& pattern, Random& random) const;
  void try_best(Yield& yield, Random& random);
  void settle(const Draft& draft, Yield& yield);
  void snap(const Draft& draft, Yield& yield);
  [[nodiscard]] std::optional<Candidate> fitted(Draft draft, int most_steps, Yield* strays);
  [[nodiscard]] std::optional<Candidate> candidate(const Draft& draft) const;
  [[nodiscard]] bool meets_itself(const Draft& draft) const;
  [[nodiscard]] std::vector<Draft> moves(const Candidate& candidate) const;
  [[nodiscard]] TurnRange any_angle(const Pattern& pattern, std::size_t turn) const;

  const Field& field_;
  Fitter fitter_;
  std::vector<Draft> drafts_;
};

/// Lets the straights, clockings and angles of a good candidate go where it costs less, its pieces staying
/// the same. What comes out is good and costs no more.
void slide(const Field& field, Fitter& fitter, Candidate& candidate, int most_rounds);

} // namespace bellmouth::way
