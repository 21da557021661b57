// SPDX-License-Identifier: GPL-3.0-or-later
// Route problems with a known answer, as JSON and as the program reads them: the published examples in
// tests/reference/routes and problems of the same make.
#pragma once

#include "support/random_route_problems.hpp"
#include "support/route_checker.hpp"

#include <bellmouth/way/file.hpp>
#include <bellmouth/way/find.hpp>

#include <algorithm>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace bellmouth::test {

struct RouteExample {
  std::string name;
  Json problem, known;
  way::Problem question;
};

[[nodiscard]] inline RouteExample route_example(Json problem, Json known) {
  auto question = way::read_problem(problem.dump(), "");
  if (!question)
    throw std::runtime_error(question.error().text());
  return {problem.at("name"), std::move(problem), std::move(known), std::move(*question)};
}
/// "open-000".
[[nodiscard]] inline RouteExample route_example(const std::string& name) {
  const std::filesystem::path folder = std::filesystem::path(BELLMOUTH_REFERENCE_DIR) / "routes";
  const auto read = [&](const std::string& file) { return Json::parse(std::ifstream(folder / file)); };
  return route_example(read(name + ".json"), read(name + ".known.json"));
}
/// All thirty, in order of their names.
[[nodiscard]] inline std::vector<std::string> route_example_names() {
  std::vector<std::string> names;
  constexpr std::string_view known = ".known.json";
  for (const auto& entry :
       std::filesystem::directory_iterator(std::filesystem::path(BELLMOUTH_REFERENCE_DIR) / "routes"))
    if (const std::string file = entry.path().filename(); file.ends_with(known))
      names.push_back(file.substr(0, file.size() - known.size()));
  std::ranges::sort(names);
  return names;
}
[[nodiscard]] inline std::vector<RouteExample> route_examples() {
  std::vector<RouteExample> examples;
  for (const std::string& name : route_example_names())
    examples.push_back(route_example(name));
  return examples;
}
[[nodiscard]] inline RouteExample made_route(const std::string& class_name, bool bends_may_be_cut,
                                             std::uint64_t number) {
  RouteProblem made = random_route_problem(class_name, bends_may_be_cut, number);
  return route_example(std::move(made.problem), std::move(made.known));
}

/// All ways that were found, "answers" first, each as "route-answer/1".
[[nodiscard]] inline std::vector<Json> answers_json(const RouteExample& example, const way::Found& found) {
  std::vector<Json> all;
  for (const auto* ways : {&found.answers, &found.others}) {
    const Json json = Json::parse(way::write_answers(example.question, *ways));
    all.insert(all.end(), json.at("answers").begin(), json.at("answers").end());
  }
  return all;
}

} // namespace bellmouth::test
