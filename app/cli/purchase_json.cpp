// SPDX-License-Identifier: GPL-3.0-or-later
#include "purchase_json.hpp"

#include "common_arguments.hpp"
#include "evaluation_json.hpp"

#include <cmath>

namespace bellmouth::cli {

namespace {

Json pieces_json(const std::vector<build::PieceRef>& pieces) {
  Json json = Json::array();
  for (const build::PieceRef& piece : pieces)
    json.push_back(json_of(piece));
  return json;
}

Json line_json(const buy::ShoppingLine& line) {
  return {{"group", line.group},
          {"description", line.description},
          {"stock", line.stock ? Json(line.stock->text) : Json(nullptr)},
          {"supplier", line.supplier},
          {"per", line.per == build::Per::metre ? "metre" : "each"},
          {"pack", line.pack},
          {"needed", line.needed},
          {"spare", line.spare},
          {"owned", line.owned},
          {"to_buy", line.to_buy},
          {"unit_price", json_of(line.unit_price)},
          {"price", json_of(line.price)},
          {"paid", json_of(line.paid)},
          {"pieces", pieces_json(line.pieces)}};
}

Json body_json(const buy::Body& body) {
  return {{"straight_in_mm", body.straight_in_m * mm_per_m},
          {"radius_mm", body.radius_m * mm_per_m},
          {"angle_deg", body.angle_rad * deg_per_rad},
          {"straight_out_mm", body.straight_out_m * mm_per_m}};
}

Json use_json(const build::Build& build, const buy::Purchase& purchase, const buy::Use& use) {
  const buy::Task& task = purchase.task;
  const buy::Source& source = task.sources[use.offer];
  Json json = {{"stock", (*build.stock)[source.item].id.text},
               {"owned", source.owned},
               {"length_mm", use.length_m * mm_per_m},
               {"cuts", Json::array()},
               {"pieces", Json::array()},
               {"offcuts", Json::array()}};
  for (const buy::Cut& cut : use.cuts)
    json["cuts"].push_back({{"piece", json_of(task.parts[cut.need].piece)},
                            {"spare", task.parts[cut.need].spare},
                            {"from_mm", cut.from_m * mm_per_m},
                            {"to_mm", cut.to_m * mm_per_m},
                            {"turned", cut.turned},
                            {"short_by_deg", cut.short_by_rad * deg_per_rad}});
  for (const std::size_t need : use.needs)
    json["pieces"].push_back(json_of(task.parts[need].piece));
  for (const buy::Body& offcut : use.offcuts)
    json["offcuts"].push_back(body_json(offcut));
  return json;
}

} // namespace

std::string_view text(buy::Aim aim) {
  switch (aim) {
  case buy::Aim::money:
    return "money";
  case buy::Aim::suppliers:
    return "suppliers";
  case buy::Aim::offcuts:
    break;
  }
  return "offcuts";
}

Json json_of(const build::Build& build, const buy::Purchase& purchase) {
  Json shopping = Json::array(), uses = Json::array();
  for (const buy::ShoppingLine& line : purchase.shopping)
    shopping.push_back(line_json(line));
  for (const buy::Use& use : purchase.plan.uses)
    uses.push_back(use_json(build, purchase, use));
  const buy::Aim aim = purchase.task.question.aim;
  double bound = purchase.plan.bound;
  if (aim == buy::Aim::money)
    bound /= std::pow(10.0, build.budget.currency.digits());
  return {{"shopping", std::move(shopping)},
          {"uses", std::move(uses)},
          {"totals", json_of(purchase.totals)},
          {"plan", {{"aim", text(aim)}, {"proven", purchase.plan.proven}, {"bound", bound}}}};
}

} // namespace bellmouth::cli
