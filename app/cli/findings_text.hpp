// SPDX-License-Identifier: GPL-3.0-or-later
// Findings for people.
#pragma once

#include <bellmouth/check.hpp>

#include <iosfwd>
#include <string>
#include <vector>

namespace bellmouth::cli {

/// The gravest first.
inline constexpr check::Severity severities[] = {check::Severity::stop, check::Severity::caution,
                                                 check::Severity::note};

/// "2 stops, 1 caution, no notes; 1 waived": those that are waived are not among the others.
[[nodiscard]] std::string count_text(const std::vector<check::Finding>& findings);
/// A paragraph for each, with its reason, the user's own where it is waived, and the key of its rule.
void print_findings(std::ostream& out, const std::vector<check::Finding>& findings);

} // namespace bellmouth::cli
