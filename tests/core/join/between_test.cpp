// SPDX-License-Identifier: GPL-3.0-or-later
// The chain of reducers against a search of its own over the same stock, written the simplest way: all chains
// of one hose, then of two with a tube between, and so on. Other method.
#include "join_scene.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <optional>
#include <random>

namespace bellmouth::join {
namespace {

using test::mm;
using test::suction;

struct Step {
  double from_mm, to_mm, price; ///< a reducer or, with equal ends, a coupler
};
struct Found {
  int hoses;
  double price; ///< of hoses, clamps and tubes
};

constexpr double clamp_price = 3;

/// Least money over all chains of `left` hoses from a size to another; sizes are whole and fit only
/// themselves.
std::optional<double> least(const std::vector<Step>& steps, double from_mm, double to_mm, int left) {
  std::optional<double> best;
  for (const Step& step : steps) {
    if (step.from_mm != from_mm)
      continue;
    std::optional<double> rest;
    if (left == 1)
      rest = step.to_mm == to_mm ? std::optional(0.0) : std::nullopt;
    else if (const auto further = least(steps, step.to_mm, to_mm, left - 1))
      rest = *further + 1.72; // 86 mm of tube at 20 a metre
    if (rest && (!best || *rest + step.price + 2 * clamp_price < *best))
      best = *rest + step.price + 2 * clamp_price;
  }
  return best;
}
std::optional<Found> shortest(const std::vector<Step>& steps, double from_mm, double to_mm) {
  for (const int hoses : {1, 2, 3}) // at most six pieces: three hoses and two tubes
    if (const auto price = least(steps, from_mm, to_mm, hoses))
      return Found{hoses, *price};
  return std::nullopt;
}

TEST(Between, FindsTheFewestPiecesAndAmongThoseTheLeastMoney) {
  std::mt19937_64 random(20);
  const auto whole = [&](int from, int to) {
    return from + static_cast<int>(random() % static_cast<std::uint64_t>(to - from + 1));
  };
  constexpr std::array sizes_mm{51.0, 57.0, 63.0, 70.0, 76.0, 83.0};
  int joined = 0, open = 0;
  for (int round = 0; round < 300; ++round) {
    std::vector<build::StockItem> stock;
    std::vector<Step> steps;
    for (double from_mm = 40; from_mm < 120; from_mm += 6)
      stock.push_back(test::stock_clamp(from_mm, from_mm + 14));
    for (const double size_mm : sizes_mm)
      stock.push_back(test::stock_tube(size_mm));
    const int count = whole(2, 9);
    for (int i = 0; i < count; ++i) {
      const double from_mm = sizes_mm[static_cast<std::size_t>(whole(0, 5))];
      const double to_mm = sizes_mm[static_cast<std::size_t>(whole(0, 5))];
      const double price = whole(5, 40);
      if (from_mm == to_mm)
        continue;
      auto item = test::stock_reducer(from_mm, to_mm, price);
      item.length_m = mm(102); // 38 mm at either end: no end sits short
      item.id.text += "-" + std::to_string(i);
      stock.push_back(item);
      steps.push_back({from_mm, to_mm, price});
      steps.push_back({to_mm, from_mm, price});
    }
    const double from_mm = sizes_mm[static_cast<std::size_t>(whole(0, 5))];
    const double to_mm = sizes_mm[static_cast<std::size_t>(whole(0, 5))];
    if (from_mm == to_mm)
      continue;
    auto scene = test::joint_scene();
    for (const auto& [id, size_mm] : {std::pair("filter_out", from_mm), std::pair("blower_in", to_mm)}) {
      scene.port(id).outer_diameter_m = mm(size_mm);
      scene.port(id).bore_m = mm(size_mm - 4);
    }
    scene.runs[suction].pieces.clear();
    const build::Build build = test::document(scene, stock);
    const Proposal proposal = join(build, {"only"}, build::RunId{"suction"});
    const auto& pieces = test::run_of(proposal.build, "suction").pieces;
    const auto wanted = shortest(steps, from_mm, to_mm);
    ASSERT_EQ(pieces.empty(), !wanted.has_value()) << from_mm << " to " << to_mm;
    if (!wanted) {
      ++open;
      EXPECT_FALSE(proposal.open.empty());
      continue;
    }
    ++joined;
    EXPECT_EQ(static_cast<int>(pieces.size()), 2 * wanted->hoses - 1);
    double price = 0;
    for (const build::Piece& piece : pieces)
      price += build::is_flexible(piece.shape)
                   ? static_cast<double>(build.find(piece.stock)->price.minor) / 100 + 2 * clamp_price
                   : 1.72;
    EXPECT_NEAR(price, wanted->price, 0.01) << from_mm << " to " << to_mm;
  }
  EXPECT_GT(joined, 50);
  EXPECT_GT(open, 50);
}

} // namespace
} // namespace bellmouth::join
