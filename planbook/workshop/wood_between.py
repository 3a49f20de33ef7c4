"""Where pieces have wood all the way across, so that a clamp presses nothing into a hollow; knows no picture."""

from collections.abc import Sequence

from planbook.solids import Area, Frame, Solid
from planbook.solids.frames import negated
from planbook.solids.plane import blank_area

LOOKS = 24
"""Wood is looked for at so many levels between the two ends."""
CRACK = 0.3
"""Air between the sides of a tongue and its slot that is no wider than twice this, mm, is no hollow."""


def wood_between(solids: Sequence[Solid], frame: Frame) -> Area:
    """Where there is no air between the first and the last wood along the normal of a frame, in (u, v) of it."""
    low = min(-solid.reach(negated(frame.n)) for solid in solids)
    high = max(solid.reach(frame.n) for solid in solids)
    found, ended, hollow = blank_area(), blank_area(), blank_area()
    for k in range(LOOKS):
        level = low + (k + 0.5) / LOOKS * (high - low)
        cut = [solid.section(frame, level) for solid in solids if _reaches(solid, frame, level)]
        here = blank_area().plus(*cut).offset(CRACK).offset(-CRACK)
        hollow = hollow.plus(here.meet(ended))
        found = found.plus(here)
        ended = found.minus(here)
    return found.minus(hollow)


def _reaches(solid: Solid, frame: Frame, level: float) -> bool:
    return -solid.reach(negated(frame.n)) < level < solid.reach(frame.n)
