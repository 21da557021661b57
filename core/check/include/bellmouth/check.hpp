// SPDX-License-Identifier: GPL-3.0-or-later
// What an old hand would see at a glance.
#pragma once

#include <bellmouth/bay.hpp>
#include <bellmouth/bay/clearance.hpp>
#include <bellmouth/build.hpp>
#include <bellmouth/buy.hpp>
#include <bellmouth/flow.hpp>
#include <bellmouth/joint.hpp>
#include <bellmouth/list.hpp>
#include <bellmouth/trade.hpp>

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::check {

enum class Severity { note, caution, stop };
[[nodiscard]] std::string_view text(Severity severity);

/// Where a finding points.
struct Where {
  std::string text; ///< "filter to blower, row 3 (hose)"
  std::optional<build::PieceRef> piece;
  std::optional<build::MachineId> machine;
  friend bool operator==(const Where&, const Where&) = default;
};

/// One thing the checks have to say.
struct Finding {
  std::string_view rule; ///< stable key, "tube-without-bead"
  Severity severity = Severity::note;
  Where where;
  std::string message;                              ///< what, with the figures
  std::string reason;                               ///< why it matters and what helps
  std::optional<std::string> waived = std::nullopt; ///< the user's reason for living with it
  friend bool operator==(const Finding&, const Finding&) = default;
};

using trade::Limits;
using trade::Source;
using trade::text;

/// A rule as a user can look it up.
struct Rule {
  std::string_view key; ///< in small letters with hyphens, unique
  std::string_view title;
  Severity severity; ///< the most severe that its findings can be
  Source source;
  std::string_view basis; ///< the fact and its source in words
};
[[nodiscard]] std::span<const Rule> rules();

/// All that is known of one option.
struct Facts {
  const build::Build& build;
  const build::Option& option;
  const std::vector<const build::Run*>& runs; ///< in path order
  const std::vector<joint::RunFit>& fits;     ///< one for each of `runs`
  const flow::PathFlow& flow;
  const std::vector<std::optional<bay::Meeting>>& meetings; ///< one for each of `runs`
  const list::Lists& lists;
  const std::vector<bay::RunRoom>& rooms; ///< one for each of `runs`
  /// At rest, then in each of the build's states; in each one for each of `runs`. What is tight is enough.
  const std::vector<std::vector<bay::RunClearance>>& clearances;
};

/// All findings: stops, then stops that are waived, then cautions, then notes, each in path order; what
/// concerns no place on the path comes last. Deterministic. Rules that need the stream say nothing when the
/// operating point is not usable, except that it is not. What the build waives carries the user's reason.
[[nodiscard]] std::vector<Finding> check(const Facts& facts, const Limits& limits = trade::defaults());

/// The same about the purchase of an option: money, what the stock cannot serve, what a plan makes of bends.
/// The purchase must be one of that build.
[[nodiscard]] std::vector<Finding> check_purchase(const build::Build& build, const buy::Purchase& purchase);

/// Those of a severity that the user has not waived.
[[nodiscard]] std::size_t count(const std::vector<Finding>& findings, Severity severity);
[[nodiscard]] std::size_t count_waived(const std::vector<Finding>& findings);

} // namespace bellmouth::check
