#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Where random chains of pieces end: `bellmouth-cli place` against rotations of scipy.

Usage: chains.py PROGRAM, where PROGRAM is the built bellmouth-cli.
Kind: another method, written separately. Each bend is a turn of scipy.spatial.transform.Rotation about the axis
through the middle of its arc; here nothing is known of frames, tracks or arcs. Chains are drawn anew from a fixed
start; a demo build lends machines and path.
"""

import json
import random
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

import numpy as np
from scipy.spatial.transform import Rotation

DEMO = Path(__file__).resolve().parents[3] / "demo_builds" / "3-club-day-roadster.json"
PROGRAM = None
CHAINS = 60
WITHIN_MM = 1e-8
WITHIN = 1e-11


def bent(draw, piece, tight):
    piece.update(
        angle_deg=draw.uniform(3, 110), radius_mm=draw.uniform(tight, 200), leg_in_mm=draw.uniform(40, 120),
        leg_out_mm=draw.uniform(40, 120), clocking_deg=draw.choice([0, 90, 180, 270, draw.uniform(-180, 180)]))
    return piece


def any_piece(draw):
    kind = draw.choice(["tube", "tube_bend", "mitred_bend", "cone", "hose", "hump_hose", "hose_elbow"])
    beads = {"bead_in": True, "bead_out": True, "material": "aluminium"}
    rigid = {"kind": kind, "outer_diameter_mm": 60, "wall_mm": 2, **beads}
    hose = {"kind": kind, "wall_mm": 5, "material": "silicone", "engagement_in_mm": draw.uniform(10, 40),
            "engagement_out_mm": draw.uniform(10, 40)}
    if kind == "tube":
        return {**rigid, "length_mm": draw.uniform(20, 400)}
    if kind == "tube_bend":
        return bent(draw, rigid, 60)
    if kind == "mitred_bend":
        return {**bent(draw, rigid, 100), "joints": draw.randint(1, 5)}
    if kind == "cone":
        return {"kind": kind, "outer_diameter_in_mm": 60, "outer_diameter_out_mm": draw.uniform(40, 90), "wall_mm": 2,
                "length_mm": draw.uniform(40, 200), **beads}
    if kind == "hose":
        return {**hose, "bore_mm": 60, "length_mm": draw.uniform(90, 300)}
    if kind == "hump_hose":
        return {**hose, "bore_mm": 60, "length_mm": draw.uniform(120, 200), "hump_length_mm": 30, "hump_bore_mm": 72}
    return {**bent(draw, hose, 60), "bore_in_mm": 60, "bore_out_mm": 60, "pleated": False}


def flexible(piece):
    return "engagement_in_mm" in piece


def covers(pieces, index):
    """What a hose gives up to the spigots beside it; the ports are spigots."""
    piece = pieces[index]
    if not flexible(piece):
        return 0, 0
    before = index == 0 or not flexible(pieces[index - 1])
    behind = index + 1 == len(pieces) or not flexible(pieces[index + 1])
    return before * piece["engagement_in_mm"], behind * piece["engagement_out_mm"]


def reference_of(direction):
    upright = np.degrees(np.arccos(min(abs(direction[2]), 1)))
    wanted = np.array([1.0, 0, 0] if upright <= 8 else [0, 0, 1.0])
    square = wanted - wanted.dot(direction) * direction
    return square / np.linalg.norm(square)


def ends(start, direction, pieces):
    """The end of each piece and the direction there, one after the other."""
    point, along, up = np.array(start), np.array(direction), reference_of(np.array(direction))
    for index, piece in enumerate(pieces):
        cover_in, cover_out = covers(pieces, index)
        if "angle_deg" not in piece:
            point = point + (piece["length_mm"] - cover_in - cover_out) * along
        else:
            point = point + (piece["leg_in_mm"] - cover_in) * along
            # Clockwise for one who looks along: a turn by the clocking about the direction.
            towards = Rotation.from_rotvec(np.radians(piece["clocking_deg"]) * along).apply(up)
            middle = point + piece["radius_mm"] * towards
            turn = Rotation.from_rotvec(np.radians(piece["angle_deg"]) * np.cross(along, towards))
            point = middle + turn.apply(point - middle)
            along, up = turn.apply(along), turn.apply(towards)
            point = point + (piece["leg_out_mm"] - cover_out) * along
        yield point, along


class Chains(unittest.TestCase):
    def placed(self, build):
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / "chain.json"
            file.write_text(json.dumps(build), encoding="utf-8")
            said = subprocess.run([PROGRAM, "place", str(file), "--json"], capture_output=True, text=True, check=False)
        self.assertEqual(said.returncode, 0, said.stderr)
        return json.loads(said.stdout)["runs"][0]["pieces"]

    def test_end_where_rotations_say(self):
        draw = random.Random(20)
        pieces_seen = 0
        for chain in range(CHAINS):
            build = json.loads(DEMO.read_text(encoding="utf-8"))
            run = build["options"][0]["runs"][0]
            run["pieces"] = [any_piece(draw) for _ in range(draw.randint(1, 14))]
            direction = np.array([draw.gauss(0, 1) for _ in range(3)])
            if chain % 6 == 0:
                direction = np.array([draw.uniform(-0.1, 0.1), 0, draw.choice([-1, 1])])  # near upright
            direction /= np.linalg.norm(direction)
            start = [draw.uniform(-800, 800) for _ in range(3)]
            port = next(port for port in build["ports"] if port["id"] == run["from"])
            port["pose"] = {"position_mm": start, "direction": direction.tolist()}
            found = self.placed(build)
            self.assertEqual(len(found), len(run["pieces"]))
            for piece, (point, along) in zip(found, ends(start, direction, run["pieces"])):
                with self.subTest(chain=chain, index=piece["index"]):
                    self.assertLess(np.abs(point - piece["to_mm"]).max(), WITHIN_MM)
                    self.assertLess(np.abs(along - piece["direction"]).max(), WITHIN)
                pieces_seen += 1
        self.assertGreater(pieces_seen, 5 * CHAINS)


if __name__ == "__main__":
    PROGRAM = sys.argv.pop(1)
    unittest.main()
