// SPDX-License-Identifier: GPL-3.0-or-later
// Heat between the air in a duct and the air of the bay, through the inside film, the wall, what is wrapped
// round it, and the outside film. Steady, radial, one piece at a time.
//
// Symbols: D diameter, L length, h film coefficient = Nu k / D [W/(m2 K)], Nu Nusselt, Re Reynolds, Pr
// Prandtl, Ra Rayleigh number, k conductivity, f Darcy friction factor, T temperature.
//
//   1 / UA = 1 / (h_i pi D_i L) + sum of ln(d_out / d_in) / (2 pi k L) + 1 / (h_o pi D_o L)
//   T_out = T_bay + (T_in - T_bay) exp(-UA / (m cp))
//
// Left out, and covered by the bands: the bends' swirl (raises h_i by some ten per cent), the change of the
// air's properties across the inside film (lowers h_i by up to 8 % where the wall is a fifth hotter than the
// air in kelvin: (T_air / T_wall)^0.45, Gnielinski 2013), recovery temperature (0.1 of the velocity head),
// the tilt of a piece, heat along the wall, and hot parts in sight of the duct: surroundings radiate at the
// bay's temperature.
#pragma once

#include <bellmouth/air.hpp>
#include <bellmouth/build.hpp>

#include <optional>

namespace bellmouth::flow {

/// \name Nusselt numbers on the diameter [-]
///@{
/// A stream in a round bore.
struct BoreStream {
  double reynolds;        ///< >= 0
  double prandtl;         ///< > 0
  double friction;        ///< Darcy; > 0 where `reynolds` is above 2300, else not used
  double bore_per_length; ///< bore over heated length, > 0; the short-duct terms hold up to 1
};
/// Mean over the length, wall at one temperature, for any Reynolds number, continuous.
///
/// Re >= 4000: Nu = (f/8) (Re - 1000) Pr / (1 + 12.7 sqrt(f/8) (Pr^(2/3) - 1)) (1 + (D/L)^(2/3)).
///   Gnielinski, Forsch. Ing.-Wes. 41 (1976) 8-16; Pr 0.5 to 2000, Re 3000 to 5e6; +-10 %. The short-duct
///   factor is Hausen's, as Gnielinski takes it; D/L <= 1.
/// Re <= 2300: Nu^3 = 3.66^3 + 0.7^3 + (1.615 Gz^(1/3) - 0.7)^3 + (2 / (1 + 22 Pr))^(1/2) Gz^(3/2) with
///   Gz = Re Pr D/L: both profiles developing from the inlet. Gnielinski, Int. J. Heat Mass Transfer 63
///   (2013) 134-140; 3.66 for still air and long ducts.
/// Between: linear in Re from the laminar value at 2300 to the turbulent one at 4000 (same paper); f is taken
///   as given.
[[nodiscard]] double nusselt_in_bore(const BoreStream& stream);
/// Free convection round a long horizontal cylinder at one temperature: Nu^(1/2) = 0.60 + 0.387 Ra^(1/6) /
/// (1 + (0.559/Pr)^(9/16))^(8/27). Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975) 1049-1053;
/// properties at the mean of surface and air; Ra up to 1e12. `rayleigh` >= 0.
[[nodiscard]] double nusselt_of_free_convection(double rayleigh, double prandtl);
/// Forced flow across a cylinder: Nu = 0.3 + 0.62 Re^(1/2) Pr^(1/3) / (1 + (0.4/Pr)^(2/3))^(1/4) (1 +
/// (Re/282000)^(5/8))^(4/5). Churchill & Bernstein, J. Heat Transfer 99 (1977) 300-306; properties at the
/// mean of surface and air; Re Pr >= 0.2, Re up to 1e7; +-20 %. `reynolds` >= 0: below the range free
/// convection governs.
[[nodiscard]] double nusselt_of_cross_flow(double reynolds, double prandtl);
///@}

/// Film coefficient on the bore [W/(m2 K)]: nusselt_in_bore() with the properties at `temperature_K`. The
/// friction factor is Darcy's at this flow. `mass_flow_kg_s` >= 0, the lengths above zero (assertions).
[[nodiscard]] double inside_film_W_m2K(const air::Mixture& air, double mass_flow_kg_s, double temperature_K,
                                       double bore_m, double friction_factor, double length_m);

/// What surrounds a duct: still or moving air, and parts at its temperature.
struct Surroundings {
  double temperature_K; ///< of air and parts
  double speed_m_s;     ///< of the air across the duct, >= 0
  double pressure_Pa;   ///< absolute
};
/// Film on the outside of a duct [W/(m2 K)], each on the difference of surface and bay temperature.
struct OutsideFilm {
  double convection_W_m2K;
  double radiation_W_m2K;
  bool outside_range; ///< of Ra, Re or of the properties of air
  [[nodiscard]] double total_W_m2K() const { return convection_W_m2K + radiation_W_m2K; }
};
/// Free and forced convection combined as Nu^4 = Nu_forced^4 + Nu_free^4 (Incropera et al., Fundamentals of
/// Heat and Mass Transfer, section 9.9, equation 9.64: exponent 3, better 4 for cylinders across the stream;
/// from memory), and radiation of a small grey body: emissivity sigma (Ts^2 + Tb^2) (Ts + Tb). Finite at any
/// difference, zero included.
[[nodiscard]] OutsideFilm outside_film(const air::Mixture& air, const Surroundings& bay, double diameter_m,
                                       double surface_temperature_K, double emissivity);

/// \name What walls are made of; tables with sources in heat.cpp
///@{
/// Thermal conductivity [W/(m K)] at some 350 K.
[[nodiscard]] double conductivity_W_mK(build::Material material);
/// Total emissivity of the outside as it is found in service [-], and how far it may be off either way.
struct Emissivity {
  double value, band;
};
[[nodiscard]] Emissivity emissivity(build::Material material);
/// Of a woven or felt wrap. Foil on the outside, near 0.1, is not modelled.
[[nodiscard]] Emissivity lagged_emissivity();
///@}

/// One piece of duct in the bay. Where a bore changes along the piece, the mean is meant. The terms of the
/// short duct count from its inlet: joints and bends start the profiles anew.
struct WallCase {
  double bore_m, outer_diameter_m, length_m; ///< > 0, outer_diameter_m >= bore_m
  build::Material material;
  std::optional<build::Lagging> lagging;
  double mass_flow_kg_s;  ///< >= 0
  double temperature_K;   ///< total, of the air inside
  double friction_factor; ///< Darcy, of this stream; not used up to Re 2300
  Surroundings bay;
};
/// How heat gets through the wall of a piece.
struct WallHeat {
  double conductance_W_K;       ///< UA
  double surface_temperature_K; ///< outermost
  double inside_film_W_m2K;     ///< on the bore
  double outside_film_W_m2K;    ///< on the outermost surface: convection and radiation
  /// Relative, of the conductance, from those of the films, the wall and the lagging, weighed by their shares
  /// of the resistance. Inside: 15 % (laminar and turbulent: the correlation's 10 % and the properties across
  /// the film), 25 % between Re 2300 and 4000 and 30 % on rough walls and where the short-duct factor is out
  /// of range (our judgement). Outside convection: 30 %, the correlations' 20 % (Incropera et al.,
  /// section 7.4, from memory) widened for the unknown direction of the air. Radiation: that of the
  /// emissivity. Wall and lagging: 25 %.
  double band;
  bool outside_range; ///< a correlation was used outside its range
};
/// Finds the surface temperature at which the heat through the wall is the heat that the outside film passes
/// on; relative error of conductance and of the surface's difference to the bay below 1e-9. Air inside at the
/// bay's temperature is no special case, nor is still air.
[[nodiscard]] WallHeat wall_heat(const air::Mixture& air, const WallCase& piece);

/// What becomes of a stream that passes a wall of `conductance_W_K`.
struct StreamHeat {
  double outlet_temperature_K;
  double heat_W; ///< into the stream; negative where it is cooled
};
/// cp is taken at the inlet. Still air (no mass flow) ends at the bay's temperature and carries nothing.
[[nodiscard]] StreamHeat stream_heat(const air::Mixture& air, double mass_flow_kg_s,
                                     double inlet_temperature_K, double bay_temperature_K,
                                     double conductance_W_K);

} // namespace bellmouth::flow
