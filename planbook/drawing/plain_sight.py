"""Whether a step picture shows what the step is about: its pieces, its cut, its signs; it draws nothing."""

import math
from collections.abc import Collection, Iterable, Sequence
from itertools import pairwise

from planbook.drawing.look import Look
from planbook.drawing.marks import Mark, Stroke
from planbook.drawing.paint import UNSEEN
from planbook.drawing.sanding import told_below
from planbook.drawing.surfaces import LINED
from planbook.workshop.timeline import Cue, Shown

SPOT = 0.4
"""A piece of which less than this is seen, mm2 of paper, is not seen: a dot 0.7 mm across."""
SPECK = 0.05
"""The same for a piece whose like is enlarged beside it: a leader finds a dot 0.25 mm across."""
TRACE = 3.0
"""Least length of the dashes that stand for a hidden piece, mm of paper."""
NOTHING = "anything at all"
FINER = "the finest detail"
_SIGNS = {
    "cut line": "where `{}` is cut",
    "sand": "where `{}` is sanded",
    "lining": "where `{}` is lined",
}


def missing(
    pieces: Sequence[Shown],
    matters: Iterable[int],
    look: Look,
    scale: float,
    marks: Sequence[Mark],
    signs: Collection[tuple[Cue, bool]],
    enlarged: Collection[int] = (),
) -> tuple[str, ...]:
    """What a reader looks for and cannot find, in words; `signs` are the cues with whether they left a mark.

    `scale` is mm of paper for one mm of the object. `enlarged` are pieces of which one is shown larger in an inset:
    of each, more than a trace must be in sight.
    """
    names = [
        pieces[n].piece.name
        for n in matters
        if not _seen(n, pieces[n].piece.name, look, scale, marks)
        and not (n in enlarged and look.area_of(n) * scale * scale >= SPECK)
    ]
    lined = {pieces[face.piece].piece.name for face in (*look.faces, *look.inlays) if face.wood == LINED}
    # Faces that look away are told in words; that is enough beside a sign of what the step is about.
    besides = any(left for _, left in signs)
    told = [
        (cue, left or (cue.kind == "lining" and cue.piece in lined) or (besides and told_below(cue, look.view)))
        for cue, left in signs
    ]
    return (*(f"`{name}`" for name in dict.fromkeys(names)), *_without_mark(told))


def _seen(number: int, name: str, look: Look, scale: float, marks: Sequence[Mark]) -> bool:
    if look.area_of(number) * scale * scale >= SPOT:
        return True
    dashes = (m for m in marks if isinstance(m, Stroke) and m.layer == UNSEEN + name)
    return sum(math.dist(a, b) for m in dashes for a, b in pairwise(m.points)) >= TRACE


def _without_mark(signs: Collection[tuple[Cue, bool]]) -> tuple[str, ...]:
    """Signs of a sort of which not one could be drawn on a piece: one that is seen stands for the others."""
    drawn: dict[tuple[str, str], bool] = {}
    for cue, left in signs:
        if cue.kind in _SIGNS and cue.points:
            key = (cue.kind, cue.piece)
            drawn[key] = drawn.get(key, False) or left
    return tuple(_SIGNS[kind].format(piece or "the work") for (kind, piece), left in drawn.items() if not left)
