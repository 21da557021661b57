// SPDX-License-Identifier: GPL-3.0-or-later
// A blower of any kind with its bypass valve, as the march sees it.
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/machine.hpp>
#include <bellmouth/machine/displacement.hpp>
#include <bellmouth/machine/maps.hpp>

#include <array>
#include <optional>
#include <variant>

namespace bellmouth::flow {

/// Corrections of what machines do, by measurement or within their bands.
struct Tuning {
  double engine_filling = 1;    ///< of the engine's volumetric efficiency
  double blower_filling = 1;    ///< of the blower's volumetric efficiency
  double blower_efficiency = 1; ///< of the blower's adiabatic efficiency
  double cooling = 1;           ///< of the cooler's effectiveness
  double crank_work = 1;        ///< of the crank work of a kilogram of air
  double wall_heat = 1;         ///< of what the walls let through
};

/// The stream that reaches a blower.
struct AtBlower {
  double flow_kg_s, pressure_Pa, temperature_K; ///< total
  double ratio;                                 ///< total pressure, outlet over inlet
};

/// Where a compressor works on its map.
struct OnMap {
  double margin_to_surge; ///< flow over the flow at surge, less one
  machine::MapRegion region;
  bool outside_speeds;
};

/// What a blower makes of a stream.
struct Blown {
  double temperature_K = 0; ///< total, of the stream that goes on
  double flow_kg_s = 0;     ///< that goes on
  /// What the machine would do over what it is asked to do, less one: zero where it can work. Always zero
  /// where a control holds a target.
  double excess = 0;

  double shaft_power_W = 0, adiabatic_efficiency = 0;
  double volumetric_efficiency = 0; ///< displacement blowers
  double speed_rev_s = 0;           ///< 0 where it is not known
  double bypass_kg_s = 0; ///< through the bypass valve, back or out; negative: past the blower, forwards
  bool outside_map = false;
  std::optional<OnMap> on_map = std::nullopt;
  double flow_by_ratio = 0, heating_K = 0; ///< displacement blowers: d ln(flow)/d(ratio), dT/d(ratio)
};

/// Slopes of an outcome by ln(flow), ln(pressure), ln(temperature) and ln(ratio).
struct BlownSlopes {
  std::array<double, 4> temperature_K{}, ln_flow{}, excess{};
};

/// Where and with what a blower works.
struct BlowerScene {
  const air::Mixture& air;
  const Tuning& tuning;
  double engine_speed_rev_s, ambient_pressure_Pa;
};

class Blower {
public:
  explicit Blower(const machine::DisplacementBlower& blower);
  explicit Blower(const machine::TargetCompressor& compressor);
  explicit Blower(const machine::GearedCompressor& compressor);

  /// Nothing when the air would leave it hotter than the model of air goes.
  [[nodiscard]] std::optional<Blown> blow(const BlowerScene& scene, const AtBlower& at) const;
  /// The slopes at a point, of which the outcome is known.
  [[nodiscard]] BlownSlopes slopes(const BlowerScene& scene, const AtBlower& at, const Blown& blown) const;

  /// The compressor that holds a target, or nullptr.
  [[nodiscard]] const machine::TargetCompressor* target() const;
  [[nodiscard]] bool driven_by_exhaust() const;
  /// Whether a valve lets air back to the inlet.
  [[nodiscard]] bool recirculates() const;

  /// What to begin a search with: the flow that the machine gives in free air (0 where it would take any) and
  /// a ratio.
  struct Guess {
    double flow_kg_s, ratio;
  };
  [[nodiscard]] Guess guess(const BlowerScene& scene, double pressure_Pa, double temperature_K) const;

private:
  struct Displacement {
    machine::PreparedBlower blower;
    double drive_ratio;
  };
  struct Target {
    machine::TargetCompressor compressor;
    std::optional<machine::PreparedCompressorMap> map;
  };
  struct Geared {
    machine::GearedCompressor compressor;
    machine::PreparedCompressorMap map;
  };

  /// What the bare machine does with the air that goes through it, and what it would do over what it is
  /// asked.
  [[nodiscard]] std::optional<Blown> work(const BlowerScene& scene, const AtBlower& at) const;
  [[nodiscard]] static std::optional<Blown> work_of(const Displacement& machine, const BlowerScene& scene,
                                                    const AtBlower& at);
  [[nodiscard]] static std::optional<Blown> work_of(const Target& machine, const BlowerScene& scene,
                                                    const AtBlower& at);
  [[nodiscard]] static std::optional<Blown> work_of(const Geared& machine, const BlowerScene& scene,
                                                    const AtBlower& at);
  /// The stream divides before the machine, or comes back to it.
  [[nodiscard]] std::optional<Blown> with_valve(const BlowerScene& scene, const AtBlower& at) const;

  std::variant<Displacement, Target, Geared> kind_;
  std::optional<machine::BypassValve> bypass_;
};

} // namespace bellmouth::flow
