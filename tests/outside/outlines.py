"""Outlines of pans and their offsets, against shapely (GEOS) and formulas worked out by hand.

Pans with a textbook shape are built here from their size alone; a heart and petals are our own figures, so only what is
made from them is compared.
"""

import math

import numpy as np
from shapely import Polygon

from near import apart
from report import data

# Corners that stand in for a curve: a circle of n chords is short by (pi/n)^2/6 of itself, 3e-8 of it at this n.
FINE = 8_000
JOINS = {"mitre": {"join_style": "mitre", "mitre_limit": 100.0}, "round": {"quad_segs": 500}}


def ellipse(width, depth):
    turn = np.linspace(0, 2 * np.pi, FINE, endpoint=False)
    return Polygon(np.column_stack([width / 2 * np.cos(turn), depth / 2 * np.sin(turn)]))


def pan(size):
    """The same pan from its size, or None for a figure of our own."""
    if "sides" in size:
        # A side in front (+z): corners half a step either way from it.
        turn = (np.arange(size["sides"]) + 0.5) * 2 * np.pi / size["sides"]
        return Polygon(np.column_stack([np.sin(turn), np.cos(turn)]) * size["across"] / 2)
    if "across" in size:
        return ellipse(size["across"], size["across"])
    if "corner" in size:
        x, z, r = size["width"] / 2, size["depth"] / 2, size["corner"]
        sharp = Polygon([(r - x, r - z), (x - r, r - z), (x - r, z - r), (r - x, z - r)])
        return sharp.buffer(r, quad_segs=500) if r else sharp
    if "width" in size:
        return ellipse(size["width"], size["depth"])
    return None


def compare(report):
    for shape in data("shapes", "outlines.json"):
        name, ours = shape["name"], shape["pan"]
        flat = Polygon(ours["ring"])
        theirs = pan(shape["size"])
        report.true("ring is a simple polygon", name, flat.is_valid)
        if theirs is not None:
            report.near("perimeter of a pan", name, ours["perimeter"], theirs.length, relative=1e-6)
            report.near("area of a pan", name, ours["area"], theirs.area, relative=1e-6)
            report.near("pan lies on pan, mm", name, apart(flat, theirs), 0.0, absolute=0.002)
        starts = ours["ring"][0]
        report.near("tape starts front centre, mm", name, math.hypot(starts[0], 0.0), 0.0, absolute=1e-9)
        for offset in shape["offsets"]:
            compare_offset(report, (name, theirs if theirs is not None else flat), offset, theirs is not None, ours)


def compare_offset(report, named, offset, textbook, pan_figures):
    name, base = named
    join, distance, ours = offset["join"], offset["distance"], offset["outline"]
    what = f"{name}, {distance} mm, {join}"
    theirs = base.buffer(distance, **JOINS[join])
    # What is built from our own ring inherits its straight pieces: 1e-4 mm from the curve.
    relative = 1e-6 if textbook else 5e-6
    report.near(f"perimeter of an offset, {join}", what, ours["perimeter"], theirs.length, relative=max(relative, 2e-5))
    report.near(f"area of an offset, {join}", what, ours["area"], theirs.area, relative=relative)
    report.near(f"offset lies on offset, {join}, mm", what, apart(Polygon(ours["ring"]), theirs), 0.0, absolute=0.005)
    if textbook and join == "round":
        # Steiner's formulas for a convex figure.
        around = pan_figures["perimeter"] + 2 * math.pi * distance
        area = pan_figures["area"] + pan_figures["perimeter"] * distance + math.pi * distance**2
        report.near("Steiner's perimeter", what, ours["perimeter"], around, relative=1e-9)
        report.near("Steiner's area", what, ours["area"], area, relative=1e-9)
