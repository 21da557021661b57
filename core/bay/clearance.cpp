// SPDX-License-Identifier: GPL-3.0-or-later
#include "obstacles.hpp"

#include <bellmouth/bay/clearance.hpp>

#include <algorithm>
#include <cassert>
#include <limits>
#include <numbers>
#include <optional>
#include <tuple>

namespace bellmouth::bay {
namespace {

/// Two distances that differ by less are one [m].
constexpr double level_m = 1e-9;

/// A run as it lies in the state.
struct LaidRun {
  const RunRoom* room = nullptr;
  RunStretches laid;
  double doubt_m = 0;

  /// Where a place of a stretch is on the run's centreline.
  [[nodiscard]] double place(const Stretch& stretch, double x) const {
    return laid.rows[stretch.row].starts_m + stretch.along(x);
  }
};

/// A part of a run's centreline.
struct Span {
  double from_m = -far_away, to_m = far_away;
};

class Clearances {
public:
  Clearances(const build::Build& build, const std::vector<RunRoom>& runs, const build::BayState* state,
             bool tight_only)
      : ducting_m_(build.clearances.value_or(build::ClearanceLimits{}).ducting_m), tight_only_(tight_only) {
    const build::EngineMovement* movement = build.movement ? &*build.movement : nullptr;
    const double roll = state != nullptr ? state->roll : 0;
    if (movement != nullptr && roll != 0)
      shake_m_ = movement->shake_m;
    for (const RunRoom& room : runs) {
      LaidRun& run = runs_.emplace_back();
      run.room = &room;
      run.laid = stretches(room, movement, roll);
      for (const build::Port* port : {&room.from, &room.to})
        if (port->survey)
          run.doubt_m = std::max(run.doubt_m, port->survey->tolerance_m);
      result_.emplace_back().nearest.resize(room.rows.size());
    }
    obstacles_ = obstacles(build, state);
    hints_.resize(obstacles_.size());
  }

  std::vector<RunClearance> work_out() && {
    for (std::size_t run = 0; run < runs_.size(); ++run)
      for (std::size_t row = 0; row < runs_[run].laid.rows.size(); ++row)
        against_obstacles(run, row);
    against_pieces();
    for (RunClearance& one : result_)
      std::ranges::stable_sort(one.tight, {}, &Gap::margin_m);
    return std::move(result_);
  }

private:
  [[nodiscard]] double nearest_m(std::size_t run, std::size_t row) const {
    const auto& gap = result_[run].nearest[row];
    if (!gap)
      return far_away;
    return gap->distance_m;
  }
  /// No distance of this row from here on changes anything.
  [[nodiscard]] double needed_m(std::size_t run, std::size_t row, double asked_m) const {
    return tight_only_ ? asked_m : std::max(nearest_m(run, row), asked_m);
  }

  void keep(std::size_t run, Gap gap, bool list = true) {
    auto& nearest = result_[run].nearest[gap.row];
    if (list && gap.distance_m < gap.required_m + gap.doubt_m - level_m)
      result_[run].tight.push_back(gap);
    if (!tight_only_ && (!nearest || gap.distance_m < nearest->distance_m))
      nearest = std::move(gap);
  }

  /// The widest radius of a row.
  [[nodiscard]] static double widest_m(const LaidRun& run, std::size_t row) {
    const Room& room = run.room->rows[row];
    return std::max(room.radius_in_m, room.radius_out_m);
  }

  /// \name Against what stands in the bay
  ///@{
  void against_obstacles(std::size_t run, std::size_t row) {
    const PieceStretches& piece = runs_[run].laid.rows[row];
    if (piece.first == piece.last)
      return;
    bounds_.clear();
    for (const Obstacle& obstacle : obstacles_)
      bounds_.push_back(obstacle.no_nearer_than(piece.middle) - piece.reach_m - shake_m_);
    // The solid that can be nearest is asked first: it spares most of the others. Scans, the dearest, come
    // last.
    std::optional<std::size_t> first;
    for (std::size_t i = 0; i < bounds_.size(); ++i)
      if (!obstacles_[i].is_scan() && (!first || bounds_[i] < bounds_[*first]))
        first = i;
    if (first)
      against(run, row, *first);
    for (const bool scans : {false, true})
      for (std::size_t i = 0; i < bounds_.size(); ++i)
        if (i != first && obstacles_[i].is_scan() == scans)
          against(run, row, i);
  }

  void against(std::size_t run, std::size_t row, std::size_t index) {
    const Obstacle& obstacle = obstacles_[index];
    const LaidRun& laid = runs_[run];
    const double doubt_m = laid.doubt_m + obstacle.doubt_m;
    const double asked_m = obstacle.required_m + doubt_m;
    if (bounds_[index] >= needed_m(run, row, asked_m) || is_own_port(*laid.room, obstacle))
      return;
    const Ends own = ends_at(*laid.room, obstacle.body_of);
    const Span span = clear_of_own_body(laid, row, own, asked_m);
    const PieceStretches& piece = laid.laid.rows[row];
    Touch best;
    Stretch where;
    for (std::size_t i = piece.first; i < piece.last; ++i) {
      Stretch stretch = laid.laid.stretches[i];
      const double needed = std::min(best.low.value, needed_m(run, row, asked_m));
      if (piece.last - piece.first > 1 &&
          obstacle.no_nearer_than(stretch.middle) - stretch.reach_m - shake_m_ >= needed)
        continue;
      if (!cut_to(laid, stretch, span))
        continue;
      widen(stretch, obstacle.share);
      const Touch touch = nearest_to(obstacle, stretch, needed, hints_[index]);
      if (touch.low.value < best.low.value &&
          !(own.any() &&
            leaves(own, stretch, touch.low.at,
                   towards(stretch.at(touch.low.at), touch.on_obstacle, stretch, touch.low.at)))) {
        best = touch;
        where = stretch;
      }
    }
    if (!std::isfinite(best.low.value))
      return;
    if (obstacle.is_scan())
      hints_[index] = best.on_obstacle;
    const Vector on_line = where.at(best.low.at);
    const Room& room = laid.room->rows[row];
    const double along = where.along(best.low.at);
    // Inside a solid the way out leads through the surface; what is deepest in it lies on the other side.
    const bool inside = best.low.value + where.radius(best.low.at) < 0;
    const double radius_m = radius_at(room, along);
    keep(run, {row, obstacle.neighbour, best.low.value, obstacle.required_m, doubt_m, along,
               plus(on_line, inside ? -radius_m : radius_m,
                    towards(on_line, best.on_obstacle, where, best.low.at)),
               best.on_obstacle});
  }

  static bool is_own_port(const RunRoom& room, const Obstacle& obstacle) {
    const auto* port = std::get_if<NearPort>(&obstacle.neighbour);
    return port != nullptr && (port->port == room.from.id || port->port == room.to.id);
  }
  /// Which ends of a run are at something.
  struct Ends {
    bool from = false, to = false;
    [[nodiscard]] bool any() const { return from || to; }
  };
  static Ends ends_at(const RunRoom& room, const build::MachineId* machine) {
    if (machine == nullptr)
      return {};
    return {room.from.machine == *machine, room.to.machine == *machine};
  }
  static Span clear_of_own_body(const LaidRun& run, std::size_t row, const Ends& own, double asked_m) {
    Span span;
    const double first_stretch_m = widest_m(run, row) + asked_m;
    if (own.from)
      span.from_m = first_stretch_m;
    if (own.to)
      span.to_m = run.laid.length_m - first_stretch_m;
    return span;
  }
  /// Whether a run is on its way off what it begins at, or onto what it ends at: the nearest place is then
  /// only where one began to look.
  static bool leaves(const Ends& ends, const Stretch& stretch, double at, const Vector& way) {
    constexpr double leaning = 0.2; // cosine: what runs along a thing does not leave it
    const double towards_it = dot(way, stretch.heading(at));
    return (ends.from && towards_it < -leaning) || (ends.to && towards_it > leaning);
  }
  /// Leaves of a stretch what lies in a span; false when that is nothing.
  static bool cut_to(const LaidRun& run, Stretch& stretch, const Span& span) {
    if (span.from_m == -far_away && span.to_m == far_away)
      return true;
    const double starts = run.place(stretch, 0), growth = stretch.along_growth;
    if (growth * stretch.length_m <= 0)
      return starts >= span.from_m && starts <= span.to_m;
    const double from = std::max((span.from_m - starts) / growth, 0.0);
    const double to = std::min((span.to_m - starts) / growth, stretch.length_m);
    if (from >= to)
      return false;
    if (from > 0 || to < stretch.length_m)
      stretch = part(stretch, from, to);
    return true;
  }
  /// The shake against what moves with a share of the engine's movement, as if the stretch were so much
  /// wider.
  void widen(Stretch& stretch, double share) const {
    if (shake_m_ == 0)
      return;
    stretch.radius_in_m += shake_m_ * std::abs(stretch.share_in - share);
    stretch.radius_out_m += shake_m_ * std::abs(stretch.share_out - share);
  }
  static double radius_at(const Room& room, double along) {
    const double length_m = room.track.length_m();
    const double t = length_m > 0 ? std::clamp(along / length_m, 0.0, 1.0) : 0;
    return room.radius_in_m + (room.radius_out_m - room.radius_in_m) * t;
  }
  ///@}

  /// The way from a point of the centreline to the nearest point of a surface, or out of a solid it is in.
  static Vector towards(const Vector& on_line, const Vector& on_surface, const Stretch& stretch, double at) {
    const Vector way = minus(on_surface, on_line);
    const double far = length(way);
    return far > 0 ? combined(1 / far, way, 0, way) : square_to(stretch.heading(at));
  }

  /// \name Against other ducting
  ///@{
  /// Two rows that may come near, of different runs or of one.
  struct Rows {
    double bound_m; ///< no distance is less
    std::size_t run_a, row_a, run_b, row_b;
  };
  struct Pair {
    PairLow low;
    Stretch a, b;
  };

  /// The least distance of two rows within two spans, if it is below `needed`.
  void pair_up(const LaidRun& run_a, std::size_t row_a, const Span& span_a, const LaidRun& run_b,
               std::size_t row_b, const Span& span_b, const Ends& ends_a, const Ends& ends_b, double needed,
               Pair& best) const {
    const PieceStretches& piece_a = run_a.laid.rows[row_a];
    const PieceStretches& piece_b = run_b.laid.rows[row_b];
    for (std::size_t i = piece_a.first; i < piece_a.last; ++i)
      for (std::size_t k = piece_b.first; k < piece_b.last; ++k) {
        const double wanted = std::min(needed, best.low.value);
        if (apart(run_a.laid.stretches[i], run_b.laid.stretches[k]) >= wanted)
          continue;
        Stretch a = run_a.laid.stretches[i], b = run_b.laid.stretches[k];
        if (!cut_to(run_a, a, span_a) || !cut_to(run_b, b, span_b))
          continue;
        Pair found;
        compare(a, b, wanted, found);
        if (found.low.value < wanted && !both_leave(ends_a, ends_b, found))
          best = found;
      }
  }
  /// Whether two runs are on their way off a machine to different sides.
  static bool both_leave(const Ends& ends_a, const Ends& ends_b, const Pair& pair) {
    if (!ends_a.any() || !ends_b.any())
      return false;
    const Vector way = towards(pair.a.at(pair.low.at_a), pair.b.at(pair.low.at_b), pair.a, pair.low.at_a);
    return leaves(ends_a, pair.a, pair.low.at_a, way) &&
           leaves(ends_b, pair.b, pair.low.at_b, combined(-1, way, 0, way));
  }
  [[nodiscard]] double apart(const Stretch& a, const Stretch& b) const {
    return length(minus(a.middle, b.middle)) - a.reach_m - b.reach_m - shake_m_;
  }
  void compare(Stretch a, Stretch b, double needed, Pair& best) const {
    widen_both(a, b);
    const PairLow low = nearest_pair(a, b, needed);
    if (low.value < best.low.value)
      best = {low, a, b};
  }
  /// The shake between two stretches: the one that moves more is that much wider.
  void widen_both(Stretch& a, Stretch& b) const {
    if (shake_m_ == 0)
      return;
    const double in_order = std::min(a.share_in, a.share_out) >= std::max(b.share_in, b.share_out)   ? 1
                            : std::max(a.share_in, a.share_out) <= std::min(b.share_in, b.share_out) ? -1
                                                                                                     : 0;
    if (in_order == 0) {
      const double most = std::max(std::max(a.share_in, a.share_out) - std::min(b.share_in, b.share_out),
                                   std::max(b.share_in, b.share_out) - std::min(a.share_in, a.share_out));
      a.radius_in_m += shake_m_ * most;
      a.radius_out_m += shake_m_ * most;
      return;
    }
    a.radius_in_m += in_order * shake_m_ * a.share_in;
    a.radius_out_m += in_order * shake_m_ * a.share_out;
    b.radius_in_m -= in_order * shake_m_ * b.share_in;
    b.radius_out_m -= in_order * shake_m_ * b.share_out;
  }

  void keep_pair(const Rows& rows, const Pair& pair) {
    const std::size_t run_a = rows.run_a, row_a = rows.row_a, run_b = rows.run_b, row_b = rows.row_b;
    const Vector on_a = pair.a.at(pair.low.at_a), on_b = pair.b.at(pair.low.at_b);
    const double along_a = pair.a.along(pair.low.at_a), along_b = pair.b.along(pair.low.at_b);
    const Vector way = towards(on_a, on_b, pair.a, pair.low.at_a);
    const Vector surface_a = plus(on_a, radius_at(runs_[run_a].room->rows[row_a], along_a), way);
    const Vector surface_b = plus(on_b, -radius_at(runs_[run_b].room->rows[row_b], along_b), way);
    const auto near = [&](std::size_t run, std::size_t row) { return NearPiece{runs_[run].room->run, row}; };
    const double distance = pair.low.value;
    keep(run_a,
         {row_a, near(run_b, row_b), distance, ducting_m_, doubt_m(rows), along_a, surface_a, surface_b});
    keep(run_b,
         {row_b, near(run_a, row_a), distance, ducting_m_, doubt_m(rows), along_b, surface_b, surface_a},
         run_a != run_b);
  }

  /// Every pair of rows, those that can be nearest first: they spare most of the others.
  void against_pieces() {
    std::vector<Rows> pairs;
    for (std::size_t run_a = 0; run_a < runs_.size(); ++run_a)
      for (std::size_t run_b = run_a; run_b < runs_.size(); ++run_b)
        for (std::size_t row_a = 0; row_a < runs_[run_a].laid.rows.size(); ++row_a)
          for (std::size_t row_b = run_a == run_b ? row_a : 0; row_b < runs_[run_b].laid.rows.size();
               ++row_b) {
            const PieceStretches& a = runs_[run_a].laid.rows[row_a];
            const PieceStretches& b = runs_[run_b].laid.rows[row_b];
            if (a.first == a.last || b.first == b.last || (run_a == run_b && !turns_back(runs_[run_a], a, b)))
              continue;
            const Rows rows{length(minus(a.middle, b.middle)) - a.reach_m - b.reach_m - shake_m_, run_a,
                            row_a, run_b, row_b};
            if (rows.bound_m < needed_m(rows))
              pairs.push_back(rows);
          }
    std::ranges::sort(pairs, {}, [](const Rows& rows) {
      return std::tuple(rows.bound_m, rows.run_a, rows.row_a, rows.run_b, rows.row_b);
    });
    for (const Rows& rows : pairs)
      if (rows.bound_m < needed_m(rows))
        rows.run_a == rows.run_b ? against_itself(rows) : against_other(rows);
  }
  [[nodiscard]] double doubt_m(const Rows& rows) const {
    return rows.run_a == rows.run_b ? 0 : runs_[rows.run_a].doubt_m + runs_[rows.run_b].doubt_m;
  }
  [[nodiscard]] double needed_m(const Rows& rows) const {
    const double asked_m = ducting_m_ + doubt_m(rows);
    return std::max(needed_m(rows.run_a, rows.row_a, asked_m), needed_m(rows.run_b, rows.row_b, asked_m));
  }

  void against_other(const Rows& rows) {
    const LaidRun& a = runs_[rows.run_a];
    const LaidRun& b = runs_[rows.run_b];
    const double asked_m = ducting_m_ + doubt_m(rows), needed = needed_m(rows);
    Pair best;
    const Split split_a = split(a, rows.row_a, b, asked_m), split_b = split(b, rows.row_b, a, asked_m);
    pair_up(a, rows.row_a, split_a.beyond, b, rows.row_b, {}, split_a.ends, split_b.ends, needed, best);
    for (const Span& near_a : {split_a.first, split_a.last})
      if (near_a.from_m < near_a.to_m)
        pair_up(a, rows.row_a, near_a, b, rows.row_b, split_b.beyond, split_a.ends, split_b.ends, needed,
                best);
    if (best.low.value < needed)
      keep_pair(rows, best);
  }
  /// What of a run is its first stretch at an end where it meets another run, and what is not.
  struct Split {
    Span beyond, first{0, 0}, last{0, 0};
    Ends ends; ///< at which it meets the other
  };
  [[nodiscard]] Split split(const LaidRun& run, std::size_t row, const LaidRun& other, double asked_m) const {
    Split result;
    const double first_stretch_m = widest_m(run, row) + asked_m;
    const auto meets = [&](const build::Port& port) {
      return meet(port, other.room->from, first_stretch_m) || meet(port, other.room->to, first_stretch_m);
    };
    result.ends = {meets(run.room->from), meets(run.room->to)};
    if (result.ends.from) {
      result.beyond.from_m = first_stretch_m;
      result.first = {0, first_stretch_m};
    }
    if (result.ends.to) {
      result.beyond.to_m = run.laid.length_m - first_stretch_m;
      result.last = {result.beyond.to_m, run.laid.length_m};
    }
    return result;
  }
  static bool meet(const build::Port& a, const build::Port& b, double within_m) {
    if (a.machine || b.machine)
      return a.machine == b.machine;
    return a.pose && b.pose && length(minus(a.pose->position_m, b.pose->position_m)) < within_m;
  }
  ///@}

  /// \name Against itself
  ///@{
  void against_itself(const Rows& rows) {
    const LaidRun& run = runs_[rows.run_a];
    const PieceStretches& piece_a = run.laid.rows[rows.row_a];
    const PieceStretches& piece_b = run.laid.rows[rows.row_b];
    const double needed = needed_m(rows);
    const double too_near_m = widest_m(run, rows.row_a) + widest_m(run, rows.row_b) + ducting_m_;
    const double way_m = 0.5 * std::numbers::pi * too_near_m;
    Pair best;
    for (std::size_t i = piece_a.first; i < piece_a.last; ++i)
      for (std::size_t k = std::max(i, piece_b.first); k < piece_b.last; ++k)
        further_along(run, run.laid.stretches[i], run.laid.stretches[k], way_m, needed, best);
    if (best.low.value < needed)
      keep_pair(rows, best);
  }

  /// Whether a run turns far enough between two of its pieces to come back: what turns by less than 2
  /// acos(2 / pi), 101 degrees, on a way of pi/2 times a distance ends further away than that distance.
  [[nodiscard]] static bool turns_back(const LaidRun& run, const PieceStretches& a, const PieceStretches& b) {
    const Stretch& first = run.laid.stretches[a.first];
    const Stretch& last = run.laid.stretches[b.last - 1];
    return last.turned_rad + last.turn_rad() - first.turned_rad >= 2 * std::acos(2 / std::numbers::pi);
  }

  /// The least distance of two stretches over those places that are at least `way_m` apart along the run.
  void further_along(const LaidRun& run, const Stretch& a, const Stretch& b, double way_m, double needed,
                     Pair& best) const {
    const double wanted = std::min(needed, best.low.value);
    if (run.place(b, b.length_m) - run.place(a, 0) < way_m || apart(a, b) >= wanted)
      return;
    if (run.place(b, 0) - run.place(a, a.length_m) >= way_m) {
      Pair found;
      compare(a, b, wanted, found);
      if (found.low.value < wanted && comes_back(found))
        best = found;
      return;
    }
    constexpr double too_short_m = 1e-3;
    if (std::max(a.length_m, b.length_m) < too_short_m)
      return;
    if (a.length_m >= b.length_m) {
      further_along(run, part(a, 0, a.length_m / 2), b, way_m, needed, best);
      further_along(run, part(a, a.length_m / 2, a.length_m), b, way_m, needed, best);
    } else {
      further_along(run, a, part(b, 0, b.length_m / 2), way_m, needed, best);
      further_along(run, a, part(b, b.length_m / 2, b.length_m), way_m, needed, best);
    }
  }
  /// Whether two places are too near, or at least not nearest only because the way between them is short.
  [[nodiscard]] bool comes_back(const Pair& pair) const {
    if (pair.low.value < ducting_m_)
      return true;
    constexpr double leaning = 0.05; // cosine: what a slight taper makes of a right angle
    const Vector way = towards(pair.a.at(pair.low.at_a), pair.b.at(pair.low.at_b), pair.a, pair.low.at_a);
    return dot(way, pair.a.heading(pair.low.at_a)) <= leaning &&
           dot(way, pair.b.heading(pair.low.at_b)) <= leaning;
  }
  ///@}

  double ducting_m_;
  bool tight_only_;
  double shake_m_ = 0; ///< 0 unless the engine rolls
  std::vector<LaidRun> runs_;
  std::vector<Obstacle> obstacles_;
  std::vector<RunClearance> result_;
  std::vector<std::optional<Vector>> hints_; ///< by obstacle: where the last row came nearest to a scan
  std::vector<double> bounds_;               ///< by obstacle: no distance of the row looked at is less
};

} // namespace

std::vector<RunClearance> clearances(const build::Build& build, const std::vector<RunRoom>& runs,
                                     const std::optional<build::StateId>& state, Wanted wanted) {
  const build::BayState* const in_state = state ? build.find(*state) : nullptr;
  assert(!state || in_state != nullptr);
  return Clearances(build, runs, in_state, wanted == Wanted::tight).work_out();
}

} // namespace bellmouth::bay
