"""Figures cut from art: areas, perimeters, centroids and offsets against shapely (GEOS); discs traced from pictures."""

import math

from shapely import Polygon, unary_union

from near import apart
from report import data

JOINS = {"mitre": {"join_style": "mitre", "mitre_limit": 2.0}, "round": {"quad_segs": 50}}


def figure(region):
    """The figure of our rings: counter-clockwise ones are filled, clockwise ones are holes."""
    rings = [Polygon(ring) for ring in region["rings"]]
    outer = [ring for ring in rings if ring.exterior.is_ccw]
    holes = [ring for ring in rings if not ring.exterior.is_ccw]
    return unary_union(outer).difference(unary_union(holes)), rings


def compare(report):
    for art in data("regions", "art.json"):
        region, (theirs, rings) = art["region"], figure(art["region"])
        report.true("rings are simple", art["name"], all(ring.is_valid for ring in rings))
        measures(report, art["name"], region, theirs)
        for offset in art["offsets"]:
            what = f"{art['name']}, {offset['distance']} mm, {offset['join']}"
            moved = theirs.buffer(offset["distance"], **JOINS[offset["join"]])
            ours, _ = figure(offset["region"])
            if offset["join"] == "round":
                # Arcs are cut into chords at most 0.005 mm from them, by both.
                allowed = 0.005 * moved.length
                report.near("area between an offset and theirs, mm2", what, ours.symmetric_difference(moved).area, 0.0, absolute=allowed)
                if offset["distance"] > 0:
                    report.near("offset lies on offset, mm", what, apart(ours, moved), 0.0, absolute=0.05)
            else:
                # Where a mitre is cut off differs; what lies within reach of the figure does not.
                outline = theirs.buffer(offset["distance"], quad_segs=50)
                report.true("a mitred offset holds the round one", what, ours.buffer(0.01).contains(outline))
    for disc in data("discs", "discs.json"):
        traced, radius = disc["region"], disc["radius"]
        name = f"radius {radius} px"
        theirs, rings = figure(traced)
        report.true("a disc is one ring", name, len(rings) == 1, f"{len(rings)} rings")
        report.near("area of a traced disc", name, traced["area"], math.pi * radius**2, relative=1e-3)
        report.near("rim of a traced disc", name, traced["perimeter"], 2 * math.pi * radius, relative=5e-3)
        off = math.dist(traced["centroid"], disc["centre"])
        report.near("middle of a traced disc, px", name, off, 0.0, absolute=0.02)
        circle = Polygon([(disc["centre"][0] + radius * math.cos(math.radians(step / 10)),
                           disc["centre"][1] + radius * math.sin(math.radians(step / 10))) for step in range(3600)])
        report.near("rim lies on the rim, px", name, apart(theirs, circle), 0.0, absolute=0.25)


def measures(report, name, ours, theirs):
    report.near("area", name, ours["area"], theirs.area, relative=1e-9)
    report.near("perimeter", name, ours["perimeter"], theirs.length, relative=1e-9)
    off = math.dist(ours["centroid"], (theirs.centroid.x, theirs.centroid.y))
    report.near("centroid, mm", name, off, 0.0, absolute=1e-6)
