// SPDX-License-Identifier: GPL-3.0-or-later
#include "lists_json.hpp"

#include "common_arguments.hpp"
#include "evaluation_json.hpp"

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

Json line_json(const list::ShoppingLine& line) {
  return {{"group", line.group},
          {"description", line.description},
          {"stock", stock_json(line.stock)},
          {"per", line.per == build::Per::metre ? "metre" : "each"},
          {"needed", line.needed},
          {"owned", line.owned},
          {"to_buy", line.to_buy},
          {"unit_price", json_of(line.unit_price)},
          {"price", json_of(line.price)},
          {"pieces", pieces_json(line.pieces)}};
}

Json line_json(const list::CutLine& line) {
  return {{"piece", json_of(line.piece)},
          {"title", line.title},
          {"size", line.size},
          {"cut_length_mm", line.cut_length_m * mm_per_m},
          {"centreline_length_mm", line.centreline_length_m * mm_per_m},
          {"engagement_in_mm", line.engagement_in_m * mm_per_m},
          {"engagement_out_mm", line.engagement_out_m * mm_per_m},
          {"ends", line.ends},
          {"note", line.note}};
}

Json line_json(const list::ClampLine& line) {
  return {{"installed_diameter_mm", line.installed_diameter_m * mm_per_m},
          {"stock", stock_json(line.stock)},
          {"description", line.description},
          {"count", line.count},
          {"pieces", pieces_json(line.pieces)}};
}

Json line_json(const list::ReducerLine& line) {
  return {{"piece", json_of(line.piece)},
          {"title", line.title},
          {"bore_in_mm", line.bore_in_m * mm_per_m},
          {"bore_out_mm", line.bore_out_m * mm_per_m},
          {"length_mm", line.length_m * mm_per_m},
          {"included_angle_deg", line.included_angle_rad * deg_per_rad}};
}

Json line_json(const list::FittingLine& line) {
  return {{"piece", json_of(line.piece)},
          {"host", json_of(line.host)},
          {"title", line.title},
          {"size", line.size},
          {"position_mm", line.position_m * mm_per_m},
          {"clocking_deg", line.clocking_rad * deg_per_rad}};
}

template <class Line> Json list_json(const std::vector<Line>& lines) {
  Json json = Json::array();
  for (const Line& line : lines)
    json.push_back(line_json(line));
  return json;
}

} // namespace

Json json_of(const list::Lists& lists) {
  return {{"shopping", list_json(lists.shopping)}, {"cuts", list_json(lists.cuts)},
          {"clamps", list_json(lists.clamps)},     {"reducers", list_json(lists.reducers)},
          {"fittings", list_json(lists.fittings)}, {"totals", json_of(lists.totals)}};
}

} // namespace bellmouth::cli
