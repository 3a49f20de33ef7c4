"""What every glued joint has in common: wet time, clamps, glue used, and the picture of the joint."""

from collections.abc import Sequence
from fractions import Fraction
from math import dist

from planbook.model import Supply
from planbook.solids import FACE_FRAMES, Area, Point2
from planbook.solids.frames import dot, negated, plus, times
from planbook.text import Place
from planbook.workshop.joints import clamp_minutes, join
from planbook.workshop.shop import Outcome, Shop
from planbook.workshop.timeline import Cue, Piece, Show, Shown, Use

CURE_MINUTES = 1440.0
"""Cure time where the handbook has no row for the glue (common practice: 24 h before the joint is loaded)."""
_AHEAD = {"x": "right", "y": "back", "z": "top"}
"""The face to which each axis points."""
FOOT = 36.0
"""How wide the foot of a clamp and its block are, which stand on wood as a whole where there is room, mm."""
_SKIN = 0.05
"""A face is looked at so far under its outermost point, mm, that a rounded one is found as well."""


def cure_minutes(supply: Supply, shop: Shop) -> float:
    """How long the joint may not be worked, from the handbook's row of the glue."""
    row = shop.design.handbook.glue(supply.product)
    return float(row.cure_minutes) if row and row.cure_minutes else CURE_MINUTES


def glued(
    kind: str,
    taken: Sequence[Piece],
    placed: Sequence[Piece],
    name: str,
    supply: Supply,
    clamp: Fraction | None,
    axis: str,
    shown: tuple[Shown, ...],
    place: Place,
    shop: Shop,
) -> Outcome:
    """The outcome of gluing pieces that lie against one another. Raises Snag if they do not."""
    minutes = float(clamp) if clamp is not None else clamp_minutes(supply, shop)
    hands_on = shop.minutes(kind, len(taken) - 1)
    made, area = join(name, placed, place, shop, shop.clock + hands_on + max(minutes, cure_minutes(supply, shop)))
    face = {"x": "right", "y": "front", "z": "top"}[axis]
    return Outcome(
        taken=tuple(taken),
        made=(made,),
        uses=(Use(supply.name, "glue", area / 1e6, "m2"), Use("clamps", "clamps", 1, "set")),
        show=Show(face, shown, _pushes(shown, axis)),
        hands_on=hands_on,
        wait=minutes,
        settings=(("mating area", area), ("clamp", minutes), ("along", axis)),
    )


def _pushes(shown: Sequence[Shown], axis: str) -> tuple[Cue, ...]:
    """Two arrows along the axis, from outside towards the joint, on wood at both ends, on one line if that can be."""
    frame = FACE_FRAMES[_AHEAD[axis]]
    ends = sorted(shown, key=lambda s: dot(plus(s.piece.solid.middle, s.apart), frame.n))
    if len(ends) < 2:
        return ()
    solids = ends[0].piece.solid, ends[-1].piece.solid
    levels = -solids[0].reach(negated(frame.n)), solids[1].reach(frame.n)
    faces = solids[0].section(frame, levels[0] + _SKIN), solids[1].section(frame, levels[1] - _SKIN)
    middles = [frame.local(solid.middle)[:2] for solid in solids]
    cues = []
    for end, level, spot, sign in zip((ends[0], ends[-1]), levels, _spots(middles, faces), (-1.0, 1.0), strict=True):
        tip = frame.world(*spot, level)
        tail = plus(tip, times(frame.n, sign * 0.22 * max(end.piece.solid.extent)))
        cues.append(Cue("clamp", (tail, tip), end.piece.name))
    return tuple(cues)


def _spots(middles: Sequence[Point2], faces: Sequence[Area]) -> list[Point2]:
    """Where a clamp presses on two faces: in their middles, or where both have wood, or each by itself.

    Its feet stand on wood as a whole, where any place has room for them.
    """
    floors = [_footing(face) for face in faces]
    if all(floor.empty or floor.holds(middle) for floor, middle in zip(floors, middles, strict=True)):
        return list(middles)
    both = _footing(faces[0].meet(faces[1]))
    near = [_nearest(both if not both.empty else floor, at) for floor, at in zip(floors, middles, strict=True)]
    return near if both.empty else near[:1] * 2


def _footing(face: Area) -> Area:
    """Where the middle of a foot may stand on a face; all of the face where it is too narrow for one."""
    floor = face.offset(-FOOT / 2)
    return face if floor.empty else floor


def _nearest(face: Area, at: Point2) -> Point2:
    """The middle of that part of a face which is nearest to a point; the point itself where it is on the face."""
    if face.empty or face.holds(at):
        return at
    return min((part.middle for part in face.parts), key=lambda middle: round(dist(middle, at), 3))
