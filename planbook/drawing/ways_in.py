"""Where the blade comes in is seen: another view, or what is sawn out drawn out farther, until it is.

It draws nothing.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

import numpy as np

from planbook.drawing.cues import world_points
from planbook.drawing.cut_in_sight import spread
from planbook.drawing.sight import OFF, Floats, front_of_all
from planbook.drawing.views import Choice, fair
from planbook.solids.frames import times
from planbook.solids.visible import View
from planbook.workshop.timeline import WAY_IN, Cue, Show, Shown

SHARES = (1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 0.0)
"""By how much of its way a part is drawn out, one after the other; in its place at last."""
PAST = 0.5
"""A way in is seen on from its end by this share of its length, so that the line that it leads to is seen there too."""
ENOUGH = 0.6
"""A way in of which this share is in sight is seen."""


def with_ways_in(
    show: Show, pieces: tuple[Shown, ...], matters: Sequence[int], choice: Choice
) -> tuple[Choice, tuple[Shown, ...]]:
    """The view and the pieces of a picture in which every way in of a blade is seen; as they are where none is.

    `choice` is the view that is best otherwise.
    """
    ways = [cue for cue in show.cues if cue.kind == "cut line" and cue.text == WAY_IN]
    if not ways or choice.other is not None or _seen(ways, pieces, choice.view):
        return choice, pieces
    for share in SHARES:
        drawn = tuple(replace(s, apart=times(s.apart, share)) for s in pieces)
        placed = tuple((s.piece, s.apart) for s in drawn)
        found = next(fair(placed, show.face, matters, partial(_seen, ways, drawn)), None)
        if found is not None:
            return found, drawn
    return choice, pieces


def _seen(ways: Sequence[Cue], pieces: Sequence[Shown], view: View) -> bool:
    hidden = partial(front_of_all(pieces, view).hidden, off=OFF)
    return all(1.0 - float(np.mean(hidden(each))) >= ENOUGH for way in ways for each in _looked_at(way, pieces))


def _looked_at(way: Cue, pieces: Sequence[Shown]) -> tuple[Floats, Floats]:
    """The places of a way in at which is looked, and those past its end."""
    line = np.array(world_points(way, pieces))
    past = line[-1] + PAST * (line[-1] - line[0])
    return spread(line), spread(np.stack([line[-1], past]))
