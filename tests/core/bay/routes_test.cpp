// SPDX-License-Identifier: GPL-3.0-or-later
// Chains that another program worked out must end where their problems say. Source: tests/reference/routes.
#include <bellmouth/bay.hpp>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <fstream>
#include <numbers>
#include <string>

namespace bellmouth::bay {
namespace {

using nlohmann::json;

constexpr double mm = 1e-3;
constexpr double deg = std::numbers::pi / 180;

json read(const std::filesystem::path& file) {
  std::ifstream stream(file);
  return json::parse(stream);
}
build::Vector direction(const json& at) {
  return {at[0], at[1], at[2]};
}
build::Vector position(const json& at) {
  return {at[0].get<double>() * mm, at[1].get<double>() * mm, at[2].get<double>() * mm};
}

// Published value: the end poses of the thirty problems, within their own tolerance.
TEST(Routes, KnownChainsMeetTheirEnds) {
  const std::filesystem::path folder = std::filesystem::path(BELLMOUTH_REFERENCE_DIR) / "routes";
  int chains = 0;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    const std::string name = entry.path().filename().string();
    if (!name.ends_with(".known.json"))
      continue;
    const json answer = read(entry.path());
    const json problem = read(folder / (answer.at("problem").get<std::string>() + ".json"));
    Frame frame{position(problem.at("start").at("position")), direction(problem.at("start").at("direction")),
                direction(problem.at("start").at("reference"))};
    for (const auto& piece : answer.at("pieces"))
      frame = piece.at("type") == "bend"
                  ? turned(frame, piece.at("angle").get<double>() * deg, piece.at("clr").get<double>() * mm,
                           piece.at("clocking").get<double>() * deg)
                  : advanced(frame, piece.at("length").get<double>() * mm);
    const build::Pose end{position(problem.at("end").at("position")),
                          direction(problem.at("end").at("direction"))};
    const auto met = meeting({frame}, end);
    ASSERT_TRUE(met);
    EXPECT_LE(met->gap_m, problem.at("rules").at("end_tolerance_mm").get<double>() * mm) << name;
    EXPECT_LE(met->angle_rad, problem.at("rules").at("end_tolerance_deg").get<double>() * deg) << name;
    ++chains;
  }
  EXPECT_EQ(chains, 30);
}

} // namespace
} // namespace bellmouth::bay
