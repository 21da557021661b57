// SPDX-License-Identifier: GPL-3.0-or-later
#include "closing.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace bellmouth::route {
namespace {

constexpr double turn_rad = 2 * std::numbers::pi;
/// A miss at which the search is done.
constexpr double done_m = 1e-13;
/// How far angles go in one step, at first and at most.
constexpr double first_reach_rad = 0.7, most_reach_rad = 2;
/// How far from the present the farthest starts are.
constexpr double start_length_m = 0.2, start_angle_rad = std::numbers::pi;
constexpr int starts_to_farthest = 12;
/// Of one approach.
constexpr int most_steps = 50;

double rotation_rad(const Vector& from, const Vector& to) {
  return std::atan2(length(cross(from, to)), dot(from, to));
}
/// Some unit vector at right angles to a unit vector.
Vector beside(const Vector& direction) {
  const Vector axis = std::abs(direction[0]) < 0.6 ? Vector{1, 0, 0} : Vector{0, 1, 0};
  const Vector found = cross(direction, axis);
  return times(1 / length(found), found);
}

} // namespace

Closing::Closing(Chain chain, const build::Pose& to, const std::vector<Freedom>& freedoms,
                 const std::vector<double>& present)
    : chain_(std::move(chain)), to_(to), zero_(freedoms.size(), 0.0) {
  for (std::size_t i = 0; i < freedoms.size(); ++i) {
    const Freedom& each = freedoms[i];
    const double scale = std::sqrt(each.weight) * (is_angle(each.what) ? arm_m : 1.0);
    const bool whole_turn = each.what == What::clocking && each.high - each.low >= turn_rad - 1e-9;
    scale_.push_back(scale);
    turns_.push_back(is_angle(each.what));
    low_.push_back(scale * (whole_turn ? -turn_rad : each.low - present[i]));
    high_.push_back(scale * (whole_turn ? turn_rad : each.high - present[i]));
  }
  changes_ = near_low_ = near_high_ = next_ = zero_;
}

double Closing::random() {
  // A linear congruential sequence (D. E. Knuth, The Art of Computer Programming 2, 3.3.4: MMIX): always the
  // same starts.
  random_ = random_ * 6364136223846793005U + 1442695040888963407U;
  return static_cast<double>(random_ >> 11U) * 0x1p-53;
}

std::vector<double> Closing::start(int number) {
  const double reach = std::min(1.0, static_cast<double>(number + 1) / starts_to_farthest);
  std::vector<double> z(zero_.size());
  for (std::size_t i = 0; i < z.size(); ++i) {
    const double most = turns_[i] ? start_angle_rad : start_length_m;
    const double wanted = scale_[i] * most * reach * (2 * random() - 1);
    z[i] = std::clamp(wanted, low_[i], high_[i]);
  }
  return z;
}

double Closing::cost(std::span<const double> z) const {
  double sum = 0;
  for (const double each : z)
    sum += each * each;
  return sum / 2;
}

const Chain& Closing::chain_at(const Found& found) {
  evaluate(found.z);
  return chain_;
}

void Closing::evaluate(std::span<const double> z) {
  ++evaluations_;
  const std::size_t n = z.size();
  for (std::size_t i = 0; i < n; ++i)
    changes_[i] = z[i] / scale_[i];
  chain_.lay(changes_);
  conditions_.unknowns = n;
  conditions_.equations = 5;
  conditions_.a.resize((5 + planes_.size()) * n);
  conditions_.b.resize(5 + planes_.size());

  const bay::Frame& end = chain_.end();
  const Vector gap = plus(to_.position_m, -1, end.position_m);
  const Vector into_port = times(-1, to_.direction);
  const double angle_rad = rotation_rad(end.direction, into_port);
  const Vector first = beside(end.direction), second = cross(end.direction, first);
  Vector across = plus(into_port, -dot(into_port, end.direction), end.direction);
  const double sine = length(across);
  across = sine > 0 ? times(angle_rad / sine, across) : times(angle_rad, first);
  double squares = dot(gap, gap) + arm_m * arm_m * angle_rad * angle_rad;

  double* const a = conditions_.a.data();
  for (std::size_t i = 0; i < n; ++i) {
    const Motion& motion = chain_.motion(i);
    const Vector moved = motion.at(end.position_m), turned = cross(motion.turn, end.direction);
    for (std::size_t k = 0; k < 3; ++k)
      a[k * n + i] = moved[k] / scale_[i];
    a[3 * n + i] = arm_m * dot(first, turned) / scale_[i];
    a[4 * n + i] = arm_m * dot(second, turned) / scale_[i];
  }
  const double wanted[] = {gap[0], gap[1], gap[2], arm_m * dot(first, across), arm_m * dot(second, across)};
  for (std::size_t k = 0; k < 5; ++k) {
    conditions_.b[k] = wanted[k];
    for (std::size_t i = 0; i < n; ++i)
      conditions_.b[k] += a[k * n + i] * z[i];
  }
  for (std::size_t p = 0; p < planes_.size(); ++p) {
    std::ranges::copy(planes_[p].a, conditions_.a.begin() + static_cast<std::ptrdiff_t>((5 + p) * n));
    conditions_.b[5 + p] = planes_[p].b;
    const double missed = conditions_.missed(5 + p, z);
    squares += missed * missed;
  }
  miss_m_ = std::sqrt(squares);
}

/// Steps towards the port until it is met or comes no nearer; of the ways there, the one that leads near to
/// the present or to the start.
Found Closing::approach(std::vector<double> z, Near near, int steps_left) {
  evaluate(z);
  double miss_m = miss_m_, reach_rad = first_reach_rad;
  const std::vector<double> begun = near == Near::start ? z : zero_;
  Nearest& nearest = near == Near::start ? restoring_ : nearest_;
  for (; steps_left > 0 && miss_m > done_m; --steps_left) {
    for (std::size_t i = 0; i < z.size(); ++i) {
      const double reach = turns_[i] ? scale_[i] * reach_rad : std::numeric_limits<double>::infinity();
      near_low_[i] = std::max(low_[i], z[i] - reach);
      near_high_[i] = std::min(high_[i], z[i] + reach);
    }
    next_ = nearest.find(conditions_, begun, near_low_, near_high_);
    const double promised_m = miss_m - conditions_.missed(next_);
    if (promised_m <= 1e-6 * miss_m)
      break;
    evaluate(next_);
    const double gained_m = miss_m - miss_m_;
    if (gained_m > 0.75 * promised_m)
      reach_rad = std::min(2 * reach_rad, most_reach_rad);
    else if (gained_m < 0.25 * promised_m)
      reach_rad /= 3;
    if (gained_m >= 0.01 * promised_m) {
      z = next_;
      miss_m = miss_m_;
    } else {
      if (reach_rad < 1e-7)
        break;
      evaluate(z);
    }
  }
  const double at_cost = cost(z);
  return {std::move(z), miss_m, at_cost};
}

/// Goes along the solutions to a lesser change: downhill in the plane that touches them, and back onto them.
Found Closing::lessened(Found found) {
  constexpr int lessening_steps = 60, restoring_steps = 6;
  double stride = 1;
  std::vector<double> before, downhill_before;
  // The pull towards the present may have kept a little of the miss, which would pass for a lesser change.
  found = approach(std::move(found.z), Near::start, restoring_steps);
  for (int steps = 0; steps < lessening_steps; ++steps) {
    evaluate(found.z);
    std::vector<double> downhill = nearest_.find(conditions_, zero_, low_, high_);
    double squares = 0;
    for (std::size_t i = 0; i < downhill.size(); ++i) {
      downhill[i] -= found.z[i];
      squares += downhill[i] * downhill[i];
    }
    if (squares < 1e-16)
      break;
    if (!before.empty()) {
      // The step of Barzilai and Borwein (IMA J. Numer. Anal. 8, 1988).
      double moved = 0, bent = 0;
      for (std::size_t i = 0; i < downhill.size(); ++i) {
        const double s = found.z[i] - before[i];
        moved += s * s;
        bent += s * (downhill_before[i] - downhill[i]);
      }
      stride = bent > 0 ? std::clamp(moved / bent, 0.1, 5.0) : 1.0;
    }
    bool taken = false;
    for (; stride > 1e-3 && !taken; stride /= 3) {
      std::vector<double> there(found.z.size());
      for (std::size_t i = 0; i < there.size(); ++i)
        there[i] = std::clamp(found.z[i] + stride * downhill[i], low_[i], high_[i]);
      Found restored = approach(std::move(there), Near::start, restoring_steps);
      taken = restored.closed() && restored.cost < found.cost - 1e-4 * stride * squares;
      if (taken) {
        before = found.z;
        downhill_before = downhill;
        found = std::move(restored);
      }
    }
    if (!taken)
      break;
  }
  return found;
}

std::vector<double> Closing::present() const {
  std::vector<double> z(zero_);
  for (std::size_t i = 0; i < z.size(); ++i)
    z[i] = std::clamp(0.0, low_[i], high_[i]);
  return z;
}

Found Closing::find_from(int number) {
  random_ = static_cast<std::uint64_t>(number);
  Found found = number == 0 ? approach(present(), Near::present, most_steps)
                            : approach(start(number), Near::start, most_steps);
  return found.closed() ? lessened(std::move(found)) : found;
}

Found Closing::find(const Effort& effort) {
  Found best = find_from(0);
  int left = best.closed() ? effort.others : effort.starts;
  for (int number = 0; left > 0; ++number, --left) {
    Found other = approach(start(number), Near::start, most_steps);
    if (!other.closed()) {
      if (!best.closed() && other.miss_m < best.miss_m)
        best = std::move(other);
      continue;
    }
    if (!best.closed())
      left = std::min(left, effort.others + 1);
    other = lessened(std::move(other));
    if (!best.closed() || other.cost < best.cost)
      best = std::move(other);
  }
  return best;
}

std::vector<int> Closing::binding(const Found& found) {
  evaluate(found.z);
  std::vector<int> sides(found.z.size(), 0);
  for (std::size_t i = 0; i < sides.size(); ++i) {
    double towards = 0; // how much nearer a growing size brings the end
    for (std::size_t k = 0; k < conditions_.size(); ++k)
      towards += conditions_.row(k)[i] * conditions_.missed(k, found.z);
    const double near = 1e-9 * std::max(1.0, std::abs(found.z[i]));
    if (towards > 1e-6 * found.miss_m && found.z[i] >= high_[i] - near)
      sides[i] = 1;
    if (towards < -1e-6 * found.miss_m && found.z[i] <= low_[i] + near)
      sides[i] = -1;
  }
  return sides;
}

} // namespace bellmouth::route
