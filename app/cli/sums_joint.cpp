// SPDX-License-Identifier: GPL-3.0-or-later
// Joints, clamps, cut bends and threads.
#include "common_arguments.hpp"

#include <bellmouth/joint.hpp>
#include <bellmouth/joint/threads.hpp>

namespace bellmouth::cli {

namespace {

using quantity::Dimension;

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
