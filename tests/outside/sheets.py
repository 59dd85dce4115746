"""Printing sheets: nesting against rectpack and shapely; the kitchen packs of the demos by poppler, pypdf and Pillow."""

import itertools
import json
import subprocess
import tempfile
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import numpy as np
import rectpack
from PIL import Image
from pypdf import PdfReader
from shapely import Point, STRtree, box, unary_union
from shapely.affinity import translate

from report import at_once, data, demos, measure, program

MM = 25.4
# 0.04 mm a pixel.
FINE = 600

# Each of three strips fills a sheet to its edges, so that nothing has room beside it.
FULL = """
title = "Full sheets"
unit = "mm"
[sheet.full]
size = [120, 130]
printable = [110, 120]
[[tier]]
name = "base"
size = 110
height = 112
[[tier.course]]
name = "print"
kind = "wrap"
height = 110
art = "a.svg"
sheet = "full"
[[tier.course]]
name = "rest"
kind = "bare"
height = "fill"
"""
ART = '<svg xmlns="http://www.w3.org/2000/svg" width="30" height="10"><path d="M0 0H30V10H0Z" fill="#a03020"/></svg>'


def compare(report):
    nesting(report)
    with tempfile.TemporaryDirectory() as folder:
        full = Path(folder, "full")
        full.mkdir()
        (full / "cake.toml").write_text(FULL)
        (full / "a.svg").write_text(ART)
        packs = {design: Path(folder, "packs", design.name) for design in [*demos(), full]}
        at_once((program, "kitchen", design, "-o", pack) for design, pack in packs.items())
        for design, pack in packs.items():
            compare_pack(report, pack, measure(design))


# Nesting --------------------------------------------------------------------------------------------------------------

ALGORITHMS = sorted(
    (found for found in vars(rectpack).values() if isinstance(found, type) and found.__name__.startswith(("MaxRects", "Skyline", "Guillotine"))),
    key=lambda algorithm: algorithm.__name__,
)
SORTS = [getattr(rectpack, name) for name in ("SORT_AREA", "SORT_SSIDE", "SORT_LSIDE", "SORT_PERI", "SORT_DIFF", "SORT_RATIO", "SORT_NONE")]
BINS = [rectpack.PackingBin.BBF, rectpack.PackingBin.BFF, rectpack.PackingBin.BNF]


def nesting(report):
    sets = data("sheets", "sets.json")
    for laid in sets:
        sound(report, laid)
    with ProcessPoolExecutor() as pool:
        theirs = list(pool.map(fewest_of_rectpack, sets))
    for laid, fewest in zip(sets, theirs, strict=True):
        report.true("sheets, never more than rectpack at its best", laid["name"], laid["sheets"] <= fewest, f"ours {laid['sheets']}, theirs {fewest}")
    ours = sum(laid["sheets"] for laid in sets)
    print(f"  {len(sets)} sets: ours {ours} sheets, rectpack at its best {sum(theirs)}, ratio {ours / sum(theirs):.4f}")


def sound(report, laid):
    """Everything lies on its sheet in its own size, apart by the gap."""
    width, height = laid["size"]
    sheets = {}
    for (wide, tall), place in zip(laid["items"], laid["places"], strict=True):
        x, y, across, down = place["at"]
        report.true("a thing keeps its size", laid["name"], [across, down] == ([tall, wide] if place["turned"] else [wide, tall]))
        sheets.setdefault(place["sheet"], []).append(box(x, y, x + across, y + down))
    report.true("sheets are counted", laid["name"], len(sheets) == laid["sheets"])
    for boxes in sheets.values():
        report.true("a thing lies on its sheet", laid["name"], all(box(0, 0, width, height).covers(thing) for thing in boxes))
        # A box a little smaller than with its gap may touch no other; a gap of nothing lets them touch.
        grown = [thing.buffer(max(laid["gap"], 0) - 1e-3, join_style="mitre") for thing in boxes]
        first, second = STRtree(boxes).query(grown, predicate="intersects")
        report.true("things lie apart", laid["name"], np.array_equal(first, second) or not (first != second).any())


def fewest_of_rectpack(laid):
    """The fewest sheets of all its algorithms by all its orders, with turning; stops where no fewer can do."""
    gap = laid["gap"]
    width, height = (side + gap for side in laid["size"])
    things = [(wide + gap, tall + gap) for wide, tall in laid["items"]]
    least, best = fewest_possible(things, width, height), len(things) + 1
    ways = [(rectpack.PackingBin.Global, algorithm, None) for algorithm in ALGORITHMS]
    for bins, algorithm, sort in itertools.chain(ways, itertools.product(BINS, ALGORITHMS, SORTS)):
        order = {"sort_algo": sort} if sort else {}
        packer = rectpack.newPacker(mode=rectpack.PackingMode.Offline, bin_algo=bins, pack_algo=algorithm, rotation=True, **order)
        for thing in things:
            packer.add_rect(*thing)
        packer.add_bin(width, height, count=len(things))
        packer.pack()
        if len(packer.rect_list()) == len(things):
            best = min(best, len(packer))
        if best <= least:
            break
    return best


def fewest_possible(things, width, height):
    """By area, and by things of which no two go on one sheet."""
    def ways(thing):
        return [way for way in (thing, thing[::-1]) if way[0] <= width and way[1] <= height]

    def share(one, other):
        return any(a + c <= width or b + d <= height for (a, b), (c, d) in itertools.product(ways(one), ways(other)))

    apart = []
    for thing in sorted(things, key=lambda thing: -thing[0] * thing[1]):
        if not any(share(thing, other) for other in apart):
            apart.append(thing)
    return max(-(-sum(a * b for a, b in things) // (width * height)), len(apart))


# The files ------------------------------------------------------------------------------------------------------------


def said(*words):
    return subprocess.run(list(map(str, words)), capture_output=True, text=True, check=True).stdout


def compare_pack(report, pack, facts):
    name = pack.name
    report.true("measurements.json is `measure --json`", name, json.loads((pack / "measurements.json").read_text()) == facts)
    for wrap in facts["wraps"]:
        report.true("every strip has its sheet", f"{name} {wrap['course']}", all("sheet" in strip for strip in wrap["strips"]))
    for wrap in facts["wraps"]:
        of = [placed for sheet in facts["sheets"] for placed in sheet["placed"] if placed["what"].startswith(f"{wrap['tier']} · {wrap['course']} · ")]
        area = sum(strip["width"] * strip["height"] for strip in wrap["strips"])
        report.near("area of a wrap's strips, mm2", f"{name} {wrap['course']}", sum(box(0, 0, it["width"], it["height"]).area for it in of), area, relative=1e-9)
        covers_its_side(report, f"{name} {wrap['course']}", wrap)
    if name == "lighthouse-birthday":
        # A pan of 8 in, icing of 1/4 in, paste of 1/8 in; a print of 0.4 mm on it is as long as its middle.
        around = [Point(0, 0).buffer((4 + 1 / 4 + 1 / 8) * MM + out, quad_segs=4000).exterior.length for out in (0, 0.4 / 2)]
        wrap = facts["wraps"][0]
        report.near("once round by the tape, mm", name, sum(strip["to"] - strip["from"] for strip in wrap["strips"]), around[0], relative=1e-6)
        report.near("length of a wrap on its neutral line, mm", name, wrap["length"], around[1], relative=1e-6)
    arts = {}
    for sheet in facts["sheets"]:
        compare_png(report, pack, sheet, arts)
    for pdf in ("sheets.pdf", "sheets-mirrored.pdf"):
        compare_pdf(report, pack / pdf, facts, arts)
    for wrap in facts["wraps"]:
        goes_on(report, name, wrap, arts)


def covers_its_side(report, where, wrap):
    """Strips of a wrap that goes all round, laid on the unrolled side where the tape reads them: together they are all of it, and
    none lies on another; cut with their overlaps they are longer than its neutral line."""
    if len(wrap["seams"]) != len(wrap["strips"]):
        return
    around = sum(strip["to"] - strip["from"] for strip in wrap["strips"])
    side = box(-around / 2, 0, around / 2, wrap["height"])
    strips = [box(strip["from"], 0, strip["to"], wrap["height"]) for strip in wrap["strips"]]
    laid = unary_union([translate(strip, turn * around).intersection(side) for strip in strips for turn in (-1, 0, 1)])
    report.near("area of a side under its strips, mm2", where, laid.area, side.area, relative=1e-9)
    cut = sum(box(0, 0, strip["width"], strip["height"]).area for strip in wrap["strips"])
    report.true("strips are cut with their overlaps", where, cut >= box(0, 0, wrap["length"], wrap["height"]).area - 1e-6)


def compare_pdf(report, pdf, facts, arts):
    name = f"{pdf.parent.name} {pdf.name}"
    reader = PdfReader(pdf)
    # A page for plain paper follows where sheets are too full for a rule, or for words.
    count = len(facts["sheets"])
    full = pdf.parent.name == "full"
    report.true("a page a sheet", name, len(reader.pages) in ([count + 1] if full else [count, count + 1]), f"{len(reader.pages)} pages")
    texts = [" ".join(page.extract_text().split()) for page in reader.pages]
    checked = texts[count] if len(texts) > count else ""
    images = [line.split() for line in said("pdfimages", "-list", pdf).splitlines()[2:]]
    with tempfile.TemporaryDirectory() as folder:
        said("pdftoppm", "-r", FINE, "-gray", "-aa", "no", "-aaVector", "no", pdf, Path(folder, "page"))
        pages = sorted(Path(folder).glob("page*.pgm"))
        if checked:
            rules(report, f"{name}, check page", np.asarray(Image.open(pages[count])) < 128)
        for number, (page, raster, sheet) in enumerate(zip(reader.pages, pages, facts["sheets"], strict=False), 1):
            where = f"{name} page {number}"
            for ours, theirs in zip((page.mediabox.width, page.mediabox.height), (sheet["width"], sheet["height"]), strict=True):
                report.near("page of the PDF, mm", where, float(ours) / 72 * MM, theirs, absolute=0.01)
            here = [image for image in images if int(image[0]) == number]
            report.true("a picture a print", where, len(here) == len(sheet["placed"]))
            for image in here:
                for ppi in image[12:14]:
                    report.near("pixels to the inch of a picture", where, float(ppi), sheet["ppi"], absolute=2.0)
            grey = np.asarray(Image.open(raster))
            ruled = "100 mm" in texts[number - 1]
            report.true("a sheet without a rule is on the check page", where, ruled or f"sheet {number} of {count} · {sheet['size']}: no rule on it" in checked)
            if ruled:
                rules(report, where, grey < 128)
            for placed in sheet["placed"]:
                report.true("a print is named", f"{where} {placed['what']}", placed["what"] in (texts[number - 1] or "") or placed["what"] in checked)
            mirrored = pdf.name != "sheets.pdf"
            for placed in sheet["placed"]:
                if " of " in placed["what"].split("·")[-1]:
                    strip_edges(report, where, grey < 255, (placed, sheet, mirrored, arts[placed["what"]][0]))


def rules(report, where, dark):
    for rule, length in (("100 mm", 100.0), ("4 in", 4 * MM)):
        report.near("a rule, mm", f"{where} {rule}", longest_near(dark, length), length, absolute=0.1)


def longest_near(dark, length):
    """The length of the straight dark line, across or down, whose length is nearest to one wanted, mm."""
    found = [0.0]
    for lines in (dark, dark.T):
        # Only a line with as many dark pixels as the rule can hold it.
        for line in lines[lines.sum(axis=1) >= (length - 1) / MM * FINE]:
            steps = np.diff(np.concatenate([[0], line.astype(np.int8), [0]]))
            runs = (np.flatnonzero(steps == -1) - np.flatnonzero(steps == 1)) / FINE * MM
            found.append(float(runs[np.abs(runs - length).argmin()]))
    return min(found, key=lambda run: abs(run - length))


def strip_edges(report, where, inked, of):
    placed, sheet, mirrored, art = of
    # Art may be white at an edge; the picture of the sheet says how far.
    blank = [white_edges(art[:, ::-1] if mirrored else art, axis) for axis in (0, 1)]
    left = sheet["width"] - placed["x"] - placed["width"] if mirrored else placed["x"]
    # Half a millimetre round it nothing is drawn.
    low = [round((side - 0.5) / MM * FINE) for side in (left, placed["y"])]
    high = [round((side + 0.5) / MM * FINE) for side in (left + placed["width"], placed["y"] + placed["height"])]
    window = inked[low[1]:high[1], low[0]:high[0]]
    for axis, start, from_there, length in ((0, low[0], left, placed["width"]), (1, low[1], placed["y"], placed["height"])):
        covered = np.flatnonzero(window.any(axis=axis))
        edges = [(start + covered[0]) / FINE * MM, (start + covered[-1] + 1) / FINE * MM]
        first, last = (pixels / sheet["ppi"] * MM for pixels in blank[axis])
        for edge, wanted in zip(edges, (from_there + first, from_there + length - last), strict=True):
            report.near("an edge of a strip, mm", f"{where} {placed['what']}", edge, wanted, absolute=0.1)


def white_edges(art, axis):
    """How many pixels are white before and after whatever is printed."""
    inked = np.flatnonzero((art < 255).any(axis=2).any(axis=axis))
    return int(inked[0]), int((art.shape[1] if axis == 0 else art.shape[0]) - 1 - inked[-1])


def compare_png(report, pack, sheet, arts):
    name = f"{pack.name} sheet {sheet['sheet']}"
    with Image.open(pack / f"sheets/sheet-{sheet['sheet']:02}.png") as picture:
        per_mm = sheet["ppi"] / MM
        report.true("picture of a sheet has its size", name, picture.size == tuple(round(sheet[side] * per_mm) for side in ("width", "height")), str(picture.size))
        for dpi in picture.info["dpi"]:
            report.near("picture of a sheet says its resolution", name, dpi, sheet["ppi"], absolute=0.01)
        for placed in sheet["placed"]:
            corner = [round(placed[side] * per_mm) for side in ("x", "y")]
            size = [round(placed[side] * per_mm) for side in ("width", "height")]
            art = picture.convert("RGB").crop((*corner, corner[0] + size[0], corner[1] + size[1]))
            arts[placed["what"]] = np.asarray(art), placed["turned"]


def goes_on(report, name, wrap, arts):
    """Where two strips meet, the art of one goes on in the other: their edges hardly differ."""
    count = len(wrap["strips"])
    lying = [arts[f"{wrap['tier']} · {wrap['course']} · {number + 1} of {count}"] for number in range(count)]
    # Turned clockwise, the left end is at the top.
    upright = [(np.rot90(art) if turned else art).astype(float) for art, turned in lying]
    strips = [(art[:, 0], art[:, -1]) for art in upright]
    for number in range(len(wrap["seams"]) if len(wrap["seams"]) == count else count - 1):
        one, other = strips[number][1], strips[(number + 1) % count][0]
        rows = min(len(one), len(other))
        apart = float(np.abs(one[:rows] - other[:rows]).mean())
        report.near("art goes on across a seam, mean of 255", f"{name} {wrap['course']} {number + 1}", apart, 0.0, absolute=6.0)
