"""Where a saw goes is seen: another view, or the parts drawn farther apart, until all its lines are in sight.

Where the waste would lie below what was sawn of it, the parts stay in their places. It draws nothing.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

import numpy as np

from planbook.drawing.cues import world_points
from planbook.drawing.cut_in_sight import spread
from planbook.drawing.look import facing_area, plain_look
from planbook.drawing.sight import OFF, Floats, front_of_all
from planbook.drawing.views import Choice, fair
from planbook.solids.frames import plus, times
from planbook.solids.visible import View
from planbook.workshop.timeline import MIDDLE, WAY_IN, Cue, Show, Shown

SHARES = (1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 0.0)
"""By how much of its way a part is drawn out, one after the other; in its place at last."""
PAST = 0.5
"""A way in is seen on from its end by this share of its length, so that the line that it leads to is seen there too."""
LITTLE = 0.25
"""Of waste that is seen by less than this share of what there is to see of it, nobody sees where it was."""
FIRST = 4
"""One of so many places of a line is looked at first: mostly so many of these are hidden that it is enough."""
LINE_SEEN, WAY_SEEN = 0.97, 0.6
"""A line, and a way in, of which this share is in sight is seen."""


def with_lines_in_sight(
    show: Show, pieces: tuple[Shown, ...], matters: Sequence[int], choice: Choice
) -> tuple[Choice, tuple[Shown, ...]]:
    """The view and the pieces of a picture of sawing in which every line and way in is seen; as they are if none is.

    `choice` is the view that is best otherwise. Lines in the middle of their kerf are left on no part, and are drawn on
    that on which they are seen.
    """
    lines = [cue for cue in show.cues if cue.kind == "cut line" and cue.text != MIDDLE and cue.points]
    buried = _buried(pieces, choice.view)
    if choice.other is not None or (not buried and _seen(_looked_at(lines, pieces), pieces, choice.view)):
        return choice, pieces
    for share in SHARES[-1:] if buried else SHARES:
        drawn = _drawn_out(pieces, share)
        placed = tuple((s.piece, s.apart) for s in drawn)
        found = next(fair(placed, show.face, matters, partial(_seen, _looked_at(lines, drawn), drawn)), None)
        if found is not None:
            return found, drawn
    return choice, pieces


def _buried(pieces: Sequence[Shown], view: View) -> bool:
    """Whether waste lies below what was sawn of it, so that it could not be told where it is."""
    seen = plain_look(tuple((s.piece, s.apart) for s in pieces), view)
    return any(
        seen.area_of(n) < LITTLE * facing_area(s.piece, view, view.toward, 0.0)
        for n, s in enumerate(pieces)
        if s.role == "waste"
    )


def _drawn_out(pieces: Sequence[Shown], share: float) -> tuple[Shown, ...]:
    """The pieces, of which the parts of each that was sawn are drawn so much of their way from the largest of them."""
    stays: dict[tuple[str, ...], Shown] = {}
    for shown in sorted(pieces, key=lambda s: s.piece.solid.volume):
        stays[shown.piece.sources] = shown
    found = []
    for shown in pieces:
        start = stays[shown.piece.sources].apart
        found.append(replace(shown, apart=plus(times(start, 1.0 - share), times(shown.apart, share))))
    return tuple(found)


def _seen(looks: Sequence[tuple[Floats, float]], pieces: Sequence[Shown], view: View) -> bool:
    """Whether enough of each line is in sight: of the places at which is looked, that share."""
    if not looks:
        return True
    front = front_of_all(pieces, view)
    for step in (FIRST, 1):
        some = [places[::step] for places, _ in looks]
        hidden = np.split(front.hidden(np.concatenate(some), OFF), np.cumsum([len(places) for places in some])[:-1])
        for behind, (places, share) in zip(hidden, looks, strict=True):
            if 1.0 - int(behind.sum()) / len(places) < share:
                return False
    return True


def _looked_at(lines: Sequence[Cue], pieces: Sequence[Shown]) -> list[tuple[Floats, float]]:
    """The places of lines at which is looked, also past the end of a way in, and which share of them must be seen."""
    found = []
    for line in lines:
        points = np.array(world_points(line, pieces))
        if line.text != WAY_IN:
            found.append((spread(points), LINE_SEEN))
        else:
            past = points[-1] + PAST * (points[-1] - points[0])
            found += [(spread(points), WAY_SEEN), (spread(np.stack([points[-1], past])), WAY_SEEN)]
    return found
