"""Edges worked on the far side of many pieces, left to the words below their picture; draws nothing."""

from dataclasses import replace

from planbook.solids import FACE_FRAMES, OPPOSITE
from planbook.solids.frames import dot
from planbook.workshop.timeline import Cue, Event

WORKED = ("rounded", "chamfered")
"""The kinds of the cues that name a face whose edges are worked."""


def without_far_edges(event: Event) -> Event:
    """The event without the lines on faces that look away from where its picture is seen, if they are told by name.

    Each would be seen in short stretches along the outline of its piece alone, double where the near one is drawn, and
    broken off where it goes on behind.
    """
    show = event.show
    if show is None or show.face not in FACE_FRAMES:
        return event
    away = OPPOSITE[show.face]
    way = FACE_FRAMES[away].n
    told = {cue.piece for cue in show.cues if cue.kind in WORKED and cue.text.split()[0] == away}
    middles = {s.piece.name: dot(s.piece.solid.middle, way) for s in show.pieces if s.piece.name in told}

    def far(cue: Cue) -> bool:
        middle = middles.get(cue.piece)
        return cue.kind == "cut line" and middle is not None and all(dot(p, way) > middle for p in cue.points)

    return replace(event, show=replace(show, cues=tuple(cue for cue in show.cues if not far(cue))))
