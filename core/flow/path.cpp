// SPDX-License-Identifier: GPL-3.0-or-later
// The path as others see it: solving, and recording what the stream does on the way.
#include "compile.hpp"
#include "elements.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace bellmouth::flow {
namespace {

/// Total state in front of and behind each element, with the band of its drop.
class Trace final : public Recorder {
public:
  struct Passage {
    double pressure_before, pressure_behind, temperature_before, temperature_behind, low, high;
  };
  explicit Trace(std::size_t elements) { passages.reserve(elements); }

  void passed(std::size_t, double pressure_before_Pa, double pressure_Pa, double temperature_before_K,
              double temperature_K, double drop_low_Pa, double drop_high_Pa) override {
    passages.push_back(
        {pressure_before_Pa, pressure_Pa, temperature_before_K, temperature_K, drop_low_Pa, drop_high_Pa});
  }

  std::vector<Passage> passages;
};

/// Turns a trace into what people look at.
class Reporter {
public:
  Reporter(const Path::Impl& path, const Trace& trace, const Solution& solution)
      : path_(path), trace_(trace), flow_(solution.at.mass_flow_kg_s),
        speed_(solution.point.engine_speed_rev_s) {
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
  /// Total state where element `index` begins (one past the last: where the path ends).
  std::pair<double, double> total_at(std::size_t index) const {
    if (trace_.passages.empty())
      return {path_.inlet_pressure_Pa, path_.inlet_temperature_K};
    if (index < trace_.passages.size())
      return {trace_.passages[index].pressure_before, trace_.passages[index].temperature_before};
    return {trace_.passages.back().pressure_behind, trace_.passages.back().temperature_behind};
  }

  /// The state in a bore; in the open air (no bore) the air is still and all is total.
  air::Station station(std::pair<double, double> total, double bore_m) const {
    if (bore_m > 0) {
      const auto found = air::station(path_.air, total.first, total.second, flow_, disc_m2(bore_m));
      assert(found.has_value()); // the march has passed here
      if (found)
        return *found;
    }
    air::Station still;
    still.mass_flow_kg_s = flow_;
    still.total_pressure_Pa = still.static_pressure_Pa = total.first;
    still.total_temperature_K = still.static_temperature_K = total.second;
    still.density_kg_m3 = path_.air.density_kg_m3(total.first, total.second);
    still.gamma = path_.air.gamma(total.second);
    return still;
  }

  Section section(std::pair<double, double> total, double bore_m) const {
    Section out;
    out.station = station(total, bore_m);
    out.bore_m = bore_m;
    out.reynolds = flow_ > 0 ? air::reynolds(path_.air, out.station, bore_m) : 0;
    return out;
  }

  void add_point(const air::Station& state, std::size_t step) {
    result_.profile.push_back({distance_, state.total_pressure_Pa, state.static_pressure_Pa,
                               state.velocity_m_s, state.total_temperature_K, state.mach, step});
  }

  void report_run(const StepPlan& plan, std::size_t step) {
    RunFlow run;
    run.rows.resize(plan.rows.size());
    add_point(station(total_at(plan.first), plan.bore_in_m), step);
    for (std::size_t row = 0; row < plan.rows.size(); ++row) {
      const RowPlan& planned = plan.rows[row];
      if (planned.host)
        continue;
      run.rows[row] = report_row(planned, step);
      const PieceFlow& piece = run.rows[row];
      run.volume_m3 += piece.volume_m3;
      for (const Section* at : {&piece.inlet, &piece.outlet}) {
        run.peak_mach = std::max(run.peak_mach, at->station.mach);
        run.peak_velocity_m_s = std::max(run.peak_velocity_m_s, at->station.velocity_m_s);
      }
    }
    for (std::size_t i = plan.first; i < plan.last; ++i) {
      const auto& passage = trace_.passages[i];
      run.drop_Pa += passage.pressure_before - passage.pressure_behind;
      run.drop_low_Pa += passage.low;
      run.drop_high_Pa += passage.high;
    }
    // The spigots at both ends count too: they can be the narrowest places.
    for (const auto& spigot :
         {station(total_at(plan.first), plan.bore_in_m), station(total_at(plan.last), plan.bore_out_m)}) {
      run.peak_mach = std::max(run.peak_mach, spigot.mach);
      run.peak_velocity_m_s = std::max(run.peak_velocity_m_s, spigot.velocity_m_s);
    }
    for (std::size_t row = 0; row < plan.rows.size(); ++row)
      if (plan.rows[row].host)
        run.rows[row] = tap(plan, run, plan.rows[row]);
    result_.runs.push_back(std::move(run));
  }

  PieceFlow report_row(const RowPlan& planned, std::size_t step) {
    PieceFlow piece;
    piece.inlet = section(total_at(planned.first), planned.bore_in_m);
    piece.outlet = section(total_at(planned.last), planned.bore_out_m);
    piece.volume_m3 = planned.volume_m3;
    for (std::size_t i = planned.first; i < planned.last; ++i) {
      const auto& passage = trace_.passages[i];
      piece.drop_Pa += passage.pressure_before - passage.pressure_behind;
      piece.drop_low_Pa += passage.low;
      piece.drop_high_Pa += passage.high;
      if (const auto* loss = std::get_if<LossElement>(&path_.elements[i].law))
        piece.outside_range |= loss->law.outside_range;
      distance_ += path_.elements[i].length_m;
    }
    const auto& basis = planned.bore_out_m < planned.bore_in_m ? piece.outlet : piece.inlet;
    const double q = basis.station.dynamic_pressure_Pa();
    piece.loss_coefficient = q > 0 ? piece.drop_Pa / q : 0;
    add_point(piece.outlet.station, step);
    return piece;
  }

  /// The state where a fitting sits: total pressure falls evenly along its host.
  PieceFlow tap(const StepPlan& plan, const RunFlow& run, const RowPlan& fitting) const {
    const PieceFlow& host = run.rows[*fitting.host];
    const RowPlan& planned = plan.rows[*fitting.host];
    const double share = fitting.host_share;
    const double pressure =
        host.inlet.station.total_pressure_Pa +
        share * (host.outlet.station.total_pressure_Pa - host.inlet.station.total_pressure_Pa);
    const double bore = planned.bore_in_m + share * (planned.bore_out_m - planned.bore_in_m);
    PieceFlow out;
    out.inlet = out.outlet = section({pressure, host.inlet.station.total_temperature_K}, bore);
    return out;
  }

  void report_machine(const StepPlan& plan, std::size_t step) {
    MachineFlow machine;
    machine.inlet = station(total_at(plan.first), plan.bore_in_m);
    machine.outlet = station(total_at(plan.last), plan.bore_out_m);
    machine.drop_Pa = machine.inlet.total_pressure_Pa - machine.outlet.total_pressure_Pa;
    machine.pressure_ratio = machine.outlet.total_pressure_Pa / machine.inlet.total_pressure_Pa;
    for (std::size_t i = plan.first; i < plan.last; ++i)
      std::visit([&](const auto& element) { describe(element, machine); }, path_.elements[i].law);
    add_point(machine.inlet, step);
    add_point(machine.outlet, step);
    result_.machines.push_back(machine);
  }

  void describe(const DisplacementElement& element, MachineFlow& machine) const {
    const auto done = machine::compress(path_.air, element.blower, machine.inlet.total_pressure_Pa,
                                        machine.inlet.total_temperature_K, machine.pressure_ratio, flow_);
    machine.shaft_power_W = done.shaft_power_W;
    machine.adiabatic_efficiency = done.adiabatic_efficiency;
    machine.speed_rev_s = element.blower.drive_ratio * speed_;
  }
  void describe(const TargetElement& element, MachineFlow& machine) const {
    if (machine.pressure_ratio <= 1)
      return;
    const auto done =
        machine::compress(path_.air, machine.inlet.total_temperature_K, machine.pressure_ratio, flow_,
                          element.compressor.adiabatic_efficiency, element.compressor.mechanical_efficiency);
    machine.shaft_power_W = done.shaft_power_W;
    machine.adiabatic_efficiency = done.adiabatic_efficiency;
  }
  void describe(const CoolingElement&, MachineFlow& machine) const {
    machine.heat_W = flow_ * (path_.air.enthalpy_J_kg(machine.inlet.total_temperature_K) -
                              path_.air.enthalpy_J_kg(machine.outlet.total_temperature_K));
  }
  void describe(const GateElement&, MachineFlow&) const {}
  void describe(const LossElement&, MachineFlow&) const {}
  void describe(const DuctElement&, MachineFlow&) const {}
  void describe(const RestrictionElement&, MachineFlow&) const {}

  const Path::Impl& path_;
  const Trace& trace_;
  double flow_, speed_;
  double distance_ = 0;
  PathFlow result_;
};

/// Says in words where a flow chokes.
void name_choke(const Path::Impl& path, const std::vector<Element>& elements, OperatingPoint& point) {
  if (point.stop != Stop::chokes)
    return;
  if (point.choke_element >= elements.size()) {
    point.choke_where = "the entry to the manifold";
    return;
  }
  const Element& element = elements[point.choke_element];
  point.choke_step = element.step;
  const StepPlan& plan = path.steps[element.step];
  if (element.row != no_row) {
    point.choke_row = element.row;
    point.choke_where = fmt::format("{}, row {} ({})", plan.name, element.row + 1, plan.titles[element.row]);
  } else {
    point.choke_where = plan.name;
  }
}

} // namespace

std::string_view text(Stop stop) {
  switch (stop) {
  case Stop::not_run:
    return "not run";
  case Stop::converged:
    return "converged";
  case Stop::fixed_flow:
    return "fixed flow";
  case Stop::chokes:
    return "the flow chokes";
  case Stop::out_of_reach:
    return "the target pressure is out of the compressor's reach";
  case Stop::target_too_low:
    return "the target pressure lies below the pressure at the compressor's inlet";
  case Stop::too_hot:
    return "the air would leave the blower hotter than 1000 K: too much ratio, or too little efficiency";
  case Stop::no_agreement:
    break;
  }
  return "engine, blower and ducting agree on no flow";
}

Path::Path(const build::Build& build, const build::Option& option, const std::vector<joint::RunFit>& fits)
    : impl_(compile(build, option, fits)) {}
Path::~Path() = default;
Path::Path(Path&&) noexcept = default;
Path& Path::operator=(Path&&) noexcept = default;

PathFlow Path::solve(double engine_speed_rev_s) const {
  auto solution = flow::solve(*impl_, impl_->elements, engine_speed_rev_s, nullptr);
  name_choke(*impl_, impl_->elements, solution.point);
  if (!solution.point.usable()) {
    PathFlow nothing;
    nothing.point = std::move(solution.point);
    return nothing;
  }
  Trace trace(impl_->elements.size());
  [[maybe_unused]] const auto end = march(*impl_, impl_->elements, solution.at, &trace);
  assert(end.ended == Ended::passed);
  return Reporter(*impl_, trace, solution).report();
}

OperatingPoint Path::operating_point(double engine_speed_rev_s, const OperatingPoint* near) const {
  auto solution = flow::solve(*impl_, impl_->elements, engine_speed_rev_s, near);
  name_choke(*impl_, impl_->elements, solution.point);
  return solution.point;
}

OperatingPoint Path::operating_point_without_ducts(double engine_speed_rev_s,
                                                   const OperatingPoint* near) const {
  return flow::solve(*impl_, impl_->machines_only, engine_speed_rev_s, near).point;
}

} // namespace bellmouth::flow
