# SPDX-License-Identifier: GPL-3.0-or-later
"""What all plots share: asking the built program, reading the reference tables, one look, files that stay the same."""

import csv
import io
import json
import re
import subprocess
from pathlib import Path

import matplotlib

matplotlib.use("svg")
matplotlib.rcParams.update(
    {
        "svg.hashsalt": "bellmouth",
        "svg.fonttype": "none",
        "path.simplify": False,
        "font.family": "sans-serif",
        "font.sans-serif": ["DejaVu Sans", "sans-serif"],
        "font.size": 9,
        "axes.titlesize": 9.5,
        "axes.titlelocation": "left",
        "axes.spines.top": False,
        "axes.spines.right": False,
        "axes.grid": True,
        "axes.axisbelow": True,
        "grid.color": "#dddddd",
        "grid.linewidth": 0.6,
        "legend.fontsize": 8,
        "legend.frameon": False,
        "lines.linewidth": 1.6,
        "figure.facecolor": "white",
        "savefig.facecolor": "white",
    }
)
import matplotlib.pyplot as plt  # noqa: E402  (after the back end is chosen)

REPOSITORY = Path(__file__).resolve().parents[2]
REYNOLDS = 1e5  # where a plot needs one
ACCENT = "#0b5cad"
# Others, in this order: told apart by shape, too.
MARKS = [
    ("o", "#c4501b"),
    ("^", "#4d7c2f"),
    ("s", "#7a4fa0"),
    ("D", "#8a7400"),
    ("v", "#b03060"),
    ("x", "#555555"),
    ("P", "#00808a"),
]


class Program:
    """The built program; keeps what it has answered."""

    def __init__(self, path):
        self.path = str(path)
        self.answers = {}

    def __call__(self, sum_, **options):
        command = [self.path, "calc", sum_]
        for name, value in options.items():
            flag = "--" + name.rstrip("_").replace("_", "-")
            if value is True:
                command.append(flag)
            elif value is not None and value is not False:
                command += [
                    flag,
                    value
                    if isinstance(value, str)
                    else repr(float(value))
                    if isinstance(value, float)
                    else str(value),
                ]
        key = tuple(command)
        if key not in self.answers:
            done = subprocess.run(command + ["--json"], capture_output=True, text=True)
            if done.returncode != 0:
                raise SystemExit("{}\n{}".format(" ".join(command), done.stderr))
            self.answers[key] = json.loads(done.stdout)
        return self.answers[key]


def table(name):
    """Rows of a reference table as dictionaries of text."""
    with open(REPOSITORY / "tests" / "reference" / (name + ".csv"), newline="", encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def number(text):
    return float(text) if text not in (None, "") else None


def points(rows, x, y):
    """The rows' columns x and y where both are there; y may be a function of the row."""
    found = []
    for row in rows:
        pair = number(row[x]), (y(row) if callable(y) else number(row[y]))
        if None not in pair:
            found.append(pair)
    return sorted(found)


def where(rows, **columns):
    """Rows whose columns hold these values: numbers as numbers, the rest as text."""

    def holds(row, column, wanted):
        if isinstance(wanted, (int, float)):
            found = number(row[column])
            return found is not None and abs(found - wanted) < 1e-9 * max(1, abs(wanted))
        return row[column] == wanted

    return [r for r in rows if all(holds(r, c, w) for c, w in columns.items())]


def linear(low, high, count):
    return [low + (high - low) * i / (count - 1) for i in range(count)]


def logarithmic(low, high, count):
    return [low * (high / low) ** (i / (count - 1)) for i in range(count)]


def figure(columns=1, width=None, height=3.3, rows=1):
    """A figure and its panels, row by row: one, or as many as there are."""
    made, axes = plt.subplots(rows, columns, figsize=(width or (5.4 if columns == 1 else 4.1 * columns), height))
    return made, axes.ravel() if rows * columns > 1 else axes


def band(axes, xs, low, high, label=None):
    axes.fill_between(xs, low, high, color=ACCENT, alpha=0.14, linewidth=0, label=label)


def model(axes, xs, ys, label=None, dashes=None):
    axes.plot(xs, ys, color=ACCENT, label=label, **({"dashes": dashes} if dashes else {}))


def loss(
    axes, xs, answers, label="model", with_band=True, band_label="its band", key="loss_coefficient", dashes=None
):
    """The curve of a loss coefficient, and its band behind it."""
    if with_band:
        band(axes, xs, [a["band_low"] for a in answers], [a["band_high"] for a in answers], band_label)
    model(axes, xs, [a[key] for a in answers], label, dashes)


def others(axes, pairs, place, label=None, size=20, **more):
    """Points of one source; `place` chooses shape and colour."""
    if not pairs:
        raise SystemExit("no reference points for '{}'".format(label))
    shape, colour = MARKS[place]
    face = {"c": colour} if shape == "x" else {"facecolors": "none", "edgecolors": colour}
    axes.scatter(
        [p[0] for p in pairs],
        [p[1] for p in pairs],
        marker=shape,
        s=size,
        linewidths=0.9,
        label=label,
        **face,
        **more
    )


def say(axes, x, y, text, **more):
    """A word beside a curve."""
    axes.annotate(
        text,
        (x, y),
        color=more.pop("color", ACCENT),
        fontsize=8,
        textcoords="offset points",
        xytext=more.pop("by", (4, 3)),
        **more
    )


def dress(axes, x, y, title=None, legend="best", **limits):
    axes.set_xlabel(x)
    axes.set_ylabel(y)
    if title:
        axes.set_title(title)
    if legend:
        axes.legend(loc=legend)
    axes.set(**limits)


def save(made, folder, name):
    made.tight_layout()
    drawn = io.StringIO()
    made.savefig(drawn, format="svg", metadata={"Date": None, "Creator": None})
    plt.close(made)
    # Hundredths of a point are enough; the files stay small, and rounding elsewhere does not change them.
    rounded = re.sub(r"-?\d+\.\d{3,}", lambda found: "{:.2f}".format(float(found.group())), drawn.getvalue())
    (Path(folder) / (name + ".svg")).write_text(re.sub(r"[ \t]+$", "", rounded, flags=re.M), encoding="utf-8")
