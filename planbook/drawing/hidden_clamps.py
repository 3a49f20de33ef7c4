"""Where the mark of a clamp on a face that is not seen stands, so that it is taken for no other; draws nothing."""

import math
from collections.abc import Sequence
from itertools import product

import numpy as np

from planbook.drawing.look import flat
from planbook.drawing.marks import Point
from planbook.drawing.pads import ASLANT, BLOCK
from planbook.drawing.paper import Paper
from planbook.drawing.sight import OFF, front_of_all
from planbook.drawing.tips import ASIDE
from planbook.drawing.wedge import ahead, turned, unit
from planbook.solids import Vec3
from planbook.solids.frames import dot, negated, plus, times
from planbook.solids.visible import View
from planbook.workshop.timeline import Cue, Shown

DEEP, LEVEL = (0.5, 3.0), 2.5
"""It seems to press the wood beside which it stands: what is seen so far in, mm on paper, lies no more than that and so
much beyond the face that is pressed, or it is other wood before it."""
HALF = 1.5
"""So far towards both ends of a block the same is seen, mm on paper: half of one would else press on air."""
WEDGE = (2.0, 7.0)
"""Where its wedge lies behind the place it presses, mm on paper."""
COVERED = 0.5
"""More of a wedge may not lie where wood stands before it."""
PLACES, JUMP = 5, 3.0
"""At so many places along a block is looked what hides it; and between two of them that is no farther away, mm on
paper: else the block crosses the edge of something that stands before it."""
MOVED = tuple(sign * far for far in (1.0, 2.0, 3.0, 4.0, 5.0) for sign in (1.0, -1.0))
"""It is moved so far at most, the way it lies, mm on paper: a pad may lie anywhere near the joint."""


def standing(
    cue: Cue, points: Sequence[Vec3], back: float, shown: Sequence[Shown], view: View, paper: Paper
) -> tuple[Point, float]:
    """The middle of the block in dashes that presses at the last of the points, on paper, and how far it is turned.

    It lies behind what is seen of its own piece, or `back` mm along its way, beside all that is drawn, or a little to
    one side, behind its own piece again.
    """
    tail, place = (paper.put(flat(view, p)) for p in (points[0], points[-1]))
    along = unit(tail, place)
    for turn in ASLANT:
        side = _side(along, turn)
        if _behind(side, 0.0, cue, points[-1], shown, view, paper):
            return place, turn
    if not misleads(points, back, shown, view, paper.scale):
        return ahead(place, along, -back - 0.3 - BLOCK[1] / 2), 0.0
    for far, turn in product(MOVED, ASLANT):
        side = _side(along, turn)
        if _behind(side, far, cue, points[-1], shown, view, paper):
            return ahead(place, side, far), turn
    return place, 0.0


def _side(along: Point, turn: float) -> Point:
    """The way along a block."""
    x, y = turned(along, turn)
    return (-y, x)


def _behind(side: Point, aside: float, cue: Cue, tip: Vec3, shown: Sequence[Shown], view: View, paper: Paper) -> bool:
    """Whether a block along `side`, moved so far along it, mm, lies wholly behind one stretch of its own piece."""
    depths: list[float] = []
    for k in range(PLACES):
        far = (aside + BLOCK[0] * (k / (PLACES - 1) - 0.5)) / paper.scale
        spot = plus(tip, plus(times(view.right, side[0] * far), times(view.up, -side[1] * far)))
        seen = _first(spot, shown, view)
        if seen is None or seen[1] != cue.piece:
            return False
        depths.append(paper.scale * dot(seen[0], view.toward))
        if len(depths) > 1 and abs(depths[-1] - depths[-2]) > JUMP:
            return False
    return True


def misleads(points: Sequence[Vec3], back: float, shown: Sequence[Shown], view: View, scale: float) -> bool:
    """Whether a mark drawn `back` mm of paper from where it presses stands at other wood, or on what would hide it.

    `points` are the tail and the tip of the clamp in the world.
    """
    tail, tip = points[0], points[-1]
    out = times(plus(tail, negated(tip)), 1 / math.dist(tail, tip))
    near = math.hypot(*flat(view, out)) * scale
    if back <= ASIDE or near < 1e-6:
        return False
    for deep in DEEP:
        seen = _first(plus(tip, times(out, (back - ASIDE - deep) / near)), shown, view)
        if seen is not None and abs(dot(plus(seen[0], negated(tip)), out)) * near > deep + LEVEL:
            return True
    spot = plus(tip, times(out, (back - ASIDE - DEEP[-1]) / near))
    for end in _ends(out, view, scale):
        seen = _first(plus(spot, end), shown, view)
        if seen is None or abs(dot(plus(seen[0], negated(tip)), out)) * near > DEEP[-1] + LEVEL:
            return True
    spots = [plus(tip, times(out, (back + far) / near)) for far in np.linspace(*WEDGE, 6)]
    return float(np.mean(front_of_all(shown, view).hidden(np.array(spots), OFF))) > COVERED


def _ends(out: Vec3, view: View, scale: float) -> tuple[Vec3, Vec3]:
    """From the middle of a block towards its ends, across its way on paper, in the plane of the view."""
    u, v = flat(view, out)
    far = HALF / scale / math.hypot(u, v)
    side = plus(times(view.right, -v * far), times(view.up, u * far))
    return side, negated(side)


def _first(point: Vec3, shown: Sequence[Shown], view: View) -> tuple[Vec3, str] | None:
    """The wood that is seen where a point of the world is, or would be, and the name of its piece."""
    far = 2.0 * max(math.dist(point, plus(corner, s.apart)) for s in shown for corner in s.piece.solid.bounds)
    eye, behind = (plus(point, times(view.toward, way * far)) for way in (1.0, -1.0))
    hits = [(s.piece.solid.hits(plus(eye, negated(s.apart)), plus(behind, negated(s.apart))), s) for s in shown]
    nearest, one = min(((each[0], s) for each, s in hits if each), key=lambda hit: hit[0], default=(None, None))
    return None if nearest is None or one is None else (plus(eye, times(view.toward, -nearest)), one.piece.name)
