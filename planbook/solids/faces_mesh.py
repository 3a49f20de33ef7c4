"""Welded triangle meshes with their edges and smooth surfaces; knows nothing of views or pictures."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planbook.solids.columns import every, most, some

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

RESOLUTION = 2.0**-21
"""Smallest length told apart, as a share of the largest coordinate (0.00006 mm at 128 mm)."""
WEAK = 4.0
"""A triangle lower than this many resolutions has no normal of its own."""


@dataclass(frozen=True, eq=False)
class Body:
    """One solid as a mesh: `vertices` (n,3) in mm, `triangles` (m,3) counter-clockwise seen from outside.

    `tags` (m,) is the caller's mark on each triangle (which member, which wood); surfaces never cross a tag. It stands
    `at` mm from where its vertices are.
    """

    key: str
    vertices: Floats
    triangles: NDArray[np.integer]
    tags: NDArray[np.integer] | None = None
    at: tuple[float, float, float] = (0.0, 0.0, 0.0)

    @property
    def corners(self) -> Floats:
        """Those of its triangles where it stands (m,3,3), mm."""
        found: Floats = self.vertices[self.triangles] + np.asarray(self.at)
        return found

    @cached_property
    def mesh(self) -> "Mesh":
        """Its own mesh, welded, where its vertices are. Raises ValueError for arrays that do not fit each other."""
        return _welded(self)

    def tagged(self, tags: Ints) -> "Body":
        """The same body with other tags (m,)."""
        found = replace(self, tags=tags)
        found.__dict__["mesh"] = replace(self.mesh, tag=tags[self.mesh.source])
        return found

    def moved(self, key: str, at: tuple[float, float, float]) -> "Body":
        """The same body under another key in another place; what was found out about its mesh goes with it."""
        found = replace(self, key=key, at=at)
        found.__dict__["mesh"] = self.mesh
        return found


@dataclass(frozen=True, eq=False, slots=True)
class Mesh:
    """Several bodies in one welded mesh.

    Per triangle: `triangles` (m,3) into `points`, `body`, `tag`, `source` (its index in its own body), unit
    `normals` (m,3), `areas` in mm². Per edge: `edges` (k,2) into `points`, `sides` (k,2) into triangles with
    -1 for none, `bend` (k,) cosine of the angle between the two normals. `resolution` in mm: what is noise.
    """

    points: Floats
    triangles: Ints
    body: Ints
    tag: Ints
    source: Ints
    normals: Floats
    areas: Floats
    edges: Ints
    sides: Ints
    bend: Floats
    resolution: float


def welded(bodies: Sequence[Body]) -> Mesh:
    """Put bodies in one mesh: equal corners become one point (within a body only), collapsed triangles go.

    Triangles with a corner that is not a finite number are left out. Raises ValueError for arrays that do not
    fit each other.
    """
    meshes = [body.mesh for body in bodies] or [_welded(Body("", np.empty((0, 3)), np.empty((0, 3), dtype=np.int64)))]
    shifts = [np.asarray(body.at) for body in bodies] or [np.zeros(3)]
    points = np.concatenate([mesh.points + by for mesh, by in zip(meshes, shifts, strict=True)])
    first = np.cumsum([0, *(len(mesh.points) for mesh in meshes)])
    start = np.cumsum([0, *(len(mesh.triangles) for mesh in meshes)])

    return Mesh(
        points,
        np.concatenate([mesh.triangles + by for mesh, by in zip(meshes, first, strict=False)]),
        np.repeat(np.arange(len(meshes)), np.diff(start)),
        np.concatenate([mesh.tag for mesh in meshes]),
        np.concatenate([mesh.source for mesh in meshes]),
        np.concatenate([mesh.normals for mesh in meshes]),
        np.concatenate([mesh.areas for mesh in meshes]),
        np.concatenate([mesh.edges + by for mesh, by in zip(meshes, first, strict=False)]),
        np.concatenate([np.where(m.sides < 0, -1, m.sides + by) for m, by in zip(meshes, start, strict=False)]),
        np.concatenate([mesh.bend for mesh in meshes]),
        _resolution(points),
    )


def _resolution(points: Floats) -> float:
    """What is noise, mm: a share of a power of two not above the largest coordinate."""
    scale = float(np.abs(points).max()) if points.size else 1.0
    return 2.0 ** math.floor(math.log2(scale)) * RESOLUTION if scale > 0 else RESOLUTION


def _welded(body: Body) -> Mesh:
    triangles, tag = _checked(body)
    vertices = np.asarray(body.vertices, dtype=np.float64).reshape(-1, 3)
    finite: Bools = every(np.isfinite(vertices))
    source = np.flatnonzero(every(finite[triangles]))
    resolution = _resolution(vertices[triangles[source]])
    points, number = _weld(np.where(finite[:, None], vertices, 0.0), resolution / 8)
    triangles = number[triangles[source]]
    whole = (
        (triangles[:, 0] != triangles[:, 1])
        & (triangles[:, 1] != triangles[:, 2])
        & (triangles[:, 2] != triangles[:, 0])
    )
    triangles, source = triangles[whole], source[whole]
    normals, areas, height = _normals(points, triangles)
    edges, sides = _edges(triangles, len(points))
    normals = _inherited(points, edges, sides, normals, height < WEAK * resolution)
    left, right = normals[sides[:, 0]], normals[sides[:, 1]]
    bend = np.where(sides[:, 1] < 0, -1.0, np.einsum("ij,ij->i", left, right))
    alone = np.zeros(len(triangles), dtype=np.int64)
    return Mesh(points, triangles, alone, tag[source], source, normals, areas, edges, sides, bend, resolution)


def surfaces(mesh: Mesh, crease_deg: float) -> Ints:
    """Smooth surface each triangle belongs to (m,): neighbours that bend less than `crease_deg`."""
    return components(len(mesh.triangles), *mesh.sides[smooth_edges(mesh, crease_deg)].T)


def smooth_edges(mesh: Mesh, crease_deg: float) -> Bools:
    """Which edges (k,) lie inside a smooth surface: one tag on both sides, bent less than `crease_deg`."""
    same = mesh.tag[mesh.sides[:, 0]] == mesh.tag[mesh.sides[:, 1]]
    smooth: Bools = (mesh.sides[:, 1] >= 0) & same & (mesh.bend > math.cos(math.radians(crease_deg)))
    return smooth


def components(count: int, first: Ints, second: Ints) -> Ints:
    """Smallest member of the connected part each of `count` things is in; first[i] touches second[i]."""
    label = np.arange(count, dtype=np.int64)
    while True:
        one, two = label[first], label[second]
        apart = one != two
        if not apart.any():
            return label
        first, second, one, two = first[apart], second[apart], one[apart], two[apart]
        np.minimum.at(label, np.maximum(one, two), np.minimum(one, two))
        while not np.array_equal(shorter := label[label], label):
            label = shorter


def _checked(body: Body) -> tuple[Ints, Ints]:
    """Triangles and tags that fit each other."""
    triangles = np.asarray(body.triangles, dtype=np.int64).reshape(-1, 3)
    count = len(triangles)
    tags = np.zeros(count, dtype=np.int64) if body.tags is None else np.asarray(body.tags, dtype=np.int64)
    if tags.shape != (count,):
        raise ValueError(f"body {body.key!r} has {count} triangles but {tags.size} tags")
    if count and (triangles.min() < 0 or triangles.max() >= np.size(body.vertices) // 3):
        raise ValueError(f"body {body.key!r} has a triangle that names a vertex it does not have")
    return triangles, tags


def _weld(vertices: Floats, step: float) -> tuple[Floats, Ints]:
    """Points, and which of them each vertex (n,3) is; vertices within `step` of each other are one point."""
    if not len(vertices):
        return vertices, np.empty(0, dtype=np.int64)
    keys = np.rint(vertices / step)
    order = np.lexsort((keys[:, 2], keys[:, 1], keys[:, 0]))
    keys = keys[order]
    new = np.ones(len(vertices), dtype=np.bool_)
    new[1:] = some(keys[1:] != keys[:-1])
    number = np.empty(len(vertices), dtype=np.int64)
    number[order] = np.cumsum(new) - 1
    return vertices[order[new]], number


def _normals(points: Floats, triangles: Ints) -> tuple[Floats, Floats, Floats]:
    """Unit normals, areas, and height over the longest side of each triangle."""
    corner = points[triangles]
    side = np.roll(corner, -1, axis=1) - corner
    cross = np.cross(side[:, 0], side[:, 1])
    twice = np.linalg.norm(cross, axis=1)
    longest = np.sqrt(most(np.einsum("ijk,ijk->ij", side, side)))
    safe = np.where(twice > 0, twice, 1.0)
    return cross / safe[:, None], twice / 2, twice / np.where(longest > 0, longest, 1.0)


def _edges(triangles: Ints, count: int) -> tuple[Ints, Ints]:
    """Edges as point pairs and the triangles on both sides; one with more than two is taken apart."""
    start, end = triangles.reshape(-1), np.roll(triangles, -1, axis=1).reshape(-1)
    low, high = np.minimum(start, end), np.maximum(start, end)
    order = np.argsort(low * count + high, kind="stable")
    low, high, owner = low[order], high[order], order // 3
    key = low * count + high
    first = np.flatnonzero(np.r_[True, key[1:] != key[:-1]]) if len(key) else np.empty(0, dtype=np.int64)
    uses = np.diff(np.r_[first, len(key)])
    pairs, single = first[uses == 2], np.repeat(uses != 2, uses)
    lone = np.flatnonzero(single)
    edges = np.concatenate([np.stack([low[pairs], high[pairs]], 1), np.stack([low[lone], high[lone]], 1)])
    sides = np.concatenate(
        [
            np.stack([owner[pairs], owner[pairs + 1]], 1) if len(pairs) else np.empty((0, 2), dtype=np.int64),
            np.stack([owner[lone], np.full(len(lone), -1)], 1),
        ]
    )
    return edges, sides


def _inherited(points: Floats, edges: Ints, sides: Ints, normals: Floats, weak: Bools) -> Floats:
    """Normals where each weak triangle has taken that of its neighbour over its longest side."""
    if not weak.any():
        return normals
    normals, weak = normals.copy(), weak.copy()
    length = np.linalg.norm(points[edges[:, 0]] - points[edges[:, 1]], axis=1)
    order = np.argsort(length, kind="stable")
    order = order[sides[order, 1] >= 0]
    for _ in range(8):
        one, two = sides[order].T
        take, give = np.concatenate([one, two]), np.concatenate([two, one])
        rank = np.concatenate([np.arange(len(order))] * 2)
        useful = weak[take] & ~weak[give]
        if not useful.any():
            break
        sort = np.argsort(rank[useful], kind="stable")
        take, give = take[useful][sort], give[useful][sort]
        normals[take] = normals[give]  # the longest side is written last and stays
        weak[take] = False
    return normals
