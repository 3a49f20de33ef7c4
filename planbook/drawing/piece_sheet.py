"""A piece in three views with every dimension needed to make it, at a scale of ISO 5455; no list of pieces."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from fractions import Fraction
from itertools import pairwise
from typing import Any, Literal

from planbook.drawing.ink import PAPER, QUIET
from planbook.drawing.lettering import width_of
from planbook.drawing.marks import Fill, Mark, Pen, Picture, Point, Ring, Stroke, Words
from planbook.drawing.measured import AXES, Measured, Rounded, measured
from planbook.drawing.ordinates import REACH, SIZE, STEP, Place, below, beside
from planbook.drawing.paper import Paper
from planbook.drawing.stencil_lines import circle_points
from planbook.drawing.surfaces import CREASE_DEG, groups
from planbook.solids import Solid
from planbook.solids.hatch import clearances
from planbook.solids.visible import orthographic, see
from planbook.speech import say
from planbook.units import FINE_MM, LengthStyle, Quantity, show_fine, show_quantity
from planbook.workshop import Piece

Angle = Literal["first", "third"]
"""How the views are laid out (ISO 5456-2): first angle, as in Europe, or third angle, as in America."""

SCALES = (5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01)
LEGIBLE = 6.0
"""A piece no thinner than this, mm, is large enough on paper at its true size."""
"""ISO 5455, largest first; nothing is drawn larger than five times its size."""
GAP, WIDER = 5.0, 7.0
"""Clear space between two views, mm, and as much as it may be so that all the figures beside them have room."""
BIT = 2.0
"""An edge shorter than this (mm) with a loose end is left out: a remnant of a rounding that reads as dirt."""
TOUCHING = 0.05
"""The end of an edge this near to another one (mm) is not loose."""
TALLER, SMALL = 1.7, 0.1
"""A piece that would be drawn SMALL or smaller gets so much more height, if that draws it twice as large or larger."""
FREE = 2
"""A piece with free curves and so many arcs beside is left to its stencil."""
MOST = 16
"""More places than this along one side are left to the stencil."""
LETTER = 1.6
"""From the middle of a letter to the nearest line, mm, so that its ground breaks none."""
HALF = 1.4
"""Half the height of a letter's ground, mm; no letter is so near to the upper edge that it is cut off."""
_THICK, _THIN = Pen(0.35), Pen(0.18)
_HIDDEN = Pen(0.18, QUIET, (1.6, 0.8))
_CENTRE = Pen(0.13, QUIET, (3.0, 0.6, 0.5, 0.6))
_NOTE = 2.8
_NOTE_LINE = 4.2
_SYMBOL = 18.0
"""From the end of the scale to the notes, with the symbol of the angle between them, mm."""
_PENS = ("outline", "crease", "hidden")
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class SheetWords:
    """What is said on a sheet; braces are filled in."""

    scale: str = "Scale {scale}"
    radius: str = "R {radius}"
    hole: str = "Ø {diameter}, through"
    hole_deep: str = "Ø {diameter}, {depth} deep"
    pin: str = "Ø {diameter}"
    sunk: str = "{hole}, countersunk to Ø {diameter}"
    count: str = "{count} × {what}"
    freeform: str = "Curves and roundings without a radius follow the stencil and the steps."
    by_stencil: str = "There are more places along {sides} than can be told here; follow the stencil and the steps."
    sides: tuple[str, str, str] = ("the width", "the depth", "the height")
    alt: str = "The piece {name} from the front, from above and from the side, with its dimensions, scale {scale}."

    @classmethod
    def spoken(cls) -> "SheetWords":
        """The words in the language spoken."""
        width, depth, height = (say(side) for side in cls().sides)
        said = {f.name: say(f.default) for f in fields(cls) if isinstance(f.default, str)}
        return cls(**said, sides=(width, depth, height))


@dataclass(frozen=True, slots=True)
class _View:
    """One view: the face it shows, the axes that run right and up, whether right is turned round, and its paper."""

    face: str
    right: int
    up: int
    turned: bool
    paper: Paper
    low: Point
    high: Point


def piece_sheet(
    name: str,
    solid: Solid,
    width_mm: float,
    height_mm: float,
    style: LengthStyle,
    angle: Angle,
    words: SheetWords | None = None,
) -> Picture:
    """Front, top and side view with measures from the lower left corner; mm of paper. No marks for nothing.

    The height may be up to TALLER times `height_mm`.

    Each place is dimensioned once: along x under the front view, along z beside it, along y beside the top view.
    """
    words = words or SheetWords.spoken()
    facts = measured(solid)
    if not min(facts.size, default=0.0) > 0:
        return Picture(width_mm, 0.0, (), "")
    notes, letters = _rounds_told(facts, style, words)
    notes += _left_out(facts, words)
    start = width_of(words.scale.format(scale=scale_text(SCALES[-1])), _NOTE, bold=True) + _SYMBOL
    rows = _wrapped(notes, width_mm, start)
    low = 2.0 + _NOTE_LINE * len(rows)
    margin = (_row(facts, (1, 2), style), _row(facts, (0,), style))
    usual, taller = (_scale(facts.size, width_mm, height - low, margin) for height in (height_mm, TALLER * height_mm))
    scale = taller if usual <= SMALL and taller >= 2 * usual else usual
    views, drawn = _laid_out(solid.bounds[0], facts, scale, width_mm, angle, margin)
    marks: list[Mark] = []
    for view in views:
        marks += _drawn(solid, view)
        marks += _centres(facts, view)
    front, top = views[0], views[1]
    lowest = max(views[:2], key=lambda view: view.low[1])
    marks += below(_places(facts, 0, front, style), lowest.low[1])
    room = int((drawn - margin[1]) / STEP) + 1
    tall, deep = _places(facts, 2, front, style), _places(facts, 1, top, style)
    if len(tall) + len(deep) > room:
        longer = max(tall, deep, key=len)
        longer[:] = [place for place in longer if place.whole or place.text == "0"]
        said_less = words.sides[2 if longer is tall else 1]
        rows = _wrapped([*notes, words.by_stencil.format(sides=said_less)], width_mm, start)
    both = (*tall, *deep)
    marks += beside(sorted(both, key=lambda place: place.at), front.low[0])
    marks += _lettered(letters, facts.size, views, [mark.points for mark in marks if isinstance(mark, Stroke)])
    said = words.scale.format(scale=scale_text(scale))
    y = drawn + _NOTE_LINE
    marks.append(Words((0.0, y), said, _NOTE, bold=True, layer="words"))
    marks += _symbol(width_of(said, _NOTE, bold=True) + 4.0, y, angle)
    ends = [(0.0 if n else start, y + _NOTE_LINE * n) for n, _ in enumerate(rows)]
    marks += [Words(at, row, _NOTE, layer="words") for at, row in zip(ends, rows, strict=True) if row]
    alt = words.alt.format(name=name, scale=scale_text(scale))
    return Picture(width_mm, round(y + _NOTE_LINE * (len(rows) - 1) + 1.0, 2), tuple(marks), alt)


def alike(pieces: Mapping[str, Piece]) -> tuple[tuple[str, ...], ...]:
    """Names of pieces in order, those of the same dimensions together; without those that only a stencil can tell."""
    groups: dict[Measured, list[str]] = {}
    for name, piece in pieces.items():
        facts = measured(piece.solid)
        if not _drawn_by_hand(facts):
            groups.setdefault(_rounded(facts), []).append(name)
    return tuple(tuple(names) for names in groups.values())


def _drawn_by_hand(facts: Measured) -> bool:
    """Whether an outline is mostly curves, of which figures would say little beside its stencil."""
    arcs = [each for each in facts.rounds if not each.whole and not each.corner]
    return facts.freeform and len(arcs) >= FREE


def _rounded(facts: Measured) -> Measured:
    """Without differences that no drawing tells."""

    def near(value: Any) -> Any:
        if isinstance(value, float):
            return round(value, 2)
        return tuple(near(item) for item in value) if isinstance(value, tuple) else value

    rounds = tuple(
        replace(
            r, middle=near(r.middle), radius=near(r.radius), along=near(r.along), mark=near(r.mark), sunk=near(r.sunk)
        )
        for r in facts.rounds
    )
    return Measured(near(facts.size), near(facts.places), rounds, facts.freeform)


def scale_text(scale: float) -> str:
    """A scale as ISO 5455 writes it: 1:2, 1:1 or 2:1."""
    return f"{scale:g}:1" if scale >= 1 else f"1:{1 / scale:g}"


def _row(facts: Measured, axes: Iterable[int], style: LengthStyle) -> float:
    """How far a row of measures along one of these axes reaches from its view, mm."""
    texts = [_figure(place, style) for axis in axes for place in facts.places[axis]]
    return REACH + 1.0 + max(width_of(text, SIZE, bold=True) for text in texts)


def _scale(size: Sequence[float], width: float, height: float, margin: tuple[float, float]) -> float:
    """The largest scale at which the views and their measures have room."""
    left, low = margin
    for scale in (each for each in SCALES if each <= 1 or min(size) < LEGIBLE):
        across = left + (size[0] + size[1]) * scale + WIDER
        down = (size[1] + size[2]) * scale + WIDER + 1.0 + low
        if across <= width and down <= height:
            return scale
    return SCALES[-1]


def _laid_out(
    corner: Sequence[float],
    facts: Measured,
    scale: float,
    width: float,
    angle: Angle,
    margin: tuple[float, float],
) -> tuple[tuple[_View, ...], float]:
    """Front, top and side view on paper, and how far down they and the measures reach."""
    size = facts.size
    wide, deep, tall = (side * scale for side in size)
    beside = sum(len(facts.places[axis]) for axis in (1, 2) if len(facts.places[axis]) <= MOST)
    gap = min(max(GAP, STEP * beside - deep - tall - 1.0), WIDER)
    x = max(margin[0], (width - wide - WIDER - deep + margin[0]) / 2)
    first = angle == "first"
    front_y, top_y = (1.0, 1.0 + tall + gap) if first else (1.0 + deep + gap, 1.0)
    side_x = x + wide + WIDER

    def view(face: str, right: int, up: int, left: float, top: float, turned: bool = False) -> _View:
        across, high = size[right] * scale, size[up] * scale
        start = -(corner[right] + size[right]) if turned else corner[right]
        paper = Paper(scale, left - start * scale, top + high + corner[up] * scale)
        return _View(face, right, up, turned, paper, (left, top + high), (left + across, top))

    views = (
        view("front", 0, 2, x, front_y),
        view("top", 0, 1, x, top_y),
        view("left", 1, 2, side_x, front_y, turned=True) if first else view("right", 1, 2, side_x, front_y),
    )
    return views, 1.0 + deep + tall + gap + margin[1]


def _drawn(solid: Solid, view: _View) -> Iterable[Mark]:
    """The edges seen, thick, and those hidden, thin and dashed."""
    seen = see([groups(solid).body], orthographic(view.face), crease_deg=CREASE_DEG, hidden=True)
    drawn = [
        (view.paper.line(stroke.points), stroke.kind == "hidden") for stroke in seen.strokes if stroke.kind in _PENS
    ]
    edges = [points for points, hidden in drawn if not hidden and len(points) > 1]
    yield from (Stroke(points, _HIDDEN, "hidden") for points, hidden in drawn if hidden and len(points) > 1)
    yield from (Stroke(points, _THICK, "edge") for n, points in enumerate(edges) if not is_bit(n, edges))


def is_bit(number: int, edges: Sequence[Ring]) -> bool:
    """Whether an edge is short and ends in the air."""
    points = edges[number]
    if sum(math.dist(one, two) for one, two in pairwise(points)) >= BIT:
        return False
    others = [*edges[:number], *edges[number + 1 :]]
    return max(clearances((), others, (points[0], points[-1]))) > TOUCHING


def _at(view: _View, facts: Measured, axis: int, place: float) -> float:
    """Where a place along an axis lies on paper in a view that shows it."""
    if axis == view.up:
        return view.low[1] - place * view.paper.scale
    span = facts.size[axis] - place if view.turned else place
    return view.low[0] + span * view.paper.scale


def _places(facts: Measured, axis: int, view: _View, style: LengthStyle) -> list[Place]:
    """What is dimensioned along an axis, in the order in which it stands on the paper."""
    wanted = facts.places[axis]
    if len(wanted) > MOST:
        wanted = (wanted[0], wanted[-1])
    told = {("0" if not place else _figure(place, style)): place for place in wanted}
    whole = next(reversed(told))
    found = [Place(_at(view, facts, axis, place), text, text == whole) for text, place in told.items()]
    return sorted(found, key=lambda place: place.at)


def _figure(mm: float, style: LengthStyle) -> str:
    """A length without its unit, which the page tells once.

    A small one is told to half a step, so that a rule reads it as it reads the others beside it; as a decimal only
    where nothing would be left of it.
    """
    length = Quantity(Fraction(mm), 1)
    half = replace(style, step=style.step / 2, settled=()) if length.value < FINE_MM and not style.decimal else style
    text = show_quantity(length, half).removesuffix(f" {style.unit}")
    return show_fine(length, style).removesuffix(f" {style.unit}") if text == "0" else text


def _left_out(facts: Measured, words: SheetWords) -> list[str]:
    many = [words.sides[axis] for axis in AXES if len(facts.places[axis]) > MOST]
    said = [words.by_stencil.format(sides=say(" and ").join(many))] if many else []
    return [*said, words.freeform] if facts.freeform else said


def _rounds_told(facts: Measured, style: LengthStyle, words: SheetWords) -> tuple[list[str], dict[str, Rounded]]:
    """A note for each kind of hole and radius, and the letter of each note with the round that carries it."""
    kinds: dict[tuple[int, str], list[Rounded]] = {}
    for each in facts.rounds:
        kinds.setdefault((each.axis, _told(each, style, words)), []).append(each)
    notes, letters = [], {}
    for letter, ((_, what), alike) in zip(_LETTERS, kinds.items(), strict=False):
        said = words.count.format(count=len(alike), what=what) if len(alike) > 1 else what
        notes.append(f"{letter}: {said}")
        letters[letter] = alike[0]
    return notes, letters


def _told(found: Rounded, style: LengthStyle, words: SheetWords) -> str:
    if not found.whole:
        return words.radius.format(radius=_figure(found.radius, style))
    diameter = _figure(2 * found.radius, style)
    if not found.hollow:
        return words.pin.format(diameter=diameter)
    hole = words.hole.format(diameter=diameter)
    if not found.through and not found.sunk:
        hole = words.hole_deep.format(diameter=diameter, depth=_figure(found.along[1] - found.along[0], style))
    return words.sunk.format(hole=hole, diameter=_figure(found.sunk, style)) if found.sunk else hole


def _view_of(found: Rounded, views: Sequence[_View]) -> _View:
    """The view along the axis of a round surface."""
    return next(view for view in views if found.axis not in (view.right, view.up))


def _on_paper(found: Rounded, point: Point, size: Sequence[float], view: _View) -> Point:
    """A point in the two axes across a round surface, on the paper of the view along it."""
    axes = [axis for axis in AXES if axis != found.axis]
    place = dict(zip(axes, point, strict=True))
    across = size[view.right] - place[view.right] if view.turned else place[view.right]
    return (view.low[0] + across * view.paper.scale, view.low[1] - place[view.up] * view.paper.scale)


def _centres(facts: Measured, view: _View) -> Iterable[Mark]:
    """Crosses of centre lines on holes and pins."""
    for found in facts.rounds:
        if found.whole and found.axis not in (view.right, view.up):
            x, y = _on_paper(found, found.middle, facts.size, view)
            reach = found.radius * view.paper.scale + 1.5
            yield Stroke(((x - reach, y), (x + reach, y)), _CENTRE, "centre")
            yield Stroke(((x, y - reach), (x, y + reach)), _CENTRE, "centre")


def _lettered(
    letters: dict[str, Rounded], size: Sequence[float], views: Sequence[_View], lines: Sequence[Ring]
) -> list[Mark]:
    """The letter of each note beside its round, clear of lines and of other letters if it can be, on a white ground."""
    marks: list[Mark] = []
    taken: list[Point] = []
    for letter, found in letters.items():
        view = _view_of(found, views)
        spot = _free(_spots(found, size, view), taken, view, lines)
        taken.append(spot)
        x, y = spot
        half = width_of(letter, SIZE, bold=True) / 2 + 0.5
        ground = ((x - half, y - HALF), (x + half, y - HALF), (x + half, y + HALF), (x - half, y + HALF))
        marks.append(Fill((ground,), PAPER, "ground"))
        marks.append(Words((x, y + 0.36 * SIZE), letter, SIZE, "middle", bold=True, layer="letter"))
    return marks


def _spots(found: Rounded, size: Sequence[float], view: _View) -> list[Point]:
    """Places for a letter by a round surface: beside its mark, in the wood of a pin, outside a hole, and turned on."""
    x, y = _on_paper(found, found.middle, size, view)
    u, v = _on_paper(found, found.mark, size, view)
    radius = max(math.hypot(u - x, v - y), 1e-6)
    start = math.pi / 4 if found.whole else math.atan2(v - y, u - x)
    turns = [0.0, 0.3, -0.3, 0.6, -0.6] if not found.whole else [k * math.pi / 4 for k in range(8)]
    found_at = []
    for reach in (radius + 2.4, max(radius - 2.4, 0.0), radius + 3.4):
        found_at += [(x + reach * math.cos(start + t), y + reach * math.sin(start + t)) for t in turns]
    return found_at


def _free(spots: Sequence[Point], taken: Sequence[Point], view: _View, lines: Sequence[Ring]) -> Point:
    """The first place in the view that is clear of the letters already there, of lines as well if there is one."""
    (left, bottom), (right, top) = view.low, view.high
    near = [s for s in spots if left - 3 < s[0] < right + 3 and max(top - 3, HALF) < s[1] < bottom + 1]
    clear = [s for s in near if all(abs(s[0] - t[0]) > STEP or abs(s[1] - t[1]) > STEP for t in taken)]
    rooms = clearances((), lines, clear)
    bare = [spot for spot, room in zip(clear, rooms, strict=True) if room > LETTER]
    widest = [spot for spot, room in zip(clear, rooms, strict=True) if room == max(rooms)]
    return (bare or widest or near or list(spots))[0]


def _wrapped(notes: Sequence[str], width: float, start: float) -> list[str]:
    """Notes side by side in rows, of which the first begins at `start` beside the scale and may be empty."""
    rows = [""]
    for note in notes:
        longer = f"{rows[-1]}  ·  {note}" if rows[-1] else note
        if width_of(longer, _NOTE) <= (width if len(rows) > 1 else width - start):
            rows[-1] = longer
        else:
            rows.append(note)
    return rows


def _symbol(x: float, y: float, angle: Angle) -> Iterable[Mark]:
    """The symbol of first or third angle: a blunt cone and its end (ISO 5456-2; drawn from memory)."""
    cone_x, end_x = (x, x + 7.0) if angle == "first" else (x + 5.0, x + 1.8)
    mid = y - 0.9
    cone = ((cone_x, mid - 0.8), (cone_x + 3.6, mid - 1.6), (cone_x + 3.6, mid + 1.6), (cone_x, mid + 0.8))
    yield Stroke(cone, _THIN, "symbol", closed=True)
    yield Stroke(circle_points((end_x, mid), 1.6), _THIN, "symbol", closed=True)
    yield Stroke(circle_points((end_x, mid), 0.8), _THIN, "symbol", closed=True)
