"""Icons from two open sets, cut as toppers: outlines by svgelements and shapely against ours, from paths and from pixels.

Fills are found here by cutting the plane along all lines and counting windings in each part; pen lines by shapely's buffer.
"""

import math
import re

import numpy as np
import shapely
from shapely import LineString, Point, Polygon, box
from shapely.affinity import affine_transform
from shapely.ops import polygonize
from svgelements import SVG, Arc, Close, CubicBezier, Line, Move, Path, QuadraticBezier, Shape

from report import data

# Curves are cut into so many chords by us here; ours stray by 1e-4 of the page.
STEPS = 160
# A backing is cut within this of the figure, mm, and a figure within 1e-4 of its page.
BORDER_KNIFE = 0.06
LEAST = 200
# Least neck in paste 3.2 mm thick, and what must hang on it (assets/tables/toppers.csv).
NECK = 5.0
# Where two shapes touch, mm wide, a hair decides whether they are one.
TOUCH = 0.7


def compare(report):
    written = data("icons", "icons.json")
    report.true("icons enough", "both sets", len(written["icons"]) >= LEAST, f"{len(written['icons'])} icons")
    for icon in written["icons"]:
        report.true("cut without a failure", icon["name"], icon["failure"] is None, icon["failure"])
        if icon["failure"] is None:
            compare_icon(report, icon, written["side"], written["border"])


def compare_icon(report, icon, side, border):
    name, made = icon["name"], icon["made"]
    page = made["page"]
    theirs = outline(icon["path"], page)
    ours = filled(made["backed"]["outline"], "nonzero")
    size = max(page)
    off = 2e-4 * size * theirs.length
    report.near("area of an icon", name, made["backed"]["area"], theirs.area, absolute=off)
    report.near("area between an icon and theirs", name, between(ours, theirs), 0.0, absolute=off)
    middle = made["backed"]["centroid"]
    report.near("middle of an icon", name, math.dist(middle, theirs.centroid.coords[0]), 0.0, absolute=5e-4 * size)
    placed = to_size(theirs, side)
    grown = filled(made["grown"], "nonzero")
    backing = shapely.union_all([without_small_holes(part) for part in parts(grown)])
    compare_topper(report, name, made["backed"], placed, backing)
    # In short pieces: GEOS leaves out concave stretches of long ones, and is 1 mm off here and there then.
    moved = placed.segmentize(1.0).buffer(border, quad_segs=32)
    allowed = BORDER_KNIFE * moved.length
    report.near("area of a border, mm2", name, grown.area, moved.area, absolute=allowed)
    report.near("area between a border and theirs, mm2", name, between(grown, moved), 0.0, absolute=allowed)
    # A traced rim strays by a third of a pixel, and a corner is cut off.
    scale = side / max(extent(theirs))
    pixel = scale / made["pixels"]
    traced = made["traced"]
    report.near("area of a traced icon, mm2", name, traced["front_area"], placed.area, absolute=0.4 * pixel * placed.length)
    ours = filled(traced["outline"], "nonzero")
    apart = between(to_size(ours, side), placed)
    report.near("area between a traced icon and theirs, mm2", name, apart, 0.0, absolute=0.6 * pixel * placed.length)
    compare_picks(report, name, made["backed"], backing)
    compare_necks(report, name, made["bare"], placed)


def compare_topper(report, name, ours, front, backing):
    knife = 0.012 * front.length
    report.near("area of a front, mm2", name, ours["front_area"], front.area, absolute=knife)
    width, height = extent(backing)
    report.near("width of a topper, mm", name, ours["width"], width, absolute=0.1)
    report.near("height of a topper, mm", name, ours["height"], height, absolute=0.1)
    report.near("area of a backing, mm2", name, ours["backing_area"], backing.area, relative=1e-6)


def compare_picks(report, name, ours, backing):
    """Every pick lies in the backing for its whole depth, unless a finding says that it has no room."""
    low, _, high, _ = backing.bounds
    placed = affine_transform(backing, [1, 0, 0, 1, 0, -backing.bounds[1]]).buffer(0.15)
    for pick in ours["picks"]:
        told = any(line.startswith("PickRoom") and pick["what"].replace(" ", "") in line.lower() for line in ours["lacking"])
        half = pick["diameter"] / 2
        column = box(pick["x"] - half, pick["up"], pick["x"] + half, pick["up"] + pick["into_piece"])
        report.true("a pick is inside or told of", name, told or placed.contains(column), f"{pick}")


def compare_necks(report, name, ours, front):
    """Each neck lies in the figure, and cutting there opens a hole or takes off what we say; where a disc as wide as the
    least neck can't pass from one part of an icon to another, there is a neck."""
    placed = affine_transform(front, [1, 0, 0, 1, 0, -front.bounds[1]])
    middles = []
    for neck in ours["necks"]:
        one, other = map(np.array, neck["sides"])
        middles.append(Point((one + other) / 2))
        report.true("a neck is thin", name, np.linalg.norm(other - one) < NECK)
        report.true("a neck lies in its figure", name, placed.buffer(0.1).contains(LineString([one, other])), f"{neck}")
        longer = (other - one) / np.linalg.norm(other - one) * 0.1
        cut = LineString([one - longer, other + longer]).buffer(0.01)
        left = parts(placed.difference(cut))
        if np.linalg.norm(other - one) < TOUCH:
            continue
        if neck["severs"] is None:
            opened = sum(len(part.interiors) for part in left) < sum(len(part.interiors) for part in parts(placed))
            report.true("a thin wall opens a hole", name, opened, f"{neck}")
        else:
            report.true("a neck takes off a part", name, len(left) > len(parts(placed)), f"{neck}")
    for part in parts(placed):
        lobes = [lobe for lobe in parts(part.buffer(-NECK / 2 + 0.05)) if lobe.buffer(NECK / 2).area > 1.5 * NECK * NECK]
        if len(lobes) > 1:
            found = any(part.buffer(0.1).contains(middle) for middle in middles)
            report.true("a neck is found where discs can't pass", name, found, f"{len(lobes)} lobes")


def between(one, other):
    """The area that only one of two figures covers."""
    return shapely.symmetric_difference(one, other, grid_size=1e-7).area


def parts(figure):
    found = figure.geoms if hasattr(figure, "geoms") else [figure]
    return [part for part in found if isinstance(part, Polygon) and not part.is_empty]


def without_small_holes(part, least=64.0):
    return Polygon(part.exterior, [hole for hole in part.interiors if Polygon(hole).area >= least])


def extent(figure):
    left, low, right, high = figure.bounds
    return right - left, high - low


def to_size(figure, side):
    """The figure with its longer side so long, its middle at the origin."""
    left, low, right, high = figure.bounds
    scale = side / max(right - left, high - low)
    return affine_transform(figure, [scale, 0, 0, scale, -scale * (left + right) / 2, -scale * (low + high) / 2])


def outline(path, page):
    """What an icon's shapes cover, y up."""
    covered = []
    for element in SVG.parse(path, width=page[0], height=page[1], reify=True).elements():
        if not isinstance(element, Shape):
            continue
        lines = [points for points in map(flattened, Path(element).as_subpaths()) if len(points) > 1]
        values = element.values
        if element.fill is not None and element.fill.value is not None:
            covered.append(filled(lines, values.get("fill-rule", "nonzero")))
        dots = [Point(*line[0]) for line in map(flattened, Path(element).as_subpaths()) if len(line) == 1]
        if element.stroke is not None and element.stroke.value is not None and element.stroke_width:
            covered.append(pen(lines + dots, values, element.stroke_width))
    whole = shapely.union_all(covered).intersection(box(0, 0, *page))
    # Onto a grid, so that lines which meet within a rounding error do meet.
    return shapely.set_precision(affine_transform(whole, [1, 0, 0, -1, 0, page[1]]), 1e-7)


def flattened(subpath):
    """Places along a subpath; one that is closed ends where it begins."""
    points = []
    for segment in Path(subpath):
        if isinstance(segment, Move):
            points.append(complex(segment.end))
        elif isinstance(segment, (Line, Close)):
            points.append(complex(segment.end))
        elif isinstance(segment, (CubicBezier, QuadraticBezier, Arc)):
            points.extend(complex(segment.point(step / STEPS)) for step in range(1, STEPS + 1))
    places = np.array([(point.real, point.imag) for point in points])
    moved = np.concatenate([[True], np.any(np.abs(np.diff(places, axis=0)) > 1e-9, axis=1)]) if len(places) else []
    return places[moved] if len(places) else places


def filled(lines, rule):
    rings = [np.vstack([line, line[:1]]) for line in lines if len(line) > 2]
    if not rings:
        return Polygon()
    noded = shapely.union_all([LineString(ring) for ring in rings])
    inside = []
    for part in polygonize(noded):
        at = part.representative_point()
        winding = sum(windings(ring, at.x, at.y) for ring in rings)
        if winding % 2 if rule == "evenodd" else winding:
            inside.append(part)
    return shapely.set_precision(shapely.union_all(inside), 1e-7)


def windings(ring, x, y):
    """How often a ring goes round a place: crossings of the ray to its right, upward ones less downward ones."""
    (x0, y0), (x1, y1) = ring[:-1].T, ring[1:].T
    side = (x1 - x0) * (y - y0) - (x - x0) * (y1 - y0)
    up = (y0 <= y) & (y1 > y) & (side > 0)
    down = (y0 > y) & (y1 <= y) & (side < 0)
    return int(up.sum()) - int(down.sum())


CAPS = {"butt": "flat", "round": "round", "square": "square"}
JOINS = {"miter": "mitre", "round": "round", "bevel": "bevel"}


def pen(lines, values, width):
    style = {
        "cap_style": CAPS[values.get("stroke-linecap", "butt")],
        "join_style": JOINS[values.get("stroke-linejoin", "miter")],
        "mitre_limit": float(re.sub("[a-z]", "", str(values.get("stroke-miterlimit", 4)))),
        "quad_segs": 32,
    }
    # A line without length is a dot where the pen is round.
    drawn = [line if isinstance(line, Point) else LineString(line) for line in lines]
    return shapely.union_all([line.buffer(width / 2, **style) for line in drawn])
