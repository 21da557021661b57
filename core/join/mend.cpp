// SPDX-License-Identifier: GPL-3.0-or-later
// Which rule has which mend, and whether a mend holds what it promises.
#include "mending.hpp"

#include <bellmouth/build/thresholds.hpp>
#include <bellmouth/evaluate.hpp>

#include <algorithm>
#include <array>

namespace bellmouth::join {

namespace {

struct Mend {
  std::string_view rule;
  std::string_view title;
  bool (*make)(Mending& mending);
};

/// Rules that are not here ask for something that only the user can choose: other machines, another way
/// round, a clamp or a pressure that is on no list.
constexpr auto table = std::to_array<Mend>({
    {"no-flexible-joint", "Put a hose in", mend_rigid_run},
    {"no-flexible-near-blower", "Put a hose in at the blower", mend_rigid_at_blower},
    {"plain-hose-for-movement", "Take a hump hose", mend_movement},
    {"movement-beyond-hose", "Take a hump hose", mend_movement},
    {"wrong-joint", "Put in what is missing", mend_wrong_joint},
    {"bead-at-weld", "Take the bead off", mend_bead_at_weld},
    {"hose-loose", "Replace the hose", mend_hose_size},
    {"hose-tight", "Replace the hose", mend_hose_size},
    {"near-miss-size", "Take the hose of the exact size", mend_near_miss},
    {"short-engagement", "Set the engagement", mend_engagement},
    {"no-straight-end", "Give the hose a straight end", mend_short_end},
    {"tube-in-hump", "Set the engagement", mend_engagement},
    {"tube-ends-touch", "Set the gap", mend_engagement},
    {"tube-gap-wide", "Set the gap", mend_engagement},
    {"growth-closes-gap", "Widen the gap", mend_warm_gap},
    {"tube-without-bead", "Roll a bead", mend_plain_end},
    {"joint-may-part", "Roll a bead", mend_hold},
    {"no-room-for-band", "Set the engagement", mend_band_room},
    {"fitting-under-hose", "Move the fitting", mend_fitting},
    {"hose-may-flatten", "Take a stiffer hose", mend_soft_hose},
    {"hose-too-hot", "Take a hose for that heat", mend_hose_rating},
    {"hose-over-rating", "Take a hose for that pressure", mend_hose_rating},
    {"hose-rating-assumed", "Take hoses with a rating", mend_assumed_rating},
    {"oil-mist-on-silicone", "Take oil-proof hoses", mend_oil_mist},
    {"steep-cone", "Take a longer taper", mend_cone},
    {"sharp-mitre", "Share the angle among more cuts", mend_mitre},
    {"narrow-wedge", "Take fewer cuts", mend_wedge},
    {"plastic-under-pressure", "Take metal", mend_plastic},
    {"plastic-softens", "Take metal", mend_plastic},
    {"sensor-before-blower", "Put a boss in", mend_no_charge_sensor},
    {"no-charge-sensor", "Put a boss in", mend_no_charge_sensor},
    {"sensor-near-cooler", "Move the boss", mend_sensor_near_cooler},
    {"unpriced", "Choose from stock", mend_stock_choice},
    {"stock-does-not-serve", "Choose from stock", mend_stock_choice},
    {"stock-not-chosen", "Choose from stock", mend_not_chosen},
    {"waiver-without-finding", "Take the waiver back", mend_idle_waiver},
});

bool is_stop(const check::Finding& finding) {
  return finding.severity == check::Severity::stop && !finding.waived;
}

/// What a finding is counted by: those of a rule in a run, or at the same place where it is of no run.
bool is_like(const check::Finding& a, const check::Finding& b) {
  if (a.rule != b.rule || a.where.machine != b.where.machine)
    return false;
  return !a.where.piece || !b.where.piece || a.where.piece->run == b.where.piece->run;
}

/// Whether it helped: fewer findings like it, or as many with less weight, and no stop that was not there. Of
/// a finding about the purchase, which is none of the evaluation, only the latter is asked.
bool helps(const Evaluation& before, const Evaluation& after, const check::Finding& finding) {
  const auto weight = [&](const Evaluation& evaluation) {
    int sum = 0;
    for (const check::Finding& each : evaluation.findings)
      if (is_like(each, finding))
        sum += 1 + 1000 * static_cast<int>(each.severity);
    return sum;
  };
  const auto stops = [](const Evaluation& evaluation) {
    return std::ranges::count_if(evaluation.findings, is_stop);
  };
  const auto is_new_stop = [&](const check::Finding& each) {
    const auto same_rule = [&](const check::Finding& old) { return is_stop(old) && is_like(old, each); };
    return is_stop(each) && std::ranges::none_of(before.findings, same_rule);
  };
  if (stops(after) > stops(before) || std::ranges::any_of(after.findings, is_new_stop))
    return false;
  return weight(before) == 0 || weight(after) < weight(before);
}

} // namespace

std::vector<std::string_view> mended_rules() {
  std::vector<std::string_view> keys;
  keys.reserve(table.size());
  for (const Mend& mend : table)
    keys.push_back(mend.rule);
  return keys;
}

std::optional<Proposal> mend(const build::Build& build, const Evaluation& evaluation,
                             const check::Finding& finding) {
  const auto known = std::ranges::find(table, finding.rule, &Mend::rule);
  if (known == table.end())
    return std::nullopt;
  const trade::Limits limits = build::limits_of(build);
  Mending mending(build, evaluation, finding, limits);
  if (!known->make(mending))
    return std::nullopt;
  const std::optional<double> speed_rev_s = std::holds_alternative<machine::Engine>(build.demand)
                                                ? std::optional(evaluation.path.point.engine_speed_rev_s)
                                                : std::nullopt;
  const std::string title(known->title);
  Proposal made = mending.proposal(title);
  if (build::validate(made.build))
    return std::nullopt;
  if (mending.has_new_pieces()) { // which may want beads
    mending.roll_beads_at_new_pieces(flows_of(made.build, evaluation.option, speed_rev_s));
    made = mending.proposal(title);
  }
  if (!made.does_something() || made.build == build || build::validate(made.build))
    return std::nullopt;
  const Evaluation after = evaluate(made.build, evaluation.option, speed_rev_s);
  if (!helps(evaluation, after, finding))
    return std::nullopt;
  return made;
}

} // namespace bellmouth::join
