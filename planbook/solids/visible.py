"""Exact hidden-line pictures of triangle meshes in parallel projection, as vectors; no colours and no pens.

The projected edges cut the plane into cells in each of which one surface is nearest throughout. One look at a
point of each cell tells which; a line is drawn where the surfaces on its two sides differ. So fills and lines
always agree. Edges wholly behind something are left out first, which keeps deep scenes quick.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from planbook.solids.faces_merge import merged
from planbook.solids.faces_mesh import Body, Bools, Floats, Ints, components
from planbook.solids.visible_chain import Polyline, chains, polylines, straightened
from planbook.solids.visible_cross import crossings
from planbook.solids.visible_cull import covered
from planbook.solids.visible_lines import Lines, draw, label_cells
from planbook.solids.visible_map import Map, arrange
from planbook.solids.visible_scene import KINDS, SLIVER, Scene, only_edges, project, with_edges
from planbook.solids.visible_view import Vector, View, isometric, looking, orthographic

__all__ = [
    "Body",
    "Patch",
    "Polygon2",
    "Seen",
    "Stroke",
    "View",
    "isometric",
    "looking",
    "orthographic",
    "see",
]

Polygon2 = tuple[Polyline, tuple[Polyline, ...]]
"""Outer ring (counter-clockwise) and holes (clockwise), in mm; the first point is not repeated."""

MOST_HIDDEN = 5_000
"""A scene with more edges than this is past reading with all its hidden lines, and slow."""
STRAIGHTEN = 1.5
"""Points this many resolutions from the straight line between their neighbours go."""
FLAT = 0.9998
"""A surface is curved when a normal of it makes a smaller cosine with the mean (about 1 degree)."""


@dataclass(frozen=True, slots=True)
class Patch:
    """The visible part of one smooth surface: `area` in mm² of the picture.

    `normal` (in the world, unit) and `depth` (mm toward the eye) are means over all of the surface that faces
    the eye, seen or not.
    """

    body: str
    tag: int
    polygons: tuple[Polygon2, ...]
    normal: Vector
    curved: bool
    area: float
    depth: float


@dataclass(frozen=True, slots=True)
class Stroke:
    """A polyline; a closed one ends with its first point.

    `kind` is "outline" (a surface turns away), "crease", "seam" (tags or bodies meet flush) or "hidden".
    """

    body: str
    kind: str
    points: Polyline


@dataclass(frozen=True, slots=True)
class Seen:
    """A picture: patches that do not overlap, strokes, and its bounds (umin, vmin, umax, vmax) in mm."""

    patches: tuple[Patch, ...]
    strokes: tuple[Stroke, ...]
    bounds: tuple[float, float, float, float]

    def visible_area(self, body: str) -> float:
        """Area in mm² of the picture that shows this body."""
        return sum(patch.area for patch in self.patches if patch.body == body)


def see(bodies: Sequence[Body], view: View, *, crease_deg: float = 25.0, hidden: bool = False) -> Seen:
    """What is seen of closed bodies; the earlier body wins where two faces lie in one place.

    `hidden` adds the hidden lines; beyond `MOST_HIDDEN` edges only those of edges seen in part.
    Surfaces end where neighbouring triangles bend by `crease_deg` degrees or more, or where the tag changes.
    Raises ValueError for arrays that do not fit each other.
    """
    scene = project(bodies, view, crease_deg, hidden)
    if not len(scene.corners):
        return Seen((), (), (0.0, 0.0, 0.0, 0.0))
    scene = with_edges(scene, *crossings(scene))
    if not hidden or len(scene.ends) > MOST_HIDDEN:
        scene = only_edges(scene, ~covered(scene))
    plan = arrange(scene.ends, scene.grid)
    label = label_cells(scene, plan)
    lines = draw(scene, plan, label, hidden)
    patches = _patches(bodies, scene, plan, label, lines)
    strokes = _strokes(bodies, scene, plan, lines)
    low, high = scene.corners.min(axis=(0, 1)), scene.corners.max(axis=(0, 1))
    return Seen(patches, strokes, (float(low[0]), float(low[1]), float(high[0]), float(high[1])))


def _patches(bodies: Sequence[Body], scene: Scene, plan: Map, label: Ints, lines: Lines) -> tuple[Patch, ...]:
    """One patch for each surface that is seen, in order of body and surface."""
    part = _joined_cells(plan, label, (lines.kind >= 0) & (lines.kind < 3))
    order = np.lexsort((part, label))
    order = order[label[order] >= 0]
    cuts = np.flatnonzero(np.diff(part[order])) + 1
    groups = np.split(order, cuts) if len(order) else []
    shapes = [merged(plan.polygons[cells], scene.grid) for cells in groups]
    owner = np.repeat([int(label[cells[0]]) for cells in groups], [len(each) for each in shapes]).tolist()
    polygons: dict[int, list[Polygon2]] = {}
    for surface, polygon in zip(
        owner, _rings([s for each in shapes for s in each], STRAIGHTEN * scene.grid), strict=True
    ):
        polygons.setdefault(surface, []).append(polygon)
    areas = np.bincount(label[order], shapely.area(plan.polygons[order])).tolist()
    means = _means(scene)
    return tuple(
        _patch(bodies, scene, means, surface, tuple(shapes), areas[surface]) for surface, shapes in polygons.items()
    )


@dataclass(frozen=True, eq=False, slots=True)
class _Means:
    """Of each surface, by its number: a triangle of it, its mean normal (n,3), whether it is curved, and its depth."""

    first: Ints
    normals: Floats
    curved: Bools
    depths: Floats


def _means(scene: Scene) -> _Means:
    """Over the triangles of each surface that face the eye, as large as they are in the picture."""
    mine, count = scene.surface, int(scene.surface.max(initial=-1)) + 1
    sizes = np.bincount(mine, scene.area, count)
    total = np.stack([np.bincount(mine, scene.area * scene.normals[:, k], count) for k in range(3)], 1)
    length = np.linalg.norm(total, axis=1)
    normals: Floats = total / np.where(length > 0, length, 1.0)[:, None]
    bent = np.einsum("ij,ij->i", scene.normals, normals[mine]) < FLAT
    deep = np.bincount(mine, scene.area * scene.depths.mean(axis=1), count)
    depths: Floats = deep / np.where(sizes > 0, sizes, 1.0)
    first = np.zeros(count, dtype=np.int64)
    first[mine[::-1]] = np.arange(len(mine))[::-1]  # the first is written last and stays
    return _Means(first, normals, np.bincount(mine, bent, count) > 0, depths)


def _joined_cells(plan: Map, label: Ints, drawn: Bools) -> Ints:
    """Number of the part each cell belongs to: neighbours of one surface with no line between them."""
    one, two = plan.cells.T
    open_ = (one >= 0) & (two >= 0) & ~drawn
    one, two = one[open_], two[open_]
    same = label[one] == label[two]
    return components(len(label), one[same], two[same])


def _rings(shapes: list[shapely.Polygon], tolerance: float) -> list[Polygon2]:
    """Points of polygons, straightened, from a fixed starting point."""
    drawn = shapely.normalize(shapely.simplify(shapes, tolerance, preserve_topology=True))
    rings, owner = shapely.get_rings(drawn, return_index=True)
    lines = [points[-2::-1] for points in polylines(rings)]
    ends = np.searchsorted(owner, np.arange(len(shapes) + 1)).tolist()
    return [(lines[start], tuple(lines[start + 1 : end])) for start, end in pairwise(ends)]


def _patch(
    bodies: Sequence[Body],
    scene: Scene,
    means: _Means,
    surface: int,
    polygons: tuple[Polygon2, ...],
    area: float,
) -> Patch:
    first = int(means.first[surface])
    x, y, z = means.normals[surface].tolist()
    return Patch(
        body=bodies[int(scene.body[first])].key,
        tag=int(scene.tag[first]),
        polygons=polygons,
        normal=(x, y, z),
        curved=bool(means.curved[surface]),
        area=area,
        depth=float(means.depths[surface]),
    )


def _strokes(bodies: Sequence[Body], scene: Scene, plan: Map, lines: Lines) -> tuple[Stroke, ...]:
    """Polylines of each body and kind, in that order."""
    drawn = np.flatnonzero(lines.kind >= 0)
    code = lines.owner[drawn] * len(KINDS) + lines.kind[drawn]
    found, codes = chains(plan.nodes, plan.segments[drawn], code)
    strokes = list[Stroke]()
    for k, points in straightened(plan.nodes, found, STRAIGHTEN * scene.grid, SLIVER * scene.grid):
        body, kind = divmod(codes[k], len(KINDS))
        strokes.append(Stroke(bodies[body].key, KINDS[kind], points))
    return tuple(strokes)
