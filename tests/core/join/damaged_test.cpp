// SPDX-License-Identifier: GPL-3.0-or-later
// Builds spoilt at random and joined again. Identities: what is left wrong is named, joining twice is joining
// once, what is put in can be bought.
#include "damage.hpp"
#include "join_scene.hpp"

#include <bellmouth/stock.hpp>

#include <gtest/gtest.h>

#include <filesystem>
#include <map>

namespace bellmouth::join {
namespace {

namespace fs = std::filesystem;

std::vector<build::Build> whole_builds() {
  std::vector<build::Build> builds{test::document(test::joint_scene())};
  for (const auto& file : fs::directory_iterator(BELLMOUTH_DEMO_DIR))
    if (file.path().extension() == ".json") {
      auto build = build::load_build(file.path());
      EXPECT_TRUE(build.has_value()) << file.path();
      if (build)
        builds.push_back(*std::move(build));
    }
  EXPECT_GE(builds.size(), 4U);
  return builds;
}

using Counts = std::map<std::string_view, int>;

/// What the rules find, by what `open` has to name.
Counts found_in(const build::Build& build) {
  Counts counts;
  for (const check::Finding& finding : test::findings_of(build)) {
    if (finding.rule == "wrong-joint")
      ++counts["wrong"];
    if (finding.rule == "hose-loose" || finding.rule == "hose-tight")
      ++counts["misfit"];
    if (finding.rule == "short-engagement")
      ++counts["short"];
    if (finding.rule == "tube-without-bead")
      ++counts["plain"];
    if (finding.rule == "bead-at-weld")
      ++counts["bead at weld"];
  }
  return counts;
}

Counts named_in(const std::vector<std::string>& open) {
  Counts counts;
  const auto holds = [](const std::string& line, const char* part) {
    return line.find(part) != std::string::npos;
  };
  for (const std::string& line : open) {
    if (holds(line, "hose bore"))
      ++counts[holds(line, "tube in stock") ? "wrong" : "misfit"];
    else if (holds(line, "are wanted:"))
      ++counts["short"];
    else if (holds(line, "a plain end of"))
      ++counts["plain"];
    else if (holds(line, "does not go with") || holds(line, "leads from") ||
             holds(line, "of one are straight"))
      ++counts["wrong"];
    else
      EXPECT_TRUE(holds(line, "no clamp in stock") || holds(line, "no operating point")) << line;
  }
  return counts;
}

class Damaged : public ::testing::TestWithParam<int> {};

TEST_P(Damaged, BuildsAreJoinedAgainOrSaidNotToBe) {
  test::Damage damage(static_cast<std::uint64_t>(GetParam()));
  for (const build::Build& whole : whole_builds())
    for (int round = 0; round < 20; ++round) {
      const build::Build spoilt = damage(whole);
      const build::OptionId option = spoilt.options.front().id;
      const Proposal proposal = join(spoilt, option);
      const auto wrong = build::validate(proposal.build);
      ASSERT_FALSE(wrong.has_value()) << wrong->text() << '\n' << test::all_of(proposal.steps);
      const Counts found = found_in(proposal.build), named = named_in(proposal.open);
      for (const auto& [what, count] : found) {
        const auto at = named.find(what);
        EXPECT_LE(count, at == named.end() ? 0 : at->second) // a weld to a port is no finding << whole.title
                                                             // << ": " << what << "\nsteps:\n"
            << test::all_of(proposal.steps) << "\nopen:\n"
            << test::all_of(proposal.open);
      }
      EXPECT_EQ(proposal.steps.empty(), proposal.build == spoilt);
      const Proposal again = join(proposal.build, option);
      EXPECT_TRUE(again.steps.empty()) << whole.title << "\nfirst:\n"
                                       << test::all_of(proposal.steps) << "\nthen:\n"
                                       << test::all_of(again.steps);
      for (std::size_t run = 0; run < spoilt.options.front().runs.size(); ++run)
        for (const build::Piece& piece : proposal.build.options.front().runs[run]->pieces) {
          const auto& before = spoilt.options.front().runs[run]->pieces;
          const auto same_stock = [&](const build::Piece& old) { return old.stock == piece.stock; };
          if (!piece.stock.text.empty() && std::ranges::none_of(before, same_stock)) {
            EXPECT_TRUE(stock::serves(*proposal.build.find(piece.stock), piece)) << piece.stock.text;
          }
        }
      if (HasFailure())
        return;
    }
}

TEST_P(Damaged, BuildsAreMendedOrLeft) {
  test::Damage damage(static_cast<std::uint64_t>(GetParam()));
  int offered = 0;
  for (const build::Build& whole : whole_builds()) {
    const build::Build spoilt = damage(whole);
    const Evaluation evaluation = evaluate(spoilt, spoilt.options.front().id);
    for (const check::Finding& finding : evaluation.findings)
      if (const auto proposal = mend(spoilt, evaluation, finding)) {
        ++offered;
        const auto wrong = build::validate(proposal->build);
        EXPECT_FALSE(wrong.has_value()) << finding.rule << ": " << wrong->text();
        EXPECT_NE(proposal->build, spoilt) << finding.rule;
        EXPECT_FALSE(proposal->steps.empty()) << finding.rule;
      }
  }
  EXPECT_GT(offered, 0);
}

INSTANTIATE_TEST_SUITE_P(Seeds, Damaged, ::testing::Range(1, 7));

} // namespace
} // namespace bellmouth::join
