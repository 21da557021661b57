// SPDX-License-Identifier: GPL-3.0-or-later
// Bends, wedges, marks, beads, welds, joints and mass as tables.
#include "cells.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <string_view>

namespace bellmouth::list {
namespace {

/// A size as it is bought, to a hundredth: "95.25".
std::string size(double length_m) {
  return fmt::format("{}", in_mm(length_m));
}

/// "inside 83.1, centre 124.7, outside 166.2": along the three lines of a bend.
std::string three_lines(const OnArc& place) {
  return fmt::format("inside {}, centre {}, outside {}", mm(place.inside_m), mm(place.centreline_m),
                     mm(place.outside_m));
}

std::string cut_words(const BendLine& line, const std::optional<BendLine::Cut>& cut) {
  if (!line.stock)
    return "";
  if (!cut)
    return "as bought";
  if (!cut->in_arc)
    return fmt::format("in the leg, {} from the arc", mm(cut->from_arc_m));
  return fmt::format("in the arc at {} deg: {}", in_deg(cut->place.angle_rad), three_lines(cut->place));
}

/// Sums by a name, in the order of their first use.
class Sums {
public:
  void add(std::string_view name, double value) {
    const auto found = std::ranges::find(sums_, name, &std::pair<std::string, double>::first);
    if (found == sums_.end())
      sums_.emplace_back(name, value);
    else
      found->second += value;
  }
  [[nodiscard]] const std::vector<std::pair<std::string, double>>& all() const { return sums_; }

private:
  std::vector<std::pair<std::string, double>> sums_;
};

/// Above this air temperature aluminium filler with much magnesium is not to be used: 150 degrees Fahrenheit
/// (reported: welding trade journals).
constexpr double filler_limit_K = 338.7;

std::string filler_words(const WeldLine& line) {
  if (line.other)
    return "the two materials do not weld together: join them another way";
  switch (line.material) {
  case build::Material::aluminium:
    if (!line.temperature_K)
      return "4043; 5356 only where it stays below 65 deg C";
    return *line.temperature_K > filler_limit_K ? "4043; no 5356 above 65 deg C" : "4043 or 5356";
  case build::Material::stainless_steel:
    return "of the tube's grade; purge the inside";
  case build::Material::mild_steel:
    return "of the tube's grade; no galvanised or zinc-plated tube";
  case build::Material::silicone:
  case build::Material::rubber:
  case build::Material::plastic:
    break;
  }
  return "not a material for arc welding";
}

std::string yes_no(const std::optional<bool>& answer) {
  return answer ? (*answer ? "yes" : "no") : "";
}

std::string side_words(const SideOfJoint& side) {
  return side.piece ? fmt::format("{} ({})", place(*side.piece), side.name) : side.name;
}
/// Of a hose the bore, of what is rigid the outside diameter; nothing of what has neither.
std::string side_size(const SideOfJoint& side) {
  if (side.flexible || side.outer_diameter_m == 0)
    return side.bore_m > 0 ? "bore " + mm(side.bore_m) : std::string();
  return "OD " + mm(side.outer_diameter_m);
}
std::string holding(const JointLine& line) {
  return line.held_low_N && line.held_high_N
             ? fmt::format("{} to {}", number(*line.held_low_N, 0), number(*line.held_high_N, 0))
             : std::string();
}

} // namespace

Table bend_table(const Lists& lists) {
  Table table{"bends",
              {"piece", "what", "OD [mm]", "angle [deg]", "centre-line radius [mm]", "leg in [mm]",
               "leg out [mm]", "setback [mm]", "arc inside [mm]", "arc centre [mm]", "arc outside [mm]",
               "stock", "turned round", "saw for the inlet end [mm]", "saw for the outlet end [mm]"},
              {}};
  for (const BendLine& line : lists.bends)
    add_row(table, {line.piece},
            {place(line.piece), line.title, size(line.outer_diameter_m), deg(line.arc.angle_rad),
             size(line.radius_m), mm(line.leg_in_m), mm(line.leg_out_m), mm(line.setback_m),
             mm(line.arc.inside_m), mm(line.arc.centreline_m), mm(line.arc.outside_m), stock_cell(line.stock),
             line.stock ? (line.turned ? "yes" : "no") : "", cut_words(line, line.cut_in),
             cut_words(line, line.cut_out)});
  return table;
}

Table wedge_table(const Lists& lists) {
  Table table{"wedges",
              {"piece", "what", "count", "part", "saw angle [deg]", "sawn sides", "long side [mm]",
               "centre [mm]", "short side [mm]", "straight tube for all [mm]", "note"},
              {}};
  for (const WedgeLine& line : lists.wedges) {
    const auto row = [&](int count, std::string part, int sides, const WedgeLine::Sides& sizes,
                         std::string all, std::string note) {
      add_row(table, {line.piece},
              {place(line.piece), line.title, fmt::format("{}", count), std::move(part),
               quantity::write_fixed(quantity::Dimension::angle, line.saw_angle_rad, "deg", 2, false),
               fmt::format("{}", sides), mm(sizes.long_m), mm(sizes.centre_m), mm(sizes.short_m),
               std::move(all), std::move(note)});
    };
    std::string note = count_text(line);
    note += line.bought ? "; bought welded"
                        : "; turn the tube by 180 deg after each cut, kerf " + mm(line.kerf_m);
    row(1, "end at the inlet", 1, line.end_in, line.bought ? "" : mm(line.material_m), std::move(note));
    if (line.full_wedges() > 0)
      row(line.full_wedges(), "full wedge", 2, line.wedge, "",
          line.too_short ? "short side hard to weld" : "");
    row(1, "end at the outlet", 1, line.end_out, "", "");
  }
  return table;
}

Table mark_table(const Lists& lists) {
  Table table{"marks",
              {"piece", "what", "carried over from", "counted from", "clockwise, looking downstream [deg]",
               "round the end before [mm]", "its OD [mm]", "round its own end [mm]", "own OD [mm]"},
              {}};
  for (const MarkLine& line : lists.marks) {
    std::vector<build::PieceRef> pieces{line.piece};
    if (line.before)
      pieces.push_back(*line.before);
    add_row(table, std::move(pieces),
            {place(line.piece), line.title, line.before ? place(*line.before) : "the port",
             text(line.reference), deg(line.clocking_rad), mm(line.round_before_m),
             mm(line.before_diameter_m), mm(line.round_m), mm(line.diameter_m)});
  }
  return table;
}

Table bead_table(const Lists& lists) {
  Table table{"beads",
              {"piece", "what", "end", "OD [mm]", "middle from the end [mm]", "height [mm]", "width [mm]",
               "straight there [mm]", "over bead and hose [mm]", "clamp opens to [mm]", "clamp passes",
               "note"},
              {}};
  for (const BeadLine& line : lists.beads)
    add_row(table, {line.piece},
            {place(line.piece), line.title, line.inlet ? "inlet" : "outlet", mm(line.outer_diameter_m),
             mm(line.from_end_m), mm(line.height_m), mm(line.width_m), mm(line.land_m),
             if_known(line.over_bead_m, mm), if_known(line.clamp_opens_m, mm), yes_no(line.clamp_passes()),
             line.welded                                        ? "this end is welded: leave the bead out"
             : line.land_m < line.from_end_m + line.width_m / 2 ? "no straight for it"
                                                                : ""});
  return table;
}

Table weld_table(const Lists& lists) {
  Table table{
      "welds",
      {"seam", "between", "material", "diameter [mm]", "count", "length of one [mm]", "length [m]", "filler"},
      {}};
  Sums sums;
  for (const WeldLine& line : lists.welds) {
    std::string material(build::material_name(line.material));
    if (line.other)
      material.append(" to ").append(build::material_name(*line.other));
    sums.add(material, line.total_m());
    add_row(table, line.pieces,
            {std::string(text(line.kind)), between_text(line), std::move(material), mm(line.diameter_m),
             fmt::format("{}", line.count), mm(line.length_m), number(line.total_m(), 3),
             filler_words(line)});
  }
  for (const auto& [material, length_m] : sums.all())
    add_row(table, {}, {"all", "", material, "", "", "", number(length_m, 3), ""});
  return table;
}

Table joint_table(const Lists& lists) {
  Table table{"joints",
              {"run", "joint", "upstream", "downstream", "size upstream [mm]", "size downstream [mm]",
               "interference [mm]", "engagement [mm]", "gap between tubes [mm]", "clamp or size",
               "torque [N m]", "gauge pressure [kPa]", "parting force [N]", "holds, estimate [N]"},
              {}};
  for (const JointLine& line : lists.joints)
    add_row(table, line.pieces(),
            {line.run.text, std::string(joint::text(line.kind)), side_words(line.upstream),
             side_words(line.downstream), side_size(line.upstream), side_size(line.downstream),
             if_known(line.interference_m, mm), if_known(line.engagement_m, mm), if_known(line.gap_m, mm),
             line.clamp ? line.clamp->text : line.size,
             if_known(line.torque_Nm, [](double torque) { return number(torque, 1); }),
             if_known(line.gauge_Pa, [](double gauge) { return number(gauge / 1e3, 1); }),
             if_known(line.parting_force_N, [](double force) { return number(force, 0); }), holding(line)});
  return table;
}

Table mass_table(const Lists& lists) {
  Table table{"mass", {"piece", "what", "material", "density [kg/m3]", "wall volume [cm3]", "mass [kg]"}, {}};
  Sums materials, runs, all;
  for (const MassLine& line : lists.masses) {
    const std::string_view material = build::material_name(line.material);
    materials.add(material, line.mass_kg);
    runs.add(line.piece.run.text, line.mass_kg);
    all.add("all but clamps, bosses, flanges and lagging", line.mass_kg);
    add_row(table, {line.piece},
            {place(line.piece), line.title, std::string(material), number(density_kg_m3(line.material), 0),
             number(line.volume_m3 * 1e6, 1), number(line.mass_kg, 3)});
  }
  for (const Sums* const sums : {&materials, &runs, &all})
    for (const auto& [what, mass_kg] : sums->all())
      add_row(table, {}, {what, "sum", "", "", "", number(mass_kg, 3)});
  return table;
}

} // namespace bellmouth::list
