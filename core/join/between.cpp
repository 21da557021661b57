// SPDX-License-Identifier: GPL-3.0-or-later
// States of the search are rigid ends: the end that was given, or that of a tube, cone or adapter put behind
// it. From each lead a hose to the other end, a hose with a tube or adapter in it, and a weld.
#include "between.hpp"

#include "seat.hpp"
#include "words.hpp"

#include <bellmouth/joint.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <tuple>

namespace bellmouth::join {

namespace {

constexpr std::size_t most_pieces = 6;
/// Tube that stands free between two hoses, or between a hose and a weld (common practice, no source found).
constexpr double free_tube_m = 10e-3;

struct Cost {
  std::size_t pieces = 0;
  int unfit = 0, poor = 0, foreign = 0;
  std::int64_t minor = 0;
  friend bool operator<(const Cost& a, const Cost& b) {
    return std::tie(a.pieces, a.unfit, a.poor, a.foreign, a.minor) <
           std::tie(b.pieces, b.unfit, b.poor, b.foreign, b.minor);
  }
};

struct Placed {
  const Part* part;
  Seat seat; ///< hoses
};

struct State {
  Side end;
  Cost cost;
  std::vector<Placed> chain;
};

class Search {
public:
  Search(const Shop& shop, const Side& upstream, const Side& downstream, const Wish& wish)
      : shop_(shop), limits_(shop.limits()), from_(upstream), to_(downstream), wish_(wish) {}

  std::vector<build::Piece> run() {
    if (from_.flexible)
      put_tubes({from_, {}, {}}, nullptr);
    else
      push({from_, {}, {}});
    while (!open_.empty()) {
      std::ranges::pop_heap(open_, dearer, &State::cost);
      const State state = std::move(open_.back());
      open_.pop_back();
      if (best_ && !(state.cost < best_->cost))
        break;
      if (!seen_.insert(key(state.end)).second)
        continue;
      finish(state);
      if (state.chain.size() >= most_pieces)
        continue;
      put_hoses(state);
      put_welded(state);
    }
    return best_ ? made(*best_) : std::vector<build::Piece>{};
  }

private:
  using Key = std::tuple<std::int64_t, std::int64_t, bool, build::Material>;

  static bool dearer(const Cost& a, const Cost& b) { return b < a; }
  static Key key(const Side& end) {
    constexpr double step_per_m = 1e5, long_m = 0.1;
    return {std::llround(end.size_m * step_per_m), std::llround(std::min(end.room_m, long_m) * step_per_m),
            end.can_be_welded, end.material};
  }

  [[nodiscard]] bool has_room(const Side& end) const { return !below(end.room_m, limits_.engagement_stop_m); }
  [[nodiscard]] static bool can_weld(const Side& a, const Side& b) {
    return a.can_be_welded && b.can_be_welded && a.material == b.material &&
           std::abs(a.size_m - b.size_m) <= joint::weld_mismatch_m;
  }

  /// Whether a hose is easily mistaken for another that does not go on.
  [[nodiscard]] bool is_near_miss(double bore_m, double spigot_m) const {
    const double off_m = std::abs(bore_m - spigot_m);
    return above(off_m, limits_.near_miss_least_m) && below(off_m, limits_.near_miss_most_m);
  }

  /// Takes the state for the answer where its end goes on the other as it is.
  void finish(const State& state) {
    if (state.chain.empty())
      return;
    const bool joined = to_.flexible ? shop_.fits(to_.size_m, state.end.size_m) && has_room(state.end)
                                     : can_weld(state.end, to_);
    if (joined)
      offer(state);
  }
  void push(State state) {
    if (seen_.contains(key(state.end)))
      return;
    open_.push_back(std::move(state));
    std::ranges::push_heap(open_, dearer, &State::cost);
  }
  void offer(const State& state) {
    if (!best_ || state.cost < best_->cost)
      best_ = state;
  }

  /// The state with a hose on its end; nothing where it does not go on or not so far.
  [[nodiscard]] std::optional<State> with_hose(const State& state, const Part& hose, double bore_out_m,
                                               double spigot_m, double room_m) const {
    const auto sits =
        seat(limits_, hose.piece.shape, {state.end.room_m, room_m, Shop::longest_m(*hose.item)});
    if (!sits)
      return std::nullopt;
    const double bore_in_m = build::bore_in_m(hose.piece.shape), wall_m = build::wall_m(hose.piece.shape);
    State next{{}, state.cost, state.chain};
    next.chain.push_back({&hose, *sits});
    next.cost.pieces += 1;
    next.cost.foreign +=
        static_cast<int>(hose.piece.material != wish_.hose) +
        static_cast<int>(is_near_miss(bore_in_m, state.end.size_m)) +
        static_cast<int>(is_near_miss(bore_out_m, spigot_m)) +
        static_cast<int>(std::holds_alternative<build::HumpHose>(hose.piece.shape) && !wish_.hump);
    next.cost.unfit += stands(limits_, *hose.item, hose.piece, wish_.duty) ? 0 : 1;
    next.cost.poor += sits->poor + static_cast<int>(Shop::is_slack(bore_in_m, state.end.size_m)) +
                      static_cast<int>(Shop::is_slack(bore_out_m, spigot_m));
    build::Piece piece = hose.piece;
    piece.shape = seated(piece.shape, *sits);
    next.cost.minor += shop_.price_minor(*hose.item, piece) +
                       shop_.clamp_minor(state.end.size_m + 2 * wall_m) +
                       shop_.clamp_minor(spigot_m + 2 * wall_m);
    return next;
  }

  void put_hoses(const State& state) {
    if (!has_room(state.end))
      return;
    for (const Part& hose : shop_.hoses()) {
      if (!shop_.fits(build::bore_in_m(hose.piece.shape), state.end.size_m))
        continue;
      const double bore_m = build::bore_out_m(hose.piece.shape);
      const bool plain_alone =
          wish_.hump && state.chain.empty() && std::holds_alternative<build::Hose>(hose.piece.shape);
      if (!to_.flexible && !plain_alone && has_room(to_) && shop_.fits(bore_m, to_.size_m))
        if (const auto done = with_hose(state, hose, bore_m, to_.size_m, to_.room_m))
          offer(*done);
      if (state.chain.size() + 2 <= most_pieces)
        put_tubes(state, &hose);
    }
  }

  /// Puts each tube and adapter that goes into a hose: one of the stock, or the one that is there.
  void put_tubes(const State& state, const Part* hose) {
    const double bore_m = hose != nullptr ? build::bore_out_m(hose->piece.shape) : state.end.size_m;
    const auto put = [&](const Part& part) {
      const build::Shape& shape = part.piece.shape;
      const double outer_m = build::outer_diameter_in_m(shape);
      const bool adapter = std::holds_alternative<build::Adapter>(shape);
      const double room_m = adapter ? build::land_in_m(shape) : std::numeric_limits<double>::infinity();
      if (std::holds_alternative<build::Cone>(shape) || !shop_.fits(bore_m, outer_m) ||
          below(room_m, limits_.engagement_stop_m))
        return;
      std::optional<State> next =
          hose != nullptr ? with_hose(state, *hose, bore_m, outer_m, room_m) : std::optional(state);
      if (next)
        push_rigid(*std::move(next), part);
    };
    std::ranges::for_each(shop_.tubes(), put);
    std::ranges::for_each(shop_.tapers(), put);
  }

  void put_welded(const State& state) {
    if (!state.end.can_be_welded)
      return;
    const auto put = [&](const Part& part) {
      const Side inlet{.size_m = build::outer_diameter_in_m(part.piece.shape),
                       .can_be_welded = true,
                       .material = part.piece.material};
      if (can_weld(state.end, inlet))
        push_rigid(state, part);
    };
    std::ranges::for_each(shop_.tapers(), put);
    if (below(state.end.room_m, limits_.engagement_caution_m))
      std::ranges::for_each(shop_.tubes(), put);
  }

  void push_rigid(State state, const Part& part) {
    const build::Shape& shape = part.piece.shape;
    const bool tube = std::holds_alternative<build::Tube>(shape);
    state.end = {.size_m = build::outer_diameter_out_m(shape),
                 .room_m = tube ? std::numeric_limits<double>::infinity() : build::land_out_m(shape),
                 .can_be_welded = true,
                 .material = part.piece.material};
    state.chain.push_back({&part, {}});
    state.cost.pieces += 1;
    state.cost.foreign += part.piece.material == wish_.metal ? 0 : 1;
    build::Piece piece = part.piece;
    if (tube) // its length is known when its other end is
      std::get<build::Tube>(piece.shape).length_m = 2 * limits_.engagement_caution_m + free_tube_m;
    state.cost.minor += shop_.price_minor(*part.item, piece);
    push(std::move(state));
  }

  /// The pieces of a chain, tubes cut to what their hoses cover.
  [[nodiscard]] std::vector<build::Piece> made(const State& state) const {
    std::vector<build::Piece> pieces;
    pieces.reserve(state.chain.size());
    for (std::size_t i = 0; i < state.chain.size(); ++i) {
      const Placed& placed = state.chain[i];
      build::Piece piece = placed.part->piece;
      if (auto* tube = std::get_if<build::Tube>(&piece.shape)) {
        const double in_m = i > 0 ? state.chain[i - 1].seat.engagement.out_m : given_m(from_);
        const double out_m =
            i + 1 < state.chain.size() ? state.chain[i + 1].seat.engagement.in_m : given_m(to_);
        tube->length_m = std::min(in_m + free_tube_m + out_m, Shop::longest_m(*placed.part->item));
      } else if (build::is_flexible(piece.shape)) {
        piece.shape = seated(piece.shape, placed.seat);
      }
      pieces.push_back(std::move(piece));
    }
    return pieces;
  }
  /// How far a tube goes into an end that is there.
  static double given_m(const Side& side) { return side.flexible ? side.room_m : 0; }

  const Shop& shop_;
  const trade::Limits& limits_;
  Side from_, to_;
  const Wish& wish_;
  std::vector<State> open_; ///< a heap, the cheapest on top
  std::set<Key> seen_;
  std::optional<State> best_;
};

} // namespace

std::vector<build::Piece> between(const Shop& shop, const Side& upstream, const Side& downstream,
                                  const Wish& wish) {
  auto pieces = Search(shop, upstream, downstream, wish).run();
  if (pieces.empty() && wish.hump) {
    Wish any = wish;
    any.hump = false;
    pieces = Search(shop, upstream, downstream, any).run();
  }
  return pieces;
}

} // namespace bellmouth::join
