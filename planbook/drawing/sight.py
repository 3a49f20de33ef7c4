"""Whether a point of a picture is in front of all pieces, by looking from it toward the eye; draws nothing."""

import math
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise

import numpy as np

from planbook.solids import Solid, Vec3
from planbook.solids.frames import negated, plus, times
from planbook.solids.visible import View
from planbook.solids.visible_front import Front, front_of
from planbook.workshop.timeline import Shown

OFF = 0.05
"""How far in front of the point the look starts, mm, so that the face it lies on does not hide it."""


def in_sight(point: Vec3, shown: Sequence[Shown], view: View) -> bool:
    """Whether nothing stands between a point of the world and the eye."""
    near = plus(point, times(view.toward, OFF))
    far = plus(point, times(view.toward, 2.0 * _reach(point, shown)))
    return not any(s.piece.solid.hits(plus(near, negated(s.apart)), plus(far, negated(s.apart))) for s in shown)


def runs_in_sight(
    points: Sequence[Vec3], shown: Sequence[Shown], view: View, step: float
) -> tuple[tuple[Vec3, ...], ...]:
    """The stretches of a line that are in sight, looked at every `step` mm."""
    fine = _divided(points, step)
    runs: list[list[Vec3]] = [[]]
    for point, free in zip(fine, _all_in_sight(fine, shown, view), strict=True):
        if free:
            runs[-1].append(point)
        elif runs[-1]:
            runs.append([])
    kept = [run for run in runs if len(run) > 1]
    if len(kept) > 1 and fine[0] == fine[-1] and kept[0][0] == fine[0] and kept[-1][-1] == fine[-1]:
        kept[0] = kept.pop() + kept[0][1:]
    return tuple(tuple(run) for run in kept)


def points_in_sight(points: Sequence[Vec3], shown: Sequence[Shown], view: View) -> list[Vec3]:
    """Those of the points that are in sight, in their order."""
    seen = _all_in_sight(points, shown, view) if points else ()
    return [point for point, free in zip(points, seen, strict=True) if free]


def _all_in_sight(points: Sequence[Vec3], shown: Sequence[Shown], view: View) -> Sequence[bool]:
    """The same as `in_sight` for many points, in one go."""
    front = front_at(tuple((s.piece.solid, s.apart) for s in shown), view)
    hidden: list[bool] = front.hidden(np.asarray(points), OFF).tolist()
    return [not each for each in hidden]


@lru_cache(maxsize=2)
def front_at(solids: tuple[tuple[Solid, Vec3], ...], view: View) -> Front:
    """What stands before what, of solids each moved by a vector in mm."""
    meshes = [(solid.mesh, apart) for solid, apart in solids]
    corners = [vertices[triangles] + np.asarray(apart) for (vertices, triangles), apart in meshes]
    return front_of(np.concatenate(corners) if corners else np.zeros((0, 3, 3)), view)


def entry(start: Vec3, end: Vec3, shown: Sequence[Shown]) -> Vec3 | None:
    """Where the way from start to end first meets wood, or None if it stays in the air."""
    way = plus(end, negated(start))
    length = math.hypot(*way)
    far = [hit for s in shown for hit in s.piece.solid.hits(plus(start, negated(s.apart)), plus(end, negated(s.apart)))]
    return plus(start, times(way, min(far) / length)) if far and length > 0 else None


def _divided(points: Sequence[Vec3], step: float) -> list[Vec3]:
    fine = [points[0]]
    for one, two in pairwise(points):
        parts = max(1, math.ceil(math.dist(one, two) / max(step, 1e-6)))
        way = plus(two, negated(one))
        fine += [plus(one, times(way, k / parts)) for k in range(1, parts)] + [two]
    return fine


def _reach(point: Vec3, shown: Sequence[Shown]) -> float:
    """A length that surely leads out of everything shown, mm."""
    corners = [plus(corner, s.apart) for s in shown for corner in s.piece.solid.bounds]
    return 1.0 + 2.0 * max((math.dist(point, corner) for corner in corners), default=0.0)
