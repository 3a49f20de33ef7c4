"""Where a cut ends amid wood, and whether what it left is seen around a place; draws nothing."""

import math
from collections.abc import Sequence

from planbook.drawing.look import flat
from planbook.solids import Solid, Vec3
from planbook.solids.frames import negated, plus, times
from planbook.solids.visible import View
from planbook.workshop.timeline import Shown

PAST, DEEP = 2.0, 0.5
"""So far past its end, and under the face on which its line lies, a cut that stops has wood, mm."""
AT_END = 2.0
"""What is no farther from the end of a line, mm, is there."""
RINGS, TURNS = (0.15, 0.35, 0.55, 0.75), 16
"""That is looked at in so many places on rings, in radii of what is shown."""
ON_IT = 0.03
"""What is seen lies on the wood that was taken off if it is no farther from its surface than this, mm."""
SHOWS = 0.05
"""A cut is seen where it is at this share of those places or more."""


def stopped(line: Sequence[Vec3], seen: Sequence[Vec3], shown: Shown) -> list[Vec3]:
    """Those of the places seen of a cut's line that are at an end of it at which its piece goes on; mm of the world."""
    sides = [[p[k] for p in line] for k in range(3)]
    far = [max(side) - min(side) for side in sides]
    along, across = far.index(max(far)), far.index(min(far))
    found: list[Vec3] = []
    for level, sign in ((min(sides[along]), -1.0), (max(sides[along]), 1.0)):
        there = [p for p in line if abs(p[along] - level) < AT_END]
        middle = [(min(p[k] for p in there) + max(p[k] for p in there)) / 2 for k in range(3)]
        middle[along] = level + sign * PAST
        spots = [[m + (under if k == across else 0.0) for k, m in enumerate(middle)] for under in (DEEP, -DEEP)]
        if any(_holds(shown.piece.solid, plus((x, y, z), negated(shown.apart))) for x, y, z in spots):
            found += [p for p in seen if abs(p[along] - level) < AT_END]
    return found


def _holds(solid: Solid, point: Vec3) -> bool:
    """Whether a point is inside of a solid: a way out crosses its surface an odd number of times."""
    out = plus(point, (0.371, 0.557, 3.0 * max(solid.extent) + math.dist(point, solid.middle)))
    return len(solid.hits(point, out)) % 2 == 1


def is_shown(spot: Vec3, radius: float, shown: Sequence[Shown], view: View) -> bool:
    """Whether a view shows, within so many mm of a place, surfaces that were bared when wood was taken off."""
    far = 2.0 * max(math.dist(spot, plus(corner, s.apart)) for s in shown for corner in s.piece.solid.bounds)
    near = [s for s in shown if _comes_near(s, spot, radius, view)]
    looks = [(ring * radius, 2 * math.pi * k / TURNS) for ring in RINGS for k in range(TURNS)]
    bared = 0
    for out, turn in looks:
        place = plus(spot, plus(times(view.right, out * math.cos(turn)), times(view.up, out * math.sin(turn))))
        bared += _on_the_cut(place, far, near, view)
    return bared >= SHOWS * len(looks)


def _on_the_cut(place: Vec3, far: float, shown: Sequence[Shown], view: View) -> bool:
    eye, behind = (plus(place, times(view.toward, way * far)) for way in (1.0, -1.0))
    seen: list[tuple[float, Shown]] = []
    for s in shown:
        hits = s.piece.solid.hits(plus(eye, negated(s.apart)), plus(behind, negated(s.apart)))
        seen += [(hits[0], s)] if hits else []
    if not seen:
        return False
    first, of = min(seen, key=lambda each: each[0])
    ends = (plus(eye, negated(of.apart)), plus(behind, negated(of.apart)))
    return any(abs(hit - first) < ON_IT for gone in of.gone for hit in gone.hits(*ends))


def _comes_near(shown: Shown, spot: Vec3, radius: float, view: View) -> bool:
    """Whether the box of a piece comes so near to a place, as it is seen."""
    (ax, ay, az), (bx, by, bz) = (plus(corner, shown.apart) for corner in shown.piece.solid.bounds)
    corners = [flat(view, (x, y, z)) for x in (ax, bx) for y in (ay, by) for z in (az, bz)]
    u, v = flat(view, spot)
    us, vs = [c[0] for c in corners], [c[1] for c in corners]
    return min(us) < u + radius and max(us) > u - radius and min(vs) < v + radius and max(vs) > v - radius
