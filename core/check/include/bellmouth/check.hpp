// SPDX-License-Identifier: GPL-3.0-or-later
// What an old hand would see at a glance.
#pragma once

#include <bellmouth/bay.hpp>
#include <bellmouth/build.hpp>
#include <bellmouth/flow.hpp>
#include <bellmouth/joint.hpp>
#include <bellmouth/list.hpp>

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
  std::string message; ///< what, with the figures
  std::string reason;  ///< why it matters and what helps
  friend bool operator==(const Finding&, const Finding&) = default;
};

/// Where a fact behind a rule comes from.
enum class Source { standard, derived, practice, memory };

/// A rule as a user can look it up.
struct Rule {
  std::string_view key;
  std::string_view title;
  Severity severity;
  Source source;
  std::string_view basis; ///< the fact and its source in words
};
[[nodiscard]] std::span<const Rule> rules();

/// The limits the rules work with; the defaults are the trade's, each can be changed. Lengths [m], pressures [Pa], temperatures [K].
struct Limits;
[[nodiscard]] const Limits& default_limits();

/// All that is known of one option.
struct Facts {
  const build::Build& build;
  const build::Option& option;
  const std::vector<const build::Run*>& runs;   ///< in path order
  const std::vector<joint::RunFit>& fits;       ///< one for each of `runs`
  const flow::PathFlow& flow;
  const std::vector<std::optional<bay::Meeting>>& meetings; ///< one for each of `runs`
  const list::Lists& lists;
};

/// All findings, stops first, then in path order. Deterministic.
[[nodiscard]] std::vector<Finding> check(const Facts& facts, const Limits& limits = default_limits());

} // namespace bellmouth::check
