// SPDX-License-Identifier: GPL-3.0-or-later
// The main figures of an operating point, from one table: for `evaluate`, a row of `sweep`, a column of
// `compare`.
#pragma once

#include "json.hpp"

#include <bellmouth/evaluate.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::cli {

/// A machine on the path and what it does to the stream.
struct MachineOnPath {
  const build::Machine* machine;
  const flow::MachineFlow* flow;
};
/// In path order; none where there is no operating point.
[[nodiscard]] std::vector<MachineOnPath> machines_on_path(const build::Build& build,
                                                          const Evaluation& evaluation);

struct MainFigure {
  std::string_view pointer; ///< JSON pointer, "/manifold/pressure_Pa"; its value is in the unit of the key
  std::string_view words;
  std::string_view column; ///< short, for a table with a row for each speed; empty: not in it
  std::string_view unit;   ///< that people read it in
  double factor, offset;   ///< from the key's unit to that
  int decimals;
  std::optional<double> value; ///< unset: not known, or the build has no such thing

  /// For people, without unit.
  [[nodiscard]] std::string text() const;
};
/// Always the same figures in the same order; without an operating point only the engine speed has a value.
[[nodiscard]] std::vector<MainFigure> main_figures(const build::Build& build, const Evaluation& evaluation);
/// "mass flow [kg/s]".
[[nodiscard]] std::string heading(std::string_view words, std::string_view unit);
/// The option and the figures as an object.
[[nodiscard]] Json json_of(const build::OptionId& option, const std::vector<MainFigure>& figures);

} // namespace bellmouth::cli
