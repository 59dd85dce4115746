"""Every body of every demo and starter, against trimesh: closed, turned outward, with our volume and area.

The exact meshes come as 64-bit numbers; the GLB has 32-bit ones, in metres, so its figures are only as near as those.
"""

import numpy as np
import trimesh

from report import DATA, data, designs, measure

METRES = 1000.0
# A 32-bit place is 6e-8 of its size off; a thin sheet's volume suffers by its size over its thickness.
SHEET = 2e-3


def exact(heap, mesh):
    start, count = mesh["positions"]
    positions = np.frombuffer(heap, "<f8", count * 3, start).reshape(-1, 3)
    start, count = mesh["triangles"]
    triangles = np.frombuffer(heap, "<u4", count * 3, start).reshape(-1, 3).astype(np.int64)
    return closed(positions, triangles)


def closed(positions, triangles):
    """Corners at one place become one; nothing else is mended."""
    places, number = np.unique(positions, axis=0, return_inverse=True)
    return trimesh.Trimesh(places, number.reshape(-1)[triangles], process=False)


def compare(report):
    for folder in designs():
        written = data("meshes", f"{folder.name}.json")
        heap = DATA.joinpath("meshes", f"{folder.name}.bin").read_bytes()
        named = {body["mesh"]: body["name"] for body in reversed(written["bodies"])}
        report.true("names are unique", folder.name, len({body["name"] for body in written["bodies"]}) == len(written["bodies"]))
        for number, mesh in enumerate(written["meshes"]):
            compare_mesh(report, f"{folder.name}: {named[number]}", mesh, exact(heap, mesh))
        compare_glb(report, folder, written)


def compare_mesh(report, name, ours, theirs):
    report.true("watertight", name, theirs.is_watertight)
    report.true("winding consistent", name, theirs.is_winding_consistent)
    report.true("turned outward", name, theirs.volume > 0, f"volume {theirs.volume}")
    report.near("volume of a mesh", name, ours["volume"], theirs.volume, relative=1e-9)
    report.near("area of a mesh", name, ours["area"], theirs.area, relative=1e-9)


def compare_glb(report, folder, written):
    """The file as another program sees it: its bodies by name, its bounding box against the measurements."""
    scene = trimesh.load_scene(DATA / "meshes" / f"{folder.name}.glb", process=False)
    geometry = {node: scene.graph[node] for node in scene.graph.nodes_geometry}
    report.true("GLB has every body", folder.name, set(geometry) == {body["name"] for body in written["bodies"]})
    seen = set()
    for body in written["bodies"]:
        if body["name"] not in geometry or body["mesh"] in seen:
            continue
        seen.add(body["mesh"])
        name, ours = f"{folder.name}: {body['name']}", written["meshes"][body["mesh"]]
        loaded = scene.geometry[geometry[body["name"]][1]]
        theirs = closed(np.asarray(loaded.vertices), np.asarray(loaded.faces))
        report.true("GLB body watertight", name, theirs.is_watertight)
        report.near("GLB volume", name, theirs.volume * METRES**3, ours["volume"], relative=SHEET)
        report.near("GLB area", name, theirs.area * METRES**2, ours["area"], relative=1e-4)
    low, high = scene.bounds * METRES
    overall = measure(folder)["overall"]
    for axis, word in enumerate(("width", "height", "depth")):
        # A pin through the board would make the file higher than the cake: it must not.
        size = high[axis] - low[axis]
        report.near(f"GLB {word} against `overall`, mm", folder.name, overall[word], size, absolute=0.5)
