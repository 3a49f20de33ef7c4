"""Edges of wood that is gone, as far as nothing that stands now lies on them or before them; it draws nothing."""

from collections.abc import Sequence

import numpy as np
import shapely

from planbook.solids.faces_mesh import Body, Bools, Floats, Ints
from planbook.solids.visible_chain import Polyline
from planbook.solids.visible_front import Fronts, front_of
from planbook.solids.visible_scene import project
from planbook.solids.visible_view import View

OFF = 0.05
"""How far before an edge the look toward the eye starts, mm, so that the faces beside it do not hide it."""
TOUCH = 0.1
"""An edge this close to what stands now, mm, lies on it."""
SLIM = 0.2
"""How far a line may lie from the true one, as a share of the step by which edges are looked at."""


def bare_edges(
    gone: Sequence[Body],
    standing: Fronts,
    view: View,
    crease_deg: float,
    step: float,
    within: tuple[float, float, float, float] | None = None,
) -> tuple[Polyline, ...]:
    """Lines in the plane of the view, mm: of the edges of `gone` that face the eye, what is seen of them and bare.

    Edges are looked at every `step` mm, so that ends may be wrong by half of that; `within` (left, bottom, right, top)
    leaves out what lies elsewhere.
    """
    bodies = [body for body in gone if len(body.triangles)]
    if not bodies:
        return ()
    scene, frame = project(bodies, view, crease_deg, hidden=False), standing.frame
    own = front_of(np.concatenate([body.corners for body in bodies]), view)
    ends, heights = scene.ends, scene.heights[:, :, None]
    counts = np.maximum(1, np.ceil(np.hypot(*(ends[:, 1] - ends[:, 0]).T) / step)).astype(np.int64)
    edge = np.repeat(np.arange(len(ends)), counts)
    first = np.cumsum(counts) - counts
    share = ((np.arange(len(edge)) - first[edge] + 0.5) / counts[edge])[:, None]
    one, two = (np.concatenate([ends[:, k], heights[:, k]], axis=1)[edge] for k in (0, 1))
    at = one + share * (two - one)
    free = np.ones(len(at), dtype=np.bool_) if within is None else _inside(at, within)
    points = at @ frame
    free[free] = ~standing.hidden(points[free], -TOUCH)
    free[free] = ~own.hidden(points[free], OFF)
    return _joined(_runs(ends, counts, edge, free), step)


def _inside(points: Floats, box: tuple[float, float, float, float]) -> Bools:
    u, v = points[:, 0], points[:, 1]
    found: Bools = (u >= box[0]) & (v >= box[1]) & (u <= box[2]) & (v <= box[3])
    return found


def _runs(ends: Floats, counts: Ints, edge: Ints, free: Bools) -> Floats:
    """The stretches of edges (e,2,2), each looked at `counts` times, that are free, as lines (n,2,2)."""
    first = np.cumsum(counts) - counts
    begins = free & ~(np.r_[False, free[:-1]] & np.r_[False, edge[1:] == edge[:-1]])
    stops = free & ~(np.r_[free[1:], False] & np.r_[edge[1:] == edge[:-1], False])
    start, stop = np.flatnonzero(begins), np.flatnonzero(stops) + 1
    mine = edge[start]
    base, way = ends[mine, 0], ends[mine, 1] - ends[mine, 0]
    shares = [((at - first[mine]) / counts[mine])[:, None] for at in (start, stop)]
    found: Floats = np.stack([base + share * way for share in shares], axis=1)
    return found


def _joined(runs: Floats, step: float) -> tuple[Polyline, ...]:
    """Runs that meet as long lines, from a fixed end."""
    if not len(runs):
        return ()
    whole = shapely.line_merge(shapely.union_all(shapely.linestrings(runs), grid_size=step / 100))
    parts = [part for part in shapely.get_parts(shapely.normalize(whole)) if part.geom_type == "LineString"]
    slim = [shapely.get_coordinates(shapely.simplify(part, SLIM * step)) for part in parts]
    return tuple(tuple((u, v) for u, v in line.tolist()) for line in slim)
