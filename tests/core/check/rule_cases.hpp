// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "scene.hpp"

#include <functional>
#include <string_view>
#include <vector>

namespace bellmouth::test {

/// A rule with a change that breaks it and one that keeps it.
struct Case {
  std::string_view rule;
  check::Severity severity;
  std::string_view figure; ///< must stand in the message
  std::function<void(Scene&)> breaks;
  std::function<void(Scene&)> keeps;
  bool compressor = false; ///< begins with compressor_scene()
};
inline void PrintTo(const Case& c, std::ostream* stream) {
  *stream << c.rule;
}

[[nodiscard]] std::vector<Case> joint_cases();
[[nodiscard]] std::vector<Case> clamp_cases();
[[nodiscard]] std::vector<Case> hose_cases();
[[nodiscard]] std::vector<Case> stream_cases();
[[nodiscard]] std::vector<Case> layout_cases();
[[nodiscard]] std::vector<Case> machine_cases();
[[nodiscard]] std::vector<Case> trust_cases();
[[nodiscard]] std::vector<Case> clearance_cases();

[[nodiscard]] inline std::vector<Case> cases() {
  auto all = joint_cases();
  for (const auto more :
       {clamp_cases, hose_cases, stream_cases, layout_cases, machine_cases, trust_cases, clearance_cases})
    for (auto& c : more())
      all.push_back(std::move(c));
  return all;
}

} // namespace bellmouth::test
