// SPDX-License-Identifier: GPL-3.0-or-later
// Friction and the losses of bends, cones, steps, entries and exits.
#include "common_arguments.hpp"
#include "loss_figures.hpp"

#include <bellmouth/loss/interaction.hpp>

#include <algorithm>

namespace bellmouth::cli {

namespace {

using quantity::Dimension;

Answer friction_factor(const Given& given) {
  return Figures{{"darcy_friction_factor", friction(given)}};
}

Answer bend_loss(const Given& given) {
  const double angle_rad = given.number("--angle"), radius_ratio = given.number("--radius-ratio");
  const double darcy = friction(given);
  loss::Bend bend{angle_rad, radius_ratio};
  bend.relative_roughness = given.number("--relative-roughness");
  if (given.has("--ready-made-bore"))
    bend.ready_made_bore_m = given.number("--ready-made-bore");
  Figures figures = loss_figures(loss::law(bend), darcy, given.number("--reynolds"));
  figures.emplace_back("darcy_friction_factor", darcy);
  if (given.has("--bore")) {
    const double radius_mm = radius_ratio * given.number("--bore") * mm_per_m;
    figures.emplace_back("centreline_radius_mm", radius_mm);
    figures.emplace_back("centreline_length_mm", radius_mm * angle_rad);
  }
  return figures;
}

Answer bend_pair(const Given& given) {
  const loss::BendPair pair{given.number("--spacing-ratio"), given.number("--twist"),
                            given.number("--first-angle"),   given.number("--first-radius-ratio"),
                            given.number("--second-angle"),  given.number("--second-radius-ratio")};
  const double darcy = friction(given), reynolds_number = given.number("--reynolds");
  const loss::Interaction near = loss::interaction(pair);
  const auto bend = [&](double angle_rad, double radius_ratio) {
    return loss::beside(loss::law(loss::Bend{angle_rad, radius_ratio, given.number("--relative-roughness")}),
                        near);
  };
  const loss::Law first = bend(pair.first_angle_rad, pair.first_radius_ratio);
  const loss::Law second = bend(pair.second_angle_rad, pair.second_radius_ratio);
  const bool outside = near.outside_range || first.outside_range || second.outside_range ||
                       reynolds_number < std::max(first.least_reynolds, second.least_reynolds);
  return Figures{{"loss_coefficient", first.at(darcy) + second.at(darcy)},
                 {"band_low", first.low(darcy) + second.low(darcy)},
                 {"band_high", first.high(darcy) + second.high(darcy)},
                 {"interaction_factor", near.factor},
                 {"outside_range", outside ? "yes" : "no"},
                 {"range", std::string(near.range)},
                 {"source", std::string(near.source)}};
}

Answer pleated_loss(const Given& given) {
  return loss_figures(loss::law(loss::PleatedElbow{given.number("--angle"), given.number("--bore")}));
}

Answer mitre_loss(const Given& given) {
  return loss_figures(loss::law(loss::Mitre{given.number("--angle")}));
}

Answer segmented_loss(const Given& given) {
  return loss_figures(
      loss::law(loss::SegmentedBend{given.number("--angle"), given.number("--radius-ratio"),
                                    given.number("--bore"), static_cast<int>(given.number("--joints"))}));
}

Answer cone_loss(const Given& given) {
  loss::Law law =
      loss::law(loss::Cone{given.number("--from"), given.number("--to"), given.number("--length")});
  if (given.has("--behind-bend")) {
    if (given.number("--to") <= given.number("--from"))
      return misfit("--behind-bend", "a cone that narrows", "a cone that widens");
    law = loss::behind_disturbance(law, given.number("--behind-bend"));
  }
  return loss_figures(law, friction(given), given.number("--reynolds"));
}

Answer step_loss(const Given& given) {
  const double from_m = given.number("--from"), to_m = given.number("--to");
  if (!given.has("--edge-radius"))
    return loss_figures(loss::law(loss::Step{from_m, to_m}));
  if (to_m >= from_m)
    return misfit("--edge-radius", "a step that widens", "a step that narrows");
  return loss_figures(loss::law(loss::RoundedContraction{from_m, to_m, given.number("--edge-radius")}));
}

constexpr std::string_view entry_kinds[] = {"bellmouth", "flush", "projecting", "bevelled"};

Answer entry_loss(const Given& given) {
  const auto kind = static_cast<loss::EntryKind>(given.choice("--kind"));
  const bool bellmouth = kind == loss::EntryKind::bellmouth;
  if (bellmouth != given.has("--radius-ratio"))
    return misfit("--radius-ratio", bellmouth ? "nothing" : "a lip on a sharp entry",
                  "a lip radius over bore with --kind bellmouth, and only there");
  for (const char* flag : {"--projection-ratio", "--wall-ratio"})
    if (given.has(flag) && kind != loss::EntryKind::projecting)
      return misfit(flag, "another kind of entry", "it with --kind projecting only");
  const bool bevelled = kind == loss::EntryKind::bevelled;
  for (const char* flag : {"--bevel-angle", "--bevel-length-ratio"})
    if (bevelled != given.has(flag))
      return misfit(flag, bevelled ? "nothing" : "another kind of entry",
                    "it with --kind bevelled, and only there");
  loss::Entry entry{kind};
  entry.in_wall = given.has("--in-wall");
  const auto take = [&](const char* flag, double& into) {
    if (given.has(flag))
      into = given.number(flag);
  };
  take("--radius-ratio", entry.radius_ratio);
  take("--projection-ratio", entry.projection_ratio);
  take("--wall-ratio", entry.wall_ratio);
  take("--bevel-angle", entry.bevel_angle_rad);
  take("--bevel-length-ratio", entry.bevel_length_ratio);
  return loss_figures(loss::law(entry));
}

constexpr std::string_view exit_profiles[] = {"flat", "turbulent", "laminar"};

Answer exit_loss(const Given& given) {
  const auto profile = static_cast<loss::ExitProfile>(given.choice("--profile"));
  const bool needed = profile == loss::ExitProfile::turbulent;
  if (needed != given.has("--reynolds"))
    return misfit("--reynolds", needed ? "nothing" : "a profile that does not depend on it",
                  "it with --profile turbulent, and only there");
  const loss::Law law = loss::law(loss::Exit{profile});
  return needed ? loss_figures(law, friction(given), given.number("--reynolds")) : loss_figures(law);
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
      {"--bore", "inside diameter, for its length", positive_length, Need::optional},
      {"--ready-made-bore", "bore of an elbow pressed from sheet or of unknown make, for its band",
       positive_length, Need::optional}},
     bend_loss},
    {"bend-pair-loss",
     "Loss coefficient of two bends of one bore close behind each other, together",
     {{"--spacing-ratio", "straight between them over bore", Quantity{Dimension::ratio, "", 0, 1000}},
      {"--twist", "how far the second turns out of the plane of the first; 0 goes on the same way",
       Quantity{Dimension::angle, "°", -std::numbers::pi, std::numbers::pi}},
      {"--first-angle", "angle that the first turns", bend_angle},
      {"--first-radius-ratio", "its centreline radius over bore", Quantity{Dimension::ratio, "", 0.5, 100}},
      {"--second-angle", "angle that the second turns", bend_angle},
      {"--second-radius-ratio", "its centreline radius over bore", Quantity{Dimension::ratio, "", 0.5, 100}},
      reynolds,
      relative_roughness},
     bend_pair},
    {"pleated-loss",
     "Loss coefficient of a hose elbow with a pleated bore",
     {{"--angle", "angle it turns", bend_angle}, bore},
     pleated_loss},
    {"mitre-loss",
     "Loss coefficient of one sharp mitre",
     {{"--angle", "angle it turns", bend_angle}},
     mitre_loss},
    {"segmented-loss",
     "Loss coefficient of a bend made of mitres",
     {{"--angle", "angle it turns", bend_angle},
      {"--radius-ratio", "centreline radius over bore", Quantity{Dimension::ratio, "", 0.5, 100}},
      bore,
      {"--joints", "number of mitres", Count{1, 50}}},
     segmented_loss},
    {"cone-loss",
     "Loss coefficient of a cone, on the velocity in its small end",
     {{"--from", "bore at the inlet", positive_length},
      {"--to", "bore at the outlet", positive_length},
      {"--length", "length along the axis", positive_length},
      reynolds,
      relative_roughness,
      {"--behind-bend", "bores of straight between a bend or blower and a cone that widens, for its band",
       Quantity{Dimension::ratio, "", 0, 1000}, Need::optional}},
     cone_loss},
    {"step-loss",
     "Loss coefficient of a sudden step, on the velocity in the smaller bore",
     {{"--from", "bore before it", positive_length},
      {"--to", "bore behind it", positive_length},
      {"--edge-radius", "radius of the edge of a step that narrows", positive_length, Need::optional}},
     step_loss},
    {"entry-loss",
     "Loss coefficient of an entry from free air",
     {{"--kind", "shape of the entry", Choice{entry_kinds}},
      {"--radius-ratio", "lip radius over bore, of a bellmouth", Quantity{Dimension::ratio, "", 0, 10},
       Need::optional},
      {"--in-wall", "the bellmouth stands in a wall", Switch{}, Need::optional},
      {"--projection-ratio", "length that stands out of the wall over bore, else a long one",
       Quantity{Dimension::ratio, "", 0, 100}, Need::optional},
      {"--wall-ratio", "wall thickness of a projecting tube over bore, else a thin one",
       Quantity{Dimension::ratio, "", 0, 1}, Need::optional},
      {"--bevel-angle", "between a bevel and the axis",
       Quantity{Dimension::angle, "°", 0, std::numbers::pi / 2}, Need::optional},
      {"--bevel-length-ratio", "length of the bevel along the axis over bore",
       Quantity{Dimension::ratio, "", 0, 10}, Need::optional}},
     entry_loss},
    {"exit-loss",
     "Loss coefficient of an exit into a tank or free air",
     {{"--profile", "velocity profile that leaves", Choice{exit_profiles}, Need::optional, "flat"},
      {"--reynolds", "Reynolds number of the bore, of a turbulent profile", positive_ratio, Need::optional},
      relative_roughness},
     exit_loss},
};

} // namespace

std::span<const Sum> loss_sums() {
  return table;
}

} // namespace bellmouth::cli
