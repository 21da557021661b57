// SPDX-License-Identifier: GPL-3.0-or-later
// The commands that put joints right.
#include "command_folder.hpp"
#include "prompt.hpp"
#include "support/sample_parts.hpp"

namespace bellmouth::cli::test {
namespace {

using bellmouth::test::mm;
using nlohmann::json;

build::StockItem item(const char* id, build::StockKind kind, build::Material material, std::int64_t euros) {
  build::StockItem made;
  made.id = {id};
  made.kind = kind;
  made.name = id;
  made.material = material;
  made.price = bellmouth::test::euros(euros, 0);
  return made;
}

class Joining : public CommandFolder {
protected:
  /// A bench with a tube of 63.5 mm between two ports, welded to the first of them, in a hose of 65 mm at the
  /// second; stock has hoses of 63.5 mm and a clamp for them.
  [[nodiscard]] static build::Build bench() {
    using namespace build;
    Build b;
    b.title = "Bench";
    b.demand = FixedFlow{0.05, 100e3, 300};
    b.budget.currency = bellmouth::test::euro();
    b.ports = {bellmouth::test::sample_port("from", std::nullopt, Mounting::body, 60, 63.5, 45),
               bellmouth::test::sample_port("to", std::nullopt, Mounting::body, 60, 63.5, 45)};
    b.path = {RunId{"run"}};
    auto hose = item("hose-63.5", StockKind::hose, Material::silicone, 9);
    hose.bore_m = mm(63.5);
    hose.wall_m = mm(4.5);
    hose.length_m = mm(90);
    hose.plies = 4;
    auto clamp = item("clamp", StockKind::clamp, Material::stainless_steel, 3);
    clamp.clamp_min_m = mm(65);
    clamp.clamp_max_m = mm(80);
    b.stock = std::vector{hose, clamp};
    build::Run run{{"run"}, {"from"}, {"to"}, {}};
    run.pieces = {{Tube{mm(63.5), mm(1.65), mm(300), {}}, Material::aluminium, {}, ""},
                  {Hose{mm(65), mm(4.5), mm(90), {mm(40), mm(40)}}, Material::silicone, {}, ""}};
    b.options = {{{"only"}, "", {run}}};
    return b;
  }
};

TEST_F(Joining, SaysWhatIsDone) {
  const std::string file = file_of(bench());
  const Said said = say({"join", file});
  EXPECT_EQ(said.exit, 0) << said.err;
  for (const char* part : {"Join all runs", "between port from and row 1 (tube): put in hose-63.5",
                           "row 2 (hose): replace it by hose-63.5", "longer along its centreline"})
    EXPECT_TRUE(holds(said.out, part)) << part << " in:\n" << said.out;
  EXPECT_EQ(build::load_build(file)->options.front().runs.front()->pieces.size(), 2U);

  const std::string out = (folder / "joined.json").string();
  const json found = results({"join", file, "--run", "run", "--out", out});
  EXPECT_EQ(found["title"], "Join run");
  EXPECT_EQ(found["option"], "only");
  EXPECT_EQ(found["steps"].size(), 3U);
  EXPECT_TRUE(found["open"].empty());
  const auto joined = build::load_build(out);
  ASSERT_TRUE(joined.has_value());
  EXPECT_EQ(joined->options.front().runs.front()->pieces.size(), 3U);
  const Said again = say({"join", out});
  EXPECT_EQ(again.exit, 0);
  EXPECT_TRUE(holds(again.out, "nothing to do")) << again.out;
}

TEST_F(Joining, EndsWithFourWhereSomethingStaysOpen) {
  build::Build build = bench();
  build.stock = std::vector{build.stock->back()};
  const Said said = say({"join", file_of(build)});
  EXPECT_EQ(said.exit, 4);
  EXPECT_TRUE(holds(said.out, "Stays open")) << said.out;
  EXPECT_TRUE(holds(said.out, "nothing in stock leads from 63.5 mm to 63.5 mm")) << said.out;
  EXPECT_TRUE(holds(said.out, "hose bore 65 mm on a spigot of 63.5 mm")) << said.out;
  EXPECT_TRUE(holds(said.err, "things stay open")) << said.out << said.err;
}

TEST_F(Joining, MendsTheFindingsOfARule) {
  const std::string file = file_of(bench()), out = (folder / "mended.json").string();
  const Said said = say({"mend", file, "--rule", "hose-loose", "--run", "run", "--row", "2", "--out", out});
  EXPECT_EQ(said.exit, 0) << said.out << said.err;
  EXPECT_TRUE(holds(said.out, "row 2 (hose): replace it by hose-63.5")) << said.out;
  const Said left = say({"check", out});
  EXPECT_FALSE(holds(left.out, "hose-loose")) << left.out;
  EXPECT_EQ(say({"mend", out, "--rule", "hose-loose"}).exit, 0);
  EXPECT_TRUE(holds(say({"mend", out, "--rule", "hose-loose"}).out, "nothing to do"));

  build::Build build = bench();
  build.stock = std::vector{build.stock->back()};
  const Said open = say({"mend", file_of(build, "no-hose.json"), "--rule", "hose-loose"});
  EXPECT_EQ(open.exit, 4);
  EXPECT_TRUE(holds(open.out, "Hose bore 65 mm on a spigot of 63.5 mm")) << open.out;
}

TEST_F(Joining, SaysWhatIsAccepted) {
  const std::string file = file_of(bench());
  struct Wrong {
    Arguments arguments;
    const char* says;
  };
  for (const Wrong& wrong :
       {Wrong{{"mend", file, "--rule", "luck"}, "a rule that has a mend: no-flexible-joint"},
        Wrong{{"mend", file, "--rule", "hose-loose", "--row", "1"}, "--run beside it"},
        Wrong{{"mend", file, "--rule", "hose-loose", "--run", "run", "--row", "3"}, "a row from 1 to 2"},
        Wrong{{"mend", file, "--rule", "hose-loose", "--run", "x"}, "run"},
        Wrong{{"mend", file}, "--rule is required"}, Wrong{{"join", file, "--run", "x"}, "--run"}}) {
    const Said said = say(wrong.arguments);
    EXPECT_EQ(said.exit, 2) << said.out;
    EXPECT_TRUE(holds(said.err, wrong.says)) << wrong.says << " in: " << said.err;
  }
}

} // namespace
} // namespace bellmouth::cli::test
