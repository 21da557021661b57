// SPDX-License-Identifier: GPL-3.0-or-later
// Joints, clamps, cut bends and threads.
#include "common_arguments.hpp"

#include <bellmouth/joint.hpp>
#include <bellmouth/joint/hoses.hpp>
#include <bellmouth/joint/statics.hpp>
#include <bellmouth/joint/threads.hpp>

#include <array>
#include <cassert>
#include <cmath>
#include <utility>

namespace bellmouth::cli {

namespace {

using quantity::Dimension;

/// Those of which a tension can be worked out.
constexpr std::array<std::pair<std::string_view, build::ClampType>, 4> clamp_types{
    {{"worm", build::ClampType::worm},
     {"lined-worm", build::ClampType::lined_worm},
     {"round-bolt", build::ClampType::round_bolt},
     {"constant-tension", build::ClampType::constant_tension}}};
constexpr std::array<std::string_view, 4> clamp_words{clamp_types[0].first, clamp_types[1].first,
                                                      clamp_types[2].first, clamp_types[3].first};

/// A joint parts along its axis; a bend held by hoses is pushed outwards by both of its ends together.
Answer joint_thrust(const Given& given) {
  const double pressure_Pa = given.number("--pressure"), bore_m = given.number("--bore");
  const double parting_N = joint::parting_force_N(pressure_Pa, bore_m);
  if (!given.has("--angle"))
    return Figures{{"force_N", parting_N}};
  return Figures{{"force_N", joint::bend_thrust_N(pressure_Pa, bore_m, given.number("--angle"))},
                 {"parting_force_N", parting_N}};
}

Answer wedge(const Given& given) {
  const double od_m = given.number("--od"), radius_m = given.number("--radius");
  if (radius_m < od_m / 2)
    return misfit("--radius", quantity::write(Dimension::length, radius_m, "mm"),
                  "at least half the outside diameter, " +
                      quantity::write(Dimension::length, od_m / 2, "mm"));
  const double joints = given.number("--joints");
  const joint::Wedge cut = joint::wedge(od_m, radius_m, given.number("--angle"), static_cast<int>(joints));
  return Figures{{"cut_angle_deg", cut.cut_angle_rad * deg_per_rad},
                 {"long_side_mm", cut.long_side_m * mm_per_m},
                 {"short_side_mm", cut.short_side_m * mm_per_m},
                 {"centre_length_mm", (cut.long_side_m + cut.short_side_m) / 2 * mm_per_m},
                 {"full_wedges", joints - 1}};
}

/// The clamp goes round the hose on its spigot; on the way there it must pass over the bead.
Answer clamp(const Given& given) {
  const double installed_m = given.number("--od") + 2 * given.number("--wall");
  Figures figures{{"installed_diameter_mm", installed_m * mm_per_m}};
  if (given.has("--bead"))
    figures.emplace_back("opening_mm", (installed_m + 2 * given.number("--bead")) * mm_per_m);
  return figures;
}

/// What a clamp and a bead hold along the tube: an estimate.
Answer joint_hold(const Given& given) {
  build::StockItem item;
  item.kind = build::StockKind::clamp;
  item.clamp_type = clamp_types[given.choice("--type")].second;
  if (given.has("--band"))
    item.band_width_m = given.number("--band");
  if (given.has("--torque"))
    item.torque_Nm = given.number("--torque");
  const trade::Limits& limits = trade::defaults();
  const auto torque = joint::torque(item, limits);
  const auto tension_N = joint::band_tension_N(item, limits);
  assert(torque && tension_N);
  const joint::Hold held = joint::hold(*tension_N, given.has("--bead"), limits);
  return Figures{{"torque_Nm", torque->torque_Nm},
                 {"band_tension_N", *tension_N},
                 {"held_low_N", held.low_N},
                 {"held_high_N", held.high_N}};
}

/// Suction at which a soft hose folds, by the softest and the firmest wall.
Answer hose_collapse(const Given& given) {
  const build::Shape hose =
      build::Hose{given.number("--bore"), given.number("--wall"), given.number("--length"), {0, 0}};
  const auto folds = joint::collapse(hose, given.number("--length"), trade::defaults());
  assert(folds);
  // Too short to fold by this formula: nothing to say.
  const auto figure = [](double pressure_Pa) {
    return std::isfinite(pressure_Pa) ? Figure(pressure_Pa) : Figure();
  };
  return Figures{{"collapse_low_Pa", figure(folds->low_Pa)}, {"collapse_high_Pa", figure(folds->high_Pa)}};
}

Answer thread(const Given& given) {
  const joint::Thread* found = joint::find_thread(given.word("--name"));
  if (found == nullptr)
    return misfit("--name", given.word("--name"), joint::thread_names());
  Figure drill;
  if (found->tap_drill_m)
    drill = *found->tap_drill_m * mm_per_m;
  return Figures{{"designation", std::string(found->designation)},
                 {"form", std::string(joint::text(found->form))},
                 {"major_diameter_mm", found->major_diameter_m * mm_per_m},
                 {"pitch_mm", found->pitch_m * mm_per_m},
                 {"pitch_diameter_mm", found->pitch_diameter_m * mm_per_m},
                 {"minor_diameter_mm", found->minor_diameter_m * mm_per_m},
                 {"tap_drill_mm", drill},
                 {"source", std::string(found->source)}};
}

const Quantity gauge_pressure{Dimension::pressure, "kPa", 0, 1e7, false, quantity::Reference::gauge};

const Quantity torque{Dimension::torque, "N m", 0, 1000, true};

const Sum table[] = {
    {"joint-thrust",
     "Force that parts a joint; with --angle: outward force on a bend held by hoses",
     {{"--bore", "diameter the pressure acts on: of a hose joint the outside diameter of its spigot",
       positive_length},
      {"--pressure", "inside, over ambient", gauge_pressure},
      {"--angle", "angle the bend turns", bend_angle, Need::optional}},
     joint_thrust},
    {"wedge",
     "A full wedge of a bend welded from straight cuts",
     {{"--od", "outside diameter of the tube", positive_length},
      {"--radius", "centreline radius", positive_length},
      {"--angle", "angle of the whole bend", bend_angle},
      {"--joints", "welded joints", Count{1, 100}}},
     wedge},
    {"clamp",
     "What a clamp goes round",
     {{"--od", "outside diameter of the spigot", positive_length},
      {"--wall", "wall of the hose", positive_length},
      {"--bead", "height of the bead", positive_length, Need::optional}},
     clamp},
    {"joint-hold",
     "What clamp and bead hold along a tube, oily and set to dry and new: an estimate, not counting that "
     "hose tears",
     {{"--type", "how the clamp closes", Choice{clamp_words}},
      {"--torque", "of its screw; without: what is usual for the type", torque, Need::optional},
      {"--band", "width of its band", positive_length, Need::optional},
      {"--bead", "the tube carries a bead", Switch{}, Need::optional}},
     joint_hold},
    {"hose-collapse",
     "Suction at which a soft hose without wire folds: an estimate",
     {{"--bore", "inside diameter", positive_length},
      {"--wall", "of the hose", positive_length},
      {"--length", "free between the tube ends", positive_length}},
     hose_collapse},
    {"thread",
     "Diameters and tap drill of a sensor thread",
     {{"--name", "such as M12x1.5 or 1/8 NPT", Word{}}},
     thread},
};

} // namespace

std::span<const Sum> joint_sums() {
  return table;
}

} // namespace bellmouth::cli
