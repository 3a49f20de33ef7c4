"""Along which ways what is glued is pressed: its axis, and others that joints of it lie across; draws nothing."""

from collections.abc import Iterator, Sequence

from planbook.solids import FACE_FRAMES, Frame, Solid
from planbook.solids.frames import dot, negated
from planbook.workshop.clamping import clamped, pulled
from planbook.workshop.glue_apart import AHEAD
from planbook.workshop.mating import Contact, contacts
from planbook.workshop.timeline import Cue, Shown


def pressed(shown: Sequence[Shown], axis: str, met: Sequence[Contact]) -> tuple[Cue, ...]:
    """The clamps of pieces that are glued; `met` are the joints across the axis along which they are pressed.

    What is drawn straight off a joint across another axis is pressed along that one as well. A frame of mitres, the
    joints of which lie across no axis, is pulled together all around, as a band clamp does it.
    """
    others, frame = [each for each in AHEAD if each != axis], FACE_FRAMES[AHEAD[axis]]
    if met:
        return (*clamped(shown, frame, met), *_aside(shown, others))
    around = _mitred(shown, others)
    if around:
        return tuple(cue for each in (frame, *around) for cue in pulled(shown, each))
    return clamped(shown, frame, met)


def _aside(shown: Sequence[Shown], axes: Sequence[str]) -> Iterator[Cue]:
    """The clamps that press single pieces to the one on which each lies, across its largest joint."""
    for one in shown:
        for frame in (FACE_FRAMES[AHEAD[axis]] for axis in axes):
            if abs(dot(one.apart, frame.n)) < 1e-6:
                continue
            rest = [each for each in shown if each is not one]
            met = [c for c in contacts([one.piece.solid, *(s.piece.solid for s in rest)], frame) if 0 in _two(c)]
            for joint in sorted(met, key=lambda c: -c.area.size)[:1]:
                pair = one, rest[max(_two(joint)) - 1]
                yield from clamped(pair, frame, contacts([s.piece.solid for s in pair], frame))


def _two(joint: Contact) -> tuple[int, int]:
    return joint.below, joint.above


def _mitred(shown: Sequence[Shown], axes: Sequence[str]) -> list[Frame]:
    """Across which other axes nothing lies flat either, and along which the work does not overlap."""
    solids = [s.piece.solid for s in shown]
    found = []
    for frame in (FACE_FRAMES[AHEAD[axis]] for axis in axes):
        way = frame.n
        first, last = (pick(solids, key=lambda s: dot(s.middle, way)) for pick in (min, max))
        if _beyond(first, last, way) and not contacts(solids, frame):
            found.append(frame)
    return found


def _beyond(first: Solid, last: Solid, way: tuple[float, float, float]) -> bool:
    return first.reach(way) < -last.reach(negated(way))
