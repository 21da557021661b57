// SPDX-License-Identifier: GPL-3.0-or-later
// Friction and total-pressure loss of every kind of fitting. A fitting is stated by its shape alone; `law`
// turns the shape once into a short law K = constant + per_friction * f + per_inverse_reynolds / Re, where f
// is the Darcy friction factor at the fitting's Reynolds number Re (on the basis bore). To replace the model
// of one kind of fitting, replace its `law`: nothing else knows it.
#pragma once

#include <bellmouth/loss/inserts.hpp>

#include <string_view>
#include <variant>

namespace bellmouth::loss {

/// What the inside of a duct is made of, for its roughness.
enum class Surface { drawn_metal, welded_steel, cast_metal, smooth_hose, wire_hose, plastic };
/// Equivalent sand-grain roughness [m]; table with sources in roughness.cpp (tests/reference/roughness.csv).
[[nodiscard]] double roughness_m(Surface surface);

/// Darcy friction factor: Colebrook-White, solved to 1e-12, above Re 4000; 64/Re below 2000; between the two
/// a smooth blend (weight cubic in ln Re, meeting both in value and slope). `reynolds` > 0;
/// `relative_roughness` = roughness over bore, 0 to 0.05.
[[nodiscard]] double darcy_friction_factor(double reynolds, double relative_roughness);

/// \name Fittings. Lengths in metres, angles in radians.
///@{
struct Straight {
  double length_m, bore_m;
};
/// A smooth bend of circular arc; the friction of the arc is in the law. The last two widen the band only.
struct Bend {
  double angle_rad;
  double radius_ratio;           ///< centre-line radius over bore
  double relative_roughness = 0; ///< of the wall, over bore
  double ready_made_bore_m = 0; ///< bore of an elbow pressed from sheet or of unknown make; 0: bent from tube
};
/// A hose elbow with a pleated (corrugated) bore. Its law is a table of the whole loss, friction included.
struct PleatedElbow {
  double angle_rad, bore_m;
};
/// One sharp mitre.
struct Mitre {
  double angle_rad;
};
/// A bend of `joints` mitres on an arc (joints >= 1; 1 is a single mitre). The friction of the cuts is not in
/// the law.
struct SegmentedBend {
  double angle_rad, radius_ratio, bore_m;
  int joints;
};
/// A cone from one bore to another over `length_m`; either may be larger. Without length it is a step,
/// without a change of bore a straight; friction is in the law.
struct Cone {
  double bore_in_m, bore_out_m, length_m;
};
/// A sudden contraction whose edge is rounded with `edge_radius_m`; bore_in_m > bore_out_m.
struct RoundedContraction {
  double bore_in_m, bore_out_m, edge_radius_m;
};
/// A sudden step from one bore to another; either may be larger.
struct Step {
  double bore_in_m, bore_out_m;
};
enum class EntryKind { bellmouth, flush, projecting, bevelled };
/// Entry from free air or a tank. A gauze over it is a fitting of its own.
struct Entry {
  EntryKind kind;
  double radius_ratio = 0.0;       ///< bellmouth: lip radius over bore
  bool in_wall = false;            ///< bellmouth: its lip is flush in a wall
  double projection_ratio = 1.0;   ///< projecting: length that stands out of the wall, over bore
  double wall_ratio = 0.0;         ///< projecting: wall thickness of the tube, over bore
  double bevel_angle_rad = 0.0;    ///< bevelled, flush in a wall: between the bevel and the axis, 0 to pi/2
  double bevel_length_ratio = 0.0; ///< bevelled: length of the bevel along the axis, over bore
};
/// The velocity profile that leaves: flat, of long turbulent flow, of long laminar flow.
enum class ExitProfile { flat, turbulent, laminar };
/// Exit into a tank: the whole kinetic energy of the stream is lost.
struct Exit {
  ExitProfile profile = ExitProfile::flat;
};
/// A device with a known coefficient on its own bore (a meter body, an open throttle); band is the relative
/// half width.
struct Fixed {
  double coefficient;
  double band;
};
using Fitting = std::variant<Straight, Bend, PleatedElbow, Mitre, SegmentedBend, Cone, RoundedContraction,
                             Step, Entry, Exit, Fixed, Gap, Hump, CorrugatedHose, WireHose, Gauze,
                             PerforatedPlate, Probe, SideHole, Butterfly>;
///@}

/// The bore on whose velocity a coefficient is based.
enum class Basis { inlet, outlet };

/// What a fitting costs: total-pressure loss = at(f, 1 / Re) * rho V^2 / 2 at the basis.
struct Law {
  double constant = 0.0;
  double per_friction = 0.0;
  double per_inverse_reynolds = 0.0; ///< Re on the bore of the basis
  Basis basis = Basis::inlet;        ///< the small end of cones and steps; the inlet elsewhere
  double band_low = 0.0;             ///< relative half width downwards: 0.15 means -15 %
  double band_high = 0.0;            ///< upwards
  double band_absolute = 0.0;        ///< the band is at least this wide, in K, both ways
  double least_reynolds = 0.0; ///< below this Reynolds number the correlation is outside its range; 0: none
  bool outside_range = false;  ///< the fitting lies outside the correlation's stated range; the band is wider
  std::string_view source;     ///< whose correlation
  std::string_view range;      ///< for which shapes (and Reynolds numbers) its author states it

  /// Loss coefficient [-] at Darcy factor `friction` and 1 / Reynolds number.
  [[nodiscard]] double at(double friction, double inverse_reynolds = 0.0) const {
    return constant + per_friction * friction + per_inverse_reynolds * inverse_reynolds;
  }
  /// Whether the Reynolds number lies below the correlation's range; not when it is not said (0).
  [[nodiscard]] bool is_too_slow(double inverse_reynolds) const {
    return inverse_reynolds * least_reynolds > 1;
  }
  /// Lower end of the band, never below zero, and upper end; both wider where the stream is too slow.
  [[nodiscard]] double low(double friction, double inverse_reynolds = 0.0) const;
  [[nodiscard]] double high(double friction, double inverse_reynolds = 0.0) const;
};

[[nodiscard]] Law law(const Straight&);
[[nodiscard]] Law law(const Bend&);
[[nodiscard]] Law law(const PleatedElbow&);
[[nodiscard]] Law law(const Mitre&);
[[nodiscard]] Law law(const SegmentedBend&);
[[nodiscard]] Law law(const Cone&);
[[nodiscard]] Law law(const RoundedContraction&);
[[nodiscard]] Law law(const Step&);
[[nodiscard]] Law law(const Entry&);
[[nodiscard]] Law law(const Exit&);
[[nodiscard]] Law law(const Fixed&);
[[nodiscard]] Law law(const Fitting&);

} // namespace bellmouth::loss
