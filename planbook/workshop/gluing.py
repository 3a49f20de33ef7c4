"""What every glued joint has in common: wet time, clamps, glue used, and the picture of the joint."""

from collections.abc import Sequence
from fractions import Fraction

from planbook.model import Supply
from planbook.solids import AXES
from planbook.solids.frames import dot, plus, times
from planbook.text import Place
from planbook.workshop.joints import clamp_minutes, join
from planbook.workshop.shop import Outcome, Shop
from planbook.workshop.timeline import Cue, Piece, Show, Shown, Use

CURE_MINUTES = 1440.0
"""Cure time where the handbook has no row for the glue (common practice: 24 h before the joint is loaded)."""


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
    """Two arrows along the axis, from outside towards the joint."""
    way = AXES[axis]
    ends = sorted(shown, key=lambda s: dot(plus(s.piece.solid.middle, s.apart), way))
    if len(ends) < 2:
        return ()
    cues = []
    for end, sign in ((ends[0], 1.0), (ends[-1], -1.0)):
        middle = end.piece.solid.middle
        face = end.piece.solid.reach(times(way, -sign))
        tip = plus(middle, times(way, -sign * (face - dot(middle, times(way, -sign)))))
        tail = plus(tip, times(way, -sign * 0.22 * max(end.piece.solid.extent)))
        cues.append(Cue("clamp", (tail, tip), end.piece.name))
    return tuple(cues)
