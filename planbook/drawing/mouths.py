"""Where the axis of a hole, as it is drawn, leaves the face of its piece; draws nothing."""

import math
from collections.abc import Sequence

from planbook.solids import Vec3
from planbook.solids.frames import negated, plus, times
from planbook.workshop.spots import ABOVE


def mouth_of(points: Sequence[Vec3]) -> tuple[Vec3, Vec3]:
    """The middle of the mouth of a hole with an axis from above the face into the wood, and the way out of it.

    A short axis, such as that of a hole on a stencil, has its middle there.
    """
    start, end = points[0], points[-1]
    long = math.dist(start, end)
    out = times(plus(start, negated(end)), 1 / max(long, 1e-9))
    return plus(start, times(out, -ABOVE if long > ABOVE else -long / 2)), out
