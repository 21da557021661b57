// SPDX-License-Identifier: GPL-3.0-or-later
// Runs the program at the prompt inside a test.
#pragma once

#include "cli.hpp"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <sstream>
#include <string>
#include <vector>

namespace bellmouth::cli::test {

using Arguments = std::vector<std::string>;

/// What the program said.
struct Said {
  int exit;
  std::string out, err;
};

[[nodiscard]] inline Said say(const Arguments& arguments) {
  std::ostringstream out, err;
  const int exit = run(arguments, out, err);
  return {exit, out.str(), err.str()};
}

/// The results as JSON; the arguments get --json added and must succeed with `exit`.
[[nodiscard]] inline nlohmann::json results(Arguments arguments, int exit = 0) {
  arguments.emplace_back("--json");
  const Said said = say(arguments);
  EXPECT_EQ(said.exit, exit) << said.err;
  return nlohmann::json::parse(said.out, nullptr, false);
}

/// `calc` with these arguments, as they would be typed.
[[nodiscard]] inline Arguments calc_arguments(const Arguments& arguments) {
  Arguments all{"calc"};
  all.insert(all.end(), arguments.begin(), arguments.end());
  return all;
}
[[nodiscard]] inline nlohmann::json calc(const Arguments& arguments) {
  return results(calc_arguments(arguments));
}

/// A number with all its digits, as an argument.
[[nodiscard]] inline std::string written(double value) {
  std::ostringstream text;
  text.precision(17);
  text << value;
  return text.str();
}

[[nodiscard]] inline bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

} // namespace bellmouth::cli::test
