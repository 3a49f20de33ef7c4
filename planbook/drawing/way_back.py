"""Chain lines of an exploded view: from a piece back to the piece it sits in; the pulling apart is elsewhere."""

import math
from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Literal

from planbook.drawing.ink import LINE, PAPER
from planbook.drawing.look import Placed, flat
from planbook.drawing.marks import Pen, Stroke
from planbook.drawing.paper import Paper
from planbook.drawing.views import HOME
from planbook.solids import Vec3
from planbook.solids.frames import negated, plus, times
from planbook.solids.hatch import owners
from planbook.solids.visible import Polygon2

SHOWN = 2.8
"""So much of the way of a piece is seen in one go at least, mm: a dash and a dot; shorter bits are specks."""
BESIDE = 0.5
"""Pieces whose boxes are this near touch, mm."""
SPOT = 0.4
"""How far apart the places are at which it is looked whether a way is seen, mm of paper."""
FAR = 1e4
"""No piece is larger than this, mm."""
SEATED = 0.98
"""The inner end of a piece is looked for at this share of half its length from its middle."""
_BED = Pen(0.45, PAPER)
"""On dark wood a thin line is seen only with a light edge."""
_PEN = Pen(0.18, LINE, (1.8, 0.4, 0.4, 0.4))

Kind = Literal["own", "host", "other", "free"]
Areas = Sequence[Sequence[Sequence[Polygon2]]]


def ways_back(placed: Sequence[Placed], faces: Areas, paper: Paper) -> list[Stroke]:
    """A chain line from each piece that was moved to the piece it came off, if one stretch between the two is seen.

    `faces` are those of each piece that are seen, on the plane of the view. A stretch that begins or ends in the air,
    or runs into a third piece, would lead nowhere.
    """
    seen = [[polygon for face in each for polygon in paper.polygons(face)] for each in faces]
    found: list[Stroke] = []
    for n in range(len(placed)):
        host = _host(n, placed)
        if host is not None:
            found += _stretches(n, host, placed, seen, paper)
    return found


def _host(n: int, placed: Sequence[Placed]) -> int | None:
    """The piece that one touches as it is joined, and has been drawn straight off, the least far."""
    (piece, move) = placed[n]
    touching = (k for k, (other, _) in enumerate(placed) if k != n and _touch(piece.solid.bounds, other.solid.bounds))
    off = [(math.dist(move, placed[k][1]), k) for k in touching if _straight(_from(placed[k][1], move))]
    # What stays is no guest of the smaller piece that is drawn off it.
    smaller = [(far, k) for far, k in off if placed[k][0].solid.volume > piece.solid.volume]
    return min(smaller)[1] if smaller else None


def _touch(one: tuple[Vec3, Vec3], other: tuple[Vec3, Vec3]) -> bool:
    return all(one[0][a] < other[1][a] + BESIDE and other[0][a] < one[1][a] + BESIDE for a in range(3))


def _moved(placed: Placed) -> tuple[Vec3, Vec3]:
    low, high = placed[0].solid.bounds
    return plus(low, placed[1]), plus(high, placed[1])


def _straight(way: Vec3) -> bool:
    return sum(abs(along) > BESIDE for along in way) == 1


def _stretches(
    n: int, host: int, placed: Sequence[Placed], seen: Sequence[Sequence[Polygon2]], paper: Paper
) -> Iterator[Stroke]:
    """The stretch of a way that is seen all the way from the host, in which it begins, to the piece."""
    piece, move = placed[n]
    start, end = plus(_inner_end(n, host, placed), placed[host][1]), plus(piece.solid.middle, move)
    flat_ends = [paper.put(flat(HOME, point)) for point in (start, end)]
    steps = max(2, math.ceil(math.dist(*flat_ends) / SPOT))
    shares = [(k + 0.5) / steps for k in range(steps)]
    points = [plus(start, times(_from(start, end), share)) for share in shares]
    spots = [paper.put(flat(HOME, point)) for point in points]
    kinds = [_kind(n, host, owner, point, placed) for owner, point in zip(owners(seen, spots), points, strict=True)]
    seated = _touch((start, start), _moved(placed[host]))
    runs = [(kind, [k for k, _ in run]) for kind, run in groupby(enumerate(kinds), key=lambda each: each[1])]
    for at, (kind, run) in enumerate(runs):
        before, after = (runs[k][0] if 0 <= k < len(runs) else "" for k in (at - 1, at + 1))
        far = math.dist(spots[run[0]], spots[run[-1]])
        if kind == "free" and (before == "host" or (at == 0 and seated)) and after == "own" and far >= SHOWN:
            line = (spots[run[0]], spots[run[-1]])
            yield Stroke(line, _BED, "way bed")
            yield Stroke(line, _PEN, "way")


def _inner_end(n: int, host: int, placed: Sequence[Placed]) -> Vec3:
    """The middle of the end of a piece that lay deepest in its host, for the rest of a knob is outside of it.

    The middle of the piece where there is no wood at that place, as below an arch.
    """
    piece, move = placed[n]
    way = _from(placed[host][1], move)
    end = plus(piece.solid.middle, times(way, -SEATED / 2 * _long(piece.solid.extent, way) / math.hypot(*way)))
    in_wood = len(piece.solid.hits(end, plus(end, times(way, FAR / math.hypot(*way))))) % 2 == 1
    return end if in_wood else piece.solid.middle


def _long(extent: Vec3, way: Vec3) -> float:
    """How long a box is along an axis."""
    return max(side for side, along in zip(extent, way, strict=True) if abs(along) > BESIDE)


def _kind(n: int, host: int, owner: int, point: Vec3, placed: Sequence[Placed]) -> Kind:
    """What is seen where a place on a way lies: the way itself, the piece, its host, or a third one that hides it."""
    if owner == n:
        return "own"
    if owner < 0 or not _hidden(point, placed[owner]):
        return "free"
    return "host" if owner == host else "other"


def _hidden(point: Vec3, before: Placed) -> bool:
    """Whether a piece lies between a place and the eye."""
    piece, move = before
    spot = _from(move, point)
    return bool(piece.solid.hits(spot, plus(spot, times(HOME.toward, FAR))))


def _from(start: Vec3, end: Vec3) -> Vec3:
    return plus(end, negated(start))
