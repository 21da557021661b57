// SPDX-License-Identifier: GPL-3.0-or-later
#include "run_compiler.hpp"

#include <bellmouth/loss/interaction.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace bellmouth::flow {
namespace {

/// Bores that differ by no more than this share count as one where pieces act on each other.
constexpr double alike = 0.05;
/// Two bores nearer than this are one.
constexpr double same_bore_m = 1e-5;

double frustum_m3(double bore_in_m, double bore_out_m, double length_m) {
  return M_PI / 12 * length_m * (bore_in_m * bore_in_m + bore_in_m * bore_out_m + bore_out_m * bore_out_m);
}

loss::Surface surface_of(const build::Piece& piece) {
  switch (piece.material) {
  case build::Material::mild_steel:
    return loss::Surface::welded_steel;
  case build::Material::silicone:
  case build::Material::rubber:
    return loss::Surface::smooth_hose;
  case build::Material::plastic:
    return loss::Surface::plastic;
  case build::Material::aluminium:
  case build::Material::stainless_steel:
    break;
  }
  return loss::Surface::drawn_metal;
}

class RunCompiler {
public:
  RunCompiler(Assembly& assembly, const build::Build& build, const build::Run& run, const joint::RunFit& fit,
              const RunPlace& place)
      : out_(assembly), build_(build), run_(run), fit_(fit), from_(*build.find(run.from)),
        to_(*build.find(run.to)), place_(place) {}

  void compile() {
    plan_.is_run = true;
    plan_.name = run_.id.text;
    plan_.first = place_.first;
    out_.bore_m = from_.bore_m;
    plan_.bore_in_m = out_.bore_m;
    disturbed_ = place_.behind_blower;
    const std::size_t entry_row = next_piece(0);
    out_.in_run(true);
    if (place_.from_open_air)
      out_.enter(out_.bore_m, entry_row);
    out_.push(GateElement{disc_m2(out_.bore_m)}, entry_row);
    plan_.rows.resize(run_.pieces.size());
    plan_.titles.reserve(run_.pieces.size());
    std::size_t last = none;
    for (row_ = 0; row_ < run_.pieces.size(); ++row_) {
      const auto& piece = run_.pieces[row_];
      plan_.titles.emplace_back(build::title(piece));
      if (build::is_fitting(piece.shape)) {
        place_fitting();
        continue;
      }
      add_piece(piece, last);
      if (row_ == entry_row)
        plan_.rows[row_].first = plan_.first;
      last = row_;
    }
    const bool left_hose = last != none && build::is_flexible(run_.pieces[last].shape);
    step_to(to_.bore_m, last, left_hose);
    if (last != none) // what is lost in the step is reported of the last row
      gate(plan_.rows[last].bore_out_m, last);
    out_.push(GateElement{disc_m2(to_.bore_m)}, last);
    if (last != none)
      plan_.rows[last].last = size();
    plan_.bore_out_m = out_.bore_m;
    plan_.last = size();
    out_.in_run(false);
    out_.path.steps.push_back(std::move(plan_));
  }

private:
  std::size_t size() const { return out_.path.elements.size(); }

  /// The first row from `row` on that is a piece of duct, or none.
  std::size_t next_piece(std::size_t row) const {
    while (row < run_.pieces.size() && build::is_fitting(run_.pieces[row].shape))
      ++row;
    return row < run_.pieces.size() ? row : none;
  }
  /// The bore that the air meets behind this row.
  double next_bore_m() const {
    const std::size_t next = next_piece(row_ + 1);
    return next == none ? to_.bore_m : build::bore_in_m(run_.pieces[next].shape);
  }

  void add_piece(const build::Piece& piece, std::size_t last) {
    RowPlan& planned = plan_.rows[row_];
    const bool flexible = build::is_flexible(piece.shape);
    const bool hidden = flexible && fit_.rows[row_].centreline_length_m <= 0;
    // A step belongs to the hose it is in: to this one, or to the one that was left.
    const bool left_hose = last != none && build::is_flexible(run_.pieces[last].shape);
    if (hidden) {
      planned.first = planned.last = size();
      planned.bore_in_m = planned.bore_out_m = out_.bore_m;
      return;
    }
    if (left_hose) {
      const double in_hose_m = out_.bore_m;
      step_to(build::bore_in_m(piece.shape), last, true);
      gate(in_hose_m, last);
      plan_.rows[last].last = size();
    }
    planned.first = size();
    if (!bridges_gap(piece))
      step_to(build::bore_in_m(piece.shape), row_, flexible);
    planned.bore_in_m = out_.bore_m;
    planned.volume_m3 =
        std::visit([&](const auto& shape) { return add(shape, roughness_of(piece)); }, piece.shape);
    planned.bore_out_m = out_.bore_m;
    add_wall(piece, planned);
    gate(out_.bore_m, row_);
    planned.last = size();
  }

  /// What has lost pressure has to get through the bore still; ducts see to that themselves.
  void gate(double bore_m, std::size_t row) {
    const auto& before = out_.path.elements.back().law;
    if (std::holds_alternative<LossElement>(before) || std::holds_alternative<HeatElement>(before))
      out_.push(GateElement{disc_m2(bore_m)}, row);
  }

  static double roughness_of(const build::Piece& piece) {
    const auto* hose = std::get_if<build::Hose>(&piece.shape);
    return loss::roughness_m(hose != nullptr && hose->lining == build::Lining::wire ? loss::Surface::wire_hose
                                                                                    : surface_of(piece));
  }

  void add_wall(const build::Piece& piece, const RowPlan& planned) {
    const double length = fit_.rows[row_].centreline_length_m;
    if (!build_.bay || length <= 0)
      return;
    const double bore = 0.5 * (planned.bore_in_m + planned.bore_out_m);
    out_.path.walls.push_back({bore, build::wall_m(piece.shape), length, piece.material, piece.lagging,
                               roughness_of(piece) / bore});
    out_.push(HeatElement{out_.path.walls.size() - 1}, row_);
  }

  void place_fitting() {
    RowPlan& planned = plan_.rows[row_];
    planned.host = fit_.rows[row_].host;
    assert(planned.host.has_value());
    const auto& host = run_.pieces[*planned.host].shape;
    const auto& shape = run_.pieces[row_].shape;
    planned.first = planned.last = size();
    const double bore = out_.bore_m;
    double position = 0;
    if (const auto* boss = std::get_if<build::SensorBoss>(&shape)) {
      position = boss->position_m;
      if (boss->tip)
        out_.push_loss(
            loss::law(loss::Probe{bore, boss->tip->diameter_m, std::min(boss->tip->depth_m, bore)}), bore,
            row_);
    } else {
      const auto& flange = std::get<build::ValveFlange>(shape);
      position = flange.position_m;
      out_.push_loss(loss::law(loss::SideHole{bore, std::min(bore, flange.bore_m)}), bore, row_);
    }
    planned.host_share = std::clamp(position / build::full_length_m(host), 0.0, 1.0);
    gate(bore, row_);
    planned.last = size();
  }

  // --- what pieces do to each other

  /// Straight duct between the last bend, or whatever else disturbed the stream, and here.
  void go_straight(double length_m) { since_disturbance_m_ += length_m; }

  /// Appends a bend and lets it and the bend before act on each other.
  void push_bend(const loss::Law& law, const loss::Bend& shape, double clocking_rad, double roughness_m,
                 double arc_m, double bore_m) {
    out_.push_loss(law, bore_m, row_, roughness_m, arc_m);
    const std::size_t element = size() - 1;
    const bool near = last_bend_ != none && std::abs(bore_m / last_bend_bore_m_ - 1) < alike &&
                      since_disturbance_m_ < loss::interaction_ends_at * bore_m;
    if (near) {
      const auto between =
          loss::interaction({since_disturbance_m_ / bore_m, clocking_rad, last_bend_shape_.angle_rad,
                             last_bend_shape_.radius_ratio, shape.angle_rad, shape.radius_ratio});
      for (const std::size_t which : {last_bend_, element}) {
        auto& loss = std::get<LossElement>(out_.path.elements[which].law);
        loss.law = loss::beside(loss.law, between);
      }
    }
    last_bend_ = element;
    last_bend_shape_ = shape;
    last_bend_bore_m_ = bore_m;
    since_disturbance_m_ = 0;
    disturbed_ = true;
  }

  void push_cone(double to_bore_m, double length_m, double roughness_m, bool friction = true) {
    const double from = out_.bore_m;
    if (std::abs(to_bore_m - from) <= same_bore_m) {
      out_.push_straight(length_m, from, roughness_m, row_);
    } else {
      auto law = loss::law(loss::Cone{from, to_bore_m, length_m});
      if (!friction)
        law.per_friction = 0;
      if (to_bore_m > from && disturbed_)
        law = loss::behind_disturbance(law, since_disturbance_m_ / from);
      out_.push_loss(law, std::min(from, to_bore_m), row_, roughness_m, length_m);
      last_bend_ = none;
    }
    go_straight(length_m);
    out_.bore_m = to_bore_m;
  }

  /// A step in bore; in a joint of hose and spigot no measurement was found, and the band says so.
  void step_to(double bore_m, std::size_t row, bool in_hose) {
    if (in_hose && std::abs(bore_m - out_.bore_m) > same_bore_m && out_.bore_m > 0) {
      auto law = loss::law(loss::Step{out_.bore_m, bore_m});
      law.band_low = std::max(law.band_low, joint_band);
      law.band_high = std::max(law.band_high, joint_band);
      out_.push_loss(law, std::min(out_.bore_m, bore_m), row);
      out_.bore_m = bore_m;
      return;
    }
    out_.push_step(bore_m, row);
  }
  static constexpr double joint_band = 0.5;

  /// Whether a hose only bridges the gap between two ends of one smaller bore.
  bool bridges_gap(const build::Piece& piece) const {
    const auto* hose = std::get_if<build::Hose>(&piece.shape);
    const auto* hump = std::get_if<build::HumpHose>(&piece.shape);
    if ((hose == nullptr && hump == nullptr) || (hose != nullptr && hose->lining != build::Lining::smooth))
      return false;
    return out_.bore_m > 0 && build::bore_in_m(piece.shape) > out_.bore_m + same_bore_m &&
           std::abs(next_bore_m() / out_.bore_m - 1) < alike;
  }

  // --- pieces; each returns its volume

  double add(const build::Tube&, double roughness) { return straight(roughness); }
  double add(const build::TubeBend& bend, double roughness) {
    const loss::Bend shape{bend.angle_rad, bend.radius_m / out_.bore_m, roughness / out_.bore_m};
    return add_bend(loss::law(shape), shape, bend, bend.angle_rad * bend.radius_m, roughness);
  }
  double add(const build::MitredBend& bend, double roughness) {
    // The correlation leaves out the friction of the cuts: it is added as that of a straight of the same
    // length.
    const double cuts_m = build::full_length_m(bend) - bend.leg_in_m - bend.leg_out_m;
    const loss::Bend shape{bend.angle_rad, bend.radius_m / out_.bore_m};
    auto law = loss::law(loss::SegmentedBend{bend.angle_rad, shape.radius_ratio, out_.bore_m, bend.joints});
    law.per_friction += cuts_m / out_.bore_m;
    return add_bend(law, shape, bend, cuts_m, roughness);
  }
  double add(const build::Cone& cone, double roughness) {
    return add_cone(build::bore_out_m(cone), roughness);
  }
  double add(const build::Adapter& adapter, double roughness) {
    return add_cone(adapter.bore_out_m, roughness);
  }
  double add(const build::HoseReducer& reducer, double roughness) {
    return add_cone(reducer.bore_out_m, roughness);
  }

  double add(const build::Hose& hose, double roughness) {
    const double length = fit_.rows[row_].centreline_length_m;
    if (bridges_gap(run_.pieces[row_])) {
      out_.push_loss(loss::law(loss::Gap{out_.bore_m, hose.bore_m, length}), out_.bore_m, row_, roughness,
                     length);
      go_straight(length);
      return disc_m2(hose.bore_m) * length;
    }
    if (hose.lining == build::Lining::smooth)
      return straight(roughness);
    const auto law = hose.lining == build::Lining::corrugated
                         ? loss::law(loss::CorrugatedHose{length, out_.bore_m})
                         : loss::law(loss::WireHose{length, out_.bore_m});
    out_.push_loss(law, out_.bore_m, row_, roughness, length);
    go_straight(length);
    return disc_m2(out_.bore_m) * length;
  }
  double add(const build::HumpHose& hose, double roughness) {
    const double length = fit_.rows[row_].centreline_length_m;
    const double hump = std::min(hose.hump_length_m, length);
    const double half = (length - hump) / 2;
    if (bridges_gap(run_.pieces[row_])) { // the jet from tube to tube does not see the hose's own bore
      out_.push_loss(loss::law(loss::Hump{out_.bore_m, hose.hump_bore_m, length}), out_.bore_m, row_,
                     roughness, length);
      go_straight(length);
      return disc_m2(hose.bore_m) * 2 * half + disc_m2(hose.hump_bore_m) * hump;
    }
    out_.push_straight(half, out_.bore_m, roughness, row_);
    if (hump > 0)
      out_.push_loss(loss::law(loss::Hump{hose.bore_m, hose.hump_bore_m, hump}), hose.bore_m, row_, roughness,
                     hump);
    out_.push_straight(half, out_.bore_m, roughness, row_);
    go_straight(length);
    return disc_m2(hose.bore_m) * 2 * half + disc_m2(hose.hump_bore_m) * hump;
  }
  double add(const build::HoseElbow& elbow, double roughness) {
    const auto& fit = fit_.rows[row_];
    const double bore_in = out_.bore_m;
    const double small = std::min(elbow.bore_in_m, elbow.bore_out_m);
    const double arc = elbow.angle_rad * elbow.radius_m;
    const double leg_in = std::max(0.0, elbow.leg_in_m - fit.cover_in_m);
    const double leg_out = std::max(0.0, elbow.leg_out_m - fit.cover_out_m);
    out_.push_straight(leg_in, bore_in, roughness, row_);
    go_straight(leg_in);
    // Of what make the mould is, nobody says: the band reaches to the elbows pressed from sheet.
    const loss::Bend shape{elbow.angle_rad, elbow.radius_m / small, roughness / small, small};
    const auto law = elbow.pleated ? loss::law(loss::PleatedElbow{elbow.angle_rad, small}) : loss::law(shape);
    push_bend(law, shape, elbow.clocking_rad, roughness, arc, small);
    // An elbow with two bores: a bend of the small bore, and a cone along the arc whose friction is already
    // in the bend.
    if (std::abs(elbow.bore_out_m - elbow.bore_in_m) > same_bore_m) {
      auto cone = loss::law(loss::Cone{elbow.bore_in_m, elbow.bore_out_m, arc});
      cone.per_friction = 0;
      out_.push_loss(cone, small, row_);
    }
    out_.bore_m = elbow.bore_out_m;
    out_.push_straight(leg_out, out_.bore_m, roughness, row_);
    go_straight(leg_out);
    return disc_m2(bore_in) * leg_in + frustum_m3(bore_in, out_.bore_m, arc) + disc_m2(out_.bore_m) * leg_out;
  }
  double add(const build::SensorBoss&, double) { return 0; }
  double add(const build::ValveFlange&, double) { return 0; }

  double straight(double roughness) {
    const double length = fit_.rows[row_].centreline_length_m;
    out_.push_straight(length, out_.bore_m, roughness, row_);
    go_straight(length);
    return disc_m2(out_.bore_m) * length;
  }
  double add_bend(const loss::Law& law, const loss::Bend& shape, const auto& bend, double arc_m,
                  double roughness) {
    out_.push_straight(bend.leg_in_m, out_.bore_m, roughness, row_);
    go_straight(bend.leg_in_m);
    push_bend(law, shape, bend.clocking_rad, roughness, arc_m, out_.bore_m);
    out_.push_straight(bend.leg_out_m, out_.bore_m, roughness, row_);
    go_straight(bend.leg_out_m);
    return disc_m2(out_.bore_m) * (bend.leg_in_m + arc_m + bend.leg_out_m);
  }
  double add_cone(double to_bore_m, double roughness) {
    const double from = out_.bore_m, length = fit_.rows[row_].centreline_length_m;
    push_cone(to_bore_m, length, roughness);
    return frustum_m3(from, to_bore_m, length);
  }

  Assembly& out_;
  const build::Build& build_;
  const build::Run& run_;
  const joint::RunFit& fit_;
  const build::Port& from_;
  const build::Port& to_;
  RunPlace place_;
  StepPlan plan_;
  std::size_t row_ = 0;
  double since_disturbance_m_ = 0;
  bool disturbed_ = false; ///< a bend or a blower stands ahead in this bore
  std::size_t last_bend_ = none;
  loss::Bend last_bend_shape_{};
  double last_bend_bore_m_ = 0;
};

} // namespace

void compile_run(Assembly& assembly, const build::Build& build, const build::Run& run,
                 const joint::RunFit& fit, const RunPlace& place) {
  RunCompiler(assembly, build, run, fit, place).compile();
}

} // namespace bellmouth::flow
