// SPDX-License-Identifier: GPL-3.0-or-later
// What each rule is called and what it rests on.
#include "rule_list.hpp"

#include <array>

namespace bellmouth::check {

namespace {

using enum Severity;

constexpr std::array<Rule, static_cast<std::size_t>(Id::count)> table{{
    {"no-operating-point", "Engine, blower and ducting agree on no flow", stop, Source::derived,
     "Gas dynamics: mass-flow function and Fanno flow; the machines' own laws"},
    {"no-flexible-joint", "No flexible joint between engine and body", stop, Source::practice,
     "An engine on rubber rolls 10 to 25 mm at its top (from memory); a rigid path to the body cracks tube "
     "or bracket (common "
     "practice, no source found)"},
    {"plain-hose-for-movement", "One plain hose has to take the engine's movement", caution, Source::reported,
     "A heavy-duty diesel installation manual: plain hose only in line, close and with little relative "
     "motion; a hump for more"},
    {"wrong-joint", "Two ends that do not fit each other", stop, Source::derived,
     "Geometry: a joint is a spigot in a hose, two tube ends of one size welded, or two flanges or threads "
     "of one size"},
    {"bead-at-weld", "Bead on an end that is welded", note, Source::derived,
     "Geometry: a bead stands above the tube that it would be welded to"},
    {"pipe-size", "A pipe size among tube sizes", note, Source::memory,
     "Outside diameters of series 1 of ISO 4200 and EN 10220 (from memory); pipe is named by a nominal bore, "
     "tube by its outside diameter"},
    {"near-miss-size", "Hose and tube of sizes easily mistaken", note, Source::practice,
     "63, 63.5 and 65 mm, 76 and 76.2 mm (common practice, no source found)"},
    {"hose-loose", "Hose larger than its spigot", stop, Source::practice,
     "Hose bore equals tube outside diameter or is up to 1 mm smaller; 1 mm larger is a leak (common "
     "practice, no source found)"},
    {"hose-tight", "Hose smaller than its spigot", stop, Source::practice,
     "A hose stretches over a spigot up to 1 mm larger (common practice, no source found)"},
    {"short-engagement", "Spigot goes too little into the hose", stop, Source::derived,
     "Bead zone 12 mm, clamp band 9 to 19 mm and 6 mm to the hose's end make 30 to 38 mm"},
    {"no-straight-end", "No straight end where the hose sits", stop, Source::practice,
     "A cut arc has no straight end; a hose joint needs 40 mm (common practice, no source found)"},
    {"tube-in-hump", "Tube reaches into the hump", stop, Source::practice,
     "The hump must stay free to move (common practice, no source found)"},
    {"tube-ends-touch", "Tube ends touch inside a hose", stop, Source::practice,
     "5 to 12 mm between tube ends, never touching (common practice, no source found)"},
    {"tube-gap-wide", "Wide gap between tube ends inside a hose", caution, Source::practice,
     "At most 20 mm or a quarter of the bore (common practice, no source found)"},
    {"tube-without-bead", "Plain tube end in a hose under pressure", stop, Source::standard,
     "SAE J1231 and DIN 71550 shape the ends of clamped hose joints; boat rule 33 CFR 183.560 puts the clamp "
     "beyond a bead. The "
     "limits are common practice, no source found"},
    {"no-clamp", "No clamp in stock fits", caution, Source::reported,
     "Clamps go by the installed outside diameter: tube plus twice the hose's wall (a clamp maker's sizing "
     "notes)"},
    {"clamp-off-middle", "Clamp works near the end of its range", note, Source::reported,
     "General advice on sizing clamps: aim for the middle half of the range"},
    {"clamp-not-over-bead", "Clamp does not open over the bead", note, Source::reported,
     "A forum post quoting a clamp maker's sizing notes: bead plus twice the hose's wall within the clamp's "
     "largest opening"},
    {"no-room-for-band", "No room for the clamp's band", caution, Source::derived,
     "Sums: bead zone, band, and 6 mm to the hose's end (a coupling maker's article and a clamp's "
     "installation sheet)"},
    {"spring-clamp-under-boost", "Spring band under boost", caution, Source::standard,
     "33 CFR 183.560, for fuel hose on boats: clamps that do not rely on spring tension alone. DIN 3021 "
     "spring bands are coolant clamps"},
    {"worm-under-pressure", "Worm clamp under high pressure", note, Source::practice,
     "From about 1 bar round-bolt clamps are taken (common practice, no source found)"},
    {"slotted-band-on-silicone", "Worm clamp on silicone", note, Source::reported,
     "A clamp seller's advice on silicone hose: perforated bands shear silicone, which is softer than "
     "rubber"},
    {"clamp-overtorqued", "Clamp asks for too much torque", caution, Source::reported,
     "A clamp's installation sheet: 4 N m, and 6.8 N m destroy it"},
    {"retorque", "Clamps want doing up again", note, Source::standard,
     "FAA Aviation Maintenance Technician Handbook - General, page 7-22: hose takes a set within days and "
     "over the first heat cycles"},
    {"fitting-under-hose", "Boss or flange under a hose or off its tube", stop, Source::derived,
     "Geometry; 15 mm from the hose's end leave room for weld and clamp (common practice, no source found)"},
    {"joint-may-part", "What holds a joint may not be enough", stop, Source::memory,
     "Statics of a band: 2 pi T tan(slope + friction angle). Friction, nut factor and screw size are from "
     "memory"},
    {"parting-force", "Large force tries to part the joints", caution, Source::derived,
     "Statics: gauge pressure x pi/4 x outside diameter squared. Tie bars from about 500 N (common practice, "
     "no source found)"},
    {"bend-thrust", "A bend pushes outwards between its hoses", note, Source::derived,
     "Statics: 2 p A sin(angle/2). The limit is common practice, no source found"},
    {"hose-over-rating", "Hose under more pressure than it is made for", stop, Source::practice,
     "Rating of the stock item; otherwise 2 bar for four plies, in proportion to wall over bore (common "
     "practice, no source found). A rubber hose selection guide: burst is 3 to 4 times the working pressure"},
    {"hose-rating-assumed", "A hose's working pressure is assumed", note, Source::practice,
     "2 to 4 bar are usual for four plies at 51 to 76 mm (common practice, no source found)"},
    {"oil-mist-on-silicone", "Oil mist on plain silicone", note, Source::reported,
     "A rubber trade journal on fluorosilicone liners: silicone swells in oil and fuel, fluorosilicone and "
     "fluoro-rubber resist"},
    {"growth-closes-gap", "Tubes grow together when warm", note, Source::derived,
     "Thermal growth, aluminium 23.6e-6 per kelvin; hose lengths within 3.2 mm (RMA IP-2, table 4-8)"},
    {"narrow-wedge", "Wedges too narrow to weld", caution, Source::practice,
     "Geometry: 2 (R - OD/2) tan of the saw angle. A short side under 10 mm is hard to weld (common "
     "practice, no source found)"},
    {"unknown-thread", "A thread that no table has", note, Source::standard,
     "ISO 68-1, ISO 228-1, ISO 7-1, ASME B1.20.1"},
    {"rust-inside", "Mild steel inside the air path", note, Source::reported,
     "A magazine's tips on charge-cooler plumbing: steel exhaust bends are cheap and strong, and want "
     "protection inside"},
    {"fast-before-blower", "Fast air before the blower", caution, Source::reported,
     "A heavy-engine installation handbook: combustion-air ducts up to 8000 ft/min (40.6 m/s)"},
    {"fast-behind-blower", "Fast air behind the blower", caution, Source::reported,
     "A compressor supplier's guide: charge tube at 200 to 300 ft/s (61 to 91 m/s)"},
    {"mach-high", "Mach number above the design range", caution, Source::derived,
     "Compressible flow: density change and losses rise quickly beyond Mach 0.3"},
    {"restriction", "Filter and inlet ducting restrict", caution, Source::standard,
     "An engine testing manual: new air cleaner at most 15 in of water (3.7 kPa); TM 5-3820-256-24-5: loaded "
     "25 in (6.2 kPa); TM "
     "5-3805-258-24-1: 30 in (7.5 kPa) on an older engine. 40 CFR 1065.125 measures at rated power"},
    {"hose-may-flatten", "A hose may be sucked flat", stop, Source::reported,
     "Descriptions of intake hoses and owners' reports: soft elbows flatten before the blower. A heavy-duty "
     "installation manual asks inlet hose to stand 12.5 kPa. Estimate: Windenburg and Trilling 1934 for "
     "short tubes, Bryan 1888 for long ones, with a stiffness from memory"},
    {"cooler-drop", "Charge cooler takes much pressure", caution, Source::memory,
     "5 to 10 kPa at peak flow (from memory)"},
    {"charge-drop", "Much pressure lost between blower and manifold", caution, Source::memory,
     "Heavy-duty limit for the charge circuit, 4 in of mercury or 13.5 kPa (from memory)"},
    {"steep-cone", "Widening too steep", caution, Source::reported,
     "A ventilation engineering manual's table of expansions: small loss up to 14 degrees included"},
    {"tight-bend", "Tight bend", caution, Source::reported,
     "A compressor supplier's guide: centreline radius 1.5 diameters; the ventilation manual's loss table "
     "rises steeply below 1.0"},
    {"sharp-mitre", "Sharp mitre", caution, Source::reported,
     "The ventilation manual's table of elbows: a single 90-degree mitre costs 0.9 to 1.3 dynamic pressures"},
    {"compressor-surges", "Compressor in surge or near it", stop, Source::memory,
     "The surge line of the compressor's own map; makers keep 10 % and more of flow from it (from memory)"},
    {"compressor-chokes", "More flow than the compressor's map has", caution, Source::derived,
     "The last point of each speed line of the compressor's own map"},
    {"compressor-off-its-speeds", "Compressor turns outside its map", caution, Source::derived,
     "Affinity laws carry a map on beyond its lines; the highest line is as a rule the rotor's limit"},
    {"bypass-open", "Air goes round the blower or out", caution, Source::derived,
     "Nozzle flow through the valve's effective area, mass and energy balance. The limits are common "
     "practice, no source found"},
    {"throttle-part-open", "Throttle not wide open", note, Source::practice,
     "From 80 degrees a plate passes for wide open (common practice, no source found)"},
    {"filter-taken-clean", "The filter counts as clean or dry", note, Source::practice,
     "A filter due for service drops about twice what it does clean (common practice, no source found); "
     "limits as for restriction"},
    {"hose-too-hot", "Hose hotter than it is made for", stop, Source::practice,
     "Rating of the stock item; otherwise silicone on polyester 170 C (common practice, no source found), "
     "rubber 100 C (a car maker's "
     "standard for charge-air hoses)"},
    {"blower-outlet-hot", "Blower outlet too hot", stop, Source::derived,
     "The limit on the blower's own data sheet; the temperature follows from the energy balance"},
    {"blower-overspeed", "Blower turns faster than it may", stop, Source::practice,
     "Engine limit plus 5 % overshoot x drive ratio against the plate (common practice, no source found)"},
    {"blower-driven", "The engine pulls air through the blower", caution, Source::derived,
     "Mass balance: the blower gives less than the engine would take by itself, so it stands in the way"},
    {"charge-hot", "Hot air in the manifold", caution, Source::reported,
     "An owner's page on intake temperatures: 40 C good, over 60 C bad"},
    {"no-cooler", "No charge cooler", note, Source::reported,
     "A magazine guide to charge cooling: worthwhile from about 0.5 bar of boost"},
    {"plastic-under-pressure", "Plastic under air pressure", stop, Source::standard,
     "OSHA hazard bulletin 1988-05-20, ASME B31.3 and B31.9, Washington State hazard alert 902: PVC and CPVC "
     "shatter under compressed air"},
    {"plastic-softens", "Plastic near its softening", caution, Source::memory,
     "PLA 55 to 60 C, PETG 75 to 80 C, ABS and ASA 95 to 105 C, filled nylon 150 C and more (from memory); "
     "30 K below are wanted"},
    {"oiled-filter-before-meter", "Oiled filter ahead of a flow meter", note, Source::reported,
     "A service bulletin and an encyclopaedia entry: oil from the media can coat a hot wire"},
    {"hot-feed", "The filter draws hot air", note, Source::derived,
     "Gas law: density falls about 1 % for each 3 K; parts suppliers' advice on cold feeds"},
    {"condensate", "Water falls out in the cooler", caution, Source::standard,
     "Hyland & Wexler's saturation pressure (ASHRAE Fundamentals, 2017), Dalton's law at the pressure in the "
     "cooler. The limit is common practice, no source found"},
    {"duct-picks-up-heat", "Air warms on its way through the bay", note, Source::derived,
     "Heat transfer through the wall from the bay air that is stated; density falls about 1 % for each 3 K"},
    {"sensor-before-blower", "The only temperature boss is ahead of the blower", stop, Source::reported,
     "Car service manuals: sensor behind the cooler, in the pressure pipe ahead of the throttle or in the "
     "manifold"},
    {"no-charge-sensor", "No temperature boss behind blower and cooler", caution, Source::reported,
     "Car service manuals: sensor behind the cooler, in the pressure pipe ahead of the throttle or in the "
     "manifold"},
    {"sensor-near-cooler", "Temperature boss close to the cooler's tank", note, Source::practice,
     "Three bores behind the tank (common practice, no source found)"},
    {"no-relief-valve", "No valve between blower and closing throttle", stop, Source::reported,
     "A motorcycle tuner's page on blowing: with the throttle behind it the blower goes on pumping against "
     "the closed plate"},
    {"no-bypass-valve", "No bypass round the blower", caution, Source::reported,
     "Car service manuals: with the throttle ahead of the blower a bypass joins its outlet and inlet at part "
     "load"},
    {"no-flexible-near-blower", "No flexible joint near a pulsing blower", note, Source::reported,
     "A page on industrial blowers: lobe blowers discharge in pulses. 300 mm is common practice, no source "
     "found"},
    {"meter-not-straight", "Flow meter without straight tube", caution, Source::practice,
     "Five bores before and two behind (common practice, no source found); about 300 mm by general advice; "
     "metering textbooks ask 10 and 5"},
    {"bend-before-impeller", "Bend right ahead of the compressor", caution, Source::reported,
     "A conference paper on compressor inlets: an elbow there moves the surge line and costs efficiency"},
    {"run-does-not-meet", "Run does not meet its port", caution, Source::derived, "Geometry"},
    {"port-not-measured", "A port is not measured", note, Source::derived, "Geometry"},
    {"smaller-than-port", "Duct smaller than both its ports", caution, Source::reported,
     "A heavy-engine installation handbook: ducts never smaller than the connection they feed"},
    {"long-unsupported", "Long rigid duct", note, Source::practice,
     "A support every 400 to 600 mm and near heavy parts (common practice, no source found)"},
    {"over-budget", "Over budget", caution, Source::derived, "Sums"},
    {"unpriced", "Nothing in stock serves it", caution, Source::derived, "Sizes and sums"},
    {"stock-does-not-serve", "The chosen stock item does not serve the piece", caution, Source::derived,
     "The sizes that the item states against those of the piece"},
    {"stock-not-chosen", "Pieces without a stock item", note, Source::derived,
     "The plan takes what costs least among all that have the piece's sizes"},
    {"bend-falls-short", "A bend comes out of the saw with less than its angle", note, Source::derived,
     "Geometry: the kerf of a cut through an arc is kerf / radius of its angle. How much is accepted is "
     "common "
     "practice, no source found"},
    {"price-of-nothing", "Stock without a price", note, Source::derived, "Sums"},
    {"near-free-postage", "A little more would travel free", note, Source::derived, "Sums"},
    {"plan-not-proven", "The buying plan is not proven the cheapest", note, Source::derived,
     "Bound of the integer programme when the time was over"},
    {"outside-correlation", "A loss was worked out beyond its correlation's range", note, Source::derived,
     "The stated range of each published correlation"},
    {"outside-table", "A table was read outside its points", note, Source::derived,
     "The first and last points of the table"},
    {"pulsation-left-out", "Pulsing flow counts as steady", note, Source::derived,
     "Mean of the square of half-sine pulses; an air-cleaner selection guide sizes filters for 2.1, 1.5 and "
     "1.2 times the flow at 1, 2 and 3 cylinders"},
    {"scavenging-left-out", "A two-stroke that loses no air", note, Source::derived,
     "Mass balance: air that passes through to the exhaust is drawn and gives no power"},
    {"branch-without-loss", "Branches part and join without a loss", note, Source::derived,
     "Dividing and combining flow in tees costs a share of the dynamic pressure (any handbook of losses)"},
    {"measured-far-off", "Figures corrected by measurement", caution, Source::practice,
     "Data sheets and guesses are seldom further off than 0.7 to 1.4 (common practice, no source found)"},
    {"tight-blower", "A slow blower without a leakage", note, Source::practice,
     "Clearances pass the same flow at any speed, so that their share grows as a blower slows down (common "
     "practice, no source found for the limits)"},
    {"too-near", "Ducting too near to something", stop, Source::reported,
     "A car service manual's table: 10 mm from hose or pipe to other parts; a truck body-builder manual: 76 "
     "mm "
     "from unshielded hose to exhaust. 25 mm from what moves is common practice, no source found"},
    {"near-within-doubt", "Clear, if the places are right", note, Source::derived,
     "Sums: the tolerances that ports and keep-outs were entered with, against what is left over"},
    {"bend-in-free-straight", "Bend in the straight that a port wants", caution, Source::derived,
     "Geometry: the straight length that the port was entered with"},
    {"movement-beyond-hose", "The engine moves further than the hoses give", caution, Source::practice,
     "A hump takes 6 to 10 mm in line, 3 to 5 mm sideways, 3 to 5 degrees (common practice, no source "
     "found). "
     "Plain hoses: 2 mm, 1 mm and 1 degree, or a wall stretched by 5 % (15 % when pleated), whichever is "
     "more: "
     "this program's own assumption"},
    {"scan-not-read", "A scan could not be read", caution, Source::derived, "The file's own bytes"},
    {"scan-changed", "A scan is not the one that was placed", caution, Source::derived,
     "The digest of its points and triangles"},
    {"assumed-place", "A port's place is assumed", note, Source::derived, "What the port was entered with"},
    {"waiver-without-finding", "A waiver of nothing", note, Source::derived,
     "What the build waives against what is found"},
}};

} // namespace

std::span<const Rule> rules() {
  return table;
}
const Rule& rule(Id id) {
  return table[static_cast<std::size_t>(id)];
}

} // namespace bellmouth::check
