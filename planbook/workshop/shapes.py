"""Builds the plane shapes of a design from their formulas; what cannot be drawn becomes a trouble."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from planbook.model import Affine, Design, Node, Shape
from planbook.solids import curves, plane
from planbook.solids.plane import Area, Outline, Path, Point2
from planbook.text import Place
from planbook.units import Quantity, UnitProblem, parse_formula
from planbook.workshop.timeline import Trouble
from planbook.workshop.values import Compute

HUGE = 20_000.0
"""No outline is larger than this, mm."""
MOST_CORNERS = 20_000
"""A drawn outline with more corners would keep the saw busy for hours, and its reader too."""
THIN = 1e-6
"""A drawing narrower than this, mm, cannot be scaled to a width."""


class _Undrawable(Exception):  # noqa: N818 - a fact about the design
    def __init__(self, kind: str, place: Place, /, **facts: Any) -> None:
        super().__init__(kind)
        self.kind, self.place, self.facts = kind, place, facts


class _Unknown(Exception):  # noqa: N818 - a fact about the design
    """A shape that this one needs could not be drawn; it has its own trouble."""


@dataclass
class _Board:
    """The shapes drawn so far."""

    design: Design
    compute: Compute
    drawn: dict[str, Outline | None] = field(default_factory=dict)
    troubles: list[Trouble] = field(default_factory=list)
    open: list[str] = field(default_factory=list)

    def outline(self, name: str) -> Outline:
        if name in self.open or name not in self.design.shapes:
            raise _Unknown
        if name not in self.drawn:
            self.open.append(name)
            self.drawn[name] = self._draw(self.design.shapes[name])
            self.open.pop()
        found = self.drawn[name]
        if found is None:
            raise _Unknown
        return found

    def _draw(self, shape: Shape) -> Outline | None:
        try:
            outline = _KINDS[shape.kind](_Fields(shape, self))
            _check(shape, outline)
        except _Undrawable as problem:
            facts = {"shape": shape.name, **problem.facts}
            self.troubles.append(Trouble(problem.kind, problem.place, 0, facts))
            return None
        except (_Unknown, KeyError):
            return None
        return outline


def draw_shapes(design: Design, compute: Compute) -> tuple[dict[str, Outline], tuple[Trouble, ...]]:
    """Every shape that can be drawn, by name, and what is wrong with the others."""
    board = _Board(design, compute)
    for name in design.shapes:
        try:
            board.outline(name)
        except _Unknown:
            continue
    return {n: o for n, o in board.drawn.items() if o is not None}, tuple(board.troubles)


def _check(shape: Shape, outline: Outline) -> None:
    fault = outline.fault()
    if fault:
        raise _Undrawable("shape-crosses-itself", shape.place, reason=fault[0], where=fault[1])
    if isinstance(outline, Area) and outline.empty:
        raise _Undrawable("shape-empty", shape.place)
    if any(not math.isfinite(b) or abs(b) > HUGE for b in outline.bounds):
        raise _Undrawable("shape-huge", shape.place, most=HUGE)


@dataclass(frozen=True)
class _Fields:
    """The fields of one shape, computed when they are asked for."""

    shape: Shape
    board: _Board

    def has(self, name: str) -> bool:
        return name in self.shape.fields

    def node(self, name: str) -> Node:
        node = self.shape.fields.get(name)
        if node is None:
            raise _Undrawable("shape-lacks", self.shape.place, field=name, kind=self.shape.kind)
        return node

    def quantity(self, node: Node) -> Quantity:
        try:
            return self.board.compute(parse_formula(str(node.value)))
        except UnitProblem as problem:
            place = node.place.within(problem.offset, problem.length)
            raise _Undrawable("bad-formula", place, problem=problem.kind, message=problem.message) from None

    def length(self, name: str, positive: bool = False) -> float:
        return self._length(self.node(name), positive)

    def _length(self, node: Node, positive: bool = False) -> float:
        found = self.quantity(node)
        if not found.is_length and not (found.is_number and found.value == 0):
            raise _Undrawable("not-a-length", node.place, found=found.kind_name, field="")
        if positive and found.value <= 0:
            raise _Undrawable("not-positive", node.place, value=float(found.value), field="")
        return float(found.value)

    def angle(self, name: str) -> float:
        node = self.node(name)
        found = self.quantity(node)
        if not found.is_angle and not found.is_number:
            raise _Undrawable("not-an-angle", node.place, found=found.kind_name)
        return float(found.value)

    def point(self, node: Node) -> Point2:
        items = node.value if isinstance(node.value, tuple) else ()
        if len(items) != 2:
            raise _Undrawable("shape-lacks", node.place, field="two lengths", kind=self.shape.kind)
        return (self._length(items[0]), self._length(items[1]))

    def others(self, name: str) -> list[Outline]:
        node = self.node(name)
        items = node.value if isinstance(node.value, tuple) else (node,)
        return [self.board.outline(str(item.value)) for item in items]

    def areas(self, name: str) -> list[Area]:
        outlines = self.others(name)
        for outline in outlines:
            if not isinstance(outline, Area):
                raise _Undrawable("shape-open", self.node(name).place)
        return [o for o in outlines if isinstance(o, Area)]


def _circle(f: _Fields) -> Area:
    radius = f.length("radius", True) if f.has("radius") else f.length("diameter", True) / 2
    return plane.circle(f.point(f.node("at")), radius)


def _ellipse(f: _Fields) -> Area:
    return plane.ellipse(f.point(f.node("at")), f.length("width", True), f.length("height", True))


def _box(f: _Fields) -> Area:
    width, height = f.length("width", True), f.length("height", True)
    if f.has("middle"):
        u, v = f.point(f.node("middle"))
        left, bottom = u - width / 2, v - height / 2
    else:
        left, bottom = f.point(f.node("at"))
    corner = f.length("corner") if f.has("corner") else 0.0
    if not 0 <= corner <= min(width, height) / 2 + 1e-9:
        raise _Undrawable("corner-too-large", f.node("corner").place, corner=corner, most=min(width, height) / 2)
    return plane.box(left, bottom, width, height, corner)


def _polygon(f: _Fields) -> Area:
    node = f.node("points")
    items = node.value if isinstance(node.value, tuple) else ()
    if len(items) < 3:
        raise _Undrawable("shape-lacks", node.place, field="three points or more", kind="polygon")
    return Area.of(f.point(item) for item in items)


def _line(f: _Fields) -> Path:
    return Path((f.point(f.node("from")), f.point(f.node("to"))))


def _path(f: _Fields) -> Outline:
    points = [f.point(f.node("from"))]
    legs = f.node("to")
    for leg in legs.value if isinstance(legs.value, tuple) else ():
        points.extend(_leg(f, points[-1], leg))
    closed = f.node("closed").value if f.has("closed") else True
    if closed:
        kept = plane.without_repeats(points)
        if len(kept) < 3:
            raise _Undrawable("shape-lacks", legs.place, field="three points or more", kind="closed path")
        return Area.of(kept)
    if len(points) < 2:
        raise _Undrawable("shape-lacks", legs.place, field="two points or more", kind="path")
    return Path(tuple(points))


def _leg(f: _Fields, start: Point2, leg: Node) -> list[Point2]:
    table = leg.table()
    if "to" not in table:
        raise _Undrawable("shape-lacks", leg.place, field="to", kind="path")
    end = f.point(table["to"])
    if "around" in table:
        return _arc_around(leg, start, end, f.point(table["around"]), _turns_left(table))
    if "bulge_through" in table:
        return _arc_through(leg, start, end, f.point(table["bulge_through"]))
    return [end]


def _turns_left(table: Mapping[str, Node]) -> bool:
    return "turn" not in table or table["turn"].value == "left"


def _arc_around(leg: Node, start: Point2, end: Point2, middle: Point2, left: bool) -> list[Point2]:
    first, second = math.dist(start, middle), math.dist(end, middle)
    if first < 1e-9 or abs(first - second) > 0.01:
        raise _Undrawable("arc-off-centre", leg.place, first=first, second=second)
    a = math.atan2(start[1] - middle[1], start[0] - middle[0])
    b = math.atan2(end[1] - middle[1], end[0] - middle[0])
    turn = (b - a) % (2 * math.pi) if left else -((a - b) % (2 * math.pi))
    if abs(turn) < 1e-12:
        turn = 2 * math.pi if left else -2 * math.pi
    return [*plane.arc_points(middle, first, a, a + turn)[1:-1], end]


def _arc_through(leg: Node, start: Point2, end: Point2, via: Point2) -> list[Point2]:
    (ax, ay), (bx, by), (cx, cy) = start, via, end
    d = 2 * (ax * (by - cy) + bx * (cy - ay) + cx * (ay - by))
    if abs(d) < 1e-9:
        raise _Undrawable("arc-straight", leg.place)
    a2, b2, c2 = ax * ax + ay * ay, bx * bx + by * by, cx * cx + cy * cy
    middle = (
        (a2 * (by - cy) + b2 * (cy - ay) + c2 * (ay - by)) / d,
        (a2 * (cx - bx) + b2 * (ax - cx) + c2 * (bx - ax)) / d,
    )
    return _arc_around(leg, start, end, middle, d > 0)


def _arc_band(f: _Fields) -> Area:
    inner, outer = f.length("inner", True), f.length("outer", True)
    start, end = f.angle("start"), f.angle("end")
    if inner >= outer or not 0 < end - start < 360:
        raise _Undrawable("band-inside-out", f.shape.place, inner=inner, outer=outer, start=start, end=end)
    round_ends = f.has("ends") and f.node("ends").value == "round"
    return plane.arc_band(f.point(f.node("middle")), inner, outer, start, end, round_ends)


def _drawing(f: _Fields) -> Outline:
    drawn = f.shape.drawn
    if drawn is None:
        raise _Unknown
    left, bottom, right, top = drawn.bounds
    width, height = (f.length(key, True) if f.has(key) else None for key in ("width", "height"))
    across, up = _scales(f, (width, right - left), (height, top - bottom))
    at = f.point(f.node("at")) if f.has("at") else (left * across, bottom * up)
    place = Affine(a=across, d=up, e=at[0] - left * across, f=at[1] - bottom * up)
    if max(abs(b) for b in drawn.placed(place).bounds) > HUGE:
        raise _Undrawable("shape-huge", f.shape.place, most=HUGE)
    try:
        return curves.outline(drawn.placed(place).strokes, MOST_CORNERS)
    except curves.TooFine as fine:
        raise _Undrawable("shape-too-fine", f.shape.place, most=fine.most) from None


def _scales(f: _Fields, width: tuple[float | None, float], height: tuple[float | None, float]) -> tuple[float, float]:
    """How much a drawing is stretched to the right and up; one side that is asked for takes the other along."""
    found: list[float | None] = []
    for key, (asked, drawn) in (("width", width), ("height", height)):
        if asked is not None and drawn < THIN:
            raise _Undrawable("shape-lacks", f.node(key).place, field=f"a {key} to be scaled", kind="drawing")
        found.append(None if asked is None else asked / drawn)
    across, up = found
    usual = across or up or 1.0
    return across or usual, up or usual


def _join(f: _Fields) -> Area:
    first, *rest = f.areas("of")
    return first.plus(*rest)


def _cut_away(f: _Fields) -> Area:
    return f.areas("from")[0].minus(*f.areas("by"))


def _overlap(f: _Fields) -> Area:
    first, *rest = f.areas("of")
    for other in rest:
        first = first.meet(other)
    return first


def _offset(f: _Fields) -> Area:
    return f.areas("of")[0].offset(f.length("by"))


def _fillet(f: _Fields) -> Area:
    return f.areas("of")[0].rounded(f.length("radius", True))


def _mirror(f: _Fields) -> Outline:
    return f.others("of")[0].mirrored(str(f.node("across").value), f.length("at") if f.has("at") else 0.0)


def _move(f: _Fields) -> Outline:
    return f.others("of")[0].moved(*f.point(f.node("by")))


def _turn(f: _Fields) -> Outline:
    about = f.point(f.node("about")) if f.has("about") else (0.0, 0.0)
    return f.others("of")[0].turned(f.angle("angle"), about)


_KINDS: dict[str, Callable[[_Fields], Outline]] = {
    "circle": _circle,
    "ellipse": _ellipse,
    "box": _box,
    "polygon": _polygon,
    "path": _path,
    "line": _line,
    "arc band": _arc_band,
    "drawing": _drawing,
    "join": _join,
    "cut away": _cut_away,
    "overlap": _overlap,
    "offset": _offset,
    "mirror": _mirror,
    "fillet": _fillet,
    "move": _move,
    "turn": _turn,
}
