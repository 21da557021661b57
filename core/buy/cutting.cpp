// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <utility>

namespace bellmouth::buy {
namespace {

/// Rounding of sums of angles [rad].
constexpr double rounding_rad = 1e-9;

bool is_there(double length_m) {
  return length_m > rounding_m;
}

std::optional<Layout> in_a_length(const Body& body, std::span<const Piece> pieces, double kerf_m) {
  Layout layout;
  double at_m = 0;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (!pieces[i].straight())
      return std::nullopt;
    const double to_m = at_m + pieces[i].length_m(kerf_m);
    layout.cuts.push_back({i, at_m, to_m});
    at_m = to_m + kerf_m;
  }
  const double left_m = body.length_m() - at_m;
  if (left_m + kerf_m < -rounding_m)
    return std::nullopt;
  if (left_m > nothing_m)
    layout.offcuts.push_back({.straight_in_m = left_m});
  return layout;
}

/// Pieces of arc in order from the inlet end, and where in it the rest of the arc lies.
struct Order {
  enum class Rest { none, inlet, before_last, outlet };

  std::vector<Cut> pieces; ///< `from_m` and `to_m` hold straight ends, inlet's and outlet's
  std::vector<double> made_rad;
  double leg_in_m = 0, leg_out_m = 0; ///< straight ends that the first and the last piece keep
  Rest rest = Rest::none;
  double rest_m = 0; ///< of the arc, the kerf that parts it included
};

/// Tries all ways to cut a bent body and keeps the one with the fewest pieces left over.
class BentBody {
public:
  BentBody(const Body& body, std::span<const Piece> pieces, Sawing sawing)
      : body_(body), pieces_(pieces), sawing_(sawing) {
    for (std::size_t i = 0; i < pieces.size(); ++i)
      (pieces[i].straight() ? straights_ : arcs_).push_back(i);
  }

  std::optional<Layout> best() {
    if (arcs_.empty())
      try_straights(Order{});
    else if (arcs_.size() == 1)
      try_one();
    else
      try_several();
    return std::move(best_);
  }

private:
  double to_arc_m(double angle_rad) const { return body_.radius_m * angle_rad; }

  void try_one() {
    const Body& piece = pieces_[arcs_.front()].body;
    for (const bool turned : {false, true}) {
      Order order;
      order.leg_in_m = turned ? piece.straight_out_m : piece.straight_in_m;
      order.leg_out_m = turned ? piece.straight_in_m : piece.straight_out_m;
      const bool leg_in = is_there(order.leg_in_m);
      const bool leg_out = is_there(order.leg_out_m);
      const double rest_rad = body_.angle_rad - piece.angle_rad;
      const bool whole =
          leg_in && leg_out ? rest_rad <= same_angle_rad + rounding_rad : to_arc_m(rest_rad) <= nothing_m;
      if (-rest_rad > std::min(same_angle_rad, sawing_.angle_short_rad) + rounding_rad)
        continue;
      order.pieces.push_back({arcs_.front(), 0, 0, turned, whole ? -rest_rad : 0.0});
      order.made_rad.push_back(whole ? body_.angle_rad : piece.angle_rad);
      if (whole) {
        try_straights(order);
        continue;
      }
      order.rest_m = to_arc_m(rest_rad);
      try_rest_at_ends(order, leg_in, leg_out);
    }
  }

  void try_several() {
    std::vector<std::size_t> legged;
    std::vector<std::size_t> bare;
    double wanted_rad = 0;
    double smallest_rad = body_.angle_rad;
    for (const std::size_t i : arcs_) {
      const Body& piece = pieces_[i].body;
      const bool in = is_there(piece.straight_in_m);
      const bool out = is_there(piece.straight_out_m);
      if (in && out)
        return;
      (in || out ? legged : bare).push_back(i);
      wanted_rad += piece.angle_rad;
      smallest_rad = std::min(smallest_rad, piece.angle_rad);
    }
    const auto count = static_cast<double>(arcs_.size());
    const double rest_rad = body_.angle_rad - wanted_rad - (count - 1) * sawing_.kerf_m / body_.radius_m;
    const double short_rad = std::max(0.0, -rest_rad / count);
    if (legged.size() > 2 || wanted_rad - body_.angle_rad > same_angle_rad + rounding_rad ||
        short_rad > sawing_.angle_short_rad + rounding_rad || short_rad >= smallest_rad)
      return;
    for (const bool swapped : {false, true}) {
      std::vector<std::size_t> in_order = bare;
      if (legged.size() == 2) {
        in_order.insert(in_order.begin(), legged[swapped ? 1 : 0]);
        in_order.push_back(legged[swapped ? 0 : 1]);
      } else if (legged.size() == 1) {
        in_order.insert(swapped ? in_order.end() : in_order.begin(), legged.front());
      } else if (swapped) {
        break;
      }
      Order order;
      for (const std::size_t i : in_order) {
        const Body& piece = pieces_[i].body;
        const double leg_m = std::max(piece.straight_in_m, piece.straight_out_m);
        const bool last = i == in_order.back();
        (last ? order.leg_out_m : order.leg_in_m) += is_there(leg_m) ? leg_m : 0.0;
        const bool turned = last ? is_there(piece.straight_in_m) : is_there(piece.straight_out_m);
        order.pieces.push_back({i, 0, 0, turned, short_rad});
        order.made_rad.push_back(piece.angle_rad - short_rad);
      }
      const bool leg_in = is_there(order.leg_in_m);
      const bool leg_out = is_there(order.leg_out_m);
      if (to_arc_m(rest_rad) <= nothing_m) {
        try_straights(order);
        continue;
      }
      order.rest_m = to_arc_m(rest_rad);
      if (leg_in && leg_out) {
        order.rest = Order::Rest::before_last;
        try_straights(order);
      } else {
        try_rest_at_ends(order, leg_in, leg_out);
      }
    }
  }

  void try_rest_at_ends(Order& order, bool leg_in, bool leg_out) {
    if (!leg_out) {
      order.rest = Order::Rest::outlet;
      try_straights(order);
    }
    if (!leg_in) {
      order.rest = Order::Rest::inlet;
      try_straights(order);
    }
  }

  /// Straight that can be cut off an end, a kerf with each piece [m]. Where nothing holds the arc's pieces to
  /// that end and there is arc to spare, the last kerf may go into the arc.
  double room_m(double straight_m, double leg_m, double spare_m) const {
    return is_there(leg_m) ? straight_m - leg_m : straight_m + std::min(sawing_.kerf_m, spare_m);
  }

  void try_straights(const Order& order) {
    if (order.leg_in_m > body_.straight_in_m + rounding_m ||
        order.leg_out_m > body_.straight_out_m + rounding_m)
      return;
    spare_m_ = order.pieces.empty() ? to_arc_m(body_.angle_rad) : order.rest_m;
    room_in_m_ = room_m(body_.straight_in_m, order.leg_in_m, spare_m_);
    room_out_m_ = room_m(body_.straight_out_m, order.leg_out_m, spare_m_);
    tries_left_ = most_tries;
    share_out(order, 0);
  }

  /// What straight pieces take of the arc at an end [m].
  static double over_m(double straight_m, double taken_m) {
    const double over_m = taken_m - straight_m;
    return is_there(over_m) ? over_m : 0.0;
  }

  void share_out(const Order& order, std::size_t next) {
    if (tries_left_ <= 0)
      return;
    if (next == straights_.size()) {
      --tries_left_;
      const double over_in_m = over_m(body_.straight_in_m, taken_m(at_inlet_));
      const double over_out_m = over_m(body_.straight_out_m, taken_m(at_outlet_));
      if (over_in_m + over_out_m > spare_m_ + rounding_m)
        return;
      Layout layout = laid(order, over_in_m, over_out_m);
      if (!best_ || layout.offcuts.size() < best_->offcuts.size())
        best_ = std::move(layout);
      return;
    }
    const double wanted_m = pieces_[straights_[next]].length_m(sawing_.kerf_m) + sawing_.kerf_m;
    const auto try_end = [&](double& room_m, std::vector<std::size_t>& end) {
      if (wanted_m > room_m + rounding_m)
        return;
      room_m -= wanted_m;
      end.push_back(straights_[next]);
      share_out(order, next + 1);
      end.pop_back();
      room_m += wanted_m;
    };
    try_end(room_in_m_, at_inlet_);
    try_end(room_out_m_, at_outlet_);
  }

  double taken_m(const std::vector<std::size_t>& straights) const {
    return std::accumulate(straights.begin(), straights.end(), 0.0, [&](double sum_m, std::size_t i) {
      return sum_m + pieces_[i].length_m(sawing_.kerf_m) + sawing_.kerf_m;
    });
  }

  /// What is left of a straight end and the arc behind it, `arc_m` long after `kerfs_m` are taken off.
  void add_offcut(Layout& layout, double in_m, double arc_m, double out_m) const {
    arc_m += std::min(in_m, 0.0) + std::min(out_m, 0.0);
    in_m = std::max(in_m, 0.0);
    out_m = std::max(out_m, 0.0);
    if (arc_m <= nothing_m) { // the saw went through the arc's last bit
      const double straight_m = in_m + out_m + std::min(arc_m, 0.0);
      if (straight_m > nothing_m)
        layout.offcuts.push_back({.straight_in_m = straight_m});
      return;
    }
    layout.offcuts.push_back({in_m, body_.radius_m, arc_m / body_.radius_m, out_m});
  }

  Layout laid(const Order& order, double over_in_m, double over_out_m) const {
    Layout layout;
    const double kerf_m = sawing_.kerf_m;
    double at_m = 0;
    for (const std::size_t i : at_inlet_) {
      const double to_m = at_m + pieces_[i].length_m(kerf_m);
      layout.cuts.push_back({i, at_m, to_m});
      at_m = to_m + kerf_m;
    }
    const double left_in_m = body_.straight_in_m - taken_m(at_inlet_);
    const double left_out_m = body_.straight_out_m - taken_m(at_outlet_);
    if (order.pieces.empty()) {
      add_offcut(layout, left_in_m, to_arc_m(body_.angle_rad), left_out_m);
    } else {
      lay_arcs(order, layout, left_in_m, left_out_m, over_in_m + over_out_m,
               order.rest == Order::Rest::inlet ? -over_out_m : over_in_m);
    }
    at_m = body_.length_m();
    const auto first = static_cast<std::ptrdiff_t>(layout.cuts.size());
    for (const std::size_t i : at_outlet_) {
      const double from_m = at_m - pieces_[i].length_m(kerf_m);
      layout.cuts.insert(layout.cuts.begin() + first, {i, from_m, at_m});
      at_m = from_m - kerf_m;
    }
    return layout;
  }

  /// `over_m` of the rest of the arc is taken, the pieces of arc are moved by `moved_m` away from the inlet
  /// end.
  void lay_arcs(const Order& order, Layout& layout, double left_in_m, double left_out_m, double over_m,
                double moved_m) const {
    const double kerf_m = sawing_.kerf_m;
    const bool rest_at_inlet = order.rest == Order::Rest::inlet;
    const bool rest_at_outlet = order.rest == Order::Rest::outlet;
    const double rest_m = order.rest_m - over_m;
    left_in_m = std::max(left_in_m, 0.0);
    left_out_m = std::max(left_out_m, 0.0);
    if (rest_at_inlet)
      add_offcut(layout, left_in_m, rest_m - kerf_m, 0);
    else
      add_offcut(layout, left_in_m - order.leg_in_m - kerf_m, 0, 0);
    double at_m =
        (rest_at_inlet ? body_.straight_in_m + order.rest_m : body_.straight_in_m - order.leg_in_m) + moved_m;
    for (std::size_t k = 0; k < order.pieces.size(); ++k) {
      const bool last = k + 1 == order.pieces.size();
      if (last && order.rest == Order::Rest::before_last) {
        add_offcut(layout, 0, order.rest_m - kerf_m, 0);
        at_m += order.rest_m;
      }
      Cut cut = order.pieces[k];
      cut.from_m = at_m;
      cut.to_m = at_m + to_arc_m(order.made_rad[k]) + (k == 0 ? order.leg_in_m : 0.0) +
                 (last ? order.leg_out_m : 0.0);
      layout.cuts.push_back(cut);
      at_m = cut.to_m + kerf_m;
    }
    if (rest_at_outlet)
      add_offcut(layout, 0, rest_m - kerf_m, left_out_m);
    else
      add_offcut(layout, 0, 0, left_out_m - order.leg_out_m - kerf_m);
  }

  static constexpr int most_tries = 4096;

  const Body& body_;
  std::span<const Piece> pieces_;
  Sawing sawing_;
  std::vector<std::size_t> arcs_, straights_;
  std::vector<std::size_t> at_inlet_, at_outlet_; ///< straight pieces, in order from their end of the body
  double room_in_m_ = 0, room_out_m_ = 0;
  double spare_m_ = 0; ///< of the arc
  int tries_left_ = 0;
  std::optional<Layout> best_;
};

} // namespace

std::optional<Layout> lay_out(const Body& body, std::span<const Piece> pieces, Sawing sawing) {
  if (body.angle_rad <= 0)
    return in_a_length(body, pieces, sawing.kerf_m);
  return BentBody(body, pieces, sawing).best();
}

} // namespace bellmouth::buy
