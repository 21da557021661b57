// SPDX-License-Identifier: GPL-3.0-or-later
#include "meet_json.hpp"

#include "common_arguments.hpp"

#include <bellmouth/bay/names.hpp>

#include <spdlog/fmt/fmt.h>

namespace bellmouth::cli {

namespace {

/// A size under a key that carries its unit.
void put(Json& json, const char* name, route::What what, double value) {
  const bool angle = route::is_angle(what);
  json[fmt::format("{}_{}", name, angle ? "deg" : "mm")] = value * (angle ? deg_per_rad : mm_per_m);
}

Json size_json(std::size_t row, route::What what) {
  return {{"index", row}, {"what", route::key(what)}};
}

Json freedom_json(const route::Freedom& freedom) {
  Json json = size_json(freedom.row, freedom.what);
  put(json, "low", freedom.what, freedom.low);
  put(json, "high", freedom.what, freedom.high);
  return json;
}

Json meeting_json(const std::optional<bay::Meeting>& meeting) {
  if (!meeting)
    return nullptr;
  return {{"gap_mm", meeting->gap_m * mm_per_m}, {"angle_deg", meeting->angle_rad * deg_per_rad}};
}

Json gap_json(const build::Build& build, const build::Option& option, const bay::Gap& gap) {
  return {{"index", gap.row},
          {"neighbour", bay::name_of(build, option, gap.neighbour)},
          {"distance_mm", gap.distance_m * mm_per_m},
          {"required_mm", gap.required_m * mm_per_m},
          {"margin_mm", gap.margin_m() * mm_per_m}};
}

Json help_json(const route::Help& help) {
  Json json{{"text", help.text}, {"index", help.row}};
  json["freedom"] = help.freedom ? freedom_json(*help.freedom) : Json(nullptr);
  json["angle_deg"] =
      or_null(help.piece ? std::optional(build::angle_rad(help.piece->shape) * deg_per_rad) : std::nullopt);
  json["stock"] =
      help.piece && !help.piece->stock.text.empty() ? Json(help.piece->stock.text) : Json(nullptr);
  json["after"] = meeting_json(help.after);
  return json;
}

} // namespace

Json json_of(const build::Build& build, const build::Option& option, const build::Run& run,
             const std::vector<route::Freedom>& freedoms, const route::Met& met) {
  const auto gap = [&](const std::optional<bay::Gap>& found) {
    return found ? gap_json(build, option, *found) : Json(nullptr);
  };
  Json json{
      {"option", option.id.text}, {"run", run.id.text}, {"stop", route::key(met.stop)}, {"met", met.met()}};
  json["before"] = meeting_json(met.before);
  json["after"] = meeting_json(met.after);
  for (const char* key : {"changes", "without_stock", "in_the_way", "binding", "help", "free"})
    json[key] = Json::array();
  for (const route::Change& each : met.changes) {
    Json change = size_json(each.row, each.what);
    put(change, "from", each.what, each.from);
    put(change, "to", each.what, each.to);
    json["changes"].push_back(std::move(change));
  }
  for (const std::size_t row : met.without_stock)
    json["without_stock"].push_back(row);
  json["tightest_before"] = gap(met.tightest_before);
  json["tightest_after"] = gap(met.tightest_after);
  for (const bay::Gap& each : met.in_the_way)
    json["in_the_way"].push_back(gap_json(build, option, each));
  for (const route::Binding& each : met.binding) {
    Json limit = size_json(each.freedom.row, each.freedom.what);
    limit["limit"] = each.at_high ? "high" : "low";
    put(limit, "at", each.freedom.what, each.at_high ? each.freedom.high : each.freedom.low);
    json["binding"].push_back(std::move(limit));
  }
  for (const route::Help& each : met.help)
    json["help"].push_back(help_json(each));
  for (const route::Freedom& each : freedoms)
    json["free"].push_back(freedom_json(each));
  json["iterations"] = met.iterations;
  return json;
}

} // namespace bellmouth::cli
