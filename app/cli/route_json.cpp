// SPDX-License-Identifier: GPL-3.0-or-later
#include "route_json.hpp"

#include "common_arguments.hpp"
#include "evaluation_json.hpp"

#include <bellmouth/bay/names.hpp>

namespace bellmouth::cli {

namespace {

Json piece_json(const build::Piece& piece) {
  const auto clocking_rad = clocking(piece);
  const double angle_rad = build::angle_rad(piece.shape);
  return {
      {"kind", build::kind_key(piece.shape)},
      {"stock", piece.stock.text.empty() ? Json(nullptr) : Json(piece.stock.text)},
      {"cut_length_mm",
       build::is_fitting(piece.shape) ? Json(nullptr) : Json(build::full_length_m(piece.shape) * mm_per_m)},
      {"angle_deg", or_null(angle_rad > 0 ? std::optional(angle_rad * deg_per_rad) : std::nullopt)},
      {"clocking_deg", or_null(clocking_rad ? std::optional(*clocking_rad * deg_per_rad) : std::nullopt)}};
}

Json closest_json(const build::Build& build, const find::Question& question, const find::Proposal& proposal) {
  if (!proposal.closest)
    return nullptr;
  const bay::Gap& gap = *proposal.closest;
  return {{"index", gap.row},
          {"neighbour", bay::name_of(build, *build.find(question.ask.option), gap.neighbour)},
          {"distance_mm", gap.distance_m * mm_per_m},
          {"required_mm", gap.required_m * mm_per_m},
          {"margin_mm", gap.margin_m() * mm_per_m},
          {"at_mm", in_mm(gap.on_piece_m)}};
}

Json route_json(const build::Build& build, const find::Question& question, const find::Proposal& proposal) {
  Json json{{"differs", proposal.differs},
            {"cost", find::cost(question, proposal)},
            {"price", json_of(std::optional(proposal.price))},
            {"currency", proposal.price.currency.text()},
            {"total_pressure_drop_Pa", proposal.drop_Pa},
            {"joints", proposal.joints},
            {"length_mm", proposal.length_m * mm_per_m},
            {"volume_m3", proposal.volume_m3},
            {"end_gap_mm", proposal.end.gap_m * mm_per_m},
            {"end_angle_deg", proposal.end.angle_rad * deg_per_rad},
            {"closest", closest_json(build, question, proposal)},
            {"findings", json_of(proposal.findings)},
            {"pieces", Json::array()}};
  for (const build::Piece& piece : proposal.run.pieces)
    json["pieces"].push_back(piece_json(piece));
  return json;
}

} // namespace

std::optional<double> clocking(const build::Piece& piece) {
  return std::visit(
      [](const auto& shape) -> std::optional<double> {
        if constexpr (requires { shape.clocking_rad; })
          return shape.clocking_rad;
        else
          return std::nullopt;
      },
      piece.shape);
}

Json json_of(const build::Build& build, const find::Question& question, const way::Found& found,
             const std::vector<find::Proposal>& proposals, const std::vector<find::Reason>& reasons) {
  Json json{{"option", question.ask.option.text},
            {"run", question.ask.run.text},
            {"tube_mm", question.ask.tube.outer_diameter_m * mm_per_m},
            {"rounds", found.rounds},
            {"exhausted", found.exhausted},
            {"least_cost", found.least_cost},
            {"routes", Json::array()},
            {"reasons", Json::array()}};
  for (const find::Proposal& proposal : proposals)
    json["routes"].push_back(route_json(build, question, proposal));
  for (const find::Reason& reason : reasons)
    json["reasons"].push_back(reason.text);
  return json;
}

} // namespace bellmouth::cli
