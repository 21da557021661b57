// SPDX-License-Identifier: GPL-3.0-or-later
// Seams to weld, and their lengths.
#include "parts.hpp"

#include <bellmouth/joint/threads.hpp>

#include <cassert>
#include <cmath>
#include <numbers>
#include <variant>

namespace bellmouth::list {
namespace {

/// Outside diameter of a boss over that of its thread, at least (common practice, no source found).
constexpr double boss_over_thread = 1.5;

class Seams {
public:
  Seams(const Work& work, std::size_t run, const Air& air, std::vector<WeldLine>& welds)
      : work_(work), run_index_(run), run_(*work.runs[run]), air_(air), welds_(welds) {}

  void butt(const joint::Joint& joint) {
    WeldLine& line =
        add(WeldLine::Kind::butt, joint.upstream.row ? joint.upstream.row : joint.downstream.row);
    if (joint.upstream.row && joint.downstream.row) {
      line.pieces.push_back(reference(work_, run_, *joint.downstream.row));
      if (joint.downstream.material != joint.upstream.material)
        line.other = joint.downstream.material;
    } else {
      line.port_first = !joint.upstream.row;
      line.port = line.port_first ? run_.from : run_.to;
    }
    line.diameter_m = joint.upstream.outer_diameter_m;
    line.length_m = butt_seam_m(line.diameter_m);
  }

  void within(std::size_t row) {
    const build::Piece& piece = run_.pieces[row];
    const auto* const bend = std::get_if<build::MitredBend>(&piece.shape);
    if (bend == nullptr || bought_welded(work_, piece))
      return;
    WeldLine& line = add(WeldLine::Kind::mitre, row);
    line.diameter_m = bend->outer_diameter_m;
    line.count = bend->joints;
    line.length_m = mitre_seam_m(bend->outer_diameter_m, bend->angle_rad / (2 * bend->joints));
  }

  void foot(std::size_t row, std::size_t host) {
    const build::Shape& shape = run_.pieces[row].shape;
    const build::Shape& on = run_.pieces[host].shape;
    const auto* const flange = std::get_if<build::ValveFlange>(&shape);
    double foot_m = 0;
    if (flange != nullptr)
      foot_m = flange->bore_m + 2 * build::wall_m(on); // a stub of the host's wall
    else if (const auto* const thread = joint::find_thread(std::get<build::SensorBoss>(shape).thread))
      foot_m = boss_over_thread * thread->major_diameter_m;
    else
      return; // a thread that is not known has no size
    WeldLine& line = add(flange != nullptr ? WeldLine::Kind::flange : WeldLine::Kind::boss, row);
    line.pieces.push_back(reference(work_, run_, host));
    if (run_.pieces[host].material != line.material)
      line.other = run_.pieces[host].material;
    line.diameter_m = foot_m;
    line.length_m = saddle_seam_m(foot_m, build::outer_diameter_in_m(on));
  }

private:
  WeldLine& add(WeldLine::Kind kind, const std::optional<std::size_t>& row) {
    WeldLine& line = welds_.emplace_back();
    line.kind = kind;
    if (row) {
      line.pieces.push_back(reference(work_, run_, *row));
      line.material = run_.pieces[*row].material;
      line.temperature_K = air_.temperature_K(run_index_, *row);
    }
    return line;
  }

  const Work& work_;
  std::size_t run_index_;
  const build::Run& run_;
  const Air& air_;
  std::vector<WeldLine>& welds_;
};

} // namespace

double butt_seam_m(double diameter_m) {
  return std::numbers::pi * diameter_m;
}

double mitre_seam_m(double diameter_m, double cut_rad) {
  assert(cut_rad >= 0 && cut_rad < std::numbers::pi / 2);
  return 2 * diameter_m / std::cos(cut_rad) * std::comp_ellint_2(std::sin(cut_rad));
}

double saddle_seam_m(double foot_m, double tube_m) {
  // On the foot's circle at an angle t from the tube's axis the seam lies sqrt(R^2 - r^2 sin^2 t) above that
  // axis. An even periodic function: the trapezium rule over a quarter settles fast.
  const double r = std::min(foot_m, tube_m) / 2, big = tube_m / 2;
  constexpr int steps = 32;
  constexpr double step_rad = std::numbers::pi / 2 / steps;
  static const double step_cosine = std::cos(step_rad), step_sine = std::sin(step_rad);
  double sum = 0, cosine = 1, sine = 0;
  for (int i = 0; i <= steps; ++i) {
    const double height2 = (big * big - r * r) + r * r * cosine * cosine;
    const double fall2 = height2 > 0 ? r * r * sine * sine * cosine * cosine / height2 : sine * sine;
    sum += (i == 0 || i == steps ? 0.5 : 1.0) * std::sqrt(1 + fall2);
    const double next = cosine * step_cosine - sine * step_sine;
    sine = sine * step_cosine + cosine * step_sine;
    cosine = next;
  }
  return 4 * r * sum * step_rad;
}

void list_welds(const Work& work, const Air& air, Lists& lists) {
  for (std::size_t i = 0; i < work.runs.size(); ++i) {
    const build::Run& run = *work.runs[i];
    const joint::RunFit& fit = work.fits[i];
    Seams seams(work, i, air, lists.welds);
    for (const joint::Joint& joint : fit.joints) {
      if (joint.kind == joint::Kind::weld)
        seams.butt(joint);
      if (!joint.downstream.row)
        continue;
      std::size_t row = *joint.downstream.row;
      const std::size_t host = row;
      seams.within(host);
      while (++row < run.pieces.size() && build::is_fitting(run.pieces[row].shape))
        seams.foot(row, host);
    }
  }
}

} // namespace bellmouth::list
