"""What every part of a booklet is made of, ready to be set: pictures, links, facts; no part of its own."""

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Sheet:
    """The paper of an edition, upright, in mm."""

    name: str
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Figure:
    """A picture as SVG text with its own size in mm and its alternative text."""

    svg: str
    width: float
    height: float
    alt: str


@dataclass(frozen=True, slots=True)
class PhotoRow:
    """A photo as JPEG with its size in mm and its alternative text; its language is empty if that of the booklet."""

    jpeg: bytes = field(repr=False)
    width: float
    height: float
    alt: str
    language: str = ""


@dataclass(frozen=True, slots=True)
class FilmRow:
    """Where a film shows the work: a code to scan, what the link says, its address, and that without `https://`."""

    figure: Figure
    label: str
    address: str
    shown: str


@dataclass(frozen=True, slots=True)
class Link:
    """A short text that leads to a place of the booklet; `anchor` is the id of that place."""

    text: str
    anchor: str


@dataclass(frozen=True, slots=True)
class Fact:
    """A label and what belongs to it, such as "Skill" and "some experience"."""

    label: str
    value: str


@dataclass(frozen=True, slots=True)
class MarkRow:
    """A mark of the stencils or pictures, drawn and explained."""

    figure: Figure | None
    name: str
    text: str
