"""Parts that lock one another in an upright layer, laid together on the table where they are tried; draws nothing."""

from dataclasses import replace

from planbook.solids import AXES, Vec3
from planbook.workshop.one_layer import layers
from planbook.workshop.pieces import turned
from planbook.workshop.timeline import Event, Shown

BACKWARD = -90.0
"""Turned so far about x, in degrees, what faced the front faces up."""
ORIGIN: Vec3 = (0.0, 0.0, 0.0)


def laid_flat(event: Event) -> Event:
    """The event with its pieces lying together with their front up, if they are one upright layer whose parts lock.

    None of them stands by itself, and none goes into the next along the layer. With signs, or anything beside the
    layer, nothing is turned.
    """
    show = event.show
    if show is None or show.cues:
        return event
    solids = [s.piece.solid for s in show.pieces]
    upright = bool(solids) and min(range(3), key=lambda k: max(s.extent[k] for s in solids)) == 1
    if not upright or layers(solids) != [tuple(range(len(solids)))]:
        return event
    return replace(event, show=replace(show, face="top", pieces=tuple(map(_laid, show.pieces))))


def _laid(shown: Shown) -> Shown:
    return replace(shown, piece=turned(shown.piece, AXES["x"], BACKWARD, ORIGIN), apart=ORIGIN)
