// SPDX-License-Identifier: GPL-3.0-or-later
#include "report.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace bellmouth::flow {
namespace {

/// Total state and flow at a place.
struct Total {
  double pressure_Pa, temperature_K, flow_kg_s;
};

class Reporter {
public:
  Reporter(const Path::Impl& path, const Trace& trace, const Solution& solution)
      : path_(path), trace_(trace) {
    result_.point = solution.point;
  }

  PathFlow report() {
    result_.profile.reserve(path_.elements.size() + path_.steps.size());
    for (std::size_t step = 0; step < path_.steps.size(); ++step) {
      const StepPlan& plan = path_.steps[step];
      if (plan.is_run)
        report_run(plan, step);
      else
        report_machine(plan, step);
    }
    return std::move(result_);
  }

private:
  using Passage = Recorder::Passage;

  /// Where element `index` of a step begins (its end: where the step ends).
  Total total_at(std::size_t index, const StepPlan& plan) const {
    if (plan.first == plan.last && plan.first == 0)
      return {path_.inlet_pressure_Pa, path_.inlet_temperature_K, result_.point.mass_flow_kg_s};
    if (index < plan.last || (plan.first == plan.last && index < trace_.passages.size())) {
      const Passage& passage = trace_.passages[index];
      return {passage.pressure_before_Pa, passage.temperature_before_K, passage.flow_before_kg_s};
    }
    const Passage& passage = trace_.passages[index - 1];
    return {passage.pressure_behind_Pa, passage.temperature_behind_K, passage.flow_behind_kg_s};
  }

  /// The state in a bore; in the open air (no bore) the air is still and all is total.
  air::Station station(const Total& total, double bore_m) const {
    if (bore_m > 0) {
      const auto found =
          air::station(path_.air, total.pressure_Pa, total.temperature_K, total.flow_kg_s, disc_m2(bore_m));
      assert(found.has_value()); // the march has passed here
      if (found)
        return *found;
    }
    air::Station still;
    still.mass_flow_kg_s = total.flow_kg_s;
    still.total_pressure_Pa = still.static_pressure_Pa = total.pressure_Pa;
    still.total_temperature_K = still.static_temperature_K = total.temperature_K;
    still.density_kg_m3 = path_.air.density_kg_m3(total.pressure_Pa, total.temperature_K);
    still.gamma = path_.air.gamma(total.temperature_K);
    return still;
  }

  Section section(const Total& total, double bore_m) const {
    Section out;
    out.station = station(total, bore_m);
    out.bore_m = bore_m;
    out.reynolds = total.flow_kg_s > 0 ? air::reynolds(path_.air, out.station, bore_m) : 0;
    return out;
  }

  void add_point(const air::Station& state, const StepPlan& plan, std::size_t step) {
    if (plan.branch > 0) // the plot follows the first of the branches
      return;
    result_.profile.push_back({distance_, state.total_pressure_Pa, state.static_pressure_Pa,
                               state.velocity_m_s, state.total_temperature_K, state.mach, step});
  }

  void report_run(const StepPlan& plan, std::size_t step) {
    RunFlow run;
    run.rows.resize(plan.rows.size());
    add_point(station(total_at(plan.first, plan), plan.bore_in_m), plan, step);
    for (std::size_t row = 0; row < plan.rows.size(); ++row) {
      const RowPlan& planned = plan.rows[row];
      if (planned.host)
        continue;
      run.rows[row] = report_row(plan, row, step);
      const PieceFlow& piece = run.rows[row];
      run.volume_m3 += piece.volume_m3;
      for (const Section* at : {&piece.inlet, &piece.outlet}) {
        run.peak_mach = std::max(run.peak_mach, at->station.mach);
        run.peak_velocity_m_s = std::max(run.peak_velocity_m_s, at->station.velocity_m_s);
      }
    }
    for (std::size_t i = plan.first; i < plan.last; ++i) {
      const Passage& passage = trace_.passages[i];
      run.drop_Pa += passage.pressure_before_Pa - passage.pressure_behind_Pa;
      const Band band = band_of(i);
      run.drop_low_Pa += band.low_Pa;
      run.drop_high_Pa += band.high_Pa;
      run.heat_W += heat_W(i);
    }
    // The spigots at both ends count too: they can be the narrowest places.
    for (const auto& spigot : {station(total_at(plan.first, plan), plan.bore_in_m),
                               station(total_at(plan.last, plan), plan.bore_out_m)}) {
      run.peak_mach = std::max(run.peak_mach, spigot.mach);
      run.peak_velocity_m_s = std::max(run.peak_velocity_m_s, spigot.velocity_m_s);
    }
    for (std::size_t row = 0; row < plan.rows.size(); ++row)
      if (plan.rows[row].host)
        run.rows[row] = tap(plan, run, row);
    result_.runs.push_back(std::move(run));
  }

  /// The drop of an element at the ends of its band: that of its law, or of what was measured instead.
  struct Band {
    double low_Pa, high_Pa;
  };
  Band band_of(std::size_t element) const {
    const Passage& passage = trace_.passages[element];
    const std::size_t doubt = path_.elements[element].doubt;
    if (doubt == none || path_.doubts[doubt].own)
      return {passage.low_Pa, passage.high_Pa};
    const double drop = passage.pressure_before_Pa - passage.pressure_behind_Pa;
    return {drop * std::max(0.0, 1 - path_.doubts[doubt].low), drop * (1 + path_.doubts[doubt].high)};
  }

  /// Heat that an element takes up.
  double heat_W(std::size_t element) const {
    if (!std::holds_alternative<HeatElement>(path_.elements[element].law))
      return 0;
    const Passage& passage = trace_.passages[element];
    return passage.flow_before_kg_s * (path_.air.enthalpy_J_kg(passage.temperature_behind_K) -
                                       path_.air.enthalpy_J_kg(passage.temperature_before_K));
  }

  /// Adds what the elements of a row lose and take up.
  void add_losses(const StepPlan& plan, std::size_t row, PieceFlow& piece) {
    const RowPlan& planned = plan.rows[row];
    for (std::size_t i = planned.first; i < planned.last; ++i) {
      const Element& element = path_.elements[i];
      if (element.row != row && element.row != none)
        continue;
      const Passage& passage = trace_.passages[i];
      piece.drop_Pa += passage.pressure_before_Pa - passage.pressure_behind_Pa;
      const Band band = band_of(i);
      piece.drop_low_Pa += band.low_Pa;
      piece.drop_high_Pa += band.high_Pa;
      piece.heat_W += heat_W(i);
      if (plan.branch == 0)
        distance_ += element.length_m;
      const auto* duct = std::get_if<DuctElement>(&element.law);
      if (duct != nullptr && !piece.outside_range && is_transitional(*duct, passage)) {
        piece.outside_range = true;
        piece.range = "friction laminar below Reynolds number 2000, turbulent above 4000";
      }
      const auto* loss = std::get_if<LossElement>(&element.law);
      if (loss != nullptr && !piece.outside_range && outside_range(*loss, passage)) {
        piece.outside_range = true;
        piece.range = loss->law.range;
      }
    }
  }

  double reynolds_in(const Bore& bore, const Passage& passage) const {
    return passage.flow_before_kg_s * bore.bore_m /
           (bore.area_m2 * path_.air.viscosity_Pa_s(passage.temperature_before_K));
  }
  bool outside_range(const LossElement& element, const Passage& passage) const {
    return element.law.outside_range || element.law.is_too_slow(1 / reynolds_in(element.bore, passage));
  }
  bool is_transitional(const DuctElement& element, const Passage& passage) const {
    const double reynolds = reynolds_in(element.bore, passage);
    return reynolds > laminar_reynolds && reynolds < turbulent_reynolds;
  }

  PieceFlow report_row(const StepPlan& plan, std::size_t row, std::size_t step) {
    const RowPlan& planned = plan.rows[row];
    PieceFlow piece;
    piece.inlet = section(total_at(planned.first, plan), planned.bore_in_m);
    piece.outlet = section(total_at(planned.last, plan), planned.bore_out_m);
    piece.volume_m3 = planned.volume_m3;
    add_losses(plan, row, piece);
    const auto& basis = planned.bore_out_m < planned.bore_in_m ? piece.outlet : piece.inlet;
    const double q = basis.station.dynamic_pressure_Pa();
    piece.loss_coefficient = q > 0 ? piece.drop_Pa / q : 0;
    add_point(piece.outlet.station, plan, step);
    return piece;
  }

  /// The state where a fitting sits: total pressure and temperature change evenly along its host. What it
  /// loses itself, it loses behind its host.
  PieceFlow tap(const StepPlan& plan, const RunFlow& run, std::size_t row) {
    const RowPlan& fitting = plan.rows[row];
    const PieceFlow& host = run.rows[*fitting.host];
    const RowPlan& planned = plan.rows[*fitting.host];
    const double share = fitting.host_share;
    const auto between = [share](double in, double out) { return in + share * (out - in); };
    const Total total{
        between(host.inlet.station.total_pressure_Pa, host.outlet.station.total_pressure_Pa),
        between(host.inlet.station.total_temperature_K, host.outlet.station.total_temperature_K),
        host.inlet.station.mass_flow_kg_s};
    PieceFlow out;
    out.inlet = out.outlet = section(total, between(planned.bore_in_m, planned.bore_out_m));
    add_losses(plan, row, out);
    const double q = out.inlet.station.dynamic_pressure_Pa();
    out.loss_coefficient = q > 0 ? out.drop_Pa / q : 0;
    return out;
  }

  void report_machine(const StepPlan& plan, std::size_t step) {
    MachineFlow machine;
    machine.inlet = station(total_at(plan.first, plan), plan.bore_in_m);
    machine.outlet = station(total_at(plan.last, plan), plan.bore_out_m);
    machine.drop_Pa = machine.inlet.total_pressure_Pa - machine.outlet.total_pressure_Pa;
    machine.pressure_ratio = machine.outlet.total_pressure_Pa / machine.inlet.total_pressure_Pa;
    for (std::size_t i = plan.first; i < plan.last; ++i) {
      const Passage& passage = trace_.passages[i];
      const Element& element = path_.elements[i];
      const Band band = band_of(i);
      machine.drop_low_Pa += band.low_Pa;
      machine.drop_high_Pa += band.high_Pa;
      std::visit([&](const auto& law) { describe(law, machine, passage); }, element.law);
    }
    add_point(machine.inlet, plan, step);
    add_point(machine.outlet, plan, step);
    result_.machines.push_back(machine);
  }

  void describe(const BlowerElement& element, MachineFlow& machine, const Passage&) const {
    const Blown& blown = trace_.blown[element.blower];
    machine.shaft_power_W = blown.shaft_power_W;
    machine.adiabatic_efficiency = blown.adiabatic_efficiency;
    machine.volumetric_efficiency = blown.volumetric_efficiency;
    machine.speed_rev_s = blown.speed_rev_s;
    machine.bypass_kg_s = blown.bypass_kg_s;
    machine.outside_map = blown.outside_map;
    if (blown.on_map)
      machine.on_map =
          MapPlace{blown.on_map->margin_to_surge, blown.on_map->region == machine::MapRegion::below_surge,
                   blown.on_map->region == machine::MapRegion::beyond_choke, blown.on_map->outside_speeds};
  }
  void describe(const CoolingElement& element, MachineFlow& machine, const Passage& passage) const {
    const double flow = passage.flow_before_kg_s;
    machine.heat_W = flow * (path_.air.enthalpy_J_kg(passage.temperature_before_K) -
                             path_.air.enthalpy_J_kg(passage.temperature_behind_K));
    const double cp = path_.air.cp_J_kgK(passage.temperature_before_K);
    const machine::PreparedCooler& cooler = path_.coolers[element.cooler];
    machine.outside_map = cooler.act(flow, cp).outside_table;
    const double above = passage.temperature_before_K - element.reference_K;
    machine.effectiveness =
        above != 0 ? (passage.temperature_before_K - passage.temperature_behind_K) / above : 0;
    if (!cooler.cooler().loop)
      return;
    if (const auto inside = cooler.inside(flow, cp, passage.temperature_before_K, element.reference_K)) {
      machine.water_in_K = inside->coolant_in_K;
      machine.water_out_K = inside->coolant_out_K;
    }
  }
  static void describe(const auto&, MachineFlow&, const Passage&) {}

  const Path::Impl& path_;
  const Trace& trace_;
  double distance_ = 0;
  PathFlow result_;
};

} // namespace

Trace trace(const Path::Impl& path, const Variation& variation, const Solution& solution) {
  Trace trace(variation.elements->size());
  const auto pass = [&](auto end) {
    assert(end.ended == Ended::passed);
    (void)end;
  };
  const double speed = solution.point.engine_speed_rev_s;
  if (path.unknowns <= 1)
    pass(march<1>(path, variation, speed, solution.at, &trace));
  else if (path.unknowns == 2)
    pass(march<2>(path, variation, speed, solution.at, &trace));
  else if (path.unknowns <= 4)
    pass(march<4>(path, variation, speed, solution.at, &trace));
  else
    pass(march<most_unknowns>(path, variation, speed, solution.at, &trace));
  return trace;
}

PathFlow report(const Path::Impl& path, const Trace& trace, const Solution& solution) {
  return Reporter(path, trace, solution).report();
}

std::vector<double> run_drops_Pa(const Path::Impl& path, const Trace& trace) {
  std::vector<double> drops;
  for (const StepPlan& plan : path.steps) {
    if (!plan.is_run)
      continue;
    double drop = 0;
    for (std::size_t i = plan.first; i < plan.last; ++i)
      drop += trace.passages[i].pressure_before_Pa - trace.passages[i].pressure_behind_Pa;
    drops.push_back(drop);
  }
  return drops;
}

} // namespace bellmouth::flow
