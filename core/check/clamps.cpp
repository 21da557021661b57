// SPDX-License-Identifier: GPL-3.0-or-later
// Whether the clamps suit their joints.
#include "context.hpp"
#include "repeated.hpp"
#include "words.hpp"

#include <bellmouth/joint/statics.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>

namespace bellmouth::check {

namespace {

using enum Severity;
using build::ClampType;
using joint::Joint;

/// Widest band of a worm clamp that `worm_most_torque_Nm` speaks of.
constexpr double usual_band_m = 13e-3;

class Clamps {
public:
  explicit Clamps(Context& c)
      : c_(c), stock_has_clamps_(std::ranges::any_of(*c.facts.build.stock, [](const auto& item) {
          return item.kind == build::StockKind::clamp;
        })) {}

  void look_at(const RunView& run, const Joint& joint) {
    if (joint.clamp == nullptr) {
      if (stock_has_clamps_)
        c_.add_at_joint(
            Id::no_clamp, caution, run, joint,
            fmt::format("No clamp in stock goes round {}.", millimetres(joint.installed_diameter_m)),
            "The size is the spigot's outside diameter plus twice the hose's wall. Add such a clamp "
            "to the stock.");
      return;
    }
    check_range(run, joint);
    check_bead(run, joint);
    check_room(run, joint);
    check_duty(run, joint);
  }

  void tell() const {
    slotted_.tell(c_, Id::slotted_band_on_silicone, note, "A worm clamp on a silicone hose{}.",
                  "The slots of an open band press into the soft wall and cut it. Take worm clamps with a "
                  "smooth or lined inner band, or another type.",
                  "joints");
    worm_.tell(c_, Id::worm_under_pressure, note,
               fmt::format("A worm clamp under more than {} gauge{{}}.",
                           kilopascals(c_.limits.round_bolt_from_gauge_Pa)),
               "A round-bolt clamp draws harder and more evenly round. Its range is narrow: measure the hose "
               "on the tube before buying.",
               "joints");
    sprung_.tell(c_, Id::spring_clamp_under_boost, caution,
                 fmt::format("A spring band holds a hose under more than {} gauge{{}}.",
                             kilopascals(c_.limits.bead_from_gauge_Pa)),
                 "Its pull is set for coolant and suction and cannot be raised. Take a worm, round-bolt or "
                 "constant-tension clamp.",
                 "joints");
    overtorqued_.tell(
        c_, Id::clamp_overtorqued, caution,
        fmt::format("Its clamp asks for more than {}{{}}.", newton_metres(c_.limits.worm_most_torque_Nm)),
        "A worm clamp with a band of 12 mm strips or cuts the hose beyond that. Look the "
        "figure up again, or take a clamp with a wider band.",
        "joints");
    settling_.tell(c_, Id::retorque, note, "A clamp that is not known to follow a hose as it settles{}.",
                   "Hose takes a set in the first days and heat cycles, and the clamp comes loose on it. Do "
                   "all of them up again to their torque then, cold; constant-tension clamps spare it.",
                   "joints under pressure");
  }

private:
  void check_range(const RunView& run, const Joint& joint) {
    const auto& clamp = *joint.clamp;
    if (!clamp.clamp_min_m || !clamp.clamp_max_m || *clamp.clamp_max_m <= *clamp.clamp_min_m)
      return;
    const double share =
        (joint.installed_diameter_m - *clamp.clamp_min_m) / (*clamp.clamp_max_m - *clamp.clamp_min_m);
    if (below(share, c_.limits.clamp_span_low) || above(share, c_.limits.clamp_span_high))
      c_.add_at_joint(
          Id::clamp_off_middle, note, run, joint,
          fmt::format("The best clamp in stock, {} to {}, works at {:.0f} % of its range on {}.",
                      millimetres(*clamp.clamp_min_m), millimetres(*clamp.clamp_max_m), 100 * share,
                      millimetres(joint.installed_diameter_m)),
          "Near the ends of its range a clamp goes oval or runs out of thread. Measure the hose on "
          "the tube before buying.");
  }

  /// A round-bolt clamp is opened right out at its bolt; all others have to go over hose and bead.
  void check_bead(const RunView& run, const Joint& joint) {
    const auto& clamp = *joint.clamp;
    if (!joint.spigot().beaded || !clamp.clamp_max_m || clamp.clamp_type == ClampType::round_bolt)
      return;
    const double over_bead_m = joint.installed_diameter_m + 2 * c_.limits.bead_height_m;
    if (above(over_bead_m, *clamp.clamp_max_m))
      c_.add_at_joint(Id::clamp_not_over_bead, note, run, joint,
                      fmt::format("The hose measures {} over the bead; the clamp opens to {}.",
                                  millimetres(over_bead_m), millimetres(*clamp.clamp_max_m)),
                      "It does not go over the bead on the hose. Take the next larger clamp, or one that "
                      "opens right out and is laid round.");
  }

  /// The band behind the bead, and hose beyond the band.
  void check_room(const RunView& run, const Joint& joint) {
    const auto& limits = c_.limits;
    if (below(joint.engagement_m, limits.engagement_caution_m))
      return; // said already
    const double band_m = joint.clamp->band_width_m.value_or(limits.clamp_band_m);
    const double bead_m = joint.spigot().beaded ? limits.bead_from_end_m + limits.bead_width_m / 2
                                                : limits.clamp_from_hose_end_m;
    const double wanted_m = bead_m + band_m + limits.clamp_from_hose_end_m;
    if (below(joint.engagement_m, wanted_m))
      c_.add_at_joint(
          Id::no_room_for_band, caution, run, joint,
          fmt::format("A band of {} wants {} of engagement; there are {}.", millimetres(band_m),
                      millimetres(wanted_m), millimetres(joint.engagement_m)),
          fmt::format("It would sit on the bead or on the hose's edge: {} to behind the bead, the "
                      "band, and {} of hose beyond it. Take a narrower clamp or a longer hose.",
                      millimetres(bead_m), millimetres(limits.clamp_from_hose_end_m)));
  }

  void check_duty(const RunView& run, const Joint& joint) {
    const auto& clamp = *joint.clamp;
    const bool open = clamp.clamp_type == ClampType::worm;
    const bool worm = open || clamp.clamp_type == ClampType::lined_worm;
    if (open && run.run->pieces[*joint.hose().row].material == build::Material::silicone)
      slotted_.at(run, joint);
    if (worm && clamp.torque_Nm && above(*clamp.torque_Nm, c_.limits.worm_most_torque_Nm) &&
        clamp.band_width_m.value_or(c_.limits.clamp_band_m) <= usual_band_m)
      overtorqued_.at(run, joint);
    const double gauge_Pa = c_.gauge_Pa(run, joint);
    if (worm && above(gauge_Pa, c_.limits.round_bolt_from_gauge_Pa))
      worm_.at(run, joint);
    if (!above(gauge_Pa, c_.limits.bead_from_gauge_Pa))
      return;
    if (clamp.clamp_type == ClampType::spring)
      sprung_.at(run, joint);
    else if (clamp.clamp_type != ClampType::constant_tension)
      settling_.at(run, joint);
  }

  Context& c_;
  bool stock_has_clamps_;
  Repeated slotted_, worm_, sprung_, overtorqued_, settling_;
};

} // namespace

void check_clamps(Context& c) {
  Clamps clamps(c);
  for (const auto& run : c.runs)
    for (const auto& joint : run.fit->joints)
      if (joint.kind == joint::Kind::hose)
        clamps.look_at(run, joint);
  clamps.tell();
}

} // namespace bellmouth::check
