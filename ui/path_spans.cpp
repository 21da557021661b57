// SPDX-License-Identifier: GPL-3.0-or-later
#include "path_spans.hpp"

#include "piece_text.hpp"

#include <algorithm>

namespace bellmouth::ui {

namespace {

/// Width of a machine's band, as a share of the length of all runs.
constexpr double band_share = 0.08;
constexpr double band_without_runs_m = 0.1;

double between(double a, double b, double share) {
  return a + (b - a) * share;
}

/// The profile with the state at the inlet of each piece ahead of that at its outlet: the profile itself has
/// one point where a piece ends, and a straight line from there to the next would show a ramp where the bore
/// steps.
std::vector<flow::PathPoint> with_inlets(const build::Build& build, const Evaluation& evaluation) {
  const build::Option* option = build.find(evaluation.option);
  std::vector<flow::PathPoint> points;
  const auto& profile = evaluation.path.profile;
  for (std::size_t i = 0; i < profile.size();) {
    const std::size_t step = profile[i].step;
    points.push_back(profile[i++]);
    const auto* id = std::get_if<build::RunId>(&build.path[step]);
    const RunResult* result = id ? find_run(evaluation, *id) : nullptr;
    const build::Run* run = id && option ? option->find(*id) : nullptr;
    for (std::size_t row = 0; i < profile.size() && profile[i].step == step; ++i) {
      while (run && row < run->pieces.size() && build::is_fitting(run->pieces[row].shape))
        ++row;
      if (result && row < result->flow.rows.size()) {
        const air::Station& inlet = result->flow.rows[row++].inlet.station;
        points.push_back({profile[i - 1].distance_m, inlet.total_pressure_Pa, inlet.static_pressure_Pa,
                          inlet.velocity_m_s, inlet.total_temperature_K, inlet.mach, step});
      }
      points.push_back(profile[i]);
    }
  }
  return points;
}

} // namespace

double PathSpans::fair_band_m(const Evaluation& evaluation) {
  const auto& profile = evaluation.path.profile;
  const double length_m = profile.empty() ? 0 : profile.back().distance_m - profile.front().distance_m;
  return length_m > 0 ? band_share * length_m : band_without_runs_m;
}

PathSpans::PathSpans(const build::Build& build, const Evaluation& evaluation, double band_m)
    : profile_(with_inlets(build, evaluation)) {
  double shift = 0;
  for (std::size_t i = 0; i < profile_.size();) {
    const std::size_t step = profile_[i].step;
    std::size_t end = i;
    while (end < profile_.size() && profile_[end].step == step)
      ++end;
    PathSpan span{step,
                  false,
                  {},
                  profile_[i].distance_m + shift,
                  0,
                  profile_[i].distance_m,
                  profile_[end - 1].distance_m};
    const auto* id = std::get_if<build::MachineId>(&build.path[step]);
    if (id) {
      const build::Machine* machine = build.find(*id);
      span.machine = true;
      span.name = with_branch(build, step, machine ? QString::fromStdString(machine->name) : QString());
    } else {
      span.name = with_branch(build, step, run_name(std::get<build::RunId>(build.path[step])));
    }
    for (std::size_t k = i; k < end; ++k) {
      const double share = end - i > 1 ? static_cast<double>(k - i) / static_cast<double>(end - i - 1) : 0;
      x_.push_back(profile_[k].distance_m + shift + (id ? band_m * share : 0));
    }
    shift += id ? band_m : 0;
    span.to_x = span.to_m + shift;
    if (id) {
      parts_.push_back({PickedMachine{*id}, span.from_x, span.to_x});
    } else if (const RunResult* run = find_run(evaluation, std::get<build::RunId>(build.path[step]))) {
      // The stream may follow a piece by a hair another way than its centreline (the polygon of a mitred
      // bend).
      const double share = run->length_m > 0 ? (span.to_x - span.from_x) / run->length_m : 0;
      double x = span.from_x;
      for (std::size_t row = 0; row < run->fit.rows.size(); ++row) {
        const double next = x + share * run->fit.rows[row].centreline_length_m;
        parts_.push_back({PickedPiece{run->id, row}, x, next});
        x = next;
      }
    }
    spans_.push_back(std::move(span));
    i = end;
  }
}

QList<QPointF> PathSpans::points(const std::function<double(const flow::PathPoint&)>& value) const {
  QList<QPointF> points;
  points.reserve(static_cast<qsizetype>(profile_.size()));
  for (std::size_t i = 0; i < profile_.size(); ++i)
    points << QPointF(x_[i], value(profile_[i]));
  return points;
}

std::optional<flow::PathPoint> PathSpans::state_at(double x) const {
  if (x_.empty() || x < x_.front() || x > x_.back())
    return std::nullopt;
  const auto above = std::ranges::lower_bound(x_, x);
  const auto next = static_cast<std::size_t>(above - x_.begin());
  if (next == 0)
    return profile_.front();
  const flow::PathPoint &a = profile_[next - 1], &b = profile_[next];
  const double share = (x - x_[next - 1]) / (x_[next] - x_[next - 1]);
  return flow::PathPoint{between(a.distance_m, b.distance_m, share),
                         between(a.total_pressure_Pa, b.total_pressure_Pa, share),
                         between(a.static_pressure_Pa, b.static_pressure_Pa, share),
                         between(a.velocity_m_s, b.velocity_m_s, share),
                         between(a.total_temperature_K, b.total_temperature_K, share),
                         between(a.mach, b.mach, share),
                         b.step};
}

double PathSpans::x_of(double distance_m) const {
  for (const PathSpan& span : spans_)
    if (!span.machine && distance_m >= span.from_m && distance_m <= span.to_m)
      return span.from_x + distance_m - span.from_m;
  return distance_m;
}

const PathPart* PathSpans::part_at(double x) const {
  // Fittings have no length: what is wide enough to be hit comes before them.
  const auto found = std::ranges::find_if(parts_, [x](const PathPart& part) {
    return part.from_x <= x && x <= part.to_x && part.to_x > part.from_x;
  });
  return found == parts_.end() ? nullptr : &*found;
}

const PathPart* PathSpans::part_of(const Selection& selection) const {
  const auto found = std::ranges::find(parts_, selection, &PathPart::selection);
  return found == parts_.end() ? nullptr : &*found;
}

} // namespace bellmouth::ui
