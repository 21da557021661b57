// SPDX-License-Identifier: GPL-3.0-or-later
// The clamp list.
#include "core/list/small_work.hpp"
#include "support/close.hpp"
#include "support/sample_builds.hpp"
#include "support/small_build.hpp"

#include <gtest/gtest.h>

namespace bellmouth::list {
namespace {

using namespace build;
using test::close;
using test::mm;
using test::with_pieces;
using test::WorkOf;

constexpr Material aluminium = Material::aluminium, silicone = Material::silicone;

std::vector<std::size_t> rows(const std::vector<PieceRef>& refs) {
  std::vector<std::size_t> found;
  for (const PieceRef& ref : refs)
    found.push_back(ref.row);
  return found;
}

TEST(Clamps, BySizeWithTheHosesTheyClose) {
  Build b =
      with_pieces({{Hose{mm(63.5), mm(4.5), mm(80), {mm(32), mm(32)}}, silicone, {"hose-63"}, ""},
                   {Tube{mm(63.5), mm(1.65), mm(310), {true, true}}, aluminium, {"tube-63"}, ""},
                   {HoseReducer{mm(63.5), mm(76.2), mm(4.5), mm(102), {mm(32), mm(32)}}, silicone, {}, ""}});
  b.ports[1].outer_diameter_m = mm(76.2);
  const Lists lists = WorkOf(b).lists();
  ASSERT_EQ(lists.clamps.size(), 2u);
  EXPECT_TRUE(close(lists.clamps[0].installed_diameter_m, mm(72.5), 1e-9));
  EXPECT_EQ(lists.clamps[0].stock, StockId{"clamp-70"});
  EXPECT_EQ(lists.clamps[0].description, "Clamp 68 to 76");
  EXPECT_EQ(lists.clamps[0].count, 3);
  EXPECT_EQ(rows(lists.clamps[0].pieces), (std::vector<std::size_t>{0, 0, 2}));
  EXPECT_TRUE(close(lists.clamps[1].installed_diameter_m, mm(85.2), 1e-9));
  EXPECT_EQ(lists.clamps[1].stock, std::nullopt);
  EXPECT_EQ(lists.clamps[1].description, "none in stock");
  EXPECT_EQ(lists.clamps[1].count, 1);
}

// Identity, over every option of every sample build.
TEST(Clamps, EachJointHasItsOwn) {
  for (const Build& b : test::all_sample_builds())
    for (std::size_t option = 0; option < b.options.size(); ++option) {
      const WorkOf work(b, option);
      int needed = 0, listed = 0;
      for (const joint::RunFit& fit : work.fits())
        for (const joint::Joint& joint : fit.joints)
          needed += joint::clamps_needed(joint);
      for (const ClampLine& each : work.lists().clamps)
        listed += each.count;
      EXPECT_EQ(listed, needed);
    }
}

} // namespace
} // namespace bellmouth::list
