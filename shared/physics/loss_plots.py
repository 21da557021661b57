# SPDX-License-Identifier: GPL-3.0-or-later
"""Plots of friction and of loss coefficients, but for bends."""

import math

from support import (
    REYNOLDS,
    band,
    dress,
    figure,
    linear,
    logarithmic,
    loss,
    model,
    number,
    others,
    points,
    say,
    table,
    where,
)


def friction_factor(ask):
    made, axes = figure(1, width=6.4, height=3.8)
    rows = table("friction_factor")
    res = logarithmic(500.0, 1e7, 70)
    smooth = [ask("friction-factor", reynolds=re)["darcy_friction_factor"] for re in res]
    turbulent = [(re, f) for re, f in zip(res, smooth) if re >= 4000]
    band(
        axes,
        [p[0] for p in turbulent],
        [0.95 * p[1] for p in turbulent],
        [1.05 * p[1] for p in turbulent],
        "band of a straight, ±5 %",
    )
    model(axes, res, smooth, "model")
    for roughness in (1e-3, 1e-2):
        ys = [
            ask("friction-factor", reynolds=re, relative_roughness=roughness)["darcy_friction_factor"] for re in res
        ]
        model(axes, res, ys)
        say(axes, 2e6, ys[-1], "ε/D = {:g}".format(roughness), by=(0, 4))
    say(axes, 2e6, 0.0104, "smooth", by=(0, 8))
    oregon = [r for r in rows if r["regime"].startswith("exp")]
    others(axes, points(oregon, "Re", "f_darcy"), 0, "measured, smooth pipe: McKeon et al. (2004)")
    worked = [r for r in rows if r["class"] == "a" and not r["regime"].startswith("exp")]
    others(axes, points(worked, "Re", "f_darcy"), 1, "textbooks' worked examples, some rough")
    dress(axes, "Reynolds number [-]", "Darcy friction factor [-]", xscale="log", yscale="log", ylim=(7e-3, 0.15))
    axes.set_yticks([0.01, 0.02, 0.05, 0.1], ["0.01", "0.02", "0.05", "0.1"])
    axes.minorticks_off()
    return made


def cone_length_mm(small_mm, large_mm, angle_deg):
    return 0.5 * (large_mm - small_mm) / math.tan(math.radians(angle_deg / 2))


def converging(ask):
    made, panels = figure(2, height=3.6)
    rows = where(table("contractions"), kind="conical", Re2=200000)
    angles = linear(8.0, 150.0, 40)
    for axes, beta in zip(panels, (0.5, 0.7)):
        small, large = 60.0, 60.0 / beta
        loss(
            axes,
            angles,
            [
                ask("cone-loss", from_=large, to=small, length=cone_length_mm(small, large, a), reynolds=2e5)
                for a in angles
            ],
        )
        for place, (column, name) in enumerate(
            (("K_Miller", "Miller"), ("K_Crane", "Crane"), ("K_Hooper", "Hooper"))
        ):
            pairs = points(where(rows, beta=beta), "angle_deg", column)
            if pairs:
                others(axes, pairs, place, name)
        dress(
            axes,
            "included angle [degrees]",
            "loss coefficient, small end [-]",
            "bore ratio {}, Re 2·10⁵".format(beta),
            legend="upper left",
            ylim=(0, 0.5),
        )
    return made


def rounded(ask):
    made, panels = figure(2)
    rows = table("contractions_rounded")
    edges = linear(0.001, 0.25, 36)
    for axes, beta in zip(panels, (0.5, 0.8)):
        small = 60.0
        loss(axes, edges, [ask("step-loss", from_=small / beta, to=small, edge_radius=e * small) for e in edges])
        for place, (column, name) in enumerate((("K_Miller", "Miller"), ("K_Idelchik", "Idelchik"))):
            others(axes, points(where(rows, beta=beta), "r_over_d2", column), place, name)
        dress(
            axes,
            "edge radius over small bore [-]",
            "loss coefficient, small bore [-]",
            "bore ratio {}".format(beta),
            ylim=(0, None),
        )
    return made


def diffuser(ask):
    made, panels = figure(2, height=3.6)
    rows = where(table("diffusers"), kind="conical")
    chart = table("diffusers_published")
    angles = linear(4.0, 100.0, 49)
    for axes, beta in zip(panels, (0.8, 0.6)):
        small, large = 60.0, 60.0 / beta
        loss(
            axes,
            angles,
            [
                ask("cone-loss", from_=small, to=large, length=cone_length_mm(small, large, a), reynolds=REYNOLDS)
                for a in angles
            ],
        )
        for place, (column, name) in enumerate(
            (("K_Miller", "Miller"), ("K_Crane", "Crane"), ("K_Idelchik", "Idelchik"))
        ):
            pairs = points(where(rows, beta=beta), "angle_deg", column)
            if pairs:
                others(axes, pairs, place, name)
        near = [
            r for r in chart if abs(float(r["area_ratio"]) * beta**2 - 1) < 0.05 and float(r["angle_deg"]) <= 100
        ]
        if near:
            others(axes, points(near, "angle_deg", "K"), 6, "chart points within 5 %")
        dress(
            axes,
            "included angle [degrees]",
            "loss coefficient, small end [-]",
            "area ratio {:.2f}, Re 10⁵".format(1 / beta**2),
            legend="upper left",
            ylim=(0, 1.0 if beta < 0.7 else 0.4),
        )
    return made


def step(ask):
    made, (left, right) = figure(2)
    betas = linear(0.3, 0.99, 40)
    joints = table("step_joints")
    loss(left, betas, [ask("step-loss", from_=60.0 / b, to=60.0) for b in betas])
    sharp = where(table("contractions"), kind="sharp", Re2=200000)
    for place, (column, name) in enumerate(
        (("K_Miller", "Miller"), ("K_Crane", "Crane"), ("K_Idelchik", "Idelchik"))
    ):
        pairs = points(sharp, "beta", column)
        if pairs:
            others(left, pairs, place, name)
    down = [r for r in joints if r["kind"].startswith("step down")]
    others(left, [(float(r["d2_mm"]) / float(r["d1_mm"]), float(r["K_alt"])) for r in down], 5, "0.5 (1 − A₂/A₁)")
    dress(left, "small over large bore [-]", "loss coefficient, small bore [-]", "narrows", ylim=(0, 0.65))
    loss(right, betas, [ask("step-loss", from_=60.0, to=60.0 / b) for b in betas])
    sudden = where(table("diffusers"), kind="sudden")
    others(right, points(sudden, "beta", "K_BordaCarnot"), 5, "(1 − A₁/A₂)²")
    others(right, points(sudden, "beta", "K_Rennels"), 0, "Rennels & Hudson, library")
    dress(right, "small over large bore [-]", "loss coefficient, small bore [-]", "widens", ylim=(0, 1))
    return made


def gap(ask):
    made, axes = figure(1, width=6.0)
    lengths = linear(0.0, 60.0, 41)[1:]
    loss(axes, lengths, [ask("gap-loss", bore=50, gap_bore=54, length=x, reynolds=REYNOLDS) for x in lengths])
    long_gap = [r for r in table("step_joints") if r["kind"].startswith("gap") and r["d2_mm"] == "54"]
    others(axes, [(55.0, float(r["K"])) for r in long_gap], 0, "long gap: expansion + contraction")
    others(axes, [(55.0, float(r["K_alt"])) for r in long_gap], 5, "long gap: Borda & Carnot + 0.5 (1 − A/A)")
    dress(
        axes,
        "length of the gap [mm]",
        "loss coefficient, tube's bore [-]",
        "50 mm tubes in a 54 mm hose",
        legend="upper left",
        ylim=(0, 0.3),
    )
    return made


def entry(ask):
    made, (left, middle, right) = figure(3, width=12, height=3.5)
    rows = table("entrances_exits")
    lips = linear(0.0, 0.3, 21)
    loss(left, lips, [ask("entry-loss", kind="bellmouth", radius_ratio=r) for r in lips], "model, free")
    loss(
        left,
        lips,
        [ask("entry-loss", kind="bellmouth", radius_ratio=r, in_wall=True) for r in lips],
        "model, in a wall",
        band_label=None,
        dashes=(4, 2),
    )
    others(
        left,
        points([r for r in rows if r["kind"].startswith("free bellmouth")], "value", "K"),
        0,
        "Idelchik 3-4, free",
    )
    wall = [r for r in rows if r["kind"].startswith("flush rounded") and number(r["value"]) <= 0.3]
    for place, method in ((1, "Miller"), (2, "Rennels")):
        others(left, points(where(wall, method=method), "value", "K"), place, "{}, in a wall".format(method))
    dress(left, "lip radius over bore [-]", "loss coefficient [-]", "bellmouth", ylim=(0, 1.15))
    outs = logarithmic(0.002, 1.0, 24)
    for thick, dashes, place in ((0.0, None, 0), (0.02, (4, 2), 1)):
        loss(
            middle,
            outs,
            [ask("entry-loss", kind="projecting", projection_ratio=b, wall_ratio=thick) for b in outs],
            "model, wall {:g} D".format(thick),
            band_label="its band" if thick == 0 else None,
            dashes=dashes,
        )
        those = [
            r
            for r in rows
            if r["kind"] == "projecting pipe"
            and r["parameter"].startswith("t/D={:g};".format(thick))
            and number(r["value"]) > 0
        ]
        others(middle, points(those, "value", "K"), place, "Idelchik 3-1, wall {:g} D".format(thick))
    middle.minorticks_off()
    dress(
        middle,
        "projection over bore [-]",
        "loss coefficient [-]",
        "projecting",
        legend="upper left",
        xscale="log",
        ylim=(0.3, 1.45),
    )
    lengths = linear(0.0, 0.6, 25)
    loss(right, lengths, [ask("entry-loss", kind="bevelled", bevel_angle=30, bevel_length_ratio=x) for x in lengths])
    those = where(rows, kind="flush bevelled", parameter="angle=30; l_over_D")
    others(right, points(where(those, method="Idelchik"), "value", "K"), 0, "Idelchik 3-7")
    others(right, points(where(those, method="Rennels"), "value", "K"), 1, "Rennels & Hudson")
    others(
        right,
        [p for p in points([r for r in rows if "bevelled 30" in r["kind"]], "value", "K") if p[0] >= 0],
        2,
        "Miller's chart",
    )
    dress(right, "bevel length over bore [-]", "loss coefficient [-]", "bevelled, 30° to the axis", ylim=(0, 0.75))
    return made


def screens(ask):
    made, (left, right) = figure(2)
    opens = linear(0.2, 0.85, 36)
    filters, joints = table("filters"), table("step_joints")
    # Reynolds number of the opening 1000 and 50; wire and pitch of one bore of 60 mm.
    pitch = 1.0
    for of_wire, dashes, place in ((5000, None, 0), (50, (4, 2), 1)):
        answers = []
        for share in opens:
            opening = pitch * math.sqrt(share)
            answers.append(
                ask("gauze-loss", bore=60, wire=pitch - opening, pitch=pitch, reynolds=of_wire * 60 / opening)
            )
        loss(
            left,
            opens,
            answers,
            "model, Re of the opening {}".format(of_wire),
            band_label="its band" if of_wire > 50 else None,
            dashes=dashes,
        )
        those = [
            r
            for r in filters
            if r["quantity"].startswith("round wire") and r["inputs"].endswith("Re_wire={}".format(of_wire))
        ]
        pairs = [(float(r["inputs"].split(";")[0].split()[-1]), float(r["value"])) for r in those]
        others(left, pairs, place, "Blevins, library, Re {}".format(of_wire))
    dress(left, "open share [-]", "loss coefficient [-]", "woven gauze", yscale="log")
    shares = logarithmic(0.05, 0.95, 45)
    loss(right, shares, [ask("plate-loss", open_share=s) for s in shares])
    plates = [r for r in joints if r["kind"].startswith("square-edged")]
    others(right, [(float(r["kind"].split()[-1]), float(r["K"])) for r in plates], 0, "Blevins, library")
    idelchik = linear(0.1, 0.9, 9)
    others(right, [(a, (0.707 * math.sqrt(1 - a) + 1 - a) ** 2 / a**2) for a in idelchik], 1, "Idelchik 8-1")
    dress(
        right,
        "open share [-]",
        "loss coefficient [-]",
        "plate with square-edged holes",
        yscale="log",
        ylim=(0.05, None),
    )
    return made


# Weisbach's disc valve in a round pipe, ASHRAE Duct Fitting Database, CD9-1 (Damper, Butterfly, Round): degrees off
# edge on and coefficient.
DISC_VALVE = ((0, 0.20), (10, 0.52), (20, 1.54), (30, 3.91), (40, 10.8), (50, 32.6), (60, 118), (70, 751))


def butterfly(ask):
    made, axes = figure()
    turns = linear(10.0, 90.0, 41)
    loss(axes, turns, [ask("butterfly-loss", opening=t, wide_open_coefficient=0.2) for t in turns])
    others(axes, [(90 - off, k) for off, k in DISC_VALVE], 0, "Weisbach; ASHRAE CD9-1")
    dress(axes, "turned from shut [degrees]", "loss coefficient [-]", "coefficient wide open 0.20", yscale="log")
    return made


def tee(ask):
    made, panels = figure(2, rows=2, width=8.6, height=6.4)
    rows, published = table("tees"), table("tees_published")
    shares = linear(0.0, 1.0, 17)
    for axes, (way, word, path) in zip(
        panels,
        (
            ("converging", "combining", "branch"),
            ("converging", "combining", "run"),
            ("diverging", "dividing", "branch"),
            ("diverging", "dividing", "run"),
        ),
    ):
        for angle, dashes, place in ((90, None, 0), (45, (4, 2), 1)):
            loss(
                axes,
                shares,
                [
                    ask("tee-loss", direction=word, path=path, angle=angle, bore=60, branch_bore=60, share=q)
                    for q in shares
                ],
                "model, {}°".format(angle),
                with_band=angle == 90,
                dashes=dashes,
            )
            those = [
                r
                for r in where(rows, flow=way, path=path, angle_deg=angle, area_ratio=1)
                if "SUSPECT" not in r["note"]
            ]
            if those:
                others(axes, points(those, "q", "K_Crane"), place, "Crane, {}°".format(angle))
        tabled = [
            r
            for r in published
            if r["flow"] in (way, {"combining": "joining", "dividing": "splitting"}[word])
            and r["path"] == path
            and r["angle_deg"] == "90"
        ]
        if tabled:
            others(axes, points(tabled, "q", "K"), 2, "printed, 90°")
        dress(axes, "share of the branch [-]", "loss coefficient [-]", "{}, {}".format(word, path))
    return made


def meter(ask):
    made, (left, right) = figure(2)
    rows = table("orifices")
    drops = logarithmic(300.0, 8000.0, 24)
    for kind, body, taps, axes, name in (
        ("ISO 5167 orifice, corner taps", "plate", "corner", left, "orifice plate, corner taps"),
        ("classical venturi, machined (C=0.995)", "venturi-tube", None, right, "Venturi tube"),
    ):
        for beta, dashes in ((0.3, None), (0.5, (5, 2)), (0.7, (1.5, 1.5))):
            answers = [
                ask(
                    "orifice",
                    kind=body,
                    taps=taps,
                    bore=50,
                    throat=50 * beta,
                    difference=d / 1e3,
                    pressure=101.325,
                    temperature=20,
                )
                for d in drops
            ]
            band(
                axes,
                drops,
                [a["mass_flow_low_kg_s"] for a in answers],
                [a["mass_flow_high_kg_s"] for a in answers],
                "its band" if beta == 0.3 else None,
            )
            model(axes, drops, [a["mass_flow_kg_s"] for a in answers], "model, d/D {}".format(beta), dashes)
        those = [r for r in where(rows, kind=kind, D_m=0.05, result="m_kg_s") if r["beta"] in ("0.3", "0.5", "0.7")]
        others(axes, points(those, "dp_Pa", "value"), 0, "ISO 5167, library")
        dress(
            axes,
            "pressure difference [Pa]",
            "mass flow [kg/s]",
            name + ", bore 50 mm",
            legend="upper left",
            xscale="log",
            yscale="log",
            ylim=(2e-3, 0.4),
        )
        axes.set_xticks([500, 1000, 2000, 5000], ["500", "1000", "2000", "5000"])
        axes.minorticks_off()
    return made


PLOTS = {
    "friction-factor": friction_factor,
    "converging": converging,
    "rounded": rounded,
    "diffuser": diffuser,
    "step": step,
    "gap": gap,
    "entry": entry,
    "screens": screens,
    "butterfly": butterfly,
    "tee": tee,
    "meter": meter,
}
