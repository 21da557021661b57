// SPDX-License-Identifier: GPL-3.0-or-later
// Builds that somebody could have, drawn at random: all kinds of machines, pieces and branches, with sizes
// within what engines and ducts have, from roomy to far too small.
#pragma once

#include "random_machines.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

namespace bellmouth::test {

/// Draws whole builds; the same random source gives the same builds.
class RandomBuilds {
public:
  explicit RandomBuilds(std::mt19937_64& random) : draw_(random) {}

  struct Drawn {
    build::Build build;
    double engine_speed_rev_s;
  };
  Drawn next() {
    build_ = {};
    names_ = 0;
    draw_demand();
    draw_path();
    draw_runs();
    if (draw_.chance(0.35))
      build_.bay = build::BayAir{draw_.between(250, 400), draw_.chance(0.3) ? 0 : draw_.between(0, 20)};
    if (draw_.chance(0.2))
      draw_measured();
    return {build_, speed_};
  }

private:
  using Kind = build::MachineKind;

  // --- surroundings and demand

  void draw_demand() {
    if (draw_.chance(0.3))
      build_.ambient = build::Altitude{draw_.between(0, 4500), draw_.between(0, 1)};
    else
      build_.ambient =
          build::Weather{draw_.between(70e3, 104e3), draw_.between(245, 318), draw_.between(0, 1)};
    const auto ambient = build::ambient_air(build_.ambient);
    machine::Engine engine;
    engine.displacement_m3 = draw_.spread(0.0003, 0.008);
    engine.strokes = draw_.chance(0.85) ? 4 : 2;
    engine.cylinders = draw_.whole(1, 12);
    const double most = draw_.between(40, 170);
    engine.efficiency = {{most * 0.15, draw_.between(0.5, 0.9)},
                         {most * 0.6, draw_.between(0.7, 1.1)},
                         {most, draw_.between(0.5, 1.0)}};
    engine.idle_speed_rev_s = 0.15 * most;
    engine.max_speed_rev_s = most;
    engine.working_speed_rev_s = 0.8 * most;
    engine.pulsation_factor = draw_.chance(0.5) ? 1 : draw_.between(1, 3);
    engine.lost_in_scavenging = draw_.chance(0.2) ? draw_.between(0, 0.3) : 0;
    speed_ = draw_.between(0.12, 1) * most;
    scale_.engine_max_rev_s = most;
    scale_.displacement_m3 = engine.displacement_m3 * (engine.strokes == 2 ? 2 : 1);
    scale_.density_kg_m3 = ambient.air.density_kg_m3(ambient.pressure_Pa, ambient.temperature_K);
    scale_.flow_kg_s = engine.mass_flow_kg_s(most, scale_.density_kg_m3);
    bench_ = draw_.chance(0.08);
    if (bench_)
      build_.demand = build::FixedFlow{scale_.flow_kg_s * draw_.between(0.05, 1.3),
                                       draw_.between(80e3, 300e3), draw_.between(260, 420)};
    else
      build_.demand = engine;
    build_.plenum_exit_loss = draw_.chance(0.2) ? 0 : draw_.between(0, 1);
    using Inlet = build::OpenInlet;
    const double duct = bore_for(draw_.between(20, 60), 1);
    build_.inlet = draw_.chance(0.5)
                       ? Inlet{Inlet::Kind::bellmouth, draw_.between(0.02, 0.3) * duct}
                       : Inlet{draw_.chance(0.5) ? Inlet::Kind::flush : Inlet::Kind::projecting, 0};
  }

  void draw_measured() {
    using C = build::Coefficient;
    for (const C c :
         {C::engine_volumetric_efficiency, C::blower_volumetric_efficiency, C::blower_adiabatic_efficiency,
          C::filter_drop, C::cooler_drop, C::cooler_effectiveness, C::duct_losses})
      if (draw_.chance(0.3))
        build_.measured.push_back({c, draw_.between(0.85, 1.15), draw_.between(0, 0.1)});
  }

  std::string fresh(std::string_view kind) { return fmt::format("{}{}", kind, names_++); }

  // --- the order of things

  build::MachineId add(Kind kind) {
    build_.machines.push_back({{fresh("m")}, "", build::Mounting::engine, std::move(kind)});
    return build_.machines.back().id;
  }
  void step(build::PathStep what, const build::BranchId& branch = {}) {
    what.branch = branch;
    build_.path.push_back(std::move(what));
  }
  void run(const build::BranchId& branch = {}) { step(build::RunId{fresh("r")}, branch); }
  bool ends_with_run() const {
    return !build_.path.empty() && std::holds_alternative<build::RunId>(build_.path.back());
  }
  void maybe_run() {
    if (!ends_with_run() && draw_.chance(0.8))
      run();
  }

  /// A machine in the trunk, or the same kind in each of some branches.
  void place(const auto& make, double share_of_branched) {
    if (!draw_.chance(share_of_branched) || build_.branches.size() > 4) {
      step(add(make(1.0)));
      return;
    }
    if (!build_.path.empty() && !build_.path.back().branch.text.empty())
      run(); // else these branches would stand beside those before
    const int branches = draw_.chance(0.75) ? 2 : 3;
    const bool alike = draw_.chance(0.4);
    const Kind first = make(1.0 / branches);
    for (int i = 0; i < branches; ++i) {
      const build::BranchId branch{fresh("b")};
      build_.branches.push_back({branch, draw_.chance(0.5) ? 0 : draw_.between(0, 1.5),
                                 draw_.chance(0.5) ? 0 : draw_.between(0, 1)});
      if (draw_.chance(0.7))
        run(branch);
      step(add(alike ? first : make(draw_.between(0.6, 1.4) / branches)), branch);
      if (draw_.chance(0.7))
        run(branch);
    }
  }

  void draw_path() {
    const double branched = draw_.chance(0.25) ? 0.5 : 0;
    if (draw_.chance(0.8))
      place([&](double share) -> Kind { return random_filter(draw_, scale_, share); }, branched);
    if (draw_.chance(0.35)) {
      maybe_run();
      step(add(random_meter(draw_, bore_for(draw_.between(15, 60), 1))));
    }
    const int kind = bench_ ? 0 : draw_.whole(0, 9);
    if (kind > 0) {
      maybe_run();
      // One kind for all branches.
      if (kind <= 4)
        place([&](double share) -> Kind { return random_displacement(draw_, scale_, share); }, branched);
      else if (kind <= 7) {
        const auto at = draw_.chance(0.5) || branched > 0 ? machine::TargetAt::blower_outlet
                                                          : machine::TargetAt::manifold;
        place([&](double share) -> Kind { return random_target(draw_, scale_, share, at); }, branched);
      } else
        place([&](double share) -> Kind { return random_geared(draw_, scale_, share); }, branched);
    }
    if (draw_.chance(kind > 0 ? 0.65 : 0.1)) {
      maybe_run();
      place([&](double share) -> Kind { return random_cooler(draw_, scale_, share); }, branched);
    }
    if (draw_.chance(0.8)) {
      maybe_run();
      step(add(random_throttle(draw_, bore_for(draw_.between(20, 90), 1))));
    }
    if (build_.path.empty() || (!ends_with_run() && draw_.chance(0.4)))
      run();
  }

  // --- ducting

  /// The bore in which a share of the engine's greatest flow, at ambient density, has this velocity.
  double bore_for(double velocity_m_s, double share) const {
    return std::sqrt(share * scale_.flow_kg_s / (scale_.density_kg_m3 * velocity_m_s) * 4 / M_PI);
  }

  build::PortId port(std::optional<std::size_t> neighbour, double bore_m) {
    build::Port port;
    port.id = {fresh("p")};
    if (neighbour)
      if (const auto* id = std::get_if<build::MachineId>(&build_.path[*neighbour]))
        port.machine = *id;
    port.bore_m = bore_m;
    port.outer_diameter_m = bore_m + 4e-3;
    port.land_m = 0.04;
    port.beaded = true;
    build_.ports.push_back(port);
    return port.id;
  }

  void draw_runs() {
    build::Option option{{"only"}, "", {}};
    for (std::size_t i = 0; i < build_.path.size(); ++i) {
      const auto* id = std::get_if<build::RunId>(&build_.path[i]);
      if (id == nullptr)
        continue;
      const double share = build_.path[i].branch.text.empty() ? 1 : 0.5;
      const double bore = std::clamp(bore_for(draw_.spread(15, 130), share), 0.012, 0.2);
      build::Run drawn;
      drawn.id = *id;
      drawn.from = port(build::step_before(build_.path, i), bore * draw_.between(0.85, 1.2));
      drawn.to = port(build::step_behind(build_.path, i), bore * draw_.between(0.85, 1.2));
      drawn.pieces = random_pieces(draw_, bore);
      option.runs.emplace_back(std::move(drawn));
    }
    build_.options = {std::move(option)};
  }

  Draw draw_;
  build::Build build_;
  Scale scale_;
  double speed_ = 0;
  bool bench_ = false;
  int names_ = 0;
};

} // namespace bellmouth::test
