// SPDX-License-Identifier: GPL-3.0-or-later
// The document: one build as a plain value.
#pragma once

#include <bellmouth/build/pieces.hpp>
#include <bellmouth/build/shared.hpp>
#include <bellmouth/machine.hpp>
#include <bellmouth/mesh.hpp>
#include <bellmouth/quantity.hpp>

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace bellmouth::build {

/// x forward, y left, z up (ISO 8855) [m] or a unit vector.
using Vector = std::array<double, 3>;

/// \name Surroundings
///@{
/// Air as measured on the day.
struct Weather {
  double pressure_Pa, temperature_K, relative_humidity;
  friend bool operator==(const Weather&, const Weather&) = default;
};
/// Standard atmosphere of ISO 2533 at an altitude, with a humidity.
struct Altitude {
  double altitude_m, relative_humidity;
  friend bool operator==(const Altitude&, const Altitude&) = default;
};
using Ambient = std::variant<Weather, Altitude>;
///@}

enum class Mounting { engine, body };

using MachineKind =
    std::variant<machine::Filter, machine::MeterBody, machine::DisplacementBlower, machine::TargetCompressor,
                 machine::GearedCompressor, machine::ChargeCooler, machine::Throttle>;

struct Machine {
  MachineId id;
  std::string name;
  Mounting mounting = Mounting::engine;
  MachineKind kind;
  friend bool operator==(const Machine&, const Machine&) = default;
};
[[nodiscard]] std::string_view kind_key(const MachineKind& kind);
[[nodiscard]] std::string_view kind_name(const MachineKind& kind);
[[nodiscard]] bool is_blower(const MachineKind& kind);
/// The name, or the kind's word where there is none.
[[nodiscard]] std::string title(const Machine& machine);

/// Where a port is and which way it points, out of the machine.
struct Pose {
  Vector position_m{};
  Vector direction{1, 0, 0}; ///< unit length to 1e-6
  friend bool operator==(const Pose&, const Pose&) = default;
};

/// How well a place in the bay is known.
struct Survey {
  bool measured = false;  ///< false: assumed
  double tolerance_m = 0; ///< how far it may be off, any way
  std::string note;       ///< how it was found, in the user's words
  friend bool operator==(const Survey&, const Survey&) = default;
};

/// One spigot of a machine, of the engine's manifold, or where a path begins or ends in the open.
struct Port {
  PortId id;
  /// Unset: the engine's own intake manifold, or the open end of a path or bench.
  std::optional<MachineId> machine;
  Mounting mounting = Mounting::engine;
  double bore_m = 0;
  double outer_diameter_m = 0;
  double land_m = 0; ///< straight length of the spigot that a hose can use
  bool beaded = false;
  double free_straight_m = 0;              ///< straight length in front of it that must stay without a bend
  std::optional<Pose> pose = std::nullopt; ///< unset: not measured yet
  std::optional<Survey> survey = std::nullopt; ///< unset: not said
  Connection connection = {};
  friend bool operator==(const Port&, const Port&) = default;
};

/// \name Keep-outs
///@{
enum class KeepOutClass { fixed, moving, hot };
struct Box {
  Vector centre_m{}, half_size_m{};
  std::array<Vector, 3> axes{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
  friend bool operator==(const Box&, const Box&) = default;
};
struct Cylinder {
  Vector from_m{}, to_m{};
  double radius_m = 0;
  friend bool operator==(const Cylinder&, const Cylinder&) = default;
};
struct Sphere {
  Vector centre_m{};
  double radius_m = 0;
  friend bool operator==(const Sphere&, const Sphere&) = default;
};
/// Everything beyond the plane on the side `normal` points to.
struct HalfSpace {
  Vector point_m{}, normal{0, 0, 1};
  friend bool operator==(const HalfSpace&, const HalfSpace&) = default;
};
/// A scan of the bay: a mesh file, and how it lies.
struct Scan {
  std::string file; ///< as the build names it: beside the build's own file unless it is an absolute path
  mesh::Unit unit = mesh::Unit::millimetre;
  Vector origin_m{}; ///< where the file's origin lies in the bay
  std::array<Vector, 3> axes{
      {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};   ///< where the file's x, y, z point; left-handed when mirrored
  std::string digest;                       ///< of the mesh when it was placed; empty: not read then
  std::shared_ptr<const mesh::Scan> loaded; ///< unset: not read (yet); no part of the document
  std::string problem;                      ///< why it could not be read; no part of the document

  [[nodiscard]] mesh::Placement placement() const { return {mesh::metres(unit), axes, origin_m}; }
  friend bool operator==(const Scan& a, const Scan& b) {
    return a.file == b.file && a.unit == b.unit && a.origin_m == b.origin_m && a.axes == b.axes &&
           a.digest == b.digest && a.loaded == b.loaded;
  }
};

/// A state of the bay that can be looked at: bonnet shut, wheels at lock, engine rocked. Without any of them
/// the bay is at rest.
struct BayState {
  StateId id;
  double roll = 0; ///< of the engine, as a share of its movement: -1 to 1
  friend bool operator==(const BayState&, const BayState&) = default;
};
/// How far the engine moves on its mounts, against the body.
struct EngineMovement {
  Vector axis_point_m{};
  Vector axis_direction{1, 0, 0}; ///< unit length to 1e-6; a positive roll is right-handed about it
  double roll_rad = 0;            ///< to either side
  double shake_m = 0;             ///< any way, on top of the roll
  friend bool operator==(const EngineMovement&, const EngineMovement&) = default;
};

/// How far ducting stays off things. The defaults: an ordinary part 10 mm (a car service manual's table), a
/// moving one 25 mm (common practice, no source found: or its movement and 10 mm), a hot one 76 mm (a truck
/// body-builder manual, unshielded hose to exhaust), other ducting and ports 10 mm (as for an ordinary part).
struct ClearanceLimits {
  double fixed_m = 10e-3, moving_m = 25e-3, hot_m = 76e-3, ducting_m = 10e-3;
  friend bool operator==(const ClearanceLimits&, const ClearanceLimits&) = default;

  [[nodiscard]] double of(KeepOutClass keep_out_class) const;
};

struct KeepOut {
  std::string name;
  KeepOutClass keep_out_class = KeepOutClass::fixed;
  std::optional<double> clearance_m; ///< unset: the default of its class
  std::variant<Box, Cylinder, Sphere, HalfSpace, Scan> shape;
  Mounting mounting = Mounting::body;
  std::optional<MachineId> machine =
      std::nullopt;                 ///< the machine whose body it is: ducting begins and ends at it
  std::vector<StateId> states = {}; ///< it is there in these only; empty: always
  std::optional<Survey> survey = std::nullopt; ///< unset: not said
  friend bool operator==(const KeepOut&, const KeepOut&) = default;
};
///@}

/// A photograph that lies under the view: two of its points are known.
struct Photograph {
  enum class View { above, left, right, front };
  std::string file; ///< as the build names it: beside the build's own file unless it is an absolute path
  View view = View::above;
  std::array<double, 2> first_px{}, second_px{}; ///< from its left upper corner, to the right and down
  Vector first_m{}, second_m{};                  ///< the same two points in the bay
  friend bool operator==(const Photograph&, const Photograph&) = default;
};

/// A chain of pieces from one port to another, in the direction of flow.
struct Run {
  RunId id;
  PortId from, to;
  std::vector<Piece> pieces;
  friend bool operator==(const Run&, const Run&) = default;
};

/// One complete set of runs. Every option of a build has the runs that the path names.
struct Option {
  OptionId id;
  std::string note;
  std::vector<Shared<Run>> runs;
  friend bool operator==(const Option&, const Option&) = default;

  [[nodiscard]] const Run* find(const RunId& id) const;
};

using BranchId = Id<struct BranchTag>;

/// One step of the air path from the open air to the engine (or the bench): machines and runs in order.
/// Neighbouring machines are bolted together. Steps that name a branch run side by side with the branches
/// next to them: neighbouring branches divide the air where the first of them begins and join where the last
/// ends.
struct PathStep : std::variant<MachineId, RunId> {
  using std::variant<MachineId, RunId>::variant;
  BranchId branch = {}; ///< empty: all the air passes here
  friend bool operator==(const PathStep&, const PathStep&) = default;

  /// The machine or the run, whatever the branch.
  [[nodiscard]] const std::variant<MachineId, RunId>& what() const { return *this; }
};
/// What the air loses on its way into and out of a branch, on the branch's own velocity at that end.
struct Branch {
  BranchId id;
  double split_loss = 0, join_loss = 0;
  friend bool operator==(const Branch&, const Branch&) = default;
};
/// The step before or behind another on the same air: within its branch, or across the place where branches
/// divide. Nothing at the open end, and nothing where several branches come together or begin.
[[nodiscard]] std::optional<std::size_t> step_before(const std::vector<PathStep>& path, std::size_t step);
[[nodiscard]] std::optional<std::size_t> step_behind(const std::vector<PathStep>& path, std::size_t step);

/// A flow bench in place of an engine.
struct FixedFlow {
  double mass_flow_kg_s, inlet_total_pressure_Pa, inlet_total_temperature_K;
  friend bool operator==(const FixedFlow&, const FixedFlow&) = default;
};
using Demand = std::variant<machine::Engine, FixedFlow>;

/// How the air gets in where an engine's path begins with a run, a meter body or a throttle. Elsewhere it is
/// kept and not used.
struct OpenInlet {
  enum class Kind { bellmouth, flush, projecting } kind = Kind::bellmouth;
  double lip_radius_m = 0; ///< bellmouth only
  friend bool operator==(const OpenInlet&, const OpenInlet&) = default;
};

/// The air round the ducting, for the heat that it picks up.
struct BayAir {
  double temperature_K, speed_m_s;
  friend bool operator==(const BayAir&, const BayAir&) = default;
};

/// What a fit to measurements may correct.
enum class Coefficient {
  engine_volumetric_efficiency,
  blower_volumetric_efficiency,
  blower_adiabatic_efficiency,
  filter_drop,
  cooler_drop,
  cooler_effectiveness,
  duct_losses
};
/// A coefficient corrected by measurement: the build's own figure is multiplied with the factor. Of machines,
/// all of the kind are meant.
struct Measured {
  Coefficient coefficient = Coefficient::duct_losses;
  double factor = 1;
  double band = 0; ///< relative half width at 95 %
  friend bool operator==(const Measured&, const Measured&) = default;
};

/// \name Stock and money
///@{
enum class StockKind {
  tube,
  tube_bend,
  mitred_bend,
  cone,
  adapter,
  hose,
  hump_hose,
  hose_elbow,
  hose_reducer,
  sensor_boss,
  valve_flange,
  clamp
};
/// How the price is meant: for one pack, which holds one piece unless it is said otherwise, or for a metre.
enum class Per { each, metre };
/// How a clamp closes.
enum class ClampType {
  worm,            ///< screw in a slotted band (DIN 3017-1)
  lined_worm,      ///< the same with a smooth band inside, so that the slots do not cut the hose
  lug,             ///< screw between two lugs (DIN 3017-2)
  round_bolt,      ///< T-bolt (DIN 3017-3)
  spring,          ///< spring band (DIN 3021): no screw
  constant_tension ///< screw with spring washers, follows the hose as it warms and settles
};
/// A thing that can be bought. Sizes that a kind does not have are unset.
struct StockItem {
  StockId id;
  StockKind kind = StockKind::tube;
  std::string name;
  Material material = Material::aluminium;
  std::optional<double> outer_diameter_m, bore_m, bore_out_m, wall_m, length_m, angle_rad, radius_m, leg_in_m,
      leg_out_m;
  std::optional<double> clamp_min_m, clamp_max_m, band_width_m; ///< clamps: range of installed diameter
  std::optional<std::string> thread;
  std::optional<double> max_temperature_K;
  std::optional<int> plies; ///< hoses
  quantity::Money price;
  Per per = Per::each;
  int pack = 1;                                      ///< pieces for the price; 1 where it is per metre
  std::string supplier = {};                         ///< a label of the user's own; empty: not said
  std::optional<double> max_gauge_Pa = std::nullopt; ///< working pressure it is rated for, above ambient
  bool oil_proof = false;                            ///< hoses: lined against oil and fuel
  bool wire = false;                                 ///< hoses: stiffened by bonded wire against suction
  std::optional<ClampType> clamp_type = std::nullopt;
  std::optional<double> torque_Nm = std::nullopt; ///< clamps: what the maker asks for
  friend bool operator==(const StockItem&, const StockItem&) = default;
};

/// Value-added or sales tax on all that is bought.
struct Tax {
  int rate_basis_points = 0;   ///< hundredths of a percent
  bool prices_include = false; ///< whether the prices of the stock hold it already
  friend bool operator==(const Tax&, const Tax&) = default;
};
/// What a parcel from a supplier costs; in prices as the stock has them, with or without tax.
struct Postage {
  std::string supplier; ///< as stock items name it
  quantity::Money price;
  std::optional<quantity::Money> free_from = std::nullopt; ///< of goods in one parcel
  friend bool operator==(const Postage&, const Postage&) = default;
};
/// More of a kind than is needed, against loss and error.
struct Spare {
  StockKind kind = StockKind::clamp;
  int percent = 0; ///< of what is needed of each item; rounded up to whole pieces, of the metre to lengths
  friend bool operator==(const Spare&, const Spare&) = default;
};
struct Budget {
  quantity::Currency currency;
  std::optional<quantity::Money> limit;  ///< with tax
  std::optional<Tax> tax = std::nullopt; ///< unset: not spoken of
  std::vector<Postage> postage = {};     ///< each supplier once
  std::vector<Spare> spares = {};        ///< each kind once
  friend bool operator==(const Budget&, const Budget&) = default;
};
/// What the user has already.
struct Owned {
  StockId stock;
  double quantity = 0; ///< pieces, or metres in one length where the price is per metre
  std::optional<quantity::Money> paid = std::nullopt; ///< for all of it, as paid; unset: not counted as spent
  friend bool operator==(const Owned&, const Owned&) = default;
};
/// What is left over of stock, to be used first: a length of tube or hose, or part of a bend.
struct Offcut {
  StockId stock;
  int count = 1;
  double straight_in_m = 0;  ///< the length where there is no arc
  double angle_rad = 0;      ///< what is left of the arc of a bend
  double straight_out_m = 0; ///< bends only
  friend bool operator==(const Offcut&, const Offcut&) = default;
};
///@}

/// A waiver of a finding that points at no piece.
struct BuildWaiver {
  Waiver what;
  std::optional<MachineId> machine = std::nullopt; ///< unset: one that points at no machine either
  friend bool operator==(const BuildWaiver&, const BuildWaiver&) = default;
};
/// A threshold that the user has changed: see trade::thresholds().
struct ChangedThreshold {
  std::string key;
  double value = 0; ///< in the unit that the key ends in
  friend bool operator==(const ChangedThreshold&, const ChangedThreshold&) = default;
};

/// The whole document.
struct Build {
  std::string title;
  std::string note;
  Ambient ambient = Weather{101325.0, 293.15, 0.5};
  Demand demand;
  double plenum_exit_loss = 1.0; ///< share of the last dynamic pressure lost on entering the manifold, 0 to 1
  std::vector<Machine> machines;
  std::vector<Port> ports;
  std::vector<KeepOut> keep_outs;
  std::optional<ClearanceLimits> clearances; ///< unset: the defaults
  std::vector<BayState> states;              ///< besides the bay at rest
  std::optional<EngineMovement> movement;    ///< unset: not said
  std::vector<Photograph> photographs;
  OpenInlet inlet;
  std::vector<PathStep> path;
  std::vector<Branch> branches;   ///< those that the path names
  std::optional<BayAir> bay;      ///< unset: the ducting picks up no heat
  std::vector<Measured> measured; ///< each coefficient once
  std::vector<Option> options;    ///< at least one
  Budget budget;
  Shared<std::vector<StockItem>> stock;
  std::vector<Owned> owned;
  std::vector<Offcut> offcuts;
  std::vector<BuildWaiver> waivers;         ///< each rule once for each machine, and once without
  std::vector<ChangedThreshold> thresholds; ///< each key once
  friend bool operator==(const Build&, const Build&) = default;

  [[nodiscard]] const Machine* find(const MachineId& id) const;
  [[nodiscard]] const Port* find(const PortId& id) const;
  [[nodiscard]] const Option* find(const OptionId& id) const;
  [[nodiscard]] const StockItem* find(const StockId& id) const;
  [[nodiscard]] const Branch* find(const BranchId& id) const;
  [[nodiscard]] const BayState* find(const StateId& id) const;
  /// How far ducting stays off a keep-out: its own clearance, or that of its class.
  [[nodiscard]] double clearance_m(const KeepOut& keep_out) const;
  /// The factor of a coefficient: 1 unless it was measured.
  [[nodiscard]] const Measured* find(Coefficient coefficient) const;
};

/// Ambient air: pressure, temperature, composition.
struct AmbientAir {
  double pressure_Pa, temperature_K;
  air::Mixture air;
};
[[nodiscard]] AmbientAir ambient_air(const Ambient& ambient);

} // namespace bellmouth::build
