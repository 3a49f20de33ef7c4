"""Where pieces have wood all the way across, so that a clamp presses nothing into a hollow; knows no picture."""

from collections.abc import Sequence

from planbook.solids import Area, Frame, Solid
from planbook.solids.frames import negated
from planbook.solids.plane import blank_area

LOOKS = 24
"""Wood is looked for at so many levels between the two ends."""
CRACK = 0.3
"""Air between the sides of a tongue and its slot that is no wider than twice this, mm, is no hollow."""

COARSE = 0.1
"""So far off the edges of wood may be taken, mm."""


def wood_between(solids: Sequence[Solid], frame: Frame) -> Area:
    """Where there is no air between the first and the last wood along the normal of a frame, in (u, v) of it."""
    low = min(-solid.reach(negated(frame.n)) for solid in solids)
    high = max(solid.reach(frame.n) for solid in solids)
    found, ended, hollow = blank_area(), blank_area(), blank_area()
    last: tuple[float, ...] = ()
    for k in range(LOOKS):
        level = low + (k + 0.5) / LOOKS * (high - low)
        cut = [solid.section(frame, level) for solid in solids if _reaches(solid, frame, level)]
        # Most levels of what is sawn straight through look like the one before.
        looks = tuple(round(each, 1) for area in cut if not area.empty for each in (area.size, *area.centroid))
        if looks == last:
            continue
        last = looks
        here = blank_area().plus(*(area.coarser(COARSE) for area in cut)).offset(CRACK).offset(-CRACK).coarser(COARSE)
        hollow = hollow.plus(here.meet(ended))
        found = found.plus(here)
        ended = found.minus(here)
    return found.minus(hollow)


def _reaches(solid: Solid, frame: Frame, level: float) -> bool:
    return -solid.reach(negated(frame.n)) < level < solid.reach(frame.n)
