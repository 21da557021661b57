// SPDX-License-Identifier: GPL-3.0-or-later
// Finding ways.
//
// The search never ends by itself before its time unless it has tried all there is: it gives the first good
// way at once and goes on to better ones. Work is done in rounds of units; each unit draws from random
// numbers of its own, and what one unit finds is known to the others only from the next round on. So what is
// known after a round is the same for a seed, whatever the number of threads.
#pragma once

#include <bellmouth/way.hpp>

#include <cstddef>
#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <vector>

namespace bellmouth::way {

struct Effort {
  double seconds = 2;
  std::size_t rounds = std::numeric_limits<std::size_t>::max(); ///< ends after so many whatever the time
  unsigned threads = 1;
  std::uint64_t seed = 1;
  std::size_t best = 5; ///< how many ways are wanted
};

/// A way that keeps all rules.
struct Answer {
  Way way;
  Figures figures;
  Judgement judgement;
  double found_s = 0; ///< since the search began
};
/// The way that came nearest to keeping the rules, where none does: it meets its port, but lacks room.
struct Nearly {
  Way way;
  Judgement judgement;
  double lacks_m = 0; ///< the most that any clearance, straight or gap falls short
};

struct Found {
  std::vector<Answer> answers;   ///< no two the same, least cost first; at most `best`
  std::vector<Answer> others;    ///< good ways beyond them that other weights may prefer
  std::optional<Nearly> nearly;  ///< at the end, where there is no answer
  std::optional<double> first_s; ///< when the first good way was there
  double least_cost = 0;         ///< no way can cost less than this
  bool exhausted = false;        ///< what is left to try cannot be cheaper than the answers
  std::size_t rounds = 0;
  double seconds = 0;
};
/// Told after each round, and where a better way was found; answers whether to go on. Called by one thread of
/// the search at a time, not always the same.
using Watch = std::function<bool(const Found&)>;

/// The problem must be valid (an assertion).
[[nodiscard]] Found find(const Problem& problem, const Effort& effort, const Watch& watch = {});

/// The same ways in the order of the problem's weights, the first `best` of them apart.
[[nodiscard]] Found ranked(const Problem& problem, const Found& found, std::size_t best);

} // namespace bellmouth::way
