// SPDX-License-Identifier: GPL-3.0-or-later
// A way past what stands round a run.
#pragma once

#include "attempt.hpp"

namespace bellmouth::route {

/// From a run that meets its port, as found, to one that is clear as well, or the least short of it. What
/// comes too near is kept off by a plane where it was, and the least change sought again.
[[nodiscard]] Attempt passage(const Task& task, const Trouble& trouble, Closing& closing,
                              const std::vector<double>& present, const Found& found);

} // namespace bellmouth::route
