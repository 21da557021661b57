// SPDX-License-Identifier: GPL-3.0-or-later
// Bodies that meter by their pressure difference: plates, nozzles, Venturi tubes. Mass flow from the
// difference and back, the throat for both, and what the body costs. Formulas, ranges, sources and bands in
// orifice.cpp.
//   m = C e / sqrt(1 - b^4) * pi / 4 d^2 sqrt(2 rho dp)
// m mass flow, C discharge coefficient, e expansibility, b = d / D, d throat, D bore of the tube, rho density
// and dp pressure difference at the taps.
#pragma once

#include <optional>
#include <string_view>

namespace bellmouth::loss {

struct Law;

enum class MeterKind {
  orifice_plate,        ///< sharp edge, concentric
  eccentric_plate,      ///< sharp edge, hole touching the bottom of the tube
  quarter_circle_plate, ///< edge rounded with a quarter of a circle
  long_radius_nozzle,
  isa_nozzle,
  venturi_tube ///< classical, machined inlet
};
/// Where the pressures of an orifice plate are taken; the other bodies have their own fixed taps.
enum class Taps { corner, flange, d_and_half_d };
struct Meter {
  MeterKind kind;
  double bore_m, throat_m; ///< throat < bore
  Taps taps = Taps::corner;
};
/// The gas ahead of the body, static.
struct Upstream {
  double pressure_Pa, density_kg_m3, viscosity_Pa_s;
  double isentropic_exponent = 1.4;
};

/// Discharge coefficient C [-] at the Reynolds number of the bore.
[[nodiscard]] double discharge_coefficient(const Meter&, double reynolds);
/// Expansibility e [-], of plates and of nozzles, at pressure_ratio = p2 / p1, (0, 1]. diameter_ratio b
/// below 1.
[[nodiscard]] double plate_expansibility(double diameter_ratio, double pressure_ratio,
                                         double isentropic_exponent);
[[nodiscard]] double nozzle_expansibility(double diameter_ratio, double pressure_ratio,
                                          double isentropic_exponent);
[[nodiscard]] double expansibility(const Meter&, double pressure_ratio, double isentropic_exponent);
/// The metering equation above [kg/s]; an infinite bore is a plate in a wall.
[[nodiscard]] double metered_flow_kg_s(double bore_m, double throat_m, double discharge_coefficient,
                                       double expansibility, double density_kg_m3, double differential_Pa);
/// Pressure that is not recovered behind the body, as a share of the difference [-].
[[nodiscard]] double permanent_loss_share(const Meter&, double discharge_coefficient);
/// Loss coefficient [-] on the velocity in the bore.
[[nodiscard]] double loss_coefficient(const Meter&, double discharge_coefficient);

struct Metered {
  double mass_flow_kg_s, differential_Pa;
  double reynolds, discharge_coefficient, expansibility;
  double permanent_loss_Pa, loss_coefficient;
  double band;        ///< relative half width of the mass flow, without that of the readings
  bool outside_range; ///< of the standard; the band is wider
  std::string_view range, source;
};
/// Flow at a pressure difference of more than 0 and less than the upstream pressure [Pa].
[[nodiscard]] Metered flow_at(const Meter&, const Upstream&, double differential_Pa);
/// Pressure difference at a mass flow above 0 [kg/s]; nothing if no difference up to half the upstream
/// pressure passes it.
[[nodiscard]] std::optional<Metered> differential_at(const Meter&, const Upstream&, double mass_flow_kg_s);
/// Throat at which the wanted flow makes the wanted difference [m], between 0.05 and 0.9 of the bore; nothing
/// if none does. The meter's own throat is not looked at.
[[nodiscard]] std::optional<double> throat_for(const Meter&, const Upstream&, double mass_flow_kg_s,
                                               double differential_Pa);

/// The body as a fitting, at Reynolds number 1e5 of its bore.
[[nodiscard]] Law law(const Meter&);

} // namespace bellmouth::loss
