// SPDX-License-Identifier: GPL-3.0-or-later
// Runs whose answer can be worked out by hand.
#include "support/close.hpp"
#include "support/random_chains.hpp"

#include <gtest/gtest.h>

#include <functional>

namespace bellmouth::test {
namespace {

using build::Pose;
using route::Freedom;
using route::What;

const Pose origin{{0, 0, 0}, {1, 0, 0}};
/// A port at a place in the x-z plane whose run arrives under an angle from x towards z.
Pose arriving(double x_mm, double z_mm, double angle_deg) {
  return {{mm(x_mm), 0, mm(z_mm)}, {-std::cos(deg(angle_deg)), 0, -std::sin(deg(angle_deg))}};
}
Freedom long_as(std::size_t row, double low_mm = 10, double high_mm = 1000, double weight = 1) {
  return {row, What::length, mm(low_mm), mm(high_mm), weight};
}
Freedom turning(std::size_t row, What what, double low_deg, double high_deg,
                double weight = route::angle_weight) {
  return {row, what, deg(low_deg), deg(high_deg), weight};
}

route::Met meet(const build::Build& build, const std::vector<Freedom>& freedoms,
                const route::Wanted& wanted = {}) {
  const auto complaint = route::validate(the_run(build), freedoms);
  EXPECT_FALSE(complaint) << complaint->text();
  return route::meet(build, {"only"}, {"run"}, freedoms, wanted);
}
double size(const route::Met& met, std::size_t row, What what) {
  return *route::value(the_run(met.build).pieces[row].shape, what);
}
/// The least of a function of one hollow between two places, to 1e-9.
double lowest(double low, double high, const std::function<double(double)>& of) {
  const double golden = (std::sqrt(5.0) - 1) / 2;
  while (high - low > 1e-9) {
    const double left = high - golden * (high - low), right = low + golden * (high - low);
    (of(left) < of(right) ? high : low) = of(left) < of(right) ? right : left;
  }
  return (low + high) / 2;
}

// Closed form: a gap of 12 mm shared by three tubes is 4 mm each; one tube alone changes the root of 3 times
// as much, which is within three times.
TEST(Meet, AltersFewSizesWhenAsked) {
  const auto build = one_run(origin, arriving(312, 0, 0), {straight(100), straight(100), straight(100)});
  const std::vector<Freedom> free{long_as(0), long_as(1), long_as(2)};
  const auto shared = meet(build, free);
  ASSERT_TRUE(shared.met());
  ASSERT_EQ(shared.changes.size(), 3U);
  EXPECT_TRUE(close(size(shared, 1, What::length), mm(104), 0, 1e-9));
  const auto few = meet(build, free, {.few = true});
  ASSERT_TRUE(few.met());
  ASSERT_EQ(few.changes.size(), 1U);
  EXPECT_TRUE(close(few.changes[0].to, mm(112), 0, 1e-9));
  // Ten tubes: one alone would change the root of 10 times as much. Two change the root of 5 times.
  const std::vector<build::Piece> ten(10, straight(100));
  std::vector<Freedom> all;
  for (std::size_t row = 0; row < ten.size(); ++row)
    all.push_back(long_as(row));
  const auto of_ten = meet(one_run(origin, arriving(1010, 0, 0), ten), all, {.few = true});
  ASSERT_TRUE(of_ten.met());
  EXPECT_EQ(of_ten.changes.size(), 2U);
}

// Closed form: the first tube must grow by 5 mm at least, so another must give 5 mm up, although the run
// meets its port as it is.
TEST(Meet, HoldsNoSizeOutsideItsLimitsToAlterFew) {
  const auto build = one_run(origin, arriving(300, 0, 0), {straight(100), straight(100), straight(100)});
  const auto met = meet(build, {long_as(0, 105, 200), long_as(1), long_as(2)}, {.few = true});
  ASSERT_TRUE(met.met());
  EXPECT_EQ(met.changes.size(), 2U);
  EXPECT_GE(size(met, 0, What::length), mm(105));
  EXPECT_TRUE(close(size(met, 0, What::length) + size(met, 1, What::length) + size(met, 2, What::length),
                    mm(300), 0, 1e-9));
}

// Closed form: a + R along, R + b across.
TEST(Meet, TwoTubesAndABend) {
  const auto build =
      one_run(origin, arriving(173 + 95, 241 + 95, 90), {straight(100), bend(90, 0), straight(100)});
  const auto met = meet(build, {long_as(0), long_as(2)});
  ASSERT_TRUE(met.met());
  EXPECT_TRUE(close(size(met, 0, What::length), mm(173), 0, 1e-9));
  EXPECT_TRUE(close(size(met, 2, What::length), mm(241), 0, 1e-9));
  ASSERT_EQ(met.changes.size(), 2U);
  EXPECT_EQ(met.changes[1].row, 2U);
  EXPECT_EQ(met.changes[1].what, What::length);
  EXPECT_EQ(met.changes[1].from, mm(100));
  EXPECT_TRUE(close(met.before->gap_m, std::hypot(mm(73), mm(141)), 0, 1e-12));
  EXPECT_LT(met.after->gap_m, 1e-8);
}

// Closed form: two equal bends make an offset 2 R (1 - cos A) + s sin A.
TEST(Meet, AnOffsetOfTwoEqualBends) {
  for (const double angle_deg : {20.0, 45.0, 70.0}) {
    const double a = deg(angle_deg), offset = 190 * (1 - std::cos(a)) + 120 * std::sin(a);
    const double along = 190 * std::sin(a) + 120 * std::cos(a) + 150;
    const auto build = one_run(origin, arriving(along, offset, 0),
                               {straight(100), bend(40, 0), straight(120), bend(40, 180)});
    const auto met =
        meet(build, {long_as(0), turning(1, What::angle, 5, 90), turning(3, What::angle, 5, 90)});
    ASSERT_TRUE(met.met()) << angle_deg;
    EXPECT_TRUE(close(size(met, 0, What::length), mm(150), 0, 1e-8));
    EXPECT_TRUE(close(size(met, 1, What::angle), a, 0, 1e-8));
    EXPECT_TRUE(close(size(met, 3, What::angle), a, 0, 1e-8));
  }
}

// Closed form (Lagrange): of a - b, fixed by the port, each leg of a trombone takes its share by weight.
TEST(Meet, ATromboneSharesTheChange) {
  for (const double weight : {1.0, 3.0}) {
    const auto build =
        one_run(origin, arriving(400 - 250 + 30, 190, 180), {straight(400), bend(180, 0), straight(250)});
    const auto met = meet(build, {long_as(0), long_as(2, 10, 1000, weight)});
    ASSERT_TRUE(met.met());
    EXPECT_TRUE(close(size(met, 0, What::length), mm(400 + 30 * weight / (1 + weight)), 0, 1e-9));
    EXPECT_TRUE(close(size(met, 2, What::length), mm(250 - 30 / (1 + weight)), 0, 1e-9));
  }
}

// Closed form (Lagrange): tubes in line share a change in inverse proportion to their weights; one at its
// limit leaves its part to the others.
TEST(Meet, TubesInLineShareTheChange) {
  const auto build = one_run(origin, arriving(460, 0, 0), {straight(100), straight(100), straight(200)});
  const auto free = meet(build, {long_as(0), long_as(1, 10, 1000, 2), long_as(2, 10, 1000, 4)});
  ASSERT_TRUE(free.met());
  for (std::size_t row = 0; row < 3; ++row)
    EXPECT_TRUE(close(size(free, row, What::length),
                      *route::value(the_run(build).pieces[row].shape, What::length) +
                          mm(60) / std::pow(2.0, static_cast<double>(row)) / 1.75,
                      0, 1e-8));
  const auto held = meet(build, {long_as(0, 10, 110), long_as(1, 10, 1000, 2), long_as(2, 10, 1000, 4)});
  ASSERT_TRUE(held.met());
  EXPECT_EQ(size(held, 0, What::length), mm(110));
  EXPECT_TRUE(close(size(held, 1, What::length), mm(100 + 50 * 2.0 / 3), 0, 1e-8));
  EXPECT_TRUE(close(size(held, 2, What::length), mm(200 + 50 * 1.0 / 3), 0, 1e-8));
}

// Other method: of the offsets that two bends and the tube between can make, the one of least change, found
// by search along the one parameter that is left: the angle.
TEST(Meet, TakesTheLeastChangeOfAFamily) {
  const double along = 520, offset = 160;
  const auto build =
      one_run(origin, arriving(along, offset, 0), {straight(150), bend(40, 0), straight(150), bend(40, 180)});
  const auto met =
      meet(build, {long_as(0), turning(1, What::angle, 5, 90), long_as(2), turning(3, What::angle, 5, 90)});
  ASSERT_TRUE(met.met());
  const auto middle_mm = [&](double a) { return (offset - 190 * (1 - std::cos(a))) / std::sin(a); };
  const auto first_mm = [&](double a) { return along - 190 * std::sin(a) - middle_mm(a) * std::cos(a); };
  const double best = lowest(deg(10), deg(80), [&](double a) {
    const double arm_mm = 100 * (a - deg(40));
    return std::pow(first_mm(a) - 150, 2) + std::pow(middle_mm(a) - 150, 2) + 2 * 4 * arm_mm * arm_mm;
  });
  EXPECT_TRUE(close(size(met, 1, What::angle), best, 0, 1e-6));
  EXPECT_TRUE(close(size(met, 0, What::length), mm(first_mm(best)), 0, 1e-7));
  EXPECT_TRUE(close(size(met, 2, What::length), mm(middle_mm(best)), 0, 1e-7));
}

// Closed form: a mirrored clocking is met the short way round, across the end of its range.
TEST(Meet, TurnsAClockingTheShortWay) {
  const double c = deg(-170);
  const Pose to{{mm(195), mm(195) * -std::sin(c), mm(195) * std::cos(c)}, {0, std::sin(c), -std::cos(c)}};
  const auto build = one_run(origin, to, {straight(100), bend(90, 170), straight(100)});
  const auto met = meet(build, {turning(1, What::clocking, -180, 180)});
  ASSERT_TRUE(met.met());
  EXPECT_TRUE(close(size(met, 1, What::clocking), c, 0, 1e-8));
}

// Closed form: lengths in a plane cannot leave it.
TEST(Meet, GoesAsNearAsItCan) {
  auto to = arriving(173 + 95, 241 + 95, 90);
  to.position_m[1] = mm(7);
  const auto build = one_run(origin, to, {straight(100), bend(90, 0), straight(100)});
  const auto met = meet(build, {long_as(0), long_as(2)});
  EXPECT_EQ(met.stop, route::Stop::out_of_reach);
  EXPECT_TRUE(close(met.after->gap_m, mm(7), 0, 1e-8));
  EXPECT_LT(met.after->angle_rad, 1e-9);
  EXPECT_TRUE(met.binding.empty());
  EXPECT_TRUE(close(size(met, 0, What::length), mm(173), 0, 1e-8));
  EXPECT_TRUE(close(size(met, 2, What::length), mm(241), 0, 1e-8));
  EXPECT_TRUE(close(off_port(run_end(origin, the_run(met.build).pieces), to).gap_m, mm(7), 0, 1e-8));
}

// Closed form: a limit 20.4 mm short keeps the end 20.4 mm off; 21 mm more is the least in whole millimetres.
TEST(Meet, NamesTheLimitAndWhatWouldHelp) {
  const auto to = arriving(200.4 + 95, 150 + 95, 90);
  const auto build = one_run(origin, to, {straight(100), bend(90, 0), straight(100)});
  const auto met = meet(build, {long_as(0, 50, 180), long_as(2, 50, 400)});
  EXPECT_EQ(met.stop, route::Stop::out_of_reach);
  EXPECT_TRUE(close(met.after->gap_m, mm(20.4), 0, 1e-8));
  EXPECT_EQ(size(met, 0, What::length), mm(180));
  ASSERT_EQ(met.binding.size(), 1U);
  EXPECT_EQ(met.binding[0].freedom, long_as(0, 50, 180));
  EXPECT_TRUE(met.binding[0].at_high);
  ASSERT_EQ(met.help.size(), 1U);
  const auto& help = met.help.front();
  EXPECT_EQ(help.text, "row 1 (tube): 21 mm more length than its limit of 180 mm");
  ASSERT_TRUE(help.freedom);
  EXPECT_TRUE(close(help.freedom->high, mm(201), 0, 1e-12));
  EXPECT_LT(off_port(run_end(origin, the_run(help.build).pieces), to).gap_m, 1e-7);
  EXPECT_TRUE(meet(build, {*help.freedom, long_as(2, 50, 400)}).met());
  EXPECT_FALSE(meet(build, {long_as(0, 50, 200), long_as(2, 50, 400)}).met());
}

// Identity: help that was tried brings the end to the port. Here a bend of 60 degrees is wanted, from a stock
// that holds it; and a clocking was held wrongly.
TEST(Meet, OffersAnotherBendAndAClockingThatWasHeld) {
  const double a = deg(60), along = 150 + 95 * std::sin(a) + 180 * std::cos(a),
               across = 95 * (1 - std::cos(a)) + 180 * std::sin(a);
  const std::vector<Freedom> freedoms{long_as(0), long_as(2)};
  auto bent = one_run(origin, arriving(along, across, 60), {straight(100), bend(45, 0), straight(100)});
  const auto poor = meet(bent, freedoms);
  EXPECT_EQ(poor.stop, route::Stop::out_of_reach);
  ASSERT_EQ(poor.help.size(), 1U);
  EXPECT_EQ(poor.help[0].text, "row 2 (tube bend): a 60° bend instead of 45°, which the stock does not hold");

  auto item = sample_stock()[1];
  std::vector<build::StockItem> items;
  for (const double angle_deg : {30.0, 60.0, 90.0}) {
    item.id = {"bend-" + std::to_string(static_cast<int>(angle_deg))};
    item.angle_rad = deg(angle_deg);
    items.push_back(item);
  }
  bent.stock = items;
  const auto met = meet(bent, freedoms);
  ASSERT_FALSE(met.help.empty());
  const auto& help = met.help.back();
  EXPECT_EQ(help.text, "row 2 (tube bend): a 60° bend instead of 45°");
  ASSERT_TRUE(help.piece);
  EXPECT_EQ(help.piece->stock.text, "bend-60");
  EXPECT_TRUE(close(*route::value(the_run(help.build).pieces[0].shape, What::length), mm(150), 0, 1e-7));
  EXPECT_LT(off_port(run_end(origin, the_run(help.build).pieces), *bent.ports[1].pose).gap_m, 1e-7);

  const auto turned =
      one_run(origin, arriving(100 + 95, -(100 + 95), -90), {straight(100), bend(90, 90), straight(100)});
  const auto held = meet(turned, freedoms);
  ASSERT_FALSE(held.help.empty());
  EXPECT_EQ(held.help[0].text, "row 2 (tube bend): let its clocking move, to 180°");
  EXPECT_EQ(held.help[0].freedom->what, What::clocking);
  EXPECT_LT(off_port(run_end(origin, the_run(held.help[0].build).pieces), *turned.ports[1].pose).gap_m, 1e-7);
}

// Identity: sizes outside their limits are brought within, though the run met its port.
TEST(Meet, KeepsLimitsThatThePresentBreaks) {
  const auto build = one_run(origin, arriving(300, 0, 0), {straight(100), straight(200)});
  EXPECT_TRUE(meet(build, {long_as(0), long_as(1)}).changes.empty());
  const auto met = meet(build, {long_as(0, 120, 500), long_as(1)});
  ASSERT_TRUE(met.met());
  EXPECT_EQ(size(met, 0, What::length), mm(120));
  EXPECT_TRUE(close(size(met, 1, What::length), mm(180), 0, 1e-9));
}

// Closed form: a hose hides its engagements; a boss keeps its place and its host reaches behind it.
TEST(Meet, CountsEngagementAndKeepsBosses) {
  const build::Piece boss{build::SensorBoss{mm(150), 0, "M12x1.5"}, build::Material::aluminium, {}, ""};
  const auto build = one_run(origin, arriving(230, 0, 0), {coupler(100), straight(200), boss, coupler(100)});
  const auto met = meet(build, {long_as(1, 150, 500)});
  ASSERT_TRUE(met.met());
  EXPECT_TRUE(close(size(met, 1, What::length), mm(230 - 2 * 36), 0, 1e-9));
  EXPECT_EQ(the_run(met.build).pieces[2], boss);
  const auto shorter =
      one_run(origin, arriving(200, 0, 0), {coupler(100), straight(200), boss, coupler(100)});
  const auto limited = meet(shorter, {long_as(1, 150, 500)}, {.help = false});
  EXPECT_EQ(limited.stop, route::Stop::out_of_reach);
  EXPECT_EQ(size(limited, 1, What::length), mm(150));
  EXPECT_TRUE(close(limited.after->gap_m, mm(150 + 72 - 200), 0, 1e-8));
}

// Identity: a bend cut or drawn in does not come short of the boss that sits on it, whichever size gives way.
TEST(Meet, KeepsABendBehindItsBoss) {
  const build::Piece boss{build::SensorBoss{mm(140), 0, "M12x1.5"}, build::Material::aluminium, {}, ""};
  auto with_boss = bend(45, 0, 95, 60, 60);
  const double a = deg(45), along = 20 + 95 * std::sin(a) + 20 * std::cos(a),
               across = 95 * (1 - std::cos(a)) + 20 * std::sin(a);
  const auto build = one_run(origin, arriving(along, across, 45), {with_boss, boss});
  const std::vector<Freedom> legs{{0, What::leg_in, 0, mm(60)}, {0, What::leg_out, 0, mm(60)}};
  const auto met = meet(build, legs, {.help = false});
  EXPECT_EQ(met.stop, route::Stop::out_of_reach);
  EXPECT_FALSE(build::validate(met.build));
  EXPECT_GE(build::full_length_m(the_run(met.build).pieces[0].shape), mm(140));
}

TEST(Meet, NeedsPortsThatAreMeasured) {
  auto build = one_run(origin, arriving(300, 0, 0), {straight(100)});
  build.ports[1].pose.reset();
  const auto met = meet(build, {long_as(0)});
  EXPECT_EQ(met.stop, route::Stop::not_measured);
  EXPECT_FALSE(met.before);
  EXPECT_FALSE(met.after);
  EXPECT_EQ(met.build, build);
}

// Identity: a bend cut below what its item gives loses the item, and that is said.
TEST(Meet, TakesOffAnItemThatNoLongerServes) {
  auto build = one_run(origin, arriving(100 + 40 + 95 + 40, 0, 0), {straight(100), bend(90, 0, 95, 40, 40)});
  const double a = deg(70), x = 140 + 95 * std::sin(a) + 40 * std::cos(a),
               z = 95 * (1 - std::cos(a)) + 40 * std::sin(a);
  build.ports[1].pose = arriving(x, z, 70);
  build.stock = sample_stock();
  build::Run run = the_run(build);
  run.pieces[1].stock = {"bend-63-90"};
  build.options.front().runs.front() = run;
  const auto met = meet(build, {turning(1, What::angle, 5, 90)});
  ASSERT_TRUE(met.met());
  EXPECT_EQ(met.without_stock, std::vector<std::size_t>{1});
  EXPECT_EQ(the_run(met.build).pieces[1].stock.text, "");
}

} // namespace
} // namespace bellmouth::test
