// SPDX-License-Identifier: GPL-3.0-or-later
// Whether the shapes of the pieces are kind to the air.
#include "context.hpp"
#include "words.hpp"

#include <spdlog/fmt/fmt.h>

#include <cmath>

namespace bellmouth::check {

namespace {

using enum Severity;

/// Catalogue radii are rounded: a bend of 95 mm on 63.5 mm tube is meant as 1.5 diameters.
constexpr double catalogue_slack = 0.03;

struct Curve {
  double angle_rad = 0, ratio = 0;
  int joints = 0; ///< mitres; 0 for a smooth bend
};

Curve curve(const build::Shape& shape) {
  return std::visit(
      [](const auto& piece) -> Curve {
        if constexpr (requires { piece.joints; })
          return {piece.angle_rad, piece.radius_m / piece.outer_diameter_m, piece.joints};
        else if constexpr (requires {
                             piece.radius_m;
                             piece.outer_diameter_m;
                           })
          return {piece.angle_rad, piece.radius_m / piece.outer_diameter_m};
        else if constexpr (requires { piece.radius_m; })
          return {piece.angle_rad, piece.radius_m / piece.bore_in_m};
        else
          return {};
      },
      shape);
}

void check_bend(Context& c, const RunView& run, std::size_t row) {
  const Curve bend = curve(run.shape(row));
  if (bend.angle_rad <= 0)
    return;
  const bool rigid = build::is_rigid(run.shape(row));
  const bool tight = below(bend.ratio, c.limits.bend_caution_ratio * (1 - catalogue_slack));
  // Moulded elbows come with about one diameter: only what is below that is worth a word.
  if (tight || (rigid && below(bend.ratio, c.limits.bend_note_ratio * (1 - catalogue_slack))))
    c.add_at_row(
        Id::tight_bend, tight ? caution : note, run, row,
        fmt::format("{} at a centreline radius of {:.2f} diameters; {} are better.", degrees(bend.angle_rad),
                    bend.ratio, c.limits.bend_note_ratio),
        "The stream leaves the inner wall. Where there is room for it, an easier radius costs nothing.");
  if (bend.joints > 0 && above(bend.angle_rad / bend.joints, c.limits.mitre_rad))
    c.add_at_row(Id::sharp_mitre, caution, run, row,
                 fmt::format("{} in {} of {} each.", degrees(bend.angle_rad),
                             bend.joints == 1 ? "one cut" : fmt::format("{} cuts", bend.joints),
                             degrees(bend.angle_rad / bend.joints)),
                 "Each sharp corner costs up to a whole dynamic pressure. Share the angle among more cuts, "
                 "or buy a bend.");
}

/// Length over which the bore of a straight piece changes.
double taper_m(const RunView& run, std::size_t row) {
  const auto& shape = run.shape(row);
  const bool taper = std::holds_alternative<build::Cone>(shape) ||
                     std::holds_alternative<build::Adapter>(shape) ||
                     std::holds_alternative<build::HoseReducer>(shape);
  return taper ? run.fit->rows[row].centreline_length_m : 0;
}

void check_cone(Context& c, const RunView& run, std::size_t row) {
  const double length_m = taper_m(run, row);
  if (length_m <= 0)
    return;
  const double in_m = build::bore_in_m(run.shape(row)), out_m = build::bore_out_m(run.shape(row));
  if (out_m <= in_m)
    return;
  const double included_rad = 2 * std::atan((out_m - in_m) / (2 * length_m));
  if (above(included_rad, c.limits.cone_note_rad))
    c.add_at_row(
        Id::steep_cone, above(included_rad, c.limits.cone_caution_rad) ? caution : note, run, row,
        fmt::format("{} to {} within {} is {} included; {} are the most without a loss.", millimetres(in_m),
                    millimetres(out_m), millimetres(length_m), degrees(included_rad),
                    degrees(c.limits.cone_note_rad)),
        fmt::format(
            "The stream does not follow so steep a wall. A cone for this step wants {}.",
            millimetres(std::ceil((out_m - in_m) / (2 * std::tan(c.limits.cone_note_rad / 2)) * 1e3) / 1e3)));
}

} // namespace

void check_shapes(Context& c) {
  for (const auto& run : c.runs)
    for (std::size_t row = 0; row < run.rows(); ++row) {
      check_bend(c, run, row);
      check_cone(c, run, row);
    }
}

} // namespace bellmouth::check
