// SPDX-License-Identifier: GPL-3.0-or-later
// From a build and an option to the list of elements that a march walks over.
#include "compile.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace bellmouth::flow {
namespace {

/// Two bores nearer than this are one: no step is worth speaking of.
constexpr double same_bore_m = 1e-5;
/// No measured losses of short gaps between tube ends inside a hose were found; a full sudden expansion and
/// contraction is an upper bound, and that is the figure used: the band reaches half-way down and not up.
constexpr double gap_band_low = 0.5;
/// Relative uncertainty of a friction factor (explicit formulas and smooth-pipe measurements lie within 5 %
/// of Colebrook-White).
constexpr double friction_band = 0.05;

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

loss::Entry entry_of(const build::OpenInlet& inlet, double bore_m) {
  switch (inlet.kind) {
  case build::OpenInlet::Kind::flush:
    return {loss::EntryKind::flush, 0, false};
  case build::OpenInlet::Kind::projecting:
    return {loss::EntryKind::projecting, 0, false};
  case build::OpenInlet::Kind::bellmouth:
    break;
  }
  return {loss::EntryKind::bellmouth, inlet.lip_radius_m / bore_m, false};
}

class Compiler {
public:
  Compiler(const build::Build& build, const build::Option& option, const std::vector<joint::RunFit>& fits)
      : build_(build), option_(option), fits_(fits) {}

  std::unique_ptr<Path::Impl> compile() {
    path_->demand = build_.demand;
    path_->plenum_exit_loss = build_.plenum_exit_loss;
    const auto ambient = build::ambient_air(build_.ambient);
    ambient_ = ambient;
    path_->air = ambient.air;
    path_->ambient_pressure_Pa = ambient.pressure_Pa;
    path_->inlet_pressure_Pa = ambient.pressure_Pa;
    path_->inlet_temperature_K = ambient.temperature_K;
    const auto* bench = std::get_if<build::FixedFlow>(&build_.demand);
    if (bench != nullptr) {
      path_->inlet_pressure_Pa = bench->inlet_total_pressure_Pa;
      path_->inlet_temperature_K = bench->inlet_total_temperature_K;
    }
    std::size_t runs = 0;
    for (step_ = 0; step_ < build_.path.size(); ++step_) {
      const bool from_open_air = step_ == 0 && bench == nullptr;
      if (const auto* run = std::get_if<build::RunId>(&build_.path[step_])) {
        const build::Run* found = option_.find(*run);
        assert(found != nullptr);
        add_run(*found, fits_.at(runs++), from_open_air);
      } else {
        const auto* machine = build_.find(std::get<build::MachineId>(build_.path[step_]));
        assert(machine != nullptr);
        add_machine(*machine, from_open_air);
      }
    }
    path_->last_bore_m = bore_;
    for (const auto& element : path_->elements)
      if (!path_->steps[element.step].is_run)
        path_->machines_only.push_back(element);
    for (const auto& element : path_->elements) {
      if (const auto* displacement = std::get_if<DisplacementElement>(&element.law))
        path_->displacement = &displacement->blower;
      if (const auto* target = std::get_if<TargetElement>(&element.law))
        path_->target = &target->compressor;
    }
    return std::move(path_);
  }

private:
  void push(const Law& law, std::size_t row, double length_m = 0) {
    path_->elements.push_back({law, step_, row, length_m});
  }

  /// A bore with its place among the friction factors.
  Bore bore_of(double bore_m, double roughness_m) {
    const auto same = [&](const Stretch& s) { return s.bore_m == bore_m && s.roughness_m == roughness_m; };
    const auto begin = stretches_.begin() + static_cast<std::ptrdiff_t>(section_begin_);
    auto found = std::find_if(begin, stretches_.end(), same);
    if (found == stretches_.end())
      found = stretches_.insert(stretches_.end(), {bore_m, roughness_m});
    const auto slot = static_cast<std::size_t>(found - stretches_.begin());
    return {bore_m, disc_m2(bore_m), roughness_m / bore_m, std::min(slot, no_slot)};
  }
  /// Temperature changes here: friction factors from before do not hold behind.
  void begin_section() { section_begin_ = stretches_.size(); }

  void push_loss(const loss::Law& law, double bore_m, std::size_t row, double roughness_m = 0,
                 double length_m = 0) {
    if (law.constant == 0 && law.per_friction == 0)
      return;
    push(LossElement{law, bore_of(bore_m, roughness_m)}, row, length_m);
  }

  void push_straight(double length_m, double bore_m, double roughness_m, std::size_t row) {
    if (length_m > 0)
      push(DuctElement{length_m / bore_m, bore_of(bore_m, roughness_m), friction_band}, row, length_m);
  }

  /// A sudden change from the bore so far; `in_hose` widens the band.
  void push_step(double to_bore_m, bool in_hose, std::size_t row) {
    if (bore_ > 0 && std::abs(to_bore_m - bore_) > same_bore_m) {
      auto law = loss::law(loss::Step{bore_, to_bore_m});
      if (in_hose) {
        law.band_low = std::max(law.band_low, gap_band_low);
        law.band_high = law.band_absolute = 0;
      }
      push_loss(law, std::min(bore_, to_bore_m), row);
    }
    bore_ = to_bore_m;
  }

  // --- machines

  /// Bore of a machine's port at the neighbouring run, or nothing when the neighbour is a machine or the open
  /// air.
  double port_bore(std::size_t neighbour, bool inlet) const {
    if (neighbour >= build_.path.size())
      return 0;
    const auto* run = std::get_if<build::RunId>(&build_.path[neighbour]);
    if (run == nullptr)
      return 0;
    const build::Run* found = option_.find(*run);
    const build::Port* port = build_.find(inlet ? found->to : found->from);
    return port->bore_m;
  }

  void add_machine(const build::Machine& machine, bool from_open_air) {
    StepPlan plan;
    plan.name = build::title(machine);
    plan.first = path_->elements.size();
    const double bore_in = step_ > 0 ? port_bore(step_ - 1, true) : 0;
    const double bore_out = port_bore(step_ + 1, false);
    plan.bore_in_m = bore_in > 0 ? bore_in : bore_;
    std::visit([&](const auto& kind) { add(kind, from_open_air); }, machine.kind);
    if (bore_out > 0)
      bore_ = bore_out;
    plan.bore_out_m = bore_;
    plan.last = path_->elements.size();
    path_->steps.push_back(std::move(plan));
  }

  /// The way in from the open air belongs to the first piece of a run, or to the machine that begins the
  /// path.
  void enter(double bore_m, bool from_open_air, std::size_t row = no_row) {
    if (from_open_air)
      push_loss(loss::law(entry_of(build_.inlet, bore_m)), bore_m, row);
  }

  void add_restriction(const std::vector<machine::RatedPoint>& rated, double factor) {
    static const air::Mixture dry;
    const double density = dry.density_kg_m3(machine::rating_pressure_Pa, machine::rating_temperature_K);
    const double viscosity = dry.viscosity_Pa_s(machine::rating_temperature_K);
    push(RestrictionElement{machine::fit_drop(rated, density, viscosity), factor}, no_row);
  }

  void add(const machine::Filter& filter, bool) { add_restriction(filter.rated, filter.dirty_factor); }
  void add(const machine::MeterBody& meter, bool from_open_air) {
    enter(meter.bore_m, from_open_air);
    push_loss(loss::law(loss::Fixed{meter.loss_coefficient, machine_band}), meter.bore_m, no_row);
    bore_ = meter.bore_m;
  }
  void add(const machine::DisplacementBlower& blower, bool) {
    push(DisplacementElement{blower}, no_row);
    begin_section();
  }
  void add(const machine::TargetCompressor& compressor, bool) {
    push(TargetElement{compressor}, no_row);
    begin_section();
  }
  void add(const machine::GearedCompressor&, bool) { begin_section(); }
  void add(const machine::ChargeCooler& cooler, bool) {
    add_restriction(cooler.rated, 1);
    push(CoolingElement{cooler.effectiveness, ambient_.temperature_K + cooler.coolant_rise_K}, no_row);
    begin_section();
  }
  void add(const machine::Throttle& throttle, bool from_open_air) {
    enter(throttle.bore_m, from_open_air);
    push_loss(loss::law(loss::Fixed{throttle.loss_coefficient, machine_band}), throttle.bore_m, no_row);
    bore_ = throttle.bore_m;
  }

  // --- runs

  void add_run(const build::Run& run, const joint::RunFit& fit, bool from_open_air) {
    StepPlan plan;
    plan.is_run = true;
    plan.name = run.id.text;
    plan.first = path_->elements.size();
    const build::Port* from = build_.find(run.from);
    const build::Port* to = build_.find(run.to);
    bore_ = from->bore_m;
    plan.bore_in_m = bore_;
    const auto first_row = static_cast<std::size_t>(
        std::ranges::find_if(run.pieces, [](const build::Piece& p) { return !build::is_fitting(p.shape); }) -
        run.pieces.begin());
    const std::size_t entry_row = first_row < run.pieces.size() ? first_row : no_row;
    enter(bore_, from_open_air, entry_row);
    push(GateElement{disc_m2(bore_)}, entry_row);
    plan.rows.resize(run.pieces.size());
    plan.titles.reserve(run.pieces.size());
    std::size_t last = no_row;
    for (std::size_t row = 0; row < run.pieces.size(); ++row) {
      const auto& piece = run.pieces[row];
      plan.titles.emplace_back(build::title(piece));
      RowPlan& planned = plan.rows[row];
      if (build::is_fitting(piece.shape)) {
        place_fitting(planned, run, fit, row);
        continue;
      }
      const bool hidden = build::is_flexible(piece.shape) && fit.rows[row].centreline_length_m <= 0;
      // A step belongs to the hose it is in: to this one, or to the one that was left.
      const bool left_hose = last != no_row && build::is_flexible(run.pieces[last].shape);
      const bool in_hose = left_hose || build::is_flexible(piece.shape);
      const std::size_t owner = left_hose ? last : row;
      if (!hidden) {
        if (owner != row) {
          push_step(build::bore_in_m(piece.shape), in_hose, owner);
          plan.rows[owner].last = path_->elements.size();
        }
        planned.first = path_->elements.size();
        push_step(build::bore_in_m(piece.shape), in_hose, row);
        planned.bore_in_m = bore_;
        planned.volume_m3 = add_free_part(piece, fit.rows[row], row);
        planned.bore_out_m = bore_;
      } else {
        planned.first = path_->elements.size();
        planned.bore_in_m = planned.bore_out_m = bore_;
      }
      if (row == entry_row)
        planned.first = plan.first;
      planned.last = path_->elements.size();
      last = row;
    }
    const bool left_hose = last != no_row && build::is_flexible(run.pieces[last].shape);
    push_step(to->bore_m, left_hose, last);
    push(GateElement{disc_m2(to->bore_m)}, last);
    if (last != no_row)
      plan.rows[last].last = path_->elements.size();
    plan.bore_out_m = bore_;
    plan.last = path_->elements.size();
    path_->steps.push_back(std::move(plan));
  }

  static void place_fitting(RowPlan& planned, const build::Run& run, const joint::RunFit& fit,
                            std::size_t row) {
    planned.host = fit.rows[row].host;
    assert(planned.host.has_value());
    double position = 0;
    if (const auto* boss = std::get_if<build::SensorBoss>(&run.pieces[row].shape))
      position = boss->position_m;
    else
      position = std::get<build::ValveFlange>(run.pieces[row].shape).position_m;
    planned.host_share =
        std::clamp(position / build::full_length_m(run.pieces[*planned.host].shape), 0.0, 1.0);
  }

  /// The part of a piece that the air sees; returns its volume.
  double add_free_part(const build::Piece& piece, const joint::Row& fit, std::size_t row) {
    const double roughness = loss::roughness_m(surface_of(piece));
    return std::visit([&](const auto& shape) { return add(shape, fit, row, roughness); }, piece.shape);
  }

  double add(const build::Tube& tube, const joint::Row& fit, std::size_t row, double roughness) {
    push_straight(fit.centreline_length_m, bore_, roughness, row);
    return disc_m2(build::bore_in_m(tube)) * fit.centreline_length_m;
  }
  double add(const build::TubeBend& bend, const joint::Row&, std::size_t row, double roughness) {
    return add_bend(loss::law(loss::Bend{bend.angle_rad, bend.radius_m / bore_}), bend.leg_in_m,
                    bend.angle_rad * bend.radius_m, bend.leg_out_m, row, roughness);
  }
  double add(const build::MitredBend& bend, const joint::Row&, std::size_t row, double roughness) {
    // The correlation leaves out the friction of the cuts: it is added as that of a straight of the same
    // length.
    const double cuts_m = build::full_length_m(bend) - bend.leg_in_m - bend.leg_out_m;
    auto law = loss::law(loss::SegmentedBend{bend.angle_rad, bend.radius_m / bore_, bore_, bend.joints});
    law.per_friction += cuts_m / bore_;
    return add_bend(law, bend.leg_in_m, cuts_m, bend.leg_out_m, row, roughness);
  }
  double add(const build::Cone& cone, const joint::Row& fit, std::size_t row, double roughness) {
    return add_cone(build::bore_out_m(cone), fit.centreline_length_m, row, roughness);
  }
  double add(const build::Adapter& adapter, const joint::Row& fit, std::size_t row, double roughness) {
    return add_cone(adapter.bore_out_m, fit.centreline_length_m, row, roughness);
  }
  double add(const build::Hose&, const joint::Row& fit, std::size_t row, double roughness) {
    push_straight(fit.centreline_length_m, bore_, roughness, row);
    return disc_m2(bore_) * fit.centreline_length_m;
  }
  double add(const build::HumpHose& hose, const joint::Row& fit, std::size_t row, double roughness) {
    const double hump = std::min(hose.hump_length_m, fit.centreline_length_m);
    const double straight = fit.centreline_length_m - hump;
    push_straight(straight / 2, bore_, roughness, row);
    if (hump > 0) {
      push_step(hose.hump_bore_m, true, row);
      push_straight(hump, hose.hump_bore_m, roughness, row);
      push_step(hose.bore_m, true, row);
    }
    push_straight(straight / 2, bore_, roughness, row);
    return disc_m2(hose.bore_m) * straight + disc_m2(hose.hump_bore_m) * hump;
  }
  double add(const build::HoseElbow& elbow, const joint::Row& fit, std::size_t row, double roughness) {
    const double bore_in = bore_;
    const double small = std::min(elbow.bore_in_m, elbow.bore_out_m);
    const double arc = elbow.angle_rad * elbow.radius_m;
    const double leg_in = std::max(0.0, elbow.leg_in_m - fit.cover_in_m);
    const double leg_out = std::max(0.0, elbow.leg_out_m - fit.cover_out_m);
    push_straight(leg_in, bore_in, roughness, row);
    const auto law = elbow.pleated ? loss::law(loss::PleatedElbow{elbow.angle_rad, small})
                                   : loss::law(loss::Bend{elbow.angle_rad, elbow.radius_m / small});
    push_loss(law, small, row, roughness, arc);
    // An elbow with two bores: a bend of the small bore, and a cone along the arc whose friction is already
    // in the bend.
    if (std::abs(elbow.bore_out_m - elbow.bore_in_m) > same_bore_m) {
      auto cone = loss::law(loss::Cone{elbow.bore_in_m, elbow.bore_out_m, arc});
      cone.per_friction = 0;
      push_loss(cone, small, row);
    }
    bore_ = elbow.bore_out_m;
    push_straight(leg_out, bore_, roughness, row);
    return disc_m2(bore_in) * leg_in + frustum_m3(bore_in, bore_, arc) + disc_m2(bore_) * leg_out;
  }
  double add(const build::HoseReducer& reducer, const joint::Row& fit, std::size_t row, double roughness) {
    return add_cone(reducer.bore_out_m, fit.centreline_length_m, row, roughness);
  }
  double add(const build::SensorBoss&, const joint::Row&, std::size_t, double) { return 0; }
  double add(const build::ValveFlange&, const joint::Row&, std::size_t, double) { return 0; }

  double add_bend(const loss::Law& law, double leg_in_m, double arc_m, double leg_out_m, std::size_t row,
                  double roughness_m) {
    push_straight(leg_in_m, bore_, roughness_m, row);
    push_loss(law, bore_, row, roughness_m, arc_m);
    push_straight(leg_out_m, bore_, roughness_m, row);
    return disc_m2(bore_) * (leg_in_m + arc_m + leg_out_m);
  }

  double add_cone(double to_bore_m, double length_m, std::size_t row, double roughness_m) {
    const double from = bore_;
    if (std::abs(to_bore_m - from) <= same_bore_m)
      push_straight(length_m, from, roughness_m, row);
    else
      push_loss(loss::law(loss::Cone{from, to_bore_m, length_m}), std::min(from, to_bore_m), row, roughness_m,
                length_m);
    bore_ = to_bore_m;
    return frustum_m3(from, to_bore_m, length_m);
  }

  /// Meter bodies and throttles carry a coefficient that the user states; it is taken to be good to a quarter
  /// (common practice).
  static constexpr double machine_band = 0.25;

  struct Stretch {
    double bore_m, roughness_m;
  };

  const build::Build& build_;
  const build::Option& option_;
  const std::vector<joint::RunFit>& fits_;
  build::AmbientAir ambient_{};
  std::unique_ptr<Path::Impl> path_ = std::make_unique<Path::Impl>();
  std::vector<Stretch> stretches_;
  std::size_t section_begin_ = 0;
  std::size_t step_ = 0;
  double bore_ = 0; ///< so far; 0 in the open air
};

} // namespace

std::unique_ptr<Path::Impl> compile(const build::Build& build, const build::Option& option,
                                    const std::vector<joint::RunFit>& fits) {
  return Compiler(build, option, fits).compile();
}

} // namespace bellmouth::flow
