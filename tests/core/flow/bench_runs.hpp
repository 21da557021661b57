// SPDX-License-Identifier: GPL-3.0-or-later
// Small flow benches and bare engines for the tests of the march.
#pragma once

#include "support/sample_builds.hpp"

#include <bellmouth/flow.hpp>

#include <utility>
#include <vector>

namespace bellmouth::test {

/// Solves the first option of a build.
[[nodiscard]] inline flow::PathFlow solved(const build::Build& build, double engine_speed_rev_s = 0) {
  const auto& option = build.options.front();
  std::vector<joint::RunFit> fits;
  for (const auto& step : build.path)
    if (const auto* run = std::get_if<build::RunId>(&step))
      fits.push_back(joint::fit(build, *option.find(*run)));
  return flow::Path(build, option, fits).solve(engine_speed_rev_s);
}

/// A bench that blows `mass_flow_kg_s` of dry air at 20 C and `pressure_Pa` through `pieces` between two
/// spigots.
[[nodiscard]] inline build::Build bench_of(std::vector<build::Piece> pieces, double mass_flow_kg_s,
                                           double bore_in_m, double bore_out_m,
                                           double pressure_Pa = 101325.0) {
  build::Build b = bench_build();
  b.ambient = build::Weather{101325.0, 293.15, 0.0};
  b.demand = build::FixedFlow{mass_flow_kg_s, pressure_Pa, 293.15};
  for (auto& port : b.ports) {
    const double bore = port.id.text == "bench_in" ? bore_in_m : bore_out_m;
    port.bore_m = bore;
    port.outer_diameter_m = bore + 3.3e-3;
  }
  build::Run run = *b.options[0].runs[0];
  run.pieces = std::move(pieces);
  b.options[0].runs[0] = std::move(run);
  return b;
}

/// An engine alone: the path is one throttle without loss, of a bore so large that nothing is lost in it.
[[nodiscard]] inline build::Build bare_engine() {
  build::Build b = natural_build();
  b.ambient = build::Weather{101325.0, 293.15, 0.0};
  b.inlet = {build::OpenInlet::Kind::bellmouth, 0.5};
  b.plenum_exit_loss = 0;
  b.machines = {{{"throttle"}, "Throttle", build::Mounting::engine, machine::Throttle{0.5, 0.0}}};
  b.ports.clear();
  b.path = {build::MachineId{"throttle"}};
  b.options = {{{"only"}, "", {}}};
  return b;
}

[[nodiscard]] inline machine::Engine& engine_of(build::Build& b) {
  return std::get<machine::Engine>(b.demand);
}

} // namespace bellmouth::test
