"""How deep pairs of solids run into each other, against booleans by manifold3d and distances by trimesh.

Depth is the most that two depths add up to: how far a place lies inside one solid and how far inside the other. So it is
compared from both sides: no place that is tried here comes to more, and no move shorter than the depth separates the pair.
"""

import manifold3d
import numpy as np
import trimesh

from meshes import exact
from report import DATA, data

# A shared part smaller than this has no depth to speak of, mm3.
TINY = 1e-3
# Ours is searched for to 0.05 mm and 1 %; a tier is a mesh of facets here and exact there.
ABSOLUTE, RELATIVE = 0.06, 0.01
WAYS = 12


def solid(mesh):
    return manifold3d.Manifold(manifold3d.Mesh64(np.asarray(mesh.vertices, np.float64), np.asarray(mesh.faces, np.uint64)))


def depths(pair, places):
    """For places in both: how far inside one and inside the other, added up."""
    return sum(trimesh.proximity.closest_point(mesh, places)[1] for mesh in pair)


def deepest(pair, shared, seed):
    """The greatest sum found: among places of the shared part, and uphill from the best of them."""
    random = np.random.default_rng(seed)
    mesh = shared.to_mesh64()
    part = trimesh.Trimesh(mesh.vert_properties[:, :3], mesh.tri_verts, process=False)
    low, high = part.bounds
    places = [part.vertices[random.permutation(len(part.vertices))[:300]], part.triangles_center[random.permutation(len(part.faces))[:300]]]
    grid = low + (high - low) * random.random((900, 3))
    inside = np.concatenate([grid, part.vertices.mean(axis=0)[None]])
    places.append(inside[part.contains(inside)])
    places = np.concatenate(places)
    sums = depths(pair, places)
    step = (high - low).max() / 8
    while step > 0.02:
        best = places[np.argsort(sums)[-4:]]
        around = (best[:, None, :] + step * random.normal(size=(4, 24, 3))).reshape(-1, 3)
        around = around[part.contains(around)]
        if len(around):
            places, sums = np.concatenate([best, around]), np.concatenate([np.sort(sums)[-4:], depths(pair, around)])
        step *= 0.7
    return float(sums.max())


def compare(report):
    written = data("overlaps", "overlaps.json")
    heap = DATA.joinpath("overlaps", "overlaps.bin").read_bytes()
    ways = trimesh.sample.sample_surface_even(trimesh.creation.icosphere(2), WAYS, seed=1)[0]
    for number, ours in enumerate(written["pairs"]):
        pair = [exact(heap, mesh) for mesh in ours["meshes"]]
        one, other = map(solid, pair)
        report.true("a solid for manifold3d", ours["name"], one.status() == other.status() == manifold3d.Error.NoError)
        shared = one ^ other
        name, depth = ours["name"], ours["depth"] or 0.0
        if shared.volume() < TINY:
            report.true("apart as manifold3d says", name, depth < ABSOLUTE + written["least"], f"depth {depth}")
            continue
        theirs = deepest(pair, shared, number)
        if depth == 0.0:
            report.true("too shallow to say", name, theirs <= written["least"] + ABSOLUTE, f"they reach {theirs}")
            continue
        report.true("overlapping as manifold3d says", name, True)
        report.near("depth", name, depth, theirs, relative=RELATIVE, absolute=ABSOLUTE)
        shortest = max(depth * (1 - RELATIVE) - ABSOLUTE, 0.0)
        for way in ways / np.linalg.norm(ways, axis=1)[:, None]:
            moved = one ^ other.translate(way * shortest)
            report.true("no shorter move separates", name, moved.volume() > 0.0, f"moved {shortest} along {way}")
