// SPDX-License-Identifier: GPL-3.0-or-later
// The lists a person takes to the bench: cutting, clamps, reducer steps, bosses, beads, welds, joints, mass.
// Every line leads back to the pieces it serves. What has to be bought stands in buy/.
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/flow.hpp>
#include <bellmouth/joint.hpp>
#include <bellmouth/joint/statics.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::list {

/// One option's runs with their joints, in path order.
struct Work {
  const build::Build& build;
  const build::Option& option;
  const std::vector<const build::Run*>& runs;
  const std::vector<joint::RunFit>& fits; ///< one for each of `runs`
  const flow::PathFlow* flow = nullptr;   ///< for pressures at the joints; nullptr: not known
};

/// How the end of a piece is made ready for its joint.
enum class EndWork {
  plain,     ///< sawn square and deburred
  bead,      ///< and a bead rolled on
  weld,      ///< sawn square and made ready for a weld
  bead_weld, ///< a bead on an end that is welded: work for nothing
  hose,      ///< the end of a hose, cut square
  flange,    ///< as its flange asks
  thread     ///< as its thread asks
};
/// In words: "bead, weld".
[[nodiscard]] std::string_view text(EndWork work);

/// One piece to be cut.
struct CutLine {
  build::PieceRef piece;
  std::string title;
  build::Material material = build::Material::aluminium;
  build::Shape shape;
  double cut_length_m = 0;                          ///< along the centreline, engagement included
  double centreline_length_m = 0;                   ///< what it adds to the run
  double engagement_in_m = 0, engagement_out_m = 0; ///< hoses: over the spigots. Tubes: inside the hoses
  EndWork in = EndWork::plain, out = EndWork::plain;
  /// Hoses: what comes off the stock item that it is bought as, at the piece's inlet and outlet; of a
  /// straight hose all at the outlet. Unset where no item that serves is chosen, or it does not say, or is
  /// sold by the metre.
  std::optional<double> trim_in_m, trim_out_m;
};
/// "bead / plain".
[[nodiscard]] std::string ends_text(const CutLine& line);
/// What the maker has to know besides the length: angle, radius and clocking of bends, joints and pieces of
/// segmented ones, what comes off a hose. Empty for straight tube.
[[nodiscard]] std::string note_text(const CutLine& line);

/// Lengths along the three lines of a bend that can be measured with a tape, from the start of its arc.
struct OnArc {
  double angle_rad = 0;
  double inside_m = 0, centreline_m = 0, outside_m = 0; ///< (R - OD/2), R and (R + OD/2) x angle
};
/// A mandrel bend: what is left of it, and where the saw goes on the bend as it is bought.
struct BendLine {
  build::PieceRef piece;
  std::string title;
  double outer_diameter_m = 0, radius_m = 0, leg_in_m = 0, leg_out_m = 0;
  double setback_m = 0; ///< radius x tan(angle / 2): from either end of the arc to where the straights meet
  OnArc arc;            ///< all of the piece's arc
  /// A saw cut that makes one end of the piece.
  struct Cut {
    bool in_arc = false;   ///< else in the leg
    double from_arc_m = 0; ///< in a leg: from the end of the arc on that side
    OnArc place;           ///< in the arc: from the start of the arc at the bend's other end
  };
  std::optional<build::StockId> stock; ///< the bend it is cut from; unset: none is chosen, the cuts unknown
  bool turned = false;                 ///< its inlet is the bought bend's outlet
  std::optional<Cut> cut_in, cut_out;  ///< unset: the end stays as it is bought
};

/// A segmented bend: n welded joints take n + 1 pieces, of which n - 1 are full wedges, cut on both sides,
/// and two are ends, cut on one.
struct WedgeLine {
  build::PieceRef piece;
  std::string title;
  double outer_diameter_m = 0, radius_m = 0, angle_rad = 0;
  int joints = 0;
  double saw_angle_rad = 0; ///< from square: angle / (2 joints)
  /// Lengths along the outside and the inside of the bend and along the tube's middle.
  struct Sides {
    double long_m = 0, centre_m = 0, short_m = 0;
  };
  Sides wedge;           ///< a full one: 2 (R +- OD/2) tan(saw angle), 2 R tan(saw angle)
  Sides end_in, end_out; ///< the ends with their legs: leg + (R +- OD/2) tan(saw angle)
  /// Of one straight tube for all of them: the sum of the lengths along the middle and of a kerf, longer by
  /// 1 / cos(saw angle) along the tube, for each joint. The tube is turned by 180 degrees between cuts.
  double material_m = 0;
  double kerf_m = 0;      ///< square to the blade
  bool too_short = false; ///< the short side of a full wedge is below what can be welded
  bool bought = false;    ///< bought welded: nothing to saw

  [[nodiscard]] int pieces() const { return joints + 1; }
  [[nodiscard]] int full_wedges() const { return joints - 1; }
};
/// "5 joints, 6 pieces: 4 full wedges and 2 ends cut on one side".
[[nodiscard]] std::string count_text(const WedgeLine& line);

/// What a clocking is counted from.
struct Reference {
  enum class Kind {
    port_up,      ///< the upper side of the pipe at the port where the run begins
    port_forward, ///< its front side, where that port points up or down
    port_unknown, ///< that port is not measured: up, or forward where it will point up or down
    bend          ///< the inside of a bend
  } kind = Kind::port_unknown;
  std::optional<build::PieceRef> bend; ///< of `bend`
  friend bool operator==(const Reference&, const Reference&) = default;
};
/// A witness mark at the inlet of a bend: from the reference line on the piece before to the inside of this
/// bend. Looking downstream, clockwise is positive, the shorter way round: above -180 up to 180 degrees.
struct MarkLine {
  build::PieceRef piece;
  std::string title;
  Reference reference;
  std::optional<build::PieceRef> before; ///< the piece that the mark is carried over from; unset: the port
  double clocking_rad = 0;
  double before_diameter_m = 0, diameter_m = 0; ///< outside diameters on which the marks are measured
  double round_before_m = 0, round_m = 0;       ///< clocking x diameter / 2
};

struct ClampLine {
  double installed_diameter_m = 0;
  std::optional<build::StockId> stock;
  std::string description;
  int count = 0;
  std::vector<build::PieceRef> pieces; ///< the hose of each
  std::optional<build::ClampType> type;
  std::optional<double> least_m, most_m; ///< the clamp's range
  std::optional<double> share_of_range;  ///< where it works in it: 0 closed as far as it goes, 1 open
  std::optional<joint::Torque> torque;   ///< unset: it has no screw, or its type is not said
};
/// A bead to roll.
struct BeadLine {
  build::PieceRef piece;
  std::string title;
  bool inlet = false; ///< at the piece's inlet end; else its outlet end
  double outer_diameter_m = 0;
  double from_end_m = 0, width_m = 0, height_m = 0; ///< middle of the bead; height over the tube
  bool welded = false;                              ///< the end is welded: the bead is work for nothing
  double land_m = 0;                   ///< straight length at that end; the bead has to lie in it
  std::optional<double> over_bead_m;   ///< bead's diameter + 2 hose wall; unset: no hose there
  std::optional<double> clamp_opens_m; ///< the clamp that has to pass over it
  [[nodiscard]] double bead_diameter_m() const { return outer_diameter_m + 2 * height_m; }
  /// Whether the clamp passes; unset where there is no hose or the clamp's range is not known.
  [[nodiscard]] std::optional<bool> clamp_passes() const {
    return over_bead_m && clamp_opens_m ? std::optional(*clamp_opens_m >= *over_bead_m) : std::nullopt;
  }
};

/// One seam, or several alike within one piece.
struct WeldLine {
  enum class Kind {
    butt,  ///< two tube ends
    mitre, ///< within a segmented bend
    boss,  ///< round the foot of a boss
    flange ///< round the foot of a valve flange
  } kind = Kind::butt;
  std::vector<build::PieceRef> pieces; ///< both sides, without ports
  std::optional<build::PortId> port;   ///< where a port is one of the sides
  bool port_first = false;             ///< the port lies upstream
  build::Material material = build::Material::aluminium;
  std::optional<build::Material> other; ///< of the other side where it differs: the two do not weld together
  double diameter_m = 0;                ///< of the tube; of the foot of a boss or flange
  int count = 1;
  double length_m = 0;                 ///< of one seam, see butt_seam_m() and the like
  std::optional<double> temperature_K; ///< total temperature of the air there; unset: not known

  [[nodiscard]] double total_m() const { return count * length_m; }
};
[[nodiscard]] std::string_view text(WeldLine::Kind kind);
/// "cold_side 2 and cold_side 3", "cold_side 3 and port throttle", "within hot_side 4", "suction 3 on suction
/// 2".
[[nodiscard]] std::string between_text(const WeldLine& line);

/// \name Lengths of seams on the outside of a tube
///@{
/// pi x diameter (closed form).
[[nodiscard]] double butt_seam_m(double diameter_m);
/// Of a tube sawn `cut_rad` from square, at least 0 and below a right angle: the perimeter of an ellipse with
/// the axes OD and OD / cos(cut), 2 OD / cos(cut) x E(sin(cut)), E the complete elliptic integral of the
/// second kind (closed form).
[[nodiscard]] double mitre_seam_m(double diameter_m, double cut_rad);
/// Of a round foot set square on a tube: the curve in which the two cylinders meet, by the trapezium rule. A
/// foot as wide as the tube or wider is taken as that of the tube's width.
[[nodiscard]] double saddle_seam_m(double foot_m, double tube_m);
///@}

/// One side of a joint.
struct SideOfJoint {
  std::optional<build::PieceRef> piece; ///< unset: the port
  std::string name;                     ///< the piece's title, or "port cooler_in"
  bool flexible = false;
  double bore_m = 0, outer_diameter_m = 0;
};
/// A joint, in the direction of flow; behind each piece those of the fittings that sit on it.
struct JointLine {
  build::RunId run;
  joint::Kind kind = joint::Kind::wrong;
  SideOfJoint upstream, downstream; ///< of a fitting: the fitting, and the sensor or valve on it
  std::string size;                 ///< flanges and threads: what they say of themselves
  std::optional<double> interference_m, engagement_m; ///< hose joints
  std::optional<double> gap_m; ///< hose joints: between the two tube ends inside that hose
  std::optional<build::StockId> clamp;
  std::optional<double> torque_Nm;
  std::optional<double> gauge_Pa;        ///< inside, above ambient; unset without a usable operating point
  std::optional<double> parting_force_N; ///< pressure on the outside of the spigot, on the hole of a flange
  std::optional<double> held_low_N,
      held_high_N; ///< hose joints: what clamp and bead hold, an estimate; unset where the clamp's tension is
                   ///< not known
  [[nodiscard]] std::vector<build::PieceRef> pieces() const;
};

/// A change of bore along a run: a taper (cone, adapter, hose reducer, elbow of two bores), or a step of more
/// than 0.5 mm where two tubes of different bore are welded or meet inside a hose of one bore. The room
/// between two tube ends in a hose is no line.
struct ReducerLine {
  build::PieceRef piece;
  std::string title;
  double bore_in_m = 0, bore_out_m = 0;
  double length_m = 0; ///< of the taper: of hoses what lies between the spigots; 0 for a sudden step
  double included_angle_rad = 0; ///< full angle of a straight taper over that length; a step is 180 degrees
  std::optional<build::StockId> stock; ///< tapers: what it is bought as
};
/// A boss or a flange to be welded on.
struct FittingLine {
  build::PieceRef piece, host;
  std::string title, size;  ///< size: thread with its tap drill, or the bore of the flange
  double position_m = 0;    ///< from the inlet end of the host along its centreline, covered length included
  double from_outlet_m = 0; ///< the same from the host's outlet end
  double clocking_rad = 0;  ///< clockwise looking downstream, above -180 up to 180 degrees
  double diameter_m = 0;    ///< of the host outside, at that place
  double round_m = 0;       ///< clocking x diameter / 2
  Reference reference;      ///< what the clocking is counted from
  std::optional<double> hole_m; ///< in the host: for a boss at least its thread's major diameter, so that the
                                ///< sensor goes through; unset: thread not known
};

/// What a piece weighs: wall volume x density.
struct MassLine {
  build::PieceRef piece;
  std::string title;
  build::Material material = build::Material::aluminium;
  double volume_m3 = 0; ///< of the wall
  double mass_kg = 0;
};
/// Density of a material [kg/m3], a handbook figure from memory: aluminium 2700, mild steel 7850, stainless
/// steel 7930; of silicone, rubber and plastic hose with its cloth about 1200, 1150 and 1100.
[[nodiscard]] double density_kg_m3(build::Material material);

struct Lists {
  std::vector<CutLine> cuts;
  std::vector<ClampLine> clamps;
  std::vector<ReducerLine> reducers;
  std::vector<FittingLine> fittings;
  std::vector<BendLine> bends;
  std::vector<WedgeLine> wedges;
  std::vector<MarkLine> marks;
  std::vector<BeadLine> beads;
  std::vector<WeldLine> welds;
  std::vector<JointLine> joints;
  std::vector<MassLine> masses; ///< bosses, flanges, clamps, sensors, valves and lagging are not weighed
};

/// All lists of an option: figures, hardly any text. Cheap.
[[nodiscard]] Lists make(const Work& work);

/// "the inside of suction 2", "the top of the pipe at the port".
[[nodiscard]] std::string text(const Reference& reference);

/// A table for CSV, screen or paper.
struct Table {
  std::string name; ///< "cut"; the name of its CSV file
  std::vector<std::string> header;
  std::vector<std::vector<std::string>> rows;
  std::vector<std::vector<build::PieceRef>> pieces = {}; ///< what each row leads back to; one for each row
};
/// The lists as tables, one row for each line: cut, clamps, reducers, fittings, bends, wedges (a row for each
/// kind of part), marks, beads, welds (then metres by material), joints, mass (then sums by material and
/// run). Lengths in mm with a decimal point.
[[nodiscard]] std::vector<Table> tables(const Lists& lists);
/// RFC 4180: CRLF line ends, cells quoted where needed.
[[nodiscard]] std::string csv(const Table& table);

} // namespace bellmouth::list
