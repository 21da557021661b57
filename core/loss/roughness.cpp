// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/loss.hpp>

#include <cassert>

namespace bellmouth::loss {

double roughness_m(Surface surface) {
  // Typical values of tests/reference/roughness.csv, where the published ranges and addresses stand by row.
  switch (surface) {
  case Surface::drawn_metal:
    return 0.0015e-3; // RG02, drawn aluminium, new: 0.001 to 0.002 mm
  case Surface::welded_steel:
    return 0.045e-3; // RG09, welded tube in good condition: 0.04 to 0.10 mm (Idelchik)
  case Surface::cast_metal:
    return 0.25e-3; // RG11, new cast iron, lower end; for cast aluminium no source was found
  case Surface::smooth_hose:
    return 0.01e-3; // RG04, smooth-bore rubber: 0.006 to 0.07 mm; for silicone no source was found
  case Surface::wire_hose:
    return 0.5e-3; // RG06, bore that shows its wire: 0.3 to 4 mm
  case Surface::plastic:
    return 0.0015e-3; // RG07, moulded plastic: 0.0015 to 0.007 mm
  }
  assert(false);
  return 0;
}

} // namespace bellmouth::loss
