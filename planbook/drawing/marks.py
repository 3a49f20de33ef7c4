"""Neutral marks on paper: fills, lines and words in millimetres, x right and y down; not how a file stores them."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

Point = tuple[float, float]
Ring = tuple[Point, ...]
Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True)
class Pen:
    """A line's width in mm, its colour as #rrggbb, and its dashes in mm (drawn, gap, ...)."""

    width: float
    colour: str = "#1d1d1b"
    dashes: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Fill:
    """An area: rings filled by the even-odd rule. `layer` names what it is, in plain words."""

    rings: tuple[Ring, ...]
    colour: str
    layer: str = ""
    opacity: float = 1.0


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through points, closed or open."""

    points: Ring
    pen: Pen
    layer: str = ""
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Words:
    """A run of text: `at` is on its baseline, `size` is the type size in mm, turned by `angle` degrees clockwise."""

    at: Point
    text: str
    size: float
    anchor: Anchor = "start"
    angle: float = 0.0
    bold: bool = False
    colour: str = "#1d1d1b"
    layer: str = ""


Mark = Fill | Stroke | Words


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing: its width and height in mm, its marks from back to front, and its alternative text.

    `missing` says in words what it ought to show and does not.
    """

    width: float
    height: float
    marks: tuple[Mark, ...]
    alt: str = ""
    missing: tuple[str, ...] = ()

    def of_layer(self, layer: str) -> tuple[Mark, ...]:
        """The marks of one layer."""
        return tuple(mark for mark in self.marks if mark.layer == layer)


def moved(marks: Iterable[Mark], dx: float, dy: float) -> tuple[Mark, ...]:
    """The marks shifted by (dx, dy) mm."""
    return tuple(_moved(mark, dx, dy) for mark in marks)


def scaled(marks: Iterable[Mark], across: float, along: float) -> tuple[Mark, ...]:
    """The marks stretched from the upper left corner; pens keep their width and words their size."""
    return tuple(_scaled(mark, across, along) for mark in marks)


def _scaled(mark: Mark, across: float, along: float) -> Mark:
    if isinstance(mark, Fill):
        return replace(mark, rings=tuple(tuple((x * across, y * along) for x, y in ring) for ring in mark.rings))
    if isinstance(mark, Stroke):
        return replace(mark, points=tuple((x * across, y * along) for x, y in mark.points))
    return replace(mark, at=(mark.at[0] * across, mark.at[1] * along))


def _moved(mark: Mark, dx: float, dy: float) -> Mark:
    if isinstance(mark, Fill):
        return replace(mark, rings=tuple(tuple((x + dx, y + dy) for x, y in ring) for ring in mark.rings))
    if isinstance(mark, Stroke):
        return replace(mark, points=tuple((x + dx, y + dy) for x, y in mark.points))
    return replace(mark, at=(mark.at[0] + dx, mark.at[1] + dy))
