// SPDX-License-Identifier: GPL-3.0-or-later
// `lists`: all lists, one of them, as CSV that another reader reads, as JSON.
#include "command_folder.hpp"
#include "prompt.hpp"
#include "support/close.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/evaluate.hpp>

#include <algorithm>
#include <cstdlib>
#include <numbers>

namespace bellmouth::cli::test {
namespace {

using bellmouth::test::close;
using nlohmann::json;

using Lists = CommandFolder;

TEST_F(Lists, OneAloneIsThatTable) {
  const build::Build build = bellmouth::test::sample_build();
  const std::string file = file_of(build);
  for (const list::Table& table : list::tables(evaluate(build, {"small"}).lists)) {
    const auto out = folder / table.name;
    const Said said = say({"lists", file, "--list", table.name, "--out", out.string()});
    EXPECT_EQ(said.exit, 0) << said.err;
    EXPECT_EQ(std::distance(std::filesystem::directory_iterator(out), std::filesystem::directory_iterator()),
              1);
    EXPECT_EQ(read_file(out / (table.name + ".csv")), list::csv(table));
    const json found = results({"lists", file, "--list", table.name});
    EXPECT_EQ(found.size(), 2u) << table.name; // the list and the option's name
  }
  EXPECT_EQ(results({"lists", file, "--list", "sawing"}).size(), 2u);
}

TEST_F(Lists, SayWhichThereAre) {
  const Said said = say({"lists", file_of(bellmouth::test::sample_build()), "--list", "beds"});
  EXPECT_EQ(said.exit, 2);
  EXPECT_EQ(said.out, "");
  for (const char* part : {"--list", "\"beds\"", "shopping", "sawing", "cut", "beads", "joints", "mass"})
    EXPECT_TRUE(holds(said.err, part)) << said.err;
}

// Other method: Python's csv module counts the cells of each row.
TEST_F(Lists, CsvFilesAreTablesToAnotherReader) {
  const auto out = folder / "out";
  ASSERT_EQ(say({"lists", file_of(bellmouth::test::sample_build()), "--out", out.string()}).exit, 0);
  const std::string command =
      "python3 -c \"import csv,glob,sys\n"
      "files = glob.glob(sys.argv[1] + '/*.csv')\n"
      "assert len(files) >= 13, files\n"
      "for file in files:\n"
      "  rows = list(csv.reader(open(file, encoding='utf-8', newline=''), strict=True))\n"
      "  assert rows and all(len(row) == len(rows[0]) for row in rows), file\" '" +
      out.string() + "'";
  EXPECT_EQ(std::system(command.c_str()),
            0); // NOLINT(cert-env33-c, concurrency-mt-unsafe): of our own making
}

// Closed form: the sides of a wedge and the parting force as the sums at the bench give them.
TEST_F(Lists, AgreeWithTheSums) {
  const json found = results({"lists", file_of(bellmouth::test::sample_build())});
  const json& wedge = found["wedges"].at(0);
  const json sum = calc({"wedge", "--od", "63.5 mm", "--radius", "100 mm", "--angle", "45", "--joints", "2"});
  EXPECT_TRUE(close(wedge["saw_angle_deg"].get<double>(), sum["cut_angle_deg"].get<double>(), 1e-9));
  EXPECT_TRUE(close(wedge["wedge"]["long_mm"].get<double>(), sum["long_side_mm"].get<double>(), 1e-9));
  EXPECT_TRUE(close(wedge["wedge"]["short_mm"].get<double>(), sum["short_side_mm"].get<double>(), 1e-9));
  EXPECT_EQ(wedge["count"], "2 joints, 3 pieces: 1 full wedge and 2 ends cut on one side");
  int pressed = 0;
  for (const json& joint : found["joints"])
    if (joint["kind"] == "spigot in hose" && joint["parting_force_N"].get<double>() > 0) {
      const double spigot_mm = std::min(joint["upstream"]["outer_diameter_mm"].get<double>(),
                                        joint["downstream"]["outer_diameter_mm"].get<double>());
      const double pressure_Pa = joint["gauge_pressure_Pa"].get<double>();
      EXPECT_TRUE(close(joint["parting_force_N"].get<double>(),
                        pressure_Pa * std::numbers::pi / 4 * spigot_mm * spigot_mm * 1e-6, 1e-9));
      ++pressed;
    }
  EXPECT_GT(pressed, 0);
}

} // namespace
} // namespace bellmouth::cli::test
