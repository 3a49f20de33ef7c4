"""Pieces looked at from one side: what is seen of each, wood by wood, in mm of the object; no paper, no colours."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from planbook.drawing.ink import LEVELS, LIGHT
from planbook.solids import Solid, Vec3
from planbook.solids.faces import smooth_groups
from planbook.solids.hatch import bands
from planbook.solids.plane import Point2
from planbook.solids.solid import joined
from planbook.solids.visible import Body, Polygon2, Seen, View, see
from planbook.workshop.pieces import member_solids
from planbook.workshop.timeline import Piece

Placed = tuple[Piece, Vec3]
"""A piece and how far it is moved, mm."""

Mesh = tuple[NDArray[np.float64], NDArray[np.int64]]
"""Vertices in mm and triangles."""

CREASE_DEG = 25.0
LOST = 0.002
"""Share of the visible area that may go astray between two ways of looking at the same pieces."""


@dataclass(frozen=True, slots=True)
class Face:
    """The visible part of one smooth surface of piece number `piece`, in one wood."""

    piece: int
    wood: str
    polygons: tuple[Polygon2, ...]
    normal: Vec3
    curved: bool
    area: float


@dataclass(frozen=True, slots=True)
class Shade:
    """A part of a curved surface that has one tone: step `level` of the light."""

    piece: int
    level: int
    polygons: tuple[Polygon2, ...]


@dataclass(frozen=True, slots=True)
class Line:
    """A visible (or, of kind "hidden", invisible) line of a piece."""

    piece: int
    kind: str
    points: tuple[Point2, ...]


@dataclass(frozen=True, slots=True)
class Look:
    """What is seen of some pieces; u right, v up in mm; `bounds` are (left, bottom, right, top)."""

    view: View
    faces: tuple[Face, ...]
    shades: tuple[Shade, ...]
    lines: tuple[Line, ...]
    bounds: tuple[float, float, float, float]

    def area_of(self, piece: int) -> float:
        """Visible area of a piece in mm2 of the picture."""
        return sum(face.area for face in self.faces if face.piece == piece)

    def of(self, piece: int) -> tuple[Face, ...]:
        """Visible faces of a piece, largest first."""
        return tuple(sorted((f for f in self.faces if f.piece == piece), key=lambda f: -f.area))


@lru_cache(maxsize=256)
def plain_look(placed: tuple[Placed, ...], view: View) -> Look:
    """The pieces each in its first wood and without shades, which is enough to choose a view by."""
    seen = _seen(placed, view)
    return Look(view, _faces(placed, seen), (), _lines(seen), seen.bounds)


@lru_cache(maxsize=128)
def look(placed: tuple[Placed, ...], view: View) -> Look:
    """The pieces with their woods and the tones of their curved surfaces."""
    seen = _seen(placed, view)
    faces, lines = _faces(placed, seen), _lines(seen)
    mixed = [n for n, (piece, _) in enumerate(placed) if len(_woods(piece)) > 1]
    if mixed:
        woods = _seen_by_wood(placed, view, faces, mixed)
        faces = tuple(f for f in faces if f.piece not in mixed) + _wood_faces(placed, woods, mixed)
        lines += tuple(line for line in _lines(woods) if line.kind == "seam" and line.piece in mixed)
    return Look(view, faces, _shades(placed, seen, view), lines, seen.bounds)


@lru_cache(maxsize=32)
def hidden_lines(placed: tuple[Placed, ...], view: View, piece: int) -> tuple[Line, ...]:
    """Lines of one piece that lie behind something."""
    seen = see(_bodies(placed), view, crease_deg=CREASE_DEG, hidden=True)
    return tuple(line for line in _lines(seen) if line.kind == "hidden" and line.piece == piece)


@lru_cache(maxsize=256)
def facing_area(piece: Piece, view: View, direction: Vec3, cosine: float) -> float:
    """Area in mm2 of the picture that the faces of a piece about this direction would fill if nothing hid them."""
    vertices, triangles = piece.solid.mesh
    corner = vertices[triangles]
    cross = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]) / 2
    size = np.linalg.norm(cross, axis=1)
    picked = (cross @ np.asarray(direction) >= cosine * size) & (size > 0)
    return float(np.maximum(cross[picked] @ np.asarray(view.toward), 0.0).sum())


def flat(view: View, point: Vec3) -> Point2:
    """A point of the world in the plane of a view, mm."""
    right, up = view.right, view.up
    return (
        sum(a * b for a, b in zip(right, point, strict=True)),
        sum(a * b for a, b in zip(up, point, strict=True)),
    )


@lru_cache(maxsize=256)
def _seen(placed: tuple[Placed, ...], view: View) -> Seen:
    return see(_bodies(placed), view, crease_deg=CREASE_DEG)


def _bodies(placed: Sequence[Placed]) -> list[Body]:
    return [_body(str(n), piece.solid, by, _groups(piece.solid)[0]) for n, (piece, by) in enumerate(placed)]


def _body(key: str, solid: Solid, by: Vec3, tags: NDArray[np.int64] | None = None) -> Body:
    vertices, triangles = solid.mesh
    return Body(key, vertices + np.asarray(by), triangles, tags)


@lru_cache(maxsize=256)
def _groups(solid: Solid) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
    """The smooth surface of each triangle, and the unit normals of the triangles."""
    vertices, triangles = solid.mesh
    corner = vertices[triangles]
    cross = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
    size = np.linalg.norm(cross, axis=1)
    tags = np.full(len(triangles), -1, dtype=np.int64)
    for number, group in enumerate(smooth_groups(Body("", vertices, triangles), CREASE_DEG)):
        tags[list(group)] = number
    return tags, cross / np.where(size > 0, size, 1.0)[:, None]


@lru_cache(maxsize=256)
def _woods(piece: Piece) -> tuple[tuple[str, Solid], ...]:
    """The woods of a piece with their share of its solid; a piece of one wood is not cut up."""
    names = list(dict.fromkeys(member.wood for member in piece.members))
    if len(names) < 2:
        return ((names[0] if names else "", piece.solid),)
    parts: dict[str, list[Solid]] = {}
    for member, solid in member_solids(piece):
        parts.setdefault(member.wood, []).append(solid)
    if len(parts) < 2:
        return ((next(iter(parts), names[0]), piece.solid),)
    return tuple((name, joined(solids)) for name, solids in parts.items())


def _seen_by_wood(placed: Sequence[Placed], view: View, faces: Sequence[Face], mixed: Sequence[int]) -> Seen:
    """The pieces seen with each wood as a body of its own; if leaving out the joints inside lost a face, with them."""
    seen = see(_wood_bodies(placed, _open_parts), view, crease_deg=CREASE_DEG)
    whole = sum(face.area for face in faces if face.piece in mixed)
    found = sum(patch.area for patch in seen.patches if int(patch.body.split()[0]) in mixed)
    if abs(found - whole) <= LOST * whole:
        return seen
    return see(_wood_bodies(placed, _closed_parts), view, crease_deg=CREASE_DEG)


def _wood_bodies(placed: Sequence[Placed], parts_of: Callable[[Piece], Sequence[Mesh]]) -> list[Body]:
    return [
        Body(f"{n} {k}", vertices + np.asarray(by), triangles)
        for n, (piece, by) in enumerate(placed)
        for k, (vertices, triangles) in enumerate(parts_of(piece))
    ]


def _closed_parts(piece: Piece) -> tuple[Mesh, ...]:
    return tuple(part.mesh for _, part in _woods(piece))


@lru_cache(maxsize=256)
def _open_parts(piece: Piece) -> tuple[Mesh, ...]:
    """The woods of a piece without the triangles that lie in no plane of its surface: the joints inside."""
    closed = _closed_parts(piece)
    if len(closed) < 2:
        return closed
    outside, _ = _planes(piece.solid.mesh)
    outside = np.unique(np.round(outside, 4), axis=0)
    return tuple((vertices, triangles[_on(outside, (vertices, triangles))]) for vertices, triangles in closed)


def _on(outside: NDArray[np.float64], mesh: Mesh) -> NDArray[np.bool_]:
    """Which triangles lie in one of the planes (normal, offset); slivers, whose plane is doubtful, count as such."""
    planes, heights = _planes(mesh)
    each, where = np.unique(np.round(planes, 4), axis=0, return_inverse=True)
    near = np.zeros(len(each), dtype=np.bool_)
    for start in range(0, len(each), 512):
        part = each[start : start + 512]
        turn = np.abs(part[:, None, :3] - outside[None, :, :3]).max(axis=2)
        shift = np.abs(part[:, None, 3] - outside[None, :, 3])
        near[start : start + 512] = ((turn < 2e-3) & (shift < 0.02)).any(axis=1)
    kept: NDArray[np.bool_] = near[where.reshape(-1)] | (heights < 0.02)
    return kept


def _planes(mesh: Mesh) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Plane of each triangle as unit normal and offset in mm (n,4), and its height over its longest side (n,)."""
    vertices, triangles = mesh
    corner = vertices[triangles]
    side = np.roll(corner, -1, axis=1) - corner
    cross = np.cross(side[:, 0], side[:, 1])
    size = np.linalg.norm(cross, axis=1)
    normal = cross / np.where(size > 0, size, 1.0)[:, None]
    longest = np.linalg.norm(side, axis=2).max(axis=1, initial=1e-12)
    return np.column_stack([normal, np.einsum("ij,ij->i", normal, corner.mean(axis=1))]), size / longest


def _faces(placed: Sequence[Placed], seen: Seen) -> tuple[Face, ...]:
    found = []
    for patch in seen.patches:
        piece = int(patch.body)
        name = _woods(placed[piece][0])[0][0]
        found.append(Face(piece, name, patch.polygons, patch.normal, patch.curved, patch.area))
    return tuple(found)


def _wood_faces(placed: Sequence[Placed], seen: Seen, mixed: Sequence[int]) -> tuple[Face, ...]:
    found = []
    for patch in seen.patches:
        piece, part = (int(word) for word in patch.body.split())
        if piece in mixed:
            name = _woods(placed[piece][0])[part][0]
            found.append(Face(piece, name, patch.polygons, patch.normal, patch.curved, patch.area))
    return tuple(found)


def _lines(seen: Seen) -> tuple[Line, ...]:
    return tuple(Line(int(s.body.split()[0]), s.kind, s.points) for s in seen.strokes)


def _shades(placed: Sequence[Placed], seen: Seen, view: View) -> tuple[Shade, ...]:
    """Tones of the curved surfaces, from the triangles they are made of."""
    found: list[Shade] = []
    for patch in seen.patches:
        if patch.curved:
            piece, by = placed[int(patch.body)]
            flats, levels = _tones(piece.solid, by, view, patch.tag)
            parts = bands(patch.polygons, flats, levels)
            found.extend(Shade(int(patch.body), step, parts[step]) for step in sorted(parts))
    return tuple(found)


def _tones(solid: Solid, by: Vec3, view: View, tag: int) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """Plane triangles (n,3,2) of one surface that face the eye, and the tone step of each."""
    tags, normals = _groups(solid)
    vertices, triangles = solid.mesh
    frame = np.array([view.right, view.up, view.toward])
    turned = normals @ frame.T
    mine = (tags == tag) & (turned[:, 2] > 1e-5)
    corners = (vertices[triangles[mine]] + np.asarray(by)) @ frame[:2].T
    amount = 0.5 + 0.5 * np.clip(turned[mine] @ np.asarray(LIGHT), -1.0, 1.0)
    return corners, np.clip(((amount - 0.2) / 0.76 * LEVELS).astype(np.int64), 0, LEVELS - 1)
