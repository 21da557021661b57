// SPDX-License-Identifier: GPL-3.0-or-later
// Reading and writing answers.
#include "json_object.hpp"
#include "json_write.hpp"

#include <bellmouth/way/file.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bellmouth::way {

using build::Json;

namespace {

constexpr double rounding = 1e-9; ///< metres, radians
constexpr std::size_t most_items = 10'000;

class AnswerReader {
public:
  AnswerReader(JsonText& text, const Problem& problem) : text_(text), problem_(problem) {}

  std::vector<Way> read(const Json& root) {
    JsonObject object(text_, root, "$");
    object.pass_over("problem");
    if (object.word("format", {"route-answer/1", "route-answers/1"}) == 0)
      return {way(object)};
    std::vector<Way> ways;
    for (const JsonObject::Item& item : object.list("answers", most_items)) {
      JsonObject answer(text_, *item.json, item.path);
      answer.pass_over("format");
      answer.pass_over("problem");
      ways.push_back(way(answer));
    }
    object.done();
    return ways;
  }

private:
  Way way(JsonObject& object) {
    for (const char* figure : {"cost", "price", "loss", "joints", "length", "end_error_mm", "end_error_deg",
                               "tightest", "self_margin", "found_s"})
      object.pass_over(figure);
    way_ = {};
    way_.straights_m.push_back(0);
    od_m_ = problem_.start.outer_diameter_m;
    for (const JsonObject::Item& item : object.list("pieces", most_items))
      piece(item);
    object.done();
    return std::move(way_);
  }

  void piece(const JsonObject::Item& item) {
    JsonObject object(text_, *item.json, item.path);
    switch (object.word("type", {"straight", "bend", "reducer"})) {
    case 0:
      diameter(object, "od", od_m_, "the tube there");
      way_.straights_m.back() += length(object);
      break;
    case 1:
      bend(object);
      break;
    default:
      reducer(object);
    }
    object.done();
  }
  double length(JsonObject& object) {
    const double length_m = object.length_m("length");
    if (length_m < 0)
      object.refuse("length", "a length in mm from 0 on");
    return length_m;
  }
  void diameter(JsonObject& object, std::string_view key, double wanted_m, std::string_view whose) {
    const double found_m = object.length_m(key);
    if (std::abs(found_m - wanted_m) > rounding)
      object.refuse(key, fmt::format("{}, the diameter of {}", build::number_text(wanted_m / mm), whose));
  }

  void bend(JsonObject& object) {
    const std::string id = object.text("stock");
    const auto found = std::ranges::find(problem_.bends, id, &Bend::id);
    if (found == problem_.bends.end())
      return object.refuse("stock", "the id of a bend in stock");
    diameter(object, "clr", found->radius_m, "the bend's centreline, halved");
    Turn turn;
    turn.bend = static_cast<std::size_t>(found - problem_.bends.begin());
    turn.angle_rad = object.angle_rad("angle");
    turn.clocking_rad = object.angle_rad("clocking");
    if (turn.angle_rad <= 0 || turn.angle_rad > std::numbers::pi + rounding)
      object.refuse("angle", "an angle of more than 0 and at most 180 degrees");
    const bool is_whole = std::abs(turn.angle_rad - found->angle_rad) <= rounding;
    if (is_whole)
      turn.angle_rad = found->angle_rad;
    if (object.has("lost_leg"))
      turn.lost_leg = object.word("lost_leg", {"in", "out"}) == 0 ? Leg::in : Leg::out;
    else if (!is_whole)
      turn.lost_leg = Leg::out;
    way_.turns.push_back(turn);
    way_.straights_m.push_back(0);
  }

  void reducer(JsonObject& object) {
    diameter(object, "od_in", od_m_, "the tube there");
    od_m_ = problem_.end.outer_diameter_m;
    diameter(object, "od_out", od_m_, "the end port");
    const double length_m = length(object);
    if (!problem_.reducer || way_.reduction)
      return object.refuse("type", problem_.reducer ? "one reducer" : "no reducer: there is none in stock");
    if (std::abs(length_m - problem_.reducer->length_m) > rounding)
      object.refuse("length", fmt::format("{}, that of the reducer in stock",
                                          build::number_text(problem_.reducer->length_m / mm)));
    way_.reduction = Reduction{way_.straights_m.size() - 1, way_.straights_m.back()};
    way_.straights_m.back() += problem_.reducer->length_m;
  }

  JsonText& text_;
  const Problem& problem_;
  Way way_;
  double od_m_ = 0;
};

void add_straight(Json& pieces, double length_m, double diameter_m) {
  Json& piece = pieces.items.emplace_back(Json::object());
  piece.add("type", Json::string("straight"));
  piece.add("length", json_length(length_m));
  piece.add("od", json_length(diameter_m));
}

void add_straights(Json& pieces, const Problem& problem, const Way& way, std::size_t index) {
  const double length_m = way.straights_m[index];
  const double before_m = outer_diameter_m(problem, way, index, false);
  if (!way.reduction || way.reduction->straight != index)
    return add_straight(pieces, length_m, before_m);
  const double behind_m = outer_diameter_m(problem, way, index, true);
  add_straight(pieces, way.reduction->from_m, before_m);
  Json& piece = pieces.items.emplace_back(Json::object());
  piece.add("type", Json::string("reducer"));
  piece.add("length", json_length(problem.reducer->length_m));
  piece.add("od_in", json_length(before_m));
  piece.add("od_out", json_length(behind_m));
  add_straight(pieces, length_m - way.reduction->from_m - problem.reducer->length_m, behind_m);
}

Json json_pieces(const Problem& problem, const Way& way) {
  Json pieces = Json::array();
  for (std::size_t i = 0; i < way.straights_m.size(); ++i) {
    add_straights(pieces, problem, way, i);
    if (i == way.turns.size())
      break;
    const Turn& turn = way.turns[i];
    const Bend& bend = problem.bends[turn.bend];
    Json& piece = pieces.items.emplace_back(Json::object());
    piece.add("type", Json::string("bend"));
    piece.add("stock", Json::string(bend.id));
    piece.add("angle", json_angle(turn.angle_rad));
    piece.add("clr", json_length(bend.radius_m));
    piece.add("clocking", json_angle(turn.clocking_rad));
    if (turn.lost_leg)
      piece.add("lost_leg", Json::string(*turn.lost_leg == Leg::in ? "in" : "out"));
  }
  return pieces;
}

Json json_tightest(const Problem& problem, const Judgement& judgement) {
  Json list = Json::array();
  for (const Nearness& nearness : judgement.nearest) {
    Json& one = list.items.emplace_back(Json::object());
    one.add("keepout", Json::number(std::to_string(nearness.keep_out)));
    if (const std::string& name = problem.keep_outs[nearness.keep_out].name; !name.empty())
      one.add("name", Json::string(name));
    one.add("margin", json_length(nearness.margin_m));
    one.add("along", json_length(nearness.along_m));
    one.add("at", json_point(nearness.on_way_m));
  }
  return list;
}

} // namespace

Result<std::vector<Way>> read_answers(const Problem& problem, std::string_view text,
                                      const std::string& file) {
  const build::Source source{text, file};
  const auto root = build::parse(source);
  if (!root)
    return fail(root.error());
  JsonText reading(source);
  std::vector<Way> ways = AnswerReader(reading, problem).read(*root);
  if (reading.failed())
    return fail(reading.error());
  return ways;
}

std::string write_answers(const Problem& problem, const std::vector<Answer>& answers) {
  Json json = Json::object();
  json.add("format", Json::string("route-answers/1"));
  json.add("problem", Json::string(problem.name));
  Json& list = json.add("answers", Json::array());
  for (const Answer& answer : answers) {
    Json& one = list.items.emplace_back(Json::object());
    one.add("format", Json::string("route-answer/1"));
    one.add("problem", Json::string(problem.name));
    one.add("pieces", json_pieces(problem, answer.way));
    one.add("cost", json_number(answer.figures.cost));
    one.add("price", json_number(answer.figures.price));
    one.add("loss", json_number(answer.figures.loss));
    one.add("joints", Json::number(std::to_string(answer.figures.joints)));
    one.add("length", json_length(answer.figures.length_m));
    one.add("end_error_mm", json_length(answer.judgement.end_gap_m));
    one.add("end_error_deg", json_angle(answer.judgement.end_angle_rad));
    if (answer.judgement.self_room_m)
      one.add("self_margin", json_length(*answer.judgement.self_room_m));
    one.add("tightest", json_tightest(problem, answer.judgement));
  }
  return build::print(json);
}

} // namespace bellmouth::way
