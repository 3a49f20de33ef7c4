"""Pieces that are worked alike in one step, laid side by side with the worked face to the reader; draws nothing."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from planbook.drawing.ghost import with_all_gone
from planbook.solids import FACE_FRAMES, Frame, Vec3
from planbook.solids.frames import X, Z, dot, negated, plus, times
from planbook.solids.plane import blank_area
from planbook.workshop.pieces import turned, turned_vector
from planbook.workshop.registry import operation_of
from planbook.workshop.timeline import Cue, Event, Shown

MOST = 4
"""More pieces than this stay where they are: a row of them would be drawn too small."""
BEHIND = 0.5
"""Share of the narrower one, both ways, by which two lie behind one another as seen on the face."""
TURNED = "turned about"
"""Among the settings of an event that is drawn: the names of pieces that lie otherwise than they stand."""
AIR = 0.3
"""Room between two, as a share of the shorter side of the largest."""

Box = tuple[float, float, float, float, float]
"""On a face: left, bottom, right, top, and how far it comes towards the reader, mm."""


@dataclass(frozen=True, eq=False, slots=True)
class _Work:
    """What belongs together: pieces with their cues, and the face they are worked on."""

    face: str
    pieces: tuple[Shown, ...]
    cues: tuple[Cue, ...]


def side_by_side(event: Event, alike: Sequence[Event]) -> Event:
    """The event of a picture, made of events `alike`, with its pieces in a row where they hide one another.

    A pair that is worked on opposite faces is turned about, so that both faces are seen, and what is worked on a face
    between them a quarter.
    """
    works = _works(alike)
    if event.show is None or not 2 <= len(works) <= MOST:
        return event
    frame = FACE_FRAMES[works[0].face]
    turns = [_turn(work.face, works[0].face) for work in works]
    if None in turns or (any(turns) and 180.0 not in turns):
        return event
    if any(turn and s.piece.stuck for work, turn in zip(works, turns, strict=True) for s in work.pieces):
        return event
    laid = [_turned(work, works[0], turn or 0.0) for work, turn in zip(works, turns, strict=True)]
    boxes = [_box(work, frame) for work in laid]
    if not any(_behind(one, two) for one, two in combinations(boxes, 2)) or not _hiding(laid, frame):
        return event
    laid = _in_a_row(laid, boxes, frame)
    pieces, cues = (tuple(p for w in laid for p in w.pieces), tuple(c for w in laid for c in w.cues))
    about = tuple(s.piece.name for work in works if work.face != works[0].face for s in work.pieces)
    settings = (*event.settings, (TURNED, about)) if about else event.settings
    return replace(event, show=replace(event.show, pieces=pieces, cues=cues), settings=settings)


def _works(alike: Sequence[Event]) -> list[_Work]:
    """One for each event, or for each piece of an event that does the same to several; none where they share pieces."""
    works: list[_Work] = []
    if any(_cut_up(one, two) for one, two in combinations(alike, 2)):
        return []
    for event in alike:
        show = event.show
        if show is None or not operation_of(event).EACH or show.face not in FACE_FRAMES:
            return []
        if any(s.role == "context" for s in show.pieces):  # they stand in their place among others
            return []
        pieces = with_all_gone(show.pieces, alike)
        if len(pieces) > 1 and not any(any(s.apart) for s in pieces):
            works += [_Work(s.face or show.face, (s,), _of(show.cues, {s.piece.name})) for s in pieces]
        else:
            works.append(_Work(show.face, pieces, _of(show.cues, {s.piece.name for s in pieces})))
    return _one_of_each(works)


def _cut_up(one: Event, two: Event) -> bool:
    """Whether the second event takes some of what the first made, and makes something else of it."""
    made, taken, after = ({p.name for p in pieces} for pieces in (one.made, two.taken, two.made))
    return bool(made & taken - after)


def _of(cues: Sequence[Cue], names: set[str]) -> tuple[Cue, ...]:
    return tuple(cue for cue in cues if cue.piece in names)


def _one_of_each(works: Sequence[_Work]) -> list[_Work]:
    """Work on the same pieces again and again is shown on the last of them, with the cues of all."""
    found: dict[frozenset[str], _Work] = {}
    for work in works:
        names = frozenset(s.piece.name for s in work.pieces)
        before = found.get(names)
        if before is not None and before.face != work.face:
            return []
        found[names] = replace(work, cues=(*before.cues, *work.cues)) if before else work
    everything = [name for names in found for name in names]
    return list(found.values()) if len(set(everything)) == len(everything) else []


def _turn(face: str, other: str) -> float | None:
    """By how many degrees a face is turned about its `_axis` to look where another does; None where that is no way."""
    here, there = FACE_FRAMES[face].n, FACE_FRAMES[other].n
    found = (turn for turn in (0.0, 180.0, 90.0, 270.0) if turned_vector(here, _axis(face), turn) == there)
    return next(found, None)


def _axis(face: str) -> Vec3:
    return X if face in ("top", "bottom") else Z


def _turned(work: _Work, first: _Work, turn: float) -> _Work:
    """The work turned by so many degrees, whereby its face becomes that of the first; by a quarter also behind it."""
    if not turn:
        return work
    frame, middle = FACE_FRAMES[first.face], first.pieces[0].piece.solid.middle
    axis, about = _axis(work.face), work.pieces[0].piece.solid.middle
    far = 0.0 if turn == 180.0 else dot(frame.u, plus(middle, negated(about)))
    pieces = tuple(_turned_about(s, axis, turn, about) for s in work.pieces)
    pieces = tuple(replace(s, apart=plus(s.apart, times(frame.u, far))) for s in pieces)
    cues = tuple(
        replace(
            c,
            points=tuple(_about(p, axis, turn, about) for p in c.points),
            text=_faces_about(c.text, axis, turn),
        )
        for c in work.cues
    )
    return _Work(first.face, pieces, cues)


def _faces_about(text: str, axis: Vec3, turn: float) -> str:
    """The faces that a cue names, after a turn about an axis; other words as they are."""
    names = text.split()
    if not names or not all(name in FACE_FRAMES for name in names):
        return text
    ways = [turned_vector(FACE_FRAMES[name].n, axis, turn) for name in names]
    return " ".join(name for way in ways for name, frame in FACE_FRAMES.items() if dot(frame.n, way) > 0.5)


def _turned_about(shown: Shown, axis: Vec3, turn: float, middle: Vec3) -> Shown:
    piece, gone = turned(shown.piece, axis, turn, middle), tuple(g.turned(axis, turn, middle) for g in shown.gone)
    return replace(shown, piece=piece, gone=gone, apart=turned_vector(shown.apart, axis, turn))


def _about(point: Vec3, axis: Vec3, turn: float, middle: Vec3) -> Vec3:
    return plus(middle, turned_vector(plus(point, negated(middle)), axis, turn))


def _box(work: _Work, frame: Frame) -> Box:
    corners = [frame.local(plus(corner, s.apart)) for s in work.pieces for corner in _corners(s)]
    us, vs, ns = zip(*corners, strict=True)
    return (min(us), min(vs), max(us), max(vs), max(ns))


def _corners(shown: Shown) -> list[Vec3]:
    low, high = shown.piece.solid.bounds
    return [low, high]


def _behind(one: Box, two: Box) -> bool:
    """Whether two lie over one another for the most part, as seen on the face."""
    shares = []
    for k in (0, 1):
        over = min(one[k + 2], two[k + 2]) - max(one[k], two[k])
        shares.append(over / max(1e-9, min(one[k + 2] - one[k], two[k + 2] - two[k])))
    return min(shares) > BEHIND


def _hiding(works: Sequence[_Work], frame: Frame) -> bool:
    """Whether any lie over one another in truth: of two that are curved about each other only the boxes do."""
    shadows = [blank_area().plus(*(s.piece.solid.moved(s.apart).shadow(frame) for s in work.pieces)) for work in works]
    pairs = combinations(shadows, 2)
    return any(one.meet(two).size > BEHIND**2 * min(one.size, two.size) for one, two in pairs)


def _in_a_row(works: Sequence[_Work], boxes: Sequence[Box], frame: Frame) -> list[_Work]:
    """Each beside the last (wide ones: below it), their faces level with the first."""
    wide, high = (max(box[k + 2] - box[k] for box in boxes) for k in (0, 1))
    axis, way = (0, frame.u) if wide <= high else (1, negated(frame.v))
    air = AIR * min(wide, high)
    room, laid = 0.0, []
    for work, box in zip(works, boxes, strict=True):
        start = box[0] - boxes[0][0] if axis == 0 else boxes[0][3] - box[3]
        shift = plus(times(way, room - start), times(frame.n, boxes[0][4] - box[4]))
        laid.append(replace(work, pieces=tuple(replace(s, apart=plus(s.apart, shift)) for s in work.pieces)))
        room += box[axis + 2] - box[axis] + air
    return laid
