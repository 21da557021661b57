// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/trade/order.hpp>

#include <array>
#include <cassert>

namespace bellmouth::trade {

namespace {

constexpr auto pairs = std::to_array<Ordered>({
    {"loose_caution_mm", "loose_stop_mm"},
    {"tight_caution_mm", "tight_stop_mm"},
    {"near_miss_least_mm", "near_miss_most_mm"},
    {"engagement_stop_mm", "engagement_caution_mm"},
    {"tube_gap_least_mm", "tube_gap_most_mm"},
    {"clamp_span_low", "clamp_span_high"},
    {"clamp_kept_low", "clamp_kept_high"},
    {"bead_height_least_mm", "bead_height_mm"},
    {"bead_height_mm", "bead_height_most_mm"},
    {"friction_low", "friction_high"},
    {"hose_modulus_low_Pa", "hose_modulus_high_Pa"},
    {"restriction_note_Pa", "restriction_caution_Pa"},
    {"flatten_depression_Pa", "flatten_stop_Pa"},
    {"cooler_drop_note_Pa", "cooler_drop_caution_Pa"},
    {"cone_note_deg", "cone_caution_deg"},
    {"bend_caution_ratio", "bend_note_ratio"},
    {"bypass_note_share", "bypass_caution_share"},
    {"measured_low", "measured_high"},
});

} // namespace

std::span<const Ordered> ordered() {
  return pairs;
}

std::optional<Ordered> out_of_order(const Limits& limits) {
  for (const Ordered& pair : pairs) {
    const Threshold* low = find(pair.low);
    const Threshold* high = find(pair.high);
    assert(low != nullptr && high != nullptr);
    if (limits.*low->limit > limits.*high->limit)
      return pair;
  }
  return std::nullopt;
}

} // namespace bellmouth::trade
