// SPDX-License-Identifier: GPL-3.0-or-later
// Friction and the losses of fittings.
#include "common_arguments.hpp"

#include <bellmouth/loss.hpp>

namespace bellmouth::cli {

namespace {

using quantity::Dimension;

double friction(const Given& given) {
  return loss::darcy_friction_factor(given.number("--reynolds"), given.number("--relative-roughness"));
}

/// The figures of every fitting: its coefficient, the ends of the band and whose correlation it is. `darcy`
/// is the friction factor, for those whose loss knows one.
Figures coefficient(const loss::Law& law, double darcy = 0) {
  return {{"loss_coefficient", law.at(darcy)},
          {"band_low", law.low(darcy)},
          {"band_high", law.high(darcy)},
          {"based_on_velocity_at", law.basis == loss::Basis::inlet ? "inlet" : "outlet"},
          {"outside_range", law.outside_range ? "yes" : "no"},
          {"source", std::string(law.source)}};
}

Answer friction_factor(const Given& given) {
  return Figures{{"darcy_friction_factor", friction(given)}};
}

Answer bend_loss(const Given& given) {
  const double angle_rad = given.number("--angle"), radius_ratio = given.number("--radius-ratio");
  const double darcy = friction(given);
  Figures figures = coefficient(loss::law(loss::Bend{angle_rad, radius_ratio}), darcy);
  figures.emplace_back("darcy_friction_factor", darcy);
  if (given.has("--bore")) {
    const double radius_mm = radius_ratio * given.number("--bore") * mm_per_m;
    figures.emplace_back("centreline_radius_mm", radius_mm);
    figures.emplace_back("centreline_length_mm", radius_mm * angle_rad);
  }
  return figures;
}

Answer mitre_loss(const Given& given) {
  return coefficient(loss::law(loss::Mitre{given.number("--angle")}));
}

Answer cone_loss(const Given& given) {
  return coefficient(
      loss::law(loss::Cone{given.number("--from"), given.number("--to"), given.number("--length")}),
      friction(given));
}

Answer step_loss(const Given& given) {
  return coefficient(loss::law(loss::Step{given.number("--from"), given.number("--to")}));
}

constexpr std::string_view entry_kinds[] = {"bellmouth", "flush", "projecting"};

Answer entry_loss(const Given& given) {
  const auto kind = static_cast<loss::EntryKind>(given.choice("--kind"));
  const bool bellmouth = kind == loss::EntryKind::bellmouth;
  if (bellmouth != given.has("--radius-ratio"))
    return misfit("--radius-ratio", bellmouth ? "nothing" : "a lip on a sharp entry",
                  "a lip radius over bore with --kind bellmouth, and only there");
  const double radius_ratio = bellmouth ? given.number("--radius-ratio") : 0;
  return coefficient(loss::law(loss::Entry{kind, radius_ratio, given.has("--in-wall")}));
}

const Sum table[] = {
    {"friction-factor",
     "Darcy friction factor of a round duct",
     {reynolds, relative_roughness},
     friction_factor},
    {"bend-loss",
     "Loss coefficient of a smooth bend",
     {{"--angle", "angle it turns", bend_angle},
      {"--radius-ratio", "centreline radius over bore", Quantity{Dimension::ratio, "", 0.5, 100}},
      reynolds,
      relative_roughness,
      {"--bore", "inside diameter, for its length", positive_length, Need::optional}},
     bend_loss},
    {"mitre-loss",
     "Loss coefficient of one sharp mitre",
     {{"--angle", "angle it turns", bend_angle}},
     mitre_loss},
    {"cone-loss",
     "Loss coefficient of a cone, on the velocity in its small end",
     {{"--from", "bore at the inlet", positive_length},
      {"--to", "bore at the outlet", positive_length},
      {"--length", "length along the axis", positive_length},
      reynolds,
      relative_roughness},
     cone_loss},
    {"step-loss",
     "Loss coefficient of a sudden step, on the velocity in the smaller bore",
     {{"--from", "bore before it", positive_length}, {"--to", "bore behind it", positive_length}},
     step_loss},
    {"entry-loss",
     "Loss coefficient of an entry from free air",
     {{"--kind", "shape of the entry", Choice{entry_kinds}},
      {"--radius-ratio", "lip radius over bore, of a bellmouth", Quantity{Dimension::ratio, "", 0, 10},
       Need::optional},
      {"--in-wall", "the bellmouth stands in a wall", Switch{}, Need::optional}},
     entry_loss},
};

} // namespace

std::span<const Sum> loss_sums() {
  return table;
}

} // namespace bellmouth::cli
