// SPDX-License-Identifier: GPL-3.0-or-later
#include "pieces.hpp"

#include <bellmouth/bay/vectors.hpp>
#include <bellmouth/build/fittings.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

namespace bellmouth::find {
namespace {

/// Lengths that differ by less are one [m].
constexpr double rounding_m = 1e-9;

/// Between two limits; the lower counts where rounding has crossed them.
double within(double value, double low, double high) {
  return std::max(low, std::min(value, high));
}

/// What a straight begins or ends at: a hose that takes a tube, a hose elbow's leg, or a tube bend's leg.
struct Side {
  bool flexible = false;
  double engagement_m = 0; ///< flexible: what a tube goes in
  double most_m = 0;       ///< straight that it can give: an elbow's beyond the tube's end, a bend's leg

  [[nodiscard]] bool takes(double needed_m) const { return !flexible && most_m >= needed_m - rounding_m; }
};

/// One tube of a straight, and whether a hose goes on each of its ends.
struct Cut {
  double length_m = 0;
  build::Beads hosed;
};
/// A straight made of real things: what either side gives, and what is between, couplers where two rigid ends
/// are to be joined by one.
struct Straight {
  double left_m = 0, right_m = 0;
  bool left_hosed = false, right_hosed = false; ///< of rigid sides
  std::optional<Cut> tube;
  bool coupler_left = false, coupler_right = false; ///< beside the tube, or alone between the sides: left

  [[nodiscard]] Straight turned_round() const {
    Straight other{right_m, left_m, right_hosed, left_hosed, tube, coupler_right, coupler_left};
    if (other.tube)
      std::swap(other.tube->hosed.in, other.tube->hosed.out);
    else
      std::swap(other.coupler_left, other.coupler_right);
    return other;
  }
};

class StraightMaker {
public:
  explicit StraightMaker(const Coupler& coupler)
      : gap_m_(coupler.gap_m), over_m_(std::max(coupler.engagement_in_m, coupler.engagement_out_m)) {}

  [[nodiscard]] std::optional<Straight> make(const Side& left, const Side& right, double length_m) const {
    if (left.flexible && right.flexible)
      return between_hoses(left, right, length_m);
    if (left.flexible)
      return from_hose(left, right, length_m);
    if (right.flexible) {
      const auto turned = from_hose(right, left, length_m);
      return turned ? std::optional(turned->turned_round()) : std::nullopt;
    }
    return between_legs(left, right, length_m);
  }

private:
  [[nodiscard]] static std::optional<Straight> between_hoses(const Side& left, const Side& right,
                                                             double length_m) {
    const double least_tube_m = left.engagement_m + right.engagement_m;
    if (length_m < least_tube_m - rounding_m)
      return std::nullopt;
    const double given_m = std::min(left.most_m + right.most_m, std::max(length_m - least_tube_m, 0.0));
    Straight result;
    result.left_m = std::min(left.most_m, given_m);
    result.right_m = given_m - result.left_m;
    result.tube = {length_m - given_m, {true, true}};
    return result;
  }

  [[nodiscard]] std::optional<Straight> from_hose(const Side& hose, const Side& leg, double length_m) const {
    Straight result;
    const double into_m = hose.engagement_m;
    if (length_m < into_m - rounding_m)
      return std::nullopt;
    if (leg.takes(into_m) && length_m <= hose.most_m + leg.most_m + rounding_m) {
      result.right_m = within(length_m - hose.most_m, into_m, leg.most_m);
      result.left_m = std::max(length_m - result.right_m, 0.0);
      result.right_hosed = true;
      return result;
    }
    const bool coupled = leg.takes(over_m_) && length_m - gap_m_ >= into_m + 2 * over_m_ - rounding_m;
    const double rigid_m = length_m - (coupled ? gap_m_ : 0);
    const double least_tube_m = into_m + (coupled ? over_m_ : 0);
    const double tube_m = std::max(least_tube_m, rigid_m - hose.most_m - leg.most_m);
    result.right_m = std::min(leg.most_m, rigid_m - tube_m);
    result.left_m = within(rigid_m - tube_m - result.right_m, 0, hose.most_m);
    result.tube = {tube_m, {true, coupled}};
    result.coupler_right = result.right_hosed = coupled;
    return result;
  }

  [[nodiscard]] std::optional<Straight> between_legs(const Side& left, const Side& right,
                                                     double length_m) const {
    Straight result;
    const double legs_m = left.most_m + right.most_m;
    const bool both_take = left.takes(over_m_) && right.takes(over_m_);
    const double coupled_m = length_m - gap_m_;
    if (both_take && coupled_m >= 2 * over_m_ - rounding_m && coupled_m <= legs_m + rounding_m) {
      result.left_m = within(coupled_m / 2, std::max(over_m_, coupled_m - right.most_m),
                             std::min(left.most_m, coupled_m - over_m_));
      result.right_m = coupled_m - result.left_m;
      result.left_hosed = result.right_hosed = result.coupler_left = true;
      return result;
    }
    const double twice_coupled_m = length_m - 2 * gap_m_;
    if (both_take && twice_coupled_m >= 4 * over_m_ - rounding_m) {
      const double tube_m = std::max(2 * over_m_, twice_coupled_m - legs_m);
      const double given_m = twice_coupled_m - tube_m;
      result.left_m = within(given_m / 2, std::max(over_m_, given_m - right.most_m), left.most_m);
      result.right_m = given_m - result.left_m;
      result.tube = {tube_m, {true, true}};
      result.left_hosed = result.right_hosed = result.coupler_left = result.coupler_right = true;
      return result;
    }
    if (length_m <= legs_m + rounding_m) { // welded leg to leg
      result.left_m = within(length_m / 2, std::max(length_m - right.most_m, 0.0), left.most_m);
      result.right_m = within(length_m - result.left_m, 0, right.most_m);
      return result;
    }
    if (!right.takes(over_m_) && left.takes(over_m_)) {
      const auto turned = between_legs(right, left, length_m);
      return turned ? std::optional(turned->turned_round()) : std::nullopt;
    }
    const bool coupled = right.takes(over_m_) && coupled_m >= 2 * over_m_ - rounding_m;
    const double rigid_m = coupled ? coupled_m : length_m;
    const double tube_m = std::max(coupled ? over_m_ : 0.0, rigid_m - legs_m);
    result.right_m = std::min(right.most_m, rigid_m - tube_m);
    result.left_m = within(rigid_m - tube_m - result.right_m, 0, left.most_m);
    result.tube = {tube_m, {false, coupled}};
    result.coupler_right = result.right_hosed = coupled;
    return result;
  }

  double gap_m_, over_m_;
};

double normalised(double angle_rad) {
  return std::remainder(angle_rad, 2 * std::numbers::pi);
}

class Maker {
public:
  Maker(const Setting& set, const Ask& ask, const way::Way& way)
      : set_(set), ask_(ask), way_(way), maker_(set.coupler) {}

  std::optional<std::vector<build::Piece>> make() && {
    assert(way_.straights_m.size() == way_.turns.size() + 1 && !way_.reduction);
    const std::size_t turns = way_.turns.size();
    for (std::size_t i = 0; i <= turns; ++i) {
      const bool first = i == 0, last = i == turns;
      Side left = first ? Side{true, set_.before.engagement_m, 0} : side(i - 1, way::Leg::out);
      Side right = last ? Side{true, set_.behind.engagement_m, 0} : side(i, way::Leg::in);
      double length_m = way_.straights_m[i];
      const bool onto_start = first && !last && goes_onto(set_.before, i, length_m);
      const bool onto_end = last && !first && goes_onto(set_.behind, i - 1, length_m);
      if (onto_start || onto_end) {
        const Joined& spigot = onto_start ? set_.before : set_.behind;
        const double over_m = std::min(set_.coupler.engagement_in_m, spigot.engagement_m);
        bend_legs(i, onto_end ? length_m + over_m : 0, onto_start ? length_m + over_m : 0, over_m, over_m);
        continue;
      }
      if (first && set_.coupler_in) {
        left.engagement_m = set_.coupler_in->engagement_out_m;
        length_m -= set_.coupler_in->gap_m;
        add(set_.coupler_in->piece());
      }
      if (last && set_.coupler_out) {
        right.engagement_m = set_.coupler_out->engagement_in_m;
        length_m -= set_.coupler_out->gap_m;
      }
      const auto straight = maker_.make(left, right, length_m);
      if (!straight)
        return std::nullopt;
      add(i, *straight, left, right);
      if (last && set_.coupler_out)
        add(set_.coupler_out->piece());
    }
    return std::move(pieces_);
  }

private:
  [[nodiscard]] const Turning& turning(std::size_t turn) const {
    return set_.turnings[way_.turns[turn].bend];
  }
  [[nodiscard]] bool is_elbow(std::size_t turn) const {
    return turning(turn).bend.kind == way::BendKind::silicone;
  }
  [[nodiscard]] Side side(std::size_t turn, way::Leg leg) const {
    const way::Bend& bend = turning(turn).bend;
    if (is_elbow(turn))
      return {true, set_.coupler.engagement_in_m, bend.leg_m};
    return {false, 0, way_.turns[turn].lost_leg == leg ? 0 : bend.leg_m};
  }
  /// Whether an elbow is slipped straight onto a rigid end.
  [[nodiscard]] bool goes_onto(const Joined& end, std::size_t turn, double length_m) const {
    if (end.flexible || !is_elbow(turn) || !goes_on(*turning(turn).item->bore_m, end.diameter_m))
      return false;
    const double over_m = std::min(set_.coupler.engagement_in_m, end.engagement_m);
    return length_m + over_m <= turning(turn).bend.leg_m + set_.coupler.engagement_in_m + rounding_m;
  }

  void add(build::Piece piece) {
    if (!build::is_fitting(piece.shape))
      piece.lagging = set_.lagging;
    pieces_.push_back(std::move(piece));
  }
  void add(std::size_t index, const Straight& straight, const Side& left, const Side& right) {
    // The leg behind the bend before, then what is between, then the bend with its leg before.
    const double in_elbow_m = set_.coupler.engagement_in_m;
    const auto leg_m = [&](const Side& side, double given_m) {
      return side.flexible ? given_m + in_elbow_m : given_m;
    };
    if (index > 0)
      finish_bend(leg_m(left, straight.left_m), in_elbow_m, straight.left_hosed);
    if (straight.coupler_left)
      add(set_.coupler.piece());
    if (straight.tube)
      add(tube(*straight.tube));
    if (straight.coupler_right)
      add(set_.coupler.piece());
    if (index < way_.turns.size())
      begin_bend(index, leg_m(right, straight.right_m), in_elbow_m, straight.right_hosed);
  }
  /// An elbow whose leg goes over the port.
  void bend_legs(std::size_t straight, double out_m, double in_m, double over_out_m, double over_in_m) {
    if (straight > 0 && out_m > 0)
      finish_bend(out_m, over_out_m, true);
    if (straight < way_.turns.size() && in_m > 0)
      begin_bend(straight, in_m, over_in_m, true);
  }

  [[nodiscard]] build::Piece tube(const Cut& cut) const {
    build::Piece piece{.shape =
                           build::Tube{ask_.tube.outer_diameter_m, ask_.tube.wall_m, cut.length_m, cut.hosed},
                       .material = ask_.tube.material,
                       .stock = {},
                       .label = {}};
    return piece;
  }
  void begin_bend(std::size_t turn, double leg_m, double engagement_m, bool hosed) {
    const build::StockItem& item = *turning(turn).item;
    build::Piece piece = stock::piece_of(item);
    const way::Turn& as_used = way_.turns[turn];
    if (auto* bend = std::get_if<build::TubeBend>(&piece.shape)) {
      bend->angle_rad = as_used.angle_rad;
      bend->clocking_rad = normalised(as_used.clocking_rad);
      bend->leg_in_m = leg_m;
      bend->beads.in = hosed;
    } else {
      auto& elbow = std::get<build::HoseElbow>(piece.shape);
      elbow.clocking_rad = normalised(as_used.clocking_rad);
      elbow.leg_in_m = leg_m;
      elbow.engagement.in_m = engagement_m;
    }
    add(std::move(piece));
  }
  void finish_bend(double leg_m, double engagement_m, bool hosed) {
    if (auto* bend = std::get_if<build::TubeBend>(&pieces_.back().shape)) {
      bend->leg_out_m = leg_m;
      bend->beads.out = hosed;
    } else {
      auto& elbow = std::get<build::HoseElbow>(pieces_.back().shape);
      elbow.leg_out_m = leg_m;
      elbow.engagement.out_m = engagement_m;
    }
  }

  const Setting& set_;
  const Ask& ask_;
  const way::Way& way_;
  StraightMaker maker_;
  std::vector<build::Piece> pieces_;
};

/// The tail's clockings hang on the reference that arrives; up to its first bend they are turned so that it
/// lies as before.
void reclock(std::vector<build::Piece>& tail, double by_rad) {
  for (build::Piece& piece : tail) {
    const bool turns = std::visit(
        [&](auto& shape) {
          if constexpr (requires { shape.clocking_rad; })
            shape.clocking_rad = normalised(shape.clocking_rad + by_rad);
          return requires {
            shape.leg_in_m;
          };
        },
        piece.shape);
    if (turns)
      return;
  }
}

} // namespace

std::optional<std::vector<build::Piece>> pieces_of(const Setting& set, const Ask& ask, const way::Way& way) {
  return Maker(set, ask, way).make();
}

std::optional<build::Run> run_of(const build::Build& build, const Setting& set, const Ask& ask,
                                 const way::Way& way) {
  auto middle = pieces_of(set, ask, way);
  if (!middle)
    return std::nullopt;
  for (build::Piece& piece : *middle)
    if (std::holds_alternative<build::Tube>(piece.shape))
      if (const auto items = stock::choices(build, piece); !items.empty())
        piece.stock = items.front()->id;
  build::Run run{set.run->id, set.run->from, set.run->to, set.head.pieces};
  const std::size_t first = run.pieces.size(), last = first + middle->size();
  run.pieces.insert(run.pieces.end(), middle->begin(), middle->end());

  std::vector<build::Piece> tail = set.tail.pieces;
  const auto tracks = [&] {
    build::Run so_far = run;
    so_far.pieces.insert(so_far.pieces.end(), tail.begin(), tail.end());
    return joint::tracks(so_far, joint::fit(build, so_far));
  }();
  const bay::Frame arrives = bay::place(set.from.pose, tracks)[last];
  const build::Vector across = bay::cross(arrives.direction, arrives.reference);
  reclock(tail,
          std::atan2(bay::dot(set.end.reference, across), bay::dot(set.end.reference, arrives.reference)));
  run.pieces.insert(run.pieces.end(), tail.begin(), tail.end());

  std::vector<build::Piece> fittings;
  std::vector<double> shares;
  const joint::RunFit fit = joint::fit(build, *set.run);
  double whole_m = 0;
  const std::size_t end_row = set.run->pieces.size() - ask.keep_last;
  std::vector<double> starts(set.run->pieces.size(), 0.0);
  for (std::size_t row = ask.keep_first; row < end_row; ++row) {
    starts[row] = whole_m;
    whole_m += fit.rows[row].centreline_length_m;
  }
  for (std::size_t row = ask.keep_first; row < end_row; ++row) {
    const build::Piece& piece = set.run->pieces[row];
    if (!build::is_fitting(piece.shape) || !fit.rows[row].host)
      continue;
    const double position_m = build::position_m(piece.shape);
    fittings.push_back(piece);
    shares.push_back(whole_m > 0 ? std::clamp((starts[*fit.rows[row].host] + position_m) / whole_m, 0.0, 1.0)
                                 : 0.5);
  }
  put_on(build, run, first, last, fittings, shares);
  return run;
}

} // namespace bellmouth::find
