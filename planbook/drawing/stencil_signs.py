"""Signs of stencils about a point: the grain, which way is up, a way in, a leader; not where they go."""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from planbook.drawing.lettering import RISE, width_of
from planbook.drawing.marks import Fill, Mark, Point, Stroke, Words
from planbook.drawing.stencil_art import Laid
from planbook.drawing.stencil_lines import along, circle_points
from planbook.drawing.stencil_pens import ARROW, BODY, CUT, INK, LEADER, SMALL
from planbook.drawing.stencil_room import rectangle
from planbook.solids import Area, Path

_BARB, _LEAN = 3.2, 1.3
_HEAD = (1.6, 0.32)
"""How long the arrowhead of a leader is, and how wide to each side, mm."""


@dataclass(frozen=True, eq=False, slots=True)
class Sign:
    """A sign about the origin: the room it takes, and its marks once it has a place."""

    shape: Area
    marks_at: Callable[[Point], tuple[Mark, ...]]


def grain_sign(degrees: float, length: float, text: str) -> Sign:
    """A shaft with a barb at each end, on opposite sides, its word in the middle; turned right from x."""
    angle = (degrees + 90) % 180 - 90
    half, gap = length / 2, width_of(text, BODY) / 2 + 1.5

    def marks_at(middle: Point) -> tuple[Mark, ...]:
        turn = _turner(middle, angle)
        strokes = [
            Stroke(
                (turn(sign * (half - _BARB), sign * _LEAN), turn(sign * half, 0), turn(sign * gap, 0)),
                ARROW,
                "grain",
            )
            for sign in (-1, 1)
        ]
        words = Words(turn(0, RISE * BODY), text, BODY, "middle", angle, layer="grain")
        return (*strokes, words)

    return Sign(rectangle((0, 0), length + 2, 5.5, angle), marks_at)


def end_grain_sign(text: str) -> Sign:
    """Rings of a log's end with the words beside them."""
    width = 10.0 + width_of(text, BODY)

    def marks_at(middle: Point) -> tuple[Mark, ...]:
        x, y = middle[0] - width / 2 + 4, middle[1]
        rings = [Stroke(circle_points((x - 0.3 * r, y), r), ARROW, "grain", closed=True) for r in (0.6, 1.8, 3.2)]
        words = Words((x + 5, y + RISE * BODY), text, BODY, layer="grain")
        return (*rings, words)

    return Sign(rectangle((0, 0), width + 1, 8.5), marks_at)


def up_sign(degrees: float, text: str) -> Sign:
    """A hollow arrow towards the top of the face, with the words beside it."""
    beside = 5.5 if abs(math.cos(math.radians(degrees))) > 0.5 else 3.8
    width = 2 * beside + width_of(text, SMALL)

    def marks_at(middle: Point) -> tuple[Mark, ...]:
        x, y = middle[0] - width / 2 + beside - 0.8, middle[1]
        turn = _turner((x, y), degrees)
        outline = ((-4, -1), (0.5, -1), (0.5, -2.4), (4.2, 0), (0.5, 2.4), (0.5, 1), (-4, 1))
        arrow = Stroke(tuple(turn(*p) for p in outline), ARROW, "words", closed=True)
        return (arrow, Words((x + beside, y + RISE * SMALL), text, SMALL, layer="words"))

    return Sign(rectangle((0, 0), width + 1, 9.5), marks_at)


def inward(entry: Path, paper: Laid) -> tuple[Point, ...]:
    """The points of a way in from where the blade begins: in a hole, off the face, or nearest to the edge of it."""
    first, last = entry.points[0], entry.points[-1]
    face, bored = paper.face, [_in_a_hole(end, paper) for end in (first, last)]
    if bored[0] != bored[1]:
        return entry.points if bored[0] else entry.points[::-1]
    if face.empty:
        return entry.points
    depths = [face.distance_to_edge(p) if face.holds(p) else -face.distance_to_edge(p) for p in (first, last)]
    return entry.points[::-1] if depths[1] < depths[0] - 1e-9 else entry.points


def _in_a_hole(end: Point, paper: Laid) -> bool:
    return any(math.dist(end, hole.at) <= hole.diameter / 2 for hole in paper.holes)


def entry_arrows(points: Sequence[Point]) -> Iterator[Stroke]:
    """Open arrowheads on a way in, from where the blade begins to the line that is sawn."""
    step = min(8.0, Path(tuple(points)).length / 2)
    for (x, y), (dx, dy) in list(along(points, step))[:2]:
        back = 2.2
        wings = [(x - back * dx - s * 1.3 * dy, y - back * dy + s * 1.3 * dx) for s in (-1, 1)]
        yield Stroke((wings[0], (x, y), wings[1]), CUT, "entry")


def leader(start: Point, end: Point, dot: bool) -> tuple[Mark, ...]:
    """A thin line from a thing to its words: it ends in a dot in an area and in an arrowhead on a line (ISO 128)."""
    line, far = Stroke((start, end), LEADER, "words"), math.dist(start, end)
    if dot:
        return (line, Fill((circle_points(start, 0.55),), INK, "words"))
    if far < 2 * _HEAD[0]:
        return (line,)
    turn = _turner(start, math.degrees(math.atan2(end[1] - start[1], end[0] - start[0])))
    return (line, Fill((((start, turn(_HEAD[0], _HEAD[1]), turn(_HEAD[0], -_HEAD[1]))),), INK, "words"))


def _turner(middle: Point, degrees: float) -> Callable[[float, float], Point]:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))

    def turn(x: float, y: float) -> Point:
        return (middle[0] + x * c - y * s, middle[1] + x * s + y * c)

    return turn
