// SPDX-License-Identifier: GPL-3.0-or-later
// Two options side by side, as tables of words.
#pragma once

#include "figures.hpp"
#include "text_table_model.hpp"

namespace bellmouth::ui {

struct TextTable {
  QStringList header;
  std::vector<std::vector<TextCell>> rows;
};

/// Both are options of one build at one engine speed. Differences are the shown option's less the rival's.
struct Comparison {
  const build::Build& build;
  const Known shown;
  const Known rival;

  [[nodiscard]] TextTable figures() const;
  /// Drop, length, volume and joints of each run.
  [[nodiscard]] TextTable runs() const;
  /// What either costs, by kind and in all, before and after what is spent; empty unless both purchases are
  /// known.
  [[nodiscard]] TextTable money() const;
  /// Lines of the shopping lists whose amounts differ.
  [[nodiscard]] TextTable needs() const;
  /// What the checks say of only one of the two.
  [[nodiscard]] TextTable findings() const;
};

} // namespace bellmouth::ui
