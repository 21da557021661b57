// SPDX-License-Identifier: GPL-3.0-or-later
#include "route_source.hpp"

namespace bellmouth::ui {

RouteSource core_routes() {
  return {.usual = find::usual,
          .question = find::question,
          .weights = find::weights,
          .search = way::find,
          .ranked = way::ranked,
          .proposal = find::proposal,
          .tell_apart = find::tell_apart,
          .with_proposal = find::with_proposal,
          .reasons = [](const build::Build& build, const find::Question& question, const way::Found& found) {
            return find::reasons(build, question, found);
          }};
}

} // namespace bellmouth::ui
