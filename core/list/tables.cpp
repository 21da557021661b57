// SPDX-License-Identifier: GPL-3.0-or-later
// The lists as tables for people.
#include "cells.hpp"

#include <spdlog/fmt/fmt.h>

#include <cmath>
#include <string_view>

namespace bellmouth::list {

using quantity::Dimension;

std::string mm(double length_m) {
  return quantity::write_fixed(Dimension::length, length_m, "mm", 1, false);
}
std::string deg(double angle_rad) {
  return quantity::write_fixed(Dimension::angle, angle_rad, "deg", 1, false);
}
std::string number(double value, int decimals) {
  return quantity::write_fixed(Dimension::ratio, value, "", decimals, false);
}
std::string stock_cell(const std::optional<build::StockId>& stock) {
  return stock ? stock->text : std::string();
}

namespace {

Table cut_table(const Lists& lists) {
  Table table{"cut",
              {"piece", "what", "material", "size [mm]", "cut length [mm]", "on the centreline [mm]",
               "engagement in [mm]", "engagement out [mm]", "ends", "note"},
              {}};
  for (const CutLine& line : lists.cuts)
    add_row(table, {line.piece},
            {place(line.piece), line.title, std::string(build::material_name(line.material)),
             size_text(line.shape), mm(line.cut_length_m), mm(line.centreline_length_m),
             mm(line.engagement_in_m), mm(line.engagement_out_m), ends_text(line), note_text(line)});
  return table;
}

std::string_view clamp_words(const ClampLine& line) {
  if (!line.type)
    return "";
  switch (*line.type) {
  case build::ClampType::worm:
    return "worm";
  case build::ClampType::lined_worm:
    return "lined worm";
  case build::ClampType::lug:
    return "lug";
  case build::ClampType::round_bolt:
    return "round bolt";
  case build::ClampType::spring:
    return "spring band";
  case build::ClampType::constant_tension:
    break;
  }
  return "constant tension";
}

Table clamp_table(const Lists& lists) {
  Table table{"clamps",
              {"installed diameter [mm]", "clamp", "stock", "count", "type", "range from [mm]",
               "range to [mm]", "place in its range [%]", "torque [N m]", "torque from", "hoses"},
              {}};
  for (const ClampLine& line : lists.clamps)
    add_row(table, line.pieces,
            {mm(line.installed_diameter_m), line.description, stock_cell(line.stock),
             fmt::format("{}", line.count), std::string(clamp_words(line)), if_known(line.least_m, mm),
             if_known(line.most_m, mm),
             if_known(line.share_of_range, [](double share) { return number(100 * share, 0); }),
             line.torque ? number(line.torque->torque_Nm, 1) : "", line.torque ? line.torque->basis : "",
             places(line.pieces)});
  return table;
}

Table reducer_table(const Lists& lists) {
  Table table{
      "reducers",
      {"piece", "what", "bore in [mm]", "bore out [mm]", "length [mm]", "included angle [deg]", "stock"},
      {}};
  for (const ReducerLine& line : lists.reducers)
    add_row(table, {line.piece},
            {place(line.piece), line.title, mm(line.bore_in_m), mm(line.bore_out_m), mm(line.length_m),
             deg(line.included_angle_rad), stock_cell(line.stock)});
  return table;
}

Table fitting_table(const Lists& lists) {
  Table table{"fittings",
              {"piece", "what", "size [mm]", "hole in the tube [mm]", "on", "from its inlet end [mm]",
               "from its outlet end [mm]", "clocking [deg]", "round the tube [mm]", "clocking from"},
              {}};
  for (const FittingLine& line : lists.fittings)
    add_row(table, {line.piece, line.host},
            {place(line.piece), line.title, line.size, if_known(line.hole_m, mm), place(line.host),
             mm(line.position_m), mm(line.from_outlet_m), deg(line.clocking_rad), mm(line.round_m),
             text(line.reference)});
  return table;
}

} // namespace

std::vector<Table> tables(const Lists& lists) {
  return {cut_table(lists),  clamp_table(lists), reducer_table(lists), fitting_table(lists),
          bend_table(lists), wedge_table(lists), mark_table(lists),    bead_table(lists),
          weld_table(lists), joint_table(lists), mass_table(lists)};
}

} // namespace bellmouth::list
