// SPDX-License-Identifier: GPL-3.0-or-later
// A route as it would be in the build: an option of its own, evaluated.
#pragma once

#include <bellmouth/evaluate.hpp>

namespace bellmouth::ui {

struct RouteGhost {
  build::Build build;
  Evaluation evaluation;
  build::RunId run;
};

} // namespace bellmouth::ui
