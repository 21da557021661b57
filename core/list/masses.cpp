// SPDX-License-Identifier: GPL-3.0-or-later
// What the pieces weigh.
#include "parts.hpp"

#include <array>
#include <numbers>
#include <variant>

namespace bellmouth::list {
namespace {

/// Volume of a round cone or cylinder.
double frustum_m3(double from_m, double to_m, double length_m) {
  return std::numbers::pi / 12 * length_m * (from_m * from_m + from_m * to_m + to_m * to_m);
}

/// Volume of wall. What bends has its centroid on the centreline, so that length along the centreline counts
/// (Pappus, Guldin); the mitres of a segmented bend take as much as they add.
double wall_volume_m3(const build::Shape& shape) {
  if (build::is_fitting(shape))
    return 0;
  const double length_m = build::full_length_m(shape);
  const double hollow_m3 =
      frustum_m3(build::outer_diameter_in_m(shape), build::outer_diameter_out_m(shape), length_m) -
      frustum_m3(build::bore_in_m(shape), build::bore_out_m(shape), length_m);
  const auto* const hump = std::get_if<build::HumpHose>(&shape);
  if (hump == nullptr)
    return hollow_m3;
  // The hump is a wider ring; the walls that lead up to it are left out.
  return hollow_m3 +
         std::numbers::pi * hump->wall_m * (hump->hump_bore_m - hump->bore_m) * hump->hump_length_m;
}

} // namespace

double density_kg_m3(build::Material material) {
  // In the order of Material.
  constexpr std::array<double, 6> densities{2700, 7850, 7930, 1200, 1150, 1100};
  return densities[static_cast<std::size_t>(material)];
}

void list_masses(const Work& work, Lists& lists) {
  std::size_t rows = 0;
  for (const build::Run* const run : work.runs)
    rows += run->pieces.size();
  lists.masses.reserve(rows);
  for (const build::Run* const run : work.runs)
    for (std::size_t row = 0; row < run->pieces.size(); ++row) {
      const build::Piece& piece = run->pieces[row];
      if (build::is_fitting(piece.shape))
        continue;
      MassLine& line = lists.masses.emplace_back();
      line.piece = reference(work, *run, row);
      line.title = build::title(piece);
      line.material = piece.material;
      line.volume_m3 = wall_volume_m3(piece.shape);
      line.mass_kg = line.volume_m3 * density_kg_m3(piece.material);
    }
}

} // namespace bellmouth::list
