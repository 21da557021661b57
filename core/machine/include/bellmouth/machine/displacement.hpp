// SPDX-License-Identifier: GPL-3.0-or-later
// The displacement blower as the flow solver works with it: leakage, internal compression or a map.
#pragma once

#include <bellmouth/machine.hpp>
#include <bellmouth/machine/maps.hpp>

#include <optional>

namespace bellmouth::machine {

/// What a displacement blower does to the stream at one working point.
struct BlowerAction {
  double mass_flow_kg_s;       ///< delivered
  double outlet_temperature_K; ///< total
  double shaft_power_W;        ///< mechanical losses included
  /// Isentropic work over work done on the delivered air; its inverse where the air drives. Nothing or less
  /// where a built-in compression works against a pressure below that at the inlet.
  double adiabatic_efficiency;
  double volumetric_efficiency;
  /// The map was read outside its grid, or the leakage takes more than 1 - `PreparedBlower::least_efficiency`
  /// of what is swept: the figures are held there and no blower is known to do so.
  bool outside_map;
  double flow_by_ratio; ///< d ln(mass flow) / d(pressure ratio)
  double heating_K;     ///< d(outlet temperature) / d(pressure ratio)
};

/// A displacement blower made ready. Symbols: p1, T1 total state at the inlet, r = p2/p1 the pressure ratio
/// (total to total), V swept volume per turn, n blower speed, g ratio of specific heats at T1, R gas
/// constant, eta_v volumetric efficiency on inlet total density, v the built-in volume ratio.
///
/// Flow: m = eta_v V n p1/(R T1).
///
/// Leakage, by the rated point: the clearances pass as much as one nozzle of constant area A between outlet
/// and inlet (Saint-Venant & Wantzel, nozzle.hpp). The leaking air is taken at the temperature of the
/// isentropic compression, T1 r^((g-1)/g); it is hotter in truth, which the area found from the rated point
/// takes up but for the few parts in a hundred by which that differs between ratios. Then, p1 cancelling out,
///   eta_v = eta_v0 - A sqrt(R T1)/(V n) f(r),  f(r) = r^(1 - (g-1)/2g) psi(1/r)  for r >= 1,
/// and for r < 1 as much the other way with f = psi(r) at T1. A follows from the rated point in rating air.
/// So leakage grows with about the root of the pressure difference at first (McDougald, Imrie & Cole, Purdue
/// Compressor Engineering Conference 1974, paper 127: flow through clearances as the root of the difference),
/// and is the smaller a share the faster the blower turns. Without a rated point eta_v = eta_v0.
///
/// Work on a delivered kilogram, w, with an adiabatic efficiency eta: w = ws(r)/eta, ws the isentropic work,
/// cp varying (ws eta where the air drives). Without one, by the indicated work of a cycle that traps V,
/// shuts it off, compresses it isentropically to V/v, opens, fills up to p2 at constant volume and pushes
/// out:
///   w = [h(Ti) - h(T1) + (r - ri) R T1/v] / eta_v,  ri = v^g, Ti = T1 v^(g-1), g at the middle of T1 and Ti
/// (textbooks, e.g. Eastop & McConkey, Applied Thermodynamics, on Roots and vane blowers, from memory; worked
/// examples W33 to W35). v = 1 leaves V (p2 - p1): no internal compression. The leaking air is compressed
/// again and again, so that leakage costs the work of the whole swept volume.
///
/// With a map: both efficiencies from it, and w = ws/eta.
///
/// Range: r > 0, n > 0. Bands: bands.hpp. Nothing is allocated after construction.
class PreparedBlower {
public:
  /// A leakage that would leave less than this is not followed: from there on the volumetric efficiency e
  /// goes as this squared over (twice this - e), continuous with its slope, so that a solver on its way finds
  /// a positive flow.
  static constexpr double least_efficiency = 0.05;

  /// The map, if any, must be without fault (an assertion).
  explicit PreparedBlower(const DisplacementBlower& blower);

  [[nodiscard]] const DisplacementBlower& blower() const { return blower_; }
  /// Constant effective area of the clearances [m2]; 0 when leakage is not known.
  [[nodiscard]] double leak_area_m2() const { return leak_area_m2_; }

  struct Delivery {
    double volumetric_efficiency;
    double by_ratio; ///< d/d(pressure ratio)
    bool outside;
  };
  /// Volumetric efficiency at a blower speed, a temperature at the inlet and a pressure ratio. It does not
  /// depend on the pressure at the inlet.
  [[nodiscard]] Delivery delivery(const air::Mixture& air, double blower_speed_rev_s,
                                  double inlet_temperature_K, double pressure_ratio) const;

  [[nodiscard]] BlowerAction act(const air::Mixture& air, double engine_speed_rev_s, double inlet_pressure_Pa,
                                 double inlet_temperature_K, double pressure_ratio) const;

private:
  DisplacementBlower blower_;
  std::optional<BlowerMap> map_;
  double leak_area_m2_ = 0;

  [[nodiscard]] Delivery leaking(double speed, double temperature_K, double ratio, double gamma,
                                 double gas_constant) const;
};

} // namespace bellmouth::machine
