"""How far apart two outlines lie."""

import numpy as np
import shapely
from shapely import STRtree


def straight_pieces(figure):
    return np.concatenate([np.stack([at[:-1], at[1:]], axis=1) for at in rings(figure)])


def rings(figure):
    polygons = figure.geoms if hasattr(figure, "geoms") else [figure]
    return [shapely.get_coordinates(ring) for polygon in polygons for ring in (polygon.exterior, *polygon.interiors)]


def apart(one, other):
    """The furthest that a corner of one outline lies from the other outline (Hausdorff's distance at the corners)."""
    return max(furthest(one, other), furthest(other, one))


def furthest(corners, outline):
    tree = STRtree(shapely.linestrings(straight_pieces(outline)))
    points = shapely.points(np.concatenate(rings(corners)))
    _, distances = tree.query_nearest(points, return_distance=True, all_matches=False)
    return float(distances.max())
