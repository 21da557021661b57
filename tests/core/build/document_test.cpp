// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/close.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/air.hpp>
#include <bellmouth/build.hpp>

#include <gtest/gtest.h>

#include <sstream>
#include <string>

namespace bellmouth::build {
namespace {

TEST(Document, FindsByName) {
  const Build build = test::sample_build();
  ASSERT_NE(build.find(MachineId{"cooler"}), nullptr);
  EXPECT_EQ(build.find(MachineId{"cooler"})->name, "Front cooler");
  EXPECT_EQ(build.find(MachineId{"Cooler"}), nullptr);
  ASSERT_NE(build.find(PortId{"blower_in"}), nullptr);
  EXPECT_EQ(build.find(PortId{"blower_in"})->machine, MachineId{"blower"});
  EXPECT_EQ(build.find(PortId{"blower"}), nullptr);
  ASSERT_NE(build.find(OptionId{"wide"}), nullptr);
  EXPECT_EQ(build.find(OptionId{}), nullptr);
  ASSERT_NE(build.find(StockId{"hose-63"}), nullptr);
  EXPECT_EQ(build.find(StockId{"hose-63"})->kind, StockKind::hose);
  EXPECT_EQ(build.find(StockId{"hose"}), nullptr);
  const Option& option = *build.find(OptionId{"small"});
  ASSERT_NE(option.find(RunId{"hot_side"}), nullptr);
  EXPECT_EQ(option.find(RunId{"hot_side"})->to, PortId{"cooler_in"});
  EXPECT_EQ(option.find(RunId{"hot"}), nullptr);
}

TEST(Document, FindsBranchesAndWhatWasMeasured) {
  const Build build = test::geared_build();
  ASSERT_NE(build.find(BranchId{"right"}), nullptr);
  EXPECT_EQ(build.find(BranchId{"right"})->split_loss, 0.5);
  EXPECT_EQ(build.find(BranchId{"middle"}), nullptr);
  ASSERT_NE(build.find(Coefficient::duct_losses), nullptr);
  EXPECT_EQ(build.find(Coefficient::duct_losses)->factor, 1.15);
  EXPECT_EQ(build.find(Coefficient::filter_drop), nullptr);
}

/// A path of machines, named by a letter each, in branches that are named by the letter before a colon.
std::vector<PathStep> path_of(const std::string& words) {
  std::vector<PathStep> path;
  std::istringstream text(words);
  for (std::string word; text >> word;) {
    const std::size_t colon = word.find(':');
    PathStep step = MachineId{word.substr(colon + 1)};
    if (colon != std::string::npos)
      step.branch = {word.substr(0, colon)};
    path.push_back(step);
  }
  return path;
}
/// The machines before, or behind, each step of a path; "-" where there is none.
std::string neighbours(const std::string& words, bool before) {
  const auto path = path_of(words);
  std::string text;
  for (std::size_t i = 0; i < path.size(); ++i) {
    const auto next = before ? step_before(path, i) : step_behind(path, i);
    text += next ? std::get<MachineId>(path[*next]).text : "-";
  }
  return text;
}

TEST(Document, StepsFollowTheAir) {
  struct Case {
    const char *path, *before, *behind;
  };
  for (const Case& c : {
           Case{"a", "-", "-"},
           Case{"a b c", "-ab", "bc-"},
           // Two branches amid the path: the whole air has no one neighbour where it divides and joins.
           Case{"a x:b x:c y:d e", "-aba-", "-cee-"},
           // Three, one of them of a single step.
           Case{"a x:b y:c z:d z:e f", "-aaad-", "-ffef-"},
           // From the open air and to the end.
           Case{"x:a x:b y:c d e", "-a--d", "bdde-"},
           Case{"a b x:c y:d", "-abb", "b---"},
           Case{"x:a y:b", "--", "--"},
           // Two groups, one behind the other.
           Case{"x:a y:b c z:d w:e f", "---cc-", "cc-ff-"},
       }) {
    EXPECT_EQ(neighbours(c.path, true), c.before) << c.path;
    EXPECT_EQ(neighbours(c.path, false), c.behind) << c.path;
  }
}

TEST(Document, NamesMachines) {
  EXPECT_EQ(kind_key(MachineKind{machine::Filter{}}), "filter");
  EXPECT_EQ(kind_key(MachineKind{machine::MeterBody{}}), "meter_body");
  EXPECT_EQ(kind_key(MachineKind{machine::DisplacementBlower{}}), "displacement_blower");
  EXPECT_EQ(kind_key(MachineKind{machine::TargetCompressor{}}), "target_compressor");
  EXPECT_EQ(kind_key(MachineKind{machine::GearedCompressor{}}), "geared_compressor");
  EXPECT_EQ(kind_key(MachineKind{machine::ChargeCooler{}}), "charge_cooler");
  EXPECT_EQ(kind_key(MachineKind{machine::Throttle{}}), "throttle");
  EXPECT_EQ(kind_name(MachineKind{machine::ChargeCooler{}}), "charge cooler");
  EXPECT_EQ(kind_name(MachineKind{machine::GearedCompressor{}}), "geared compressor");
  for (const MachineKind& blower :
       {MachineKind{machine::DisplacementBlower{}}, MachineKind{machine::TargetCompressor{}},
        MachineKind{machine::GearedCompressor{}}})
    EXPECT_TRUE(is_blower(blower)) << kind_key(blower);
  EXPECT_FALSE(is_blower(machine::ChargeCooler{}));
}

TEST(Document, TakesWeatherAsMeasured) {
  const AmbientAir air = ambient_air(Weather{98000, 303.15, 0.6});
  EXPECT_EQ(air.pressure_Pa, 98000);
  EXPECT_EQ(air.temperature_K, 303.15);
  EXPECT_EQ(air.air, air::Mixture(air::humidity_ratio(303.15, 98000, 0.6)));
  EXPECT_GT(air.air.humidity_ratio(), 0.0);
}

// Published value: ISO 2533 sea level, 101325 Pa and 288.15 K by definition of the standard atmosphere.
TEST(Document, TakesAltitudeFromTheStandardAtmosphere) {
  const AmbientAir sea = ambient_air(Altitude{0, 0});
  EXPECT_TRUE(test::close(sea.pressure_Pa, 101325, 1e-12));
  EXPECT_TRUE(test::close(sea.temperature_K, 288.15, 1e-12));
  EXPECT_EQ(sea.air, air::Mixture(0.0));
  const AmbientAir high = ambient_air(Altitude{1500, 0.3});
  EXPECT_LT(high.pressure_Pa, sea.pressure_Pa);
  EXPECT_LT(high.temperature_K, sea.temperature_K);
}

TEST(Document, SharedValuesCompareByValue) {
  const Shared<int> a = 3, same = a, b = 3, c = 4;
  EXPECT_TRUE(a == same);
  EXPECT_TRUE(a == b);
  EXPECT_FALSE(a == c);
  EXPECT_EQ(&*a, &*same);
  EXPECT_EQ(test::sample_build(), test::sample_build());
}

} // namespace
} // namespace bellmouth::build
