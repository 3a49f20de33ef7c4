"""What is printed on one stencil: lines and their use, holes, regions, face; not where on which paper."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from planbook.solids import Area, Outline, Path, Point2
from planbook.solids.plane import box

LineUseKind = Literal["cut", "sand to", "entry", "guide"]
Side = Literal["inside", "outside", "left", "right", "centre"]
Box = tuple[float, float, float, float]

SLIVER = 0.25
"""An opening that comes onto the paper by less than this share of what is left around the work is cut off with it."""
_SIDES = ("left", "below", "right", "above")
"""In the order of a box."""


@dataclass(frozen=True, eq=False, slots=True)
class ArtLine:
    """A line at its true place. A saw cut lies on `side`, `leave` mm away, `kerf` mm wide (0: not known)."""

    name: str
    outline: Outline
    use: LineUseKind = "cut"
    side: Side = "centre"
    leave: float = 0.0
    kerf: float = 0.0


@dataclass(frozen=True, slots=True)
class ArtHole:
    """A hole: its middle, its diameter and its depth in mm (None: through, 0: not told)."""

    name: str
    at: Point2
    diameter: float
    depth: float | None = 0.0


@dataclass(frozen=True, eq=False, slots=True)
class ArtRegion:
    """A part of the face that comes loose, by its name; `waste` if it is thrown away."""

    name: str
    area: Area
    waste: bool = False


@dataclass(frozen=True, eq=False, slots=True)
class StencilArt:
    """One stencil in its own coordinates: u right, v up, mm, seen from outside the face.

    `grain` is its direction in degrees, turning left from u; None where the grain runs into the face. `way` is the side
    of the finished object that its upper side becomes, "" where that is not the same of all that is made by it.
    `edges` are the edges of the piece that are printed (all of `face` unless cropped) and `away` tells, on a
    cropped one, how far it is from a side of the paper ("left", "right", "below", "above") to the edge, mm;
    `trimmed` are the sides of the paper that are no edge of the piece.
    """

    number: int
    total: int
    title: str
    face_name: str
    pieces: tuple[str, ...]
    face: Area
    lines: tuple[ArtLine, ...] = ()
    holes: tuple[ArtHole, ...] = ()
    regions: tuple[ArtRegion, ...] = ()
    grain: float | None = 0.0
    note: str = ""
    way: str = "up"
    edges: tuple[Path, ...] | None = None
    away: tuple[tuple[str, float], ...] = ()
    trimmed: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False, slots=True)
class Laid:
    """A stencil laid on paper: x right, y down, mm; `grain` and `up` are degrees turning right from x.

    The sides "left" and "right" of open lines are swapped with the axis, so that they stay true.
    """

    art: StencilArt
    turned: bool
    face: Area
    edges: tuple[Path, ...]
    lines: tuple[ArtLine, ...]
    holes: tuple[ArtHole, ...]
    regions: tuple[ArtRegion, ...]
    grain: float | None
    up: float

    def side(self, name: str) -> str:
        """Where a side of the stencil ("left", "right", "below", "above") lies on the paper."""
        turn = {"right": "above", "above": "left", "left": "below", "below": "right"}
        return turn[name] if self.turned else name

    @property
    def bounds(self) -> Box:
        """(left, top, right, bottom) of everything that must be exact."""
        return joined_boxes(
            [edge.bounds for edge in self.edges]
            + [saw_line(line).bounds for line in self.lines]
            + [line.outline.bounds for line in self.lines]
            + [hole_box(hole) for hole in self.holes]
        )


def laid(art: StencilArt, turned: bool = False) -> Laid:
    """The stencil on paper, upright or turned a quarter to the left."""

    def outline(shape: Outline) -> Outline:
        return (shape.turned(90) if turned else shape).mirrored("v")

    def area(shape: Area) -> Area:
        return (shape.turned(90) if turned else shape).mirrored("v")

    def point(at: Point2) -> Point2:
        return (-at[1], -at[0]) if turned else (at[0], -at[1])

    swap: dict[Side, Side] = {"left": "right", "right": "left"}
    lines = tuple(
        replace(line, outline=outline(line.outline), side=swap.get(line.side, line.side)) for line in art.lines
    )
    edges = art.edges if art.edges is not None else outlines_of(art.face)
    quarter = 90.0 if turned else 0.0
    return Laid(
        art=art,
        turned=turned,
        face=area(art.face),
        edges=tuple(Path(tuple(point(p) for p in edge.points)) for edge in edges),
        lines=lines,
        holes=tuple(replace(hole, at=point(hole.at)) for hole in art.holes),
        regions=tuple(replace(region, area=area(region.area)) for region in art.regions),
        grain=None if art.grain is None else -(art.grain + quarter) % 180.0,
        up=-90.0 - quarter,
    )


def saw_line(line: ArtLine) -> Outline:
    """The edge of the saw cut: the line itself, or `leave` mm from it on the side of the cut.

    The simulation leaves wood only at closed lines, so that open lines are always sawn to.
    """
    if line.use == "cut" and line.leave > 0 and isinstance(line.outline, Area):
        away = {"outside": line.leave, "inside": -line.leave}.get(line.side, 0.0)
        moved = line.outline.offset(away)
        return line.outline if moved.empty else moved
    return line.outline


def cut_strip(line: ArtLine, width: float) -> Area:
    """The strip `width` mm wide that starts at the saw line and lies on the side of the cut."""
    at = saw_line(line)
    if isinstance(at, Path):
        return at.band(width, line.side if line.side in ("left", "right") else "centre")
    if line.side == "outside":
        return at.offset(width).minus(at)
    if line.side == "inside":
        return at.minus(at.offset(-width))
    return at.offset(width / 2).minus(at.offset(-width / 2))


def outlines_of(area: Area) -> tuple[Path, ...]:
    """The rings of an area as lines that end where they start."""
    return tuple(Path((*ring, ring[0])) for ring in area.rings)


def runs_of(outline: Outline) -> tuple[Path, ...]:
    """A closed or open line as paths; closed ones end where they start."""
    return (outline,) if isinstance(outline, Path) else outlines_of(outline)


def hole_box(hole: ArtHole) -> Box:
    """The box around a hole."""
    (u, v), r = hole.at, hole.diameter / 2
    return (u - r, v - r, u + r, v + r)


def joined_boxes(boxes: Iterable[Box]) -> Box:
    """The box around boxes; a point at the origin if there are none."""
    every = list(boxes) or [(0.0, 0.0, 0.0, 0.0)]
    lows, highs = [b[:2] for b in every], [b[2:] for b in every]
    return (
        min(b[0] for b in lows),
        min(b[1] for b in lows),
        max(b[0] for b in highs),
        max(b[1] for b in highs),
    )


def cropped(art: StencilArt, around: float, axes: str = "uv", step: float = 1.0) -> StencilArt:
    """The stencil with only `around` mm of the face around its work along u, v or both; itself without work.

    What is cut off on the nearer side is a whole number of `step` mm, so that it can be measured out.
    """
    work = [saw_line(line).bounds for line in art.lines] + [line.outline.bounds for line in art.lines]
    work += [hole_box(hole) for hole in art.holes]
    if not work or art.face.empty:
        return art
    need, face = joined_boxes(work), art.face.bounds
    whole = joined_boxes([need, face])
    off = dict.fromkeys(_SIDES, 0.0)
    for low, name, (one, two) in ((0, "u", ("left", "right")), (1, "v", ("below", "above"))):
        if name in axes:
            off[one] = _steps(need[low] - around - face[low], step)
            off[two] = _steps(face[low + 2] - need[low + 2] - around, step)
    window = _window(whole, off)
    for side in (side for side, far in off.items() if far > 0):
        off[side] += math.ceil(_sliver(art.face, window, side, SLIVER * around) / step) * step
    window = _window(whole, off)
    away = []
    for one, two in (("left", "right"), ("below", "above")):
        nearer = min((one, two), key=lambda side: off[side])
        if off[nearer] > 0:
            away.append((nearer, off[nearer]))
    regions = tuple(replace(region, area=region.area.meet(window)) for region in art.regions)
    return replace(
        art,
        face=art.face.meet(window),
        edges=tuple(run for edge in outlines_of(art.face) for run in _whole_runs(edge, window)),
        away=tuple(away),
        trimmed=tuple(side for side, far in off.items() if far > 0),
        regions=tuple(region for region in regions if not region.area.empty),
    )


def _steps(far: float, step: float) -> float:
    """A length as the whole number of steps in it; none if it is negative."""
    return math.floor(max(far, 0.0) / step) * step


def _window(whole: Box, off: Mapping[str, float]) -> Area:
    """A box without what is cut off its sides, mm."""
    left, bottom = whole[0] + off["left"], whole[1] + off["below"]
    return box(left, bottom, whole[2] - off["right"] - left, whole[3] - off["above"] - bottom)


def _sliver(face: Area, window: Area, side: str, most: float) -> float:
    """How far an opening comes onto the paper at a side, and there alone, if that is less than `most`, mm."""
    k = _SIDES.index(side)
    reach = [0.0]
    for opening in window.minus(face).parts:
        gaps = [abs(a - b) for a, b in zip(opening.bounds, window.bounds, strict=True)]
        far = opening.bounds[k ^ 2] - window.bounds[k] if k < 2 else window.bounds[k] - opening.bounds[k ^ 2]
        if far < most and [gap < 1e-6 for gap in gaps] == [n == k for n in range(4)]:
            reach.append(far)
    return max(reach)


def _whole_runs(edge: Path, window: Area) -> tuple[Path, ...]:
    """The stretches of an edge in a window; an edge that is all in it stays in one."""
    left, bottom, right, top = window.bounds
    el, eb, er, et = edge.bounds
    return (edge,) if el >= left and eb >= bottom and er <= right and et <= top else edge.inside(window)
