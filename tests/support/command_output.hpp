// SPDX-License-Identifier: GPL-3.0-or-later
// What other programs print.
#pragma once

#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <stdexcept>
#include <string>

namespace bellmouth::test {

/// What a command prints, which must end well.
[[nodiscard]] inline std::string said_by(const std::string& command) {
  std::FILE* const pipe = ::popen(command.c_str(), "r");
  if (pipe == nullptr)
    throw std::runtime_error("cannot run " + command);
  std::string text;
  std::array<char, 4096> part{};
  while (const std::size_t got = std::fread(part.data(), 1, part.size(), pipe))
    text.append(part.data(), got);
  EXPECT_EQ(::pclose(pipe), 0) << command << '\n' << text;
  return text;
}

} // namespace bellmouth::test
