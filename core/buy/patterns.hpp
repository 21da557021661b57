// SPDX-License-Identifier: GPL-3.0-or-later
// Which pieces can come out of one body: the columns of the cutting programme.
#pragma once

#include "kinds.hpp"

#include <map>
#include <optional>
#include <span>
#include <utility>
#include <vector>

namespace bellmouth::buy {

/// Pieces that come out of one body of an offer together.
struct Pattern {
  std::size_t offer = 0;
  std::vector<std::pair<std::size_t, int>> counts; ///< kind and how many of it, by kind
  int pieces = 0;
  int offcuts = 0;
  friend bool operator==(const Pattern&, const Pattern&) = default;
};

/// What pieces and offcuts are worth when a pattern is sought.
struct Values {
  std::span<const double> of_kind; ///< each piece
  double offcut = 0;               ///< each takes this off; >= 0
};

/// Finds patterns of one offer.
class Cutter {
public:
  Cutter(const Question& question, const std::vector<Kind>& kinds, std::size_t offer);

  [[nodiscard]] std::size_t offer() const { return offer_; }

  struct Best {
    std::optional<Pattern> pattern; ///< worth more than asked, the best found
    double at_most = 0;             ///< no pattern is worth more
  };
  [[nodiscard]] Best best(Values values, double more_than);

  /// Adds all patterns worth `at_least`; with `only_full`, those that no further piece would go into. False
  /// when there would be more than `most` in `found`, or the search takes too long.
  [[nodiscard]] bool all(Values values, double at_least, bool only_full, std::size_t most,
                         std::vector<Pattern>& found);

  /// The pattern with these counts, if it can be cut.
  [[nodiscard]] std::optional<Pattern> pattern(std::vector<std::pair<std::size_t, int>> counts);

private:
  struct Item {
    std::size_t kind = 0;
    double size_m = 0; ///< taken at least, kerf included
    int demand = 0;
    double value = 0;
  };
  struct Search;

  void rank(Values values);
  double fractional(std::size_t from, int used_of_first, double room_m) const;
  /// Number of offcuts; nullopt where they cannot come out of the body. `room_m` is what is left of it.
  std::optional<int> offcuts(const std::vector<int>& counts, double room_m);
  bool full(const std::vector<int>& counts, double room_m);
  Pattern made(const std::vector<int>& counts, int offcuts) const;
  double best_by_sums(Values values, double more_than, std::optional<Pattern>& found);

  const Question& question_;
  const std::vector<Kind>& kinds_;
  std::size_t offer_;
  bool straight_;
  double capacity_m_;
  std::vector<Item> items_;
  std::map<std::vector<int>, int> laid_; ///< offcuts by counts of kinds, -1 where it does not work
};

} // namespace bellmouth::buy
