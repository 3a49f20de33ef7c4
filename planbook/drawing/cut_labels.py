"""Places words and cut numbers on the drawing of a board so that they can be read; it draws no lines."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import cos, pi, sin

from planbook.drawing.lettering import LEADING, RISE, elided, shortened, width_of, wrapped
from planbook.drawing.marks import Mark, Point, Ring, Words

NAME = 2.7
SIZE = 2.4
LEAST = 1.9
"""Type sizes in mm: of a name, of a size, and the least that is still legible (5.4 pt)."""
GAP = 1.0
_INSET = 0.6


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on paper, mm."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def ring(self) -> Ring:
        """Its corners."""
        return (
            (self.left, self.top),
            (self.right, self.top),
            (self.right, self.bottom),
            (self.left, self.bottom),
        )

    @property
    def middle(self) -> Point:
        """Its middle."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def meets(self, other: "Box", gap: float = 0.2) -> bool:
        """Whether two boxes overlap or come closer than `gap`."""
        return (
            self.left < other.right + gap
            and other.left < self.right + gap
            and self.top < other.bottom + gap
            and other.top < self.bottom + gap
        )


@dataclass(frozen=True, slots=True)
class Label:
    """Words with the box they take."""

    marks: tuple[Mark, ...]
    box: Box


def label_in(box: Box, name: str, size: str) -> Label | None:
    """A name with a size under it, upright or turned, as large as fits into the box; None if none is legible."""
    wide, high = box.right - box.left - 2 * _INSET, box.bottom - box.top - 2 * _INSET
    for scale in (1.0, 0.85, LEAST / SIZE):
        for turned in (False, True):
            across, down = (high, wide) if turned else (wide, high)
            for lines in _ways(name, size, across, scale):
                tall = sum(line[1] * LEADING for line in lines)
                if tall <= down and all(width_of(text, s, bold) <= across for text, s, bold in lines):
                    return _set(box, lines, turned)
    return None


_Line = tuple[str, float, bool]


def _ways(name: str, size: str, room: float, scale: float) -> Iterable[list[_Line]]:
    """The ways to break a label: name over size, the name in two lines, both in one."""
    one, two = NAME * scale, SIZE * scale
    short = shortened(name)
    yield [(short, one, True), (size, two, False)]
    broken = wrapped(name, one * 1.06, room, 2)
    if len(broken) == 2 and "…" not in broken[1] and all(" " in name for _ in broken):
        yield [*((text, one, True) for text in broken), (size, two, False)]
    sides = size.split(" × ")
    if len(sides) == 2:
        yield [(short, one, True), (f"{sides[0]} ×", two, False), (sides[1], two, False)]
    yield [(f"{short}  {size}", two, False)]


def _set(box: Box, lines: Sequence[_Line], turned: bool) -> Label:
    x, y = box.middle
    tall = sum(size * LEADING for _, size, _ in lines)
    wide = max(width_of(text, size, bold) for text, size, bold in lines)
    marks: list[Mark] = []
    down = -tall / 2
    for text, size, bold in lines:
        middle = down + size * LEADING / 2
        down += size * LEADING
        base = middle + RISE * size
        # Turned words read from below upwards, as on drawings (ISO 129-1).
        at = (x + base, y) if turned else (x, y + base)
        marks.append(Words(at, text, size, "middle", -90.0 if turned else 0.0, bold, layer="label"))
    across, high = (tall, wide) if turned else (wide, tall)
    return Label(tuple(marks), Box(x - across / 2, y - high / 2, x + across / 2, y + high / 2))


@dataclass(frozen=True, slots=True)
class Spot:
    """Where the number of a cut goes, and the point of the cut it must be led to (None where it stands on the cut)."""

    at: Point
    leads_to: Point | None = None


_ALONG = (0.12, 0.88, 0.25, 0.75, 0.5, 0.37, 0.63, 0.06, 0.94)
_TURNS = 16
_REACHES = (4.5, 6.0, 8.0, 10.0, 13.0, 17.0)


def spot_for(ends: tuple[Point, Point], board: Box, radius: float, near: float, used: Sequence[Box]) -> Spot:
    """A free place for the number of a cut: beyond the board where the cut runs out of it, on the cut, or near it."""
    for at in (*_outside(ends, board, radius + 0.4, near), *_on(ends)):
        if _free(at, radius, used):
            return Spot(at)
    (x0, y0), (x1, y1) = ends
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    for reach in _REACHES:
        for turn in range(_TURNS):
            angle = 2 * pi * (turn + 0.5) / _TURNS
            at = (middle[0] + reach * cos(angle), middle[1] + reach * sin(angle))
            if _within(at, board, radius) and _free(at, radius, used):
                return Spot(at, middle)
    return Spot(middle)


def _outside(ends: tuple[Point, Point], board: Box, out: float, near: float) -> list[Point]:
    """Just beyond the edges of the board that a cut runs to."""
    (x0, y0), (x1, y1) = ends
    if y0 == y1:
        tries = [(board.left - out, y0)] if x0 - board.left < near else []
        return tries + ([(board.right + out, y0)] if board.right - x1 < near else [])
    tries = [(x0, board.top - out)] if y0 - board.top < near else []
    return tries + ([(x0, board.bottom + out)] if board.bottom - y1 < near else [])


def _on(ends: tuple[Point, Point]) -> list[Point]:
    (x0, y0), (x1, y1) = ends
    return [(x0 + (x1 - x0) * k, y0 + (y1 - y0) * k) for k in _ALONG]


def _within(at: Point, board: Box, out: float) -> bool:
    """Whether a point lies on the board, or beyond it by no more than `out`."""
    return board.left - out < at[0] < board.right + out and board.top - out < at[1] < board.bottom + out


def _free(at: Point, radius: float, used: Sequence[Box]) -> bool:
    box = Box(at[0] - radius, at[1] - radius, at[0] + radius, at[1] + radius)
    return not any(box.meets(other) for other in used)


def sign_of(index: int) -> str:
    """The letter for a part that is explained under the drawing: a to z, then a1 to z1."""
    turn, letter = divmod(index, 26)
    return chr(ord("a") + letter) + (str(turn) if turn else "")


def numbered(texts: Sequence[str], top: float, width: float) -> tuple[tuple[Mark, ...], float]:
    """The words for parts too small to hold them, in columns under the drawing, and the height they take."""
    if not texts:
        return (), 0.0
    columns = 2 if width > 120 else 1
    each = width / columns
    marks = []
    for number, text in enumerate(texts):
        sign = sign_of(number)
        x, y = (number % columns) * each, top + (number // columns + 1) * SIZE * 1.35
        marks.append(Words((x, y), sign, SIZE, bold=True, layer="key"))
        marks.append(Words((x + 4.0, y), elided(text, SIZE, each - 6.0), SIZE, layer="key"))
    rows = -(-len(texts) // columns)
    return tuple(marks), rows * SIZE * 1.35 + 1.5
