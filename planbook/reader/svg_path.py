"""The `d` of an SVG path as strokes in user units, after SVG 1.1, chapter 8 and appendix F.6; y is as written."""

import math
import re
from collections.abc import Iterator

from planbook.model import ArcTo, CubicTo, LineTo, Segment, Stroke
from planbook.reader.svg_tree import Unreadable
from planbook.reader.svg_values import NUMBER, bounded

Point = tuple[float, float]
MOST_SEGMENTS = 5000
_BLANK = re.compile(r"[\s,]*")
_NUMBER = re.compile(NUMBER)
_FLAG = re.compile(r"[01]")
_VALUES = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}


def read_path(text: str, line: int) -> list[Stroke]:
    """The strokes of a path; a move that draws nothing leaves none. Raises Unreadable."""
    pen = _Pen(line)
    for command, values in _commands(text, line):
        pen.draw(command, values)
    pen.lift(False)
    return pen.strokes


def _commands(text: str, line: int) -> Iterator[tuple[str, list[float]]]:
    """Every command with its values; what follows the values of one command repeats it."""
    at, command = _blank(text, 0), ""
    while at < len(text):
        if text[at].upper() in _VALUES:
            command, at = text[at], _blank(text, at + 1)
        elif not command or command in "Zz":
            raise _stuck(text, at, line)
        values, at = _values(text, at, command, line)
        yield command, values
        # After the first point of a move the others are lines.
        command = {"M": "L", "m": "l"}.get(command, command)


def _values(text: str, at: int, command: str, line: int) -> tuple[list[float], int]:
    values: list[float] = []
    for number in range(_VALUES[command.upper()]):
        flag = command in "Aa" and number in (3, 4)
        found = (_FLAG if flag else _NUMBER).match(text, at)
        if not found:
            raise _stuck(text, at, line)
        values.append(bounded(float(found[0]), line))
        at = _blank(text, found.end())
    return values, at


def _blank(text: str, at: int) -> int:
    found = _BLANK.match(text, at)
    return found.end() if found else at


def _stuck(text: str, at: int, line: int) -> Unreadable:
    words = f"before `{text[at : at + 20]}`" if at < len(text) else "at its end"
    return Unreadable(f"has a path that cannot be read {words}", line)


class _Pen:
    """Draws one command after the other."""

    def __init__(self, line: int) -> None:
        self.line = line
        self.strokes: list[Stroke] = []
        self.segments: list[Segment] = []
        self.count = 0
        self.start: Point = (0.0, 0.0)
        self.here: Point = (0.0, 0.0)
        self.begun = False
        self.handle: tuple[str, Point] = ("", (0.0, 0.0))

    def lift(self, closed: bool) -> None:
        """End the stroke that is being drawn."""
        if closed and self.segments and self.here != self.start:
            self._to(LineTo(self.start))
        if self.segments:
            self.strokes.append(Stroke(self.start, tuple(self.segments), closed))
        self.segments = []
        if closed:
            self.here = self.start

    def draw(self, command: str, values: list[float]) -> None:
        """Carry out one command. Raises Unreadable."""
        if not self.begun and command not in "Mm":
            raise Unreadable("has a path that does not begin with a move", self.line)
        self.begun = True
        x, y = self.here if command.islower() else (0.0, 0.0)
        kept, self.handle = self.handle, ("", self.here)
        kind = command.upper()
        if kind in "HV":
            self._to(LineTo((x + values[0], self.here[1]) if kind == "H" else (self.here[0], y + values[0])))
            return
        if kind == "Z":
            self.lift(True)
            return
        if kind == "A":
            self._arc(values, (x + values[5], y + values[6]))
            return
        points = [(x + values[i], y + values[i + 1]) for i in range(0, len(values), 2)]
        if kind == "M":
            self.lift(False)
            self.start = self.here = points[0]
        elif kind == "L":
            self._to(LineTo(points[0]))
        elif kind in "CS":
            self._cubic([*([] if kind == "C" else [self._mirrored(kept, "C")]), *points])
        else:
            self._quadratic([*([] if kind == "Q" else [self._mirrored(kept, "Q")]), *points])

    def _mirrored(self, kept: tuple[str, Point], kind: str) -> Point:
        """The control point of a smooth curve: the last one of the curve before, mirrored at its end."""
        if kept[0] != kind:
            return self.here
        return (2 * self.here[0] - kept[1][0], 2 * self.here[1] - kept[1][1])

    def _cubic(self, points: list[Point]) -> None:
        self._to(CubicTo(points[0], points[1], points[2]))
        self.handle = ("C", points[1])

    def _quadratic(self, points: list[Point]) -> None:
        (ax, ay), (bx, by), (cx, cy) = self.here, points[0], points[1]
        first = (ax + 2 / 3 * (bx - ax), ay + 2 / 3 * (by - ay))
        second = (cx + 2 / 3 * (bx - cx), cy + 2 / 3 * (by - cy))
        self._to(CubicTo(first, second, points[1]))
        self.handle = ("Q", points[0])

    def _to(self, segment: Segment) -> None:
        self.count += 1
        if self.count > MOST_SEGMENTS:
            raise Unreadable(f"has a path of more than {MOST_SEGMENTS} parts", self.line)
        self.segments.append(segment)
        self.here = segment.end

    def _arc(self, values: list[float], end: Point) -> None:
        rx, ry = abs(values[0]), abs(values[1])
        if end == self.here:
            return
        if rx == 0 or ry == 0:
            self._to(LineTo(end))
            return
        self._to(arc(self.here, end, (rx, ry), math.radians(values[2]), values[3] == 1, values[4] == 1))


def arc(start: Point, end: Point, radii: Point, turned: float, large: bool, onward: bool) -> ArcTo:
    """The arc of an ellipse between two points (SVG 1.1, F.6.5 and F.6.6); radii that are too small grow."""
    rx, ry = radii
    c, s = math.cos(turned), math.sin(turned)
    half = ((start[0] - end[0]) / 2, (start[1] - end[1]) / 2)
    # In the frame of the ellipse, as a circle of radius 1.
    x, y = (c * half[0] + s * half[1]) / rx, (-s * half[0] + c * half[1]) / ry
    reach = math.hypot(x, y)
    grown = max(1.0, reach)
    rx, ry, x, y = rx * grown, ry * grown, x / grown, y / grown
    away = math.sqrt(max(0.0, 1 / min(1.0, reach * reach) - 1)) if reach < 1 else 0.0
    if large == onward:
        away = -away
    mx, my = away * y, -away * x
    begin = math.atan2(y - my, x - mx)
    sweep = math.atan2(-y - my, -x - mx) - begin
    if onward and sweep <= 0:
        sweep += math.tau
    if not onward and sweep >= 0:
        sweep -= math.tau
    right, up = (rx * c, rx * s), (-ry * s, ry * c)
    middle = (
        (start[0] + end[0]) / 2 + right[0] * mx + up[0] * my,
        (start[1] + end[1]) / 2 + right[1] * mx + up[1] * my,
    )
    return ArcTo(middle, right, up, begin, sweep, end)
