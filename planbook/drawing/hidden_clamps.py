"""Whether the mark of a clamp on a face that is not seen would be taken for another clamp; draws nothing."""

import math
from collections.abc import Sequence

import numpy as np

from planbook.drawing.look import flat
from planbook.drawing.sight import OFF, front_of_all
from planbook.solids import Vec3
from planbook.solids.frames import dot, negated, plus, times
from planbook.solids.visible import View
from planbook.workshop.timeline import Shown

STRIDE, ASIDE = 0.5, 0.4
"""A mark is drawn back in such steps to where nothing is drawn, and stands so far beside that, mm on paper."""
DEEP, LEVEL = (0.5, 3.0), 2.5
"""It seems to press the wood beside which it stands: what is seen so far in, mm on paper, lies no more than that and so
much beyond the face that is pressed, or it is other wood before it."""
AT_IT = 5.0
"""What closes a cut is pressed no farther from it than this, mm on paper."""
HALF = 1.5
"""So far towards both ends of a block the same is seen, mm on paper: half of one would else press on air."""
WEDGE = (2.0, 7.0)
"""Where its wedge lies behind the place it presses, mm on paper."""
COVERED = 0.5
"""More of a wedge may not lie where wood stands before it."""


def misleads(
    points: Sequence[Vec3], back: float, shown: Sequence[Shown], view: View, scale: float, at_a_cut: bool = False
) -> bool:
    """Whether a mark drawn `back` mm of paper from where it presses stands at other wood, or on what would hide it.

    `points` are the tail and the tip of the clamp in the world. One that closes a cut must stand `at_a_cut`.
    """
    tail, tip = points[0], points[-1]
    out = times(plus(tail, negated(tip)), 1 / math.dist(tail, tip))
    near = math.hypot(*flat(view, out)) * scale
    if back <= ASIDE or near < 1e-6:
        return False
    if at_a_cut and back > AT_IT:
        return True
    for deep in DEEP:
        seen = _first(plus(tip, times(out, (back - ASIDE - deep) / near)), shown, view)
        if seen is not None and abs(dot(plus(seen, negated(tip)), out)) * near > deep + LEVEL:
            return True
    spot = plus(tip, times(out, (back - ASIDE - DEEP[-1]) / near))
    for end in _ends(out, view, scale):
        seen = _first(plus(spot, end), shown, view)
        if seen is None or abs(dot(plus(seen, negated(tip)), out)) * near > DEEP[-1] + LEVEL:
            return True
    spots = [plus(tip, times(out, (back + far) / near)) for far in np.linspace(*WEDGE, 6)]
    return float(np.mean(front_of_all(shown, view).hidden(np.array(spots), OFF))) > COVERED


def _ends(out: Vec3, view: View, scale: float) -> tuple[Vec3, Vec3]:
    """From the middle of a block towards its ends, across its way on paper, in the plane of the view."""
    u, v = flat(view, out)
    far = HALF / scale / math.hypot(u, v)
    side = plus(times(view.right, -v * far), times(view.up, u * far))
    return side, negated(side)


def _first(point: Vec3, shown: Sequence[Shown], view: View) -> Vec3 | None:
    """The wood that is seen where a point of the world is, or would be."""
    far = 2.0 * max(math.dist(point, plus(corner, s.apart)) for s in shown for corner in s.piece.solid.bounds)
    eye, behind = (plus(point, times(view.toward, way * far)) for way in (1.0, -1.0))
    hits = [s.piece.solid.hits(plus(eye, negated(s.apart)), plus(behind, negated(s.apart))) for s in shown]
    nearest = min((each[0] for each in hits if each), default=None)
    return None if nearest is None else plus(eye, times(view.toward, -nearest))
