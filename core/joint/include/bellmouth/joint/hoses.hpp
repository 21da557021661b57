// SPDX-License-Identifier: GPL-3.0-or-later
// What hoses stand: pressure, suction, warmth.
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/trade.hpp>

#include <optional>

namespace bellmouth::joint {

/// A limit of a piece, and whether its stock item states it or the trade's usual figure stands in.
struct Rating {
  double value = 0;
  bool stated = false;
};

/// Working pressure [Pa] above ambient that a hose of a wall and bore usually has: `hose_working_gauge_Pa`,
/// which is meant of a wall of 5 mm on a bore of 76 mm; less in proportion where wall / bore is less (statics
/// of thin walls: the stress goes with bore / wall), and never more, since a small bore says nothing of a
/// large one.
[[nodiscard]] double usual_working_gauge_Pa(double wall_m, double bore_m, const trade::Limits& limits);

/// Working pressure [Pa] of a hose above ambient: the item's rating, else the usual one for its larger bore.
/// `item` may be nullptr. Only for flexible pieces (an assertion).
[[nodiscard]] Rating working_gauge_Pa(const build::Piece& hose, const build::StockItem* item,
                                      const trade::Limits& limits);

/// Temperature [K] that a piece stands: the item's, else that of its material: rubber, plastic, and silicone
/// on polyester for all others. `item` may be nullptr.
[[nodiscard]] Rating greatest_temperature_K(const build::Piece& piece, const build::StockItem* item,
                                            const trade::Limits& limits);

/// Poisson's ratio of rubber, which keeps its volume.
inline constexpr double rubber_poisson = 0.5;

/// Suction [Pa] at which a round tube of an even wall folds, held round at both ends of `free_length_m`. The
/// greater of
/// - a long tube: 2 E / (1 - nu^2) (t / D)^3 (Bryan 1888; von Mises 1914 for two lobes),
/// - a short one: 2.42 E (t / D)^2.5 / ((1 - nu^2)^0.75 (L / D - 0.45 (t / D)^0.5)) (Windenburg and Trilling
///   1934, Collapse by instability of thin cylindrical shells under external pressure),
/// D the mean diameter, nu Poisson's ratio. Derived for thin elastic shells; a hose
/// is neither thin nor of one stuff, so that it is an estimate. Infinite where the length is too short for
/// the second to mean anything. All arguments above 0, the length may be 0, nu less than 1.
[[nodiscard]] double collapse_Pa(double modulus_Pa, double mean_diameter_m, double wall_m,
                                 double free_length_m, double poisson = rubber_poisson);

/// Suction that an even wall stands before it folds, the softest and the firmest.
struct Collapse {
  double low_Pa = 0, high_Pa = 0;
};
/// By collapse_Pa() on the larger bore of a hose. Wire and many plies make it stand more: see is_stiff().
/// Nothing for a corrugated wall, to which it does not apply. Only for flexible pieces (an assertion).
[[nodiscard]] std::optional<Collapse> collapse(const build::Shape& hose, double free_length_m,
                                               const trade::Limits& limits);

/// Whether its wall is corrugated: such a wall folds elsewhere.
[[nodiscard]] bool is_corrugated(const build::Shape& shape);
/// Whether a wire, or `stiff_plies` and more, hold it round. `item` may be nullptr.
[[nodiscard]] bool is_stiff(const build::Shape& shape, const build::StockItem* item,
                            const trade::Limits& limits);

} // namespace bellmouth::joint
