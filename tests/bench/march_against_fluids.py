#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The march over twenty pieces against python3-fluids doing the same with fixed density, in one run.

Usage: march_against_fluids.py BENCH, where BENCH is the built benchmark program.
The pieces are those of `march_over_twenty_pieces` in flow_bench.cpp: five times a straight, a bend of 90 degrees
with its legs, a cone up and a cone down.
"""
import json
import math
import subprocess
import sys
import timeit

import fluids
from fluids.fittings import bend_rounded, contraction_conical, diffuser_conical
from fluids.friction import friction_factor

BORE, WIDE, FLOW, DENSITY, VISCOSITY, ROUGHNESS = 0.060, 0.067, 0.1, 1.2, 1.81e-5, 1.5e-6


def velocity_head(bore):
    return 0.5 * DENSITY * (FLOW / (DENSITY * math.pi / 4 * bore * bore)) ** 2


def friction(bore):
    reynolds = 4 * FLOW / (math.pi * bore * VISCOSITY)
    return reynolds, friction_factor(reynolds, eD=ROUGHNESS / bore)


def march():
    drop = 0.0
    for _ in range(5):
        reynolds, f = friction(BORE)
        drop += f * 0.150 / BORE * velocity_head(BORE)
        reynolds, f = friction(BORE)
        drop += f * 0.060 / BORE * velocity_head(BORE)
        drop += bend_rounded(Di=BORE, angle=90, fd=f, rc=0.0945, Re=reynolds, method="Rennels") * velocity_head(BORE)
        reynolds, f = friction(BORE)
        drop += diffuser_conical(Di1=BORE, Di2=WIDE, l=0.060, fd=f, Re=reynolds, method="Rennels") * velocity_head(BORE)
        reynolds, f = friction(BORE)
        drop += contraction_conical(Di1=WIDE, Di2=BORE, l=0.060, fd=f, Re=reynolds, method="Rennels") * velocity_head(BORE)
    return drop


def main():
    output = subprocess.run(
        [sys.argv[1], "--benchmark_filter=march_over_twenty_pieces", "--benchmark_format=json"],
        check=True, capture_output=True, text=True).stdout
    ours_us = json.loads(output)["benchmarks"][0]["cpu_time"]
    theirs_us = min(timeit.repeat(march, number=200, repeat=5)) / 200 * 1e6
    print(f"march over twenty pieces: {ours_us:.2f} us; fluids {fluids.__version__} with fixed density: "
          f"{theirs_us:.0f} us; {theirs_us / ours_us:.0f} times faster (bar: 15)")


if __name__ == "__main__":
    main()
