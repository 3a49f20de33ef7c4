"""On which sides those ends of clamps are that a picture has in dashes, since it does not show them; draws nothing."""

from collections.abc import Sequence

from planbook.drawing.alt import listed
from planbook.drawing.sight import in_sight
from planbook.solids import FACE_FRAMES, Vec3
from planbook.solids.frames import dot, negated, plus
from planbook.solids.visible import View
from planbook.speech import say
from planbook.workshop.timeline import REACHING, Cue, Shown


def ends_away(views: Sequence[tuple[Sequence[Cue], Sequence[Shown], View]]) -> str:
    """A sentence that names the sides of the ends that no view shows; "" without.

    In dashes over a face that is in sight, an end could be taken for one that presses there.
    """
    away: list[set[str]] = []
    for cues, shown, view in views:
        at = {each.piece.name: each.apart for each in shown}
        hidden = (c for c in cues if c.kind == "clamp" and c.text != REACHING and not _seen(c, at, shown, view))
        away.append({_side(cue) for cue in hidden})
    sides = set.intersection(*away) if away else set()
    if not sides:
        return ""
    return say(
        "Ends of clamps in dashes, out of sight: {faces}.", faces=listed([say(s) for s in FACE_FRAMES if s in sides])
    )


def _seen(cue: Cue, at: dict[str, Vec3], shown: Sequence[Shown], view: View) -> bool:
    return in_sight(plus(cue.points[-1], at.get(cue.piece, (0.0, 0.0, 0.0))), shown, view)


def _side(cue: Cue) -> str:
    """The side of the work from which an end presses."""
    out = plus(cue.points[0], negated(cue.points[-1]))
    return max(FACE_FRAMES, key=lambda face: dot(FACE_FRAMES[face].n, out))
