// SPDX-License-Identifier: GPL-3.0-or-later
// Route problems of the same make as the published examples in tests/reference/routes, as many as wanted,
// each with one answer that keeps all rules: the same stock lists and prices, numbers, kinds, sizes and
// clearances of solids, bounding planes and room to spare.
#pragma once

#include "support/route_checker.hpp"

#include <spdlog/fmt/fmt.h>

#include <cstdint>

namespace bellmouth::test {

struct RouteProblem {
  Json problem; ///< "route-problem/1"
  Json known;   ///< "route-answer/1", with its cost
};

class RouteProblemMaker {
public:
  /// `class_name`: open, cluttered or narrow. The same for the same number, on every machine.
  RouteProblemMaker(std::string class_name, bool bends_may_be_cut, std::uint64_t number)
      : class_name_(std::move(class_name)), cut_(bends_may_be_cut), number_(number) {
    for (const char c : class_name_)
      state_ = 31 * state_ + static_cast<unsigned char>(c);
    state_ = 1'000'003 * state_ + 2 * number + (cut_ ? 1 : 0);
  }

  [[nodiscard]] RouteProblem make() && {
    for (;;) {
      RouteProblem made = attempt();
      const RouteCheck check = check_route(made.problem, made.known);
      const double least_room = is("narrow") ? 0.3 : is("open") ? 50 : 2.5;
      if (!check.faults.empty() || check.margin_mm < least_room)
        continue;
      made.known["cost"] = rounded(check.cost, 4);
      return made;
    }
  }

private:
  /// \name Chance (splitmix64)
  ///@{
  double chance() {
    state_ += 0x9E3779B97F4A7C15U;
    std::uint64_t x = state_;
    x = (x ^ (x >> 30U)) * 0xBF58476D1CE4E5B9U;
    x = (x ^ (x >> 27U)) * 0x94D049BB133111EBU;
    return static_cast<double>((x ^ (x >> 31U)) >> 11U) * 0x1p-53;
  }
  double within(double low, double high) { return low + (high - low) * chance(); }
  std::size_t one_of(std::size_t count) {
    return static_cast<std::size_t>(chance() * static_cast<double>(count));
  }
  template <class T> const T& pick(const std::vector<T>& values) { return values[one_of(values.size())]; }
  Spot any_direction() {
    const double z = within(-1, 1), angle = within(0, 2 * std::numbers::pi), r = std::sqrt(1 - z * z);
    return {r * std::cos(angle), r * std::sin(angle), z};
  }
  Spot along_axis() {
    Spot direction{};
    direction[one_of(3)] = chance() < 0.5 ? -1 : 1;
    return direction;
  }
  ///@}

  [[nodiscard]] bool is(std::string_view name) const { return class_name_ == name; }
  static double rounded(double value, int decimals) {
    const double unit = std::pow(10.0, decimals);
    return std::round(value * unit) / unit;
  }
  static Json json(const Spot& spot, int decimals) {
    Json array = Json::array();
    for (const double x : spot)
      array.push_back(rounded(x, decimals) + 0.0);
    return array;
  }
  static Spot unit(const Spot& a) { return gone({0, 0, 0}, 1 / size(a), a); }

  RouteProblem attempt() {
    aligned_ = chance() < 0.3;
    start_od_ = pick(sizes_);
    end_od_ = start_od_;
    if (chance() < 1.0 / 7)
      while (end_od_ == start_od_)
        end_od_ = pick(sizes_);
    RouteProblem made;
    Json& problem = made.problem;
    problem = {{"format", "route-problem/1"},
               {"name", fmt::format("{}-{}-{:03}", class_name_, cut_ ? "cut" : "stock", number_)},
               {"class", class_name_},
               {"units", {{"length", "mm"}, {"angle", "deg"}}}};
    const Spot position{std::round(within(-100, 100)), std::round(within(-100, 100)),
                        std::round(within(-100, 100))};
    const Spot direction = aligned_ ? along_axis() : any_direction();
    std::size_t least = 2;
    for (const std::size_t axis : {1, 0})
      if (std::abs(direction[axis]) < std::abs(direction[least]))
        least = axis;
    Spot towards{};
    towards[least] = 1;
    problem["start"] = {{"position", json(position, 1)},
                        {"direction", json(direction, 12)},
                        {"reference", json(unit(gone(towards, -direction[least], direction)), 12)},
                        {"od", start_od_},
                        {"mount", "engine"}};
    problem["end"] = {{"position", json({0, 0, 0}, 1)},
                      {"direction", json({1, 0, 0}, 1)},
                      {"od", end_od_},
                      {"mount", chance() < 0.45 ? "body" : "engine"}};
    problem["stock"] = stock();
    problem["rules"] = {{"bends_may_be_cut", cut_},
                        {"min_cut_angle", 10.0},
                        {"min_bends", 1},
                        {"max_bends", 5},
                        {"min_straight_between_bends", 40.0},
                        {"min_straight_at_ports", 40.0},
                        {"flexible_min_straight", 80.0},
                        {"self_gap", 5.0},
                        {"end_tolerance_mm", 0.1},
                        {"end_tolerance_deg", 0.1}};
    problem["weights"] = {
        {"price", 1.0},      {"loss", 40.0}, {"joint", 3.0}, {"length", 0.02}, {"friction_factor", 0.02},
        {"k_exponent", 0.75}};
    problem["keepouts"] = Json::array();
    made.known = {{"format", "route-answer/1"}, {"problem", problem["name"]}, {"pieces", chain(problem)}};
    put_end(problem, made.known);
    surround(problem, made.known);
    return made;
  }

  /// \name Stock
  ///@{
  Json stock() {
    const std::size_t set = one_of(4);
    const bool both_radii = set >= 2, silicone = set % 2 == 1;
    const double only = pick(std::vector{1.0, 1.25, 1.5});
    Json bends = Json::array();
    std::vector<double> ods{start_od_};
    if (end_od_ != start_od_)
      ods.push_back(end_od_);
    for (const double od : ods) {
      for (const double radii : both_radii ? std::vector{1.0, 1.5} : std::vector{only})
        add_mandrel(bends, od, radii);
      if (silicone)
        add_silicone(bends, od);
    }
    Json stock = {{"bends", bends},
                  {"tube", {{"price_per_mm", 0.03}, {"max_length", 1000.0}}},
                  {"joint", {{"price", 11.0}}}};
    if (end_od_ != start_od_)
      stock["reducer"] = {{"length", 76.0}, {"clamp", 25.0}, {"price", 18.0}, {"k", 0.05}};
    return stock;
  }
  static void add_mandrel(Json& bends, double od, double radii) {
    const double clr = rounded(od * radii, 1), k90 = radii < 1.1 ? 0.21 : radii < 1.4 ? 0.188 : 0.171;
    const double quarter = 15 * od / 63.5 * (radii > 1.1 ? 1.2 : 1);
    for (const auto& [angle, share] :
         {std::pair(30.0, 0.6), {45.0, 10.0 / 15}, {60.0, 0.8}, {90.0, 1.0}, {180.0, 1.6}})
      bends.push_back({{"id", fmt::format("M{:.1f}-{:.0f}-R{:.1f}", od, angle, clr)},
                       {"kind", "mandrel"},
                       {"od", od},
                       {"angle", angle},
                       {"clr", clr},
                       {"leg", 100.0},
                       {"price", rounded(quarter * share, 1)},
                       {"k90", k90}});
  }
  static void add_silicone(Json& bends, double od) {
    for (const auto& [angle, price] : {std::pair(45.0, 14.0), {90.0, 16.0}, {135.0, 24.0}, {180.0, 30.0}})
      bends.push_back({{"id", fmt::format("S{:.1f}-{:.0f}", od, angle)},
                       {"kind", "silicone"},
                       {"od", od},
                       {"angle", angle},
                       {"clr", od},
                       {"leg", angle > 170 ? 90.0 : 75.0},
                       {"price", rounded(price * od / 63.5, 1)},
                       {"k90", 0.24}});
  }
  ///@}

  /// \name The known answer
  ///@{
  Json chain(const Json& problem) {
    const double many = chance();
    const std::size_t bends = many < 0.04 ? 1 : many < 0.44 ? 2 : many < 0.72 ? 3 : many < 0.96 ? 4 : 5;
    const std::size_t reduced = end_od_ != start_od_ ? one_of(bends + 1) : bends + 1;
    double od = start_od_;
    Json pieces = Json::array();
    for (std::size_t i = 0; i <= bends; ++i) {
      const bool at_port = i == 0 || i == bends;
      const double share = chance();
      double length = rounded(40.5 + 360 * (at_port ? share : share * share), 1);
      if (reduced == i) {
        const double before = rounded(within(25, 150), 1);
        pieces.push_back({{"type", "straight"}, {"length", before}, {"od", od}});
        pieces.push_back({{"type", "reducer"}, {"length", 76.0}, {"od_in", od}, {"od_out", end_od_}});
        od = end_od_;
        length = std::max(25.0, rounded(length - before - 76, 1));
      }
      pieces.push_back({{"type", "straight"}, {"length", length}, {"od", od}});
      if (i < bends)
        pieces.push_back(bend(problem, od));
    }
    return pieces;
  }
  Json bend(const Json& problem, double od) {
    std::vector<Json> fit;
    for (const Json& one : problem.at("stock").at("bends"))
      if (one.at("od") == od && one.at("kind") == "mandrel")
        fit.push_back(one);
    Json stock = pick(fit);
    while (stock.at("angle") > 100 && chance() < 0.7) // a half turn now and then
      stock = pick(fit);
    double angle = stock.at("angle");
    if (cut_ && chance() < 0.7) {
      angle = rounded(within(15, chance() < 0.1 ? 150 : 70), 1);
      const double clr = stock.at("clr");
      for (auto one = fit.rbegin(); one != fit.rend(); ++one)
        if (one->at("angle") >= angle && one->at("clr") == clr)
          stock = *one;
    }
    const double clocking =
        aligned_ && chance() < 0.85 ? 90.0 * static_cast<double>(one_of(4)) : rounded(within(0, 360), 1);
    Json piece = {{"type", "bend"},
                  {"stock", stock.at("id")},
                  {"angle", angle},
                  {"clr", stock.at("clr")},
                  {"clocking", clocking}};
    if (angle < stock.at("angle"))
      piece["lost_leg"] = chance() < 0.65 ? "out" : "in";
    return piece;
  }
  static void put_end(Json& problem, const Json& known) {
    const auto samples = RouteChecker(problem, known).samples();
    const RouteChecker::Sample& last = samples.back();
    // The last piece is a straight.
    const Spot heading = unit(gone(last.at, -1, samples[samples.size() - 40].at));
    problem["end"]["position"] = json(last.at, 6);
    problem["end"]["direction"] = json(gone({0, 0, 0}, -1, heading), 12);
  }
  ///@}

  /// \name Keep-outs
  ///@{
  void surround(Json& problem, const Json& known) {
    const auto all = RouteChecker(problem, known).samples();
    centreline_.clear();
    for (std::size_t i = 0; i < all.size(); i += 8)
      centreline_.push_back(all[i]);
    centreline_.push_back(all.back());
    Json& keep_outs = problem["keepouts"];
    constexpr double plane_clearance = 10;
    for (std::size_t i = 0; i < (is("open") ? 2 : 6); ++i) {
      const std::size_t axis = i < 2 ? 2 : (i - 2) / 2;
      const double sign = i % 2 == 0 ? 1 : -1;
      const double room = is("open") ? within(109, 233) : is("cluttered") ? within(5, 105) : within(1, 25);
      double furthest = -1e9;
      for (const auto& sample : all)
        furthest = std::max(furthest, sign * sample.at[axis] + sample.od / 2);
      Spot point{}, normal{};
      point[axis] = sign * (furthest + plane_clearance + room);
      normal[axis] = sign;
      keep_outs.push_back({{"type", "halfspace"},
                           {"point", json(point, 4)},
                           {"normal", json(normal, 1)},
                           {"clearance", plane_clearance}});
      if (i < 2)
        keep_outs.back()["name"] = i == 0 ? "bonnet" : "ground";
    }
    const std::size_t solids = is("open") ? one_of(3) : is("cluttered") ? 10 + one_of(7) : 18 + one_of(47);
    for (std::size_t i = 0; i < solids; ++i)
      keep_outs.push_back(placed_solid((static_cast<double>(i) + chance()) / static_cast<double>(solids)));
  }
  /// Pushed away from a place of the run until it has the room that it is to leave.
  Json placed_solid(double where) {
    const double share = chance();
    const double room = is("open")        ? within(65, 190)
                        : is("cluttered") ? within(2.9, 80)
                                          : 0.5 + 7.5 * share * share;
    for (;;) {
      Json solid = any_solid();
      const auto& at =
          centreline_[static_cast<std::size_t>(where * static_cast<double>(centreline_.size() - 1))];
      const Spot out = aligned_ && chance() < 0.5 ? along_axis() : any_direction();
      move(solid, at.at);
      constexpr double furthest = 900;
      double gone_mm = 0, gap = gap_to(solid);
      while (gap < room && gone_mm < furthest) {
        const double step = room - gap + 0.01;
        move(solid, gone({0, 0, 0}, step, out));
        gone_mm += step;
        gap = gap_to(solid);
      }
      if (gap >= room && gap < room + 0.5) {
        round(solid);
        return solid;
      }
    }
  }
  [[nodiscard]] double gap_to(const Json& json) const {
    const RouteSolid solid(json);
    double least = 1e9;
    for (const auto& sample : centreline_)
      least = std::min(least, solid.distance(sample.at) - solid.clearance - sample.od / 2);
    return least;
  }
  Json any_solid() {
    const double kind = chance();
    const double base = std::exp(within(std::log(20), std::log(190)));
    const bool straight = aligned_ && chance() < 0.65;
    const double clearance = pick(std::vector{5.0, 8.0, 10.0, 15.0});
    const Spot origin{0, 0, 0};
    if (kind < 0.45) {
      const Spot half{base * within(0.4, 1.1), base * within(0.4, 1.1), base * within(0.4, 1.1)};
      std::array<Spot, 3> axes{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
      if (!straight) {
        axes[0] = any_direction();
        axes[1] = unit(across(axes[0], any_direction()));
        axes[2] = across(axes[0], axes[1]);
      }
      return {{"type", "box"},
              {"center", origin},
              {"half", json(half, 4)},
              {"axes", {json(axes[0], 9), json(axes[1], 9), json(axes[2], 9)}},
              {"clearance", clearance}};
    }
    if (kind < 0.73) {
      const Spot way = gone({0, 0, 0}, base * within(0.5, 2), straight ? along_axis() : any_direction());
      return {{"type", "cylinder"},
              {"a", gone(origin, -1, way)},
              {"b", way},
              {"radius", rounded(base * within(0.25, 1), 4)},
              {"clearance", clearance}};
    }
    if (kind < 0.94)
      return {{"type", "sphere"},
              {"center", origin},
              {"radius", rounded(base * within(0.6, 1.1), 4)},
              {"clearance", clearance}};
    return lump(base);
  }
  /// An icosahedron with its sides halved once, drawn out along the axes, its points in and out a little.
  Json lump(double base) {
    const double golden = 0.5 * (1 + std::sqrt(5.0));
    std::vector<Spot> points;
    for (const double a : {1.0, -1.0})
      for (const double b : {golden, -golden})
        for (std::size_t axis = 0; axis < 3; ++axis) {
          Spot point{};
          point[(axis + 1) % 3] = a;
          point[(axis + 2) % 3] = b;
          points.push_back(unit(point));
        }
    std::vector<std::array<std::size_t, 3>> sides;
    const double edge = 2 / std::sqrt(golden * std::sqrt(5.0)) + 1e-6;
    for (std::size_t i = 0; i < 12; ++i)
      for (std::size_t j = i + 1; j < 12; ++j)
        for (std::size_t k = j + 1; k < 12; ++k)
          if (between(points[i], points[j]) < edge && between(points[j], points[k]) < edge &&
              between(points[k], points[i]) < edge) {
            const bool outward = inner(points[i], across(points[j], points[k])) > 0;
            sides.push_back(outward ? std::array{i, j, k} : std::array{i, k, j});
          }
    std::map<std::pair<std::size_t, std::size_t>, std::size_t> halves;
    const auto half = [&](std::size_t a, std::size_t b) {
      const auto [at, is_new] = halves.try_emplace(std::minmax(a, b), points.size());
      if (is_new)
        points.push_back(unit(gone(points[a], 1, points[b])));
      return at->second;
    };
    Json triangles = Json::array();
    for (const auto& [a, b, c] : sides) {
      const std::size_t ab = half(a, b), bc = half(b, c), ca = half(c, a);
      for (const auto& triangle : {std::array{a, ab, ca}, {ab, b, bc}, {ca, bc, c}, {ab, bc, ca}})
        triangles.push_back(triangle);
    }
    const Spot drawn{base * within(0.4, 1), base * within(0.4, 1), base * within(0.4, 1)};
    Json vertices = Json::array();
    for (const Spot& point : points) {
      const double r = within(0.85, 1.15);
      vertices.push_back(Spot{r * drawn[0] * point[0], r * drawn[1] * point[1], r * drawn[2] * point[2]});
    }
    return {{"type", "mesh"}, {"vertices", vertices}, {"triangles", triangles}, {"clearance", 8.0}};
  }
  template <class Change> static void change_places(Json& solid, const Change& change) {
    for (const char* key : {"center", "a", "b"})
      if (solid.contains(key))
        solid[key] = change(spot(solid[key]));
    if (solid.contains("vertices"))
      for (Json& vertex : solid["vertices"])
        vertex = change(spot(vertex));
  }
  static void move(Json& solid, const Spot& by) {
    change_places(solid, [&](const Spot& place) { return Json(gone(place, 1, by)); });
  }
  static void round(Json& solid) {
    const int decimals = solid.contains("vertices") ? 3 : 4;
    change_places(solid, [&](const Spot& place) { return json(place, decimals); });
  }
  ///@}

  std::string class_name_;
  bool cut_;
  std::uint64_t number_, state_ = 0;
  bool aligned_ = false;
  double start_od_ = 0, end_od_ = 0;
  std::vector<RouteChecker::Sample> centreline_;
  const std::vector<double> sizes_{50.8, 57.2, 60.3, 63.5, 70.0, 76.2};
};

[[nodiscard]] inline RouteProblem random_route_problem(const std::string& class_name, bool bends_may_be_cut,
                                                       std::uint64_t number) {
  return RouteProblemMaker(class_name, bends_may_be_cut, number).make();
}

} // namespace bellmouth::test
