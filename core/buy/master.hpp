// SPDX-License-Identifier: GPL-3.0-or-later
// The programme that chooses patterns, packs and lengths so that every need is served.
#pragma once

#include "patterns.hpp"
#include "programme.hpp"

#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <vector>

namespace bellmouth::buy {

/// What a programme is to have the least of.
enum class Goal {
  unserved,
  offcuts,
  money,
  order, ///< needs served by what is not owned, then offcuts
};

[[nodiscard]] std::int64_t value_of(Goal goal, const Worth& worth);

/// A goal reached before, which is not to be given up.
struct Cap {
  Goal goal = Goal::money;
  std::int64_t at_most = 0;
};

/// Sets
///   p  how often a pattern of an offer is cut, y packs of an offer, x needs of a kind served by what is
///   whole
///      or by the metre, c whole minor units for what is by the metre, u needs of a kind left unserved
/// so that for each kind what patterns, x and u bring is its number of needs (or more, where more costs
/// nothing), for each offer the bodies or things used are no more than its packs hold, and c is no less than
/// price times length, rounded. In the relaxed programme, `missing` columns make up for what patterns not yet
/// known would bring, at a penalty.
class Master {
public:
  struct Settings {
    Goal goal = Goal::money;
    std::vector<Cap> caps;
    bool exactly = false; ///< each need once; otherwise once at least
    double penalty = 0;   ///< of what is missing; 0: nothing may be
  };

  Master(const Job& job, const std::vector<Kind>& kinds, Settings settings);

  /// False if it is in already.
  bool add(const Pattern& pattern);

  [[nodiscard]] Programme& programme() { return programme_; }
  [[nodiscard]] const Programme& programme() const { return programme_; }
  void set_penalty(double penalty);
  [[nodiscard]] double missing() const;

  /// Duals of the kinds' rows.
  [[nodiscard]] std::vector<double> kind_values() const;
  /// What an offcut costs in the relaxed solution, and a body of an offer.
  [[nodiscard]] double offcut_cost() const;
  [[nodiscard]] double body_cost(std::size_t offer) const;
  /// Packs that there can be of an offer.
  [[nodiscard]] int most_packs(std::size_t offer) const;

  /// Patterns known, those of least reduced cost first: what the relaxed solution cuts and what comes next to
  /// it.
  [[nodiscard]] std::vector<Pattern> nearest(std::size_t most) const;

  /// Column of packs, by offer.
  [[nodiscard]] const std::map<std::size_t, int>& packs() const { return packs_; }
  /// The choice that whole values of all columns stand for: each need once, owned things first.
  [[nodiscard]] Choice choice(const std::vector<double>& values) const;

private:
  enum class What { pattern, packs, served, rounded, unserved, missing };
  struct Column {
    What what = What::pattern;
    std::size_t kind = 0, offer = 0;
    Pattern pattern = {};
  };

  double factor(Goal goal, const Column& column) const;
  int add(Column column, double lower, double upper, std::vector<Entry> entries);
  void add_offer(std::size_t number);
  void add_missing(int row, double sign);

  const Job& job_;
  const std::vector<Kind>& kinds_;
  Settings settings_;
  Programme programme_;
  std::vector<Column> columns_;
  std::vector<int> cap_rows_, least_rows_, floor_rows_;
  std::map<std::size_t, int> packs_;
  std::map<std::size_t, int> body_rows_; ///< by offer: bodies or things used against packs
  std::map<std::size_t, int> full_rows_; ///< by offer: no pack bought for nothing
  std::map<std::size_t, std::vector<Pattern>> known_;
};

} // namespace bellmouth::buy
