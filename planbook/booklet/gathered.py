"""The drawings that go into a booklet, gathered from the drawing phase; nothing is drawn here."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Protocol

from planbook.booklet.basics import Figure
from planbook.drawing.marks import Picture
from planbook.drawing.svg import svg


@dataclass(frozen=True, slots=True)
class Explained:
    """A mark of the stencils with its name and meaning."""

    picture: Picture | None
    name: str
    text: str


@dataclass(frozen=True)
class Pictures:
    """The pictures of a design: cover, the object pulled apart, steps by number, small ones of pieces,
    measured sheets with the names of the pieces that are alike, cut plans, days.

    `marks` are the marks to explain; without any, the usual ones are.
    """

    cover: Picture | None = None
    exploded: Picture | None = None
    steps: Mapping[int, Picture] = field(default_factory=dict)
    pieces: Mapping[str, Picture] = field(default_factory=dict)
    sheets: tuple[tuple[tuple[str, ...], Picture], ...] = ()
    diagrams: tuple[Picture, ...] = ()
    marks: tuple[Explained, ...] = ()
    days: tuple[Picture, ...] = ()


class StencilPage(Protocol):
    """A page of stencils at true size, as large as its sheet."""

    @property
    def picture(self) -> Picture:
        """The whole sheet."""

    @property
    def title(self) -> str:
        """What the bookmark says."""

    @property
    def copies(self) -> int:
        """How often it is to be printed."""


def figure(picture: Picture, alt: str = "") -> Figure:
    """A picture as a figure; `alt` stands in where the picture has no words of its own."""
    return Figure(svg(picture), round(picture.width, 3), round(picture.height, 3), picture.alt or alt)
