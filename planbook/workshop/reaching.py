"""Where a joint lies beside a hollow, which no clamp presses through, and a small one reaches in: draws nothing."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planbook.solids import Area, Frame, Point2, Solid
from planbook.solids.frames import negated
from planbook.solids.plane import blank_area, circle
from planbook.workshop.mating import Contact

CARRIED, SPACED = 25.0, 60.0
"""Wood hands pressure on so far beyond where it is pressed all the way through, mm; small clamps stand about so far
apart (common practice: thin wood, a light clamp every 50 to 75 mm)."""
LEAST = 150.0
"""What is left unpressed of a joint and is smaller than this, mm2, asks for no clamp of its own."""
NARROW = 3.0
"""Nor does what is nowhere so far from its edges, mm."""
ROOM, THROAT, OPENING = 20.0, 75.0, 60.0
"""The jaw of a small clamp takes so much air, mm, reaches in so far from the edge of the work, and is no farther from
the other one (common practice)."""
TOUCHING = 0.6
"""Between pieces that lie on one another, mm: no hollow."""
_BESIDE = 1.0
"""Air is looked at so far from the wood, mm."""


@dataclass(frozen=True, slots=True)
class Grip:
    """Where a small clamp presses, in (u, v) of a frame, from which level to which, mm, and the numbers of the pieces
    under its jaws.
    """

    spot: Point2
    low: float
    high: float
    first: int
    last: int


def within_reach(
    solids: Sequence[Solid], frame: Frame, met: Sequence[Contact], sound: Area, pressed: Sequence[Point2]
) -> tuple[Grip, ...]:
    """Where joints across the normal of a frame are pressed beside hollows.

    `sound` is where wood goes all the way, `pressed` where other clamps press: what lies under those needs no more.
    """
    found: dict[tuple[float, ...], Grip] = {}
    for level in sorted({round(each.level, 2) for each in met}):
        joint = blank_area().plus(*(each.area for each in met if round(each.level, 2) == level))
        through = joint.meet(sound).offset(-NARROW).offset(NARROW)
        if through.size < LEAST:
            continue  # Nothing of it is pressed all the way through, so that the clamps press on it as it is.
        large = [part for part in joint.minus(through).parts if part.size > LEAST]
        left = [part for part in large if not any(map(part.holds, pressed))]
        for spot in (spot for part in left for spot in _spots(_unpressed(part, through))):
            grip = _grip(solids, frame, spot, level)
            if grip is not None:
                found.setdefault((*(round(x, 1) for x in spot), grip.low, grip.high), grip)
    return tuple(found.values())


def _unpressed(part: Area, through: Area) -> Area:
    """What of a part is so far from the wood beside it which is pressed all the way through that nothing carries."""
    return part.minus(through.meet(part.offset(_BESIDE)).offset(CARRIED))


def _spots(left: Area) -> Iterator[Point2]:
    """Places on what is left unpressed, as far apart as small clamps stand."""
    for part in left.parts:
        if part.size > LEAST and not part.offset(-NARROW).empty:
            spot = part.roomiest
            yield spot
            yield from _spots(part.minus(circle(spot, SPACED)))


def _grip(solids: Sequence[Solid], frame: Frame, spot: Point2, level: float) -> Grip | None:
    """What lies between the jaws of a clamp there: the wood that hangs together around a level, if one end is in a
    hollow that can be reached.
    """
    runs = sorted(_runs(solids, frame, spot))
    first = next((k for k, (low, high, _) in enumerate(runs) if low - TOUCHING < level < high + TOUCHING), -1)
    if first < 0:
        return None
    last = first
    while first > 0 and runs[first][0] - runs[first - 1][1] < TOUCHING:
        first -= 1
    while last < len(runs) - 1 and runs[last + 1][0] - runs[last][1] < TOUCHING:
        last += 1
    low, high = runs[first][0], runs[last][1]
    if first == last or high - low > OPENING:
        return None
    hollows = [(low - runs[first - 1][1], low - _BESIDE)] if first > 0 else []
    hollows += [(runs[last + 1][0] - high, high + _BESIDE)] if last < len(runs) - 1 else []
    reached = all(far > ROOM and _open(solids, frame, spot, at) for far, at in hollows)
    return Grip(spot, low, high, runs[first][2], runs[last][2]) if hollows and reached else None


def _runs(solids: Sequence[Solid], frame: Frame, spot: Point2) -> Iterator[tuple[float, float, int]]:
    """From which level to which there is wood over a spot, and the number of its piece."""
    low = min(-solid.reach(negated(frame.n)) for solid in solids) - 1.0
    high = max(solid.reach(frame.n) for solid in solids) + 1.0
    ends = frame.world(*spot, low), frame.world(*spot, high)
    for n, solid in enumerate(solids):
        hits = solid.hits(*ends)
        yield from ((low + start, low + end, n) for start, end in zip(hits[::2], hits[1::2], strict=False))


def _open(solids: Sequence[Solid], frame: Frame, spot: Point2, level: float) -> bool:
    """Whether a clamp reaches a spot of a hollow from beside the work: it is not walled in, and not far in."""
    cut = blank_area().plus(*(solid.section(frame, level) for solid in solids))
    shadow = blank_area().plus(*(solid.shadow(frame) for solid in solids))
    walled = any(outer.holds(spot) for outer in cut.outers)
    return not walled and shadow.distance_to_edge(spot) < THROAT
