"""The names of the lines that a step saws along, told in its picture where its words call them so; draws nothing."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import ceil

import numpy as np

from planbook.drawing import cues
from planbook.drawing.cut_in_sight import spread
from planbook.drawing.look import flat
from planbook.drawing.names import Wanted
from planbook.drawing.sight import points_in_sight
from planbook.model import Step
from planbook.model.sizes import folded
from planbook.solids.visible import Polygon2, View
from planbook.speech import called
from planbook.workshop.timeline import Cue, Event, Shown

SPOT = 0.05
"""Half the side of the square on a line on which a leader may end, mm of the view: it ends on the line itself."""
INNER = 4
"""So many places at each end of a line are left out: there it meets another line or the edge of the wood."""
MOST = 12
"""Leaders may end at so many places of a line."""


def with_lines_told(event: Event | None, step: Step) -> Event | None:
    """The event with the names of those lines alone that the words of its step mention.

    Where a line is called as a piece or the whole stencil is, the words mean that.
    """
    if event is None or event.show is None or not any(cue.line for cue in event.show.cues):
        return event
    said = {folded(mention.name) for prose in step.prose for mention in prose.mentions}
    said -= {folded(shown.piece.name) for shown in event.show.pieces}
    said -= {folded(stuck.stencil.name) for piece in event.taken for stuck in piece.stuck}
    told = (cue if folded(cue.line) in said else replace(cue, line="") for cue in event.show.cues)
    return replace(event, show=replace(event.show, cues=tuple(told)))


def lines_told(event: Event) -> tuple[str, ...]:
    """The names of the lines that a picture tells, each once."""
    return tuple(dict.fromkeys(cue.line for cue in event.show.cues if cue.line)) if event.show else ()


def names_of_lines(marks: Sequence[Cue], pieces: Sequence[Shown], view: View) -> Iterator[Wanted]:
    """The names of lines, whose leaders may end at some places where a line is seen."""
    for name in dict.fromkeys(cue.line for cue in marks if cue.line):
        mine = [cue for cue in marks if cue.line == name and cue.points]
        points = [point for cue in mine for point in _seen(cue, pieces, view)]
        spots = [flat(view, point) for point in points[:: ceil(len(points) / MOST) or 1]]
        if spots:
            yield Wanted(called(name), tuple((_square(*spot),) for spot in spots), spots[len(spots) // 2])


def _seen(cue: Cue, pieces: Sequence[Shown], view: View) -> Sequence[tuple[float, float, float]]:
    along = spread(np.array(cues.world_points(cue, pieces)))[INNER:-INNER]
    return points_in_sight([(x, y, z) for x, y, z in along.tolist()], pieces, view)


def _square(u: float, v: float) -> Polygon2:
    return (((u - SPOT, v - SPOT), (u + SPOT, v - SPOT), (u + SPOT, v + SPOT), (u - SPOT, v + SPOT)), ())
