// SPDX-License-Identifier: GPL-3.0-or-later
// Routes of a run, for machines.
#pragma once

#include "json.hpp"

#include <bellmouth/find.hpp>

#include <optional>
#include <vector>

namespace bellmouth::cli {

/// Of a piece that has one.
[[nodiscard]] std::optional<double> clocking(const build::Piece& piece);

[[nodiscard]] Json json_of(const build::Build& build, const find::Question& question, const way::Found& found,
                           const std::vector<find::Proposal>& proposals,
                           const std::vector<find::Reason>& reasons);

} // namespace bellmouth::cli
