// SPDX-License-Identifier: GPL-3.0-or-later
// Needs that are alike, taken together.
#pragma once

#include "choice.hpp"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace bellmouth::buy {

/// The goods of a supplier must reach an amount.
struct AtLeast {
  std::size_t supplier = 0;
  std::int64_t goods_minor = 0;
};

/// What the goods of some offers cost at least in any choice that is wanted; known from elsewhere.
struct Floor {
  std::vector<bool> offers; ///< by offer
  std::int64_t goods_minor = 0;
};

/// Needs that are served together, and what may serve them.
struct Job {
  const Question& question;
  std::vector<std::size_t> needs;
  std::vector<bool> allowed; ///< by offer
  std::vector<AtLeast> at_least;
  std::vector<Floor> floors;
};

/// Needs that are alike.
struct Kind {
  Form form = Form::whole;
  Piece piece;
  std::vector<std::size_t> needs;
  std::vector<std::size_t> offers; ///< that fit and are allowed, in order
  bool endless = false;            ///< one of the offers is there as often as wanted
};

/// The kinds of a job in order of first need; offers that something cheaper makes needless are left out
/// where only money counts.
[[nodiscard]] std::vector<Kind> kinds_of(const Job& job);

} // namespace bellmouth::buy
