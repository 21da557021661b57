// SPDX-License-Identifier: GPL-3.0-or-later
// A fit for machines.
#pragma once

#include "json.hpp"

#include <bellmouth/fit.hpp>

namespace bellmouth::cli {

/// The word for a coefficient at the prompt: "engine-filling".
[[nodiscard]] std::string_view coefficient_word(build::Coefficient coefficient);

[[nodiscard]] Json json_of(const build::OptionId& option, const fit::Fit& fit);

} // namespace bellmouth::cli
