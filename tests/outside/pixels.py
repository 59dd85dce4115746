"""Marks on wraps and toppers, and the edges of cakes, in real stills, against a camera model worked out here.

Every cake is built a second time from its sizes: where a place on the tape stands in the cake's frame, and on which pixel
it falls. From the program comes only where the camera stood.
"""

import colorsys
import json
import tempfile
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw

from report import at_once, program

SIZE = (1200, 900)
# Azimuth from the front towards the customer's right, elevation; degrees.
VIEWS = {"front": (0, 8), "right": (90, 8), "back": (180, 8), "left": (-90, 8)}
HEIGHT, ICING, PASTE, PRINT = 100.0, 6.0, 3.0, 0.3
COVER = ICING + PASTE
# As many hues as marks in half a turn, so that no two marks of a hue are seen at once.
HUES = 8
MARKS = 2 * HUES
RADIUS = 4.0
GROUND = "#3c3c3c"


class Tape:
    """A finished outline as a fine polygon from front centre to the right, with its outward normals."""

    def __init__(self, points, outward):
        self.points, self.outward = points, outward
        steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
        self.along = np.concatenate([[0], np.cumsum(steps)])
        self.length = self.along[-1]

    def place(self, along, up, out):
        """Places in the cake's frame (x right, y up, z to the customer), and the way the side faces there."""
        at = np.mod(along, self.length)
        both = np.column_stack([self.points, self.outward])
        x, z, nx, nz = (np.interp(at, self.along, column) for column in both.T)
        facing = np.stack([nx, 0 * nx, nz], -1)
        return np.stack([x, up + 0 * x, z], -1) + out * facing, facing


def ellipse(width, depth):
    """An oval under its covering: every place of the pan's edge, moved straight out."""
    turn = np.linspace(0, 2 * np.pi, 20_001)
    pan = np.column_stack([width / 2 * np.sin(turn), depth / 2 * np.cos(turn)])
    outward = np.column_stack([np.sin(turn) / width, np.cos(turn) / depth])
    outward /= np.linalg.norm(outward, axis=1, keepdims=True)
    return Tape(pan + COVER * outward, outward)


def square(size):
    """A square under icing with sharp corners and paste round them."""
    half = size / 2 + ICING
    points, outward = [], []
    for quarter in range(5):
        turn = quarter * np.pi / 2
        facing, right = np.array([np.sin(turn), np.cos(turn)]), np.array([np.cos(turn), -np.sin(turn)])
        middle = facing * (half + PASTE)
        start = 0.0 if quarter == 0 else -half
        end = 0.0 if quarter == 4 else half
        points += [middle + right * start, middle + right * end]
        outward += [facing, facing]
        if quarter < 4:
            for step in np.linspace(0, np.pi / 2, 200)[1:-1]:
                normal = np.array([np.sin(turn + step), np.cos(turn + step)])
                points.append((facing + right) * half + PASTE * normal)
                outward.append(normal)
    return Tape(np.array(points), np.array(outward))


SHAPES = {
    "round": ("size = 180", ellipse(180, 180), "png"),
    "square": ("size = 150", square(150), "png"),
    "oval": ("size = [220, 150]", ellipse(220, 150), "svg"),
}


class Camera:
    """A pinhole camera; what it looks along is worked out here, where it stands is read."""

    def __init__(self, view, stand):
        azimuth, elevation = np.radians(VIEWS[view])
        self.towards = np.array([np.cos(elevation) * np.sin(azimuth), np.sin(elevation), np.cos(elevation) * np.cos(azimuth)])
        self.right = np.array([np.cos(azimuth), 0, -np.sin(azimuth)])
        self.up = np.cross(self.towards, self.right)
        self.eye = np.array(stand["eye"])
        # Pixels at one mm, one mm away.
        self.scale = SIZE[1] / 2 / np.tan(np.radians(stand["vertical_field"]) / 2)

    def pixel(self, places):
        seen = places - self.eye
        away = -seen @ self.towards
        return np.stack([SIZE[0] / 2 + self.scale * (seen @ self.right) / away,
                         SIZE[1] / 2 - self.scale * (seen @ self.up) / away], -1)

    def faces(self, places, facing):
        """The cosine between the way a surface faces and the way to the eye."""
        way = self.eye - places
        return np.sum(way * facing, -1) / np.linalg.norm(way, axis=-1)


def still(folder, view):
    """A still and the camera it was taken with."""
    picture, stand = folder / f"{view}.png", folder / f"{view}.json"
    program("still", folder, "-o", picture, "--camera", stand, "--view", view, "--size", "x".join(map(str, SIZE)))
    with Image.open(picture) as image:
        return np.asarray(image.convert("RGB"), float) / 255, Camera(view, json.loads(stand.read_text()))


def colour(hue):
    return "#" + "".join(f"{round(255 * part):02x}" for part in colorsys.hsv_to_rgb(hue / HUES, 0.85, 0.85))


def middle_of(picture, hue):
    """Pixels of one hue: their middle, weighted by how much of it they have, and their sum."""
    most, least = picture.max(-1), picture.min(-1)
    spread = most - least
    red, green, blue = np.moveaxis(picture, -1, 0)
    safe = np.maximum(spread, 1e-9)
    turn = np.where(most == red, (green - blue) / safe, np.where(most == green, 2 + (blue - red) / safe, 4 + (red - green) / safe)) / 6
    off = np.abs(np.mod(turn - hue / HUES + 0.5, 1) - 0.5)
    weight = np.where((off < 0.5 / HUES) & (spread > 0.2), spread, 0)
    rows, columns = np.indices(weight.shape) + 0.5
    total = weight.sum()
    return (np.array([(weight * columns).sum(), (weight * rows).sum()]) / max(total, 1e-9), np.count_nonzero(weight))


def middle_of_polygon(corners):
    """The centroid of a polygon's area (shoelace formula)."""
    following = np.roll(corners, -1, axis=0)
    cross = corners[:, 0] * following[:, 1] - following[:, 0] * corners[:, 1]
    return ((corners + following) * cross[:, None]).sum(0) / (3 * cross.sum())


def rim(radius=RADIUS):
    turn = np.linspace(0, 2 * np.pi, 64, endpoint=False)
    return radius * np.cos(turn), radius * np.sin(turn)


def marks(length):
    """Hue, tape reading and height of every mark; uneven, so that no turn or mirror image looks the same."""
    for number in range(MARKS):
        yield number % HUES, ((number + 0.37) / MARKS - 0.5) * length, HEIGHT * (0.2 + 0.6 * (number * 5 % MARKS) / (MARKS - 1))


def draw_wrap(path, length):
    """The printed face: its left end is the back, its middle the front."""
    if path.suffix == ".svg":
        discs = "".join(f'<circle cx="{along + length / 2:.4f}" cy="{HEIGHT - up:.4f}" r="{RADIUS}" fill="{colour(hue)}"/>'
                        for hue, along, up in marks(length))
        page = f'width="{length}" height="{HEIGHT}" viewBox="0 0 {length} {HEIGHT}"'
        path.write_text(f'<svg xmlns="http://www.w3.org/2000/svg" {page}><rect width="100%" height="100%" fill="{GROUND}"/>{discs}</svg>')
        return
    fine, width = 4, 3600
    scale = fine * width / length
    image = Image.new("RGB", (fine * width, round(scale * HEIGHT / fine) * fine), GROUND)
    pen = ImageDraw.Draw(image)
    for hue, along, up in marks(length):
        x, y, r = (along + length / 2) * scale, (HEIGHT - up) * scale, RADIUS * scale
        pen.ellipse([x - r, y - r, x + r, y + r], fill=colour(hue))
    image.resize((width, image.height // fine), Image.Resampling.BOX).save(path)


def write_design(folder, size, shape, rest):
    folder.mkdir()
    (folder / "cake.toml").write_text(f"""
title = "Marks"
unit = "mm"
[board]
shape = "square"
size = 260
thickness = 12
finish = "chalk"
[[tier]]
name = "base"
shape = "{shape}"
{size}
height = {HEIGHT}
icing = {ICING}
paste = {PASTE}
finish = "ink"
edge = 0
{rest}
[finish.chalk]
color = "#f4f0e8"
look = "paste"
[finish.ink]
color = "{GROUND}"
look = "paste"
""")


def compare(report):
    with tempfile.TemporaryDirectory() as folder:
        for shape, (size, tape, kind) in SHAPES.items():
            design = Path(folder, shape)
            wrap = f'[[tier.course]]\nname = "marks"\nkind = "wrap"\nheight = {HEIGHT}\nart = "marks.{kind}"\nfit = "cover"\nthickness = {PRINT}\n'
            write_design(design, size, shape, wrap)
            draw_wrap(design / f"marks.{kind}", tape.length)
            for view, (picture, camera) in zip(VIEWS, at_once((still, design, view) for view in VIEWS)):
                compare_wrap(report, f"{shape}, {view}", tape, picture, camera)
                compare_edges(report, f"{shape}, {view}", tape, PRINT, picture, camera)
        compare_toppers(report, Path(folder, "toppers"))


def compare_wrap(report, name, tape, picture, camera):
    around, upward = rim()
    seen, places = {hue: [] for hue in range(HUES)}, {}
    for hue, along, up in marks(tape.length):
        places[along] = tape.place(along + around, up + upward, PRINT)
        seen[hue].append((along, camera.faces(*places[along]).min(), camera.faces(*places[along]).max()))
    found = 0
    for hue, both in seen.items():
        at, count = middle_of(picture, hue)
        showing = [mark for mark in both if mark[2] > 0]
        if not showing:
            report.true("a mark that faces away is not seen", f"{name}, hue {hue}", count < 5, f"{count} px")
        elif len(showing) == 1 and showing[0][1] > 0.2:
            along = showing[0][0]
            expected = middle_of_polygon(camera.pixel(places[along][0]))
            off = np.linalg.norm(at - expected)
            report.near("mark on a wrap, px", f"{name}, {along:.0f} mm along", off, 0.0, absolute=1.5)
            found += 1
    report.true("marks are seen", name, found >= 3, f"{found}")


def compare_edges(report, name, tape, out, picture, camera):
    """Where the side of the cake ends, left and right, on rows through the middle of its height."""
    standing, _ = tape.place(np.linspace(0, tape.length, 4000), 0.0, out)
    for up in (0.45, 0.6, 0.75):
        row = int(camera.pixel(np.array([0.0, up * HEIGHT, 0.0]))[1])
        # On the upright line through each place of the outline, the height that falls on the row.
        slope = (row + 0.5 - SIZE[1] / 2) / camera.scale
        foot = standing - camera.eye
        rise = (-(foot @ camera.up) + slope * (foot @ camera.towards)) / (camera.up[1] - slope * camera.towards[1])
        columns = camera.pixel(standing + np.outer(rise, [0, 1, 0]))[:, 0]
        line = picture[row].mean(-1)
        for side, expected in (("left", columns.min()), ("right", columns.max())):
            report.near("edge of a cake, px", f"{name}, {side}", edge(line, expected), expected, absolute=1.5)


def edge(line, near):
    """The column at which a row turns from light to dark, halfway between what lies 6 px to both sides, near a guess."""
    first = max(int(near) - 12, 1)
    part = line[first:int(near) + 13]
    step = part[0] - part[-1]
    level = (part[0] + part[-1]) / 2
    beyond = np.nonzero((part < level) if step > 0 else (part > level))[0]
    if abs(step) < 0.1 or not len(beyond) or beyond[0] == 0:
        return float("nan")
    after = beyond[0]
    share = (level - part[after - 1]) / (part[after] - part[after - 1])
    return first + after - 0.5 + share


def compare_toppers(report, design):
    """A plain cake with two printed toppers: one looks to the front, one to the right."""
    wide, tall, thick = 60.0, 40.0, 3.0
    dots = [(-20.0, 30.0), (5.0, 24.0), (22.0, 33.0), (-8.0, 10.0)]
    toppers = {"front": (0.0, 45.0, 0, 0), "right": (50.0, -20.0, 90, 4)}
    pieces = "".join(f"""
[[piece]]
name = "{view}"
kind = "topper"
seat = {{ on = "base", surface = "top" }}
at = {{ x = {x}, z = {z} }}
turn = {turn}
art = "{view}.svg"
height = {tall}
thickness = {thick}
finish = "chalk"
print = true
""" for view, (x, z, turn, _) in toppers.items())
    write_design(design, "size = 180", "round", pieces)
    for view, (*_, first) in toppers.items():
        discs = "".join(f'<circle cx="{wide / 2 + x}" cy="{tall - up}" r="{RADIUS}" fill="{colour(first + number)}"/>'
                        for number, (x, up) in enumerate(dots))
        (design / f"{view}.svg").write_text(f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}" height="{tall}" '
                                            f'viewBox="0 0 {wide} {tall}"><rect width="{wide}" height="{tall}" fill="{GROUND}"/>{discs}</svg>')
    stills = at_once((still, design, view) for view in toppers)
    for (view, (x, z, turn, first)), (picture, camera) in zip(toppers.items(), stills):
        # Turned counter-clockwise seen from above, from looking to the front.
        turn = np.radians(turn)
        right, facing = np.array([np.cos(turn), 0, -np.sin(turn)]), np.array([np.sin(turn), 0, np.cos(turn)])
        around, upward = rim()
        for number, (along, up) in enumerate(dots):
            places = (np.array([x, HEIGHT, z]) + facing * thick / 2 + np.outer(along + around, right)
                      + np.outer(up + upward, [0, 1, 0]))
            at, _ = middle_of(picture, first + number)
            off = np.linalg.norm(at - middle_of_polygon(camera.pixel(places)))
            report.near("mark on a topper, px", f"{view}, {number}", off, 0.0, absolute=1.5)
        compare_edges(report, f"plain, {view}", SHAPES["round"][1], 0.0, picture, camera)
        compare_backdrop(report, view, picture)


def compare_backdrop(report, name, picture):
    """The backdrop: light, nearly grey, even at its corners, and the same left and right."""
    corners = {corner: picture[rows, columns].reshape(-1, 3).mean(0) * 255 for corner, (rows, columns) in {
        "upper left": (slice(0, 20), slice(0, 20)), "upper right": (slice(0, 20), slice(-20, None)),
        "lower left": (slice(-20, None), slice(0, 20)), "lower right": (slice(-20, None), slice(-20, None))}.items()}
    for corner, seen in corners.items():
        report.true("backdrop is light and plain", f"{name}, {corner}", seen.min() > 185 and np.ptp(seen) < 16, str(seen.round()))
    for edge_name in ("upper", "lower"):
        off = np.abs(corners[f"{edge_name} left"] - corners[f"{edge_name} right"]).max()
        report.near("backdrop is the same on both sides, of 255", f"{name}, {edge_name}", off, 0.0, absolute=6)
