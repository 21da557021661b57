// SPDX-License-Identifier: GPL-3.0-or-later
// Thresholds that go together (identities).
#include <bellmouth/trade/order.hpp>

#include <gtest/gtest.h>

namespace bellmouth::trade {
namespace {

TEST(Order, TheTradeKeepsIt) {
  EXPECT_FALSE(out_of_order(defaults()));
}

TEST(Order, EveryPairIsWatched) {
  for (const Ordered& pair : ordered()) {
    const Threshold* low = find(pair.low);
    const Threshold* high = find(pair.high);
    ASSERT_NE(low, nullptr) << pair.low;
    ASSERT_NE(high, nullptr) << pair.high;
    Limits limits = defaults();
    limits.*low->limit = limits.*high->limit;
    const auto level = out_of_order(limits);
    EXPECT_TRUE(!level || level->low != pair.low || level->high != pair.high)
        << pair.low; // equal is in order
    limits.*low->limit = limits.*high->limit * 1.01 + 1e-9;
    EXPECT_TRUE(out_of_order(limits)) << pair.low;
  }
}

} // namespace
} // namespace bellmouth::trade
