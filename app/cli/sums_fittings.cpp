// SPDX-License-Identifier: GPL-3.0-or-later
// The losses of gaps, humps, hoses, gauze, probes, throttle plates, tees and wyes.
#include "common_arguments.hpp"
#include "loss_figures.hpp"

#include <bellmouth/loss/tee.hpp>

namespace bellmouth::cli {

namespace {

using quantity::Dimension;

std::string in_mm(double length_m) {
  return quantity::write(Dimension::length, length_m, "mm");
}

/// The larger bore of a gap or a hump, or why it is none.
tl::expected<double, Refusal> larger_bore(const Given& given, const char* flag) {
  const double larger_m = given.number(flag), bore_m = given.number("--bore");
  if (larger_m < bore_m)
    return misfit(flag, in_mm(larger_m), "at least the bore, " + in_mm(bore_m));
  return larger_m;
}

template <class Recess> Answer recess_loss(const Given& given, const char* flag) {
  const auto larger_m = larger_bore(given, flag);
  if (!larger_m)
    return tl::unexpected(larger_m.error());
  return loss_figures(loss::law(Recess{given.number("--bore"), *larger_m, given.number("--length")}),
                      friction(given), given.number("--reynolds"));
}

Answer gap_loss(const Given& given) {
  return recess_loss<loss::Gap>(given, "--gap-bore");
}

Answer hump_loss(const Given& given) {
  return recess_loss<loss::Hump>(given, "--hump-bore");
}

constexpr std::string_view hose_kinds[] = {"corrugated", "wire"};

Answer hose_loss(const Given& given) {
  const double length_m = given.number("--length"), bore_m = given.number("--bore");
  const double pitch_m = given.has("--pitch") ? given.number("--pitch") : 0;
  const double depth_m = given.has("--depth") ? given.number("--depth") : 0;
  if (depth_m > 0 && pitch_m == 0)
    return misfit("--pitch", "nothing", "it beside --depth");
  loss::Law law;
  if (given.choice("--kind") == 0) {
    law = loss::law(loss::CorrugatedHose{length_m, bore_m, pitch_m, depth_m});
  } else {
    if (pitch_m > 0 && depth_m == 0)
      return misfit("--depth", "nothing", "it beside --pitch, the height of the ridge over the wire");
    if (depth_m > 0 && !(depth_m < pitch_m && depth_m < 0.1 * bore_m))
      return misfit("--depth", in_mm(depth_m), "less than the pitch and than a tenth of the bore");
    law = loss::law(loss::WireHose{length_m, bore_m, pitch_m, depth_m});
  }
  return loss_figures(law, friction(given), given.number("--reynolds"));
}

Answer gauze_loss(const Given& given) {
  const double wire_m = given.number("--wire"), pitch_m = given.number("--pitch");
  if (pitch_m <= wire_m)
    return misfit("--pitch", in_mm(pitch_m), "more than the wire, " + in_mm(wire_m));
  const double side = 1 - wire_m / pitch_m;
  Figures figures = loss_figures(loss::law(loss::Gauze{given.number("--bore"), wire_m, pitch_m}), 0,
                                 given.number("--reynolds"));
  figures.emplace_back("open_share", side * side);
  return figures;
}

Answer plate_loss(const Given& given) {
  return loss_figures(loss::law(loss::PerforatedPlate{given.number("--open-share")}));
}

Answer probe_loss(const Given& given) {
  const double bore_m = given.number("--bore"), depth_m = given.number("--depth");
  const double diameter_m = given.number("--diameter");
  if (depth_m > bore_m)
    return misfit("--depth", in_mm(depth_m), "at most the bore, " + in_mm(bore_m));
  if (diameter_m > bore_m / 2)
    return misfit("--diameter", in_mm(diameter_m), "at most half the bore, " + in_mm(bore_m / 2));
  return loss_figures(loss::law(loss::Probe{bore_m, diameter_m, depth_m}));
}

Answer side_hole_loss(const Given& given) {
  const double bore_m = given.number("--bore"), hole_m = given.number("--hole");
  if (hole_m > bore_m)
    return misfit("--hole", in_mm(hole_m), "at most the bore, " + in_mm(bore_m));
  return loss_figures(loss::law(loss::SideHole{bore_m, hole_m}));
}

Answer butterfly_loss(const Given& given) {
  return loss_figures(
      loss::law(loss::Butterfly{given.number("--opening"), given.number("--wide-open-coefficient")}));
}

constexpr std::string_view directions[] = {"combining", "dividing"};
constexpr std::string_view paths[] = {"branch", "run"};

/// The same loss on the velocity in the leg itself, as the branches of a build state it; nothing where the
/// leg stands still.
Figures with_own_velocity(Figures figures, double coefficient, double share, double combined_bore_m,
                          double leg_bore_m) {
  const double bores = combined_bore_m / leg_bore_m, velocities = share * bores * bores; // leg over combined
  figures.emplace_back("loss_coefficient_on_own_velocity",
                       velocities > 0 ? Figure(coefficient / (velocities * velocities)) : Figure());
  return figures;
}

Answer tee_loss(const Given& given) {
  loss::Tee tee{given.number("--angle"), given.number("--bore"), given.number("--branch-bore"),
                given.number("--bore"), given.has("--rounded")};
  if (given.has("--run-bore"))
    tee.bore_run_m = given.number("--run-bore");
  const double share = given.number("--share");
  const bool combining = given.choice("--direction") == 0;
  if (given.choice("--path") == 0) {
    const auto found = combining ? loss::combining_branch(tee, share) : loss::dividing_branch(tee, share);
    return with_own_velocity(loss_figures(found), found.value, share, tee.bore_combined_m, tee.bore_branch_m);
  }
  const auto found = combining ? loss::combining_run(tee, share) : loss::dividing_run(tee, share);
  return with_own_velocity(loss_figures(found), found.value, 1 - share, tee.bore_combined_m, tee.bore_run_m);
}

Answer wye_loss(const Given& given) {
  const loss::Wye wye{given.number("--angle"), given.number("--bore"), given.number("--leg-bore"),
                      given.has("--rounded")};
  const double share = given.number("--share");
  const auto found =
      given.choice("--direction") == 0 ? loss::combining_leg(wye, share) : loss::dividing_leg(wye, share);
  return with_own_velocity(loss_figures(found), found.value, share, given.number("--bore"),
                           given.number("--leg-bore"));
}

constexpr Quantity share_of_one{Dimension::ratio, "", 0, 1};
constexpr Quantity branch_angle{Dimension::angle, "°", 0, std::numbers::pi / 2, true};
const Argument direction{"--direction", "whether the streams join or part", Choice{directions}};
const Argument rounded{"--rounded", "its corner is rounded", Switch{}, Need::optional};

const Sum table[] = {
    {"gap-loss",
     "Loss coefficient of the gap between two tube ends inside a hose",
     {bore,
      {"--gap-bore", "inside diameter of the hose over the gap", positive_length},
      {"--length", "length of the gap", positive_length},
      reynolds,
      relative_roughness},
     gap_loss},
    {"hump-loss",
     "Loss coefficient of the bulge of a hump hose",
     {bore,
      {"--hump-bore", "its largest inside diameter", positive_length},
      {"--length", "length of the bulge along the axis", positive_length},
      reynolds,
      relative_roughness},
     hump_loss},
    {"hose-loss",
     "Loss coefficient of a hose that is not smooth inside",
     {{"--kind", "corrugated, or showing its wire", Choice{hose_kinds}},
      {"--length", "length", positive_length},
      bore,
      {"--pitch", "of the corrugations or coils, if known", positive_length, Need::optional},
      {"--depth", "of a corrugation, or height of the ridge over the wire, if known", positive_length,
       Need::optional},
      reynolds,
      relative_roughness},
     hose_loss},
    {"gauze-loss",
     "Loss coefficient of woven wire gauze across the bore",
     {bore,
      {"--wire", "diameter of the wire", positive_length},
      {"--pitch", "of the wires from centre to centre", positive_length},
      reynolds},
     gauze_loss},
    {"plate-loss",
     "Loss coefficient of a flat plate with sharp-edged holes across the bore",
     {{"--open-share", "area of the holes over that of the bore", Quantity{Dimension::ratio, "", 1e-4, 1}}},
     plate_loss},
    {"probe-loss",
     "Loss coefficient of a sensor tip that stands into the bore",
     {bore,
      {"--diameter", "of the tip", positive_length},
      {"--depth", "that it stands in", Quantity{Dimension::length, "mm", 0, 100}}},
     probe_loss},
    {"side-hole-loss",
     "Loss coefficient of a hole in the wall that leads nowhere, as of a closed valve flange",
     {bore, {"--hole", "diameter of the hole", positive_length}},
     side_hole_loss},
    {"butterfly-loss",
     "Loss coefficient of a throttle plate, on the velocity in its bore",
     {{"--opening", "how far it is turned from shut, square across the bore",
       Quantity{Dimension::angle, "°", loss::least_butterfly_opening_rad, std::numbers::pi / 2}},
      {"--wide-open-coefficient", "loss coefficient with the plate edge on",
       Quantity{Dimension::ratio, "", 0, 100}}},
     butterfly_loss},
    {"tee-loss",
     "Loss coefficient of one stream through a tee, on the velocity in the combined leg and on its own",
     {direction,
      {"--path", "the stream asked for", Choice{paths}},
      {"--angle", "between branch and run", branch_angle},
      {"--bore", "of the combined leg", positive_length},
      {"--branch-bore", "of the branch", positive_length},
      {"--run-bore", "of the run, if another than the combined leg's", positive_length, Need::optional},
      {"--share", "flow of the branch over the combined flow", share_of_one},
      rounded},
     tee_loss},
    {"wye-loss",
     "Loss coefficient of the stream in one of two equal legs, on the velocity in the combined leg",
     {direction,
      {"--angle", "between each leg and the axis of the combined leg", branch_angle},
      {"--bore", "of the combined leg", positive_length},
      {"--leg-bore", "of each leg", positive_length},
      {"--share", "flow of the leg asked for over the combined flow", share_of_one},
      rounded},
     wye_loss},
};

} // namespace

std::span<const Sum> fitting_sums() {
  return table;
}

} // namespace bellmouth::cli
