// SPDX-License-Identifier: GPL-3.0-or-later
// Two options side by side, as tables of words.
#pragma once

#include "text_table_model.hpp"

#include <bellmouth/evaluate.hpp>

namespace bellmouth::ui {

struct TextTable {
  QStringList header;
  std::vector<std::vector<TextCell>> rows;
};

/// Both evaluations are of one build at one engine speed. Differences are the shown option's less the
/// rival's.
struct Comparison {
  const build::Build& build;
  const Evaluation& shown;
  const Evaluation& rival;
  const Weighing* shown_weighing = nullptr; ///< for the bands; nullptr: none are shown
  const Weighing* rival_weighing = nullptr;

  [[nodiscard]] TextTable figures() const;
  /// Drop, length, volume and joints of each run.
  [[nodiscard]] TextTable runs() const;
  /// Lines of the shopping lists whose amounts differ.
  [[nodiscard]] TextTable needs() const;
  /// What the checks say of only one of the two.
  [[nodiscard]] TextTable findings() const;
};

} // namespace bellmouth::ui
