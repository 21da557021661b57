#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Writes metric.json and inch.json, the two stock lists to start from. All of it is invented.

Sizes follow the tables below, each with what it is based on; README.md says the same in words. Prices are
made up: they grow smoothly with size and keep within usual bands, which the tests of the lists check.
Suppliers are plain labels. Usage:

    python3 shared/stock/make_lists.py
    bellmouth-cli stock --list metric --export shared/stock/metric.csv
    bellmouth-cli stock --list inch --export shared/stock/inch.csv
"""

import json
import pathlib

INCH = 25.4

# --- What the sizes follow ------------------------------------------------------------------------------

# Outside diameters: those commonly stocked (common practice, no source found), and the series of ISO 4200 /
# EN 10220 (from memory) between 32 and 102 mm, as far as a hose is sold for them.
METRIC_OD = [32, 35, 38, 40, 42.4, 44.5, 45, 48, 48.3, 50, 51, 54, 57, 60, 60.3, 63, 63.5, 65, 70, 76, 76.1, 80,
             82.5, 88.9, 89, 101.6, 102]
METRIC_MAIN_OD = [38, 45, 51, 54, 57, 60.3, 63.5, 65, 70, 76.1, 80, 88.9, 101.6]
METRIC_BEND_OD = [38, 40, 44.5, 45, 48, 50, 51, 54, 57, 60, 60.3, 63, 63.5, 65, 70, 76, 76.1, 80, 88.9, 89, 101.6,
                  102]
# As commonly stocked by tube sellers [in].
INCH_OD = [1.5, 1.75, 2, 2.25, 2.375, 2.5, 2.75, 3, 3.5, 4]
# Centre-line radii of steel and stainless bends by outside diameter, from a stock list [in].
INCH_RADII = {1.5: [2, 2.5, 3, 4], 1.75: [2, 3, 4, 5, 6], 2: [2.5, 3, 4, 5, 6], 2.25: [3, 3.5, 4, 6],
              2.5: [3, 4, 5, 6], 2.75: [4], 3: [4, 6]}
# Angles of bends that are commonly sold (common practice, no source found).
ANGLES = [30, 45, 60, 90, 135, 180]
# Long legs of bends with one long leg (common practice, no source found).
LONG_LEGS = [200, 300, 400]
# Walls in inches are 16 and 14 gauge (common practice, no source found).
GAUGE_16, GAUGE_14 = 1.651, 2.108

# Bores of hoses as sold (common practice, no source found), and those of EN ISO 1307 from 25 mm on.
SOLD_BORES = [32, 35, 38, 40, 42, 45, 48, 51, 54, 57, 60, 63, 65, 68, 70, 76, 80, 83, 89, 95, 102]
STANDARD_BORES = [25, 31.5, 50, 90, 100]
MAIN_BORES = [38, 45, 51, 54, 57, 60, 63, 65, 70, 76, 80, 83, 89, 102]
# Lengths of straight couplers, angles of elbows, walls by plies (common practice, no source found).
COUPLERS = [76, 102, 152]
ELBOW_ANGLES = [15, 23, 30, 45, 60, 67, 90, 135, 180]
WALL_OF_PLIES = {3: 4, 4: 5, 6: 6}
# Temperature limits: 170 degrees C with polyester cloth, 220 with aramid (common practice); 125 for EPDM as
# SAE J20 classes it.
COLD_K, HOT_K, RUBBER_K = 443.15, 493.15, 398.15

# Odd diameters met on turbochargers, throttles and coolers, with the tubes next to them.
METRIC_ADAPTERS = [(51, 52), (51, 54), (54, 52), (57, 54), (60.3, 65), (63.5, 65), (63.5, 68), (70, 68), (76.1, 78),
                   (80, 78), (82.5, 82), (76.1, 82), (80, 82)]
INCH_ADAPTERS = [(2, 52), (2, 54), (2.25, 54), (2.5, 65), (2.5, 68), (2.75, 68), (3, 78), (3, 82)]

# Threads of shared/tables/threads.csv, small ones first.
THREADS = ["M10x1", "M12x1.5", "M14x1.5", "M16x1.5", "M18x1.5", "M20x1.5", "1/8 NPT", "1/4 NPT", "3/8 NPT", "G 1/8",
           "G 1/4", "G 3/8", "R/Rc 1/8", "R/Rc 1/4", "R/Rc 3/8"]
LARGE_THREADS = ["M18x1.5", "M20x1.5", "3/8 NPT", "G 3/8", "R/Rc 3/8"]
# Bores of valve flanges (common practice, no source found).
METRIC_FLANGES, INCH_FLANGES = [25, 32, 34, 38, 50], [1, 1.25, 1.375, 1.5, 2]

# Ranges of worm clamps: DIN 3017-1 (from memory), one more in the same steps; of inch sizes
# the greatest diameter is (number + 8)/16 in (SAE J1508, from memory) and the range an inch less 1.4 mm.
METRIC_WORMS = [(32, 50), (40, 60), (50, 70), (60, 80), (70, 90), (80, 100), (90, 110), (100, 120)]
INCH_WORMS = [28, 32, 36, 40, 44, 48, 52, 56, 60, 64, 72]
# Of round-bolt clamps: DIN 3017-3 (from memory); tuner sizes span 8 mm (common practice).
ROUND_BOLTS = [(56, 59), (60, 63), (64, 67), (68, 73), (74, 79), (80, 85), (86, 91), (92, 97), (98, 103), (104, 112)]
WIDE_BOLTS = [(44, 52), (51, 59), (57, 65), (63, 71), (70, 78), (76, 84), (82, 90), (89, 97), (95, 103), (101, 109),
              (108, 116)]
# Spring bands: nominal 51 fits about 44 to 54 mm (a page on DIN 3021); others in proportion.
SPRINGS = [38, 42, 45, 48, 51, 54, 57, 60, 63, 66, 70, 75, 80, 85, 90]
# Torques [N m]: worm with a 12 mm or half-inch band 4.5 (an engine maker; a clamp maker agrees), 9 mm band 3
# (common practice), round bolt 6.5 (a military truck manual), constant tension 7.5 to 51 mm and 10 above.
PACKS = [1, 2, 4, 10]

METALS, RUBBER, FITTINGS = "supplier A", "supplier B", "supplier C"
SHORT = {"aluminium": "al", "stainless_steel": "ss", "mild_steel": "steel"}
WORDS = {"aluminium": "aluminium", "stainless_steel": "stainless steel", "mild_steel": "mild steel"}


# --- Writing --------------------------------------------------------------------------------------------

def number(value):
    """A number as files hold it: no trailing zeros, no rests of binary fractions."""
    rounded = round(value, 6)
    return int(rounded) if rounded == int(rounded) else rounded


def text(value):
    return str(number(value))


def money(amount):
    """To ten cents, as a price tag has it."""
    return f"{round(amount + 1e-9, 1):.2f}"


def grown(base, size, exponent=1.2):
    """A price that is `base` at 63.5 mm and grows with the size."""
    return base * (size / 63.5) ** exponent


class Stock:
    """A list in the making: sizes named in one unit, kept in millimetres."""

    def __init__(self, unit):
        self.unit = unit
        self.items = []

    def mm(self, size):
        return number(size * INCH) if self.unit == "in" else number(size)

    def named(self, size):
        return f"{text(size)} in" if self.unit == "in" else text(size)

    def add(self, id, kind, name, material, price, per="each", **sizes):
        item = {"id": id, "kind": kind, "name": name, "material": material}
        item.update({key: number(sizes[key]) for key in
                     ("outer_diameter_mm", "bore_mm", "bore_out_mm", "wall_mm", "length_mm", "angle_deg", "radius_mm",
                      "leg_in_mm", "leg_out_mm", "clamp_min_mm", "clamp_max_mm", "band_width_mm") if key in sizes})
        if "thread" in sizes:
            item["thread"] = sizes["thread"]
        item.update({key: sizes[key] for key in ("max_temperature_K", "plies") if key in sizes})
        item.update({"price": money(price), "per": per})
        if sizes.get("pack", 1) > 1:
            item["pack"] = sizes["pack"]
        item.update({key: sizes[key] for key in ("supplier", "max_gauge_Pa", "oil_proof", "wire", "clamp_type",
                                                  "torque_Nm") if key in sizes})
        self.items.append(item)

    def write(self, file):
        currency = "USD" if self.unit == "in" else "EUR"
        lines = json.dumps({"format": "bellmouth-stock/1", "currency": currency, "items": self.items}, indent=2)
        file.write_text(lines + "\n", encoding="utf-8")


# --- Metal ----------------------------------------------------------------------------------------------

METAL = {"aluminium": 1, "stainless_steel": 1.36, "mild_steel": 0.64}


def tube_price(od_mm, wall_mm, material):
    return grown(25, od_mm) * (wall_mm / 2) ** 0.5 * METAL[material]


def tubes(stock, sizes, wall_mm, material, wall_name):
    for size in sizes:
        od = stock.mm(size)
        stock.add(f"{SHORT[material]}-tube-{text(size)}x{wall_name}", "tube",
                  f"{WORDS[material]} tube {stock.named(size)} x {wall_name}", material,
                  tube_price(od, wall_mm, material), "metre", outer_diameter_mm=od, wall_mm=wall_mm, supplier=METALS)


def tube_lengths(stock, sizes, wall_mm, material, wall_name, lengths_mm):
    for size in sizes:
        od = stock.mm(size)
        for length in lengths_mm:
            cut = 1.5 if length < 1000 else 1.0 if length < 2000 else -1.0
            stock.add(f"{SHORT[material]}-tube-{text(size)}x{wall_name}-{length}", "tube",
                      f"{WORDS[material]} tube {stock.named(size)} x {wall_name}, {length} mm long", material,
                      tube_price(od, wall_mm, material) * length / 1000 + cut, outer_diameter_mm=od, wall_mm=wall_mm,
                      length_mm=length, supplier=METALS)


BEND = {"aluminium": 22, "stainless_steel": 31, "mild_steel": 15.4}


def bend(stock, size, radius, angle, wall_mm, material, leg_mm, factor=1.0, long_leg_mm=None, dear=False):
    od = stock.mm(size)
    tail = f"-leg{long_leg_mm}" if long_leg_mm else ""
    words = f", one leg {long_leg_mm}" if long_leg_mm else ""
    wall_words = "0.065" if stock.unit == "in" else text(wall_mm)
    stock.add(f"{SHORT[material]}-bend-{text(size)}-{angle}-r{text(radius)}{tail}{'-c' if dear else ''}", "tube_bend",
              f"{WORDS[material]} bend {stock.named(size)} x {wall_words}, {angle} deg, radius "
              f"{stock.named(radius)}{words}{', dearer' if dear else ''}",
              material, grown(BEND[material], od) * (0.62 + 0.38 * angle / 90) * factor, outer_diameter_mm=od,
              wall_mm=wall_mm, angle_deg=angle, radius_mm=stock.mm(radius), leg_in_mm=leg_mm,
              leg_out_mm=long_leg_mm or leg_mm, supplier=FITTINGS if dear else METALS)


def bends(stock, sizes, main, wall_mm):
    for size in sizes:
        for angle in ANGLES:
            bend(stock, size, 1.5 * size, angle, wall_mm, "aluminium", 75 if angle < 90 else 100)
    for size in main:
        for angle in (45, 90, 180):
            bend(stock, size, size, angle, wall_mm, "aluminium", 75, 1.25)
        for leg, factor in zip(LONG_LEGS, (1.1, 1.2, 1.3)):
            bend(stock, size, 1.5 * size, 90, wall_mm, "aluminium", 100, factor, leg)
        bend(stock, size, 1.5 * size, 90, wall_mm, "aluminium", 100, 1.12, dear=True)


def cones(stock, pairs, wall_mm, material, base):
    for small, large in pairs:
        small_mm, large_mm = stock.mm(small), stock.mm(large)
        length = next(length for step, length in ((3.3, 40), (7, 50), (10, 80), (99, 100)) if large_mm - small_mm <= step)
        wall = " x 0.065" if stock.unit == "in" else f" x {text(wall_mm)}"
        stock.add(f"{SHORT[material]}-cone-{text(small)}-{text(large)}", "cone",
                  f"{WORDS[material]} cone {text(small)} to {stock.named(large)}{wall}, {length} mm long", material,
                  grown(base, large_mm), outer_diameter_mm=large_mm, bore_mm=small_mm - 2 * wall_mm,
                  bore_out_mm=large_mm - 2 * wall_mm, wall_mm=wall_mm, length_mm=length, supplier=METALS)


def pairs_of(sizes, least, most, scale=1.0):
    return [(small, large) for small in sizes for large in sizes if least <= (large - small) * scale <= most]


def adapters(stock, pairs):
    for tube, odd in pairs:
        tube_mm = stock.mm(tube)
        suffix = "mm" if stock.unit == "in" else ""
        stock.add(f"al-adapter-{text(tube)}-{odd}{suffix}", "adapter",
                  f"turned aluminium adapter {stock.named(tube)} to {odd}{' mm' if suffix else ''}", "aluminium",
                  grown(24, max(tube_mm, odd)), outer_diameter_mm=max(tube_mm, odd), bore_mm=tube_mm - 6,
                  bore_out_mm=odd - 6, wall_mm=3, length_mm=70, supplier=FITTINGS)


def bosses(stock):
    for material, base in (("aluminium", 7), ("stainless_steel", 9), ("mild_steel", 6)):
        for thread in THREADS:
            slug = thread.lower().replace("r/rc", "rc").replace(" ", "-").replace("/", "-")
            stock.add(f"{SHORT[material]}-boss-{slug}", "sensor_boss", f"{WORDS[material]} weld boss {thread}", material,
                      base * (1.3 if thread in LARGE_THREADS else 1), thread=thread, supplier=FITTINGS)


def flanges(stock, sizes):
    for material, factor in (("aluminium", 1), ("stainless_steel", 1.3), ("mild_steel", 0.9)):
        for size in sizes:
            bore = stock.mm(size)
            stock.add(f"{SHORT[material]}-valve-flange-{text(size)}", "valve_flange",
                      f"{WORDS[material]} valve flange, bore {stock.named(size)}", material,
                      20 * (bore / 34) ** 0.7 * factor, bore_mm=bore, supplier=FITTINGS)


# --- Hose -----------------------------------------------------------------------------------------------

def rated_Pa(bore_mm, wall_mm):
    """3 bar for a 63 mm bore with a 5 mm wall (common practice, no source found), in proportion to wall over
    bore, to 0.05 bar."""
    return round(3 * 63 / bore_mm * wall_mm / 5 / 0.05) * 5000


# What a hose is made of: id's tail, words, plies, factor on the price, greatest temperature, lined or not.
PLAIN = ("", "4 plies", 4, 1.0, COLD_K, {})
THIN = ("-3ply", "3 plies", 3, 0.8, COLD_K, {})
THICK = ("-6ply", "6 plies", 6, 1.35, COLD_K, {})
HOT = ("-hot", "aramid, 4 plies", 4, 1.5834, HOT_K, {})
LINED = ("-lined", "lined against oil, 4 plies", 4, 2.3, COLD_K, {"oil_proof": True})


def couplers(stock, sizes, lengths, make, dear=False):
    tail, words, plies, factor, limit, lining = make
    for length in lengths:
        for size in sizes:
            bore, wall = stock.mm(size), WALL_OF_PLIES[plies]
            stock.add(f"hose-{text(size)}-{length}{tail}{'-c' if dear else ''}", "hose",
                      f"silicone coupler {stock.named(size)}, {length} mm long, {words}{', dearer' if dear else ''}",
                      "silicone", grown(12, bore) * (length / 76) ** 0.6 * factor * (1.12 if dear else 1), bore_mm=bore,
                      wall_mm=wall, length_mm=length, max_temperature_K=limit, plies=plies,
                      supplier=FITTINGS if dear else RUBBER, max_gauge_Pa=rated_Pa(bore, wall), **lining)


def suction_hoses(stock, sizes):
    for size in sizes:
        bore = stock.mm(size)
        stock.add(f"suction-hose-{text(size)}", "hose", f"EPDM suction hose {stock.named(size)}, bonded wire", "rubber",
                  grown(48, bore), "metre", bore_mm=bore, wall_mm=5, max_temperature_K=RUBBER_K, plies=2,
                  supplier=RUBBER, max_gauge_Pa=50000, wire=True)


def humps(stock, sizes, make):
    tail, words, plies, factor, limit, lining = make
    for size in sizes:
        bore = stock.mm(size)
        stock.add(f"hump-hose-{text(size)}{tail}", "hump_hose",
                  f"silicone hump hose {stock.named(size)}, 102 mm long, {words}", "silicone", grown(22, bore) * factor,
                  bore_mm=bore, wall_mm=5, length_mm=102, max_temperature_K=limit, plies=plies, supplier=RUBBER,
                  max_gauge_Pa=rated_Pa(bore, 5), **lining)


def elbows(stock, sizes, angles, make, second=None, factor=1.0, leg_mm=None):
    tail, words, plies, dearer, limit, lining = make
    for size in sizes:
        ends = size if isinstance(size, tuple) else (size,)
        large = stock.mm(max(ends))
        leg = leg_mm or (90 if large < 66 else 115)
        for angle in angles:
            between = "-".join(text(end) for end in ends)
            spoken = f"{text(ends[0])} to {stock.named(ends[1])}" if len(ends) > 1 else stock.named(ends[0])
            long_leg = f"-leg{leg_mm}" if leg_mm else ""
            leg_words = f", legs {leg_mm}" if leg_mm else ""
            sizes_mm = {"bore_mm": stock.mm(ends[0])}
            if len(ends) > 1:
                sizes_mm["bore_out_mm"] = stock.mm(ends[1])
            price = grown(25, large) * (0.4 + 0.6 * angle / 90) * dearer * factor
            stock.add(f"hose-elbow-{angle}-{between}{tail}{long_leg}", "hose_elbow",
                      f"silicone elbow {spoken}, {angle} deg{leg_words}, {words}", "silicone", price, wall_mm=5,
                      angle_deg=angle, radius_mm=round(large), leg_in_mm=leg, leg_out_mm=leg, max_temperature_K=limit,
                      plies=plies, supplier=RUBBER, max_gauge_Pa=rated_Pa(large, 5), **sizes_mm, **lining)


def reducers(stock, pairs):
    for small, large in pairs:
        small_mm, large_mm = stock.mm(small), stock.mm(large)
        length = 76 if large_mm - small_mm < 9.9 else 102
        stock.add(f"hose-reducer-{text(small)}-{text(large)}", "hose_reducer",
                  f"silicone reducer {text(small)} to {stock.named(large)}, {length} mm long, 4 plies", "silicone",
                  grown(15, large_mm) * (length / 76) ** 0.5, bore_mm=small_mm, bore_out_mm=large_mm, wall_mm=5,
                  length_mm=length, max_temperature_K=COLD_K, plies=4, supplier=RUBBER,
                  max_gauge_Pa=rated_Pa(large_mm, 5))


# --- Clamps ---------------------------------------------------------------------------------------------

def clamp(stock, id, name, low, high, price, band_mm, kind, torque, packs=(1,), supplier=RUBBER, dear=False):
    for pack in packs:
        # A pack is cheaper by the piece.
        each = {1: 1, 2: 0.95, 4: 0.93, 10: 0.85}[pack]
        sizes = {"clamp_min_mm": low, "clamp_max_mm": high, "band_width_mm": band_mm, "clamp_type": kind, "pack": pack,
                 "supplier": supplier}
        if torque:
            sizes["torque_Nm"] = torque
        stock.add(id + (f"-pack-{pack}" if pack > 1 else ""), "clamp", name + (f", pack of {pack}" if pack > 1 else ""),
                  "stainless_steel", price * pack * each, **sizes)


def clamps(stock):
    metric = stock.unit == "mm"
    if metric:
        for low, high in METRIC_WORMS:
            price = 2.5 * (high / 80) ** 0.6
            clamp(stock, f"worm-clamp-{low}-{high}", f"worm clamp {low} to {high} mm, lined, 12 mm band", low, high, price,
                  12, "lined_worm", 4.5, PACKS)
            clamp(stock, f"worm-clamp-{low}-{high}-band9", f"worm clamp {low} to {high} mm, lined, 9 mm band", low, high,
                  price * 1.04, 9, "lined_worm", 3, (1, 10))
            clamp(stock, f"worm-clamp-{low}-{high}-c", f"worm clamp {low} to {high} mm, lined, 12 mm band, dearer", low,
                  high, price * 1.12, 12, "lined_worm", 4.5, (1,), FITTINGS)
    else:
        for size in INCH_WORMS:
            high = round((size + 8) / 16 * INCH, 1)
            low = round(high - 24, 1)
            price = 2.5 * (high / 80) ** 0.6
            words = f"worm clamp no. {size}, {text(low)} to {text(high)} mm, lined, 1/2 in band"
            clamp(stock, f"worm-clamp-no-{size}", words, low, high, price, 12.7, "lined_worm", 4.5, PACKS)
            clamp(stock, f"worm-clamp-no-{size}-c", words + ", dearer", low, high, price * 1.12, 12.7, "lined_worm", 4.5, (1,),
                  FITTINGS)
    band, band_words = (19, "19 mm band") if metric else (19.05, "3/4 in band")
    if metric:
        for low, high in ROUND_BOLTS:
            clamp(stock, f"bolt-clamp-{low}-{high}", f"round-bolt clamp {low} to {high} mm, {band_words}", low, high,
                  6 * (high / 79) ** 0.6, band, "round_bolt", 6.5, PACKS)
    for low, high in WIDE_BOLTS:
        price = 6 * (high / 79) ** 0.6
        if not metric:
            clamp(stock, f"bolt-clamp-{low}-{high}", f"round-bolt clamp {low} to {high} mm, {band_words}", low, high,
                  price, band, "round_bolt", 6.5, PACKS)
        clamp(stock, f"tension-clamp-{low}-{high}", f"constant-tension clamp {low} to {high} mm, {band_words}", low, high,
              price * 1.4, band, "constant_tension", 7.5 if high <= 52 else 10, (1, 2))
    for nominal in SPRINGS:
        low, high = round(nominal * 44 / 51), round(nominal * 54 / 51)
        clamp(stock, f"spring-clamp-{nominal}", f"spring clamp {nominal}, {low} to {high} mm, 12 mm band", low, high,
              3.4 * (nominal / 70) ** 0.6, 12, "spring", None, (1, 10))


# --- The lists ------------------------------------------------------------------------------------------

def metric_list():
    stock = Stock("mm")
    from_38 = [od for od in METRIC_OD if od >= 38]
    tubes(stock, METRIC_OD, 2, "aluminium", "2")
    tubes(stock, from_38, 1.5, "aluminium", "1.5")
    tubes(stock, METRIC_MAIN_OD, 1.6, "aluminium", "1.6")
    tubes(stock, METRIC_MAIN_OD, 3, "aluminium", "3")
    tubes(stock, from_38, 1.5, "stainless_steel", "1.5")
    tubes(stock, METRIC_MAIN_OD, 1.2, "stainless_steel", "1.2")
    tubes(stock, from_38, 1.5, "mild_steel", "1.5")
    tubes(stock, METRIC_MAIN_OD, 1.2, "mild_steel", "1.2")
    tube_lengths(stock, METRIC_MAIN_OD, 2, "aluminium", "2", (500, 600, 1000, 2000))
    tube_lengths(stock, METRIC_MAIN_OD, 1.5, "stainless_steel", "1.5", (1000,))
    tube_lengths(stock, METRIC_MAIN_OD, 1.5, "mild_steel", "1.5", (1000,))
    bends(stock, METRIC_BEND_OD, METRIC_MAIN_OD, 2)
    for size in METRIC_MAIN_OD:
        for angle in ANGLES:
            bend(stock, size, 1.5 * size, angle, 1.5, "stainless_steel", 90)
        for angle in (45, 90, 180):
            bend(stock, size, 1.5 * size, angle, 1.5, "mild_steel", 90)
    main_bores = MAIN_BORES
    couplers(stock, sorted(SOLD_BORES + STANDARD_BORES), COUPLERS, PLAIN)
    couplers(stock, [bore for bore in SOLD_BORES if bore < 50], COUPLERS, THIN)
    couplers(stock, main_bores, COUPLERS[:2], THICK)
    couplers(stock, main_bores, COUPLERS[:2], HOT)
    couplers(stock, main_bores, COUPLERS[:2], LINED)
    couplers(stock, main_bores, COUPLERS[:1], PLAIN, dear=True)
    suction_hoses(stock, [bore for bore in SOLD_BORES if bore >= 38])
    humps(stock, [bore for bore in SOLD_BORES if bore >= 38], PLAIN)
    humps(stock, main_bores, LINED)
    elbows(stock, main_bores, ELBOW_ANGLES, PLAIN)
    elbows(stock, main_bores, (45, 90), HOT)
    elbows(stock, main_bores, (45, 90), LINED)
    elbows(stock, main_bores, (90,), PLAIN, factor=1.2, leg_mm=152)
    elbows(stock, pairs_of(SOLD_BORES, 6, 13), (90,), PLAIN, factor=1.15)
    elbows(stock, [(45, 51), (51, 57), (51, 63), (57, 63), (60, 70), (63, 70), (63, 76), (70, 76)], (45,), PLAIN,
           factor=1.15)
    reducers(stock, pairs_of(SOLD_BORES, 2, 13))
    cones(stock, pairs_of(METRIC_MAIN_OD, 2.5, 14), 2, "aluminium", 15)
    cones(stock, pairs_of(METRIC_MAIN_OD, 2.5, 14), 1.5, "stainless_steel", 22)
    adapters(stock, METRIC_ADAPTERS)
    bosses(stock)
    flanges(stock, METRIC_FLANGES)
    clamps(stock)
    return stock


def inch_list():
    stock = Stock("in")
    tubes(stock, INCH_OD, GAUGE_16, "aluminium", "0.065")
    tubes(stock, INCH_OD, GAUGE_14, "aluminium", "0.083")
    tubes(stock, INCH_OD, GAUGE_16, "stainless_steel", "0.065")
    tubes(stock, INCH_OD, GAUGE_16, "mild_steel", "0.065")
    tube_lengths(stock, INCH_OD, GAUGE_16, "aluminium", "0.065", (500, 600, 1000, 2000))
    tube_lengths(stock, INCH_OD, GAUGE_16, "stainless_steel", "0.065", (1000,))
    tube_lengths(stock, INCH_OD, GAUGE_16, "mild_steel", "0.065", (1000,))
    bends(stock, INCH_OD, INCH_OD, GAUGE_16)
    for size, radii in INCH_RADII.items():
        for radius in radii:
            for angle in ANGLES:
                bend(stock, size, radius, angle, GAUGE_16, "stainless_steel", 100)
            for angle in (45, 90, 180):
                bend(stock, size, radius, angle, GAUGE_16, "mild_steel", 100)
    couplers(stock, INCH_OD, COUPLERS, PLAIN)
    couplers(stock, [od for od in INCH_OD if od < 2], COUPLERS, THIN)
    couplers(stock, INCH_OD, COUPLERS[:2], THICK)
    couplers(stock, INCH_OD, COUPLERS[:2], HOT)
    couplers(stock, INCH_OD, COUPLERS[:2], LINED)
    couplers(stock, INCH_OD, COUPLERS[:1], PLAIN, dear=True)
    suction_hoses(stock, INCH_OD)
    humps(stock, INCH_OD, PLAIN)
    humps(stock, INCH_OD, LINED)
    elbows(stock, INCH_OD, ELBOW_ANGLES, PLAIN)
    elbows(stock, INCH_OD, (45, 90), HOT)
    elbows(stock, INCH_OD, (45, 90), LINED)
    elbows(stock, INCH_OD, (90,), PLAIN, factor=1.2, leg_mm=152)
    elbows(stock, pairs_of(INCH_OD, 6, 13, INCH), (90, 45), PLAIN, factor=1.15)
    reducers(stock, pairs_of(INCH_OD, 2.5, 13, INCH))
    cones(stock, pairs_of(INCH_OD, 6, 26, INCH), GAUGE_16, "aluminium", 15)
    cones(stock, pairs_of(INCH_OD, 6, 26, INCH), GAUGE_16, "stainless_steel", 22)
    adapters(stock, INCH_ADAPTERS)
    bosses(stock)
    flanges(stock, INCH_FLANGES)
    clamps(stock)
    return stock


def main():
    here = pathlib.Path(__file__).resolve().parent
    metric_list().write(here / "metric.json")
    inch_list().write(here / "inch.json")


if __name__ == "__main__":
    main()
