// SPDX-License-Identifier: GPL-3.0-or-later
#include "lists_json.hpp"

#include "common_arguments.hpp"
#include "evaluation_json.hpp"

#include <bellmouth/list/text.hpp>

namespace bellmouth::cli {

namespace {

Json stock_json(const std::optional<build::StockId>& stock) {
  return stock ? Json(stock->text) : Json(nullptr);
}

Json pieces_json(const std::vector<build::PieceRef>& pieces) {
  Json json = Json::array();
  for (const build::PieceRef& piece : pieces)
    json.push_back(json_of(piece));
  return json;
}

template <class T> Json json_or_null(const std::optional<T>& value) {
  return value ? Json(*value) : Json(nullptr);
}
Json millimetres(const std::optional<double>& length_m) {
  return length_m ? Json(*length_m * mm_per_m) : Json(nullptr);
}
Json piece_json(const std::optional<build::PieceRef>& piece) {
  return piece ? json_of(*piece) : Json(nullptr);
}

Json line_json(const list::CutLine& line) {
  return {{"piece", json_of(line.piece)},
          {"title", line.title},
          {"material", build::material_key(line.material)},
          {"size", list::size_text(line.shape)},
          {"cut_length_mm", line.cut_length_m * mm_per_m},
          {"centreline_length_mm", line.centreline_length_m * mm_per_m},
          {"engagement_in_mm", line.engagement_in_m * mm_per_m},
          {"engagement_out_mm", line.engagement_out_m * mm_per_m},
          {"trim_in_mm", millimetres(line.trim_in_m)},
          {"trim_out_mm", millimetres(line.trim_out_m)},
          {"ends", list::ends_text(line)},
          {"note", list::note_text(line)}};
}

Json line_json(const list::ClampLine& line) {
  return {{"installed_diameter_mm", line.installed_diameter_m * mm_per_m},
          {"stock", stock_json(line.stock)},
          {"description", line.description},
          {"count", line.count},
          {"range_from_mm", millimetres(line.least_m)},
          {"range_to_mm", millimetres(line.most_m)},
          {"share_of_range", json_or_null(line.share_of_range)},
          {"torque_Nm", line.torque ? Json(line.torque->torque_Nm) : Json(nullptr)},
          {"torque_basis", line.torque ? Json(line.torque->basis) : Json(nullptr)},
          {"pieces", pieces_json(line.pieces)}};
}

Json line_json(const list::ReducerLine& line) {
  return {{"piece", json_of(line.piece)},
          {"title", line.title},
          {"bore_in_mm", line.bore_in_m * mm_per_m},
          {"bore_out_mm", line.bore_out_m * mm_per_m},
          {"length_mm", line.length_m * mm_per_m},
          {"included_angle_deg", line.included_angle_rad * deg_per_rad},
          {"stock", stock_json(line.stock)}};
}

Json line_json(const list::FittingLine& line) {
  return {{"piece", json_of(line.piece)},
          {"host", json_of(line.host)},
          {"title", line.title},
          {"size", line.size},
          {"hole_mm", millimetres(line.hole_m)},
          {"position_mm", line.position_m * mm_per_m},
          {"from_outlet_mm", line.from_outlet_m * mm_per_m},
          {"clocking_deg", line.clocking_rad * deg_per_rad},
          {"round_mm", line.round_m * mm_per_m},
          {"clocking_from", list::text(line.reference)}};
}

Json arc_json(const list::OnArc& arc) {
  return {{"angle_deg", arc.angle_rad * deg_per_rad},
          {"inside_mm", arc.inside_m * mm_per_m},
          {"centreline_mm", arc.centreline_m * mm_per_m},
          {"outside_mm", arc.outside_m * mm_per_m}};
}
Json cut_json(const std::optional<list::BendLine::Cut>& cut) {
  if (!cut)
    return nullptr;
  return cut->in_arc ? Json{{"in_arc", arc_json(cut->place)}}
                     : Json{{"in_leg_from_arc_mm", cut->from_arc_m * mm_per_m}};
}
Json line_json(const list::BendLine& line) {
  return {{"piece", json_of(line.piece)},
          {"title", line.title},
          {"outer_diameter_mm", line.outer_diameter_m * mm_per_m},
          {"radius_mm", line.radius_m * mm_per_m},
          {"leg_in_mm", line.leg_in_m * mm_per_m},
          {"leg_out_mm", line.leg_out_m * mm_per_m},
          {"setback_mm", line.setback_m * mm_per_m},
          {"arc", arc_json(line.arc)},
          {"stock", stock_json(line.stock)},
          {"turned", line.turned},
          {"cut_in", cut_json(line.cut_in)},
          {"cut_out", cut_json(line.cut_out)}};
}

Json sides_json(const list::WedgeLine::Sides& sides) {
  return {{"long_mm", sides.long_m * mm_per_m},
          {"centre_mm", sides.centre_m * mm_per_m},
          {"short_mm", sides.short_m * mm_per_m}};
}
Json line_json(const list::WedgeLine& line) {
  return {{"piece", json_of(line.piece)},
          {"title", line.title},
          {"joints", line.joints},
          {"pieces", line.pieces()},
          {"full_wedges", line.full_wedges()},
          {"count", list::count_text(line)},
          {"saw_angle_deg", line.saw_angle_rad * deg_per_rad},
          {"wedge", sides_json(line.wedge)},
          {"end_in", sides_json(line.end_in)},
          {"end_out", sides_json(line.end_out)},
          {"material_mm", line.material_m * mm_per_m},
          {"kerf_mm", line.kerf_m * mm_per_m},
          {"bought_welded", line.bought}};
}

Json line_json(const list::MarkLine& line) {
  return {{"piece", json_of(line.piece)},
          {"title", line.title},
          {"before", piece_json(line.before)},
          {"counted_from", list::text(line.reference)},
          {"clocking_deg", line.clocking_rad * deg_per_rad},
          {"round_before_mm", line.round_before_m * mm_per_m},
          {"round_mm", line.round_m * mm_per_m}};
}

Json line_json(const list::BeadLine& line) {
  const auto passes = line.clamp_passes();
  return {{"piece", json_of(line.piece)},
          {"title", line.title},
          {"end", line.inlet ? "inlet" : "outlet"},
          {"outer_diameter_mm", line.outer_diameter_m * mm_per_m},
          {"from_end_mm", line.from_end_m * mm_per_m},
          {"height_mm", line.height_m * mm_per_m},
          {"width_mm", line.width_m * mm_per_m},
          {"welded", line.welded},
          {"over_bead_mm", millimetres(line.over_bead_m)},
          {"clamp_opens_mm", millimetres(line.clamp_opens_m)},
          {"clamp_passes", passes ? Json(*passes) : Json(nullptr)}};
}

Json line_json(const list::WeldLine& line) {
  return {{"seam", list::text(line.kind)},
          {"pieces", pieces_json(line.pieces)},
          {"between", list::between_text(line)},
          {"material", build::material_key(line.material)},
          {"other_material", line.other ? Json(build::material_key(*line.other)) : Json(nullptr)},
          {"diameter_mm", line.diameter_m * mm_per_m},
          {"count", line.count},
          {"length_mm", line.length_m * mm_per_m},
          {"total_mm", line.total_m() * mm_per_m}};
}

Json side_json(const list::SideOfJoint& side) {
  return {{"piece", piece_json(side.piece)},
          {"name", side.name},
          {"bore_mm", side.bore_m * mm_per_m},
          {"outer_diameter_mm", side.outer_diameter_m * mm_per_m}};
}
Json line_json(const list::JointLine& line) {
  return {{"run", line.run.text},
          {"kind", joint::text(line.kind)},
          {"upstream", side_json(line.upstream)},
          {"downstream", side_json(line.downstream)},
          {"size", line.size},
          {"interference_mm", millimetres(line.interference_m)},
          {"engagement_mm", millimetres(line.engagement_m)},
          {"gap_mm", millimetres(line.gap_m)},
          {"clamp", stock_json(line.clamp)},
          {"torque_Nm", json_or_null(line.torque_Nm)},
          {"gauge_pressure_Pa", json_or_null(line.gauge_Pa)},
          {"parting_force_N", json_or_null(line.parting_force_N)},
          {"held_low_N", json_or_null(line.held_low_N)},
          {"held_high_N", json_or_null(line.held_high_N)}};
}

Json line_json(const list::MassLine& line) {
  return {{"piece", json_of(line.piece)},
          {"title", line.title},
          {"material", build::material_key(line.material)},
          {"volume_m3", line.volume_m3},
          {"mass_kg", line.mass_kg}};
}

template <class Line> Json list_json(const std::vector<Line>& lines) {
  Json json = Json::array();
  for (const Line& line : lines)
    json.push_back(line_json(line));
  return json;
}

} // namespace

Json json_of(const list::Lists& lists) {
  return {{"cuts", list_json(lists.cuts)},         {"clamps", list_json(lists.clamps)},
          {"reducers", list_json(lists.reducers)}, {"fittings", list_json(lists.fittings)},
          {"bends", list_json(lists.bends)},       {"wedges", list_json(lists.wedges)},
          {"marks", list_json(lists.marks)},       {"beads", list_json(lists.beads)},
          {"welds", list_json(lists.welds)},       {"joints", list_json(lists.joints)},
          {"mass", list_json(lists.masses)}};
}

} // namespace bellmouth::cli
