"""Where the axis of a hole, as it is drawn, leaves the face of its piece, and what lies around; draws nothing."""

import math
from collections.abc import Sequence

import numpy as np

from planbook.solids import FACE_FRAMES, Solid, Vec3
from planbook.solids.frames import dot, negated, plus, times
from planbook.solids.plane import Point2
from planbook.workshop.spots import ABOVE

BELOW = 0.1
"""So far below the face it is looked how wide a hole is, mm."""
RINGS, TURNS = 4, 16
"""On so many rings, and in so many places on each, it is looked what is seen in the mouth of a hole."""


def mouth_of(points: Sequence[Vec3]) -> tuple[Vec3, Vec3]:
    """The middle of the mouth of a hole with an axis from above the face into the wood, and the way out of it.

    A short axis, such as that of a hole on a stencil, has its middle there; one of three points, the second.
    """
    start, end = points[0], points[-1]
    long = math.dist(start, end)
    out = times(plus(start, negated(end)), 1 / max(long, 1e-9))
    if len(points) > 2:
        return points[1], out
    return plus(start, times(out, -ABOVE if long > ABOVE else -long / 2)), out


def in_mouth(mouth: Vec3, out: Vec3, radius: float) -> list[Vec3]:
    """Places spread evenly over the mouth of a hole that looks along an axis; none for another."""
    frame = next((f.at(mouth) for f in FACE_FRAMES.values() if dot(f.n, out) > 1 - 1e-6), None)
    if frame is None:
        return []
    rings = [(radius * math.sqrt((k + 0.5) / RINGS), 0.1 * k) for k in range(RINGS)]
    turns = [2 * math.pi * k / TURNS for k in range(TURNS)]
    return [frame.world(far * math.cos(t + by), far * math.sin(t + by), 0.0) for far, by in rings for t in turns]


def around(solid: Solid, mouth: Vec3, out: Vec3) -> tuple[float, Vec3]:
    """How wide a hole is at its mouth, mm, and the way from its middle to the nearest edge of the face.

    Both are 0 where the hole runs out of the face, or looks along none of the axes.
    """
    nothing = (0.0, (0.0, 0.0, 0.0))
    frame = next((f.at(mouth) for f in FACE_FRAMES.values() if dot(f.n, out) > 1 - 1e-6), None)
    if frame is None:
        return nothing
    middle = (0.0, 0.0)
    face = next((a for a in solid.section(frame, -BELOW).parts if a.outers[0].holds(middle)), None)
    if face is None or face.holds(middle):
        return nothing
    u, v = _nearest(face.rings[0], middle)
    return 2 * face.distance_to_edge(middle), plus(times(frame.u, u), times(frame.v, v))


def _nearest(ring: Sequence[Point2], point: Point2) -> Point2:
    """The point of a ring that is nearest to another."""
    start = np.array(ring)
    way = np.roll(start, -1, axis=0) - start
    share = np.clip(((point - start) * way).sum(axis=1) / np.maximum((way * way).sum(axis=1), 1e-12), 0.0, 1.0)
    found = start + share[:, None] * way
    u, v = found[int(np.argmin(np.hypot(*(found - point).T)))].tolist()
    return (u, v)
