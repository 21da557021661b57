// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/build/thresholds.hpp>

#include <cassert>

namespace bellmouth::build {

trade::Limits limits_of(const Build& build) {
  trade::Limits limits = trade::defaults();
  for (const ChangedThreshold& changed : build.thresholds) {
    const trade::Threshold* threshold = trade::find(changed.key);
    assert(threshold != nullptr);
    trade::set(*threshold, limits, changed.value);
  }
  return limits;
}

} // namespace bellmouth::build
