// SPDX-License-Identifier: GPL-3.0-or-later
// Pieces against pieces of other runs.
#include "bay_scene.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <numbers>

namespace bellmouth::bay {
namespace {

using namespace test;
using std::numbers::pi;
using test::apart;
using test::dot;
using test::plus;
build::Piece any_piece(Dice& dice, int kind) {
  const double d = dice.between(0.03, 0.1);
  switch (kind) {
  case 0:
    return tube(d, dice.between(0.05, 0.5));
  case 1:
    return cone(d, dice.between(0.03, 0.1), dice.between(0.1, 0.3));
  case 2:
    return bend(d, dice.between(0.3, 3.1), dice.between(0.6, 2.0) * d, dice.between(0, 2 * pi));
  default: {
    const double other = dice.between(0.03, 0.1);
    return {build::HoseElbow{d - 0.01,
                             other - 0.01,
                             5e-3,
                             dice.between(0.3, 2.5),
                             0.12,
                             0,
                             0,
                             dice.between(0, 2 * pi),
                             false,
                             {0, 0}},
            {},
            {},
            {}};
  }
  }
}
double radius_at(const Room& room, double x) {
  return room.radius_in_m + (room.radius_out_m - room.radius_in_m) * x / room.track.length_m();
}

/// The least value over two places: sampled on a grid, then ever more finely round its best points.
template <class Function> double sampled_least(const Function& f, double whole_a, double whole_b) {
  constexpr int samples = 80;
  struct Sample {
    double value, x, y;
  };
  std::vector<Sample> found;
  for (int i = 0; i <= samples; ++i)
    for (int k = 0; k <= samples; ++k) {
      const double x = whole_a * i / samples, y = whole_b * k / samples;
      found.push_back({f(x, y), x, y});
    }
  std::ranges::sort(found, {}, &Sample::value);
  double least = found.front().value;
  for (std::size_t start = 0; start < 8; ++start) {
    Sample best = found[start];
    double width_a = 2 * whole_a / samples, width_b = 2 * whole_b / samples;
    for (int zoom = 0; zoom < 14; ++zoom) {
      const Sample centre = best;
      for (int i = -8; i <= 8; ++i)
        for (int k = -8; k <= 8; ++k) {
          const double x = std::clamp(centre.x + width_a * i / 8, 0.0, whole_a);
          const double y = std::clamp(centre.y + width_b * k / 8, 0.0, whole_b);
          if (const double value = f(x, y); value < best.value)
            best = {value, x, y};
        }
      width_a /= 2.5;
      width_b /= 2.5;
    }
    least = std::min(least, best.value);
  }
  return least;
}

class TwoPieces : public ::testing::TestWithParam<std::tuple<int, int>> {};

// Other method: the first piece's places sampled densely, each against the second's places sampled densely.
TEST_P(TwoPieces, ComeAsNearAsDenseSamplingSays) {
  const auto [kind_a, kind_b] = GetParam();
  Dice dice(500u + 10u * static_cast<unsigned>(kind_a) + static_cast<unsigned>(kind_b));
  int apart_ones = 0;
  for (int i = 0; i < 40; ++i) {
    Scene scene;
    scene.add({dice.point(0.3), dice.direction()}, {any_piece(dice, kind_a)});
    scene.add({dice.point(0.3), dice.direction()}, {any_piece(dice, kind_b)});
    auto rooms = scene.rooms();
    for (build::Port& port : scene.build.ports)
      port.pose.reset(); // no spigots: only the two pieces
    for (RunRoom& one : rooms)
      one.from.pose.reset(); // and no ends that meet in the open
    const Room& a = rooms[0].rows.front();
    const Room& b = rooms[1].rows.front();
    const auto surfaces = [&](double x, double y) {
      return apart(along(a.frame, a.track, x).position_m, along(b.frame, b.track, y).position_m) -
             radius_at(a, x) - radius_at(b, y);
    };
    const double sampled = sampled_least(surfaces, a.track.length_m(), b.track.length_m());
    const auto found = clearances(scene.build, rooms);
    const Gap& gap = found.at(0).nearest.at(0).value();
    EXPECT_NEAR(gap.distance_m, sampled, 2e-8) << i;
    EXPECT_NEAR(apart(gap.on_piece_m, gap.on_neighbour_m), std::abs(gap.distance_m), 1e-9);
    // The other run says the same of the other side.
    const Gap& back = found.at(1).nearest.at(0).value();
    EXPECT_EQ(back.distance_m, gap.distance_m);
    EXPECT_EQ(back.on_piece_m, gap.on_neighbour_m);
    EXPECT_EQ(back.neighbour, Neighbour(NearPiece{scene.runs[0].id, 0}));
    apart_ones += gap.distance_m > 0 ? 1 : 0;
  }
  EXPECT_GT(apart_ones, 5);
}
INSTANTIATE_TEST_SUITE_P(Clearance, TwoPieces,
                         ::testing::Combine(::testing::Range(0, 4), ::testing::Range(0, 4)));

// Closed forms: tubes side by side, and bends on one axis.
TEST(Clearance, OfDuctingSideBySideIsThatOfItsSides) {
  for (const auto& piece : {tube(0.06, 0.3), bend(0.06, pi / 2, 0.09, pi / 2)}) {
    Scene scene;
    scene.add({{0, 0, 0}, {1, 0, 0}}, {piece});
    scene.add({{0, 0, 0.075}, {1, 0, 0}}, {piece});
    const auto found = scene.look();
    EXPECT_NEAR(found[0].nearest[0]->distance_m, 0.015, 1e-12);
    EXPECT_TRUE(found[0].tight.empty()); // the spigots of the other run's ports are no nearer
  }
}

} // namespace
} // namespace bellmouth::bay
