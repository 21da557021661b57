// SPDX-License-Identifier: GPL-3.0-or-later
// Stock items in words, in the units that the user has chosen.
#pragma once

#include <bellmouth/build.hpp>

#include <QString>
#include <QStringList>

namespace bellmouth::ui {

/// The word for a kind: "tube bend".
[[nodiscard]] QString stock_kind_word(build::StockKind kind);
/// The words for all kinds, in the order of the enumerators.
[[nodiscard]] QStringList stock_kind_words();
inline constexpr int stock_kind_count = 12;
[[nodiscard]] QStringList stock_material_words();
[[nodiscard]] QStringList clamp_type_words();

/// The name, or the id where there is none.
[[nodiscard]] QString stock_title(const build::StockItem& item);
/// The sizes without units, those that the item states: "⌀60 × 2, 90°, R 90, legs 100 + 100".
[[nodiscard]] QString stock_sizes(const build::StockItem& item);
/// What it stands and how it is made: "220 °C, 200 kPa, 4 plies, oil-proof".
[[nodiscard]] QString stock_rating(const build::StockItem& item);
/// How much is owned: "3", or "1.2 m" of what is sold by the metre; empty: none.
[[nodiscard]] QString owned_text(build::Per per, double quantity);
/// Reads how much is owned. Empty text is none.
[[nodiscard]] Result<double> read_owned(build::Per per, const QString& typed);

/// Text as it is searched: without capitals, and with x for the sign between sizes.
[[nodiscard]] QString searchable(const QString& text);

} // namespace bellmouth::ui
