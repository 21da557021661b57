// SPDX-License-Identifier: GPL-3.0-or-later
// Which suppliers to order from, where postage or their number ties needs together that share no offer.
#pragma once

#include "group.hpp"

namespace bellmouth::buy {

struct Decided {
  Choice choice;
  Worth worth; ///< with suppliers and postage
  Worth least; ///< no choice is better as far as Worth::main_less() goes
};

/// The best choice for all needs of a question. Only inside with_solver().
[[nodiscard]] Decided decide(const Question& question, Clock::time_point until);

/// Postage of goods bought from a supplier; 0 for none.
[[nodiscard]] std::int64_t postage_of(const Postage& postage, std::int64_t goods_minor);

} // namespace bellmouth::buy
