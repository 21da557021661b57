// SPDX-License-Identifier: GPL-3.0-or-later
// Maps of blowers and compressors as measured: what they must be, and what they say between their points.
#pragma once

#include <bellmouth/machine.hpp>

#include <optional>
#include <string>
#include <vector>

namespace bellmouth::machine {

/// What is wrong with a map, in words; nothing when it can be used.
[[nodiscard]] std::optional<std::string> map_fault(const std::vector<BlowerMapPoint>& map);
[[nodiscard]] std::optional<std::string> map_fault(const CompressorMap& map);

} // namespace bellmouth::machine
