// SPDX-License-Identifier: GPL-3.0-or-later
// Which needs are served by which offers, and what that is worth.
#pragma once

#include "cutting.hpp"

#include <compare>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace bellmouth::buy {

/// Needs that one body serves; or all those that an offer serves which is whole or by the metre.
struct Portion {
  std::size_t offer = 0;
  std::vector<std::size_t> needs;
};

struct Choice {
  std::vector<Portion> portions;
  std::vector<std::size_t> unserved;
};

/// Less is better, what stands first counts first.
struct Worth {
  std::int64_t unserved = 0;
  std::int64_t aim = 0; ///< offcuts or suppliers where the question is to have the fewest of them
  std::int64_t money_minor = 0;
  std::int64_t bought = 0; ///< needs served by what is not owned
  std::int64_t offcuts = 0;

  friend auto operator<=>(const Worth&, const Worth&) = default;
  /// As far as the question says what is to be the least.
  [[nodiscard]] bool main_less(const Worth& other) const {
    return Worth{unserved, aim, money_minor} < Worth{other.unserved, other.aim, other.money_minor};
  }
};

[[nodiscard]] Worth operator+(const Worth& a, const Worth& b);
[[nodiscard]] Worth operator-(const Worth& a, const Worth& b);

[[nodiscard]] inline bool one_by_one(const Offer& offer) {
  return offer.form == Form::sawn && !offer.by_metre;
}

/// Whether an offer, alone, could serve a need that names it.
[[nodiscard]] bool fits(const Question& question, const Need& need, const Offer& offer);
/// The layout of a portion of what is sawn by the piece; nullopt if it does not come out of one body.
[[nodiscard]] std::optional<Layout> layout_of(const Question& question, std::size_t offer,
                                              std::span<const std::size_t> needs);
/// The uses that a portion is made of.
[[nodiscard]] std::vector<Use> uses_of(const Question& question, const Portion& portion);
/// Without suppliers and their postage. Goods of each supplier are added to `goods_of_supplier` if given.
[[nodiscard]] Worth worth_of(const Question& question, const Choice& choice,
                             std::vector<std::int64_t>* goods_of_supplier = nullptr);

} // namespace bellmouth::buy
