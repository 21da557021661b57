// SPDX-License-Identifier: GPL-3.0-or-later
// Fittings met along one bore: gaps and humps of hoses, corrugated and wire hoses, gauze, plates with holes,
// sensor tips, holes in the wall, the throttle plate. All coefficients are on the velocity in `bore_m`.
// Formula, range, source and band of each stand in gaps.cpp, hoses.cpp, gauze.cpp, wall.cpp, butterfly.cpp.
#pragma once

namespace bellmouth::loss {

struct Law;

/// The larger bore inside a hose between two tube ends of one bore. gap_bore >= bore.
struct Gap {
  double bore_m, gap_bore_m, gap_length_m;
};
/// The bulge of a hump hose; hump_bore is its largest inside diameter, hump_length its length along the axis.
struct Hump {
  double bore_m, hump_bore_m, hump_length_m;
};
/// Hose with a corrugated inside; bore is the smallest. pitch and depth of a corrugation: 0 if unknown.
struct CorrugatedHose {
  double length_m, bore_m;
  double pitch_m = 0.0, depth_m = 0.0;
};
/// Hose in whose bore the coils of a wire stand out. pitch of the coils, height of the ridge they make: both
/// known or both 0; unknown, the law is friction at the roughness of Surface::wire_hose.
struct WireHose {
  double length_m, bore_m;
  double pitch_m = 0.0, ridge_m = 0.0;
};
/// Woven wire gauze across the bore; pitch of the wires from centre to centre > wire diameter.
struct Gauze {
  double bore_m, wire_diameter_m, pitch_m;
};
/// Flat plate with sharp-edged holes across the bore; open_share is their area over that of the bore, (0, 1].
struct PerforatedPlate {
  double open_share;
};
/// A sensor tip of round section standing into the bore by `depth_m` (0: flush; up to the bore).
struct Probe {
  double bore_m, diameter_m, depth_m;
};
/// A round hole in the wall that leads nowhere: a closed valve flange, an unused boss. hole_bore <= bore.
struct SideHole {
  double bore_m, hole_bore_m;
};
/// Throttle plate. opening: turned from shut (0, square across the bore) to edge on (pi/2); at least 1
/// degree. wide_open_coefficient: K of the body with the plate edge on.
struct Butterfly {
  double opening_rad;
  double wide_open_coefficient;
};
/// Least opening that the law takes [rad]: 1 degree. Nearer to shut, leakage past the rim rules.
inline constexpr double least_butterfly_opening_rad = 0.017453292519943295;

[[nodiscard]] Law law(const Gap&);
[[nodiscard]] Law law(const Hump&);
[[nodiscard]] Law law(const CorrugatedHose&);
[[nodiscard]] Law law(const WireHose&);
[[nodiscard]] Law law(const Gauze&);
[[nodiscard]] Law law(const PerforatedPlate&);
[[nodiscard]] Law law(const Probe&);
[[nodiscard]] Law law(const SideHole&);
[[nodiscard]] Law law(const Butterfly&);

} // namespace bellmouth::loss
