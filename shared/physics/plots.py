#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Draws the plots of shared/physics.md: the model as the built program answers, its band, and the reference points.

    shared/physics/plots.py [--program build/release/app/bellmouth-cli] [--out shared/physics] [NAME ...]

Needs python3-matplotlib. The same program and tables give the same files.
"""

import argparse
import sys
from pathlib import Path

sys.dont_write_bytecode = True
sys.path.insert(0, str(Path(__file__).resolve().parent))

import air_plots  # noqa: E402
import bend_plots  # noqa: E402
import loss_plots  # noqa: E402
import machine_plots  # noqa: E402
from support import REPOSITORY, Program, save  # noqa: E402

PLOTS = {**air_plots.PLOTS, **bend_plots.PLOTS, **loss_plots.PLOTS, **machine_plots.PLOTS}


def main():
    parser = argparse.ArgumentParser(description="Draws the plots of shared/physics.md.")
    parser.add_argument("names", nargs="*", metavar="NAME", help="which; all when none is named")
    parser.add_argument("--program", type=Path, default=REPOSITORY / "build/release/app/bellmouth-cli")
    parser.add_argument("--out", type=Path, default=REPOSITORY / "shared/physics")
    chosen = parser.parse_args()
    unknown = [name for name in chosen.names if name not in PLOTS]
    if unknown:
        parser.error("no plot '{}'; there are {}".format(unknown[0], ", ".join(PLOTS)))
    ask = Program(chosen.program)
    for name in chosen.names or PLOTS:
        save(PLOTS[name](ask), chosen.out, name)


if __name__ == "__main__":
    main()
