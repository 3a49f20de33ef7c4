"""Solids of revolution about a frame's normal, and cutters that follow the rim of a face; not how they are used."""

import math
from collections.abc import Sequence

import numpy as np
from manifold3d import CrossSection, FillRule
from numpy.typing import NDArray
from shapely.geometry import LineString

from planbook.solids.frames import Frame, Vec3, dot
from planbook.solids.plane import Area, Point2, Ring, circle, step_angle
from planbook.solids.solid import Solid, from_mesh, nothing

Floats = NDArray[np.float64]
BEYOND = 0.5
"""How far (mm) a cutter reaches out of the wood, so that no skin is left on it."""
COARSE = 4
"""Fewest flats of a quarter circle: a smooth surface in drawings, whose edges bend less than 25 degrees."""
STRAY = 1e-3
"""Corners of a rim that lie this close (mm) to a straight line are left out."""


def cone(frame: Frame, at: Point2, low: tuple[float, float], high: tuple[float, float]) -> Solid:
    """A blunt cone about the frame's normal at (u, v), between two (height, radius) in mm, the higher one wider."""
    (near, small), (far, large) = low, high
    if far <= near or large <= 0 or small > large:
        return nothing()
    # The ring of the wide end, so that the cone meets a hole of that size without slivers.
    ring = np.asarray(circle((0.0, 0.0), large).rings[0])[:, ::-1] * (1.0, -1.0)
    wide = CrossSection([ring], FillRule.NonZero).extrude(far - near, scale_top=(small / large,) * 2)
    # It was drawn from its wide end: turned over about u and put in its place.
    over = np.array([frame.u, [-c for c in frame.v], [-c for c in frame.n], frame.world(*at, far)], np.float64).T
    return Solid(wide.transform(over))


def rounded_profile(radius: float) -> tuple[Point2, ...]:
    """A quarter circle in (distance from the rim, height), mm: from the face to the side, both 0 at the corner."""
    steps = max(COARSE, math.ceil(math.pi / 2 / step_angle(radius / 2)))
    turns = [math.pi / 2 * i / steps for i in range(steps + 1)]
    return tuple((radius * (1 - math.sin(t)), radius * (math.cos(t) - 1)) for t in turns)


def chamfer_profile(width: float) -> tuple[Point2, ...]:
    """A flat at 45 degrees in (distance from the rim, height), mm."""
    return ((width, 0.0), (0.0, -width))


def closed_profile(profile: Sequence[Point2]) -> tuple[Point2, ...]:
    """The section of what is cut away: from a profile out to beyond the corner."""
    (reach, _), (_, drop) = profile[0], profile[-1]
    return (*profile, (-BEYOND, drop), (-BEYOND, BEYOND), (reach, BEYOND))


def rim_cutter(ring: Ring, frame: Frame, height: float, profile: Sequence[Point2]) -> Solid | None:
    """What a profile takes off along a closed rim at a height of a frame, the wood lying left of the rim.

    None where the rim turns so tightly that the profile would fold over itself.
    """
    rim = _plain(ring)
    if len(rim) < 3:
        return None
    inward = _inward(rim)
    if inward is None:
        return None
    section = np.asarray(closed_profile(profile), np.float64)
    rims = rim[:, None, :] + section[None, :, 0, None] * inward[:, None, :]
    if _folds(rim, rims):
        return None
    heights = np.broadcast_to(section[:, 1] + height, rims.shape[:2])
    local = np.concatenate([rims, heights[..., None]], axis=2).reshape(-1, 3)
    world = local @ np.array([frame.u, frame.v, frame.n], np.float64) + np.asarray(frame.origin)
    solid = from_mesh(world, _woven(len(rim), len(section)))
    return solid if solid.volume > 0 else None


def worked_rim(ring: Ring, frame: Frame, height: float, profile: Sequence[Point2]) -> tuple[Vec3, ...]:
    """A line in the world on what a profile leaves along a rim that it can be cut along; mm, its first point not again.

    It keeps to the first quarter of the profile, which is in sight wherever the face is.
    """
    rim = _plain(ring)
    inward = _inward(rim)
    far, drop = profile[len(profile) // 4]
    moved = rim if inward is None else rim + far * inward
    return tuple(frame.world(u, v, height + drop) for u, v in moved.tolist())


def main_level(solid: Solid, frame: Frame) -> float:
    """The height along a frame's normal of a solid's largest flat face that looks that way, mm."""
    vertices, triangles = solid.mesh
    corners = vertices[triangles]
    cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    doubled = np.linalg.norm(cross, axis=1)
    facing = cross @ np.asarray(frame.n) > (1 - 1e-6) * doubled
    heights = np.round(corners[facing].mean(axis=1) @ np.asarray(frame.n), 3)
    if not len(heights):
        return solid.reach(frame.n) - dot(frame.origin, frame.n)
    _, which = np.unique(heights, return_inverse=True)
    best = int(np.argmax(np.bincount(which.ravel(), doubled[facing])))
    exact = corners[facing][which.ravel() == best].reshape(-1, 3) @ np.asarray(frame.n)
    return float(exact.max()) - dot(frame.origin, frame.n)


def outer_rings(area: Area) -> tuple[Ring, ...]:
    """The outer rims of an area, its wood on their left."""
    return tuple(ring for ring in area.rings if _twice_area(ring) > 0)


def inner_rings(area: Area) -> tuple[Ring, ...]:
    """The rims of the holes of an area, its wood on their left."""
    return tuple(ring for ring in area.rings if _twice_area(ring) < 0)


def _twice_area(ring: Ring) -> float:
    following = (*ring[1:], ring[0])
    return sum(u * y - x * v for (u, v), (x, y) in zip(ring, following, strict=True))


def _plain(ring: Ring) -> Floats:
    """The corners that matter."""
    line = LineString([*ring, ring[0]]).simplify(STRAY)
    return np.asarray(line.coords, np.float64)[:-1, :2]


def _inward(rim: Floats) -> Floats | None:
    """How each corner moves when every side moves 1 mm to its left; None for a spike."""
    way = np.roll(rim, -1, axis=0) - rim
    way /= np.linalg.norm(way, axis=1)[:, None]
    left = np.column_stack([-way[:, 1], way[:, 0]])
    before = np.roll(left, 1, axis=0)
    spread = 1 + (left * before).sum(axis=1)
    if (spread < 0.2).any():
        return None
    moves: Floats = (left + before) / spread[:, None]
    return moves


def _folds(rim: Floats, rims: Floats) -> bool:
    """Whether a side turns round, or a rim crosses itself, when the rim is moved by the distances of a profile."""
    sides = np.roll(rim, -1, axis=0) - rim
    moved = np.roll(rims, -1, axis=0) - rims
    if (np.einsum("ij,ikj->ik", sides, moved) <= 0).any():
        return True
    farthest = (rims[:, 0], rims[:, -2])
    return not all(LineString([*ring, ring[0]]).is_simple for ring in farthest)


def _woven(count: int, points: int) -> NDArray[np.int64]:
    """Triangles of the tube through `count` rings of `points` points, looking outwards."""
    i, k = (a.ravel() for a in np.meshgrid(np.arange(count), np.arange(points), indexing="ij"))
    here, up = i * points + k, i * points + (k + 1) % points
    there, across = (i + 1) % count * points + k, (i + 1) % count * points + (k + 1) % points
    return np.concatenate([np.column_stack([here, there, across]), np.column_stack([here, across, up])])
