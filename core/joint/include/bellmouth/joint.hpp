// SPDX-License-Identifier: GPL-3.0-or-later
// Where two ends meet: which kind of joint it is, whether it fits, what clamps it needs, and what the hoses
// do to the lengths. Rows of a run that are fittings (bosses, flanges) take no part in joints.
#pragma once

#include <bellmouth/bay.hpp>
#include <bellmouth/build.hpp>
#include <bellmouth/stock.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::joint {

/// Two tube ends whose outside diameters differ by no more than this [m] are taken for one size and can be
/// butt welded (common practice, no source found: a mismatch of a fifth of a thin wall is dressed away).
inline constexpr double weld_mismatch_m = 0.3e-3;

enum class Kind {
  hose,   ///< a spigot in a hose end
  weld,   ///< two rigid ends of one size within `weld_mismatch_m`
  flange, ///< two flanges of one size bolted together
  thread, ///< two threads of one size screwed together
  wrong,  ///< anything else: two hose ends, rigid ends of different size, a hose on a flange
};
/// In words: "spigot in hose", "weld".
[[nodiscard]] std::string_view text(Kind kind);

/// One side of a joint.
struct End {
  std::optional<std::size_t> row; ///< row of the run; unset: the port
  bool flexible = false;
  double bore_m = 0;
  double outer_diameter_m = 0; ///< of a hose: bore + 2 wall
  double land_m = 0;           ///< straight length that a clamp or a hose can use
  bool beaded = false;
  build::Material material{}; ///< of a port: aluminium, for want of a better word
  build::Connection connection = {};
};

/// A meeting of two ends, in the direction of flow.
struct Joint {
  End upstream, downstream;
  Kind kind = Kind::wrong;
  double engagement_m = 0;   ///< hose joints: how far the spigot goes in
  double interference_m = 0; ///< hose joints: spigot outside diameter - hose bore; negative is loose
  double installed_diameter_m =
      0; ///< hose joints: spigot outside diameter + 2 hose wall; what the clamp goes round
  const build::StockItem* clamp =
      nullptr; ///< hose joints: the clamp from stock, if there is one. Lives as long as the build's stock.

  [[nodiscard]] const End& spigot() const { return upstream.flexible ? downstream : upstream; }
  [[nodiscard]] const End& hose() const { return upstream.flexible ? upstream : downstream; }
};

/// What the joints make of one row.
struct Row {
  double cover_in_m = 0;           ///< length of a hose that covers the spigot before it
  double cover_out_m = 0;          ///< and behind it
  double centreline_length_m = 0;  ///< full length - covers; 0 for fittings
  std::optional<std::size_t> host; ///< fittings: the row they sit on
};

struct RunFit {
  std::vector<Joint>
      joints;            ///< in order of flow, port joints included: one more than there are non-fitting rows
  std::vector<Row> rows; ///< one per row of the run
};

/// The joints of a run between its ports. Ports must exist (validate() says so). A hose end at a wrong joint
/// covers nothing; a run without pieces joins port to port.
[[nodiscard]] RunFit fit(const build::Build& build, const build::Run& run);
/// The joints of all runs of an option, in the order in which the path names them. The option must have them
/// (validate() says so).
[[nodiscard]] std::vector<RunFit> fits(const build::Build& build, const build::Option& option);

/// The track of each row of a run, the covers of its hoses taken off; of fittings none.
[[nodiscard]] std::vector<bay::Track> tracks(const build::Run& run, const RunFit& fit);

/// Clamps needed by a joint: 1 for a hose joint, else 0.
[[nodiscard]] int clamps_needed(const Joint& joint);

/// \name Statics at a joint
///@{
/// Force [N] that tries to part a joint: gauge pressure x pi/4 x outside diameter squared (closed form of
/// statics: the hose seals on the outside of the spigot, so pressure acts on all of it).
[[nodiscard]] double parting_force_N(double gauge_pressure_Pa, double outer_diameter_m);
/// Outward force [N] on a bend held only by hoses: 2 p A sin(angle/2), A on the outside diameter (closed form
/// of statics; the momentum of the air, which adds density x velocity squared to p, some 5 kPa at 50 m/s, is
/// left out).
[[nodiscard]] double bend_thrust_N(double gauge_pressure_Pa, double outer_diameter_m, double angle_rad);
///@}

/// \name Cutting a segmented bend
///@{
struct Wedge {
  double cut_angle_rad, long_side_m, short_side_m;
};
/// A full wedge of a bend of `joints` >= 1 mitres: the cut is angle / (2 joints), sides 2 (R +- OD/2)
/// tan(cut). A short side that is not positive says that the cuts would cross.
[[nodiscard]] Wedge wedge(double outer_diameter_m, double radius_m, double angle_rad, int joints);
///@}

} // namespace bellmouth::joint
