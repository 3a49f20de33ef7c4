"""What a step bores and drives into pieces that its picture shows put together: signs of it; draws nothing."""

from collections.abc import Sequence
from dataclasses import replace

from planbook.drawing.fastened import LENGTH, covers, drawn_in_line, in_line, way_out
from planbook.drawing.mouths import mouth_of
from planbook.solids import Vec3
from planbook.solids.frames import negated, plus, times
from planbook.workshop.drawn import Fastens
from planbook.workshop.registry import operation_of
from planbook.workshop.spots import ABOVE
from planbook.workshop.timeline import Cue, Event, Shown

FREE = 0.6
"""The axis of a hole goes this share of the way to what is pulled out of it."""


def with_driven(main: Event, others: Sequence[Event]) -> Event:
    """The event of a picture with the axes of holes, and axes and names of hardware, of others of the step.

    A hole is shown where its piece still is as it was bored. A screw that goes through one piece into another is
    driven when both are in place: its axis is drawn through both, from above the first, and what was drawn apart comes
    apart along it if it can. Other hardware goes along with its
    piece, and none is shown on what has been worked or moved since.
    """
    if main.show is None or _fastens(main) == "hardware":
        return main
    screws = [c for e in others if _fastens(e) == "hardware" for c in _here(e, main.show.pieces)]
    show = drawn_in_line(main.show, screws)
    pieces = show.pieces
    cues = [c for e in others if _fastens(e) == "hole" and e is not main for c in _bored(e, main, pieces)]
    cues += [c for e in others if _fastens(e) == "hardware" and e.show for c in _placed(e, pieces)]
    return replace(main, show=replace(show, cues=(*show.cues, *cues))) if cues else main


def _fastens(event: Event) -> Fastens:
    return operation_of(event).DRAWN.fastens


def _bored(event: Event, main: Event, pieces: Sequence[Shown]) -> list[Cue]:
    """The axes of holes that one operation bores, each short of what is pulled out of its hole."""
    if operation_of(event) is operation_of(main):  # the picture joins them itself
        return []
    return [_short(cue, pieces) for cue in _here(event, pieces) if cue.kind == "drill axis"]


def _short(cue: Cue, pieces: Sequence[Shown]) -> Cue:
    """The axis of a hole from its mouth to near that which is pulled out of it, or as it is where nothing is."""
    mouth, out = mouth_of(cue.points)
    home = next(s.apart for s in pieces if s.piece.name == cue.piece)
    pulled = [(s.piece.solid, plus(home, negated(s.apart))) for s in pieces if s.apart != home]
    ends = (mouth, plus(mouth, times(out, LENGTH)))
    far = [hit for solid, by in pulled for hit in solid.hits(*(plus(point, by) for point in ends))]
    return replace(cue, points=(plus(mouth, times(out, FREE * min(far))), mouth, mouth)) if far else cue


def _here(event: Event, pieces: Sequence[Shown]) -> list[Cue]:
    """The cues of an operation on pieces that a picture shows as it left them."""
    made = {piece.name: piece.solid.bounds for piece in event.made}
    here = {s.piece.name for s in pieces if s.piece.solid.bounds == made.get(s.piece.name)}
    return [cue for cue in (event.show.cues if event.show else ()) if cue.piece in here]


def _placed(event: Event, pieces: Sequence[Shown]) -> list[Cue]:
    """The cues of one operation, each where it belongs in a picture of these pieces."""
    cues = _here(event, pieces)
    out = way_out(cues)
    return [each for cue in cues for each in _through(cue, out, pieces)] if out else cues


def _through(cue: Cue, out: Vec3, pieces: Sequence[Shown]) -> list[Cue]:
    """The cue of a screw in its place, if it goes through wood that lies on the piece; else as it is.

    Where the two are not drawn apart along the screw, each has its part of the axis.
    """
    own = next(s for s in pieces if s.piece.name == cue.piece)
    others = [s for s in pieces if s is not own]
    if cue.kind == "note":
        on = [(point, *_cover(point, out, others)) for point in cue.points]
        points = tuple(plus(plus(p, times(out, lift)), (by or own).apart) for p, lift, by in on)
        return [replace(cue, points=points, piece="") if any(lift for _, lift, _ in on) else cue]
    if cue.kind != "drill axis":
        return [cue]
    start, end = cue.points[0], cue.points[-1]
    rim = plus(start, times(out, -ABOVE))
    lift, on_it = _cover(rim, out, others)
    if on_it is None:
        return [cue]
    head = plus(plus(start, times(out, lift)), on_it.apart)
    if in_line(out, plus(on_it.apart, negated(own.apart))):
        return [replace(cue, points=(head, plus(end, own.apart)), piece="")]
    return [replace(cue, points=(head, plus(rim, on_it.apart)), piece=""), cue]


def _cover(rim: Vec3, out: Vec3, others: Sequence[Shown]) -> tuple[float, Shown | None]:
    """How thick the wood is that lies on a spot of a piece, mm, and what it is; 0 where none does."""
    found = covers(rim, out, [s.piece.solid for s in others])
    thick, n = max(found, default=(0.0, -1))
    return thick, others[n] if n >= 0 else None
