// SPDX-License-Identifier: GPL-3.0-or-later
// The compiled path: what a march walks over. Nothing here is allocated or looked up while marching.
#pragma once

#include "blowing.hpp"

#include <bellmouth/flow.hpp>
#include <bellmouth/machine/cooling.hpp>

#include <cmath>
#include <cstddef>
#include <memory>
#include <string>
#include <variant>
#include <vector>

namespace bellmouth::flow {

/// Area of a round bore [m2].
[[nodiscard]] inline double disc_m2(double bore_m) {
  return bore_m * bore_m * (M_PI / 4);
}

/// Stretches of one bore and roughness at one temperature share a friction factor, worked out where the air
/// first meets the stretch: between two such places only static temperature differs, which moves the factor
/// by less than a thousandth. Each such stretch has a slot.
inline constexpr std::size_t friction_slots = 24;
/// For stretches beyond the last slot: worked out every time.
inline constexpr std::size_t no_slot = friction_slots;

/// Relative uncertainty of a friction factor (explicit formulas and smooth-pipe measurements lie within 5 %
/// of Colebrook-White).
inline constexpr double friction_band = 0.05;
/// Below this Reynolds number the stream is laminar, or cannot be told, and measured friction scatters more.
inline constexpr double laminar_reynolds = 2000, turbulent_reynolds = 4000, slow_friction_band = 0.30;

inline constexpr std::size_t none = static_cast<std::size_t>(-1);

/// A bore as the march needs it.
struct Bore {
  double bore_m, area_m2, relative_roughness;
  std::size_t friction_slot = no_slot;
  friend bool operator==(const Bore&, const Bore&) = default;
};

/// A fitting with a loss law on the velocity in one bore.
struct LossElement {
  loss::Law law;
  Bore bore;
};
/// A straight of constant bore: Fanno flow.
struct DuctElement {
  double friction_length_per_f; ///< length / bore
  Bore bore;
};
/// A two-term drop on the volume flow at total density.
struct RestrictionElement {
  machine::TwoTermDrop drop; ///< dirt and pulsation included
};
/// A throttle plate: the stream passes an effective area and loses the dynamic pressure that it has there.
/// `throat` is the place of ln(s) among the unknowns: up to s = 1 the Mach number in the throat, beyond it
/// the throat stays sonic and the pressure behind falls as exp(-(s - 1) gamma/(1 + k)). Without one (a given
/// flow, or a plate in a branch) the throat must stay below Mach 1.
struct PlateElement {
  double effective_area_m2;
  std::size_t throat;
};
/// A blower of any kind; `ratio` is its place among the unknowns, or none where its pressure is held at its
/// outlet.
struct BlowerElement {
  std::size_t blower; ///< in Path::Impl::blowers
  std::size_t ratio;
};
struct CoolingElement {
  std::size_t cooler; ///< in Path::Impl::coolers
  double reference_K;
};
/// Heat from the bay through the wall of a row of a run.
struct HeatElement {
  std::size_t wall; ///< in Path::Impl::walls
};
/// A bore that the stream must pass, where no loss asks: the spigots of machines and the end of the path.
struct GateElement {
  double area_m2;
};
/// Branches divide here: what follows, up to the next BranchElement or JoinElement, is the first branch.
struct SplitElement {
  std::size_t group; ///< in Path::Impl::groups
};
/// The next branch of the group begins, at the state where they divided.
struct BranchElement {};
/// The branches come together.
struct JoinElement {};
using Law =
    std::variant<GateElement, LossElement, DuctElement, RestrictionElement, PlateElement, BlowerElement,
                 CoolingElement, HeatElement, SplitElement, BranchElement, JoinElement>;

/// One thing that happens to the stream, and whom it belongs to.
struct Element {
  Law law;
  std::size_t step;         ///< in the path
  std::size_t row;          ///< of the run, or none for machines and entries
  double length_m;          ///< along the centreline
  double scale = 1;         ///< the drop is multiplied with this: measured, or moved within its band
  std::size_t doubt = none; ///< in Path::Impl::doubts
  std::size_t origin = 0;   ///< its place, or that of the first of several in one, among all elements
};

/// A set of branches: the shares of the flow are exp(u) over their sum, with u an unknown of its own for each
/// branch but the first.
struct Group {
  std::size_t branches;
  std::size_t first_share; ///< place of the second branch's share among the unknowns; the others follow
};

/// A group of figures whose errors go together, since they come from one source.
struct DoubtPlan {
  std::string name;
  std::string source;
  double low = 0, high = 0; ///< relative half widths, the same for all members
  bool own = false;         ///< instead, each member has its own, by its law
};

/// Doubt about what a machine does rather than about a drop.
struct TunedDoubt {
  DoubtPlan plan;
  double Tuning::*what;
};

/// A row of a run as the recorder needs it.
struct RowPlan {
  double bore_in_m = 0, bore_out_m = 0;
  std::size_t first = 0, last = 0; ///< elements [first, last) that belong to it
  double volume_m3 = 0;
  std::optional<std::size_t> host; ///< fittings: the row they sit on
  double host_share = 0;           ///< and how far along it, 0 to 1
};
struct StepPlan {
  bool is_run = false;
  std::size_t first = 0, last = 0;      ///< elements
  double bore_in_m = 0, bore_out_m = 0; ///< 0: open air
  std::vector<RowPlan> rows;
  std::string name;
  std::vector<std::string> titles; ///< of the rows
  std::size_t branch = 0;          ///< its number in the group of branches; 0 on the trunk and in the first
};

/// A wall that heat passes, with where its stream is found.
struct Wall {
  double bore_m, wall_m, length_m;
  build::Material material;
  std::optional<build::Lagging> lagging;
  double relative_roughness;
};

struct Path::Impl {
  std::vector<Element> elements;
  std::vector<Element> joined; ///< the same with neighbouring stretches of one duct in one
  std::vector<StepPlan> steps;
  air::Mixture air;
  double ambient_pressure_Pa = 0;
  double inlet_pressure_Pa = 0, inlet_temperature_K = 0; ///< total, where the path begins
  std::variant<machine::Engine, build::FixedFlow> demand;
  double plenum_exit_loss = 1;
  double last_bore_m = 0;
  std::vector<Blower> blowers;
  std::vector<machine::PreparedCooler> coolers;
  std::vector<Group> groups;
  std::vector<Wall> walls;
  std::optional<build::BayAir> bay;
  Tuning tuning;                        ///< as measured
  std::vector<DoubtPlan> doubts;        ///< of elements
  std::vector<TunedDoubt> tuned_doubts; ///< of the tuning
  std::size_t unknowns = 0;
  bool flow_unknown = false; ///< the first unknown is then ln(mass flow)
  /// The target that is held in the manifold [Pa], where one is.
  std::optional<double> manifold_target_Pa;
};

/// What may be varied when a path is solved: the elements, what machines do, and what the walls let through.
struct Variation {
  const std::vector<Element>* elements;
  const std::vector<Element>* joined; ///< the same in fewer elements, for marches that nobody records
  Tuning tuning;
  std::vector<double> conductance_W_K; ///< of each wall; empty: no heat
};

/// How a march ends.
enum class Ended { passed, chokes, too_hot };

/// Most unknowns of any path: flow, shares of branches, ratios of blowers.
inline constexpr std::size_t most_unknowns = 16;

/// Hears of every element with the state before and behind it; only the last march of a solve needs one.
class Recorder {
public:
  struct Passage {
    double pressure_before_Pa, pressure_behind_Pa, temperature_before_K, temperature_behind_K;
    double flow_before_kg_s, flow_behind_kg_s;
    double low_Pa, high_Pa; ///< ends of the band of the drop; both the drop itself where there is none
    double friction = 0;    ///< Darcy factor, where one was needed
  };
  virtual ~Recorder() = default;
  virtual void passed(const Passage& passage) = 0;
  virtual void blew(std::size_t blower, const Blown& blown) = 0;
};

} // namespace bellmouth::flow
