"""What is done over paper that is still on the wood (glued, finished, lined, sanded, stuck over); it words nothing."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from planbook.review.spoken import speaks_of
from planbook.solids import FACE_FRAMES, Area
from planbook.solids.frames import dot
from planbook.workshop import At, Event, Piece, Stuck, Timeline
from planbook.workshop.papers import ALONG, DEEP, SCRAP, open_paper

Over = Literal["glued", "finished", "lined", "sanded", "stuck over", "left on"]
SAID = ("paper", "stencil", "peel")
"""A step that speaks of one of these says what becomes of the paper that it sands."""


@dataclass(frozen=True, eq=False, slots=True)
class Papered:
    """Papers that something is done over, and the pieces that have them; at the end of the build there is no event."""

    event: Event | None
    how: Over
    pieces: tuple[Piece, ...]
    papers: tuple[Stuck, ...]


def papered(timeline: Timeline) -> Iterator[Papered]:
    """What is done over paper, the first time for each paper and what is cut of it."""
    told: set[tuple[At, str]] = set()
    for event in timeline.events:
        found: list[tuple[Over, Piece, Stuck]] = []
        for piece, paper in _papers(event.taken):
            how = None if (paper.at, piece.name) in told else _over(event, piece, paper, timeline)
            found += [(how, piece, paper)] if how else []
        yield from _together(event, found)
        told |= {(paper.at, piece.name) for _, piece, paper in found}
        known = {paper.at for piece, paper in _papers(event.taken) if (paper.at, piece.name) in told}
        told |= {(paper.at, piece.name) for piece, paper in _papers(event.made) if paper.at in known}
    left: list[tuple[Over, Piece, Stuck]] = [("left on", *each) for each in _papers(timeline.object)]
    yield from _together(None, [each for each in left if (each[2].at, each[1].name) not in told])


def _papers(pieces: Iterable[Piece]) -> list[tuple[Piece, Stuck]]:
    return [(piece, paper) for piece in pieces for paper in piece.stuck]


def _together(event: Event | None, found: Iterable[tuple[Over, Piece, Stuck]]) -> Iterator[Papered]:
    """Papers of one piece in one, and then pieces with the same papers."""
    papers: dict[tuple[Over, str], list[tuple[Piece, Stuck]]] = {}
    for how, piece, paper in found:
        papers.setdefault((how, piece.name), []).append((piece, paper))
    alike: dict[tuple[Over, tuple[At, ...]], list[list[tuple[Piece, Stuck]]]] = {}
    for (how, _), each in papers.items():
        alike.setdefault((how, tuple(paper.at for _, paper in each)), []).append(each)
    for (how, _), every in alike.items():
        pieces = tuple(each[0][0] for each in every)
        yield Papered(event, how, pieces, tuple(paper for _, paper in every[0]))


def _over(event: Event, piece: Piece, paper: Stuck, timeline: Timeline) -> Over | None:
    if event.stuck is not None:
        return "stuck over" if _stuck_over(event, piece, paper) else None
    made = [each for each in event.made if each.name == piece.name or piece.name in each.sources]
    if any(use.kind == "glue" for use in event.uses):
        return "glued" if _glued(piece, paper, made) else None
    done = [each for p in made for each in p.treated if each.at == event.at]
    if any(each.how == "finished" for each in done):
        return "finished"
    sanded = any(each.how == "sanded" and _lies_on(each.face, piece, paper) for each in done)
    if sanded and not speaks_of(timeline, event.at.step, SAID):
        return "sanded"
    return "lined" if any(_lined(piece, p, paper) for p in made) else None


def _lies_on(face: str, piece: Piece, paper: Stuck) -> bool:
    """Whether a paper lies on a flat face of its piece."""
    frame = FACE_FRAMES.get(face)
    if frame is None:
        return False
    out = piece.solid.reach(frame.n) - dot(paper.frame.origin, frame.n)
    return dot(frame.n, paper.frame.n) > ALONG and out < DEEP


def _glued(piece: Piece, paper: Stuck, made: list[Piece]) -> bool:
    """Whether wood lies over a paper now, as it went along with its piece."""
    bare = open_paper(paper, piece.solid)
    after = [(each, now) for each in made for now in each.stuck if now.at == paper.at and now.piece == paper.piece]
    return not after or all(_covered(bare, each, now) for each, now in after)


def _covered(bare: Area, made: Piece, now: Stuck) -> bool:
    if made.solid.reach(now.frame.n) - dot(now.frame.origin, now.frame.n) < DEEP:
        return False
    return made.solid.section(now.frame, DEEP).meet(bare).size > SCRAP


def _lined(before: Piece, made: Piece, paper: Stuck) -> bool:
    new = [each for each in made.lined if each not in before.lined and dot(each.way, paper.frame.n) > ALONG]
    return any(not each.layer.section(paper.frame, 0.0).meet(open_paper(paper, before.solid)).empty for each in new)


def _stuck_over(event: Event, piece: Piece, paper: Stuck) -> bool:
    """Whether what is printed on a new paper lies over what is printed on another; two may be side by side."""
    over = [new for each in event.made for new in each.stuck if each.name == piece.name and new.at == event.at]
    return any(new.stencil.name != paper.stencil.name and _meet(new, paper) for new in over)


def _meet(new: Stuck, old: Stuck) -> bool:
    level = dot(new.frame.n, new.frame.origin) - dot(new.frame.n, old.frame.origin)
    if dot(new.frame.n, old.frame.n) < ALONG or abs(level) > DEEP:
        return False
    one, other = _printed(new), _printed(old)
    return all(one[k] < other[k + 3] and other[k] < one[k + 3] for k in range(3))


def _printed(paper: Stuck) -> tuple[float, ...]:
    """The box (lower and upper corner, mm) around all lines and holes of a paper, a little thicker than it is."""
    spots = [paper.frame.world(u, v) for line in paper.lines.values() for u, v in _corners(line.bounds)]
    spots += [paper.frame.world(u, v) for u, v, _ in paper.holes.values()]
    spots = spots or [paper.frame.world(u, v) for u, v in _corners(paper.face.bounds)]
    lows = (min(spot[k] for spot in spots) - DEEP for k in range(3))
    return (*lows, *(max(spot[k] for spot in spots) + DEEP for k in range(3)))


def _corners(bounds: tuple[float, float, float, float]) -> tuple[tuple[float, float], ...]:
    left, low, right, high = bounds
    return ((left, low), (right, high))
