// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/trade.hpp>

#include <algorithm>
#include <array>
#include <cassert>
#include <numbers>
#include <sstream>
#include <utility>

namespace bellmouth::trade {

namespace {

/// In SI over what the key states.
double factor(Unit unit) {
  switch (unit) {
  case Unit::millimetres:
    return 1e-3;
  case Unit::degrees:
    return std::numbers::pi / 180;
  case Unit::as_is:
    break;
  }
  return 1;
}

constexpr auto table = std::to_array<Threshold>({
    {"bead_from_gauge_Pa", "A spigot needs a bead above this gauge pressure", "Joints",
     &Limits::bead_from_gauge_Pa, Unit::as_is, Source::practice, "", 0, 1e+06},
    {"bead_stop_force_N", "Parting force at which a plain end will not hold", "Joints",
     &Limits::bead_stop_force_N, Unit::as_is, Source::practice, "", 0, 100000},
    {"loose_caution_mm", "Hose bore over spigot diameter, to be told", "Joints", &Limits::loose_caution_m,
     Unit::millimetres, Source::practice, "", 0, 20},
    {"loose_stop_mm", "Hose bore over spigot diameter, a leak", "Joints", &Limits::loose_stop_m,
     Unit::millimetres, Source::practice, "", 0, 20},
    {"tight_caution_mm", "Spigot diameter over hose bore, to be told", "Joints", &Limits::tight_caution_m,
     Unit::millimetres, Source::practice, "a hose is meant to be up to 1 mm smaller", 0, 20},
    {"tight_stop_mm", "Spigot diameter over hose bore, it will not go on", "Joints", &Limits::tight_stop_m,
     Unit::millimetres, Source::practice, "", 0, 20},
    {"near_miss_least_mm", "Hose bore off the tube by more than this is a near miss", "Joints",
     &Limits::near_miss_least_m, Unit::millimetres, Source::practice,
     "63 against 63.5 mm, 76 against 76.2 mm; the pair is easily mistaken for one size", 0, 10},
    {"near_miss_most_mm", "Hose bore off the tube by less than this is a near miss", "Joints",
     &Limits::near_miss_most_m, Unit::millimetres, Source::practice, "65 against 63.5 mm", 0, 10},
    {"engagement_stop_mm", "Least engagement", "Joints", &Limits::engagement_stop_m, Unit::millimetres,
     Source::derived, "bead, band and 6 mm to the hose's end do not fit any more", 0, 200},
    {"engagement_caution_mm", "Engagement wanted", "Joints", &Limits::engagement_caution_m, Unit::millimetres,
     Source::derived, "room for a bead, a 19 mm band and 6 mm to the hose's end", 0, 200},
    {"tube_gap_least_mm", "Least gap between tube ends inside a hose", "Joints", &Limits::tube_gap_least_m,
     Unit::millimetres, Source::practice, "nearer and they rub", 0, 100},
    {"tube_gap_most_mm", "Widest gap between tube ends inside a hose", "Joints", &Limits::tube_gap_most_m,
     Unit::millimetres, Source::practice, "wider and the hose works like a bellows", 0, 500},
    {"tube_gap_most_bores",
     "Widest gap between tube ends inside a hose, in bores; the smaller of the two counts", "Joints",
     &Limits::tube_gap_most_bores, Unit::as_is, Source::practice, "", 0, 5},
    {"clamp_span_low", "Share of a clamp's range from which it should work", "Joints",
     &Limits::clamp_span_low, Unit::as_is, Source::reported,
     "the middle half of the range: a general article on sizing clamps", 0, 1},
    {"clamp_span_high", "Share of a clamp's range up to which it should work", "Joints",
     &Limits::clamp_span_high, Unit::as_is, Source::reported,
     "the middle half of the range: a general article on sizing clamps", 0, 1},
    {"parting_force_N", "Parting force above which a joint is tied", "Joints", &Limits::parting_force_N,
     Unit::as_is, Source::practice, "", 0, 100000},
    {"tie_bar_gauge_Pa", "Gauge pressure above which a joint is tied", "Joints", &Limits::tie_bar_gauge_Pa,
     Unit::as_is, Source::practice, "", 0, 1e+07},
    {"bend_thrust_N", "Thrust above which a bend is braced", "Joints", &Limits::bend_thrust_N, Unit::as_is,
     Source::practice, "", 0, 100000},
    {"fitting_from_hose_mm", "Centre of a boss to the hose's end", "Joints", &Limits::fitting_from_hose_m,
     Unit::millimetres, Source::practice, "", 0, 200},
    {"bead_height_mm", "Height of a bead over the tube", "Joints", &Limits::bead_height_m, Unit::millimetres,
     Source::reported, "1.5 to 2.5 mm: a home builders' magazine and a course on plumbing", 0, 10},
    {"bead_height_least_mm", "Least height of a bead", "Joints", &Limits::bead_height_least_m,
     Unit::millimetres, Source::reported, "1.5 to 2.5 mm: a home builders' magazine and a course on plumbing",
     0, 10},
    {"bead_height_most_mm", "Greatest height of a bead", "Joints", &Limits::bead_height_most_m,
     Unit::millimetres, Source::reported, "1.5 to 2.5 mm: a home builders' magazine and a course on plumbing",
     0, 10},
    {"bead_width_mm", "Width of a bead", "Joints", &Limits::bead_width_m, Unit::millimetres, Source::practice,
     "4 to 6 mm", 0, 30},
    {"bead_from_end_mm", "Middle of a bead to the tube's end", "Joints", &Limits::bead_from_end_m,
     Unit::millimetres, Source::practice, "5 to 10 mm", 0, 50},
    {"clamp_from_hose_end_mm", "Clamp to the hose's end", "Joints", &Limits::clamp_from_hose_end_m,
     Unit::millimetres, Source::reported,
     "about 6 mm: a coupling maker's article and a clamp's installation sheet", 0, 50},
    {"clamp_band_mm", "Width of a clamp's band where its item says none", "Joints", &Limits::clamp_band_m,
     Unit::millimetres, Source::practice, "9 to 19 mm", 3, 50},
    {"hose_cut_tolerance_mm", "How far a hose's length may be off", "Joints", &Limits::hose_cut_tolerance_m,
     Unit::millimetres, Source::standard, "RMA IP-2 Hose Handbook, table 4-8: 3.2 mm up to 305 mm", 0, 20},
    {"friction_low", "Friction of hose on tube, oily", "Joints", &Limits::friction_low, Unit::as_is,
     Source::memory, "", 0, 2},
    {"friction_high", "Friction of hose on tube, dry", "Joints", &Limits::friction_high, Unit::as_is,
     Source::memory, "", 0, 2},
    {"nut_factor", "Screw torque over force and diameter", "Joints", &Limits::nut_factor, Unit::as_is,
     Source::memory, "dry steel screws; textbooks on bolted joints", 0.05, 1},
    {"worm_screw_mm", "Diameter of the screw of a worm clamp", "Joints", &Limits::worm_screw_m,
     Unit::millimetres, Source::memory, "7 to 9 mm at the thread of a 12 mm clamp", 1, 30},
    {"round_bolt_screw_mm", "Diameter of the bolt of a round-bolt clamp", "Joints",
     &Limits::round_bolt_screw_m, Unit::millimetres, Source::memory, "M6 on light bands, M8 on heavy ones", 1,
     30},
    {"clamp_kept_low", "Share of a clamp's tension left on a hose that has set", "Joints",
     &Limits::clamp_kept_low, Unit::as_is, Source::own,
     "a band that rubs on the hose with 0.5 has half of it on average, and a set hose keeps half of that", 0,
     1},
    {"clamp_kept_high", "The same on a new hose", "Joints", &Limits::clamp_kept_high, Unit::as_is,
     Source::own, "a band that slides on the hose with a friction of 0.2 has 0.74 of it on average", 0, 1},
    {"round_bolt_from_gauge_Pa", "Gauge pressure above which worm clamps are not the choice", "Joints",
     &Limits::round_bolt_from_gauge_Pa, Unit::as_is, Source::practice, "", 0, 1e+07},
    {"round_bolt_torque_Nm", "Torque of a round-bolt clamp", "Joints", &Limits::round_bolt_torque_Nm,
     Unit::as_is, Source::reported,
     "55 to 60 lb in on air-cleaner joints: army technical manual TM 10-3930-643-34, table E-2", 0.1, 100},
    {"worm_torque_Nm", "Torque of a worm clamp with a band of 12 mm, new hose", "Joints",
     &Limits::worm_torque_Nm, Unit::as_is, Source::reported,
     "4.5 +- 0.7 N m: an industrial engine's service manual", 0.1, 100},
    {"worm_wide_torque_Nm", "Torque of a worm clamp with a band of 14 mm, new hose", "Joints",
     &Limits::worm_wide_torque_Nm, Unit::as_is, Source::reported,
     "7.5 +- 1 N m: an industrial engine's service manual", 0.1, 100},
    {"worm_narrow_torque_Nm", "Torque of a worm clamp with a band up to 8 mm", "Joints",
     &Limits::worm_narrow_torque_Nm, Unit::as_is, Source::reported,
     "1.4 +- 0.3 N m: an industrial engine's service manual", 0.1, 100},
    {"worm_most_torque_Nm", "Torque that a worm clamp of 12 mm is not to pass", "Joints",
     &Limits::worm_most_torque_Nm, Unit::as_is, Source::reported,
     "6.8 N m destroys it: a clamp's installation sheet", 0.1, 100},
    {"constant_tension_torque_Nm", "Torque of a constant-tension clamp", "Joints",
     &Limits::constant_tension_torque_Nm, Unit::as_is, Source::reported,
     "7.5 +- 1 N m: an industrial engine's service manual", 0.1, 100},
    {"hose_burst_factor", "Burst over working pressure of a hose", "Joints", &Limits::hose_burst_factor,
     Unit::as_is, Source::reported, "3 to 4: a rubber hose selection guide", 1, 20},
    {"hose_working_gauge_Pa", "Working pressure of a hose of four plies whose item says none", "Joints",
     &Limits::hose_working_gauge_Pa, Unit::as_is, Source::practice,
     "2 to 4 bar at 51 to 76 mm; a data sheet is better", 0, 1e+07},
    {"hose_gauge_share", "Share of a hose's working pressure, to be told", "Joints",
     &Limits::hose_gauge_share, Unit::as_is, Source::practice, "", 0, 1},
    {"hose_modulus_low_Pa", "Stiffness of a hose's wall, soft", "Joints", &Limits::hose_modulus_low_Pa,
     Unit::as_is, Source::memory, "", 10000, 1e+10},
    {"hose_modulus_high_Pa", "Stiffness of a hose's wall, firm", "Joints", &Limits::hose_modulus_high_Pa,
     Unit::as_is, Source::memory, "", 10000, 1e+10},
    {"wedge_short_side_mm", "Short side of a wedge that can be welded", "Joints", &Limits::wedge_short_side_m,
     Unit::millimetres, Source::practice, "", 0, 100},
    {"kerf_mm", "Kerf of a saw cut", "Cutting and buying", &Limits::kerf_m, Unit::millimetres,
     Source::practice, "2 to 3 mm for an abrasive saw, 1 to 2 mm for a band or cold saw", 0, 20},
    {"angle_short_deg", "How much a piece cut from an arc may fall short of its angle", "Cutting and buying",
     &Limits::angle_short_rad, Unit::degrees, Source::practice,
     "1.3 degrees let one bend of 180 give one of 90 and two of 45", 0, 4},
    {"velocity_before_blower_m_s", "Velocity before the blower", "Stream",
     &Limits::velocity_before_blower_m_s, Unit::as_is, Source::reported,
     "8000 ft/min: a heavy-engine installation handbook", 1, 400},
    {"velocity_behind_blower_m_s", "Velocity behind the blower", "Stream",
     &Limits::velocity_behind_blower_m_s, Unit::as_is, Source::reported,
     "200 to 300 ft/s: a compressor supplier's guide", 1, 400},
    {"mach", "Mach number", "Stream", &Limits::mach, Unit::as_is, Source::derived,
     "density changes and losses rise quickly beyond: textbook", 0.01, 1},
    {"restriction_note_Pa", "Depression ahead of the blower, to be told", "Stream",
     &Limits::restriction_note_Pa, Unit::as_is, Source::reported,
     "15 in of water, new air cleaner: an engine testing manual", 0, 100000},
    {"restriction_caution_Pa", "Depression ahead of the blower, too much", "Stream",
     &Limits::restriction_caution_Pa, Unit::as_is, Source::reported,
     "25 in of water, loaded air cleaner: an army technical manual", 0, 100000},
    {"flatten_depression_Pa", "Depression at which a soft hose may begin to flatten", "Stream",
     &Limits::flatten_depression_Pa, Unit::as_is, Source::practice, "", 0, 100000},
    {"flatten_stop_Pa", "Depression that heavy-duty inlet hose is made for", "Stream",
     &Limits::flatten_stop_Pa, Unit::as_is, Source::reported, "a heavy-duty diesel installation manual", 0,
     100000},
    {"soft_free_length_mm", "Free length of a hose that may flatten", "Stream", &Limits::soft_free_length_m,
     Unit::millimetres, Source::practice, "", 0, 2000},
    {"stiff_plies", "Plies from which a hose stands suction", "Stream", &Limits::stiff_plies, Unit::as_is,
     Source::practice, "", 1, 20},
    {"cooler_drop_note_Pa", "Drop of a charge cooler, to be told", "Stream", &Limits::cooler_drop_note_Pa,
     Unit::as_is, Source::memory, "", 0, 1e+06},
    {"cooler_drop_caution_Pa", "Drop of a charge cooler, too much", "Stream", &Limits::cooler_drop_caution_Pa,
     Unit::as_is, Source::memory, "", 0, 1e+06},
    {"charge_drop_Pa", "Drop from blower outlet to manifold", "Stream", &Limits::charge_drop_Pa, Unit::as_is,
     Source::memory, "", 0, 1e+06},
    {"cone_note_deg", "Included angle of a diverging cone, to be told", "Stream", &Limits::cone_note_rad,
     Unit::degrees, Source::reported, "14 degrees: a ventilation manual", 1, 180},
    {"cone_caution_deg", "Included angle of a diverging cone, too steep", "Stream", &Limits::cone_caution_rad,
     Unit::degrees, Source::reported, "20 degrees, where the loss has doubled: a ventilation manual", 1, 180},
    {"bend_caution_ratio", "Centre-line radius over diameter, too tight", "Stream",
     &Limits::bend_caution_ratio, Unit::as_is, Source::reported, "a compressor supplier's guide", 0.5, 10},
    {"bend_note_ratio", "Centre-line radius over diameter, to be told", "Stream", &Limits::bend_note_ratio,
     Unit::as_is, Source::reported, "a compressor supplier's guide", 0.5, 10},
    {"mitre_deg", "Angle turned in one cut", "Stream", &Limits::mitre_rad, Unit::degrees, Source::reported,
     "30 degrees: a ventilation manual's table of elbows", 0, 120},
    {"surge_margin", "Flow over the flow at surge, less one", "Stream", &Limits::surge_margin, Unit::as_is,
     Source::memory, "", 0, 1},
    {"bypass_note_share", "Share of a blower's air through its bypass, to be told", "Stream",
     &Limits::bypass_note_share, Unit::as_is, Source::practice, "", 0, 1},
    {"bypass_caution_share", "Share of a blower's air through its bypass: a valve that does not shut",
     "Stream", &Limits::bypass_caution_share, Unit::as_is, Source::practice, "", 0, 1},
    {"throttle_open_deg", "Angle of the plate that passes for wide open", "Stream",
     &Limits::throttle_open_rad, Unit::degrees, Source::practice, "80 degrees", 0, 90},
    {"loaded_filter_factor", "Drop of a filter due for service over a clean one", "Stream",
     &Limits::loaded_filter_factor, Unit::as_is, Source::practice, "", 1, 20},
    {"pulsation_factor", "Pulsation that counts as steady", "Trust in the figures", &Limits::pulsation_factor,
     Unit::as_is, Source::derived, "four even cylinders of four strokes have pi^2/8", 1, 20},
    {"measured_note_share", "A measured factor so far from 1, to be told", "Trust in the figures",
     &Limits::measured_note_share, Unit::as_is, Source::practice, "", 0, 10},
    {"measured_low", "Least measured factor that is believed", "Trust in the figures", &Limits::measured_low,
     Unit::as_is, Source::practice, "", 0, 1},
    {"measured_high", "Greatest measured factor that is believed", "Trust in the figures",
     &Limits::measured_high, Unit::as_is, Source::practice, "", 1, 20},
    {"tight_speed_share", "Share of a blower's greatest speed below which a leakage shows",
     "Trust in the figures", &Limits::tight_speed_share, Unit::as_is, Source::practice, "", 0, 1},
    {"tight_ratio", "Pressure ratio from which it does", "Trust in the figures", &Limits::tight_ratio,
     Unit::as_is, Source::practice, "", 1, 10},
    {"silicone_K", "Silicone hose with polyester cloth", "Heat and machines", &Limits::silicone_K,
     Unit::as_is, Source::practice, "170 C", 200, 1000},
    {"rubber_K", "Rubber hose", "Heat and machines", &Limits::rubber_K, Unit::as_is, Source::reported,
     "100 C, cooler-to-engine class: a car maker's hose standard", 200, 1000},
    {"plastic_K", "The softer printing and pipe plastics", "Heat and machines", &Limits::plastic_K,
     Unit::as_is, Source::memory, "70 C", 200, 1000},
    {"plastic_margin_K", "Margin wanted below a plastic's softening where it bears no pressure",
     "Heat and machines", &Limits::plastic_margin_K, Unit::as_is, Source::practice, "30 K below", 0, 200},
    {"hose_margin_K", "Margin wanted below a hose's rating", "Heat and machines", &Limits::hose_margin_K,
     Unit::as_is, Source::practice, "", 0, 200},
    {"outlet_margin_K", "Margin wanted below a blower's outlet limit", "Heat and machines",
     &Limits::outlet_margin_K, Unit::as_is, Source::practice, "", 0, 200},
    {"charge_caution_K", "Air in the manifold", "Heat and machines", &Limits::charge_caution_K, Unit::as_is,
     Source::reported, "60 C: an owner's page on intake temperatures", 200, 1000},
    {"overspeed_share", "Engine speed on overshoot over its limit", "Heat and machines",
     &Limits::overspeed_share, Unit::as_is, Source::practice, "", 1, 2},
    {"cooler_from_gauge_Pa", "Boost at which a cooler pays", "Heat and machines",
     &Limits::cooler_from_gauge_Pa, Unit::as_is, Source::reported, "a magazine guide to charge cooling", 0,
     1e+06},
    {"plastic_from_gauge_Pa", "\"under pressure\" for plastics", "Heat and machines",
     &Limits::plastic_from_gauge_Pa, Unit::as_is, Source::practice, "", 0, 1e+06},
    {"condensate_caution_kg_s", "Water that falls out in the cooler", "Heat and machines",
     &Limits::condensate_caution_kg_s, Unit::as_is, Source::practice, "100 g an hour, a cupful in two", 0, 1},
    {"picked_up_K", "Warming that costs about 1 % of the air", "Heat and machines", &Limits::picked_up_K,
     Unit::as_is, Source::derived, "gas law", 0, 200},
    {"end_gap_mm", "Between a run's end and its port", "Layout", &Limits::end_gap_m, Unit::millimetres,
     Source::own, "", 0, 100},
    {"end_angle_deg", "Angle between a run's end and its port", "Layout", &Limits::end_angle_rad,
     Unit::degrees, Source::own, "", 0, 30},
    {"bore_share", "Bore over that of the smaller of its ports", "Layout", &Limits::bore_share, Unit::as_is,
     Source::practice, "a little less is a wall's thickness", 0.1, 1},
    {"support_mm", "Rigid length without a bracket", "Layout", &Limits::support_m, Unit::millimetres,
     Source::practice, "", 0.01, 10000},
    {"flexible_from_blower_mm", "Flexible joint to a displacement blower's outlet", "Layout",
     &Limits::flexible_from_blower_m, Unit::millimetres, Source::practice, "", 0, 10000},
    {"meter_upstream_bores", "Straight before a flow meter, in bores", "Layout",
     &Limits::meter_upstream_bores, Unit::as_is, Source::practice, "textbooks ask 10", 0, 100},
    {"meter_downstream_bores", "Straight behind a flow meter, in bores", "Layout",
     &Limits::meter_downstream_bores, Unit::as_is, Source::practice, "textbooks ask 5", 0, 100},
    {"impeller_bores", "Straight before a compressor's inlet, in bores", "Layout", &Limits::impeller_bores,
     Unit::as_is, Source::practice, "", 0, 100},
    {"sensor_from_cooler_bores", "Temperature boss to the cooler's tank, in bores", "Layout",
     &Limits::sensor_from_cooler_bores, Unit::as_is, Source::practice, "", 0, 100},
    {"hump_axial_mm", "One hump, in line", "What a flexible piece gives each way", &Limits::hump_axial_m,
     Unit::millimetres, Source::practice, "6 to 10 mm", 0, 100},
    {"hump_offset_mm", "One hump, sideways", "What a flexible piece gives each way", &Limits::hump_offset_m,
     Unit::millimetres, Source::practice, "3 to 5 mm", 0, 100},
    {"hump_angle_deg", "One hump, in angle", "What a flexible piece gives each way", &Limits::hump_angle_rad,
     Unit::degrees, Source::practice, "3 to 5 degrees", 0, 90},
    {"hose_axial_mm", "A plain hose over an ordinary gap, in line", "What a flexible piece gives each way",
     &Limits::hose_axial_m, Unit::millimetres, Source::own, "", 0, 100},
    {"hose_offset_mm", "A plain hose over an ordinary gap, sideways", "What a flexible piece gives each way",
     &Limits::hose_offset_m, Unit::millimetres, Source::own, "", 0, 100},
    {"hose_angle_deg", "A plain hose over an ordinary gap, in angle", "What a flexible piece gives each way",
     &Limits::hose_angle_rad, Unit::degrees, Source::own, "1 degree", 0, 90},
    {"hose_stretch", "How much the wall of a longer plain hose or moulded elbow is stretched",
     "What a flexible piece gives each way", &Limits::hose_stretch, Unit::as_is, Source::own,
     "its free length by this share in line, this share x length / radius in angle, and half the angle of "
     "each half x half its length sideways",
     0, 1},
    {"corrugated_stretch", "How much a pleated wall is stretched", "What a flexible piece gives each way",
     &Limits::corrugated_stretch, Unit::as_is, Source::own, "", 0, 1},
});

} // namespace

std::string_view text(Source source) {
  switch (source) {
  case Source::standard:
    return "published";
  case Source::reported:
    return "trade literature";
  case Source::derived:
    return "derived";
  case Source::practice:
    return "common practice, no source found";
  case Source::memory:
    return "from memory";
  case Source::own:
    break;
  }
  return "this program's own";
}

std::span<const Threshold> thresholds() {
  return table;
}

const Threshold* find(std::string_view key) {
  const auto found = std::ranges::find(table, key, &Threshold::key);
  return found == table.end() ? nullptr : &*found;
}

double value(const Threshold& threshold, const Limits& limits) {
  return limits.*threshold.limit / factor(threshold.unit);
}

void set(const Threshold& threshold, Limits& limits, double value) {
  assert(value >= threshold.least && value <= threshold.most);
  limits.*threshold.limit = value * factor(threshold.unit);
}

std::string accepted(const Threshold& threshold) {
  std::ostringstream words;
  words << "a number from " << threshold.least << " to " << threshold.most;
  return std::move(words).str();
}

std::string_view unit_text(const Threshold& threshold) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 9> units{{{"_mm", "mm"},
                                                                                {"_deg", "deg"},
                                                                                {"_Pa", "Pa"},
                                                                                {"_Nm", "N m"},
                                                                                {"_N", "N"},
                                                                                {"_kg_s", "kg/s"},
                                                                                {"_m_s", "m/s"},
                                                                                {"_K", "K"},
                                                                                {"_bores", "bores"}}};
  const auto found =
      std::ranges::find_if(units, [&](const auto& each) { return threshold.key.ends_with(each.first); });
  return found == units.end() ? std::string_view() : found->second;
}

const Limits& defaults() {
  static constexpr Limits limits;
  return limits;
}

} // namespace bellmouth::trade
