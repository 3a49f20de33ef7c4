"""Pieces looked at from one side: what is seen of each, wood by wood, in mm of the object; no paper, no colours."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from planbook.drawing.coarse import coarse
from planbook.drawing.own_front import Folds, folds, in_front
from planbook.drawing.surfaces import CREASE_DEG, Floats, Woods, groups, wood_names, wood_surfaces
from planbook.drawing.tones import Shade, curved, shades
from planbook.solids import Solid, Vec3
from planbook.solids.frames import dot
from planbook.solids.parts import Parts, divided
from planbook.solids.plane import Point2
from planbook.solids.visible import Body, Patch, Polygon2, Seen, View, see
from planbook.solids.visible_view import frame_of
from planbook.workshop.timeline import Piece

Placed = tuple[Piece, Vec3]
"""A piece and how far it is moved, mm."""

Standing = tuple[Solid, Vec3]
"""The same without its name and its woods."""

NEAR = 0.05
"""How far from a plane a face may be and still lie in it, mm."""


@dataclass(frozen=True, slots=True)
class Face:
    """The visible part of one smooth surface of piece number `piece`, in the wood (or LINED) that fills most of it.

    A flat face lies in the plane normal · point = `offset` of the world, mm; `surface` is its number on the piece.
    """

    piece: int
    wood: str
    polygons: tuple[Polygon2, ...]
    normal: Vec3
    offset: float
    curved: bool
    area: float
    surface: int = -1

    def lies_on(self, point: Vec3, normal: Vec3) -> bool:
        """Whether it is flat and lies in the plane through a point of the world, turned the same way."""
        return not self.curved and dot(self.normal, normal) > 0.999 and abs(dot(normal, point) - self.offset) < NEAR


@dataclass(frozen=True, slots=True)
class Line:
    """A visible (or, of kind "hidden", invisible) line of a piece."""

    piece: int
    kind: str
    points: tuple[Point2, ...]


@dataclass(frozen=True, slots=True)
class Look:
    """What is seen of some pieces; u right, v up in mm; `bounds` are (left, bottom, right, top).

    `inlays` are the other woods of a face, which lie on it; `shades` lie on both.
    """

    view: View
    faces: tuple[Face, ...]
    inlays: tuple[Face, ...]
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
    faces = tuple(_face(patch, placed) for patch in seen.patches)
    return Look(view, faces, (), (), _lines(seen), seen.bounds)


@lru_cache(maxsize=128)
def look(placed: tuple[Placed, ...], view: View, calm: tuple[int, ...] = ()) -> Look:
    """The pieces with woods, linings and the tones of their curved surfaces; those that are `calm` in one wood."""
    drawn = coarse(tuple(piece.solid for piece, _ in placed))
    if drawn.off:
        placed = tuple((replace(p, solid=solid), by) for (p, by), solid in zip(placed, drawn.solids, strict=True))
    plain = plain_look(placed, view)
    woods = {
        n: wood_surfaces(piece, n in calm)
        for n, (piece, _) in enumerate(placed)
        if piece.lined or (n not in calm and len(wood_names(piece)) > 1)
    }
    faces = [
        replace(face, wood=woods[face.piece].names[0] or face.wood) if face.piece in woods else face
        for face in plain.faces
    ]
    inlays: list[Face] = []
    seams: list[Line] = []
    for n, shares, lines in divided([face.polygons for face in faces], _wooded(faces, woods, placed, view)):
        ground, *others = (replace(faces[n], wood=woods[faces[n].piece].names[k], polygons=area) for k, area in shares)
        faces[n] = ground
        inlays += others
        seams += [Line(ground.piece, "seam", line) for line in lines]
    shades = _all_shades(_solids(placed), view)
    return Look(view, tuple(faces), tuple(inlays), shades, (*plain.lines, *seams), plain.bounds)


def _wooded(faces: Sequence[Face], woods: Mapping[int, Woods], placed: Sequence[Placed], view: View) -> Parts:
    """The triangles of woods that face the eye, each with the number of the face on which it lies."""
    found, folded = [Parts.none()], _folds(_solids(placed), view)
    for piece, known in woods.items():
        face = np.full(int(known.surface.max(initial=-1)) + 1, -1)
        for n, each in enumerate(faces):
            if each.piece == piece and each.surface < len(face):
                face[each.surface] = n
        mine = np.flatnonzero(face[known.surface] >= 0)
        corners = np.dot(known.corners[mine] + np.asarray(placed[piece][1]), frame_of(view).T)[:, :, :2]
        one, two = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
        facing = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0] > 1e-12
        corners, mine = corners[facing], mine[facing]
        rest, shares, source = in_front(folded, [(piece, k) for k in known.surface[mine].tolist()], known.corners[mine])
        corners = np.concatenate([corners[rest], shares @ corners[source]])
        mine = np.concatenate([mine[rest], mine[source]])
        found.append(Parts(corners, face[known.surface[mine]], known.wood[mine], known.run[mine], known.over[mine]))
    return Parts(*(np.concatenate(each) for each in zip(*found, strict=True)))


@lru_cache(maxsize=32)
def hidden_lines(placed: tuple[Placed, ...], view: View, piece: int) -> tuple[Line, ...]:
    """Lines of one piece that lie behind something."""
    seen = see(_bodies(_solids(placed)), view, crease_deg=CREASE_DEG, hidden=True)
    return tuple(line for line in _lines(seen) if line.kind == "hidden" and line.piece == piece)


def facing_area(piece: Piece, view: View, direction: Vec3, cosine: float, surface: int | None = None) -> float:
    """Area in mm2 of the picture that the faces of a piece about this direction would fill if nothing hid them.

    With `surface` only what belongs to that smooth surface: a flat side and its rounded edges are one.
    """
    areas = _facing_areas(piece.solid, view, direction, cosine)
    return float(areas.sum() if surface is None else areas[surface + 1])


@lru_cache(maxsize=256)
def _facing_areas(solid: Solid, view: View, direction: Vec3, cosine: float) -> Floats:
    """The same for each smooth surface, the first being what belongs to none."""
    surface = groups(solid)
    picked = surface.normals @ np.asarray(direction) >= cosine
    seen = np.maximum(surface.normals @ np.asarray(view.toward), 0.0) * surface.areas * picked
    return np.bincount(surface.tags + 1, seen, len(surface.firsts) + 1).astype(np.float64)


def flat(view: View, point: Vec3) -> Point2:
    """A point of the world in the plane of a view, mm."""
    u, v = (sum(a * b for a, b in zip(axis, point, strict=True)) for axis in (view.right, view.up))
    return (u, v)


def flat_all(view: View, points: Sequence[Vec3]) -> tuple[Point2, ...]:
    """The same for many points."""
    put = np.asarray(points) @ np.array([view.right, view.up]).T
    return tuple(zip(*put.T.tolist(), strict=True))


def _solids(placed: Sequence[Placed]) -> tuple[Standing, ...]:
    """What pieces look like but for their woods, so that a piece that was only oiled is not looked at again."""
    return tuple((piece.solid, by) for piece, by in placed)


def _seen(placed: Sequence[Placed], view: View) -> Seen:
    return _seen_solids(_solids(placed), view)


@lru_cache(maxsize=256)
def _seen_solids(solids: tuple[Standing, ...], view: View) -> Seen:
    return see(_bodies(solids), view, crease_deg=CREASE_DEG)


@lru_cache(maxsize=128)
def _all_shades(solids: tuple[Standing, ...], view: View) -> tuple[Shade, ...]:
    seen = _seen_solids(solids, view)
    return shades(seen, solids, view, _folds(solids, view))


@lru_cache(maxsize=128)
def _folds(solids: tuple[Standing, ...], view: View) -> Folds:
    """What is seen of the curved surfaces that hide something of themselves."""
    return folds(curved(_seen_solids(solids, view))[0], solids, view)


def _bodies(solids: Sequence[Standing]) -> list[Body]:
    return [groups(solid).body.moved(str(n), by) for n, (solid, by) in enumerate(solids)]


def _face(patch: Patch, placed: Sequence[Placed]) -> Face:
    number = int(patch.body)
    piece, by = placed[number]
    wood = next(iter(wood_names(piece)), "")
    vertices, triangles = piece.solid.mesh
    first = vertices[triangles[groups(piece.solid).firsts[patch.tag], 0]] + np.asarray(by)
    offset = float(np.asarray(patch.normal) @ first)
    return Face(number, wood, patch.polygons, patch.normal, offset, patch.curved, patch.area, patch.tag)


def _lines(seen: Seen) -> tuple[Line, ...]:
    return tuple(Line(int(stroke.body), stroke.kind, stroke.points) for stroke in seen.strokes)
