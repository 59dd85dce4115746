"""Kitchen packs: templates by poppler, pypdf and svgpathtools, lists by csv, plans by icalendar and ical.js, charts of portions and paste."""

import csv
import json
import math
import os
import re
import subprocess
import tempfile
from pathlib import Path

import icalendar
import numpy as np
import svgpathtools
from PIL import Image
from pypdf import PdfReader
from scipy import ndimage

from report import NODE, ROOT, at_once, demos, full_disk, measure, program
from sheets import FINE, MM, rules, said
from tables import measured, rows

PAPERS = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
# The line to cut along is so wide; its middle is the edge.
CUT_LINE = 0.2
FORMULA = tuple("=+-@\t\r")

# A name that a spreadsheet would take for a formula, a piece larger than a page, a band longer than one, one that dries.
ODD = """
title = "=1+1 & <odd>; größer, schöner"
unit = "mm"
[order]
handover = "2027-03-28T11:00"
planned_on = "2027-03-01"
[kitchen]
hour_rate = 20
materials = 30
currency = "EUR"
margin = 30
[[tier]]
name = "@base"
size = 200
height = 110
paste = 3
[[tier.course]]
name = "rim"
kind = "band"
height = "fill"
size = 3
finish = "white"
[[piece]]
name = "=HYPERLINK(1)"
kind = "plaque"
seat = { on = "board", surface = "board" }
size = [60, 40]
thickness = 5
finish = "white"
[[piece]]
name = "wall"
kind = "plaque"
seat = { on = "board", surface = "board" }
at = { x = 0, z = -100 }
size = [420, 310]
thickness = 5
finish = "white"
"""


def compare(report):
    with tempfile.TemporaryDirectory() as folder:
        odd = Path(folder, "odd")
        odd.mkdir()
        (odd / "cake.toml").write_text(ODD, encoding="utf-8")
        packs = {design: Path(folder, "packs", design.name) for design in [*demos(), odd]}
        at_once((program, "kitchen", design, "-o", pack) for design, pack in packs.items())
        for design, pack in packs.items():
            facts = measure(design)
            cuts = drawings(report, pack, facts)
            templates(report, pack, facts, cuts)
            for pdf in ("templates.pdf", "make-list.pdf", "placing.pdf"):
                fonts(report, pack / pdf)
            make_list(report, pack, facts)
        calendars(report, {pack: measure(design) for design, pack in packs.items()})
        full_disk(report, "kitchen", odd)
    portions(report)
    coverings(report)


# SVGs -----------------------------------------------------------------------------------------------------------------


def drawings(report, pack, facts):
    """Every cut of every drawing: (file, name, width, height, sizes of its rings); read by svgpathtools, in mm."""
    found = []
    for file in sorted((pack / "templates").glob("*.svg")):
        where = f"{pack.name} {file.name}"
        text = file.read_text(encoding="utf-8")
        size = [float(side) for side in re.search(r'width="([\d.]+)mm" height="([\d.]+)mm"', text).groups()]
        box = [float(side) for side in re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', text).groups()]
        report.true("a drawing's unit is the millimetre", where, size == box, f"{size} {box}")
        ids = re.findall(r'<g id="([^"]+)"', text)
        paths, _ = svgpathtools.svg2paths(str(file))
        report.true("a layer a cut", where, len(ids) == len(set(ids)) == len(paths), f"{ids}")
        boxes = []
        for name, path in zip(ids, paths, strict=True):
            report.true("a cut's paths are closed", f"{where} {name}", all(part.isclosed() for part in path.continuous_subpaths()))
            left, right, top, foot = path.bbox()
            inside = left >= 0 and top >= 0 and right <= size[0] and foot <= size[1]
            report.true("a cut lies on its drawing", f"{where} {name}", inside)
            boxes.append((left, right))
            rings = [part.bbox() for part in path.continuous_subpaths()]
            found.append((file.stem, name, right - left, foot - top, [(box[1] - box[0], box[3] - box[2]) for box in rings]))
        apart = all(one[1] < other[0] for one, other in zip(boxes, boxes[1:]))
        report.true("cuts lie apart", where, apart)
    for piece in facts["pieces"]:
        for cut in piece["cuts"]:
            if piece["kind"] not in ("topper", "sign", "bow") and cut["what"] != "plate":
                continue
            same = [it for it in found if abs(it[2] - cut["length"]) < 0.1 and abs(it[3] - cut["width"]) < 0.1]
            report.true("a cut that is measured is drawn in its size", f"{pack.name} {piece['name']} {cut['what']}", same)
    return found


# Templates ------------------------------------------------------------------------------------------------------------


def templates(report, pack, facts, cuts):
    pdf = pack / "templates.pdf"
    reader = PdfReader(pdf)
    paper = PAPERS["letter" if facts["unit"] == "in" else "a4"]
    boxes = []
    with tempfile.TemporaryDirectory() as folder:
        said("pdftoppm", "-r", FINE, "-gray", "-aa", "no", "-aaVector", "no", pdf, Path(folder, "page"))
        for number, (page, raster) in enumerate(zip(reader.pages, sorted(Path(folder).glob("page*.pgm")), strict=True), 1):
            where = f"{pack.name} templates page {number}"
            for ours, theirs in zip((page.mediabox.width, page.mediabox.height), paper, strict=True):
                report.near("a page of templates, mm", where, float(ours) / 72 * MM, theirs, absolute=0.01)
            text = " ".join(page.extract_text().split())
            report.true("a page says how to print it", where, "print at 100 %" in text and facts["revision"] in text)
            dark = np.asarray(Image.open(raster)) < 128
            rules(report, where, dark)
            labels, _ = ndimage.label(dark, structure=np.ones((3, 3)))
            for down, across in ndimage.find_objects(labels):
                boxes.append(((across.stop - across.start) / FINE * MM - CUT_LINE, (down.stop - down.start) / FINE * MM - CUT_LINE))
    room = (paper[0] - 20, paper[1] - 38)
    for file, name, width, height, rings in cuts:
        if max(width, height) + 10 > room[1] or min(width, height) > room[0]:
            continue
        for wide, tall in rings:
            # Upright, or turned by a quarter.
            off = min(min(max(abs(a - wide), abs(b - tall)), max(abs(b - wide), abs(a - tall))) for a, b in boxes)
            report.near("an outline of a template on its page, off by mm", f"{pack.name} {file} {name}", off, 0.0, absolute=0.1)


def fonts(report, pdf):
    lines = said("pdffonts", pdf).splitlines()[2:]
    for line in lines:
        report.true("fonts are carried along", f"{pdf.parent.name} {pdf.name}", line.split()[-5:-2] == ["yes", "yes", "yes"], line)
    report.true("a PDF has text", f"{pdf.parent.name} {pdf.name}", lines and all(page.extract_text().strip() for page in PdfReader(pdf).pages))


# Lists ----------------------------------------------------------------------------------------------------------------


def make_list(report, pack, facts):
    raw = (pack / "make-list.csv").read_bytes()
    report.true("lines end as RFC 4180 has them", pack.name, b"\n" not in raw.replace(b"\r\n", b""))
    with open(pack / "make-list.csv", newline="", encoding="utf-8") as table:
        lines = list(csv.DictReader(table, strict=True))
    report.true("every line has every cell", pack.name, all(None not in line and None not in line.values() for line in lines))
    cells = [cell for line in lines for cell in line.values()]
    report.true("no cell is a formula", pack.name, not any(cell.startswith(FORMULA) for cell in cells))
    named = [line["for"] for line in lines if line["list"] == "make"]
    for piece in facts["pieces"]:
        report.true("every piece is on the list", f"{pack.name} {piece['name']}", any(piece["name"] in name for name in named), str(named))
    for paste in facts["pastes"]:
        line = next(line for line in lines if line["list"] == "mix" and line["for"] == paste["name"])
        report.near("paste to mix, g", f"{pack.name} {paste['name']}", float(line["to_mix_g"]), paste["mass"], absolute=0.01)
        report.near("paste on the cake, g", f"{pack.name} {paste['name']}", float(line["on_cake_g"]), paste["on_cake"], absolute=0.01)
    counted = sum(int(line["count"]) for line in lines if line["list"] == "cut")
    report.true("every stick is counted", pack.name, counted == sum(stick["count"] for stick in facts["sticks"]))


# Calendars ------------------------------------------------------------------------------------------------------------


def calendars(report, packs):
    # A design without a hand-over has no plan.
    files = {pack: pack / "plan.ics" for pack in packs if (pack / "plan.ics").exists()}
    report.true("there is a plan where there is a hand-over", "all", [pack for pack in packs if packs[pack]["schedule"]] == list(files))
    script = Path(__file__).with_name("ics.cjs")
    theirs = json.loads(subprocess.run(["node", script, *files.values()], capture_output=True, text=True, check=True).stdout)
    for pack, file in files.items():
        facts, raw = packs[pack], file.read_bytes()
        report.true("calendar lines are folded", pack.name, all(len(line) <= 75 for line in raw.split(b"\r\n")))
        report.true("calendar lines end in CRLF", pack.name, b"\n" not in raw.replace(b"\r\n", b""))
        events = icalendar.Calendar.from_ical(raw).walk("VEVENT")
        uids = {str(event["UID"]) for event in events}
        report.true("icalendar reads every event", pack.name, len(events) == len(uids) == len(facts["schedule"]) + 1, f"{len(events)}")
        report.true("ical.js reads as many", pack.name, len(theirs[str(file)]) == len(events), f"{theirs[str(file)]}")
        ours = sorted((step["start"][:16], step["end"][:16]) for step in facts["schedule"])
        read = sorted((f"{event['DTSTART'].dt:%Y-%m-%dT%H:%M}", f"{event['DTEND'].dt:%Y-%m-%dT%H:%M}") for event in events if "DTEND" in event)
        report.true("icalendar reads the same times", pack.name, ours == read)
        report.true("ical.js reads the same times", pack.name, ours == sorted((start[:16], end[:16]) for start, end in theirs[str(file)] if start != end))
        report.true("an event has a stamp", pack.name, all("DTSTAMP" in event for event in events))


# Published charts -----------------------------------------------------------------------------------------------------

# What a chart's slice is, where it says so in words only.
SLICES = {"party (size not stated)": (1.5, 2.0), "wedding (size not stated)": (1.0, 2.0)}
SHAPES = ("round", "square", "heart", "petal", "hexagon", "oval", "sheet")


def chart_slice(row):
    size = re.search(r"([\d.]+)\s*x\s*([\d.]+)", row["slice"])
    return (float(size[1]), float(size[2])) if size else SLICES.get(row["slice"])


def tier_of(row):
    """Shape and size of a chart's row in the program's words; None for one that the method can't speak to."""
    pair = re.fullmatch(r"([\d.]+)x([\d.]+)", row["size_in"])
    if row["shape"] in ("oval", "sheet"):
        return ("oval" if row["shape"] == "oval" else "rectangle", f"[{pair[1]}, {pair[2]}]", "") if pair else None
    single = re.fullmatch(r"[\d.]+", row["size_in"])
    return (row["shape"], row["size_in"], "") if single and row["shape"] in SHAPES else None


def portions(report):
    """Every row that names a slice and a size: the deviation stands in docs/servings.md."""
    groups, spoken, silent = {}, 0, 0
    for row in rows("servings.csv"):
        cut, tier = chart_slice(row), tier_of(row)
        if cut and tier and row["servings"].isdigit():
            groups.setdefault(cut, {}).setdefault((row["source"], row["shape"], row["size_in"]), (tier, int(row["servings"])))
            spoken += 1
        else:
            silent += 1
    lines, spread = [], {}
    for cut, charts in sorted(groups.items()):
        tiers = measured([tier for tier, _ in charts.values()], f"[{cut[0]}, {cut[1]}]")
        for ((source, shape, size), (_, printed)), tier in zip(charts.items(), tiers, strict=True):
            ours = tier["servings"]["ordered"]
            lines.append((source, f"{cut[0]:g} × {cut[1]:g}", shape, size, printed, ours))
            if shape in ("round", "square") and cut == (1.0, 2.0):
                spread.setdefault((shape, float(size)), (ours, []))[1].append(printed)
    for (shape, size), (ours, printed) in spread.items():
        if 6 <= size <= 16 and len(set(printed)) > 1 or size in (6, 8, 10, 12, 14, 16):
            # Whole slices to a ring: at most one fewer a ring than by area.
            fewer = math.ceil(size / 4) if shape == "round" else 0
            holds = min(printed) - fewer <= ours <= max(printed)
            report.true("portions lie within the spread of the charts", f"{shape} {size:g} in", holds, f"ours {ours}, charts {sorted(printed)}")
    page(report, lines, (spoken, silent))


def page(report, lines, counts):
    """docs/servings.md is what this comparison found."""
    head = (ROOT / "docs" / "servings.md").read_text(encoding="utf-8").split("<!-- table -->")[0]
    text = head + "<!-- table -->\n\n| chart | slice, in | shape | size, in | chart says | counted | off |\n| --- | --- | --- | --- | --: | --: | --: |\n"
    for source, cut, shape, size, printed, ours in sorted(lines):
        text += f"| {source} | {cut} | {shape} | {size} | {printed} | {ours} | {(ours - printed) / printed:+.0%} |\n"
    text += f"\n{counts[0]} rows of the charts name a size and a slice and are compared (equal rows of one chart once); {counts[1]} do not.\n"
    file = ROOT / "docs" / "servings.md"
    if os.environ.get("TIERPROOF_WRITE_PAGES"):
        file.write_text(text, encoding="utf-8")
    report.true("docs/servings.md is what was found", "table", file.read_text(encoding="utf-8") == text, "TIERPROOF_WRITE_PAGES=1 writes it anew")


def coverings(report):
    """What a chart says to have in hand for a cake 4 in high lies between a covering rolled to 3 mm and one rolled to 5 mm."""
    charts = [row for row in rows("fondant_cover.csv") if row["height_in"] == "4" and row["size_in"].isdigit()]
    with tempfile.TemporaryDirectory() as folder:
        def weight(row, thick):
            text = (f'title = "t"\nunit = "in"\n[[tier]]\nname = "a"\nshape = "{row["shape"]}"\nsize = {row["size_in"]}\nheight = 4\n'
                    f'paste = "{thick} mm"\n')
            Path(folder, "cake.toml").write_text(text)
            return sum(paste["mass"] for paste in measure(folder)["pastes"])

        for row in charts:
            thin, thick, says = weight(row, 3), weight(row, 5), float(row["amount_g"])
            # 8 %: charts are rounded to a quarter of a pound or 50 g.
            holds = thin * 0.92 <= says <= thick * 1.08
            report.true("a covering lies within the charts", f"{row['source']} {row['shape']} {row['size_in']}", holds, f"chart {says:.0f} g, ours {thin:.0f} to {thick:.0f} g")
