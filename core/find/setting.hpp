// SPDX-License-Identifier: GPL-3.0-or-later
// All that a question is about, worked out from the build once: what the way is joined to, with what, and
// where its ends lie.
#pragma once

#include "parts.hpp"

#include <bellmouth/bay/clearance.hpp>

#include <optional>
#include <vector>

namespace bellmouth::find {

/// Rows of the run that stay, as they lie.
struct Kept {
  std::vector<build::Piece> pieces;
  std::vector<bay::Room> rooms; ///< one for each
  double length_m = 0;          ///< of their centreline
};

struct Setting {
  const build::Option* option = nullptr; ///< of the build that the setting was made from
  const build::Run* run = nullptr;
  build::Port from, to;
  Evaluation evaluation; ///< of the option as it is
  Air air;

  Kept head, tail;
  bay::Frame start; ///< where the way begins
  bay::Frame end;   ///< where it ends: direction of flow; reference as the tail's clocking has it
  Joined before, behind;

  std::optional<Coupler> coupler_in, coupler_out; ///< unset where a hose that stays takes the tube
  Coupler coupler;                                ///< between tube and tube
  std::vector<Turning> turnings;
  way::Tube tube;
  std::optional<build::Lagging> lagging; ///< that all the replaced rows have
  double stands_out_m = 0;               ///< how far hoses and lagging stand out over the tube

  /// The least straight at an end of the way, before the port's own wish.
  [[nodiscard]] double least_at_start_m() const;
  [[nodiscard]] double least_at_end_m() const;
  [[nodiscard]] double least_between_m() const;
};

/// Errors as question().
[[nodiscard]] Result<Setting> setting(const build::Build& build, const Ask& ask);

/// Everything that the way has to stay clear of, with the build's keep-out of each.
struct Surroundings {
  std::vector<way::KeepOut> keep_outs;
  std::vector<std::optional<std::size_t>> of_build;
};
[[nodiscard]] Surroundings surroundings(const build::Build& build, const Setting& setting, double tube_m);

} // namespace bellmouth::find
