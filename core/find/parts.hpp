// SPDX-License-Identifier: GPL-3.0-or-later
// What a route is made of, chosen from the build's stock: hoses for its joints, bends, tube.
#pragma once

#include <bellmouth/find.hpp>

#include <optional>
#include <vector>

namespace bellmouth::find {

/// What a route begins or ends at: a rigid end that a hose goes over, or a hose that takes the tube.
struct Joined {
  bool flexible = false;
  double diameter_m = 0;   ///< outside diameter of the rigid end; bore of the hose
  double engagement_m = 0; ///< the hose's; of a rigid end, what of it is straight
};

/// A hose as a joint between two rigid ends.
struct Coupler {
  const build::StockItem* item = nullptr;
  double engagement_in_m = 0, gap_m = 0, engagement_out_m = 0;
  double bore_in_m = 0, bore_out_m = 0; ///< differ: a reducer

  [[nodiscard]] double length_m() const { return engagement_in_m + gap_m + engagement_out_m; }
  [[nodiscard]] build::Piece piece() const;
  /// How far its wall stands out over a tube of that diameter.
  [[nodiscard]] double stands_out_m(double tube_m) const;
};

/// A piece that turns, with the stock item it is.
struct Turning {
  const build::StockItem* item = nullptr;
  way::Bend bend;
};

/// The air that a run carries, for what the choice of hoses and losses hangs on. Without a usable operating
/// point: 1e5 and no temperature.
struct Air {
  double reynolds = 1e5;
  std::optional<double> hottest_K;
};
[[nodiscard]] Air air_in(const Evaluation& evaluation, const Ask& ask);

/// Whether a hose of that bore goes on a spigot and can be clamped: neither loose nor tight by the checks.
[[nodiscard]] bool goes_on(double bore_m, double spigot_m);

/// A hump hose takes up movement that a plain one does not.
enum class Wanted { plain, hump };
/// The hose between two rigid ends: of the kind that is wanted if one goes on both, else of the other, else a
/// reducer; of silicone and good for the air's temperature before others, long enough for full engagement
/// before shorter, then the cheapest. `land_*` is what of the ends is straight.
[[nodiscard]] std::optional<Coupler> coupler(const build::Build& build, double in_m, double land_in_m,
                                             double out_m, double land_out_m,
                                             const std::optional<double>& hottest_K,
                                             Wanted wanted = Wanted::plain);

/// The bends and elbows for a tube size; none that another does as well for no more money. `engagement_m`
/// is what a tube takes of an elbow's legs.
[[nodiscard]] std::vector<Turning> turnings(const build::Build& build, const Ask& ask, double engagement_m,
                                            double reynolds);
/// The cheapest tube of the size, by the metre.
[[nodiscard]] std::optional<way::Tube> tube(const build::Build& build, const stock::TubeSize& size);
/// Roughness of a drawn tube of that size over its bore.
[[nodiscard]] double relative_roughness(const stock::TubeSize& size);
/// K of a turn by `angle_rad` without the friction along its arc.
[[nodiscard]] double turn_loss(const stock::TubeSize& size, double radius_m, double angle_rad,
                               double reynolds);

/// Money in the currency's major unit.
[[nodiscard]] double major(const quantity::Money& money);
/// What a coupler and its two clamps cost.
[[nodiscard]] double price_of(const build::Build& build, const Coupler& coupler, double in_m, double out_m);

} // namespace bellmouth::find
