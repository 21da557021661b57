// SPDX-License-Identifier: GPL-3.0-or-later
// What pressure does to joints and bends, and what holds them. All that holds is an estimate between two
// figures that lie far apart, because friction does: see shared/joints.md.
#pragma once

#include <bellmouth/joint.hpp>
#include <bellmouth/trade.hpp>

#include <optional>
#include <string>

namespace bellmouth::joint {

/// What a joint of a spigot in a hose has to hold, and what holds it.
struct Load {
  double gauge_Pa = 0;        ///< static pressure inside above ambient; negative under suction
  double parting_force_N = 0; ///< pressure on the spigot's outside area; 0 under suction
  double held_low_N = 0;      ///< what clamp and bead hold, oily and on a hose that has set: an estimate
  double held_high_N = 0;     ///< the same dry, on a new hose
  /// Whether anything can be said of what holds: false without a clamp, and where its tension is not known
  /// (spring bands, clamps of unsaid type without a torque). Both figures are 0 then.
  bool held_known = false;
  double hoop_stress_Pa = 0; ///< in the hose's wall over the spigot: see hoop_stress_Pa(); 0 under suction
};
/// Neither of the two estimates passes the force at which the hose itself gives way: `hose_burst_factor` x
/// its working pressure x the spigot's outside area. That pressure is `hose_working_Pa`, or what is usual for
/// its wall and bore: see working_gauge_Pa(). Only for hose joints (an assertion).
[[nodiscard]] Load load(const Joint& joint, double gauge_Pa, const trade::Limits& limits,
                        std::optional<double> hose_working_Pa = std::nullopt);

/// \name Clamps
///@{
/// Torque for a clamp, and where the figure comes from.
struct Torque {
  double torque_Nm = 0;
  std::string basis; ///< "the clamp's own", "worm clamp, band of 12 mm, new hose"
};
/// The item's own, else the trade's for its type and band. Nothing for spring clamps, which have no screw,
/// and, unless the item states one, for lug clamps, of which no figure was found, and clamps of unsaid type.
[[nodiscard]] std::optional<Torque> torque(const build::StockItem& clamp, const trade::Limits& limits);

/// Tension [N] in the band of a clamp done up to its torque: torque / (nut factor x screw diameter), the
/// textbook relation of bolted joints, the screw being that of a worm clamp, or the bolt of a round-bolt
/// clamp. Nothing where there is no torque, and for lug clamps and clamps of unsaid type, whose screw is not
/// known.
[[nodiscard]] std::optional<double> band_tension_N(const build::StockItem& clamp,
                                                   const trade::Limits& limits);

/// Force [N] along the tube at which a joint slides.
struct Hold {
  double low_N = 0, high_N = 0;
};
/// A band under the tension T presses with 2 pi T in all on what it goes round, so that a plain end holds 2
/// pi mu T (statics). Of T the shares `clamp_kept_low` to `clamp_kept_high` count, mu is `friction_low` to
/// `friction_high`. Behind a bead the band has to climb it: 2 pi T tan(slope + atan mu), the slope being that
/// of a rise by the bead's height over its whole width for the low figure, as the hose bridges its foot, and
/// over half of its width for the high one. That a hose tears first is not in it: see load().
[[nodiscard]] Hold hold(double band_tension_N, bool beaded, const trade::Limits& limits);
///@}

/// \name Walls and bends
///@{
/// Stress [Pa] round a thin wall: p D / (2 t) (statics; D the mean diameter; for a wall under a fifth of the
/// radius within 10 % of the greatest stress in it).
[[nodiscard]] double hoop_stress_Pa(double gauge_Pa, double mean_diameter_m, double wall_m);

/// A cross-section through which the air enters or leaves a piece.
struct CrossSection {
  build::Vector direction{1, 0, 0}; ///< of flow, unit length
  double gauge_Pa = 0;
  double pressed_diameter_m = 0; ///< of the circle that the pressure acts on: outside, where a hose seals
  double mass_flow_kg_s = 0, velocity_m_s = 0;
};
/// Force [N] of the air, inside and out, on what lies between two sections: (p A + m V) along the flow at the
/// inlet less the same at the outlet (momentum balance of steady flow; weight left out). With one pressure
/// and area at both ends and no flow its length is 2 p A sin(angle / 2), outwards.
[[nodiscard]] build::Vector resultant_N(const CrossSection& inlet, const CrossSection& outlet);
///@}

/// \name Warmth
///@{
/// Growth of a length per kelvin [1/K], about 20 to 100 C: aluminium 23.6e-6, mild steel 11.7e-6, stainless
/// steel 17.3e-6 (handbook values for common alloys; the first from a table, the others from memory). 0 for
/// the rest, which is not judged by it.
[[nodiscard]] double growth_per_K(build::Material material);
///@}

} // namespace bellmouth::joint
