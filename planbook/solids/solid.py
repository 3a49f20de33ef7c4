"""Solids: closed bodies with exact topology; a thin, immutable cover over the solid geometry library."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import dist

import numpy as np
from manifold3d import CrossSection, FillRule, Manifold, Mesh64, OpType
from numpy.typing import NDArray
from shapely.geometry import MultiPolygon, Polygon
from shapely.ops import unary_union

from planbook.solids.frames import Frame, Vec3, dot
from planbook.solids.plane import Area, Point2, circle

SLIVER = 1e-4
"""Edges shorter than this (mm) mean nothing in wood."""
STEADY = 1e-7
"""Share of its volume that a body may change by when it is tidied."""
LEVEL = 1e-6
"""Faces whose heights differ by less than this (mm) are one."""
SKIN = 1e-4
"""Depth in mm at which a face is looked at from inside."""


@dataclass(frozen=True, eq=False)
class Solid:
    """A body in world millimetres, possibly empty or in several parts."""

    body: Manifold

    @cached_property
    def volume(self) -> float:
        """Its volume in mm3."""
        return float(self.body.volume())

    @property
    def surface(self) -> float:
        """The area of its surface in mm2."""
        return float(self.body.surface_area())

    @property
    def empty(self) -> bool:
        """True where there is nothing."""
        return bool(self.body.is_empty()) or self.volume < 1e-6

    @cached_property
    def bounds(self) -> tuple[Vec3, Vec3]:
        """Lower and upper corner of its box, mm."""
        b = self.body.bounding_box()
        return (b[0], b[1], b[2]), (b[3], b[4], b[5])

    @property
    def extent(self) -> Vec3:
        """Its width (x), depth (y) and height (z), mm."""
        lo, hi = self.bounds
        return (hi[0] - lo[0], hi[1] - lo[1], hi[2] - lo[2])

    @property
    def genus(self) -> int:
        """The number of holes through it."""
        return int(self.body.genus())

    @cached_property
    def mesh(self) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
        """Vertices (n, 3) in mm and triangles (m, 3), counter-clockwise seen from outside."""
        mesh = self.body.to_mesh64()
        return np.asarray(mesh.vert_properties)[:, :3].copy(), np.asarray(mesh.tri_verts).astype(np.int64)

    @cached_property
    def middle(self) -> Vec3:
        """Its centre of gravity, mm."""
        vertices, triangles = self.mesh
        if not len(triangles):
            return (0.0, 0.0, 0.0)
        a, b, c = (vertices[triangles[:, i]] for i in range(3))
        weight = np.einsum("ij,ij->i", a, np.cross(b, c))
        total = weight.sum() or 1.0
        x, y, z = ((a + b + c) * weight[:, None]).sum(axis=0) / (4 * total)
        return (float(x), float(y), float(z))

    def moved(self, by: Vec3) -> "Solid":
        """Shifted by a vector in mm."""
        return Solid(self.body.translate(by)) if any(by) else self

    def turned(self, axis: Vec3, degrees: float, about: Vec3 = (0.0, 0.0, 0.0)) -> "Solid":
        """Turned counter-clockwise about an axis through `about`."""
        return Solid(self.body.transform(_rotation(axis, degrees, about)))

    def laid(self, here: Frame, there: Frame, stretch: Vec3 = (1.0, 1.0, 1.0)) -> "Solid":
        """As it lies in one frame laid alike in another, stretched along (u, v, n) from the origin."""
        return Solid(_laid(self.body, here).scale(stretch).transform(_to_world(there)))

    def mirrored(self, axis: Vec3, at: float) -> "Solid":
        """Mirrored in the plane across `axis` at `at` mm from the world's origin."""
        shift = (-axis[0] * at, -axis[1] * at, -axis[2] * at)
        back = (axis[0] * at, axis[1] * at, axis[2] * at)
        return Solid(self.body.translate(shift).mirror(axis).translate(back))

    def grown(self, by: float) -> "Solid":
        """A little larger about its middle: its longest side grows by twice `by` mm."""
        factor = 1 + 2 * by / max(max(self.extent), 1e-9)
        x, y, z = self.middle
        return Solid(self.body.translate((-x, -y, -z)).scale((factor,) * 3).translate((x, y, z)))

    def warped(self, move: Callable[[NDArray[np.float64]], NDArray[np.float64]]) -> "Solid":
        """With every corner put where `move` says: (n, 3) in mm to (n, 3) in mm."""
        return Solid(self.body.warp_batch(move))

    def tidy(self) -> "Solid":
        """The same body with flat faces in few triangles; corners closer than SLIVER are made one.

        A body that would gain or lose wood by it (the library closes some narrow slots) is left as it is.
        """
        found = Solid(self.body.as_original().simplify(SLIVER))
        return found if abs(found.volume - self.volume) <= STEADY * self.volume else self

    def coarser(self, by: float) -> "Solid":
        """With fewer triangles, its surface nowhere more than about `by` mm from where it was; perhaps empty."""
        return Solid(self.body.as_original().simplify(by))

    def minus(self, *others: "Solid") -> "Solid":
        """What is left when the others are taken away."""
        if not others:
            return self
        return Solid(Manifold.batch_boolean([self.body, *(o.body for o in others)], OpType.Subtract))

    def plus(self, *others: "Solid") -> "Solid":
        """The union."""
        return Solid(Manifold.batch_boolean([self.body, *(o.body for o in others)], OpType.Add))

    def meet(self, other: "Solid") -> "Solid":
        """The overlap."""
        return Solid(self.body ^ other.body)

    def parted(self, cutter: "Solid") -> tuple["Solid", "Solid"]:
        """(what lies in the cutter, what lies outside it), for hardly more work than one of the two."""
        inside, outside = self.body.split(cutter.body)
        return Solid(inside), Solid(outside)

    def split(self, normal: Vec3, offset: float) -> tuple["Solid", "Solid"]:
        """(the part beyond the plane normal . p = offset, the part before it)."""
        beyond, before = self.body.split_by_plane(normal, offset)
        return Solid(beyond), Solid(before)

    @cached_property
    def parts(self) -> tuple["Solid", ...]:
        """The parts that hang together, in a fixed order (by their boxes); a closed cavity belongs to its part."""
        found = [Solid(m) for m in self.body.decompose()]
        cavities = [each for each in found if each.volume < 0]
        if cavities:
            found = _with_cavities([each for each in found if each.volume >= 0], cavities)
        return tuple(sorted(found, key=lambda s: tuple(round(c, 4) for corner in s.bounds for c in corner)))

    def reach(self, direction: Vec3) -> float:
        """How far it extends along a unit direction: the largest direction . p, mm."""
        if sorted(map(abs, direction)) == [0.0, 0.0, 1.0]:
            # Along an axis its box says it; most questions are of this kind.
            return 0.0 if self.body.is_empty() else dot(direction, self.bounds[sum(direction) > 0])
        vertices, _ = self.mesh
        return float((vertices @ np.asarray(direction)).max()) if len(vertices) else 0.0

    def level(self, direction: Vec3, within: float) -> bool:
        """Whether the flat faces that look along a unit direction, within so many mm of the outermost, are one."""
        vertices, triangles = self.mesh
        if not len(triangles):
            return True
        corners = vertices[triangles]
        cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        facing = cross @ np.asarray(direction) > (1 - 1e-9) * np.linalg.norm(cross, axis=1)
        heights = corners[facing].reshape(-1, 3) @ np.asarray(direction)
        near = heights[heights > self.reach(direction) - within]
        return len(near) > 0 and float(np.ptp(near)) < LEVEL

    def shadow(self, frame: Frame) -> Area:
        """Its outline as seen along the frame's normal, in (u, v)."""
        return _area(_laid(self.body, frame).project())

    def section(self, frame: Frame, n: float) -> Area:
        """Where the plane at height `n` of the frame cuts it, in (u, v)."""
        return _area(_laid(self.body, frame).slice(n))

    def face(self, frame: Frame) -> Area:
        """Its outermost flat face in the direction of the frame's normal, in (u, v)."""
        return self.section(frame, self.reach(frame.n) - dot(frame.origin, frame.n) - SKIN)

    def flat(self, direction: Vec3) -> float | None:
        """How far out its largest flat face is that looks along a unit direction: direction . p, mm; or None."""
        vertices, triangles = self.mesh
        way = np.asarray(direction)
        a, b, c = (vertices[triangles[:, i]] for i in range(3))
        normals = np.cross(b - a, c - a)
        sizes = np.linalg.norm(normals, axis=1)
        facing = (normals @ way > 0.99999 * sizes) & (sizes > 0)
        if not facing.any():
            return None
        levels, at = np.unique(np.round((a @ way)[facing], 4), return_inverse=True)
        return float(levels[np.argmax(np.bincount(at, weights=sizes[facing]))])

    def gap(self, other: "Solid", search: float) -> float:
        """The smallest distance to another solid, up to `search` mm; 0 where they touch or overlap."""
        return float(self.body.min_gap(other.body, search))

    def hits(self, start: Vec3, end: Vec3) -> list[float]:
        """Distances from `start` along the ray to `end` at which its surface is crossed, mm."""
        length = dist(start, end)
        return sorted(float(hit.distance) * length for hit in self.body.ray_cast(start, end))

    def walls(self, start: Vec3, end: Vec3) -> list[tuple[float, Vec3]]:
        """(distance in mm, outward normal) of every crossing of its surface along a ray."""
        length = dist(start, end)
        hits = sorted(self.body.ray_cast(start, end), key=lambda hit: hit.distance)
        return [(float(h.distance) * length, (h.normal[0], h.normal[1], h.normal[2])) for h in hits]


def _with_cavities(shells: Sequence[Solid], cavities: Sequence[Solid]) -> list[Solid]:
    """Every shell with the closed cavities that lie in it: each in the smallest shell around it."""
    inside: dict[int, list[Solid]] = {}
    for cavity in cavities:
        around = [i for i, shell in enumerate(shells) if _around(shell, cavity)]
        if around:
            inside.setdefault(min(around, key=lambda i: shells[i].volume), []).append(cavity)
    return [_together([shell, *inside[i]]) if i in inside else shell for i, shell in enumerate(shells)]


def _together(solids: Sequence[Solid]) -> Solid:
    """The surfaces of several solids as one, each turned as it is."""
    meshes = [solid.mesh for solid in solids]
    starts = np.cumsum([0, *(len(vertices) for vertices, _ in meshes)])
    triangles = [corners + start for (_, corners), start in zip(meshes, starts, strict=False)]
    vertices = np.concatenate([vertices for vertices, _ in meshes])
    return Solid(Manifold(Mesh64(vertices, np.concatenate(triangles).astype(np.uint64))))


def _around(shell: Solid, cavity: Solid) -> bool:
    """Whether a shell encloses a cavity: a ray from one of its corners crosses the shell an odd number of times."""
    x, y, z = (float(each) for each in cavity.mesh[0][0])
    far = 2 * (sum(shell.extent) + sum(cavity.extent)) + 1
    # Along no axis, so that the ray grazes no flat face of a board.
    return len(shell.hits((x, y, z), (x + 0.81 * far, y + 0.47 * far, z + 0.34 * far))) % 2 == 1


def nothing() -> Solid:
    """The empty solid."""
    return Solid(Manifold())


def block(lo: Vec3, hi: Vec3) -> Solid:
    """A box between two corners, mm."""
    size = (hi[0] - lo[0], hi[1] - lo[1], hi[2] - lo[2])
    return Solid(Manifold.cube(size).translate(lo))


def prism(area: Area, frame: Frame, near: float, far: float) -> Solid:
    """An area of a frame made solid from height `near` to `far` along the frame's normal, mm."""
    if area.empty or far <= near:
        return nothing()
    section = CrossSection([np.asarray(ring) for ring in area.rings], FillRule.Positive)
    return Solid(section.extrude(far - near).translate((0.0, 0.0, near)).transform(_to_world(frame)))


def cylinder(frame: Frame, at: Point2, radius: float, near: float, far: float) -> Solid:
    """A round bar about the frame's normal at (u, v), mm."""
    return prism(circle(at, radius), frame, near, far)


def joined(solids: Iterable[Solid]) -> Solid:
    """The union of any number of solids."""
    bodies = [s.body for s in solids]
    return Solid(Manifold.batch_boolean(bodies, OpType.Add)) if bodies else nothing()


def from_mesh(vertices: NDArray[np.float64], triangles: NDArray[np.int64]) -> Solid:
    """A solid from a closed mesh; empty if the mesh is not closed."""
    return Solid(Manifold(Mesh64(np.asarray(vertices, np.float64), np.asarray(triangles, np.uint64))))


def _to_world(frame: Frame) -> NDArray[np.float64]:
    return np.array([frame.u, frame.v, frame.n, frame.origin], dtype=np.float64).T


@lru_cache(maxsize=16)
def _laid(body: Manifold, frame: Frame) -> Manifold:
    """A body as it lies in a frame; mostly it is then cut at many levels."""
    turn = np.array([frame.u, frame.v, frame.n], dtype=np.float64)
    shift = -turn @ np.asarray(frame.origin, dtype=np.float64)
    return body.transform(np.column_stack([turn, shift]))


def _area(section: CrossSection) -> Area:
    rings = [np.asarray(r) for r in section.to_polygons()]
    turns = [_signed(r) for r in rings]
    outers = [Polygon(r) for r, turn in zip(rings, turns, strict=True) if turn > 0]
    holes = [Polygon(r) for r, turn in zip(rings, turns, strict=True) if turn < 0]
    if not outers:
        return Area(MultiPolygon())
    sound = [p if p.is_valid else p.buffer(0) for p in outers]
    shape = sound[0] if len(sound) == 1 else unary_union(sound)
    if holes:
        shape = shape.difference(unary_union([p if p.is_valid else p.buffer(0) for p in holes]))
    return Area(shape)


def _signed(ring: NDArray[np.float64]) -> float:
    x, y = ring[:, 0], ring[:, 1]
    inner = float(x[:-1] @ y[1:] - x[1:] @ y[:-1])
    return (inner + float(x[-1] * y[0] - x[0] * y[-1])) / 2


def _rotation(axis: Vec3, degrees: float, about: Vec3) -> NDArray[np.float64]:
    a = np.asarray(axis, dtype=np.float64)
    a = a / np.linalg.norm(a)
    angle = np.radians(degrees)
    cross = np.array([[0, -a[2], a[1]], [a[2], 0, -a[0]], [-a[1], a[0], 0]])
    turn = np.eye(3) + np.sin(angle) * cross + (1 - np.cos(angle)) * (cross @ cross)
    centre = np.asarray(about, dtype=np.float64)
    return np.column_stack([turn, centre - turn @ centre])
