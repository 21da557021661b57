// SPDX-License-Identifier: GPL-3.0-or-later
#include "parts.hpp"

#include <cassert>

namespace bellmouth::list {

Lists make(const Work& work) {
  assert(work.runs.size() == work.fits.size());
  Lists lists;
  list_purchases(work, lists);
  list_clamps(work, lists);
  list_cuts(work, lists);
  list_reducers(work, lists);
  return lists;
}

} // namespace bellmouth::list
