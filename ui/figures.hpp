// SPDX-License-Identifier: GPL-3.0-or-later
// The figures of an evaluation as words: for the tiles, and for two options side by side.
#pragma once

#include <bellmouth/buy.hpp>
#include <bellmouth/evaluate.hpp>

#include <QString>

#include <functional>
#include <optional>
#include <vector>

namespace bellmouth::ui {

/// Which way is better.
enum class Better { lower, higher, neither };

/// How a figure stands against that of another option.
struct Difference {
  QString text;  ///< signed, with its unit: "+1.2 kPa"; "same" when there is none
  int merit = 0; ///< 1 better, -1 worse, 0 equal or neither
  /// With a sign in front that does not need colour: a tick or a cross.
  [[nodiscard]] QString marked() const;
};

using ShowNumber = std::function<QString(double)>;
/// `value` against `other`; `show_size` writes the size of the difference without its sign. Values that
/// `show_value` shows alike are the same, and so are those whose difference `show_size` shows as nothing or
/// is below half a percent of the greater value, counted from `counted_from`. Counts and money have no
/// `counted_from`: of them every difference counts.
[[nodiscard]] Difference difference(double value, double other, Better better, const ShowNumber& show_value,
                                    const ShowNumber& show_size, std::optional<double> counted_from);

/// One figure, ready to be shown.
struct Figure {
  QString key;                  ///< stable, for object names: "air_flow"
  QString title;                ///< "Air flow"
  QString value;                ///< "0.142"; a dash when there is none
  QString unit;                 ///< "kg/s"; may be empty
  QString detail;               ///< second line: the band, where, absolute pressure
  QString tip;                  ///< what it is
  QString band;                 ///< "137 to 159 kPa", where it has been weighed
  bool has_band = false;        ///< whether a weighing gives it a band
  std::optional<double> number; ///< in SI, unset when the figure does not exist
  std::optional<Difference> difference;

  [[nodiscard]] QString text() const { return unit.isEmpty() ? value : value + " " + unit; }
};

/// What has been worked out of an option.
struct Known {
  const Evaluation& evaluation;
  const Weighing* weighing = nullptr;      ///< of the evaluation; nullptr: figures have no bands
  const buy::Purchase* purchase = nullptr; ///< nullptr: nothing is known of money
  std::optional<std::vector<check::Finding>> findings = std::nullopt; ///< unset: those of the evaluation

  [[nodiscard]] const std::vector<check::Finding>& all_findings() const {
    return findings ? *findings : evaluation.findings;
  }
};

/// All figures of an option in the order in which they are shown; with `rival`, each with its difference to
/// it.
[[nodiscard]] std::vector<Figure> figures(const build::Build& build, const Known& shown,
                                          const Known* rival = nullptr);
/// Why the flow figures may not be used: what chokes and at which flow it would not; empty when they may.
[[nodiscard]] QString trouble(const Evaluation& evaluation);

} // namespace bellmouth::ui
