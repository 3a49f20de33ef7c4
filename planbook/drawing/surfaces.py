"""The smooth surfaces of a piece and which wood lies on each; the same from every side, so found once a piece."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from planbook.solids import Solid
from planbook.solids.columns import least, most
from planbook.solids.faces import smooth_surfaces
from planbook.solids.in_box import Box, joined_boxes, surface_in
from planbook.solids.surface_within import surface_within
from planbook.solids.triangles import planes
from planbook.solids.visible import Body
from planbook.workshop.members import near, told_apart
from planbook.workshop.timeline import Lined, Member, Piece

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

CREASE_DEG = 25.0
"""Surfaces end where neighbouring triangles bend this much."""
LEVEL = 1e-3
"""Corners this near to a plane, mm, lie in it."""
LIKE = 0.99999
"""Least cosine between two normals of a flat surface."""
STEEP = 0.3
"""Least cosine to the direction of the opening for what lies at the bottom of a hollow to be its floor."""
LINED = " lined"
"""What is told in place of a wood where a floor is lined; no wood is written with a blank before its name."""
_ROUND = ((0, 0), (1, 0), (1, 1), (0, 1))
"""The corners of a rectangle, anticlockwise."""


@dataclass(frozen=True, eq=False, slots=True)
class Groups:
    """The smooth surface of each triangle (-1 for a collapsed one), the unit normals of the triangles (n,3), and
    those at their corners (n,3,3): the mean of what meets there in the same surface. `areas` (n,) in mm2; of each
    surface `firsts` is the first triangle, and `flat` says whether it lies in one plane. `body` is all of it.
    """

    tags: Ints
    normals: Floats
    corners: Floats
    areas: Floats
    firsts: tuple[int, ...]
    flat: NDArray[np.bool_]
    body: Body


@lru_cache(maxsize=256)
def groups(solid: Solid) -> Groups:
    """The smooth surfaces of a solid."""
    vertices, triangles = solid.mesh
    bare = Body("", vertices, triangles)
    tags = smooth_surfaces(bare, CREASE_DEG)
    normals, _, areas = planes(vertices[triangles])
    first = np.unique(tags, return_index=True)[1]
    firsts = tuple(first[len(first) - (int(tags.max(initial=-1)) + 1) :].tolist())
    flat = _flat(vertices[triangles], tags, normals, firsts)
    corners = np.repeat(normals[:, None], 3, axis=1)
    bent = np.flatnonzero(~np.append(flat, False)[tags])
    corners[bent] = _at_corners(vertices, triangles[bent], tags[bent], normals[bent])
    return Groups(tags, normals, corners, areas, firsts, flat, bare.tagged(tags))


def _flat(corners: Floats, tags: Ints, normals: Floats, firsts: Sequence[int]) -> NDArray[np.bool_]:
    """Which surfaces have all their corners in the plane of their first triangle, and look the same way."""
    first = np.asarray(firsts, dtype=np.int64)[tags] if firsts else tags
    off = most(np.abs(np.einsum("ijk,ik->ij", corners - corners[first, :1], normals[first])))
    bent = (off > LEVEL) | (np.einsum("ij,ij->i", normals, normals[first]) < LIKE)
    found: NDArray[np.bool_] = np.bincount(tags[tags >= 0], bent[tags >= 0], len(firsts)) == 0
    return found


def _at_corners(vertices: Floats, triangles: NDArray[np.integer], tags: Ints, normals: Floats) -> Floats:
    """Unit normals at the corners of triangles, each normal weighted by the area of its triangle and its angle there.

    So a flat side keeps its own normal up to where a rounding begins, and it does not matter which way the strips of
    a rounding are cut into triangles. What meets at a crease, as do two sides under one rounding, is not mixed.
    """
    corner = vertices[triangles]
    ahead, back = np.roll(corner, -1, axis=1) - corner, np.roll(corner, 1, axis=1) - corner
    cross = np.linalg.norm(np.cross(ahead, back), axis=2)
    weight = cross * np.arctan2(cross, np.einsum("ijk,ijk->ij", ahead, back))
    key = (tags[:, None] + 1) * len(vertices) + triangles
    _, where = np.unique(key.reshape(-1), return_inverse=True)
    weighted = (normals[:, None, :] * weight[:, :, None]).reshape(-1, 3)
    sums = np.stack([np.bincount(where, weighted[:, k]) for k in range(3)], 1).astype(np.float64)
    total: Floats = sums[where]
    total += _across_creases(where, np.repeat(normals, 3, axis=0), weighted, total)
    size = np.linalg.norm(total, axis=1)
    found: Floats = (total / np.where(size > 0, size, 1.0)[:, None]).reshape(-1, 3, 3)
    return found


def _across_creases(where: Ints, own: Floats, weighted: Floats, total: Floats) -> Floats:
    """What corners (n,) at the vertices `where` add to the sum there, lest it mix what bends as much as a crease."""
    found = np.zeros_like(total)
    size = np.linalg.norm(total, axis=1)
    turned = np.einsum("ij,ij->i", own, total) < math.cos(math.radians(CREASE_DEG)) * size
    at = np.flatnonzero(np.bincount(where, turned)[where])
    at = at[np.argsort(where[at], kind="stable")]
    starts = np.flatnonzero(np.diff(where[at], prepend=-1))
    for mine in np.split(at, starts[1:]) if len(at) else ():
        near = own[mine] @ own[mine].T > math.cos(math.radians(CREASE_DEG))
        found[mine] = near @ weighted[mine] - total[mine]
    return found


def wood_names(piece: Piece) -> tuple[str, ...]:
    """The woods of a piece by name, in the order of its members."""
    return tuple(dict.fromkeys(member.wood for member in piece.members))


@dataclass(frozen=True, eq=False, slots=True)
class Woods:
    """Which wood of `names` is where on a solid: the first is where none of the others is.

    Triangles (n,3,3), mm, with the `surface` (n,), the number of the `wood` (n,) and that of the `run` (n,): those of a
    run lie side by side. What is in a member's box may reach beyond its surface; what was cut out (`over`, (n,), is 1)
    goes before what is in boxes, and a lining (2) before all.
    """

    names: tuple[str, ...]
    corners: Floats
    surface: Ints
    wood: Ints
    run: Ints
    over: Ints


def wood_surfaces(piece: Piece, calm: bool = False) -> Woods:
    """Where the woods of a piece, or its first wood alone if it is `calm`, and its linings lie on its surfaces."""
    return _wood_surfaces(piece.solid, piece.members[:1] if calm else near(piece), piece.lined)


@lru_cache(maxsize=256)
def _wood_surfaces(whole: Solid, members: tuple[Member, ...], linings: tuple[Lined, ...]) -> Woods:
    boxed, doubtful = told_apart(members, [member.wood for member in members])
    main = _most(boxed or members, whole.bounds)
    woods = tuple(dict.fromkeys((main, *(member.wood for member in members))))
    names = (*woods, LINED) if linings else woods
    boxes = [
        (wood, box)
        for wood in woods[1:]
        for box in joined_boxes([_within(m.box, whole.bounds) for m in boxed if m.wood == wood])
    ]
    found = [(wood, *each, 0) for (wood, _), each in zip(boxes, _boxed(whole, boxes), strict=True)]
    found += [(m.wood, *surface_within(whole, m.region), 1) for m in doubtful]
    found += [(LINED, *_floor(whole, each), 2) for each in linings]
    tags, counts = groups(whole).tags, [len(source) for _, _, source, _ in found]
    source = np.concatenate([np.zeros(0, dtype=np.int64), *(each for _, _, each, _ in found)])
    surface, member = tags[source], np.repeat(np.arange(len(found)), counts)
    return Woods(
        names,
        np.concatenate([np.zeros((0, 3, 3)), *(corners for _, corners, _, _ in found)]),
        surface,
        np.repeat(np.array([names.index(wood) for wood, _, _, _ in found], dtype=np.int64), counts),
        member * (len(tags) + 1) + surface,
        np.repeat(np.array([over for _, _, _, over in found], dtype=np.int64), counts),
    )


def _floor(whole: Solid, lined: Lined) -> tuple[Floats, Ints]:
    """What of a surface is lined, and which triangle each part of it comes from."""
    corners, source = surface_within(whole, lined.layer)
    there = groups(whole).normals[source] @ np.asarray(lined.way) > STEEP
    return corners[there], source[there]


def _most(members: Sequence[Member], bounds: Box) -> str:
    """The wood whose boxes fill most of a solid, the first of equals."""
    filled = dict.fromkeys((member.wood for member in members), 0.0)
    for member in members:
        low, high = np.maximum(member.box[0], bounds[0]), np.minimum(member.box[1], bounds[1])
        filled[member.wood] += float(np.prod(np.maximum(high - low, 0.0)))
    return max(filled, key=lambda wood: filled[wood], default="")


def _within(box: Box, bounds: Box) -> Box:
    """What of a box matters for a solid, whose bounds it may pass by a millimetre."""
    (a, b, c), (u, v, w) = np.maximum(box[0], np.subtract(bounds[0], 1.0)), np.minimum(box[1], np.add(bounds[1], 1.0))
    return (float(a), float(b), float(c)), (float(u), float(v), float(w))


def _boxed(whole: Solid, boxes: Sequence[tuple[str, Box]]) -> Iterator[tuple[Floats, Ints]]:
    """What of a surface is in each of the boxes of woods, which is much quicker than cutting the solid.

    With it comes a triangle of the surface that each part lies on.
    """
    if boxes:
        corners, normals, source = _outlined(whole)
        for _, box in boxes:
            parts, of = surface_in(corners, normals, box)
            yield parts, source[of]


def _outlined(whole: Solid) -> tuple[Floats, Floats, Ints]:
    """Triangles (n,3,3), their normals and which they were; of flat surfaces two, which make a rectangle around it."""
    vertices, triangles = whole.mesh
    surface = groups(whole)
    flat = np.flatnonzero(surface.flat)
    first = np.asarray(surface.firsts, dtype=np.int64)[flat]
    normals = surface.normals[first]
    right = np.cross(normals, np.eye(3)[np.abs(normals).argmin(axis=1)])
    right /= np.linalg.norm(right, axis=1)[:, None]
    frames = np.stack([right, np.cross(normals, right)], 1)
    of = np.flatnonzero((surface.tags >= 0) & surface.flat[surface.tags])
    place = np.searchsorted(flat, surface.tags[of])
    corners = vertices[triangles]
    across = np.einsum("ijk,ilk->ijl", corners[of], frames[place])
    low, high = np.full((len(flat), 2), np.inf), np.full((len(flat), 2), -np.inf)
    np.minimum.at(low, place, least(across))
    np.maximum.at(high, place, most(across))
    spans = np.stack([low, high], 1)
    base = np.einsum("ij,ij->i", corners[first, 0], normals)[:, None] * normals
    ends = [base + (spans[:, u, :1] * frames[:, 0]) + (spans[:, v, 1:] * frames[:, 1]) for u, v in _ROUND]
    sides = np.concatenate([np.stack([ends[0], ends[1], ends[2]], 1), np.stack([ends[0], ends[2], ends[3]], 1)])
    rest = np.flatnonzero((surface.tags >= 0) & ~surface.flat[surface.tags])
    return (
        np.concatenate([corners[rest], sides]),
        np.concatenate([surface.normals[rest], normals, normals]),
        np.concatenate([rest, first, first]),
    )
