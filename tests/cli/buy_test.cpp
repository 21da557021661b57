// SPDX-License-Identifier: GPL-3.0-or-later
// `buy`: keys, values, exit codes. Its values are those of buy::purchase().
#include "command_folder.hpp"
#include "prompt.hpp"
#include "support/close.hpp"
#include "support/sample_builds.hpp"
#include "support/small_build.hpp"

#include <bellmouth/buy/sawing.hpp>

namespace bellmouth::cli::test {
namespace {

using bellmouth::test::close;
using nlohmann::json;
using Buy = CommandFolder;

TEST_F(Buy, ShowsWhatThePlanGives) {
  const build::Build build = bellmouth::test::bought_build();
  const json found = results({"buy", file_of(build), "--option", "wide"});
  const buy::Purchase wanted = buy::purchase(build, {"wide"});
  EXPECT_EQ(found["option"], "wide");
  ASSERT_EQ(found["shopping"].size(), wanted.shopping.size());
  for (std::size_t i = 0; i < wanted.shopping.size(); ++i) {
    const json& line = found["shopping"][i];
    EXPECT_EQ(line["description"], wanted.shopping[i].description);
    EXPECT_TRUE(close(line["to_buy"].get<double>(), wanted.shopping[i].to_buy, 1e-12));
    EXPECT_EQ(line["price"].is_null(), !wanted.shopping[i].price.has_value());
  }
  ASSERT_EQ(found["uses"].size(), wanted.plan.uses.size());
  EXPECT_EQ(found["plan"]["proven"], wanted.plan.proven);
  EXPECT_EQ(found["plan"]["aim"], "money");
  EXPECT_TRUE(close(found["totals"]["total"].get<double>(),
                    static_cast<double>(wanted.totals.total.minor) / 100, 1e-12));
  EXPECT_TRUE(close(found["totals"]["spent"].get<double>(),
                    static_cast<double>(wanted.totals.spent.minor) / 100, 1e-12));
}

TEST_F(Buy, PrintsTheListsAndTheOtherPlans) {
  const Said said = say({"buy", file_of(bellmouth::test::small_build())});
  EXPECT_EQ(said.exit, 0) << said.err;
  for (const char* part : {"Shopping", "Sawing", "Totals", "Other plans", "67.08 EUR", "least suppliers",
                           "Bend 63.5, 90 degrees", "Tube 63.5 x 1.65"})
    EXPECT_TRUE(holds(said.out, part)) << part << '\n' << said.out;
}

TEST_F(Buy, WritesItsTables) {
  const std::string file = file_of(bellmouth::test::small_build());
  const Said said = say({"buy", file, "--out", (folder / "lists").string()});
  EXPECT_EQ(said.exit, 0) << said.err;
  const build::Build build = bellmouth::test::small_build();
  const buy::Purchase wanted = buy::purchase(build, {"only"});
  EXPECT_EQ(read_file(folder / "lists" / "shopping.csv"), list::csv(buy::tables(wanted).front()));
  EXPECT_EQ(read_file(folder / "lists" / "sawing.csv"), list::csv(buy::sawing(build, wanted)));
  EXPECT_TRUE(std::filesystem::exists(folder / "lists" / "totals.csv"));
}

TEST_F(Buy, SaysWhatItAccepts) {
  const std::string file = file_of(bellmouth::test::small_build());
  const Said aim = say({"buy", file, "--least", "weight"});
  EXPECT_EQ(aim.exit, 2);
  EXPECT_TRUE(holds(aim.err, "--least") && holds(aim.err, "weight") && holds(aim.err, "suppliers"))
      << aim.err;
  const Said seconds = say({"buy", file, "--seconds", "soon"});
  EXPECT_EQ(seconds.exit, 2);
  EXPECT_TRUE(holds(seconds.err, "--seconds") && holds(seconds.err, "soon")) << seconds.err;
}

} // namespace
} // namespace bellmouth::cli::test
