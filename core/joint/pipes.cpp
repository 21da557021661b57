// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/joint/pipes.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace bellmouth::joint {

namespace {

// Tube of 3, 3 1/2 and 4 inches (76.2, 88.9 and 101.6 mm) is common stock.
constexpr auto table = std::to_array<PipeSize>({
    {25, "1", 33.7e-3, false},
    {32, "1 1/4", 42.4e-3, false},
    {40, "1 1/2", 48.3e-3, false},
    {50, "2", 60.3e-3, false},
    {65, "2 1/2", 73.0e-3, false},
    {65, "2 1/2", 76.1e-3, true},
    {80, "3", 88.9e-3, true},
    {90, "3 1/2", 101.6e-3, true},
    {100, "4", 114.3e-3, false},
});

constexpr double same_m = 0.15e-3;

} // namespace

std::span<const PipeSize> pipe_sizes() {
  return table;
}

const PipeSize* find_pipe(double outer_diameter_m) {
  const auto found = std::ranges::find_if(table, [&](const PipeSize& pipe) {
    return std::abs(pipe.outer_diameter_m - outer_diameter_m) < same_m;
  });
  return found == table.end() ? nullptr : &*found;
}

} // namespace bellmouth::joint
