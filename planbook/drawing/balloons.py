"""Where the balloons of an exploded view stand: on bare paper, as near to their pieces as they can be."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from planbook.drawing.ink import LEADER, LINE, PAPER
from planbook.drawing.lettering import RISE
from planbook.drawing.marks import Fill, Mark, Pen, Point, Stroke, Words
from planbook.drawing.words import DOT, circle
from planbook.solids.hatch import clearances, owners, roomy_point
from planbook.solids.visible import Polygon2

Floats = NDArray[np.float64]

CELL = 0.8
"""How far apart the places are at which it is known what lies there, mm."""
CLEAR = 1.3
"""Between a circle and any piece, mm."""
BETWEEN = 1.0
"""Between two circles, a circle and the leader of another, or a dot and the leader of another, mm."""
TURNS = 48
"""In so many directions a leader is tried."""
LONGEST = 90.0
"""No leader is longer, mm."""
DOTS = 40
"""So many places are tried for the dot of a leader."""
MOST = 500
"""So many of the best places of each balloon are looked at beside those of the others."""
FARTHER = (0.0, 2.4, 4.8, 8.0)
"""How far behind the first clear place on its way a balloon may stand as well, mm."""
KEEP, LEAST = 2.0, 0.7
"""How far a dot stays from the edge of its face, and at least, mm; each mm missing costs `CRAMPED`."""
CRAMPED = 6.0
ROOMY = 3
"""The roomiest places of so many faces are among them."""
OVER = 5.0
"""What a mm of a leader over another piece costs, in mm of leader."""
CLASH = 400.0
"""What it costs to cross another leader or to touch another circle: more than any way round."""
ROUNDS = 4
"""So often each balloon looks again for its best place beside the others."""


@dataclass(frozen=True, slots=True)
class Numbered:
    """A number to be set, and the faces of its piece on paper, the largest first."""

    text: str
    faces: tuple[tuple[Polygon2, ...], ...]


@dataclass(frozen=True, slots=True)
class Balloon:
    """A number in a circle about `at`, and the `dot` at the end of its leader, mm of the paper."""

    text: str
    at: Point
    dot: Point


@dataclass(frozen=True, eq=False, slots=True)
class _Tried:
    """Places for one balloon: the middles of circles and dots (n,2), and what each costs, mm."""

    at: Floats
    dot: Floats
    cost: Floats


def standing(numbers: Sequence[Numbered], width: float, height: float, radius: float) -> tuple[Balloon, ...]:
    """A balloon for each number, on paper of this size, mm: short leaders that cross neither another nor other pieces.

    The paper must have room for a circle somewhere; where everything is full, leaders run over pieces.
    """
    if not numbers:
        return ()
    ground = _Ground(numbers, width, height, radius)
    tried = [ground.places(n) for n in range(len(numbers))]
    order = sorted(range(len(numbers)), key=lambda n: (-float(tried[n].cost.min()), numbers[n].text))
    taken: dict[int, tuple[Point, Point]] = {}
    for _ in range(ROUNDS):
        before = dict(taken)
        for n in order:
            others = [taken[k] for k in sorted(taken) if k != n]
            best = int(np.argmin(tried[n].cost + CLASH * _clashes(tried[n], others, radius)))
            taken[n] = (_point(tried[n].at[best]), _point(tried[n].dot[best]))
        if taken == before:
            break
    return tuple(Balloon(number.text, *taken[n]) for n, number in enumerate(numbers))


class _Ground:
    """What lies where on the paper, looked up on a grid."""

    def __init__(self, numbers: Sequence[Numbered], width: float, height: float, radius: float) -> None:
        self.numbers, self.size = numbers, (width, height)
        across, down = (max(1, int(side / CELL)) for side in self.size)
        middles = [((i + 0.5) * CELL, (j + 0.5) * CELL) for i in range(across) for j in range(down)]
        areas = [[polygon for face in number.faces for polygon in face] for number in numbers]
        self.owner = np.array(owners(areas, middles)).reshape(across, down)
        self.bare = _clear(self.owner < 0, (radius + CLEAR) / CELL)
        rim = math.ceil((radius + DOT) / CELL)
        self.bare[:rim] = self.bare[-rim:] = False
        self.bare[:, :rim] = self.bare[:, -rim:] = False

    def places(self, n: int) -> _Tried:
        """Where the balloon of a piece may stand, seen from each of the dots it may point at."""
        dots, rooms = self._dots(n)
        turns = np.arange(TURNS) * 2 * math.pi / TURNS
        along = np.arange(1, int(min(LONGEST, math.hypot(*self.size)) / CELL)) * CELL
        ways = np.stack([np.cos(turns), np.sin(turns)], axis=1)
        spots = dots[:, None, None, :] + ways[None, :, None, :] * along[None, None, :, None]
        cells = np.floor(spots / CELL).astype(int)
        on = ((cells >= 0) & (cells < np.array(self.owner.shape))).all(axis=-1)
        i, j = (np.where(on, cells[..., k], 0) for k in (0, 1))
        bare = self.bare[i, j] & on
        over = np.cumsum((self.owner[i, j] >= 0) & (self.owner[i, j] != n) & on, axis=-1) * CELL
        first = np.where(bare.any(axis=-1), bare.argmax(axis=-1), len(along))
        found: list[tuple[Floats, Floats, Floats]] = []
        for more in FARTHER:
            step = first + round(more / CELL)
            a, b = np.nonzero(step < len(along))
            c = step[a, b]
            good = bare[a, b, c]
            a, b, c = a[good], b[good], c[good]
            cost = along[c] + OVER * over[a, b, c] + CRAMPED * np.maximum(KEEP - rooms[a], 0.0)
            found.append((spots[a, b, c], dots[a], cost))
        at, dot, cost = (np.concatenate(each) for each in zip(*found, strict=True))
        if not len(cost):
            return _Tried(np.array([self.size]) / 2, dots[:1], np.array([CLASH]))
        best = np.argsort(cost, kind="stable")[:MOST]
        return _Tried(at[best], dot[best], cost[best])

    def _dots(self, n: int) -> tuple[Floats, Floats]:
        """Places for the dot, spread over the faces, and how far each is from an edge, mm."""
        faces = self.numbers[n].faces
        points, rooms = zip(*(roomy_point(face, 0.0) for face in faces[:ROOMY]), strict=True)
        polygons = [polygon for face in faces for polygon in face]
        edges = [(*ring, ring[0]) for outer, holes in polygons for ring in (outer, *holes)]
        grid = np.argwhere(self.owner == n)[:: max(1, int((self.owner == n).sum() / (8 * DOTS)))]
        spots = [*points, *(((i + 0.5) * CELL, (j + 0.5) * CELL) for i, j in grid.tolist())]
        far = np.array([*rooms, *clearances((), edges, spots[len(points) :])])
        least = min(LEAST, 0.8 * float(far.max()))
        good = np.flatnonzero(far >= least)
        good = good[:: max(1, len(good) // DOTS)]
        return np.array(spots)[good], far[good]


def _clear(bare: NDArray[np.bool_], far: float) -> NDArray[np.bool_]:
    """The bare cells that are at least so many cells from any that is not."""
    reach = math.ceil(far)
    padded = np.pad(bare, reach, constant_values=True)
    found = bare.copy()
    for i, j in product(range(2 * reach + 1), repeat=2):
        if math.hypot(i - reach, j - reach) <= far:
            found &= padded[i : i + bare.shape[0], j : j + bare.shape[1]]
    return found


def _clashes(tried: _Tried, others: Sequence[tuple[Point, Point]], radius: float) -> Floats:
    """How many of the other balloons each place crosses or touches."""
    found = np.zeros(len(tried.cost))
    for at, dot in others:
        one, two = np.array(at), np.array(dot)
        touch = np.hypot(*(tried.at - one).T) < 2 * radius + BETWEEN
        touch |= _away(one[None], tried.at, tried.dot) < radius + BETWEEN
        touch |= _away(two[None], tried.at, tried.dot) < BETWEEN
        touch |= _away(tried.at, one[None], two[None]) < radius + BETWEEN
        touch |= _away(tried.dot, one[None], two[None]) < BETWEEN
        found += touch | _cross(tried.at, tried.dot, one[None], two[None])
    return found


def _away(points: Floats, starts: Floats, ends: Floats) -> Floats:
    """How far points (n,2) are from stretches, mm."""
    way = ends - starts
    share = ((points - starts) * way).sum(axis=1) / np.maximum((way * way).sum(axis=1), 1e-9)
    near = starts + way * np.clip(share, 0.0, 1.0)[:, None]
    far: Floats = np.hypot(*(points - near).T)
    return far


def _cross(a: Floats, b: Floats, c: Floats, d: Floats) -> NDArray[np.bool_]:
    """Whether stretches from a to b cross that from c to d."""

    def side(p: Floats, q: Floats, r: Floats) -> Floats:
        found: Floats = (q[:, 0] - p[:, 0]) * (r[:, 1] - p[:, 1]) - (q[:, 1] - p[:, 1]) * (r[:, 0] - p[:, 0])
        return found

    crossed: NDArray[np.bool_] = (side(a, b, c) * side(a, b, d) < 0) & (side(c, d, a) * side(c, d, b) < 0)
    return crossed


def _point(row: Floats) -> Point:
    return (round(float(row[0]), 3), round(float(row[1]), 3))


def ballooned(balloons: Sequence[Balloon], size: float, radius: float) -> tuple[Mark, ...]:
    """All leaders on white beds, then dots, then circles with their numbers `size` mm high."""
    lines = [(_rim(each, radius), each.dot) for each in balloons]
    rings = [circle(each.at, radius) for each in balloons]
    return (
        *(Stroke(line, Pen(LEADER + 0.4, PAPER), "leader bed") for line in lines),
        *(Stroke(line, Pen(LEADER, LINE), "leader") for line in lines),
        *(Stroke((each.dot,), Pen(2 * DOT + 0.4, PAPER), "dot bed") for each in balloons),
        *(Stroke((each.dot,), Pen(2 * DOT, LINE), "dot") for each in balloons),
        *(Fill((ring,), PAPER, "balloon") for ring in rings),
        *(Stroke(ring, Pen(0.18, LINE), "balloon", closed=True) for ring in rings),
        *(
            Words((each.at[0], each.at[1] + RISE * size), each.text, size, "middle", bold=True, layer="name")
            for each in balloons
        ),
    )


def _rim(balloon: Balloon, radius: float) -> Point:
    """Where the leader leaves the circle."""
    (x, y), (u, v) = balloon.at, balloon.dot
    share = radius / max(math.dist(balloon.at, balloon.dot), radius)
    return (x + (u - x) * share, y + (v - y) * share)
