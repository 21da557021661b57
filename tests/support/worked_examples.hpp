// SPDX-License-Identifier: GPL-3.0-or-later
// Compares what tests work out with the published problems of tests/reference/worked_examples.csv.
#pragma once

#include "support/close.hpp"
#include "support/reference.hpp"

#include <gtest/gtest.h>

#include <cstddef>
#include <map>
#include <string>

namespace bellmouth::test {

/// What was worked out, by example and number of the result.
using Answers = std::map<std::string, std::map<int, double>>;

/// Every row whose example is answered: the printed answer at the tolerance of its row, the one worked out
/// again at `recomputed`. Returns how many rows there were.
inline std::size_t expect_published(const Answers& answers, double recomputed) {
  std::size_t found = 0;
  for (const Row& row : reference("worked_examples.csv")) {
    const auto example = answers.find(row.text("ex_id"));
    if (example == answers.end())
      continue;
    ++found;
    const double answer = example->second.at(static_cast<int>(row.number("n")));
    EXPECT_TRUE(close(answer, row.number("published"), row.number("rtol")))
        << row.text("ex_id") << row.text("n");
    EXPECT_TRUE(close(answer, row.number("recomputed"), recomputed)) << row.text("ex_id") << row.text("n");
  }
  return found;
}

} // namespace bellmouth::test
