// SPDX-License-Identifier: GPL-3.0-or-later
// Short paths for the tests of machines: parts in a row between open air and engine, and parts side by side.
#pragma once

#include "bench_runs.hpp"

#include <spdlog/fmt/fmt.h>

#include <string>
#include <utility>
#include <vector>

namespace bellmouth::test {

/// Dry air at 20 C and 101325 Pa, as the benches have it.
[[nodiscard]] inline air::Mixture dry_air() {
  return {};
}
[[nodiscard]] inline double disc(double bore_m) {
  return M_PI / 4 * bore_m * bore_m;
}

/// Machines bolted to each other between the open air and an engine: no ducts, nothing lost but in them.
[[nodiscard]] inline build::Build bolted(std::vector<build::MachineKind> kinds) {
  build::Build b = bare_engine();
  b.machines.clear();
  b.path.clear();
  for (auto& kind : kinds) {
    const build::MachineId id{fmt::format("m{}", b.machines.size())};
    b.machines.push_back({id, "", build::Mounting::engine, std::move(kind)});
    b.path.emplace_back(id);
  }
  return b;
}

/// A displacement blower with neither leakage nor inner compression.
[[nodiscard]] inline machine::DisplacementBlower plain_blower() {
  return {0.0012, 1.5, 0.9, std::nullopt, 0.95, 400, 450};
}

[[nodiscard]] inline flow::Path path_of(const build::Build& build) {
  const auto& option = build.options.front();
  std::vector<joint::RunFit> fits;
  for (const auto& step : build.path)
    if (const auto* run = std::get_if<build::RunId>(&step))
      fits.push_back(joint::fit(build, *option.find(*run)));
  return flow::Path(build, option, fits);
}

/// A straight tube of this bore.
[[nodiscard]] inline build::Piece tube_of(double bore_m, double length_m) {
  return {build::Tube{bore_m + 3e-3, 1.5e-3, length_m, {}}, build::Material::aluminium, {}, ""};
}

/// Adds a run of pieces between two ports of one bore; the machines are those next to it on the path.
inline void add_run(build::Build& b, const std::string& id, std::optional<build::MachineId> from,
                    std::optional<build::MachineId> to, double bore_m, std::vector<build::Piece> pieces) {
  for (const auto& [end, machine] : {std::pair{"in", from}, std::pair{"out", to}}) {
    build::Port port;
    port.id = {fmt::format("{}_{}", id, end)};
    port.machine = machine;
    port.bore_m = bore_m;
    port.outer_diameter_m = bore_m + 3e-3;
    port.land_m = 0.04;
    b.ports.push_back(port);
  }
  auto& runs = b.options.front().runs;
  runs.emplace_back(
      build::Run{{id}, {fmt::format("{}_in", id)}, {fmt::format("{}_out", id)}, std::move(pieces)});
}

/// Puts a step on the path, in a branch or on the trunk.
inline void add_step(build::Build& b, build::PathStep step, const std::string& branch = {}) {
  step.branch = {branch};
  if (!branch.empty() && b.find(step.branch) == nullptr)
    b.branches.push_back({step.branch});
  b.path.push_back(std::move(step));
}

/// A bench whose flow divides into straight tubes side by side, given by their bores and lengths.
struct TubeSize {
  double bore_m, length_m;
};
[[nodiscard]] inline build::Build bench_of_branches(const std::vector<TubeSize>& tubes,
                                                    double mass_flow_kg_s) {
  build::Build b;
  b.title = "Tubes side by side";
  b.ambient = build::Weather{101325.0, 293.15, 0.0};
  b.demand = build::FixedFlow{mass_flow_kg_s, 101325.0, 293.15};
  b.inlet = {build::OpenInlet::Kind::flush, 0.0};
  b.options = {{{"only"}, "", {}}};
  for (std::size_t i = 0; i < tubes.size(); ++i) {
    const auto id = fmt::format("r{}", i);
    add_run(b, id, {}, {}, tubes[i].bore_m, {tube_of(tubes[i].bore_m, tubes[i].length_m)});
    add_step(b, build::RunId{id}, tubes.size() > 1 ? fmt::format("b{}", i) : std::string());
  }
  return b;
}

} // namespace bellmouth::test
