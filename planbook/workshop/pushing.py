"""Arrows at pieces that are drawn out of their place: which way each is put in; it moves nothing."""

from collections.abc import Sequence

from planbook.solids import FACE_FRAMES, Frame, Solid, Vec3
from planbook.solids.frames import dot, negated, plus, times
from planbook.workshop.placing import layer_of
from planbook.workshop.timeline import Cue, Shown
from planbook.workshop.ways_out import free_way, is_free

LONG = 0.2
"""Length of an arrow, as a share of the largest side of all that is shown."""
BESIDE = 2.0
"""Pieces that are no farther from one another are fitted to one another, mm."""
DOWN: Vec3 = (0.0, 0.0, -1.0)
ALONG = 0.98
"""Cosine between a move and an axis that it follows."""


def pushes(shown: Sequence[Shown]) -> tuple[Cue, ...]:
    """An arrow behind each piece that is put into one that stays, which points the way it goes in.

    It has one only where it is free to go that way, past what stays and past the pieces of its own layer: those of a
    puzzle hold one another, and are not pushed together in their plane. Where all that moved hangs below what stays,
    that is set down on it: one arrow above it says so. There is none where another piece would stand in its way, nor
    at one that only lies beside others in a layer.
    """
    still = [s for s in shown if not any(s.apart)]
    moved = [s for s in shown if any(s.apart)]
    if not still or not moved:
        return ()
    body = max(still, key=lambda s: s.piece.solid.volume)
    long = LONG * max(max(s.piece.solid.extent) for s in shown)
    if all(frame is not None and frame.n == DOWN for frame in map(_straight, moved)):
        free = all(is_free(s.piece.solid, [k.piece.solid for k in still], DOWN) for s in moved)
        return (push(body, FACE_FRAMES["top"], long),) if free else ()
    layer = {piece.name for piece in layer_of([s.piece for s in shown], body.piece)}
    cues = []
    for each in (s for s in moved if any(s.piece.solid.gap(k.piece.solid, BESIDE) < BESIDE for k in still)):
        held = still if each.piece.name not in layer else [s for s in shown if s in still or s.piece.name in layer]
        way = _way_out(each, body, [s.piece.solid for s in held if s is not each])
        cue = push(each, way, long) if way else None
        if cue and _open(cue, each, shown):
            cues.append(cue)
    return tuple(cues)


def _way_out(shown: Shown, body: Shown, held: Sequence[Solid]) -> Frame | None:
    """The frame of the side to which a piece was moved and is free past what is held, straight out if it can."""
    straight = _straight(shown)
    if straight is not None and is_free(shown.piece.solid, held, straight.n):
        return straight
    way = _frame(free_way(shown.piece, body.piece, held)[0])
    return way if dot(way.n, shown.apart) > 0 and is_free(shown.piece.solid, held, way.n) else None


def _straight(shown: Shown) -> Frame | None:
    """The frame of the face to which a piece was moved straight out, if it was."""
    size = dot(shown.apart, shown.apart) ** 0.5
    return next((f for f in FACE_FRAMES.values() if dot(f.n, shown.apart) > ALONG * size), None)


def _frame(way: Vec3) -> Frame:
    return next(frame for frame in FACE_FRAMES.values() if frame.n == way)


def push(shown: Shown, frame: Frame, long: float) -> Cue:
    """An arrow onto the outermost face of a piece as seen in the frame: its middle, or where it has most room."""
    face = max(shown.piece.solid.face(frame).parts, key=lambda part: part.size)
    spot = face.centroid if face.holds(face.centroid) else face.roomiest
    tip = frame.world(*spot, shown.piece.solid.reach(frame.n))
    return Cue("push", (plus(tip, times(frame.n, long)), tip), shown.piece.name)


def _open(cue: Cue, own: Shown, shown: Sequence[Shown]) -> bool:
    """Whether no other piece, as it is drawn, stands where an arrow is."""
    tail, tip = (plus(point, own.apart) for point in cue.points)
    return not any(
        s.piece.solid.hits(plus(tail, negated(s.apart)), plus(tip, negated(s.apart))) for s in shown if s is not own
    )
