// SPDX-License-Identifier: GPL-3.0-or-later
// From a build and an option to the list of elements that a march walks over: the order of the path, branches
// and machines. Runs: run_compiler.cpp.
#include "compile.hpp"

#include "run_compiler.hpp"

#include <bellmouth/loss/inserts.hpp>
#include <bellmouth/machine/bands.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace bellmouth::flow {
namespace {

class Compiler {
public:
  Compiler(const build::Build& build, const build::Option& option, const std::vector<joint::RunFit>& fits)
      : build_(build), option_(option), fits_(fits), path_(std::make_unique<Path::Impl>()),
        out_(*path_, build) {}

  std::unique_ptr<Path::Impl> compile() {
    path_->demand = build_.demand;
    path_->plenum_exit_loss = build_.plenum_exit_loss;
    path_->bay = build_.bay;
    const auto ambient = build::ambient_air(build_.ambient);
    ambient_K_ = ambient.temperature_K;
    path_->air = ambient.air;
    path_->ambient_pressure_Pa = ambient.pressure_Pa;
    path_->inlet_pressure_Pa = ambient.pressure_Pa;
    path_->inlet_temperature_K = ambient.temperature_K;
    if (const auto* bench = std::get_if<build::FixedFlow>(&build_.demand)) {
      path_->inlet_pressure_Pa = bench->inlet_total_pressure_Pa;
      path_->inlet_temperature_K = bench->inlet_total_temperature_K;
    }
    path_->flow_unknown = std::holds_alternative<machine::Engine>(build_.demand);
    path_->unknowns = path_->flow_unknown ? 1 : 0;
    path_->tuning = {factor(build::Coefficient::engine_volumetric_efficiency),
                     factor(build::Coefficient::blower_volumetric_efficiency),
                     factor(build::Coefficient::blower_adiabatic_efficiency),
                     factor(build::Coefficient::cooler_effectiveness),
                     1.0,
                     1.0};
    for (step_ = 0; step_ < build_.path.size(); ++step_) {
      out_.step = step_;
      begin_ = path_->elements.size();
      open_branches();
      if (const auto* run = std::get_if<build::RunId>(&build_.path[step_]))
        add_run(*run);
      else
        add_machine(*build_.find(std::get<build::MachineId>(build_.path[step_])));
      close_branches();
    }
    path_->last_bore_m = out_.bore_m;
    note_tuned_doubts();
    join_stretches();
    return std::move(path_);
  }

private:
  double factor(build::Coefficient coefficient) const {
    const auto* measured = build_.find(coefficient);
    return measured != nullptr ? measured->factor : 1.0;
  }

  /// A duct of one bore and wall may belong to several pieces; friction does not care (Fanno flow is
  /// additive).
  void join_stretches() {
    for (std::size_t i = 0; i < path_->elements.size(); ++i) {
      Element& element = path_->elements[i];
      element.origin = i;
      const auto* duct = std::get_if<DuctElement>(&element.law);
      auto* before = path_->joined.empty() ? nullptr : std::get_if<DuctElement>(&path_->joined.back().law);
      if (duct != nullptr && before != nullptr && duct->bore == before->bore &&
          element.scale == path_->joined.back().scale)
        before->friction_length_per_f += duct->friction_length_per_f;
      else
        path_->joined.push_back(element);
    }
  }

  /// What is in doubt about the machines beside their drops.
  void note_tuned_doubts() {
    const auto note = [this](build::Coefficient coefficient, const char* name, const machine::Band& band,
                             double Tuning::*what) {
      const auto* measured = build_.find(coefficient);
      const double width = measured != nullptr ? measured->band : band.half_width;
      path_->tuned_doubts.push_back(
          {{name, std::string(measured != nullptr ? "measured" : band.source), width, width}, what});
    };
    const auto assume = [this](const char* name, const machine::Band& band, double Tuning::*what) {
      path_->tuned_doubts.push_back(
          {{name, std::string(band.source), band.half_width, band.half_width}, what});
    };
    if (const auto* engine = std::get_if<machine::Engine>(&build_.demand)) {
      note(build::Coefficient::engine_volumetric_efficiency, "engine's volumetric efficiency",
           machine::engine_filling_band, &Tuning::engine_filling);
      if (!engine->work_per_air_J_kg)
        assume("crank work of the air", machine::work_per_air_band, &Tuning::crank_work);
    }
    if (!path_->walls.empty())
      assume("heat through the walls", machine::wall_heat_band, &Tuning::wall_heat);
    if (!path_->coolers.empty())
      note(build::Coefficient::cooler_effectiveness, "cooler's effectiveness",
           machine::cooler_effectiveness_band, &Tuning::cooling);
    if (path_->blowers.empty())
      return;
    note(build::Coefficient::blower_adiabatic_efficiency, "blower's adiabatic efficiency",
         machine::blower_efficiency_band, &Tuning::blower_efficiency);
    if (path_->blowers.front().target() == nullptr)
      note(build::Coefficient::blower_volumetric_efficiency, "blower's volumetric efficiency",
           machine::blower_filling_band, &Tuning::blower_filling);
  }

  // --- branches

  const build::BranchId& branch_at(std::size_t step) const { return build_.path[step].branch; }
  bool begins_branch() const {
    return !branch_at(step_).text.empty() && (step_ == 0 || branch_at(step_) != branch_at(step_ - 1));
  }
  bool ends_branch() const {
    return !branch_at(step_).text.empty() &&
           (step_ + 1 == build_.path.size() || branch_at(step_) != branch_at(step_ + 1));
  }

  void open_branches() {
    if (!begins_branch())
      return;
    const bool first = step_ == 0 || branch_at(step_ - 1).text.empty();
    if (first) {
      group_begin_ = step_;
      branch_ = 0;
      bore_at_split_m_ = out_.bore_m;
      std::size_t branches = 0;
      for (std::size_t i = step_; i < build_.path.size() && !branch_at(i).text.empty(); ++i)
        branches += i == step_ || branch_at(i) != branch_at(i - 1);
      path_->groups.push_back({branches, path_->unknowns});
      path_->unknowns += branches - 1;
      out_.push(SplitElement{path_->groups.size() - 1}, none);
    } else {
      ++branch_;
      out_.bore_m = bore_at_split_m_;
      out_.push(BranchElement{}, none);
    }
    begin_ = path_->elements.size();
    push_junction(build_.find(branch_at(step_))->split_loss, bore_of_run(step_, true));
  }

  void close_branches() {
    if (!ends_branch())
      return;
    const double bore = bore_of_run(step_, false);
    if (push_junction(build_.find(branch_at(step_))->join_loss, bore)) {
      out_.push(GateElement{disc_m2(bore)}, none);
      add_to_step();
    }
    enter_plenum_by_branch();
    const bool last = step_ + 1 == build_.path.size() || branch_at(step_ + 1).text.empty();
    if (!last)
      return;
    out_.push(JoinElement{}, none);
    branch_ = 0;
    out_.bore_m = 0; // the air is in a space between the branches and what follows
  }

  /// Where the path ends in branches, each enters the manifold with its own velocity: a plate of the area in
  /// which the share of the dynamic pressure that is lost would be all of it.
  void enter_plenum_by_branch() {
    std::size_t behind = step_;
    while (behind < build_.path.size() && !branch_at(behind).text.empty())
      ++behind;
    if (behind == build_.path.size() && path_->flow_unknown && path_->plenum_exit_loss > 0 && out_.bore_m > 0)
      out_.push(PlateElement{disc_m2(out_.bore_m) / std::sqrt(path_->plenum_exit_loss), none}, none);
  }

  /// What was appended last belongs to the step, and to its last row.
  void add_to_step() {
    StepPlan& plan = path_->steps.back();
    plan.last = path_->elements.size();
    const auto row = std::find_if(plan.rows.rbegin(), plan.rows.rend(),
                                  [](const RowPlan& planned) { return !planned.host; });
    if (row != plan.rows.rend())
      row->last = plan.last;
  }

  /// Whether there is anything to lose.
  bool push_junction(double coefficient, double bore_m) {
    if (coefficient <= 0 || bore_m <= 0)
      return false;
    out_.push_loss(loss::law(loss::Fixed{coefficient, machine::junction_band.half_width}), bore_m, none);
    return true;
  }

  /// Bore of the port at which a run begins or ends; for a machine the bore so far.
  double bore_of_run(std::size_t step, bool at_its_beginning) const {
    const auto* id = std::get_if<build::RunId>(&build_.path[step]);
    if (id == nullptr)
      return out_.bore_m;
    const build::Run* run = option_.find(*id);
    return build_.find(at_its_beginning ? run->from : run->to)->bore_m;
  }

  bool from_open_air() const {
    if (!path_->flow_unknown)
      return false;
    return step_ == 0 || (begins_branch() && group_begin_ == 0);
  }

  void add_run(const build::RunId& id) {
    const build::Run* run = option_.find(id);
    assert(run != nullptr);
    const auto before = build::step_before(build_.path, step_);
    const auto* machine = before ? std::get_if<build::MachineId>(&build_.path[*before]) : nullptr;
    const bool behind_blower = machine != nullptr && build::is_blower(build_.find(*machine)->kind);
    compile_run(out_, build_, *run, fits_.at(runs_++), {from_open_air(), behind_blower, begin_});
    path_->steps.back().branch = branch_;
  }

  // --- machines

  /// Bore of a machine's port at a neighbouring run, or nothing when the neighbour is a machine, the open
  /// air, or several branches.
  double port_bore(std::optional<std::size_t> neighbour, bool inlet) const {
    const auto* id = neighbour ? std::get_if<build::RunId>(&build_.path[*neighbour]) : nullptr;
    if (id == nullptr)
      return 0;
    const build::Run* run = option_.find(*id);
    return build_.find(inlet ? run->to : run->from)->bore_m;
  }

  void add_machine(const build::Machine& machine) {
    StepPlan plan;
    plan.name = build::title(machine);
    plan.branch = branch_;
    plan.first = begin_;
    const double bore_in = port_bore(build::step_before(build_.path, step_), true);
    const double bore_out = port_bore(build::step_behind(build_.path, step_), false);
    plan.bore_in_m = bore_in > 0 ? bore_in : out_.bore_m;
    std::visit([&](const auto& kind) { add(kind); }, machine.kind);
    if (bore_out > 0)
      out_.bore_m = bore_out;
    plan.bore_out_m = out_.bore_m;
    // What leaves a machine has to pass its spigot, or the bore so far where it is bolted to the next.
    if (plan.bore_out_m > 0)
      out_.push(GateElement{disc_m2(plan.bore_out_m)}, none);
    plan.last = path_->elements.size();
    path_->steps.push_back(std::move(plan));
  }

  /// A figure's measured factor, and its source of doubt: the measurement's where there is one.
  struct Trust {
    double factor;
    std::size_t doubt;
  };
  Trust trust(build::Coefficient coefficient, std::string_view name, const machine::Band& band) {
    if (const auto* measured = build_.find(coefficient))
      return {measured->factor, out_.doubt_of(name, "measured", measured->band, measured->band)};
    return {1.0, out_.doubt_of(name, band.source, band.half_width, band.half_width)};
  }

  void add(const machine::Filter& filter) {
    const auto* engine = std::get_if<machine::Engine>(&build_.demand);
    const auto [factor, doubt] =
        trust(build::Coefficient::filter_drop, "filter drop", machine::filter_drop_band);
    out_.push(RestrictionElement{filter.drop(engine != nullptr ? engine->pulsation_factor : 1.0)}, none, 0,
              doubt, factor);
  }
  void add(const machine::MeterBody& meter) {
    enter(meter.bore_m);
    push_stated(meter.loss_coefficient, meter.bore_m);
    if (meter.screen)
      out_.push_loss(
          loss::law(loss::Gauze{meter.bore_m, meter.screen->wire_diameter_m, meter.screen->pitch_m}),
          meter.bore_m, none);
    out_.bore_m = meter.bore_m;
  }
  void add_blower(const auto& kind, bool ratio_unknown) {
    path_->blowers.emplace_back(kind);
    out_.push(BlowerElement{path_->blowers.size() - 1, ratio_unknown ? path_->unknowns++ : none}, none);
  }
  void add(const machine::DisplacementBlower& blower) { add_blower(blower, true); }
  void add(const machine::GearedCompressor& compressor) { add_blower(compressor, true); }
  void add(const machine::TargetCompressor& compressor) {
    const bool in_manifold = compressor.target_at == machine::TargetAt::manifold;
    if (in_manifold)
      path_->manifold_target_Pa = compressor.target_pressure_Pa;
    add_blower(compressor, in_manifold);
  }
  void add(const machine::ChargeCooler& cooler) {
    path_->coolers.emplace_back(cooler);
    const auto [factor, doubt] =
        trust(build::Coefficient::cooler_drop, "cooler drop", machine::cooler_drop_band);
    out_.push(RestrictionElement{path_->coolers.back().drop()}, none, 0, doubt, factor);
    out_.push(CoolingElement{path_->coolers.size() - 1, ambient_K_ + cooler.coolant_rise_K}, none);
  }
  void add(const machine::Throttle& throttle) {
    enter(throttle.bore_m);
    if (throttle.opening_rad) {
      const auto law = loss::law(loss::Butterfly{*throttle.opening_rad, throttle.loss_coefficient});
      const bool may_choke = path_->flow_unknown && branch_at(step_).text.empty();
      const std::size_t throat = may_choke ? path_->unknowns++ : none;
      out_.push(PlateElement{disc_m2(throttle.bore_m) / std::sqrt(law.constant), throat}, none, 0,
                out_.doubt_of("throttle plate", law.source, law.band_low, law.band_high));
    } else {
      push_stated(throttle.loss_coefficient, throttle.bore_m);
    }
    out_.bore_m = throttle.bore_m;
  }

  void enter(double bore_m) {
    if (from_open_air())
      out_.enter(bore_m);
  }
  void push_stated(double coefficient, double bore_m) {
    out_.push_loss(loss::law(loss::Fixed{coefficient, machine::stated_loss_band.half_width}), bore_m, none);
  }

  const build::Build& build_;
  const build::Option& option_;
  const std::vector<joint::RunFit>& fits_;
  std::unique_ptr<Path::Impl> path_;
  Assembly out_;
  double ambient_K_ = 0;
  std::size_t step_ = 0, runs_ = 0;
  std::size_t begin_ = 0; ///< first element of this step
  std::size_t group_begin_ = 0, branch_ = 0;
  double bore_at_split_m_ = 0;
};

} // namespace

std::unique_ptr<Path::Impl> compile(const build::Build& build, const build::Option& option,
                                    const std::vector<joint::RunFit>& fits) {
  return Compiler(build, option, fits).compile();
}

} // namespace bellmouth::flow
