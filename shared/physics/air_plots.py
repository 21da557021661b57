# SPDX-License-Identifier: GPL-3.0-or-later
"""Plots of the air and of compressible flow."""

from support import dress, figure, linear, logarithmic, model, others, points, say, table

KELVIN = 273.15


def of(rows, quantity, scale=1.0, shift=-KELVIN, x="T_K"):
    """Reference points of one quantity, temperature in degrees Celsius unless said otherwise."""
    return [(a + shift, b * scale) for a, b in points([r for r in rows if r["quantity"] == quantity], x, "value")]


def air_transport(ask):
    made, (left, right) = figure(2)
    rows = table("air")
    ts = linear(-40.0, 330.0, 45)
    answers = [ask("air", temperature=t, pressure=101.325) for t in ts]
    model(left, ts, [a["viscosity_Pa_s"] * 1e6 for a in answers], "model, dry")
    others(left, of(rows, "mu_LemmonJacobsen2004", 1e6), 0, "Lemmon & Jacobsen (2004)")
    others(left, of(rows, "mu_Incropera_A4", 1e6), 1, "Incropera et al., table A.4")
    others(left, of(rows, "mu_Sutherland_USSA76", 1e6), 5, "Sutherland, ISO 2533", size=14)
    dress(left, "temperature [°C]", "dynamic viscosity [µPa s]")
    vapour = {}
    for share, dashes in ((0.0, None), (1.0, (4, 2))):
        warm = [t for t in ts if t <= 60] if share else ts
        vapour[share] = [ask("air", temperature=t, pressure=101.325, relative_humidity=share) for t in warm]
        model(
            right,
            warm,
            [a["conductivity_W_mK"] * 1e3 for a in vapour[share]],
            "model, saturated" if share else "model, dry",
            dashes,
        )
    dress(right, "temperature [°C]", "thermal conductivity [mW/(m K)]")
    return made


def air_heat(ask):
    made, (left, right) = figure(2)
    rows = table("air")
    ts = linear(-40.0, 330.0, 45)
    answers = [ask("air", temperature=t, pressure=101.325) for t in ts]
    model(left, ts, [a["cp_J_kgK"] for a in answers], "model, dry")
    others(left, of(rows, "cp_dry_air_iapws"), 0, "Lemmon et al. (2000), 1 atm")
    others(left, of(rows, "cp_Incropera_A4"), 1, "Incropera et al., table A.4")
    dress(left, "temperature [°C]", "specific heat cp [J/(kg K)]")
    model(right, ts, [a["gamma"] for a in answers], "model, dry")
    others(right, of(rows, "gamma_dry_air_iapws"), 0, "Lemmon et al. (2000), 1 atm")
    dress(right, "temperature [°C]", "ratio of specific heats [-]")
    return made


def saturation(ask):
    made, axes = figure()
    rows = table("air")
    ts = linear(-60.0, 99.0, 60)
    model(
        axes,
        ts,
        [ask("dew-point", temperature=t, pressure=1000, relative_humidity=1.0)["vapour_pressure_Pa"] for t in ts],
        "model",
    )
    others(axes, of(rows, "psat_water_ASHRAE_table"), 0, "ASHRAE (2017), table 3")
    others(axes, of(rows, "psat_water_IAPWS97"), 1, "IAPWS-IF97")
    others(axes, of(rows, "psat_water_CIPM"), 5, "CIPM-2007", size=14)
    dress(axes, "temperature [°C]", "pressure of saturated vapour [Pa]", yscale="log")
    return made


def atmosphere(ask):
    made, (left, right) = figure(2)
    rows = table("air")
    hs = linear(-2000.0, 11000.0, 40)
    answers = [ask("atmosphere", altitude=h) for h in hs]
    model(left, hs, [a["pressure_Pa"] / 1e3 for a in answers], "model")
    others(left, of(rows, "USSA76_p_geometric_table", 1e-3, 0, "altitude_m"), 0, "US Standard Atmosphere 1976, table")
    others(left, of(rows, "std_atm_p_ASHRAE", 1e-3, 0, "altitude_m"), 1, "ASHRAE (2017), table 1")
    dress(left, "altitude [m]", "pressure [kPa]")
    model(right, hs, [a["temperature_K"] - KELVIN for a in answers], "model")
    others(
        right,
        [(h, t - KELVIN) for h, t in of(rows, "USSA76_T_geometric_table", 1, 0, "altitude_m")],
        0,
        "US Standard Atmosphere 1976, table",
    )
    dress(right, "altitude [m]", "temperature [°C]")
    return made


def isentropic(ask):
    made, (left, right) = figure(2)
    rows = [r for r in table("isentropic") if r["gamma"] == "1.4" and r["class"] == "a"]
    sources = (
        ("Farokhi, appendix B", [r for r in rows if r["source"].startswith("Farokhi")]),
        ("textbook table", [r for r in rows if not r["source"].startswith("Farokhi")]),
    )
    ms = [0.02 + 0.03 * i for i in range(66)]
    answers = [ask("isentropic", mach=m) for m in ms]
    for key, name, at in (
        ("temperature_ratio", "T/T₀", 40),
        ("density_ratio", "ρ/ρ₀", 22),
        ("pressure_ratio", "p/p₀", 34),
    ):
        model(left, ms, [a[key] for a in answers], "model" if key == "pressure_ratio" else None)
        say(left, ms[at], answers[at][key], name)
    model(right, ms, [a["mass_flow_function"] for a in answers], "model")
    say(right, ms[45], answers[45]["mass_flow_function"], "ṁ √(R T₀) / (A p₀)")
    model(right, ms[4:], [a["area_ratio"] / 4 for a in answers[4:]])
    say(right, ms[7], answers[7]["area_ratio"] / 4, "A/A* ÷ 4", by=(6, 2))
    for place, (name, those) in enumerate(sources):
        those = [r for r in those if float(r["M"]) <= 2]
        for column, label in (("p_p0", name), ("T_T0", None), ("rho_rho0", None)):
            pairs = points(those, "M", column)
            if pairs:
                others(left, pairs, place, label)
        pairs = [(m, a / 4) for m, a in points([r for r in those if float(r["M"]) >= 0.14], "M", "A_Astar")]
        others(right, pairs, place, name)
    dress(left, "Mach number [-]", "static over total [-]", "γ = 1.4", ylim=(0, 1.05))
    dress(right, "Mach number [-]", "[-]", "γ = 1.4", legend="upper right", ylim=(0, 1.2))
    return made


def fanno(ask):
    made, (left, right) = figure(2)
    rows = [r for r in table("fanno") if r["gamma"] == "1.4" and r["class"] == "a"]
    sources = (
        ("Massey & Ward-Smith, A3.3", [r for r in rows if r["source"].startswith("Massey")]),
        ("Farokhi, appendix E", [r for r in rows if r["source"].startswith("Farokhi")]),
    )
    ms = logarithmic(0.02, 1.0, 50)[:-1]
    answers = [ask("fanno", mach=m) for m in ms]
    model(left, ms, [a["fanno_parameter"] for a in answers], "model")
    for key, name, at in (
        ("pressure_ratio", "p/p*", 16),
        ("total_pressure_ratio", "p₀/p₀*", 8),
        ("temperature_ratio", "T/T*", 6),
    ):
        model(right, ms, [a[key] for a in answers], "model" if key == "pressure_ratio" else None)
        say(right, ms[at], answers[at][key], name, by=(-34, -12) if key.startswith("total") else (4, 3))
    for place, (name, those) in enumerate(sources):
        those = those[::3] if len(those) > 20 else those  # enough to see
        others(left, points(those, "M", "fLD"), place, name)
        for column, label in (("p_pstar", name), ("T_Tstar", None), ("p0_p0star", None)):
            pairs = points(those, "M", column)
            if pairs:
                others(right, pairs, place, label)
    dress(left, "Mach number [-]", "friction length f L*/D [-]", "γ = 1.4", xscale="log", yscale="log")
    dress(right, "Mach number [-]", "over the sonic value [-]", "γ = 1.4", xscale="log", yscale="log")
    for axes in (left, right):
        axes.minorticks_off()
    return made


def rayleigh(ask):
    made, axes = figure()
    ms = linear(0.02, 2.0, 67)
    answers = [ask("rayleigh", mach=m) for m in ms]
    for key, name, at in (
        ("total_temperature_ratio", "T₀/T₀*", 58),
        ("temperature_ratio", "T/T*", 50),
        ("pressure_ratio", "p/p*", 8),
        ("total_pressure_ratio", "p₀/p₀*", 4),
    ):
        model(axes, ms, [a[key] for a in answers])
        say(axes, ms[at], answers[at][key], name)
    dress(axes, "Mach number [-]", "over the value at Mach 1 [-]", "γ = 1.4; closed form", legend=None, ylim=(0, 2.6))
    return made


PLOTS = {
    "air-transport": air_transport,
    "air-heat": air_heat,
    "saturation": saturation,
    "atmosphere": atmosphere,
    "isentropic": isentropic,
    "fanno": fanno,
    "rayleigh": rayleigh,
}
