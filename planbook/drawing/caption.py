"""From where a picture is seen, in a few words in a free corner of it, and what is turned about for it."""

from collections.abc import Sequence

import numpy as np

from planbook.drawing.alt import listed
from planbook.drawing.ink import LINE
from planbook.drawing.lettering import width_of
from planbook.drawing.marks import Fill, Mark, Ring, Stroke, Words
from planbook.drawing.names import MARGIN
from planbook.drawing.side_by_side import TURNED
from planbook.solids.hatch import taken
from planbook.speech import called, say
from planbook.workshop.timeline import Event

AIR = 1.2
"""Between the words and everything else, mm."""
ABOVE, BELOW = 0.75, 0.25
"""How far letters reach over and under their baseline, in type sizes."""
_SAID = {
    "front left and above": "Seen from the left",
    "back right and above": "Seen from behind",
    "back left and above": "Seen from behind",
    "front right and below": "Seen from below",
    "front left and below": "Seen from below",
    "back right and below": "Seen from behind and below",
    "back left and below": "Seen from behind and below",
}


def caption_of(event: Event, view: str) -> str:
    """The words for a view, as `Choice` tells it; none for that from the front, right and above.

    Where pieces were turned about to show their other side, that is told: then each is seen from elsewhere.
    """
    about = dict(event.settings).get(TURNED, ())
    if about:
        names = listed([called(name) for name in about])
        return say("Turned about in this picture: {pieces}", pieces=names)
    return say(_SAID[view]) if view in _SAID else ""


def cornered(text: str, marks: Sequence[Mark], width: float, high: float, size: float) -> Words | None:
    """A caption in the first corner of a picture in which it keeps clear of all marks, from below; None if none is."""
    wide = width_of(text, size)
    rings, lines = _ground(marks)
    ground = taken([(ring, ()) for ring in rings], lines)
    for baseline in (high - MARGIN - BELOW * size, MARGIN + ABOVE * size):
        for left in (MARGIN, width - MARGIN - wide):
            levels = baseline + size * np.linspace(-ABOVE, BELOW, 4)
            starts = np.stack([np.full(4, left), levels], axis=1)
            if not ground.near(starts, starts + np.array([wide, 0.0]), AIR).any():
                return _words(text, left, baseline, size)
    return None


def under(text: str, high: float, size: float) -> Words:
    """A caption below a picture so high, which takes `line` more."""
    return _words(text, MARGIN, high + ABOVE * size, size)


def line(size: float) -> float:
    """Room that a caption below a picture takes, mm."""
    return size + MARGIN


def _words(text: str, left: float, baseline: float, size: float) -> Words:
    return Words((left, baseline), text, size, colour=LINE, layer="view")


def _ground(marks: Sequence[Mark]) -> tuple[list[Ring], list[Ring]]:
    """What marks take up: areas and the boxes of words, and lines."""
    rings, lines = list[Ring](), list[Ring]()
    for mark in marks:
        if isinstance(mark, Fill):
            rings += mark.rings
        elif isinstance(mark, Stroke):
            lines.append(mark.points)
        else:
            wide = width_of(mark.text, mark.size, mark.bold)
            left = mark.at[0] - {"start": 0.0, "middle": wide / 2, "end": wide}[mark.anchor]
            top, low = mark.at[1] - ABOVE * mark.size, mark.at[1] + BELOW * mark.size
            rings.append(((left, top), (left + wide, top), (left + wide, low), (left, low)))
    return rings, lines
