"""What a step bores and drives into pieces that its picture shows put together: signs of it; draws nothing."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import product

from planbook.drawing.mouths import mouth_of
from planbook.solids import AXES, Solid, Vec3
from planbook.solids.frames import dot, negated, plus, times
from planbook.workshop.drawn import Fastens
from planbook.workshop.registry import operation_of
from planbook.workshop.spots import ABOVE
from planbook.workshop.timeline import Cue, Event, Shown

FREE = 0.6
"""The axis of a hole goes this share of the way to what is pulled out of it."""
AROUND = 8.0
"""So far about the axis of a screw is looked for the wood that it goes through, beyond its own hole there, mm."""
LENGTH = 120.0
"""A screw goes through no more wood than this, mm."""
LIES = 0.5
"""Wood that lies on the piece is no farther from it than this, mm."""


def with_driven(main: Event, others: Sequence[Event]) -> Event:
    """The event of a picture with the axes of holes, and axes and names of hardware, of others of the step.

    A hole is shown where its piece still is as it was bored. A screw that goes through one piece into another is
    driven when both are in place: its axis is drawn there, from above the first. Other hardware goes along with its
    piece, and none is shown on what has been worked or moved since.
    """
    if main.show is None or _fastens(main) == "hardware":
        return main
    pieces = main.show.pieces
    cues = [c for e in others if _fastens(e) == "hole" and e is not main for c in _bored(e, main, pieces)]
    cues += [c for e in others if _fastens(e) == "hardware" and e.show for c in _placed(e, pieces)]
    return replace(main, show=replace(main.show, cues=(*main.show.cues, *cues))) if cues else main


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
    ways = [plus(c.points[0], negated(c.points[-1])) for c in cues if c.kind == "drill axis"]
    if not ways:
        return cues
    out = max(AXES.values(), key=lambda axis: abs(dot(axis, ways[0])))
    out = out if dot(out, ways[0]) > 0 else negated(out)
    return [_through(cue, out, [s.piece.solid for s in pieces if s.piece.name != cue.piece]) for cue in cues]


def _through(cue: Cue, out: Vec3, others: Sequence[Solid]) -> Cue:
    """The cue of a screw in its place, if it goes through wood that lies on the piece; else as it is."""
    if cue.kind == "note":
        lifts = [_cover(point, out, others) for point in cue.points]
        points = tuple(plus(p, times(out, lift)) for p, lift in zip(cue.points, lifts, strict=True))
        return replace(cue, points=points, piece="") if any(lifts) else cue
    start, end = cue.points[0], cue.points[-1]
    lift = _cover(plus(start, times(out, -ABOVE)), out, others) if cue.kind == "drill axis" else 0.0
    return replace(cue, points=(plus(start, times(out, lift)), end), piece="") if lift else cue


def _cover(rim: Vec3, out: Vec3, others: Sequence[Solid]) -> float:
    """How thick the wood is that lies on a spot of a piece, mm; 0 where none does."""
    across = [axis for axis in AXES.values() if abs(dot(axis, out)) < LIES]
    found = []
    for (one, two), solid in product(product((-AROUND, AROUND), repeat=2), others):
        start = plus(rim, plus(plus(times(across[0], one), times(across[1], two)), times(out, -LIES)))
        walls = [(far - LIES, dot(normal, out)) for far, normal in solid.walls(start, plus(start, times(out, LENGTH)))]
        inside = [far for far, way in walls if way > 0]
        if inside and (walls[0][1] > 0 or walls[0][0] < LIES):
            found.append(inside[0])
    return max(found, default=0.0)
