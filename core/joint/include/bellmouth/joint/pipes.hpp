// SPDX-License-Identifier: GPL-3.0-or-later
// Pipe is named by a nominal bore, tube by its outside diameter: a "2 in pipe" measures 60.3 mm.
#pragma once

#include <span>
#include <string_view>

namespace bellmouth::joint {

struct PipeSize {
  int nominal_mm;                ///< DN
  std::string_view nominal_inch; ///< "1 1/4"
  double outer_diameter_m;
  bool also_tube; ///< sold as tube of that diameter too, so that it is no odd size among tubes
};
/// Steel pipe from DN 25 to DN 100 (outside diameters of series 1 of ISO 4200 and EN 10220; DN 65 also as
/// ASME B36.10 has it, 73 mm; from memory).
[[nodiscard]] std::span<const PipeSize> pipe_sizes();
/// The pipe of an outside diameter within 0.15 mm, or nullptr.
[[nodiscard]] const PipeSize* find_pipe(double outer_diameter_m);

} // namespace bellmouth::joint
