"""Published tables, through the real program: wrap and ribbon lengths, icing, slices (tests/tables, sources there)."""

import csv
import math
import re
import tempfile
from pathlib import Path

from report import ROOT, measure

INCH = 25.4
# Several pages reckon with pi = 3.14.
PI_314 = 0.0006
MOST_TIERS = 12


def rows(name):
    with open(ROOT / "tests" / "tables" / name, newline="") as table:
        return list(csv.DictReader(table))


def measured(tiers, slice_size='"wedding"'):
    """What the program says of tiers given as (shape, size in inches, further lines); several to a cake."""
    found = []
    with tempfile.TemporaryDirectory() as folder:
        for start in range(0, len(tiers), MOST_TIERS):
            text = f'title = "Table"\nunit = "in"\n[order]\nslice = {slice_size}\n'
            for number, (shape, size, further) in enumerate(tiers[start:start + MOST_TIERS]):
                text += f'[[tier]]\nname = "{number}"\nshape = "{shape}"\nsize = {size}\nheight = 4\n{further}\n'
            Path(folder, "cake.toml").write_text(text)
            found += measure(folder)["tiers"]
    return found


def compare(report):
    wraps(report)
    icing(report)
    slices(report)


def wraps(report):
    single, expected = [], []
    for row in rows("wrap_examples.csv"):
        if row["shape"] == "rectangle":
            # 9.5 x 13.5 in is a 9 x 13 in cake with 1/4 in of icing all round.
            single.append(("rectangle", "[9, 13]", "icing = 0.25"))
        elif row["shape"] in ("round", "square"):
            single.append((row["shape"], re.search(r"=([\d.]+)", row["dims"])[1], ""))
        else:
            stack(report, row)
            continue
        expected.append(row)
    for row, tier in zip(expected, measured(single), strict=True):
        report.near("published length round a cake, in", f"{row['source']} {row['dims']}",
                    tier["finished"]["around"] / INCH, float(row["expected_length_in"]), relative=PI_314)


def stack(report, row):
    shape, sizes = row["shape"].split()[0], row["dims"].split(",")[0].split("+")
    lengths = [tier["finished"]["around"] / INCH for tier in measured([(shape, size, "") for size in sizes])]
    total = sum(map(math.ceil, lengths)) if "rounded up" in row["dims"] else sum(lengths)
    report.near("published length round a stack, in", f"{row['source']} {row['dims']}", total,
                float(row["expected_length_in"]), relative=PI_314)


def icing(report):
    """A page prints 9.14 in for a 6 in cake under half an inch of icing all round; it is 21.99 in."""
    printed = {row["what_the_page_prints"] for row in rows("published_errors.csv")}
    report.true("the wrong figure is on record", "dapperwrapper", any("9.14 in" in text for text in printed))
    bare, iced = (tier["finished"]["around"] / INCH for tier in measured([("round", "6", ""), ("round", "6", "icing = 0.5")]))
    report.near("length over icing, in", "6 in + 1/2 in", iced, 7 * math.pi, relative=1e-9)
    report.near("what icing adds, in", "1/2 in all round", iced - bare, math.pi, relative=1e-9)


def slices(report):
    """Charts differ by the slice they mean; each is compared with its own."""
    table = [row for row in rows("servings.csv") if re.fullmatch(r"[\d.]+", row["size_in"]) and row["servings"].isdigit()]
    charts = {row["size_in"] + row["shape"] + row["source"]: row for row in table}.values()
    small = [row for row in charts if row["source"] == "cwcsg"]
    for row, tier in zip(small, measured([(row["shape"], row["size_in"], "") for row in small], '["1 1/2", "1 1/2"]'), strict=True):
        ours, size, name = tier["servings"]["ordered"], float(row["size_in"]), f"{row['shape']} {row['size_in']} in"
        if row["shape"] == "square":
            # The chart counts area over area; slices are cut in whole rows and columns.
            report.near("slices of a square: whole rows and columns", name, ours, (size // 1.5) ** 2, absolute=0)
            report.true("slices of a square are no more than the chart's", name, ours <= int(row["servings"]) + 1)
        else:
            # Whole slices to a ring: at most one fewer a ring than by area.
            report.near("slices of a round, by the chart", name, ours, float(row["servings"]), absolute=2)
    wilton = [row for row in charts if row["source"] == "wilton_caketalk" and row["shape"] in ("round", "square")]
    for row, tier in zip(wilton, measured([(row["shape"], row["size_in"], "") for row in wilton]), strict=True):
        ours, size, name = tier["servings"]["wedding"], float(row["size_in"]), f"{row['shape']} {row['size_in']} in"
        if row["shape"] == "square":
            report.near("wedding slices of a square: half its area", name, ours, size * size / 2, absolute=0)
        else:
            report.near("wedding slices of a round, by the chart", name, ours, float(row["servings"]), relative=0.1)
