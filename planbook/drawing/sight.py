"""Whether a point of a picture is in front of all pieces, by looking from it toward the eye; draws nothing."""

import math
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from planbook.solids import Solid, Vec3
from planbook.solids.frames import negated, plus, times
from planbook.solids.visible import View
from planbook.solids.visible_front import Front, Fronts, front_of
from planbook.solids.visible_view import frame_of
from planbook.workshop.timeline import Shown

Floats = NDArray[np.float64]
Standing = tuple[Solid, Vec3]
"""A solid and how far it is moved, mm."""

OFF = 0.05
"""How far in front of the point the look starts, mm, so that the face it lies on does not hide it."""
SMALL, FEW = 300, 4
"""Solids with no more triangles than this are small, and fewer of them than that are asked one by one."""


def in_sight(point: Vec3, shown: Sequence[Shown], view: View) -> bool:
    """Whether nothing stands between a point of the world and the eye."""
    near = plus(point, times(view.toward, OFF))
    far = plus(point, times(view.toward, 2.0 * _reach(point, shown)))
    return not any(s.piece.solid.hits(plus(near, negated(s.apart)), plus(far, negated(s.apart))) for s in shown)


def runs_in_sight(
    points: Sequence[Vec3], shown: Sequence[Shown], view: View, step: float
) -> tuple[tuple[Vec3, ...], ...]:
    """The stretches of a line that are in sight, looked at every `step` mm."""
    return _runs_in_sight(tuple(points), _standing(shown), view, step)


@lru_cache(maxsize=32)
def _runs_in_sight(
    points: tuple[Vec3, ...], standing: tuple[Standing, ...], view: View, step: float
) -> tuple[tuple[Vec3, ...], ...]:
    """The same of what stands there; what is enlarged is looked for and then drawn along the same lines."""
    fine = _divided(points, step)
    free = np.concatenate([[False], ~front_at(standing, view).hidden(fine, OFF), [False]])
    turns = np.flatnonzero(free[1:] != free[:-1]).reshape(-1, 2).tolist()
    line = tuple(zip(*fine.T.tolist(), strict=True))
    kept = [line[start:end] for start, end in turns if end - start > 1]
    if len(kept) > 1 and line[0] == line[-1] and kept[0][0] == line[0] and kept[-1][-1] == line[-1]:
        kept[0] = kept.pop() + kept[0][1:]
    return tuple(kept)


def points_in_sight(points: Sequence[Vec3], shown: Sequence[Shown], view: View) -> list[Vec3]:
    """Those of the points that are in sight, in their order."""
    hidden = front_of_all(shown, view).hidden(np.array(points), OFF).tolist() if points else ()
    return [point for point, behind in zip(points, hidden, strict=True) if not behind]


def front_of_all(shown: Sequence[Shown], view: View) -> Fronts:
    """What stands before what of all that is shown."""
    return front_at(_standing(shown), view)


def _standing(shown: Sequence[Shown]) -> tuple[Standing, ...]:
    return tuple((s.piece.solid, s.apart) for s in shown)


def front_at(solids: Sequence[Standing], view: View) -> Fronts:
    """What stands before what, of solids each moved by a vector in mm."""
    frame = frame_of(view)
    small = [(solid, apart) for solid, apart in solids if len(solid.mesh[1]) <= SMALL]
    if len(small) < FEW:
        return Fronts(frame, tuple((_front(solid, view), frame @ np.asarray(apart)) for solid, apart in solids))
    large = ((_front(solid, view), frame @ np.asarray(at)) for solid, at in solids if len(solid.mesh[1]) > SMALL)
    return Fronts(frame, (*large, (_front_of_small(tuple(small), view), np.zeros(3))))


@lru_cache(maxsize=64)
def _front(solid: Solid, view: View) -> Front:
    """Views are tried with the same pieces in other places."""
    return front_of(_corners(solid), view)


@lru_cache(maxsize=16)
def _front_of_small(solids: tuple[Standing, ...], view: View) -> Front:
    """Many small solids are sooner put in one than asked one by one."""
    return front_of(np.concatenate([_corners(solid) + np.asarray(apart) for solid, apart in solids]), view)


def _corners(solid: Solid) -> Floats:
    vertices, triangles = solid.mesh
    found: Floats = vertices[triangles]
    return found


def entry(start: Vec3, end: Vec3, shown: Sequence[Shown]) -> Vec3 | None:
    """Where the way from start to end first meets wood, or None if it stays in the air."""
    way = plus(end, negated(start))
    length = math.hypot(*way)
    far = [hit for s in shown for hit in s.piece.solid.hits(plus(start, negated(s.apart)), plus(end, negated(s.apart)))]
    return plus(start, times(way, min(far) / length)) if far and length > 0 else None


def _divided(points: Sequence[Vec3], step: float) -> Floats:
    """A line with points (n,3) not more than `step` mm apart."""
    corners, far = np.array(points), np.array([*map(math.dist, points, points[1:])])
    parts = np.maximum(1, np.ceil(far / max(step, 1e-6))).astype(np.int64)
    part = np.repeat(np.arange(len(far)), parts)
    shares = (np.arange(len(part)) - (np.cumsum(parts) - parts)[part]) / parts[part]
    inner: Floats = corners[part] + np.diff(corners, axis=0)[part] * shares[:, None]
    return np.concatenate([inner, corners[-1:]])


def _reach(point: Vec3, shown: Sequence[Shown]) -> float:
    """A length that surely leads out of everything shown, mm."""
    corners = [plus(corner, s.apart) for s in shown for corner in s.piece.solid.bounds]
    return 1.0 + 2.0 * max((math.dist(point, corner) for corner in corners), default=0.0)
