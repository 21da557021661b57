# SPDX-License-Identifier: GPL-3.0-or-later
"""Plots of the machines."""

import re

from support import dress, figure, linear, model, others, points, table


def inputs(row):
    """The numbers of a row's column of inputs by their names."""
    return {name: float(value) for name, value in re.findall(r"(\w+)=([-\d.e]+)", row["inputs"])}


def filter_drop(ask):
    made, axes = figure()
    flows = linear(0.005, 0.2, 30)
    given = table("filters")
    for a, b, dashes, place in ((2000, 40000, None, 0), (500, 120000, (4, 2), 1)):
        rated = {
            "rated_flow": 0.05,
            "rated_drop": a * 0.05 + b * 0.05**2,
            "second_flow": 0.15,
            "second_drop": a * 0.15 + b * 0.15**2,
        }
        model(
            axes,
            flows,
            [ask("filter-drop", flow=q, **rated)["total_pressure_drop_Pa"] for q in flows],
            "model, through the points at 0.05 and 0.15 m³/s" if place == 0 else None,
            dashes,
        )
        pairs = [
            (inputs(r)["Q"], float(r["value"]))
            for r in given
            if r["quantity"].startswith("dp = A Q + B Q^2") and inputs(r)["A"] == a and inputs(r)["B"] == b
        ]
        others(axes, pairs, place, "{} Q + {} Q²".format(a, b))
    dress(axes, "volume flow [m³/s]", "total pressure drop [Pa]", "rating air", legend="upper left", ylim=(0, None))
    return made


def cooler(ask):
    made, panels = figure(3, width=12, height=3.4)
    given = table("heat_exchanger")
    ntus = linear(0.02, 5.0, 22)
    for axes, (arrangement, name, title) in zip(
        panels,
        (
            ("cross-flow-unmixed", "crossflow both unmixed (exact series)", "cross flow, both unmixed"),
            ("cross-flow-min-mixed", "crossflow Cmin mixed, Cmax unmixed", "cross flow, smaller stream mixed"),
            ("counterflow", "counterflow", "counterflow"),
        ),
    ):
        for ratio, dashes in ((0.0, None), (0.5, (5, 2)), (1.0, (1.5, 1.5))):
            model(
                axes,
                ntus,
                [ask("cooler", ntu=n, capacity_ratio=ratio, arrangement=arrangement)["effectiveness"] for n in ntus],
                "model, Cmin/Cmax {:g}".format(ratio),
                dashes,
            )
            those = [r for r in given if r["arrangement"] == name and float(r["Cr"]) == ratio]
            others(axes, points(those, "NTU", "effectiveness"), 0, "Kays & London" if ratio == 1 else None)
        if arrangement == "cross-flow-unmixed":
            worked = [r for r in given if "Incropera Ex" in r["arrangement"]]
            others(axes, points(worked, "NTU", "effectiveness"), 1, "Incropera et al., worked, 0.36 and 0.45")
        dress(axes, "number of transfer units [-]", "effectiveness [-]", title, legend="lower right", ylim=(0, 1.02))
    return made


def lobe_blower(ask):
    made, (left, right) = figure(2)
    given = table("compressor")
    ratios = linear(1.02, 3.0, 30)
    model(
        left, ratios, [ask("lobe-blower", pressure_ratio=r)["adiabatic_efficiency"] for r in ratios], "model, at best"
    )
    limits = [r for r in given if r["quantity"].startswith("Roots_isentropic")]
    for place, cls, name in ((0, "c", "closed form"), (1, "a", "printed, two figures")):
        pairs = [(inputs(r)["PR"], float(r["value"])) for r in limits if r["class"] == cls]
        others(left, pairs, place, name)
    leaking = [
        ask(
            "blower",
            swept_volume=1,
            speed=8000,
            pressure_ratio=r,
            leak_speed=8000,
            leak_ratio=1.6,
            leak_efficiency=0.85,
        )
        for r in ratios
    ]
    model(left, ratios, [a["adiabatic_efficiency"] for a in leaking], "model, 15 % leakage at ratio 1.6", (4, 2))
    dress(left, "pressure ratio [-]", "adiabatic efficiency [-]", "no internal compression", ylim=(0.4, 1.01))
    speeds = linear(2000.0, 14000.0, 25)
    for ratio, dashes in ((1.2, None), (1.5, (5, 2)), (1.8, (1.5, 1.5))):
        answers = [
            ask(
                "blower",
                swept_volume=1,
                speed=n,
                pressure_ratio=ratio,
                volumetric_efficiency=0.97,
                leak_speed=8000,
                leak_ratio=1.6,
                leak_efficiency=0.85,
            )
            for n in speeds
        ]
        model(right, speeds, [a["volumetric_efficiency"] for a in answers], "ratio {}".format(ratio), dashes)
    others(right, [(8000, 0.85)], 0, "rated point, ratio 1.6")
    dress(
        right, "blower speed [1/min]", "volumetric efficiency [-]", "1 L a turn; 0.97 without pressure", ylim=(0, 1)
    )
    return made


def compression(ask):
    made, axes = figure()
    ratios = linear(1.0, 3.0, 30)[1:]
    for efficiency, dashes in ((1.0, None), (0.75, (4, 2)), (0.65, (1.5, 1.5))):
        model(
            axes,
            ratios,
            [
                ask("blower-outlet", temperature=25, pressure_ratio=r, efficiency=efficiency)["temperature_K"]
                - 273.15
                for r in ratios
            ],
            "model, efficiency {:g}".format(efficiency),
            dashes,
        )
    varied = [r for r in table("air") if r["quantity"] == "T2s_variable_cp" and r["T_K"] == "298.15"]
    others(axes, [(p / 1e5, t - 273.15) for p, t in points(varied, "p_Pa", "value")], 0, "cp varying, closed form")
    fixed = [r for r in table("compressor") if r["quantity"] == "T2"]
    for efficiency in (0.75, 0.65):
        pairs = [(inputs(r)["PR"], float(r["value"]) - 273.15) for r in fixed if inputs(r)["eta_is"] == efficiency]
        others(axes, pairs, 5, "γ = 1.4, library" if efficiency == 0.75 else None, size=12)
    dress(axes, "pressure ratio [-]", "outlet temperature [°C]", "air at 25 °C")
    return made


def nozzle(ask):
    made, axes = figure()
    shares = linear(0.0, 0.999, 50)[1:]
    answers = [
        ask("nozzle", bore=20, upstream_pressure=150, temperature=20, downstream_pressure=150 * x) for x in shares
    ]
    model(axes, shares, [1e3 * a["mass_flow_kg_s"] for a in answers], "model, 20 mm at 150 kPa, 20 °C")
    area, scale = 3.14159265358979 * 0.01**2, (287.05 * 293.15) ** 0.5
    tabled = [
        r
        for r in table("isentropic")
        if r["gamma"] == "1.4" and r["class"] == "c" and float(r["M"]) <= 1 and r["mfp_total"]
    ]
    pairs = [
        (x, 1e3 * float(f) * area * 150e3 / scale) for x, f in ((float(r["p_p0"]), r["mfp_total"]) for r in tabled)
    ]
    others(axes, pairs, 0, "mass-flow function, NACA 1135")
    dress(axes, "pressure behind over total pressure ahead [-]", "mass flow [g/s]", ylim=(0, None))
    return made


def power_correction(ask):
    made, axes = figure(1, width=6.0)
    given = table("engine_correction")
    pressures = linear(94.0, 104.0, 21)
    rules = (
        ("spark-ignition", "ISO 1585 / UN R85", "spark ignition, ISO 1585", "ps_dry", 1, "T", 298.15, None),
        ("spark-ignition-1990", "SAE J1349", "spark ignition, 1990", "Pd", 0.1, "Tc", 25, (4, 2)),
        ("din-70020", "DIN 70020", "DIN 70020", "p", 0.1, "t", 25, (1.5, 1.5)),
    )
    for place, (rule, start, name, pressure, to_kPa, temperature, warm, dashes) in enumerate(rules):
        model(
            axes,
            pressures,
            [ask("power-correction", rule=rule, pressure=p, temperature=25)["power_factor"] for p in pressures],
            "model, " + name,
            dashes,
        )
        pairs = [
            (inputs(r)[pressure] * to_kPa, float(r["value"]))
            for r in given
            if r["standard"].startswith(start) and inputs(r).get(temperature) == warm
        ]
        others(axes, pairs, place, "reference, " + name)
    dress(axes, "pressure of the air that the rule asks for [kPa]", "factor on the power [-]", "25 °C")
    return made


PLOTS = {
    "filter": filter_drop,
    "cooler": cooler,
    "lobe-blower": lobe_blower,
    "compression": compression,
    "nozzle": nozzle,
    "power-correction": power_correction,
}
