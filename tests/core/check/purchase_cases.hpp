// SPDX-License-Identifier: GPL-3.0-or-later
// For each rule about a purchase a build that breaks it, and one that keeps it.
#pragma once

#include <bellmouth/check.hpp>

#include <functional>
#include <string_view>
#include <vector>

namespace bellmouth::test {

struct PurchaseCase {
  std::string_view rule;
  check::Severity severity;
  std::string_view figure; ///< what the message must say
  std::function<void(build::Build&)> breaks, keeps;
  double seconds; ///< for the plan; infinity: until it is proven
};
[[nodiscard]] std::vector<PurchaseCase> purchase_cases();

} // namespace bellmouth::test
