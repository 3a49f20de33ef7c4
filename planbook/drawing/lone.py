"""Rings of glue that are seen by themselves, of a large joint that is hidden otherwise: they would say nothing."""

import math
from collections.abc import Sequence

from planbook.drawing.crowded import area_of
from planbook.drawing.marks import Mark, Ring, Stroke
from planbook.workshop.timeline import Cue

SMALL = 18.0
"""A joint that fills no more of the paper than this has room for two or three rings at all, mm2."""
NEAR = 5.2
"""A ring stands by itself that is farther than this from the next one, mm: twice as far as they stand in a row."""


def without_lone(cue: Cue, put: Ring, marks: Sequence[Mark]) -> tuple[Mark, ...]:
    """The marks of a cue, whose points are `put` on paper, without rings that stand by themselves on a large face."""
    if cue.kind != "glue face" or area_of(put) <= SMALL:
        return tuple(marks)
    spots = {mark.points[0] for mark in marks if isinstance(mark, Stroke) and len(mark.points) == 1}
    lone = {spot for spot in spots if not any(0 < math.dist(spot, other) <= NEAR for other in spots)}
    return tuple(mark for mark in marks if not (isinstance(mark, Stroke) and mark.points[0] in lone))
