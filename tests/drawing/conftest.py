"""Hand-made pieces and events for the tests of pictures: small solids, no reader and no workshop."""

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Literal

import pytest

from planbook.drawing.lettering import width_of
from planbook.drawing.marks import Fill, Picture, Stroke, Words
from planbook.drawing.piece_sheet import piece_sheet
from planbook.drawing.scene import step_picture
from planbook.model import Card, Design, Node, Operation
from planbook.solids import FACE_FRAMES, Solid
from planbook.solids.plane import arc_band, box, circle, ellipse
from planbook.solids.solid import block, cylinder, nothing, prism
from planbook.text import Place
from planbook.units import MM_TENTH, LengthStyle
from planbook.workshop import At, Cue, Event, Member, Piece, Show, Shown, Timeline

PLACE = Place("steps.md")
FRONT, TOP = FACE_FRAMES["front"], FACE_FRAMES["top"]
WIDE, HIGH = 90.0, 70.0
"""Room for a picture, mm."""
SHEET = (168.0, 112.0)
"""Room for a measured sheet, mm."""
Box = tuple[float, float, float, float]
Segment = tuple[tuple[float, float], tuple[float, float]]


@dataclass(frozen=True)
class Bench:
    """Makers of pieces, events and builds, and readers of finished pictures."""

    def piece(self, name: str, solid: Solid, wood: str = "white oak", **more: Any) -> Piece:
        return Piece(name, solid, (Member(name, wood, (1.0, 0.0, 0.0), solid, solid.bounds),), At(1, 1, PLACE), **more)

    def layered(self, name: str, solid: Solid, levels: Sequence[float], woods: Sequence[str]) -> Piece:
        """A piece of boards that lie one on the other, each between two levels."""
        (x, y, _), (u, v, _) = solid.bounds
        boards = [block((x - 9, y - 9, a), (u + 9, v + 9, b)) for a, b in itertools.pairwise(levels)]
        members = tuple(Member(w, w, (1.0, 0.0, 0.0), b, b.bounds) for w, b in zip(woods, boards, strict=True))
        return Piece(name, solid, members, At(1, 1, PLACE))

    def event(
        self, kind: str, face: str, shown: Sequence[Shown], cues: Sequence[Cue] = (), fields: Any = None
    ) -> Event:
        operation = Operation(kind, Node(fields or {}, PLACE), 3, 1, PLACE)
        show = Show(face, tuple(shown), tuple(cues))
        return Event(operation, At(3, 1, PLACE), (), (), (), (), show, {}, 1.0, 0.0, 0.0)

    def timeline(self, *pieces: Piece) -> Timeline:
        card = Card("Whimbrel tray", "", "1.0", "Saltmarsh Workshop", "mm", "", "", "", "", PLACE)
        design = Design("", card, {}, {}, {}, {}, {}, {}, {}, "", ())
        return Timeline(design, {}, {}, (), (), {}, {p.name: p for p in pieces}, tuple(pieces), ())

    def drum(self, height: float = 60.0) -> Solid:
        return prism(ellipse((90, 60), 130, 80), TOP, 0, height)

    def rim(self) -> Solid:
        return block((0, 0, 0), (180, 120, 60)).minus(prism(ellipse((90, 60), 132, 82), TOP, -1, 61))

    def bored(self) -> Solid:
        holes = [cylinder(TOP, (20 + 30 * k, 30), 7, -1, 31) for k in range(5)]
        return block((0, 0, 0), (160, 60, 30)).minus(*holes)

    def ring(self) -> Solid:
        return prism(circle((0, 0), 50), TOP, 0, 25).minus(cylinder(TOP, (0, 0), 34, -1, 26))

    def sawn(self) -> Event:
        """A drum lifted out of a rim that is waste, both of a laminated blank."""
        levels, woods = (0, 18, 24, 42, 60), ("black walnut", "sugar maple", "black walnut", "black cherry")
        line = tuple(
            (90 + 65 * math.cos(t * math.pi / 20), 60 + 40 * math.sin(t * math.pi / 20), 60.0) for t in range(41)
        )
        shown = (
            Shown(self.layered("drum", self.drum(), levels, woods), "new", (0.0, 0.0, 75.0)),
            Shown(self.layered("rim", self.rim(), levels, woods), "waste"),
        )
        return self.event("saw", "top", shown, (Cue("cut line", line, "rim"),))

    def slatted(self, count: int) -> Event:
        """Many slats laid on two rails."""
        slats = [self.piece(f"slat {k + 1}", block((12 * k, 0, 40), (12 * k + 9, 200, 48))) for k in range(count)]
        long = 12.0 * count
        rails = [
            self.piece("front rail", block((0, 10, 0), (long, 30, 40)), "black walnut"),
            self.piece("back rail", block((0, 170, 0), (long, 190, 40)), "black walnut"),
        ]
        shown = [Shown(s, "worked", (0.0, 0.0, 30.0)) for s in slats] + [Shown(r, "worked") for r in rails]
        return self.event("assemble", "front", shown)

    def boxes(self, picture: Picture, layer: str = "name") -> list[Box]:
        """Where the words of a layer stand: left, top, right, bottom."""
        found = []
        for mark in picture.of_layer(layer):
            assert isinstance(mark, Words)
            wide = width_of(mark.text, mark.size, mark.bold)
            left = mark.at[0] - {"start": 0.0, "middle": wide / 2, "end": wide}[mark.anchor]
            found.append((left, mark.at[1] - 0.7 * mark.size, left + wide, mark.at[1] + 0.2 * mark.size))
        return found

    def texts(self, picture: Picture, layer: str = "name") -> list[str]:
        return [mark.text for mark in picture.of_layer(layer) if isinstance(mark, Words)]

    def leaders(self, picture: Picture) -> list[Segment]:
        return [(m.points[0], m.points[1]) for m in picture.of_layer("leader") if isinstance(m, Stroke)]

    def extent(self, picture: Picture) -> Box:
        """The box of everything drawn, type included."""
        points = []
        for mark in picture.marks:
            if isinstance(mark, Words):
                continue
            rings = (mark.points,) if isinstance(mark, Stroke) else mark.rings
            points += [p for ring in rings for p in ring]
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        boxes = [*self.boxes(picture), *self.boxes(picture, "key"), (min(xs), min(ys), max(xs), max(ys))]
        return (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes))


def picture_of(bench: Bench, event: Event, wide: float = WIDE, high: float = HIGH, **more: Any) -> Picture:
    """The picture of one event in a build that has nothing else."""
    return step_picture(bench.timeline(), event, wide, high, **more)


def holds(fill: Fill, point: tuple[float, float]) -> bool:
    """Whether a point lies in what is filled, by the even-odd rule."""
    x, y = point
    hits = 0
    for ring in fill.rings:
        for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
            if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
                hits += 1
    return hits % 2 == 1


def sheet(solid: Solid, style: LengthStyle = MM_TENTH, angle: Literal["first", "third"] = "first") -> Picture:
    """The measured sheet of a shelf."""
    return piece_sheet("shelf", solid, *SHEET, style, angle)


def figures(picture: Picture) -> dict[str, list[str]]:
    """Every figure of a row of measures, as it is printed, by the side it stands on."""
    words = [m for m in picture.of_layer("measure") if isinstance(m, Words)]
    return {
        "below": [w.text for w in words if w.angle],
        "beside": [w.text for w in words if not w.angle],
    }


def rebuilt(solid: Solid, places: Sequence[Sequence[float]]) -> Solid:
    """A piece made of the cells between its places along each axis, of which each is all wood or all air."""
    low, built = solid.bounds[0], nothing()
    for (x0, x1), (y0, y1), (z0, z1) in itertools.product(*(tuple(itertools.pairwise(axis)) for axis in places)):
        cell = block((low[0] + x0, low[1] + y0, low[2] + z0), (low[0] + x1, low[1] + y1, low[2] + z1))
        inside = solid.meet(cell).volume / cell.volume
        assert min(inside, 1 - inside) < 1e-9, "a place between two faces is missing"
        if inside > 0.5:
            built = built.plus(cell)
    return built


def arch_sawn_off() -> Solid:
    """An arch of R 94 with a groove of round ends between R 75 and R 85, sawn off square above the plate that it stands
    on and across its groove, so that short bits of its circles stay.
    """
    band = prism(arc_band((100, 60), 75, 85, 6, 174, round_ends=True), FRONT, -90.0, 10.0)
    arch = prism(circle((100, 60), 94).meet(box(0, 60, 200, 160)), FRONT, -80.0, 0.0)
    return block((0, 0, 0), (200, 80, 60)).plus(arch).minus(block((30, -1, 69.45), (201, 81, 200)), band)


def overlapping(boxes: Sequence[Box]) -> list[tuple[Box, Box]]:
    """Pairs of boxes that share more than a hair."""
    pairs = [(a, b) for k, a in enumerate(boxes) for b in boxes[k + 1 :]]
    return [
        (a, b)
        for a, b in pairs
        if min(a[2], b[2]) - max(a[0], b[0]) > 0.05 and min(a[3], b[3]) - max(a[1], b[1]) > 0.05
    ]


def crossing(segments: Sequence[Segment]) -> list[tuple[Segment, Segment]]:
    """Pairs of segments that cross."""

    def side(p: Sequence[float], q: Sequence[float], r: Sequence[float]) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    def cross(one: Segment, two: Segment) -> bool:
        (a, b), (c, d) = one, two
        return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0

    return [(a, b) for k, a in enumerate(segments) for b in segments[k + 1 :] if cross(a, b)]


@pytest.fixture
def bench() -> Bench:
    return Bench()


@pytest.fixture
def overlaps() -> Callable[[Sequence[Box]], list[tuple[Box, Box]]]:
    return overlapping


@pytest.fixture
def crossings() -> Callable[[Sequence[Segment]], list[tuple[Segment, Segment]]]:
    return crossing
