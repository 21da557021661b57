// SPDX-License-Identifier: GPL-3.0-or-later
// The limits that the rules work with. Each has the trade's figure as its default and can be changed.
#pragma once

namespace bellmouth::check {

/// Lengths [m], pressures [Pa], temperatures [K], angles [rad], velocities [m/s], forces [N]. Behind each:
/// where the default comes from. "Practice" is common practice for which no source was found, "memory" a
/// figure that was not looked up; both are assumptions.
struct Limits {
  /// \name Joints
  ///@{
  double bead_from_gauge_Pa = 30e3;    ///< a spigot needs a bead above this gauge pressure: practice
  double bead_stop_force_N = 250;      ///< parting force at which a plain end will not hold: practice
  double loose_caution_m = 0.5e-3;     ///< hose bore over spigot diameter: practice
  double loose_stop_m = 1.0e-3;        ///< 1 mm over is a leak: practice
  double tight_caution_m = 1.0e-3;     ///< a hose is meant to be up to 1 mm smaller: practice
  double tight_stop_m = 3.0e-3;        ///< it will not go on: practice
  double engagement_stop_m = 25e-3;    ///< bead, band and 6 mm to the hose's end do not fit any more: derived
  double engagement_caution_m = 38e-3; ///< room for a bead, a 19 mm band and 6 mm to the hose's end: derived
  double tube_gap_least_m = 5e-3;      ///< between tube ends inside a hose; nearer and they rub: practice
  double tube_gap_most_m = 20e-3;      ///< wider and the hose works like a bellows: practice
  double tube_gap_most_bores = 0.25;   ///< the same in bores; the smaller of the two counts: practice
  double clamp_span_low = 0.25;        ///< the middle half of a clamp's span: published clamp-sizing advice
  double clamp_span_high = 0.75;       ///< the same
  double parting_force_N = 500;        ///< above this, tie the joint: practice
  double bend_thrust_N = 400;          ///< above this, brace the bend: practice
  double fitting_from_hose_m = 15e-3;  ///< centre of a boss to the hose's end: practice
  ///@}

  /// \name Stream
  ///@{
  double velocity_before_blower_m_s = 40; ///< 8000 ft/min: a heavy-engine installation handbook
  double velocity_behind_blower_m_s = 90; ///< 200 to 300 ft/s: a compressor supplier's guide
  double mach = 0.30;                     ///< density changes and losses rise quickly beyond: textbook
  double restriction_note_Pa = 3.7e3;     ///< 15 in of water, new air cleaner: an engine testing manual
  double restriction_caution_Pa = 6.2e3;  ///< 25 in of water, loaded air cleaner: an army technical manual
  double flatten_depression_Pa = 2.5e3;   ///< below ambient; a soft hose may begin to flatten: practice
  double flatten_stop_Pa = 12.5e3;        ///< what heavy-duty inlet hose is made for: an installation manual
  double soft_free_length_m = 100e-3;     ///< free length of a hose that may flatten: practice
  int stiff_plies = 4;                    ///< plies from which a hose stands suction: practice
  double cooler_drop_note_Pa = 7e3;       ///< memory
  double cooler_drop_caution_Pa = 14e3;   ///< memory
  double charge_drop_Pa = 13.5e3;         ///< blower outlet to manifold: memory
  double cone_note_rad = 0.24434609527920614;    ///< 14 degrees included, diverging: a ventilation manual
  double cone_caution_rad = 0.34906585039886592; ///< 20 degrees: the same, where the loss has doubled
  double bend_caution_ratio = 1.0;        ///< centreline radius over diameter: a compressor supplier's guide
  double bend_note_ratio = 1.5;           ///< the same
  double mitre_rad = 0.52359877559829887; ///< 30 degrees in one cut: the ventilation manual's table of elbows
  double surge_margin = 0.10;             ///< flow over the flow at surge, less one: memory
  double bypass_note_share = 0.01;        ///< of a blower's air through its bypass: practice
  double bypass_caution_share = 0.05;     ///< the same; a valve that does not shut: practice
  double throttle_open_rad = 1.3962634015954636; ///< 80 degrees of the plate pass for wide open: practice
  double loaded_filter_factor = 2.0;             ///< a filter due for service over a clean one: practice
  ///@}

  /// \name Trust in the figures
  ///@{
  double pulsation_factor = 1.25;    ///< undamped; four even cylinders of four strokes have pi^2/8: derived
  double measured_note_share = 0.10; ///< a measured factor so far from 1: practice
  double measured_low = 0.7;         ///< further off than any figure is guessed wrong: practice
  double measured_high = 1.4;        ///< the same
  double tight_speed_share = 0.40;   ///< of a blower's greatest speed; slower, a leakage shows: practice
  double tight_ratio = 1.15;         ///< pressure ratio from which it does: practice
  ///@}

  /// \name Heat and machines
  ///@{
  double silicone_K = 443.15;                  ///< 170 C, polyester cloth: practice
  double rubber_K = 373.15;                    ///< 100 C, cooler-to-engine class: a car maker's hose standard
  double plastic_K = 343.15;                   ///< 70 C, the softer printing and pipe plastics: memory
  double hose_margin_K = 10;                   ///< wanted below a rating: practice
  double outlet_margin_K = 10;                 ///< wanted below a blower's outlet limit: practice
  double charge_caution_K = 333.15;            ///< 60 C in the manifold: owners' experience
  double overspeed_share = 1.05;               ///< engine speed over its limit on overshoot: practice
  double cooler_from_gauge_Pa = 50e3;          ///< boost at which a cooler pays: a guide to charge cooling
  double plastic_from_gauge_Pa = 5e3;          ///< "under pressure" for plastics: practice
  double condensate_caution_kg_s = 0.1 / 3600; ///< 100 g an hour, a cupful in two: practice
  double picked_up_K = 3;                      ///< costs about 1 % of the air: gas law
  ///@}

  /// \name Layout
  ///@{
  double end_gap_m = 1e-3;                      ///< between a run's end and its port: this program's own
  double end_angle_rad = 0.0087266462599716477; ///< half a degree: the same
  double bore_share = 0.97; ///< of the smaller of its ports; a little less is a wall's thickness: practice
  double support_m = 0.5;   ///< rigid length without a bracket: practice
  double flexible_from_blower_m = 0.3; ///< of a displacement blower's outlet: practice
  double meter_upstream_bores = 5;     ///< straight before a flow meter: practice; textbooks ask 10
  double meter_downstream_bores = 2;   ///< and behind it: practice; textbooks ask 5
  double impeller_bores = 1;           ///< straight before a compressor's inlet: practice
  double sensor_from_cooler_bores = 3; ///< practice
  ///@}

  /// \name What a flexible piece gives each way, unless it says so itself
  ///@{
  double hump_axial_m = 8e-3;                   ///< one hump, of 6 to 10 mm: practice
  double hump_offset_m = 4e-3;                  ///< of 3 to 5 mm: practice
  double hump_angle_rad = 0.069813170079773182; ///< 4 degrees, of 3 to 5: practice
  double hose_axial_m = 2e-3;  ///< a plain hose over an ordinary gap between tube ends: this program's own
  double hose_offset_m = 1e-3; ///< the same
  double hose_angle_rad = 0.017453292519943295; ///< 1 degree: the same
  /// How much the wall of a longer plain hose or moulded elbow is stretched: its free length by this share in
  /// line, this share x length / radius in angle, and half the angle of each half x half its length sideways:
  /// this program's own.
  double hose_stretch = 0.05;
  double corrugated_stretch = 0.15; ///< the same where the wall is pleated
  ///@}
};

} // namespace bellmouth::check
