"""What every glued joint has in common: wet time, clamps, glue used, and the picture of the joint."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from planbook.model import Supply
from planbook.solids import FACE_FRAMES
from planbook.text import Place
from planbook.workshop.glue_apart import AHEAD
from planbook.workshop.joints import clamp_minutes, join
from planbook.workshop.mating import Contact, contacts
from planbook.workshop.placing import placed as in_place
from planbook.workshop.pressing import pressed
from planbook.workshop.shop import Outcome, Shop
from planbook.workshop.slanted import slants
from planbook.workshop.timeline import Cue, Piece, Show, Shown, Use

CURE_MINUTES = 1440.0
"""Cure time where the handbook has no row for the glue (common practice: 24 h before the joint is loaded)."""
FILLED = 0.25
"""Glue fills no more air than this, mm, between the sides of a tongue and its slot (from memory: 0.1 to 0.25)."""


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
    inner: Sequence[Piece] = (),
) -> Outcome:
    """The outcome of gluing pieces that lie against one another, about `inner` ones. Raises Snag if they do not."""
    minutes = float(clamp) if clamp is not None else clamp_minutes(supply, shop)
    hands_on = shop.minutes(kind, len(taken) - 1)
    made, area = join(name, placed, place, shop, shop.clock + hands_on + max(minutes, cure_minutes(supply, shop)))
    face, cues = {"x": "right", "y": "front", "z": "top"}[axis], tuple[Cue, ...]()
    if shop.shown:
        met = contacts([s.piece.solid for s in shown], FACE_FRAMES[AHEAD[axis]])
        cues = (*(pressed(shown, axis, met) if minutes else ()), *_spread(shown, axis, met))
    return Outcome(
        taken=tuple(taken),
        made=(made,),
        uses=(Use(supply.name, "glue", area / 1e6, "m2"), Use("clamps", "clamps", 1, "set")),
        show=Show(face, (*shown, *(Shown(piece, "context") for piece in inner)), cues),
        hands_on=hands_on,
        wait=minutes,
        settings=(("mating area", area), ("clamp", minutes), ("along", axis)),
        shut_in=tuple(piece.name for piece in inner),
    )


def laid_in(names: Sequence[str], others: Sequence[Piece], place: Place, shop: Shop) -> tuple[Piece, ...]:
    """The pieces that others are glued around. Raises Snag where one is in the way of another."""
    found = tuple(shop.dry(name, place) for name in names)
    if found:
        in_place((*others, *found), None, place, place, shop)
    return found


def _spread(shown: Sequence[Shown], axis: str, met: Sequence[Contact]) -> Iterator[Cue]:
    """Where glue goes, on both of two faces, of which a picture shows at most one; `met` are those across the axis."""
    solids = [s.piece.solid for s in shown]
    along = FACE_FRAMES[AHEAD[axis]]
    others = [FACE_FRAMES[face] for other, face in sorted(AHEAD.items()) if other != axis]
    every = [(along, met), *((frame, contacts(solids, frame, FILLED)) for frame in (*others, *slants(solids)))]
    for frame, joints in every:
        for each in joints:
            for n, level in ((each.below, each.level), (each.above, each.level + each.gap)):
                for part in each.area.simple_parts:
                    points = tuple(frame.world(u, v, level) for u, v in part.rings[0])
                    yield Cue("glue face", points, shown[n].piece.name)
