// SPDX-License-Identifier: GPL-3.0-or-later
// Asks Debian's python3-fluids for its answers. Without the library the test fails.
#pragma once

#include "support/close.hpp"

#include <cstdio>
#include <memory>
#include <sstream>
#include <string>
#include <vector>

namespace bellmouth::loss {

struct Question {
  std::string
      python; ///< an expression in the library's terms, with F = fluids.fittings, M = fluids.flow_meter
  double ours;
};

[[nodiscard]] inline std::string call(const char* format, double a, double b = 0, double c = 0, double d = 0,
                                      double e = 0) {
  char text[300];
  std::snprintf(text, sizeof text, format, a, b, c, d, e);
  return text;
}

struct ClosePipe {
  void operator()(FILE* pipe) const { pclose(pipe); }
};

/// What the library answers, in order; fails the test if it does not answer all.
inline void ask(const std::vector<std::string>& expressions, std::vector<double>& answers) {
  std::string program =
      "import fluids,fluids.friction\nimport fluids.fittings as F\nimport fluids.flow_meter as M\n";
  for (const std::string& expression : expressions)
    program += "print(repr(float(" + expression + ")))\n";
  const auto* running = testing::UnitTest::GetInstance()->current_test_info();
  const std::string file =
      testing::TempDir() + "bellmouth_" + running->test_suite_name() + "_" + running->name() + ".py";
  {
    const std::unique_ptr<FILE, int (*)(FILE*)> script(std::fopen(file.c_str(), "w"), &std::fclose);
    ASSERT_NE(script, nullptr);
    ASSERT_GE(std::fputs(program.c_str(), script.get()), 0);
  }
  std::string output;
  {
    const std::unique_ptr<FILE, ClosePipe> pipe(
        popen(("/usr/bin/python3 -I '" + file + "' 2>&1").c_str(), "r"));
    ASSERT_NE(pipe, nullptr);
    char buffer[4096];
    while (std::fgets(buffer, sizeof buffer, pipe.get()) != nullptr)
      output += buffer;
  }
  std::istringstream lines(output);
  for (double answer = 0; answers.size() < expressions.size(); answers.push_back(answer))
    ASSERT_TRUE(lines >> answer) << output.substr(0, 400);
}

inline void expect_agreement(const std::vector<Question>& questions, double relative) {
  std::vector<std::string> expressions;
  for (const Question& question : questions)
    expressions.push_back(question.python);
  std::vector<double> theirs;
  ASSERT_NO_FATAL_FAILURE(ask(expressions, theirs));
  for (std::size_t i = 0; i < questions.size(); ++i)
    EXPECT_TRUE(test::close(questions[i].ours, theirs[i], relative)) << questions[i].python;
}

} // namespace bellmouth::loss
