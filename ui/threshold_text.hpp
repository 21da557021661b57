// SPDX-License-Identifier: GPL-3.0-or-later
// The thresholds of the trade as the screen shows and reads them.
#pragma once

#include <bellmouth/trade.hpp>

#include <QString>

#include <variant>

namespace bellmouth::ui {

/// "38 mm", "2.5 kPa", "5 bores", in the units the user has chosen.
[[nodiscard]] QString show_threshold(const trade::Threshold& threshold, const trade::Limits& limits);
/// What is accepted, in the units shown: "0 mm to 200 mm".
[[nodiscard]] QString accepted_words(const trade::Threshold& threshold);
/// Reads a value, with or without its unit: in the unit of the threshold's key, or a complaint.
[[nodiscard]] std::variant<double, QString> read_threshold(const trade::Threshold& threshold,
                                                           const QString& typed);
/// Words of the core for the screen.
[[nodiscard]] QString words_of(std::string_view text);

} // namespace bellmouth::ui
