// SPDX-License-Identifier: GPL-3.0-or-later
// The pieces of a run. Lengths are what is cut or bought; what a hose adds to the centreline is worked out by
// joint/.
#pragma once

#include <compare>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace bellmouth::build {

/// A name that cannot be mistaken for a name of another kind.
template <class Tag> struct Id {
  std::string text;
  friend auto operator<=>(const Id&, const Id&) = default;
};
using MachineId = Id<struct MachineTag>;
using PortId = Id<struct PortTag>;
using RunId = Id<struct RunTag>;
using OptionId = Id<struct OptionTag>;
using StockId = Id<struct StockTag>;
using StateId = Id<struct StateTag>;

enum class Material { aluminium, mild_steel, stainless_steel, silicone, rubber, plastic };
/// The word for a material, as files spell it ("mild_steel") and as people read it ("mild steel").
[[nodiscard]] std::string_view material_key(Material material);
[[nodiscard]] std::string_view material_name(Material material);

/// \name Rigid pieces. Outside diameters and walls; bore = outside diameter - 2 wall.
///@{
/// Ends of a rigid piece: whether each carries a bead for a hose.
struct Beads {
  bool in = false, out = false;
  friend bool operator==(const Beads&, const Beads&) = default;
};
struct Tube {
  double outer_diameter_m, wall_m, length_m;
  Beads beads;
  friend bool operator==(const Tube&, const Tube&) = default;
};
/// A mandrel-bent tube: leg, arc, leg. Clocking turns the plane of the bend about the centreline, clockwise
/// looking downstream, measured from the plane of the bend before (from the port's reference for the first).
struct TubeBend {
  double outer_diameter_m, wall_m, angle_rad, radius_m, leg_in_m, leg_out_m, clocking_rad;
  Beads beads;
  friend bool operator==(const TubeBend&, const TubeBend&) = default;
};
/// A bend welded from straight cuts: `joints` mitres on an arc of `radius_m`. One joint is a single mitre.
struct MitredBend {
  double outer_diameter_m, wall_m, angle_rad, radius_m;
  int joints;
  double leg_in_m, leg_out_m, clocking_rad;
  Beads beads;
  friend bool operator==(const MitredBend&, const MitredBend&) = default;
};
/// A rigid taper.
struct Cone {
  double outer_diameter_in_m, outer_diameter_out_m, wall_m, length_m;
  Beads beads;
  friend bool operator==(const Cone&, const Cone&) = default;
};
/// How an end is made to be joined.
struct Connection {
  enum class Kind {
    spigot, ///< plain or beaded tube, for a hose or a weld
    flange, ///< bolted against another of the same size
    thread, ///< screwed together with another of the same size
  } kind = Kind::spigot;
  std::string
      size; ///< of flanges and threads, in the user's words: "4 x M8 on 80", "G 2"; two that meet agree
  friend bool operator==(const Connection&, const Connection&) = default;
};
/// A turned or cast adapter with its own bores.
struct Adapter {
  double outer_diameter_in_m, outer_diameter_out_m, bore_in_m, bore_out_m, length_m;
  Beads beads;
  Connection connection_in = {}, connection_out = {};
  friend bool operator==(const Adapter&, const Adapter&) = default;
};
///@}

/// \name Flexible pieces. Bores and walls; each end slips over a spigot by its engagement.
///@{
struct Engagement {
  double in_m, out_m;
  friend bool operator==(const Engagement&, const Engagement&) = default;
};
/// The inside of a hose: smooth, showing its wire, or corrugated.
enum class Lining { smooth, wire, corrugated };
struct Hose {
  double bore_m, wall_m, length_m;
  Engagement engagement;
  Lining lining = Lining::smooth;
  friend bool operator==(const Hose&, const Hose&) = default;
};
/// A hose with one hump that takes up misalignment and movement.
struct HumpHose {
  double bore_m, wall_m, length_m, hump_length_m, hump_bore_m;
  Engagement engagement;
  friend bool operator==(const HumpHose&, const HumpHose&) = default;
};
/// A moulded elbow: leg, arc, leg; its two ends may differ in bore. The legs hold the engagement.
struct HoseElbow {
  double bore_in_m, bore_out_m, wall_m, angle_rad, radius_m, leg_in_m, leg_out_m, clocking_rad;
  bool pleated = false; ///< corrugated bore
  Engagement engagement;
  friend bool operator==(const HoseElbow&, const HoseElbow&) = default;
};
struct HoseReducer {
  double bore_in_m, bore_out_m, wall_m, length_m;
  Engagement engagement;
  friend bool operator==(const HoseReducer&, const HoseReducer&) = default;
};
///@}

/// \name Fittings on a rigid piece. They follow their host in the run and lie `position_m` along its
/// centreline from the host's inlet end, turned by `clocking_rad` clockwise looking downstream from the run's
/// reference.
///@{
/// The part of a sensor that stands into the stream.
struct Tip {
  double diameter_m, depth_m;
  friend bool operator==(const Tip&, const Tip&) = default;
};
struct SensorBoss {
  double position_m, clocking_rad;
  std::string thread;                    ///< designation as in shared/tables/threads.csv
  std::optional<Tip> tip = std::nullopt; ///< unset: flush with the wall
  friend bool operator==(const SensorBoss&, const SensorBoss&) = default;
};
struct ValveFlange {
  double position_m, clocking_rad;
  double bore_m; ///< of the hole in the host
  friend bool operator==(const ValveFlange&, const ValveFlange&) = default;
};
///@}

using Shape = std::variant<Tube, TubeBend, MitredBend, Cone, Adapter, Hose, HumpHose, HoseElbow, HoseReducer,
                           SensorBoss, ValveFlange>;

/// Lagging or heat wrap round a piece.
struct Lagging {
  double thickness_m, conductivity_W_mK;
  friend bool operator==(const Lagging&, const Lagging&) = default;
};

/// How much movement and misalignment a flexible piece takes up between its two ends.
struct Give {
  double axial_m, offset_m, angle_rad; ///< each way
  friend bool operator==(const Give&, const Give&) = default;
};

/// A finding that the user has looked at and lives with.
struct Waiver {
  std::string rule;   ///< key of the rule
  std::string reason; ///< in the user's words, never empty; it is printed with the finding
  friend bool operator==(const Waiver&, const Waiver&) = default;
};

/// One row of a run.
struct Piece {
  Shape shape;
  Material material = Material::aluminium;
  StockId stock;     ///< what it is bought as; empty: not chosen yet
  std::string label; ///< what the user calls it; may be empty
  std::optional<Lagging> lagging = std::nullopt;
  std::optional<Give> give = std::nullopt; ///< flexible pieces; unset: what is usual for the kind
  std::vector<Waiver> waivers = {};        ///< each rule once
  friend bool operator==(const Piece&, const Piece&) = default;
};

/// The word for a kind, as files spell it ("tube_bend") and as people read it ("tube bend").
[[nodiscard]] std::string_view kind_key(const Shape& shape);
[[nodiscard]] std::string_view kind_name(const Shape& shape);
/// The label, or the kind's name when there is none.
[[nodiscard]] std::string_view title(const Piece& piece);

[[nodiscard]] bool is_fitting(const Shape& shape);  ///< boss or flange: sits on the piece before it
[[nodiscard]] bool is_flexible(const Shape& shape); ///< hose of any kind
[[nodiscard]] bool is_rigid(const Shape& shape);    ///< neither

/// \name Common questions of shapes; fittings have none of these (zero)
///@{
[[nodiscard]] double bore_in_m(const Shape& shape);
[[nodiscard]] double bore_out_m(const Shape& shape);
[[nodiscard]] double outer_diameter_in_m(const Shape& shape);
[[nodiscard]] double outer_diameter_out_m(const Shape& shape);
[[nodiscard]] double wall_m(const Shape& shape);
/// Length along the centreline from end to end, the parts that cover a spigot included: what is cut or
/// bought.
[[nodiscard]] double full_length_m(const Shape& shape);
/// The angle it turns [rad], 0 for straight pieces.
[[nodiscard]] double angle_rad(const Shape& shape);
/// Straight length at each end that a clamp can use [m].
[[nodiscard]] double land_in_m(const Shape& shape);
[[nodiscard]] double land_out_m(const Shape& shape);
///@}

} // namespace bellmouth::build
