"""Flat faces and smooth surfaces of one body, found from its triangles; not for pictures."""

import math
from dataclasses import dataclass

import numpy as np
import shapely

from planbook.solids.columns import most
from planbook.solids.faces_merge import merged
from planbook.solids.faces_mesh import Body, Floats, Ints, Mesh, components, surfaces

__all__ = ["Body", "Face", "Polygon3", "Ring3", "planar_faces", "smooth_surfaces"]

Ring3 = tuple[tuple[float, float, float], ...]
Polygon3 = tuple[Ring3, tuple[Ring3, ...]]

FLAT_DEG = 0.05
"""Neighbouring triangles that bend less than this may lie in one plane."""


@dataclass(frozen=True, slots=True)
class Face:
    """A flat face: unit outward `normal`, `offset` (normal · point, mm), `area` in mm².

    `polygons` are (outer ring, holes) in space, mm, the outer ring counter-clockwise seen from outside.
    `triangles` are indices into the body's own triangles.
    """

    normal: tuple[float, float, float]
    offset: float
    tag: int
    area: float
    polygons: tuple[Polygon3, ...]
    triangles: tuple[int, ...]


def smooth_surfaces(body: Body, crease_deg: float = 25.0) -> Ints:
    """The number of the smooth surface of each triangle (m,): joined over edges that bend less than `crease_deg`.

    They are numbered in the order of their first triangles; collapsed triangles belong to none (-1).
    """
    mesh = body.mesh
    found = np.full(len(body.triangles), -1, dtype=np.int64)
    _, found[mesh.source] = np.unique(surfaces(mesh, crease_deg), return_inverse=True)
    return found


def planar_faces(body: Body) -> tuple[Face, ...]:
    """Flat faces of a body: adjacent triangles of one tag in one plane, ordered by their first triangle.

    Facets of a curved surface stay single faces, however finely it is divided.
    """
    mesh = body.mesh
    return tuple(_face(mesh, part) for part in _parts(_planes(mesh)))


def _parts(label: Ints) -> list[Ints]:
    """Members of each label, in order of the label."""
    order = np.argsort(label, kind="stable")
    cuts = np.flatnonzero(np.diff(label[order])) + 1
    return [part for part in np.split(order, cuts) if len(part)]


def _planes(mesh: Mesh) -> Ints:
    """Label of the plane of each triangle; a chain of tiny bends that curves is taken apart again."""
    label = surfaces(mesh, FLAT_DEG)
    normal, offset = _mean_planes(mesh, label)
    off = np.abs(np.einsum("ijk,ik->ij", mesh.points[mesh.triangles], normal[label]) - offset[label][:, None])
    curved = np.zeros(len(label), dtype=np.bool_)
    curved[label[most(off) > 8 * mesh.resolution]] = True
    one, two = mesh.sides.T
    keep = (two >= 0) & (mesh.tag[one] == mesh.tag[two]) & (mesh.bend > math.cos(math.radians(FLAT_DEG)))
    exact = np.linalg.norm(mesh.normals[one] - mesh.normals[two], axis=1) < 1e-6
    keep &= ~curved[label[one]] | exact
    return components(len(label), one[keep], two[keep])


def _mean_planes(mesh: Mesh, label: Ints) -> tuple[Floats, Floats]:
    """Area-weighted unit normal (m,3) and offset (m,) per label."""
    count = len(label)
    weighted = mesh.areas[:, None] * mesh.normals
    normal: Floats = np.stack([np.bincount(label, weighted[:, k], count) for k in range(3)], 1).astype(np.float64)
    length = np.linalg.norm(normal, axis=1)
    normal = normal / np.where(length > 0, length, 1.0)[:, None]
    middle = np.einsum("ij,ij->i", mesh.points[mesh.triangles].mean(axis=1), normal[label])
    area = np.bincount(label, mesh.areas, count)
    offset: Floats = np.bincount(label, mesh.areas * middle, count) / np.where(area > 0, area, 1.0)
    return normal, offset


def _face(mesh: Mesh, part: Ints) -> Face:
    """The face made of the triangles `part`."""
    weight = mesh.areas[part]
    largest = part[int(np.argmax(weight))]
    total = (weight[:, None] * mesh.normals[part]).sum(axis=0)
    length = float(np.linalg.norm(total))
    normal = total / length if length > 0 else mesh.normals[largest]
    corners = mesh.points[mesh.triangles[part]]
    offset = float((corners[np.argmax(weight)] @ normal).mean())
    right, up = _axes(normal)
    flat = np.stack([corners @ right, corners @ up], axis=-1)
    return Face(
        normal=(float(normal[0]), float(normal[1]), float(normal[2])),
        offset=offset,
        tag=int(mesh.tag[largest]),
        area=float(weight.sum()),
        polygons=_polygons(flat[weight > 0], np.stack([right, up, normal]), offset, mesh.resolution),
        triangles=tuple(sorted(mesh.source[part].tolist())),
    )


def _axes(normal: Floats) -> tuple[Floats, Floats]:
    """Two unit vectors that make a right-handed frame with `normal`."""
    helper = np.eye(3)[int(np.argmin(np.abs(normal)))]
    right = np.cross(helper, normal)
    right /= np.linalg.norm(right) or 1.0
    return right, np.cross(normal, right)


def _polygons(flat: Floats, frame: Floats, offset: float, grid: float) -> tuple[Polygon3, ...]:
    """Outlines of triangles (n,3,2) in the plane, put back into space."""
    if not len(flat):
        return ()

    def in_space(ring: shapely.LinearRing, anticlockwise: bool) -> Ring3:
        coords = shapely.get_coordinates(ring)[:-1]
        if bool(shapely.is_ccw(ring)) is not anticlockwise:
            coords = coords[::-1]
        space = np.column_stack([coords, np.full(len(coords), offset)]) @ frame
        return tuple((x, y, z) for x, y, z in space.tolist())

    return tuple(
        (in_space(part.exterior, True), tuple(in_space(hole, False) for hole in part.interiors))
        for part in merged(shapely.polygons(flat), grid)
    )
