// SPDX-License-Identifier: GPL-3.0-or-later
// The operating point. Unknowns are the mass flow, the pressure ratio of each blower whose ratio its inlet
// does not give, and the shares of branches. Damped Newton with the slopes of the march first. Should it
// fail: with one blower, nested bracketing, which needs nothing but the monotony of the machines (more flow
// thins the air ahead of a blower, more pressure ratio raises the manifold pressure). With branches, or where
// a map or a valve makes the way crooked, the stream is given time to settle first.
#include "solve.hpp"

#include "newton.hpp"
#include "pairing.hpp"
#include "search.hpp"

#include <algorithm>
#include <cmath>

namespace bellmouth::flow {
namespace {

const double least_log_ratio = std::log(0.02), greatest_log_ratio = std::log(50.0);
/// Range of ln(flow) below the greatest that a bracket covers: from nothing worth speaking of.
constexpr double flow_range = 20;

template <std::size_t N> class Solver : Newton<N> {
public:
  using Newton<N>::Newton;

  Solution solve(const OperatingPoint* near) {
    Solution solution;
    solution.point.engine_speed_rev_s = engine_ != nullptr ? speed_ : 0;
    at_ = start(near);
    const bool found =
        newton() || relax(fast) || (path_.groups.empty() ? bracket() : !flows_backwards() && relax(slow));
    solution.at = at_;
    solution.point.iterations = marches_;
    if (found)
      finish(solution.point);
    else
      explain(solution.point);
    return solution;
  }

private:
  using Base = Newton<N>;
  using Base::at_, Base::attempt, Base::end_, Base::engine_, Base::engine_excess, Base::enter,
      Base::for_each_plate, Base::for_each_ratio, Base::marches_, Base::n_, Base::newton, Base::path_,
      Base::residuals, Base::size, Base::speed_, Base::start, Base::step, Base::swallow_m3_s,
      Base::target_excess, Base::variation_;
  using typename Base::Residuals;

  // --- relaxing

  /// The residuals as speeds of the unknowns, in logarithms: how the stream would change if it were given
  /// time. A flow grows with what its blower would do over what it is asked; a pressure ratio falls when the
  /// engine takes more than arrives, or its branch presses harder than the first; a share grows with the
  /// pressure at the end of its branch.
  Residuals speeds(const Pairing& pairing) const {
    Residuals logs = residuals();
    for (std::size_t i = 0; i < n_; ++i) {
      const double ratio = std::max(0.01, 1 + logs.r[i]);
      logs.r[i] = std::log(ratio);
      for (double& slope : logs.by[i])
        slope /= ratio;
    }
    Residuals out;
    const auto add = [&](std::size_t unknown, double weight, std::size_t residual) {
      out.r[unknown] += weight * logs.r[residual];
      for (std::size_t j = 0; j < n_; ++j)
        out.by[unknown][j] += weight * logs.by[residual][j];
    };
    const std::size_t engine = pairing.marched;
    for (const auto& passive : pairing.passive)
      add(passive.share, 1, passive.join);
    double sum = 0;
    for (const auto& blown : pairing.blown)
      sum += blown.share != none ? std::exp(at_[blown.share]) : 1;
    // What stands behind the blowers takes the air from them: a plate, or the engine.
    const auto behind =
        std::ranges::find_if(pairing.plates, [](const auto& plate) { return plate.behind_blower; });
    const bool plate_ahead = !pairing.plates.empty() && !pairing.plates.front().behind_blower;
    for (const auto& blown : pairing.blown) {
      if (!plate_ahead)
        add(0, (blown.share != none ? std::exp(at_[blown.share]) : 1) / sum, blown.excess);
      add(blown.ratio, -1, behind != pairing.plates.end() ? behind->excess : engine);
      if (plate_ahead && blown.share == none)
        add(blown.ratio, 1, blown.excess);
      if (blown.share != none) {
        add(blown.share, 1, blown.excess);
        add(blown.share, -1, pairing.blown.front().excess);
        add(blown.ratio, -1, blown.join);
      }
    }
    // The pressure behind a plate falls with its throat: it widens when what follows takes more than arrives.
    for (std::size_t i = 0; i < pairing.plates.size(); ++i) {
      const auto& plate = pairing.plates[i];
      const bool first = i == 0 && !plate.behind_blower;
      const bool last_ahead = !plate.behind_blower && !pairing.blown.empty() &&
                              (i + 1 == pairing.plates.size() || pairing.plates[i + 1].behind_blower);
      const std::size_t next = last_ahead                      ? pairing.blown.front().excess
                               : i + 1 < pairing.plates.size() ? pairing.plates[i + 1].excess
                                                               : engine;
      add(plate.throat, 1, next);
      if (first)
        add(0, 1, plate.excess);
      else
        add(plate.throat, -1, plate.excess);
    }
    if (path_.flow_unknown && pairing.blown.empty() && pairing.plates.empty())
      add(0, 1, engine);
    if (path_.manifold_target_Pa)
      add(ratio_place(), -1, engine + (path_.flow_unknown ? 1 : 0));
    return out;
  }

  /// How fast the stream is let settle: steps, and the longest of them over the time in which it changes.
  struct Haste {
    int steps;
    double greatest_pace;
  };
  static constexpr Haste fast{400, 1e6}, slow{3000, 0.2};

  /// Lets the stream settle in steps that grow as it does (implicit pseudo-time steps; Kelley & Keyes, SIAM
  /// J. Numer. Anal. 35, 1998), and finishes with Newton's method.
  bool relax(const Haste& haste) {
    const Pairing pairing = pairing_of(path_, *variation_.elements);
    at_ = start(nullptr);
    if (!enter())
      return false;
    double pace = 0.5, near = 0.1;
    for (int i = 0; i < haste.steps; ++i) {
      const double distance = size(residuals());
      if (distance < near) {
        const Unknowns from = at_;
        if (newton())
          return true;
        at_ = from;
        attempt(at_);
        near = 0.1 * distance;
      }
      auto system = speeds(pairing);
      for (std::size_t k = 0; k < n_; ++k) {
        for (std::size_t j = 0; j < n_; ++j)
          system.by[k][j] = (j == k ? 1 / pace : 0) - system.by[k][j];
        system.r[k] = -system.r[k];
      }
      const auto move = step(system);
      const Unknowns from = at_;
      const Marched<N> from_end = end_;
      if (move) {
        double longest = 0;
        for (std::size_t j = 0; j < n_; ++j)
          longest = std::max(longest, std::abs((*move)[j]));
        const double share = std::min(1.0, longest_step / std::max(1e-300, longest));
        for (std::size_t j = 0; j < n_; ++j)
          at_[j] += share * (*move)[j];
        attempt(at_);
      }
      const double now = move && end_.ended == Ended::passed ? size(residuals()) : HUGE_VAL;
      if (std::isfinite(now) && (now < 1.5 * distance || pace < rash_pace)) {
        pace = std::clamp(pace * std::clamp(distance / std::max(now, 1e-300), 0.5, 2.0), 1e-3,
                          haste.greatest_pace);
        continue;
      }
      const Ended refused = end_.ended;
      const Unknowns tried = at_;
      at_ = from;
      end_ = from_end;
      if (pace < least_pace) { // it goes where nothing passes
        overheats_ = refused == Ended::too_hot;
        if (refused == Ended::chokes)
          choked_at_ = tried;
        return false;
      }
      pace *= 0.25;
    }
    return false;
  }
  static constexpr double least_pace = 1e-5;
  static constexpr double rash_pace = 0.01; ///< below it a step that leads away is taken all the same

  // --- bracketing, with one blower or none

  /// The place of the blower's ratio among the unknowns, or none.
  std::size_t ratio_place() const {
    std::size_t found = none;
    for_each_ratio([&](std::size_t place) { found = place; });
    return found;
  }
  /// The place of the throat of the only plate, or none.
  std::size_t throat_place() const {
    std::size_t found = none;
    for_each_plate([&](const PlateElement& plate) { found = plate.throat; });
    return found;
  }

  /// At the ratio in `at_`, the flow at which its own condition holds: the blower delivers it, or, where the
  /// blower's control holds a target, the engine takes it. Falls with flow.
  double flow_value(double log_flow) {
    at_[0] = log_flow;
    attempt(at_);
    if (!path_.manifold_target_Pa && end_.residual_count > 0)
      return end_.residuals[0].value;
    if (end_.ended != Ended::passed)
      return -1;
    return engine_excess().value;
  }

  /// Finds the flow at the ratio in `at_`, below `most_kg_s`. Air that comes back through a bypass valve
  /// heats up without end where the flow is small, so that the condition can hold more than once: the
  /// greatest flow is the one that is reached, and searched for from above. False when there is none.
  bool find_flow(double most_kg_s) {
    double high = std::log(most_kg_s), low = high - flow_range;
    const auto value = [&](double log_flow) { return flow_value(log_flow); };
    if (std::ranges::any_of(path_.blowers, &Blower::recirculates)) {
      constexpr double stride = 0.2;
      double at = high;
      while (at > low && !(flow_value(at) > 0))
        at -= stride;
      if (at <= low) {
        at_[0] = low;
        return false;
      }
      low = std::max(low, at);
      high = std::min(high, low + stride);
    }
    at_[0] = falling_root(low, high, 1e-13, value);
    return true;
  }

  /// With plates behind a blower: first as if their throats stayed below Mach 1, which takes no unknowns.
  bool without_throats() {
    if constexpr (N <= 2) {
      return false;
    } else {
      std::vector<Element> elements = *variation_.elements;
      Path::Impl plain = path_;
      for (Element& element : elements)
        if (auto* plate = std::get_if<PlateElement>(&element.law); plate && plate->throat != none) {
          if (plate->throat < 2) // ahead of the blower
            return false;
          plate->throat = none;
          --plain.unknowns;
        }
      const Variation variation{&elements, &elements, variation_.tuning, variation_.conductance_W_K};
      const Solution found = flow::solve(plain, variation, speed_, nullptr);
      marches_ += found.point.iterations;
      if (!found.point.usable())
        return false;
      std::copy(found.point.unknowns.begin(), found.point.unknowns.end(), at_.begin());
      for_each_plate([&](const PlateElement& plate) { at_[plate.throat] = std::log(0.3); });
      return newton();
    }
  }

  bool bracket() {
    overheats_ = false;
    choked_at_.reset();
    const std::size_t throat = throat_place();
    if (throat != none && n_ > 2)
      return without_throats();
    const double density = path_.air.density_kg_m3(path_.inlet_pressure_Pa, path_.inlet_temperature_K);
    const std::size_t ratio = ratio_place();
    double most = 0;
    if (path_.flow_unknown) {
      const double head =
          path_.manifold_target_Pa ? std::max(1.0, *path_.manifold_target_Pa / path_.inlet_pressure_Pa) : 1.0;
      most = 3 * swallow_m3_s() * density * head;
      const BlowerScene scene{path_.air, variation_.tuning, speed_, path_.ambient_pressure_Pa};
      for (const Blower& blower : path_.blowers) {
        const auto guess = blower.guess(scene, path_.inlet_pressure_Pa, path_.inlet_temperature_K);
        most = std::max(most, 2 * guess.flow_kg_s);
        if (blower.target() != nullptr && ratio == none)
          most *= std::max(1.0, guess.ratio);
      }
    }
    if (throat != none) { // the wider its throat runs, the less pressure stands behind a plate
      at_[throat] = falling_root(std::log(1e-4), std::log(60.0), 1e-13, [&](double log_throat) {
        at_[throat] = log_throat;
        find_flow(most);
        attempt(at_);
        return end_.ended == Ended::passed ? engine_excess().value : -1.0;
      });
      find_flow(most);
    } else if (ratio == none) {
      if (!path_.flow_unknown)
        return false;
      find_flow(most);
    } else {
      at_[ratio] = falling_root(least_log_ratio, greatest_log_ratio, 1e-13, [&](double log_ratio) {
        at_[ratio] = log_ratio;
        const bool flows = !path_.flow_unknown || find_flow(most);
        attempt(at_);
        if (!flows || end_.ended == Ended::too_hot) {
          overheats_ = true;
          return -1.0;
        }
        if (end_.ended == Ended::chokes) {
          choked_at_ = at_;
          return 1.0;
        }
        const double value = -(path_.manifold_target_Pa ? target_excess().value : engine_excess().value);
        if (value > 0)
          choked_at_.reset();
        else
          overheats_ = false;
        return value;
      });
      if (path_.flow_unknown)
        find_flow(most);
    }
    const Unknowns bracketed = at_;
    if (newton())
      return true;
    at_ = bracketed;
    attempt(at_);
    return end_.ended == Ended::passed && size(residuals()) < rounding;
  }
  /// Whether just above the bracketed ratio it gets too hot, or all the air goes round and heats up without
  /// end.
  bool overheats_ = false;
  /// The nearest place below the bracketed ratio, where that chokes.
  std::optional<Unknowns> choked_at_;

  // --- what to say of the end

  /// The greatest mass flow that gets through with the other unknowns as they are.
  double most_that_passes(Unknowns at) {
    const double high = at[0];
    return std::exp(falling_root(high - flow_range, high, 1e-12, [&](double log_flow) {
      at[0] = log_flow;
      attempt(at);
      return end_.ended == Ended::passed ? 1.0 : -1.0;
    }));
  }
  void note_choke(OperatingPoint& point, const Unknowns& at) {
    point.stop = Stop::chokes;
    point.choke_element = end_.stop_element;
    if (!path_.flow_unknown)
      return find_choke_of_fixed_flow(point, at);
    point.max_mass_flow_kg_s = most_that_passes(at);
    // The narrowest place is where it chokes first as the flow rises.
    Unknowns above = at;
    above[0] = std::min(at[0], std::log(point.max_mass_flow_kg_s) + just_above);
    attempt(above);
    if (end_.ended == Ended::chokes)
      point.choke_element = end_.stop_element;
  }
  static constexpr double just_above = 1e-6;
  void find_choke_of_fixed_flow(OperatingPoint& point, const Unknowns& at) {
    Path::Impl bench = path_;
    auto& fixed = std::get<build::FixedFlow>(bench.demand);
    const auto with_flow = [&](double log_flow) {
      fixed.mass_flow_kg_s = std::exp(log_flow);
      ++marches_;
      return march<N>(bench, variation_, speed_, at, nullptr);
    };
    const double high = std::log(fixed.mass_flow_kg_s);
    const double most = falling_root(high - flow_range, high, 1e-12, [&](double log_flow) {
      return with_flow(log_flow).ended == Ended::passed ? 1.0 : -1.0;
    });
    point.max_mass_flow_kg_s = std::exp(most);
    const auto above = with_flow(std::min(high, most + just_above));
    if (above.ended == Ended::chokes)
      point.choke_element = above.stop_element;
  }

  void finish(OperatingPoint& point) {
    point.stop = path_.flow_unknown ? Stop::converged : Stop::fixed_flow;
    point.residual = n_ > 0 ? size(residuals()) : 0;
    point.mass_flow_kg_s = end_.flow.value;
    point.blower_pressure_ratio = end_.blower_ratio;
    point.manifold_pressure_Pa = end_.pressure.value;
    point.manifold_temperature_K = end_.temperature.value;
    point.drive_power_W = end_.drive_power_W;
    if (engine_ != nullptr) { // water vapour burns nothing
      const double dry_kg_s = end_.flow.value / (1 + path_.air.humidity_ratio());
      point.crank_power_W =
          variation_.tuning.crank_work * engine_->crank_power_W(dry_kg_s) - end_.drive_power_W;
    }
    point.unknowns.assign(at_.begin(), at_.begin() + static_cast<std::ptrdiff_t>(n_));
    if (end_.below_target)
      point.stop = Stop::target_too_low;
    else if (end_.beyond_reach)
      point.stop = Stop::out_of_reach;
  }

  /// Whether a compressor side by side with others gives less than it is asked though it stands left of
  /// surge: with more time its air would turn round.
  bool is_pushed_back() const {
    struct Surging final : Recorder {
      void passed(const Passage&) override {}
      void blew(std::size_t, const Blown& blown) override {
        found = found || (blown.excess < -rounding && blown.on_map &&
                          blown.on_map->region == machine::MapRegion::below_surge);
      }
      bool found = false;
    } surging;
    return !path_.groups.empty() &&
           march<N>(path_, variation_, speed_, at_, &surging).ended == Ended::passed && surging.found;
  }
  /// Whether a branch has next to nothing left of its share.
  bool flows_backwards() const {
    return std::ranges::any_of(path_.groups, [this](const Group& group) {
      double least = 0, most = 0; // of the first branch
      for (std::size_t j = 1; j < group.branches; ++j) {
        least = std::min(least, at_[group.first_share + j - 1]);
        most = std::max(most, at_[group.first_share + j - 1]);
      }
      return most - least > std::log(backwards_share);
    });
  }
  /// Shares that differ by more than this are no longer those of branches that both flow.
  static constexpr double backwards_share = 1e3;

  /// Finds out why there is no agreement: where it chokes a little above the flow that still passes.
  void explain(OperatingPoint& point) {
    point.stop = Stop::no_agreement;
    if (end_.ended == Ended::chokes)
      return note_choke(point, at_);
    if (end_.ended == Ended::too_hot) {
      point.stop = Stop::too_hot;
      return;
    }
    if (flows_backwards()) {
      point.stop = Stop::backwards;
      return;
    }
    if (overheats_) {
      point.stop = Stop::too_hot;
      return;
    }
    if (choked_at_) {
      attempt(*choked_at_);
      return note_choke(point, *choked_at_);
    }
    if (is_pushed_back()) {
      point.stop = Stop::backwards;
      return;
    }
    Unknowns above = at_;
    if (path_.flow_unknown) {
      above[0] += 1e-3;
      attempt(above);
      if (end_.ended == Ended::chokes)
        return note_choke(point, above);
    }
    above = at_;
    for (std::size_t i = path_.flow_unknown ? 1 : 0; i < n_; ++i)
      above[i] += 1e-3;
    attempt(above);
    const bool holds_target =
        std::ranges::any_of(path_.blowers, [](const Blower& blower) { return blower.target() != nullptr; });
    if (end_.ended == Ended::too_hot)
      point.stop = Stop::too_hot;
    else if (holds_target)
      point.stop = Stop::out_of_reach;
  }
};

} // namespace

Solution solve(const Path::Impl& path, const Variation& variation, double engine_speed_rev_s,
               const OperatingPoint* near) {
  if (path.unknowns <= 1)
    return Solver<1>(path, variation, engine_speed_rev_s).solve(near);
  if (path.unknowns == 2)
    return Solver<2>(path, variation, engine_speed_rev_s).solve(near);
  if (path.unknowns <= 4)
    return Solver<4>(path, variation, engine_speed_rev_s).solve(near);
  return Solver<most_unknowns>(path, variation, engine_speed_rev_s).solve(near);
}

} // namespace bellmouth::flow
