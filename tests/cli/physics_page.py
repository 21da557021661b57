#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""shared/physics.md against what it speaks of: the contents, the laws and their words in core, its sums and its plots.

Usage: physics_page.py PROGRAM [unittest arguments], where PROGRAM is the built bellmouth-cli.
Kind: identity of text and program; the numbers themselves have their tests beside the models.
"""

import json
import re
import shlex
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PAGE_FILE = ROOT / "shared" / "physics.md"
PLOTS = ROOT / "shared" / "physics"
PAGE = PAGE_FILE.read_text(encoding="utf-8")
WORDS = " ".join(PAGE.split())
LOSS = ROOT / "core" / "loss"
PROGRAM = None


def anchor(heading):
    return re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-")


def literals(text, pattern):
    """String literals behind `pattern`, the pieces of one joined."""
    found = re.findall(pattern + r"((?:\s*\"[^\"]*\")+)", text)
    return ["".join(re.findall(r"\"([^\"]*)\"", pieces)) for pieces in found]


def sources_of(folder):
    """Each file's text by its path within the folder."""
    found = sorted(path for path in folder.rglob("*.?pp"))
    return {str(path.relative_to(folder)): path.read_text(encoding="utf-8") for path in found}


class Contents(unittest.TestCase):
    def test_every_entry_is_a_section_and_the_other_way_round(self):
        listed = re.findall(r"^- \[([^\]]+)\]\(#([^)]+)\)$", PAGE, re.M)
        sections = [heading for heading in re.findall(r"^## (.+)$", PAGE, re.M) if heading != "Contents"]
        self.assertGreater(len(listed), 40)
        self.assertEqual([name for name, _ in listed], sections)
        self.assertEqual([link for _, link in listed], [anchor(heading) for heading in sections])

    def test_every_section_says_what_it_does_not_know(self):
        for section in re.split(r"^## ", PAGE, flags=re.M)[1:]:
            name = section.splitlines()[0]
            if name not in ("Contents", "The law of a fitting", "Bands of machines"):
                self.assertIn("Does not know:", section, name)


class Laws(unittest.TestCase):
    def test_every_law_has_its_place(self):
        headers = "\n".join(sources_of(LOSS / "include").values())
        shapes = set(re.findall(r"Law law\(const (\w+)&", headers)) - {"Fitting"}
        others = set(re.findall(r"(?:Coefficient|Interaction|Law) (\w+)\((?:const |Law )", headers)) - {"law"}
        self.assertGreater(len(shapes), 20)
        self.assertGreater(len(others), 5)
        for name in sorted(shapes | others):
            self.assertIn("`{}`".format(name), PAGE, "no page speaks of {}".format(name))

    def test_sources_and_ranges_are_those_of_the_code(self):
        told = []
        for name, text in sources_of(LOSS).items():
            told += [(name, words) for words in literals(text, r"\.(?:source|range) =")]
        standards = sources_of(LOSS)["orifice.cpp"]
        told += [("orifice.cpp", words) for words in re.findall(r"\"((?:ISO|bore)[^\"]*)\"", standards)]
        self.assertGreater(len(told), 70)
        for name, words in told:
            self.assertIn(words, WORDS, "as {} has it".format(name))

    def test_bands_of_machines_are_those_of_the_code(self):
        header = (ROOT / "core/machine/include/bellmouth/machine/bands.hpp").read_text(encoding="utf-8")
        flow = "\n".join(sources_of(ROOT / "core" / "flow").values())
        bands = re.findall(r"constexpr Band (\w+)\{([\d.]+)", header)
        self.assertGreater(len(bands), 8)
        for name, value in bands:
            counts = "yes" if "machine::" + name in flow else "no"
            self.assertIn("| `{}` | {} | {} |".format(name, value, counts), PAGE)


class Sums(unittest.TestCase):
    def test_the_program_answers_as_printed(self):
        checks = re.findall(r"^Check: `bellmouth-cli (calc [^`]+)` gives (.+)\.$", PAGE, re.M)
        self.assertEqual(len(checks), PAGE.count("\nCheck: "))
        self.assertGreater(len(checks), 40)
        for command, answers in checks:
            done = subprocess.run([PROGRAM, *shlex.split(command), "--json"], capture_output=True, text=True)
            self.assertEqual(done.returncode, 0, done.stderr)
            given = json.loads(done.stdout)
            printed = re.findall(r"`(\w+)` ([-+\d.e]+)", answers)
            self.assertTrue(printed, command)
            for key, value in printed:
                self.assertEqual("{:.5g}".format(given[key]), value, "{}: {}".format(command, key))


class Drawn(unittest.TestCase):
    def test_plots_are_made_and_are_those_that_the_page_shows(self):
        shown = re.findall(r"!\[[^\]]+\]\(physics/([\w-]+\.svg)\)", PAGE)
        with tempfile.TemporaryDirectory() as folder:
            done = subprocess.run(
                ["/usr/bin/python3", "-I", str(PLOTS / "plots.py"), "--program", PROGRAM, "--out", folder],
                capture_output=True,
                text=True,
            )
            self.assertEqual(done.returncode, 0, done.stderr + "\npython3-matplotlib must be there")
            made = {path.name: path.read_text(encoding="utf-8") for path in Path(folder).iterdir()}
        self.assertEqual(sorted(shown), sorted(made))
        self.assertEqual(sorted(made), sorted(path.name for path in PLOTS.glob("*.svg")))
        for name, text in made.items():
            kept = (PLOTS / name).read_text(encoding="utf-8")
            self.assertTrue(
                self.alike(kept, text), name + " is not what the program says now: run shared/physics/plots.py"
            )

    @staticmethod
    def alike(one, other):
        """The same but for rounding in the last place of a coordinate, a hundredth of a point."""
        number = re.compile(r"-?\d+\.\d+")
        if number.sub("#", one) != number.sub("#", other):
            return False
        pairs = zip(number.findall(one), number.findall(other))
        return all(abs(float(a) - float(b)) < 0.025 for a, b in pairs)


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit("usage: physics_page.py PROGRAM")
    PROGRAM = sys.argv.pop(1)
    unittest.main()
