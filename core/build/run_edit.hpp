// SPDX-License-Identifier: GPL-3.0-or-later
// How an edit reaches one run of a build.
#pragma once

#include <bellmouth/build/document.hpp>

#include <algorithm>
#include <cassert>
#include <utility>

namespace bellmouth::build {

/// A copy in which one run of one option is what `change` makes of it. The other runs stay shared.
template <class Change>
Build with_run(const Build& build, const OptionId& option_id, const RunId& run_id, Change change) {
  Build result = build;
  const auto option = std::ranges::find(result.options, option_id, &Option::id);
  assert(option != result.options.end());
  const auto run = std::ranges::find_if(option->runs, [&](const auto& r) { return r->id == run_id; });
  assert(run != option->runs.end());
  Run changed = **run;
  change(changed);
  if (!(changed == **run))
    *run = std::move(changed);
  return result;
}

} // namespace bellmouth::build
