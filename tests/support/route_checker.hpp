// SPDX-License-Identifier: GPL-3.0-or-later
// Checks an answer to a route problem against the rules, straight from the two JSON texts and without any of
// the program's own code: the chain is walked with rotation matrices, and its centreline sampled every
// quarter of a millimetre and measured against every solid.
//
// A sample misses no more than (0.125 mm)^2 / (2 d) of a dip at a distance d, 0.0004 mm beside the thinnest
// tube: what is wrong by 0.01 mm is found, and nothing is called wrong that is not, for a sample is never
// nearer than the nearest place.
#pragma once

#include "support/route_solids.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <map>
#include <numbers>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

namespace bellmouth::test {

/// What an answer comes to, and what is wrong with it.
struct RouteCheck {
  std::vector<std::string> faults;
  double end_mm = 0, end_deg = 0;
  double margin_mm = std::numeric_limits<double>::infinity();      ///< least to a keep-out
  double self_margin_mm = std::numeric_limits<double>::infinity(); ///< least to itself, where that is asked
  double length_mm = 0, price = 0, loss = 0, cost = 0;
  int joints = 0;
  [[nodiscard]] std::string text() const {
    std::string all;
    for (const std::string& fault : faults)
      all += fault + "\n";
    return all;
  }
};

class RouteChecker {
public:
  RouteChecker(const Json& problem, const Json& answer)
      : problem_(problem), pieces_(answer.at("pieces")), rules_(problem.at("rules")) {
    for (const Json& bend : problem.at("stock").at("bends"))
      stock_[bend.at("id")] = &bend;
  }

  [[nodiscard]] RouteCheck check() && {
    walk();
    end_pose();
    runs();
    reducers();
    flexible();
    keep_outs();
    itself();
    waypoints();
    cost();
    return std::move(check_);
  }

  /// Least margins beyond it are not looked for to the last.
  static constexpr double exact_below_mm = 20;

  /// A point of the centreline.
  struct Sample {
    Spot at{};
    double along = 0, od = 0;
  };
  /// The centreline alone.
  [[nodiscard]] std::vector<Sample> samples() && {
    walk();
    return std::move(samples_);
  }

private:
  static constexpr double rounding = 1e-6; ///< mm, degrees
  static constexpr double step_mm = 0.25;

  template <class... Words> void fault(const Words&... words) {
    std::ostringstream text;
    (text << ... << words);
    check_.faults.push_back(text.str());
  }
  static double rad(double degrees) { return degrees * std::numbers::pi / 180; }

  struct Run {
    double length = 0;
    const Json *before = nullptr, *behind = nullptr; ///< bends beside it
    std::optional<double> to_reducer, from_reducer;  ///< straight before and behind a reducer
  };
  struct Where {
    double from = 0, to = 0; ///< along
    Spot at{};
    Turning frame{}; ///< columns: direction, reference, their cross product
    double radius = 0;
  };

  void walk() {
    const Json& start = problem_.at("start");
    Spot at = spot(start.at("position"));
    Turning frame{spot(start.at("direction")), spot(start.at("reference")), {}};
    frame[2] = across(frame[0], frame[1]);
    od_ = start.at("od");
    double along = 0;
    runs_.emplace_back();
    for (const Json& piece : pieces_) {
      const std::string type = piece.at("type");
      if (type == "bend") {
        const double angle = rad(piece.at("angle")), radius = piece.at("clr"), length = angle * radius;
        frame = turned(frame, turn_about(frame[0], rad(piece.at("clocking"))));
        bend(piece);
        lay({along, along + length, at, frame, radius});
        const Spot centre = gone(at, radius, frame[1]);
        const Turning turning = turn_about(frame[2], angle);
        at = gone(centre, 1, applied(turning, gone(at, -1, centre)));
        frame = turned(frame, turning);
        along += length;
        runs_.back().behind = &piece;
        runs_.push_back({0, &piece, nullptr, {}, {}});
        continue;
      }
      const double length = piece.at("length");
      Run& run = runs_.back();
      if (type == "reducer") {
        reducer(piece);
        run.to_reducer = run.length;
        run.from_reducer = 0;
        const double od_out = piece.at("od_out");
        od_ = std::max(od_, od_out);
        lay({along, along + length, at, frame, 0});
        od_ = od_out;
      } else {
        if (type != "straight")
          fault("a piece of type ", type);
        if (std::abs(piece.at("od").get<double>() - od_) > rounding)
          fault("a straight of ", piece.at("od"), " where the run has ", od_);
        if (run.from_reducer)
          *run.from_reducer += length;
        lay({along, along + length, at, frame, 0});
      }
      if (length < 0)
        fault("a length of ", length);
      run.length += length;
      at = gone(at, length, frame[0]);
      along += length;
    }
    end_ = at;
    heading_ = frame[0];
    check_.length_mm = along;
  }
  static Turning turned(const Turning& frame, const Turning& turning) {
    return {applied(turning, frame[0]), applied(turning, frame[1]), applied(turning, frame[2])};
  }
  void lay(const Where& where) {
    laid_.push_back(where);
    const double length = where.to - where.from;
    const int steps = std::max(1, static_cast<int>(std::ceil(length / step_mm)));
    for (int i = 0; i <= steps; ++i) {
      const double x = length * i / steps;
      samples_.push_back({point(where, x), where.from + x, od_});
    }
  }
  static Spot point(const Where& where, double x) {
    if (where.radius == 0)
      return gone(where.at, x, where.frame[0]);
    const Spot centre = gone(where.at, where.radius, where.frame[1]);
    return gone(centre, 1, applied(turn_about(where.frame[2], x / where.radius), gone(where.at, -1, centre)));
  }

  void bend(const Json& piece) {
    ++bends_;
    const std::string id = piece.at("stock");
    const auto found = stock_.find(id);
    if (found == stock_.end())
      return fault("rule 3: ", id, " is not in stock");
    const Json& stock = *found->second;
    smallest_clr_ = std::min(smallest_clr_, piece.at("clr").get<double>());
    if (std::abs(stock.at("clr").get<double>() - piece.at("clr").get<double>()) > rounding)
      fault("rule 3: ", id, " has another radius than ", piece.at("clr"));
    if (std::abs(stock.at("od").get<double>() - od_) > rounding)
      fault("rule 3: ", id, " where the run has ", od_);
    const double angle = piece.at("angle"), nominal = stock.at("angle");
    const bool cut = std::abs(angle - nominal) > rounding;
    if (cut && stock.at("kind") == "silicone")
      fault("rule 3: ", id, " is of silicone and has ", angle);
    else if (cut && !rules_.at("bends_may_be_cut").get<bool>())
      fault("rule 3: ", id, " may not be cut and has ", angle);
    else if (cut && (angle > nominal || angle < rules_.at("min_cut_angle").get<double>() - rounding))
      fault("rule 3: ", id, " cut to ", angle);
    if (piece.contains("lost_leg")) {
      if (!cut)
        fault("rule 3: ", id, " is whole and has lost a leg");
      if (piece.at("lost_leg") != "in" && piece.at("lost_leg") != "out")
        fault("lost_leg is ", piece.at("lost_leg"));
    }
  }
  void reducer(const Json& piece) {
    ++reducers_;
    if (!problem_.at("stock").contains("reducer"))
      return fault("rule 4: there is no reducer in stock");
    const Json& stock = problem_.at("stock").at("reducer");
    if (std::abs(stock.at("length").get<double>() - piece.at("length").get<double>()) > rounding)
      fault("rule 4: a reducer of ", piece.at("length"));
    if (std::abs(piece.at("od_in").get<double>() - od_) > rounding ||
        std::abs(piece.at("od_out").get<double>() - problem_.at("end").at("od").get<double>()) > rounding)
      fault("rule 4: a reducer from ", piece.at("od_in"), " to ", piece.at("od_out"));
  }

  void end_pose() {
    const Spot into = gone({0, 0, 0}, -1, spot(problem_.at("end").at("direction")));
    check_.end_mm = between(end_, spot(problem_.at("end").at("position")));
    check_.end_deg = 2 * std::asin(std::min(1.0, between(heading_, into) / 2)) * 180 / std::numbers::pi;
    if (!(check_.end_mm <= rules_.at("end_tolerance_mm").get<double>() + rounding))
      fault("rule 1: the end is ", check_.end_mm, " mm off");
    if (!(check_.end_deg <= rules_.at("end_tolerance_deg").get<double>() + rounding))
      fault("rule 1: the end is ", check_.end_deg, " degrees off");
    if (std::abs(od_ - problem_.at("end").at("od").get<double>()) > rounding)
      fault("rule 4: it ends with ", od_);
    if (bends_ < rules_.at("min_bends").get<int>() || bends_ > rules_.at("max_bends").get<int>())
      fault("rule 2: ", bends_, " bends");
  }
  void runs() {
    beside_silicone("start", runs_.front(), runs_.front().behind);
    beside_silicone("end", runs_.back(), runs_.back().before);
    for (std::size_t i = 0; i < runs_.size(); ++i) {
      double least = 0;
      if (i == 0)
        least = at_port("start");
      if (i + 1 == runs_.size())
        least = std::max(least, at_port("end"));
      if (i > 0 && i + 1 < runs_.size())
        least = rules_.at("min_straight_between_bends");
      if (runs_[i].length < least - rounding)
        fault("rule 2: straight run ", i + 1, " is ", runs_[i].length);
      if (runs_[i].length > problem_.at("stock").at("tube").at("max_length").get<double>() + rounding)
        fault("rule 2: straight run ", i + 1, " is ", runs_[i].length);
    }
  }
  /// Beside a silicone bend a port may ask for more, or take the bend's leg right onto it.
  void beside_silicone(const char* port, const Run& run, const Json* bend) {
    const auto found = bend != nullptr ? stock_.find(bend->at("stock")) : stock_.end();
    if (found == stock_.end() || found->second->at("kind") != "silicone")
      return;
    const Json& end = problem_.at(port);
    const bool onto_it =
        end.value("takes_silicone", false) && run.length <= found->second->at("leg").get<double>() + rounding;
    if (run.length < end.value("straight_to_silicone", 0.0) - rounding && !onto_it)
      fault("rule 2: ", run.length, " between the ", port, " and an elbow");
  }
  [[nodiscard]] double at_port(const char* port) const {
    return problem_.at(port).value("straight", rules_.at("min_straight_at_ports").get<double>());
  }
  void reducers() {
    const bool differ = problem_.at("start").at("od") != problem_.at("end").at("od");
    if (reducers_ != (differ ? 1 : 0))
      fault("rule 4: ", reducers_, " reducers");
    if (!problem_.at("stock").contains("reducer"))
      return;
    const double clamp = problem_.at("stock").at("reducer").at("clamp");
    for (const Run& run : runs_)
      if (run.to_reducer && (*run.to_reducer < clamp - rounding || *run.from_reducer < clamp - rounding))
        fault("rule 4: ", *run.to_reducer, " and ", *run.from_reducer, " beside the reducer");
  }
  void flexible() {
    if (problem_.at("start").at("mount") == problem_.at("end").at("mount") || reducers_ > 0)
      return;
    bool gives = false;
    for (const Json& piece : pieces_)
      gives = gives || (piece.at("type") == "bend" && stock_.contains(piece.at("stock")) &&
                        stock_.at(piece.at("stock"))->at("kind") == "silicone");
    for (const Run& run : runs_)
      gives = gives || run.length >= rules_.at("flexible_min_straight").get<double>() - rounding;
    if (!gives)
      fault("rule 5: nothing gives");
  }
  void keep_outs() {
    for (const Json& json : problem_.at("keepouts")) {
      const RouteSolid solid(json);
      double least = std::numeric_limits<double>::infinity(), along = 0, is_far = 0;
      for (const Sample& sample : samples_) {
        // Within `is_far` of the last one measured nothing can be nearer than what was found.
        if (sample.along - along < is_far)
          continue;
        const double margin = solid.distance(sample.at) - solid.clearance - sample.od / 2;
        along = sample.along;
        constexpr double widest_change = 50; // the diameter may change on the way
        is_far = margin - std::min(least, exact_below_mm) - widest_change;
        least = std::min(least, margin);
      }
      check_.margin_mm = std::min(check_.margin_mm, least);
      if (least < -rounding)
        fault("rule 6: ", -least, " mm too near ", solid.type, " ", solid.name);
    }
  }
  void itself() {
    if (bends_ == 0)
      return;
    const double apart = std::numbers::pi * smallest_clr_, gap = rules_.at("self_gap");
    const double widest =
        std::max(problem_.at("start").at("od").get<double>(), problem_.at("end").at("od").get<double>());
    for (std::size_t i = 0; i < samples_.size(); ++i) {
      const Sample& a = samples_[i];
      for (std::size_t k = i + 1; k < samples_.size();) {
        const Sample& b = samples_[k];
        double to_go = a.along + apart - b.along;
        if (to_go < -rounding) {
          const double far = between(a.at, b.at);
          check_.self_margin_mm = std::min(check_.self_margin_mm, far - gap - (a.od + b.od) / 2);
          to_go = far - gap - widest - exact_below_mm;
        }
        k += std::max<std::size_t>(1, to_go > 0 ? static_cast<std::size_t>(to_go / step_mm) : 1);
      }
      if (a.along + apart < check_.length_mm) {
        const auto [at, od] = place(a.along + apart);
        check_.self_margin_mm = std::min(check_.self_margin_mm, between(a.at, at) - gap - (a.od + od) / 2);
      }
    }
    if (check_.self_margin_mm < -rounding)
      fault("rule 7: ", -check_.self_margin_mm, " mm too near itself");
  }
  [[nodiscard]] std::pair<Spot, double> place(double along) const {
    const auto behind = std::ranges::lower_bound(samples_, along, {}, &Sample::along);
    for (const Where& where : laid_)
      if (along <= where.to)
        return {point(where, along - where.from), behind->od};
    return {end_, samples_.back().od};
  }
  void waypoints() {
    if (!problem_.contains("waypoints"))
      return;
    for (const Json& json : problem_.at("waypoints")) {
      const RouteSolid solid(json);
      const bool passes = std::ranges::any_of(
          samples_, [&](const Sample& sample) { return solid.distance(sample.at) <= step_mm / 2; });
      if (!passes)
        fault("it does not pass through ", solid.name);
    }
  }

  /// The leg that a bend still has on a side.
  [[nodiscard]] double leg(const Json* piece, const std::string& side) const {
    if (piece == nullptr || !stock_.contains(piece->at("stock")))
      return 0;
    const Json& stock = *stock_.at(piece->at("stock"));
    const bool cut = std::abs(piece->at("angle").get<double>() - stock.at("angle").get<double>()) > rounding;
    return cut && piece->value("lost_leg", "out") == side ? 0 : stock.at("leg").get<double>();
  }
  void cost() {
    const Json& stock = problem_.at("stock");
    const Json& weights = problem_.at("weights");
    const double start_od = problem_.at("start").at("od");
    for (const Run& run : runs_) {
      const double tube = run.length - leg(run.before, "out") - leg(run.behind, "in");
      check_.joints += tube > rounding ? 2 : 1;
      check_.price += std::max(tube, 0.0) * stock.at("tube").at("price_per_mm").get<double>();
    }
    check_.price += check_.joints * stock.at("joint").at("price").get<double>();
    std::map<std::string, int> used;
    double od = start_od;
    for (const Json& piece : pieces_) {
      if (piece.at("type") == "reducer") {
        check_.price += stock.at("reducer").at("price").get<double>();
        const double in = piece.at("od_in"), out = piece.at("od_out");
        check_.loss += stock.at("reducer").at("k").get<double>() * std::pow(start_od / std::min(in, out), 4);
        od = out;
      } else if (piece.at("type") == "bend" && stock_.contains(piece.at("stock"))) {
        const Json& bend = *stock_.at(piece.at("stock"));
        if (++used[bend.at("id")] > bend.value("owned", 0))
          check_.price += bend.at("price").get<double>();
        check_.loss += std::pow(start_od / od, 4) * bend.at("k90").get<double>() *
                       std::pow(piece.at("angle").get<double>() / 90, weights.at("k_exponent").get<double>());
      }
    }
    double friction = 0;
    for (std::size_t i = 1; i < samples_.size(); ++i)
      friction += (samples_[i].along - samples_[i - 1].along) * std::pow(start_od / samples_[i].od, 4) /
                  samples_[i].od;
    check_.loss += weights.at("friction_factor").get<double>() * friction;
    check_.cost = weights.at("price").get<double>() * check_.price +
                  weights.at("loss").get<double>() * check_.loss +
                  weights.at("joint").get<double>() * check_.joints +
                  weights.at("length").get<double>() * check_.length_mm;
  }

  const Json& problem_;
  const Json& pieces_;
  const Json& rules_;
  std::map<std::string, const Json*> stock_;
  std::vector<Sample> samples_;
  std::vector<Where> laid_;
  std::vector<Run> runs_;
  Spot end_{}, heading_{};
  double od_ = 0, smallest_clr_ = std::numeric_limits<double>::infinity();
  int bends_ = 0, reducers_ = 0;
  RouteCheck check_;
};

/// Checks one answer ("route-answer/1") to a problem ("route-problem/1").
[[nodiscard]] inline RouteCheck check_route(const Json& problem, const Json& answer) {
  return RouteChecker(problem, answer).check();
}

} // namespace bellmouth::test
