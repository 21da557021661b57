// SPDX-License-Identifier: GPL-3.0-or-later
// A piece as drawn becomes a piece as it can be bought.
#include "support/close.hpp"

#include <bellmouth/stock.hpp>

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <sstream>

namespace bellmouth::test {
namespace {

using namespace build;

Build with_metric_stock() {
  std::ifstream file(std::string(BELLMOUTH_SHARED_DIR) + "/stock/metric.json");
  std::stringstream text;
  text << file.rdbuf();
  Build b;
  b.stock = read_stock(text.str(), "metric.json").value();
  return b;
}

TEST(NearestInStock, AHoseGoesOnTheSameSpigot) {
  const auto build = with_metric_stock();
  const Piece drawn{Hose{63.5e-3, 4e-3, 70e-3, {30e-3, 30e-3}}, Material::silicone, {}, ""};
  const auto found = stock::nearest_in_stock(build, drawn);
  ASSERT_TRUE(found.has_value());
  EXPECT_TRUE(close(bore_in_m(found->shape), 63e-3, 1e-9));
  EXPECT_TRUE(close(std::get<Hose>(found->shape).length_m, 70e-3, 1e-12));
  EXPECT_TRUE(stock::serves(*build.find(found->stock), *found));
}

TEST(NearestInStock, ABendTakesTheRadiusThatIsSold) {
  const auto build = with_metric_stock();
  const Piece drawn{
      TubeBend{70e-3, 2e-3, M_PI / 2, 95e-3, 50e-3, 50e-3, 0.3, {}}, Material::aluminium, {}, ""};
  const auto found = stock::nearest_in_stock(build, drawn);
  ASSERT_TRUE(found.has_value());
  const auto& bend = std::get<TubeBend>(found->shape);
  EXPECT_TRUE(close(bend.radius_m, 105e-3, 1e-9));
  EXPECT_EQ(bend.clocking_rad, 0.3);
}

TEST(NearestInStock, AReducerMayBeTurnedRound) {
  const auto build = with_metric_stock();
  for (const bool up : {true, false}) {
    const double first = up ? 60e-3 : 70e-3, second = up ? 70e-3 : 60e-3;
    const Piece drawn{HoseReducer{first, second, 5e-3, 90e-3, {35e-3, 35e-3}}, Material::silicone, {}, ""};
    const auto found = stock::nearest_in_stock(build, drawn);
    ASSERT_TRUE(found.has_value());
    EXPECT_TRUE(close(bore_in_m(found->shape), first, 1e-9));
    EXPECT_TRUE(close(bore_out_m(found->shape), second, 1e-9));
  }
}

TEST(NearestInStock, NothingIsNearWhatNobodySells) {
  const auto build = with_metric_stock();
  for (const Piece& drawn :
       {Piece{Hose{61.7e-3, 5e-3, 70e-3, {30e-3, 30e-3}}, Material::silicone, {}, ""},
        Piece{Hose{63e-3, 5e-3, 400e-3, {30e-3, 30e-3}}, Material::silicone, {}, ""},
        Piece{TubeBend{61e-3, 2e-3, 1, 95e-3, 0, 50e-3, 0, {}}, Material::aluminium, {}, ""}})
    EXPECT_FALSE(stock::nearest_in_stock(build, drawn).has_value());
}

} // namespace
} // namespace bellmouth::test
