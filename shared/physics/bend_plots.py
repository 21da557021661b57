# SPDX-License-Identifier: GPL-3.0-or-later
"""Plots of bends, mitres and elbows."""

import math

from support import REYNOLDS, dress, figure, linear, logarithmic, loss, model, others, points, table, where


def with_arc(ask, pairs, angle_deg, ratio_of, reynolds):
    """Adds the friction of the arc to coefficients that were published without it."""
    f = ask("friction-factor", reynolds=reynolds)["darcy_friction_factor"]
    return [(x, k + f * math.radians(angle_deg) * ratio_of(x)) for x, k in pairs]


LAWS = (("K_Miller", "Miller"), ("K_Ito", "Ito"), ("K_Idelchik", "Idelchik"), ("K_Crane", "Crane"))


def bend(ask):
    made, (left, right) = figure(2, height=3.6)
    rows = where(table("bends"), Re=REYNOLDS, eps_m=0)
    published = table("bends_published")
    ratios = linear(0.75, 5.0, 40)
    loss(left, ratios, [ask("bend-loss", angle=90, radius_ratio=r, reynolds=REYNOLDS) for r in ratios])
    for place, (column, name) in enumerate(LAWS):
        others(left, points(where(rows, angle_deg=90), "r_over_D", column), place, name)
    hofmann = [r for r in published if r["kind"].startswith("smooth bend (Hofmann") and float(r["r_over_D"]) <= 5]
    others(
        left,
        with_arc(ask, points(hofmann, "r_over_D", "K"), 90, lambda ratio: ratio, 2.25e5),
        6,
        "Hofmann, measured, Re 2.25·10⁵",
    )
    dress(left, "centreline radius over bore [-]", "loss coefficient [-]", "90°, smooth, Re 10⁵", ylim=(0, 0.9))
    angles = linear(5.0, 180.0, 40)
    loss(right, angles, [ask("bend-loss", angle=a, radius_ratio=1.5, reynolds=REYNOLDS) for a in angles])
    for place, (column, name) in enumerate(LAWS):
        others(right, points(where(rows, r_over_D=1.5), "angle_deg", column), place, name)
    dress(right, "angle [degrees]", "loss coefficient [-]", "radius ratio 1.5, smooth, Re 10⁵", legend="upper left")
    return made


def bend_ready_made(ask):
    made, (left, right) = figure(2)
    published = where(table("bends_published"), kind="die-stamped smooth elbow")
    bores = linear(40.0, 250.0, 40)
    for axes, angle, fitting in ((left, 90, "CD3-1"), (right, 45, "CD3-3")):
        loss(
            axes,
            bores,
            [ask("bend-loss", angle=angle, radius_ratio=1.5, reynolds=REYNOLDS, ready_made_bore=b) for b in bores],
            band_label="its band, ready made",
        )
        pairs = [(1e3 * d, k) for d, k in points(where(published, angle_deg=angle), "D_m", "K")]
        others(axes, with_arc(ask, pairs, angle, lambda _: 1.5, REYNOLDS), 0, "ASHRAE (2009), {}".format(fitting))
        dress(
            axes, "bore [mm]", "loss coefficient [-]", "{}°, radius ratio 1.5, Re 10⁵".format(angle), ylim=(0, None)
        )
    return made


def bend_pair(ask):
    made, axes = figure()
    spacings = logarithmic(1.0, 31.0, 45)

    def factor(twist, spacing):
        return ask(
            "bend-pair-loss",
            spacing_ratio=spacing,
            twist=twist,
            first_angle=90,
            first_radius_ratio=1.5,
            second_angle=90,
            second_radius_ratio=1.5,
            reynolds=REYNOLDS,
        )["interaction_factor"]

    xs = [s - 1 for s in spacings]
    for twist, name, dashes in (
        (0, "0°: goes on the same way (U)", None),
        (90, "90°: square out of the plane", (5, 2)),
        (180, "180°: turns back (S)", (1.5, 1.5)),
    ):
        model(axes, xs, [factor(twist, x) for x in xs], name, dashes)
    dress(
        axes,
        "straight between them over bore [-]",
        "factor on the sum of both losses [-]",
        "two bends of 90°, radius ratio 1.5, by twist",
        legend="lower right",
        ylim=(0.5, 1.05),
        xlim=(0, 30),
    )
    return made


def mitre(ask):
    made, axes = figure(1, width=6.0, height=3.6)
    rows = table("mitre_bends")
    angles = linear(8.0, 150.0, 40)
    loss(axes, angles, [ask("mitre-loss", angle=a) for a in angles])
    for place, (column, name) in enumerate(
        (
            ("K_Miller", "Miller, Re 2·10⁴ to 10⁶"),
            ("K_Blevins", "Blevins, Re 2·10⁴ to 10⁶"),
            ("K_Idelchik", "Idelchik"),
            ("K_Crane", "Crane"),
        )
    ):
        steady = column in ("K_Idelchik", "K_Crane")
        those = where(rows, Re=REYNOLDS) if steady else [r for r in rows if r["Re"] in ("20000", "1000000")]
        others(axes, points(those, "joint_angle_deg", column), place, name)
    dress(axes, "angle [degrees]", "loss coefficient [-]", legend="upper left", ylim=(0, 3.6))
    return made


def segmented(ask):
    made, (left, right) = figure(2)
    rows = table("mitre_segmented")
    bores = logarithmic(50.0, 750.0, 36)
    for joints, ratio, fitting, dashes, place in ((4, 1.5, "CD3-9", None, 0), (6, 2.5, "CD3-10", (4, 2), 1)):
        answers = [ask("segmented-loss", angle=90, radius_ratio=ratio, bore=b, joints=joints) for b in bores]
        loss(left, bores, answers, "{} joints, r/D {}".format(joints, ratio), band_label=None, dashes=dashes)
        those = [r for r in where(rows, joints=joints, angle_deg=90, r_over_D=ratio) if r["class"] == "a"]
        others(
            left,
            [(1e3 * d, k) for d, k in points(those, "D_m", "K") if d <= 0.76],
            place,
            "ASHRAE (2009), " + fitting,
        )
    dress(left, "bore [mm]", "loss coefficient [-]", "90°, five and seven pieces", xscale="log", ylim=(0, None))
    left.set_xticks([50, 100, 200, 500], ["50", "100", "200", "500"])
    left.minorticks_off()
    ratios = linear(0.6, 2.4, 37)
    loss(right, ratios, [ask("segmented-loss", angle=90, radius_ratio=r, bore=100, joints=2) for r in ratios])
    those = [r for r in where(rows, joints=2, angle_deg=90) if r["class"] == "a"]
    others(right, points(those, "r_over_D", "K"), 0, "ASHRAE (2009), CD3-12")
    bounds = [
        r for r in rows if r["source"].startswith("upper bound") and r["joints"] == "2" and r["angle_deg"] == "90"
    ]
    others(right, points(bounds, "r_over_D", "K"), 5, "two mitres far apart")
    dress(right, "centreline radius over bore [-]", "loss coefficient [-]", "90°, three pieces", ylim=(0, None))
    return made


def pleated(ask):
    made, axes = figure()
    rows = where(table("bends_published"), kind="pleated (corrugated) elbow")
    bores = linear(40.0, 400.0, 37)
    for angle, place, fitting, dashes in ((90, 0, "CD3-5", None), (45, 1, "CD3-7", (4, 2))):
        loss(
            axes,
            bores,
            [ask("pleated-loss", angle=angle, bore=b) for b in bores],
            "model, {}°".format(angle),
            band_label="its band" if angle == 90 else None,
            dashes=dashes,
        )
        pairs = [(1e3 * d, k) for d, k in points(where(rows, angle_deg=angle), "D_m", "K")]
        others(axes, pairs, place, "ASHRAE (2009), {}".format(fitting))
    dress(axes, "bore [mm]", "loss coefficient [-]", ylim=(0, None))
    return made


PLOTS = {
    "bend": bend,
    "bend-ready-made": bend_ready_made,
    "bend-pair": bend_pair,
    "mitre": mitre,
    "segmented": segmented,
    "pleated": pleated,
}
