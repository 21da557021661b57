// SPDX-License-Identifier: GPL-3.0-or-later
// What the user lives with.
#pragma once

#include <bellmouth/check.hpp>

#include <vector>

namespace bellmouth::check {

/// The waiver of a finding: its piece's where it points at one, else the build's for its machine, or for
/// none. nullptr without. Lives as long as the build.
[[nodiscard]] const build::Waiver* waiver_of(const build::Build& build, const Finding& finding);

/// Gives each finding that the build waives the user's reason.
void waive(const build::Build& build, std::vector<Finding>& findings);

} // namespace bellmouth::check
