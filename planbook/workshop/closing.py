"""Where a clamp presses a cut together that is closed with glue: square on the wood at both ends; draws nothing."""

from math import dist

from planbook.solids import AXES, Frame, Path, Solid, Vec3
from planbook.solids.frames import dot, negated, plus, times
from planbook.workshop.clamping import LENGTH
from planbook.workshop.timeline import AT_A_CUT, Cue, Piece

AXIAL = 0.9
"""Cosine between a cut and the way across an axis for a clamp to press along that axis."""
SQUARE = 0.985
"""A clamp does not slip on wood that lies across its way with this cosine or more (10 degrees; common practice)."""
FAR, ARCHED, STRIDES = 0.3, 0.55, 55
"""How far from its middle the cut is still closed, as a share of the largest side, and how far where the wood pressed
is an arch over a hollow, which hands the pressure on to its feet; and at how many places along the cut and past its
ends is looked, on each side."""


def closing(piece: Piece, line: Path, frame: Frame, level: float) -> tuple[Cue, ...]:
    """A pair of arrows that press together a cut along a line of a frame; `level` is how high along its normal, mm.

    They press across the cut, as near to it as the wood lies square to them at both ends; none where it does not near
    it.
    """
    (au, av), (bu, bv) = line.points[0], line.points[-1]
    long = dist((au, av), (bu, bv))
    if long < 1e-6:
        return ()
    u, v = (bu - au) / long, (bv - av) / long
    along, across = _way(frame, u, v), _axial(_way(frame, -v, u))
    spot = frame.world(*line.halfway, level)
    side = max(piece.solid.extent)
    for far in (sign * k * ARCHED * side / STRIDES for k in range(STRIDES + 1) for sign in (1, -1)):
        tips = [_tip(piece.solid, plus(spot, times(along, far)), way) for way in (across, negated(across))]
        one, two = tips
        if one and two and (abs(far) <= FAR * side or _hollow(piece.solid, one, two)):
            ways = zip((one, two), (across, negated(across)), strict=True)
            return tuple(
                Cue("clamp", (plus(tip, times(way, LENGTH * side)), tip), piece.name, AT_A_CUT) for tip, way in ways
            )
    return ()


def _hollow(solid: Solid, one: Vec3, two: Vec3) -> bool:
    """Whether there is air between two places on a solid."""
    back = times(plus(one, negated(two)), 1 / dist(one, two))
    return len(solid.hits(plus(one, back), plus(two, negated(back)))) > 2


def _way(frame: Frame, u: float, v: float) -> Vec3:
    return plus(times(frame.u, u), times(frame.v, v))


def _axial(way: Vec3) -> Vec3:
    """The axis that a way nearly follows, or the way itself."""
    axes = [each for axis in AXES.values() for each in (axis, negated(axis))]
    return next((axis for axis in axes if dot(axis, way) > AXIAL), way)


def _tip(solid: Solid, spot: Vec3, way: Vec3) -> Vec3 | None:
    """The outermost wood over a spot on one way, if there is any beyond the spot and it lies square to the way."""
    far = dot(spot, negated(way)) + solid.reach(way) + 1.0
    above = plus(spot, times(way, far))
    walls = solid.walls(above, spot) if far > 1.0 else []
    return plus(above, times(way, -walls[0][0])) if walls and dot(walls[0][1], way) > SQUARE else None
