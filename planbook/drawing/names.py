"""Names of a picture: what is to be named, and where a name stands with its leader."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from planbook.drawing.marks import Point, Ring
from planbook.drawing.paper import Paper
from planbook.solids.hatch import Floats, away, roomy_point, roomy_points
from planbook.solids.plane import Point2
from planbook.solids.visible import Polygon2

Bounds = tuple[float, float, float, float]
"""Left, bottom, right, top in mm of the view."""
Box = tuple[float, float, float, float]
"""Left, top, right, bottom in mm of the paper."""
Side = Literal["left", "right", "on"]

MARGIN = 1.0
"""Between anything and the edge of the picture, mm."""
GAP = 4.0
"""Between the drawing and a column of names, mm."""
KEEP = 2.4
"""How far the dot of a leader stays from the edge of the face it names, where there is room, mm."""
SLIM, FARTHER = 1.2, 5.0
"""Where a dot cannot keep so far, mm, the face is hardly known for one: then a leader may be so much longer, mm."""
ON_FACE = 1.9
"""Room around a number that stands on its face without a leader, mm."""


@dataclass(frozen=True, eq=False, slots=True)
class Wanted:
    """A name to be set: the faces its leader may end on (largest first), a good spot on them and the room there, mm.

    On `more` faces, which are smaller, it ends only where another way is worse.
    """

    text: str
    faces: tuple[tuple[Polygon2, ...], ...]
    spot: Point2
    room: float = 0.0
    bold: bool = False
    more: tuple[tuple[Polygon2, ...], ...] = ()


@dataclass(frozen=True, eq=False, slots=True)
class Label:
    """A name that has its place: lines of text in `box`, `dot` at the end of the leader, all in mm of the paper.

    With a `ring` the leader ends on it, without a dot. One that is `loose` stands in no column.
    """

    wanted: Wanted
    lines: tuple[str, ...]
    side: Side
    box: Box
    dot: Point
    ring: Ring = ()
    loose: bool = False

    @property
    def start(self) -> Point:
        """Where the leader leaves the name."""
        left, top, right, bottom = self.box
        return (right + 0.7 if self.side == "left" else left - 0.7, (top + bottom) / 2)


@dataclass(frozen=True, slots=True)
class Layout:
    """A drawing with its names, `size` mm high, on paper of this width and height, mm; `left_out` found no room.

    Names that do not stand in `columns` stay where they are.
    """

    paper: Paper
    width: float
    height: float
    size: float
    labels: tuple[Label, ...]
    left_out: tuple[str, ...] = ()
    columns: bool = True


def wanted(text: str, faces: Sequence[tuple[Polygon2, ...]], bold: bool = False) -> Wanted:
    """A name for a piece, given its visible faces, largest first."""
    spot, room = roomy_point(faces[0], 0.0)
    return Wanted(text, tuple(faces), spot, room, bold)


def crossing(one: Label, two: Label) -> bool:
    """Whether the leaders of two names cross or touch."""
    return cross(one.start, one.dot, two.start, two.dot)


def dot_of(label: Label, paper: Paper) -> Point:
    """Where the leader ends: the nearest roomy place on one of the larger faces, best not on a mere edge."""
    return dots_of(label.wanted, np.array([label.start]), paper)[0]


def dots_of(name: Wanted, starts: Floats, paper: Paper) -> list[Point]:
    """The same for each of the places on paper (n,2) from which the leader of a name may start."""
    toward = np.array([paper.lifted((x, y)) for x, y in starts.tolist()]).reshape(-1, 2)
    least, found = np.full(len(toward), np.inf), np.tile(name.spot, (len(toward), 1))
    for polygons in name.faces:
        asked = np.flatnonzero((least == np.inf) | (away(polygons, toward) < least))
        points, kept = roomy_points(polygons, KEEP / paper.scale, toward[asked])
        far = np.hypot(*(points - toward[asked]).T) + (FARTHER / paper.scale if kept * paper.scale < SLIM else 0.0)
        better = far < least[asked] - 1e-6
        least[asked[better]], found[asked[better]] = far[better], points[better]
    return [paper.put((u, v)) for u, v in found.tolist()]


def cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether the line from `a` to `b` crosses that from `c` to `d`."""

    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0
