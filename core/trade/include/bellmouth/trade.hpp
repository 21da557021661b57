// SPDX-License-Identifier: GPL-3.0-or-later
// What the trade holds to be right: the thresholds that rules, joints and lists work with, in one table. Each
// has the trade's figure and where that comes from, and the user may change it.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace bellmouth::trade {

/// Where a fact comes from.
enum class Source {
  standard, ///< a published standard or regulation, named
  reported, ///< trade literature of the kind named; not a document that anybody can be pointed to
  derived,  ///< follows from physics or geometry
  practice, ///< common practice, no source found
  memory,   ///< from memory, not looked up
  own,      ///< this program's own
};
/// In words: "common practice, no source found".
[[nodiscard]] std::string_view text(Source source);

/// The figures at work. Lengths [m], pressures [Pa], temperatures [K], angles [rad], velocities [m/s], forces
/// [N], torques [N m]; the rest has no unit. Where the defaults come from stands in thresholds().
struct Limits {
  /// \name Joints
  ///@{
  double bead_from_gauge_Pa = 30e3;        ///< a spigot needs a bead above this gauge pressure
  double bead_stop_force_N = 250;          ///< parting force at which a plain end will not hold
  double loose_caution_m = 0.5e-3;         ///< hose bore over spigot diameter, to be told
  double loose_stop_m = 1.0e-3;            ///< hose bore over spigot diameter, a leak
  double tight_caution_m = 1.0e-3;         ///< spigot diameter over hose bore, to be told
  double tight_stop_m = 3.0e-3;            ///< spigot diameter over hose bore, it will not go on
  double near_miss_least_m = 0.2e-3;       ///< hose bore off the tube by more than this is a near miss
  double near_miss_most_m = 1.6e-3;        ///< and by less than this
  double engagement_stop_m = 25e-3;        ///< least engagement
  double engagement_caution_m = 38e-3;     ///< engagement wanted
  double tube_gap_least_m = 5e-3;          ///< least gap between tube ends inside a hose
  double tube_gap_most_m = 20e-3;          ///< widest gap between tube ends inside a hose
  double tube_gap_most_bores = 0.25;       ///< the same in bores; the smaller of the two counts
  double clamp_span_low = 0.25;            ///< share of a clamp's range from which it should work
  double clamp_span_high = 0.75;           ///< share of a clamp's range up to which it should work
  double parting_force_N = 500;            ///< parting force above which a joint is tied
  double tie_bar_gauge_Pa = 150e3;         ///< gauge pressure above which a joint is tied
  double bend_thrust_N = 400;              ///< thrust above which a bend is braced
  double fitting_from_hose_m = 15e-3;      ///< centre of a boss to the hose's end
  double bead_height_m = 2e-3;             ///< height of a bead over the tube
  double bead_height_least_m = 1.5e-3;     ///< least height of a bead
  double bead_height_most_m = 2.5e-3;      ///< greatest height of a bead
  double bead_width_m = 5e-3;              ///< width of a bead
  double bead_from_end_m = 7e-3;           ///< middle of a bead to the tube's end
  double clamp_from_hose_end_m = 6e-3;     ///< clamp to the hose's end
  double clamp_band_m = 12e-3;             ///< width of a clamp's band where its item says none
  double hose_cut_tolerance_m = 3.2e-3;    ///< how far a hose's length may be off
  double friction_low = 0.05;              ///< friction of hose on tube, oily
  double friction_high = 0.3;              ///< friction of hose on tube, dry
  double nut_factor = 0.2;                 ///< screw torque over force and diameter
  double worm_screw_m = 8e-3;              ///< diameter of the screw of a worm clamp
  double round_bolt_screw_m = 6e-3;        ///< diameter of the bolt of a round-bolt clamp
  double clamp_kept_low = 0.25;            ///< share of a clamp's tension left on a hose that has set
  double clamp_kept_high = 0.75;           ///< the same on a new hose
  double round_bolt_from_gauge_Pa = 100e3; ///< gauge pressure above which worm clamps are not the choice
  double round_bolt_torque_Nm = 6.5;       ///< torque of a round-bolt clamp
  double worm_torque_Nm = 4.5;             ///< torque of a worm clamp with a band of 12 mm, new hose
  double worm_wide_torque_Nm = 7.5;        ///< torque of a worm clamp with a band of 14 mm, new hose
  double worm_narrow_torque_Nm = 1.4;      ///< torque of a worm clamp with a band up to 8 mm
  double worm_most_torque_Nm = 6.0;        ///< torque that a worm clamp of 12 mm is not to pass
  double constant_tension_torque_Nm = 7.5; ///< torque of a constant-tension clamp
  double hose_burst_factor = 4;            ///< burst over working pressure of a hose
  double hose_working_gauge_Pa = 200e3;    ///< working pressure of a hose of four plies whose item says none
  double hose_gauge_share = 0.8;           ///< share of a hose's working pressure, to be told
  double hose_modulus_low_Pa = 3e6;        ///< stiffness of a hose's wall, soft
  double hose_modulus_high_Pa = 10e6;      ///< stiffness of a hose's wall, firm
  double wedge_short_side_m = 10e-3;       ///< short side of a wedge that can be welded
  ///@}

  /// \name Cutting and buying
  ///@{
  double kerf_m = 2.5e-3; ///< kerf of a saw cut
  double angle_short_rad =
      0.022689280275926285; ///< how much a piece cut from an arc may fall short of its angle
  ///@}

  /// \name Stream
  ///@{
  double velocity_before_blower_m_s = 40;        ///< velocity before the blower
  double velocity_behind_blower_m_s = 90;        ///< velocity behind the blower
  double mach = 0.30;                            ///< Mach number
  double restriction_note_Pa = 3.7e3;            ///< depression ahead of the blower, to be told
  double restriction_caution_Pa = 6.2e3;         ///< depression ahead of the blower, too much
  double flatten_depression_Pa = 2.5e3;          ///< depression at which a soft hose may begin to flatten
  double flatten_stop_Pa = 12.5e3;               ///< depression that heavy-duty inlet hose is made for
  double soft_free_length_m = 100e-3;            ///< free length of a hose that may flatten
  double stiff_plies = 4;                        ///< plies from which a hose stands suction
  double cooler_drop_note_Pa = 7e3;              ///< drop of a charge cooler, to be told
  double cooler_drop_caution_Pa = 14e3;          ///< drop of a charge cooler, too much
  double charge_drop_Pa = 13.5e3;                ///< drop from blower outlet to manifold
  double cone_note_rad = 0.24434609527920614;    ///< included angle of a diverging cone, to be told
  double cone_caution_rad = 0.34906585039886592; ///< included angle of a diverging cone, too steep
  double bend_caution_ratio = 1.0;               ///< centre-line radius over diameter, too tight
  double bend_note_ratio = 1.5;                  ///< centre-line radius over diameter, to be told
  double mitre_rad = 0.52359877559829887;        ///< angle turned in one cut
  double surge_margin = 0.10;                    ///< flow over the flow at surge, less one
  double bypass_note_share = 0.01;               ///< share of a blower's air through its bypass, to be told
  double bypass_caution_share =
      0.05; ///< share of a blower's air through its bypass: a valve that does not shut
  double throttle_open_rad = 1.3962634015954636; ///< angle of the plate that passes for wide open
  double loaded_filter_factor = 2.0;             ///< drop of a filter due for service over a clean one
  ///@}

  /// \name Trust in the figures
  ///@{
  double pulsation_factor = 1.25;    ///< pulsation that counts as steady
  double measured_note_share = 0.10; ///< a measured factor so far from 1, to be told
  double measured_low = 0.7;         ///< least measured factor that is believed
  double measured_high = 1.4;        ///< greatest measured factor that is believed
  double tight_speed_share = 0.40;   ///< share of a blower's greatest speed below which a leakage shows
  double tight_ratio = 1.15;         ///< pressure ratio from which it does
  ///@}

  /// \name Heat and machines
  ///@{
  double silicone_K = 443.15;                  ///< silicone hose with polyester cloth
  double rubber_K = 373.15;                    ///< rubber hose
  double plastic_K = 343.15;                   ///< the softer printing and pipe plastics
  double plastic_margin_K = 30;                ///< margin wanted below a plastic's softening, no pressure
  double hose_margin_K = 10;                   ///< margin wanted below a hose's rating
  double outlet_margin_K = 10;                 ///< margin wanted below a blower's outlet limit
  double charge_caution_K = 333.15;            ///< air in the manifold
  double overspeed_share = 1.05;               ///< engine speed on overshoot over its limit
  double cooler_from_gauge_Pa = 50e3;          ///< boost at which a cooler pays
  double plastic_from_gauge_Pa = 5e3;          ///< "under pressure" for plastics
  double condensate_caution_kg_s = 0.1 / 3600; ///< water that falls out in the cooler
  double picked_up_K = 3;                      ///< warming that costs about 1 % of the air
  ///@}

  /// \name Layout
  ///@{
  double end_gap_m = 1e-3;                      ///< between a run's end and its port
  double end_angle_rad = 0.0087266462599716477; ///< the same in angle
  double bore_share = 0.97;                     ///< bore over that of the smaller of its ports
  double support_m = 0.5;                       ///< rigid length without a bracket
  double flexible_from_blower_m = 0.3;          ///< flexible joint to a displacement blower's outlet
  double meter_upstream_bores = 5;              ///< straight before a flow meter, in bores
  double meter_downstream_bores = 2;            ///< straight behind a flow meter, in bores
  double impeller_bores = 1;                    ///< straight before a compressor's inlet, in bores
  double sensor_from_cooler_bores = 3;          ///< temperature boss to the cooler's tank, in bores
  ///@}

  /// \name What a flexible piece gives each way
  ///@{
  double hump_axial_m = 8e-3;                   ///< one hump, in line
  double hump_offset_m = 4e-3;                  ///< one hump, sideways
  double hump_angle_rad = 0.069813170079773182; ///< one hump, in angle
  double hose_axial_m = 2e-3;                   ///< a plain hose over an ordinary gap, in line
  double hose_offset_m = 1e-3;                  ///< a plain hose over an ordinary gap, sideways
  double hose_angle_rad = 0.017453292519943295; ///< a plain hose over an ordinary gap, in angle
  double hose_stretch = 0.05; ///< how much the wall of a longer plain hose or moulded elbow is stretched
  double corrugated_stretch = 0.15; ///< the same where the wall is pleated
  ///@}

  friend bool operator==(const Limits&, const Limits&) = default;
};

/// The unit that a threshold is stated in, against the SI unit inside.
enum class Unit { as_is, millimetres, degrees };

/// One threshold as a user can look it up and change it.
struct Threshold {
  std::string_view key; ///< in small letters with the unit as suffix where there is one: "kerf_mm"
  std::string_view title;
  std::string_view group; ///< what it stands under
  double Limits::*limit;
  Unit unit;
  Source source;
  std::string_view basis; ///< the fact and its source in words; may be empty
  double least, most;     ///< what is accepted, in the key's unit
};
/// All of them, grouped.
[[nodiscard]] std::span<const Threshold> thresholds();
/// The one with a key, or nullptr.
[[nodiscard]] const Threshold* find(std::string_view key);
/// The value in the key's unit.
[[nodiscard]] double value(const Threshold& threshold, const Limits& limits);
/// Sets a value given in the key's unit.
void set(const Threshold& threshold, Limits& limits, double value);
/// What is accepted, in words: "a number from 0 to 20".
[[nodiscard]] std::string accepted(const Threshold& threshold);
/// The unit as people read it: "mm", "deg", "Pa", or nothing.
[[nodiscard]] std::string_view unit_text(const Threshold& threshold);

/// The limits as the trade has them.
[[nodiscard]] const Limits& defaults();

} // namespace bellmouth::trade
