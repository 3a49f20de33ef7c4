"""The marks of clamps: a block that lies wholly on what is seen of the face it presses; dashes where it is hidden."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from planbook.drawing.ink import PAPER, WORK, Ink, accent
from planbook.drawing.look import Face, Look
from planbook.drawing.marks import Fill, Mark, Pen, Point, Ring, Stroke
from planbook.drawing.paper import Paper
from planbook.drawing.wedge import ARROW, ahead, arrow, turned, wedge
from planbook.solids.hatch import inside
from planbook.solids.visible import Polygon2

BLOCK = (4.0, 0.9)
"""Length and thickness of the block of a clamp, mm on paper."""
AIMS = ((0.35, 1.6), (0.02, 1.0))
"""A block keeps so far within what is seen of its face, and its half is no shorter, mm on paper: first with its edge
well clear of all others, then as it can. One on the edge of a thin board stands over it, as the pad does."""
LOOKS = 8
"""At so many places between its middle and its end a block is looked at."""
ASLANT = (0.0, 30.0, -30.0)
"""A block lies straight across its way, or turned by so many degrees: along the edges of most faces as seen."""
TURNS = (*ASLANT, *(sign * turn for turn in (15.0, 45.0, 55.0) for sign in (1.0, -1.0)))
"""Where it has more room it is turned so."""
IN = (0.4, 0.8, 1.2, 1.6, 2.0)
"""It is moved so far where it finds no room else, mm on paper."""
NEAR = 10.0
"""But no farther than this, mm of the object: a pad has to stay over the joint."""
MORE = 1.3
"""It is turned where that makes it so many times as long."""
UNSEEN = "hidden clamp"
"""The layer of a clamp on a face that is not seen."""
DASHES = Pen(0.3, WORK, (0.8, 0.5))
BARE = 0.8
"""How much of what lies under a clamp in dashes is covered."""


def lying(place: Point, along: Point, look: Look, paper: Paper) -> tuple[Point, float, float]:
    """Where a block lies on its face that presses at a place of the paper: its middle, how far it reaches each way, mm,
    and by how many degrees it is turned: on a narrow strip it lies along that, and beside a near edge a little in.
    """
    face = _face_at(place, look, paper)
    if face is None:
        return place, BLOCK[0] / 2, 0.0
    polygons = paper.polygons(face.polygons)
    about = list(_about(place, NEAR * paper.scale))
    middles = [middle for middle, on in zip(about, inside(polygons, about), strict=True) if on]
    for edge, least in AIMS:
        found = ((middle, *_longest(middle, along, edge, polygons)) for middle in middles)
        best = next((each for each in found if each[1] >= least), None)
        if best is not None:
            return best
    return place, AIMS[-1][1], 0.0


def _longest(middle: Point, along: Point, edge: float, polygons: Sequence[Polygon2]) -> tuple[float, float]:
    """How far a block reaches each way from its middle in polygons, with so much around it, mm, and by how many
    degrees it is turned there.
    """
    straight = _reach(middle, [along], edge, polygons)[0]
    if MORE * straight > BLOCK[0] / 2:
        return straight, 0.0
    long = [straight, *_reach(middle, [turned(along, turn) for turn in TURNS[1:]], edge, polygons)]
    best = 0 if max(long) < MORE * straight else long.index(max(long))
    return long[best], TURNS[best]


def _reach(middle: Point, ways: Sequence[Point], edge: float, polygons: Sequence[Polygon2]) -> list[float]:
    """How far blocks that press along each of some ways reach from their middle, mm; 0 if not at all."""
    ends, thick = [k * BLOCK[0] / 2 / LOOKS for k in range(LOOKS + 1)], BLOCK[1] + 2 * edge
    rims = [p for way in ways for far in ends for p in _rim(middle, way, far + edge, thick)]
    here = inside(polygons, rims)
    whole = [all(here[6 * k : 6 * k + 6]) for k in range(len(here) // 6)]
    on = (whole[k : k + len(ends)] for k in range(0, len(whole), len(ends)))
    return [ends[max(0, (*each, False).index(False) - 1)] for each in on]


def _about(place: Point, most: float) -> Iterator[Point]:
    """The place itself and others, farther and farther from it."""
    yield place
    for far in (each for each in IN if each <= most):
        for k in range(12):
            yield ahead(place, turned((1.0, 0.0), 30.0 * k), far)


def pressing(
    middle: Point, along: Point, half: float = BLOCK[0] / 2, turn: float = 0.0, *, ink: Ink
) -> tuple[Mark, ...]:
    """A block that reaches `half` mm each way from its middle, with a wedge behind it."""
    ring = _block(middle, turned(along, turn), half, BLOCK[1])
    bed = Stroke(ring, Pen(0.7, PAPER), "clamp", closed=True)
    behind = arrow(_tail(middle, along, turn), along, ARROW - 1.0, ink, "clamp")
    return (bed, *behind, Fill((ring,), accent(WORK, ink), "clamp"))


def hidden(middle: Point, along: Point, ink: Ink, turn: float = 0.0) -> tuple[Mark, ...]:
    """The same in dashes, for one that is not seen."""
    ring = _block(middle, turned(along, turn), BLOCK[0] / 2, BLOCK[1])
    rings = (wedge(_tail(middle, along, turn), along, ARROW - 1.0), ring)
    lines = [
        Stroke(ring, pen, UNSEEN, closed=True)
        for pen in (Pen(0.9, PAPER), replace(DASHES, colour=accent(WORK, ink)))
        for ring in rings
    ]
    return (*lines[:2], *(Fill((ring,), PAPER, UNSEEN, BARE) for ring in rings), *lines[2:])


def _tail(middle: Point, along: Point, turn: float = 0.0) -> Point:
    """Where the wedge behind a block begins."""
    return ahead(middle, along, -BLOCK[1] / 2 / math.cos(math.radians(turn)) - ARROW + 1.0)


def _block(middle: Point, along: Point, half: float, thick: float) -> Ring:
    side = (-along[1], along[0])
    near, far = ahead(middle, along, thick / 2), ahead(middle, along, -thick / 2)
    return tuple(ahead(end, side, k * half) for end, k in ((near, 1), (near, -1), (far, -1), (far, 1)))


def _rim(middle: Point, along: Point, half: float, thick: float) -> Ring:
    """The corners of a block and the middle of its ends, which may lie over a slot that runs between the corners."""
    side = (-along[1], along[0])
    return (*_block(middle, along, half, thick), ahead(middle, side, half), ahead(middle, side, -half))


def _face_at(place: Point, look: Look, paper: Paper) -> Face | None:
    """The face that is seen at a place of the paper."""
    return next((face for face in look.faces if inside(paper.polygons(face.polygons), [place])[0]), None)
