// SPDX-License-Identifier: GPL-3.0-or-later
// Entries and exits. Tables: Idelchik, Handbook of Hydraulic Resistance (1986), as reprinted by ASHRAE; rows
// in tests/reference/entrances_exits.csv.
#include "interpolate.hpp"

#include <bellmouth/loss.hpp>

#include <array>
#include <cassert>

namespace bellmouth::loss {
namespace {

// Loss against lip radius over bore. Diagram 3-4: bellmouth in free air, no wall.
constexpr std::array<TablePoint, 12> free_bellmouth{{{0, 1.0},
                                                     {0.01, 0.87},
                                                     {0.02, 0.74},
                                                     {0.03, 0.61},
                                                     {0.04, 0.51},
                                                     {0.05, 0.40},
                                                     {0.06, 0.32},
                                                     {0.08, 0.20},
                                                     {0.10, 0.15},
                                                     {0.12, 0.10},
                                                     {0.16, 0.06},
                                                     {0.20, 0.03}}};
// The same with the lip flush in an end wall.
constexpr std::array<TablePoint, 11> bellmouth_in_wall{{{0, 0.5},
                                                        {0.01, 0.44},
                                                        {0.02, 0.37},
                                                        {0.03, 0.31},
                                                        {0.04, 0.26},
                                                        {0.05, 0.22},
                                                        {0.06, 0.20},
                                                        {0.08, 0.15},
                                                        {0.12, 0.09},
                                                        {0.16, 0.06},
                                                        {0.20, 0.03}}};

} // namespace

Law law(const Entry& entry) {
  assert(entry.radius_ratio >= 0);
  Law law;
  switch (entry.kind) {
  case EntryKind::bellmouth:
    law.source = "Idelchik (1986), diagram 3-4";
    law.constant = entry.in_wall ? interpolate(bellmouth_in_wall, entry.radius_ratio)
                                 : interpolate(free_bellmouth, entry.radius_ratio);
    // -0.02/+0.08 in K: other correlations lie higher.
    law.band_low = 0.02 / law.constant;
    law.band_high = 0.08 / law.constant;
    break;
  case EntryKind::flush:
    law.source = "Idelchik (1986), diagram 3-1";
    law.constant = 0.50;
    law.band_low = law.band_high = 0.15;
    break;
  case EntryKind::projecting: // a thin wall reaching half a bore or more into the open
    law.source = "Idelchik (1986), diagram 3-1";
    law.constant = 1.00;
    law.band_low = law.band_high = 0.15;
    break;
  }
  return law;
}

Law law(const Exit&) {
  Law law;
  law.source = "kinetic energy of the stream";
  law.constant = 1.0;
  law.band_high = 0.10; // kinetic-energy factor 1.04 to 1.10 of a real profile
  return law;
}

} // namespace bellmouth::loss
