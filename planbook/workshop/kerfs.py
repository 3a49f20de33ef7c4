"""The wood that a blade takes along the lines of one cut, which may end on one another; it cuts nothing."""

from collections.abc import Sequence

from planbook.solids import Area, Outline, Path
from planbook.solids.plane import circle


def bands(outlines: Sequence[Outline], side: str, leave: float, kerf: float) -> list[Area]:
    """The strip that the blade takes along each line, mm. `side` and `leave` as the saw operation has them.

    An open line runs on by a kerf at its ends, so that the wood comes apart where the line stops at its edge. An end
    that lies on another line stops there: the blade drops into the other cut, and the wood beyond it stays whole.
    """
    return [_band(o, [p for p in outlines if p is not o], side, leave, kerf) for o in outlines]


def _band(outline: Outline, others: Sequence[Outline], side: str, leave: float, kerf: float) -> Area:
    if isinstance(outline, Path):
        return _open_band(outline, others, side, kerf)
    if side == "outside":
        return outline.offset(leave + kerf).minus(outline.offset(leave))
    if side == "inside":
        return outline.offset(-leave).minus(outline.offset(-leave - kerf))
    return outline.offset(kerf / 2).minus(outline.offset(-kerf / 2))


def _open_band(line: Path, others: Sequence[Outline], side: str, kerf: float) -> Area:
    if side in ("left", "right"):
        return line.band(kerf, side, over=(kerf, kerf))
    ends = (line.points[0], line.points[-1])
    met = [any(other.distance_to_edge(end) < kerf / 2 for other in others) for end in ends]
    first, last = (0.0 if stops else kerf for stops in met)
    # A blade is turned where it stops: a round end reaches both sides of the other cut at any angle.
    round_ends = [circle(end, kerf / 2) for end, stops in zip(ends, met, strict=True) if stops]
    return line.band(kerf, over=(first, last)).plus(*round_ends)
