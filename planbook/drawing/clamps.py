"""Where the blocks of a picture's clamps lie: both ends of a clamp alike, on the wood that each presses or, in dashes,
behind it.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations, product

import numpy as np
from numpy.typing import NDArray

from planbook.drawing.ink import Ink
from planbook.drawing.look import Look, flat
from planbook.drawing.marks import Mark, Point
from planbook.drawing.pads import BLOCK, block, hidden, joined, pressing
from planbook.drawing.paper import Paper
from planbook.drawing.sight import in_sight
from planbook.drawing.wedge import turned, unit
from planbook.solids import AXES, Vec3
from planbook.solids.frames import dot, negated, plus, times
from planbook.solids.hatch import holders, holding, owners
from planbook.workshop.timeline import Cue, Shown

Floats = NDArray[np.float64]

STILL: Vec3 = (0.0, 0.0, 0.0)
TURNS = (0.0, 30.0, -30.0)
"""A block lies straight across its way, or turned by so many degrees: along the edges of most faces as seen."""
ASLANT = (0.0, 0.3, 0.3)
"""What each of these turns costs, where moving a block by 1 mm of paper costs 1."""
FITS = (
    (2.0, 0.35, 0.0),
    (1.6, 0.35, 0.6),
    (2.0, 0.02, 1.5),
    (1.6, 0.02, 2.0),
    (1.0, 0.02, 3.0),
    (0.7, 0.02, 4.0),
    (0.5, 0.02, 5.0),
)
"""Half the length of a block, how far it keeps from the edges of what it lies on, mm on paper, and what that costs."""
UNFIT, STUB = 6.0, 1.0
"""What it costs that it lies on no such place at all, and half the length of one in sight there, mm on paper."""
AWAY = (0.0, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 5.0)
"""A clamp is moved so far, mm on paper."""
NEAR = 15.0
"""But no farther than this, mm of the object: it has to stay over the joint."""
FIRM = 0.9
"""It is moved to where there is no less than this share of the wood between its ends, or it would press on a hollow."""
AROUND = 8
"""It is moved so many ways."""
CLASH, APART = 8.0, 2.5
"""What it costs that one clamp, or the line between its ends, is nearer than this to another one, mm on paper: each end
would be taken for one of the other.
"""
CROWDED, SMALL = 9.5, 0.7
"""Where clamps that press the same way are nearer to one another, mm on paper, all are drawn so much smaller."""
PARALLEL = 0.999
"""Cosine between ways that are one."""
IN_LINE = 0.5
"""Both ends of a clamp lie on one line, give or take so many mm."""


_Line = tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class _Block:
    """Where a block lies on paper, how far it reaches each way, mm, and how far it is turned."""

    middle: Point
    half: float
    turn: float


class _End:
    """One end of a clamp, and what it may lie on: the face that it presses, or what is seen of its piece."""

    def __init__(self, cue: Cue, shown: Sequence[Shown], look: Look, paper: Paper) -> None:
        self.number = next((n for n, s in enumerate(shown) if s.piece.name == cue.piece), -1)
        self.shown = shown[self.number] if self.number >= 0 else None
        by = self.shown.apart if self.shown else STILL
        self.all, self.home, self.out = shown, cue.points[-1], _out(cue)
        self.tip, self.look, self.paper = plus(self.home, by), look, paper
        self.seen = in_sight(self.tip, shown, look.view)
        self.middle, self.along = self.at(STILL), unit(self.at(self.out), self.at(STILL))
        self.grounds = holders([])

    def lie_on(self, face: int) -> None:
        """Say which face is seen where it presses: the block has to lie on that, or on one of its piece if hidden."""
        faces = self.look.of(self.number) if not self.seen else self.look.faces[face : face + 1] if face >= 0 else ()
        self.grounds = holders([self.paper.polygons(each.polygons) for each in faces])

    def costs(self, moves: Sequence[Vec3], size: float) -> tuple[Floats, Floats]:
        """What it costs to be moved so far, mm, turned each way (moves, turns), and the longest half there, mm."""
        fit = np.any(holding(self.grounds, self._outlines(moves, size)), axis=0)
        fit = fit.reshape(len(moves), len(TURNS), len(FITS))
        best, fits = fit.argmax(axis=2), fit.any(axis=2)
        halves, prices = size * np.array([each[0] for each in FITS]), np.array([each[2] for each in FITS])
        least = size * STUB if self.seen else halves[0]
        return np.where(fits, prices[best], UNFIT), np.where(fits, halves[best], least)

    def _outlines(self, moves: Sequence[Vec3], size: float) -> Floats:
        """The outlines of blocks there, turned each way, that fit each way: (moves times turns times fits, 4, 2)."""
        here = [
            block((0.0, 0.0), turned(self.along, turn), size * half + edge, size * BLOCK[1] + 2 * edge)
            for turn in TURNS
            for half, edge, _ in FITS
        ]
        middles = np.array([self.at(by) for by in moves])
        every: Floats = (middles[:, None, None] + np.array(here)).reshape(-1, 4, 2)
        return every

    def on_wood(self, by: Vec3) -> bool:
        """Whether its piece is pressed as well if it is moved so far."""
        return self.shown is None or bool(self.shown.piece.solid.hits(*self._along(by, 0.1)))

    def wood(self, by: Vec3, deep: float) -> float:
        """How much wood there is within so many mm of where it presses if it is moved so far, mm."""
        hits = [s.piece.solid.hits(*self._along(by, deep)) for s in self.all]
        return sum(end - start for each in hits for start, end in zip(each[::2], each[1::2], strict=False))

    def _along(self, by: Vec3, deep: float) -> tuple[Vec3, Vec3]:
        """A line from just outside of the wood into it, where all stands together."""
        tip = plus(self.home, by)
        return plus(tip, times(self.out, 0.1)), plus(tip, times(self.out, -deep))

    def at(self, by: Vec3) -> Point:
        """Where it lies on paper if it is moved so far."""
        return self.paper.put(flat(self.look.view, plus(self.tip, by)))


def clamped(
    cues: Sequence[Cue], shown: Sequence[Shown], look: Look, paper: Paper, ink: Ink
) -> dict[int, tuple[Mark, ...]]:
    """The marks of all clamps among the cues, by the number of the cue."""
    if not any(cue.kind == "clamp" for cue in cues):
        return {}
    ends = {n: _End(cue, shown, look, paper) for n, cue in enumerate(cues) if cue.kind == "clamp"}
    faces = owners([face.polygons for face in look.faces], [paper.lifted(end.middle) for end in ends.values()])
    for end, face in zip(ends.values(), faces, strict=True):
        end.lie_on(face)
    size = SMALL if _crowded([*ends.values()]) else 1.0
    found: dict[int, tuple[Mark, ...]] = {}
    for clamps in _alike([*_pairs([*ends], cues)], cues):
        laid = dict(_laid(clamps, ends, size))
        for n, pad in laid.items():
            draw = pressing if ends[n].seen else hidden
            found[n] = draw(pad.middle, ends[n].along, pad.half, pad.turn, size, ink=ink)
        for one, two in (pair for pair in clamps if len(pair) == 2 and ends[pair[0]].seen != ends[pair[1]].seen):
            found[one] = (*joined(laid[one].middle, laid[two].middle, ink), *found[one])
    return found


def _crowded(ends: Sequence[_End]) -> bool:
    return any(
        dot(one.out, two.out) > PARALLEL and math.dist(one.middle, two.middle) < CROWDED
        for one, two in combinations(ends, 2)
    )


def _alike(clamps: Sequence[tuple[int, ...]], cues: Sequence[Cue]) -> Iterator[list[tuple[int, ...]]]:
    """The clamps that press along one line, whichever of their ends comes first."""
    left = list(clamps)
    while left:
        way = _out(cues[left[0][0]])
        alike = [pair for pair in left if abs(dot(_out(cues[pair[0]]), way)) > PARALLEL]
        left = [pair for pair in left if pair not in alike]
        yield alike


def _pairs(numbers: Sequence[int], cues: Sequence[Cue]) -> Iterator[tuple[int, ...]]:
    """The two ends of each clamp, where both are shown."""
    left = list(numbers)
    while left:
        n = left.pop(0)
        other = next((m for m in left if _one_clamp(cues[n], cues[m])), None)
        if other is not None:
            left.remove(other)
        yield (n,) if other is None else (n, other)


def _one_clamp(one: Cue, two: Cue) -> bool:
    """Whether two ends press towards one another, on one line."""
    (way, other), between = (_out(one), _out(two)), plus(one.points[-1], negated(two.points[-1]))
    aside = plus(between, times(way, -dot(between, way)))
    return dot(way, other) < -PARALLEL and math.hypot(*aside) < IN_LINE


def _out(cue: Cue) -> Vec3:
    """The unit vector out of the wood that an end presses."""
    tail, tip = cue.points[0], cue.points[-1]
    return times(plus(tail, negated(tip)), 1 / math.dist(tail, tip))


def _laid(clamps: Sequence[tuple[int, ...]], ends: Mapping[int, _End], size: float) -> Iterator[tuple[int, _Block]]:
    """Where the blocks of clamps that press along one line lie, all turned alike, by the number of the end."""
    found = [_each_turn([ends[n] for n in pair], size) for pair in clamps]
    turn = int(np.argmin(np.sum([[cost for cost, _, _ in each] for each in found], axis=0)))
    lines: list[_Line] = []
    for pair, each in zip(clamps, found, strict=True):
        own = [ends[n] for n in pair]
        _, by, half = each[turn]
        if _clashes(own, by, lines, size):
            _, by, half = _each_turn(own, size, lines)[turn]
        lines += _lines(own, by)
        yield from ((n, _Block(ends[n].at(by), half, TURNS[turn])) for n in pair)


def _lines(ends: Sequence[_End], by: Vec3) -> list[_Line]:
    """What is drawn of a clamp that is moved so far: the line between its ends if there is one, or else its ends."""
    middles = [end.at(by) for end in ends]
    if len({end.seen for end in ends}) == 2:
        return [(middles[0], middles[-1])]
    return [(middle, middle) for middle in middles]


def _clashes(ends: Sequence[_End], by: Vec3, lines: Sequence[_Line], size: float) -> bool:
    """Whether a clamp that is moved so far could be taken for another one."""
    return any(_apart(one, other) < size * APART for one in _lines(ends, by) for other in lines)


def _apart(one: _Line, other: _Line) -> float:
    """How near two lines come that run the same way, or do not cross: it is where one of them ends."""
    return min(_off(end, line) for ends, line in ((one, other), (other, one)) for end in ends)


def _off(point: Point, line: _Line) -> float:
    (ax, ay), (bx, by) = line
    dx, dy = bx - ax, by - ay
    square = dx * dx + dy * dy
    share = ((point[0] - ax) * dx + (point[1] - ay) * dy) / square if square else 0.0
    share = min(max(share, 0.0), 1.0)
    return math.dist(point, (ax + share * dx, ay + share * dy))


def _each_turn(ends: Sequence[_End], size: float, lines: Sequence[_Line] = ()) -> list[tuple[float, Vec3, float]]:
    """For each turn what the best place for both ends of a clamp costs, how far it is moved there, mm, and the half of
    its blocks, mm on paper; apart from the lines of others.
    """
    scale = ends[0].paper.scale
    best = [(math.inf, STILL, 0.0)] * len(TURNS)
    for away in AWAY:
        if min(cost for cost, _, _ in best) <= away or away / scale > NEAR:
            break
        moves = [*_moves(ends[0].out, away / scale)]
        costs, halves = zip(*(end.costs(moves, size) for end in ends), strict=True)
        clash = np.array([CLASH * _clashes(ends, by, lines, size) for by in moves])
        total = away + np.sum(costs, axis=0) + np.array(ASLANT) + clash[:, None]
        half = np.minimum.reduce(halves)
        firm = cache(lambda k, moves=moves: _as_firm(ends, moves[k]))
        for turn, k in product(range(len(TURNS)), range(len(moves))):
            if total[k, turn] < best[turn][0] and firm(k):
                best[turn] = (float(total[k, turn]), moves[k], float(half[k, turn]))
    return best


def _as_firm(ends: Sequence[_End], by: Vec3) -> bool:
    """Whether a clamp that is moved presses on wood, with as much of it between its ends."""
    if by == STILL:
        return True
    if not all(end.on_wood(by) for end in ends):
        return False
    far = math.dist(ends[0].home, ends[-1].home) + 0.1
    return ends[0].wood(by, far) >= FIRM * ends[0].wood(STILL, far)


def _moves(out: Vec3, far: float) -> Iterator[Vec3]:
    """Moves of so many mm across the way of a clamp."""
    if not far:
        yield STILL
        return
    one = min(AXES.values(), key=lambda axis: abs(dot(axis, out)))
    one = plus(one, times(out, -dot(one, out)))
    one = times(one, 1 / math.hypot(*one))
    two = (out[1] * one[2] - out[2] * one[1], out[2] * one[0] - out[0] * one[2], out[0] * one[1] - out[1] * one[0])
    for k in range(AROUND):
        turn = 2 * math.pi * k / AROUND
        yield plus(times(one, far * math.cos(turn)), times(two, far * math.sin(turn)))
