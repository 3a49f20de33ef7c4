"""The colours and pens of pictures: woods by role and light, line widths, and the two inks; it draws nothing."""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from planbook.drawing.marks import Pen
from planbook.solids import Vec3
from planbook.solids.frames import dot
from planbook.solids.visible import View
from planbook.workshop.timeline import Role

Ink = Literal["colour", "black"]
Rgb = tuple[float, float, float]

PAPER = "#ffffff"
LINE = "#1d1d1b"
QUIET = "#6f6b64"
CALM: Rgb = (0.89, 0.81, 0.68)
"""Tint of a wood that the handbook does not know, and of all pieces that only stand by."""
CREAM: Rgb = (1.0, 0.95, 0.86)
"""What woods are lightened with, so that lines and names stand out and dark woods keep their warmth."""
NEW = "#0b6a75"
SHEET = "#fffef8"
CUT = "#b3322a"
GLUE = "#a86a10"
WORK = "#3d4f8a"
LINING: dict[Ink, str] = {"colour": "#93a3a6", "black": "#7a7a7a"}
"""Felt and the like: cooler, or darker, than any wood."""

DARK, PALE, GREYEST = 0.37, 0.8, 0.66
"""In black ink a wood as dark as `DARK` in luminance is `GREYEST` in full light, one as pale as `PALE` is white: so
walnut, cherry and maple are told apart, and lines and names still stand out."""

SQUARES = Pen(0.1, "#b4b4b4")
SQUARE = 2.2
"""The lines on paper that is stuck on, and how far they are apart, mm: in black ink paper is as white as pale wood.
They are so faint that the lines of the stencil stand out."""

LIGHT: Vec3 = (-0.36, 0.76, 0.54)
"""Where the light comes from, as right, up and toward the eye: over the left shoulder, so tops are lightest."""
DIM, FULL = 0.2, 0.96
"""Light that gives the darkest and the full tone; the faces of an upright box in an isometric view lie between."""
LEVELS = 7
"""Number of tones between the darkest and the full one that a curved surface may take."""
OFFSET = 0.75
"""By how much of a tone the next one begins earlier: so the sides of an upright box in an isometric view lie far from
where two tones meet, and a flat part of a rounded surface keeps to one of them."""


@dataclass(frozen=True, slots=True)
class Pens:
    """Line widths in mm in the steps of ISO 128-2, thick at least twice thin, for one size of picture."""

    outline: float
    crease: float
    seam: float
    new: float

    def of(self, kind: str, role: Role, ink: Ink) -> Pen:
        """The pen for a visible line of a piece."""
        if kind == "seam":
            # Hatching over black joints between woods would be a lattice.
            return Pen(self.seam, QUIET if role in ("context", "waste") else LINE)
        if role == "context":
            return Pen(self.crease if kind == "outline" else self.seam, QUIET)
        if kind == "crease":
            return Pen(self.crease, LINE)
        if role == "new":
            return Pen(self.new, NEW if ink == "colour" else LINE)
        return Pen(self.outline, LINE)


SERIES = (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0)
"""Widths of lines in mm, each the root of two times the last (ISO 128-2); all our pens are of these."""
LARGE = Pens(outline=0.5, crease=0.25, seam=0.13, new=0.7)
USUAL = Pens(outline=0.35, crease=0.18, seam=0.13, new=0.5)
SMALL = Pens(outline=0.25, crease=0.13, seam=0.13, new=0.35)
HATCH = 0.13
LEADER = 0.18


def accent(colour: str, ink: Ink) -> str:
    """A colour of our own, or the line's black where there is only black ink."""
    return colour if ink == "colour" else LINE


@lru_cache(maxsize=1024)
def base(tint: str, role: Role, ink: Ink) -> Rgb:
    """Colour of a wood (its tint as #rrggbb) in full light: full for worked and new pieces,
    one pale tone for all that stand by, as the key shows it: a dark wood would turn into the grey of metal or glass."""
    own = _tint(tint)
    if ink == "black":
        grey = GREYEST + (1.0 - GREYEST) * min(max((_luminance(own) - DARK) / (PALE - DARK), 0.0), 1.0)
        return (1.0, 1.0, 1.0) if role in ("context", "waste") else (grey, grey, grey)
    if role == "context":
        return _mixed(CALM, (1.0, 1.0, 1.0), 0.68)
    return _mixed(own, (1.0, 1.0, 1.0), 0.72) if role == "waste" else _mixed(own, CREAM, 0.26)


def lining(role: Role, ink: Ink) -> Rgb:
    """Colour of a lining in full light."""
    own = _tint(LINING[ink])
    return _mixed(own, (1.0, 1.0, 1.0), 0.5) if role in ("context", "waste") else own


def light(normal: Vec3, view: View) -> float:
    """How much light a face gets, from 0 (turned away) to 1."""
    seen = (dot(normal, view.right), dot(normal, view.up), dot(normal, view.toward))
    return 0.5 + 0.5 * max(-1.0, min(1.0, dot(seen, LIGHT)))


def tone(amount: float, ink: Ink) -> float:
    """Factor on the colour of a face that gets this much light."""
    darkest = 0.7 if ink == "colour" else 0.8
    return darkest + (1.0 - darkest) * min(1.0, max(0.0, (amount - DIM) / (FULL - DIM)))


def squared(frame: tuple[float, float, float, float], apart: float = SQUARE) -> list[tuple[tuple[float, float], ...]]:
    """The lines of squared paper in a box (left, low, right, high), `apart` from one another, level and upright."""
    left, low, right, high = frame
    across = [apart * k for k in range(math.ceil(left / apart), math.floor(right / apart) + 1)]
    up = [apart * k for k in range(math.ceil(low / apart), math.floor(high / apart) + 1)]
    return [*(((x, low), (x, high)) for x in across), *(((left, y), (right, y)) for y in up)]


def level_light(step: int) -> float:
    """Light in the middle of a tone step."""
    return DIM + (FULL - DIM) * (step + 0.5 - OFFSET) / LEVELS


@lru_cache(maxsize=1024)
def painted(colour: Rgb, factor: float, ink: Ink) -> str:
    """A colour under light, as #rrggbb; shadow on wood is warm, so that pale woods stay clean."""
    warmth = (0.86, 1.0, 1.08) if ink == "colour" else (1.0, 1.0, 1.0)
    return hexed(tuple(c * (1.0 - (1.0 - factor) * k) for c, k in zip(colour, warmth, strict=True)))


def hexed(colour: tuple[float, ...]) -> str:
    """#rrggbb of shares from 0 to 1."""
    return "#" + "".join(f"{round(255 * min(1.0, max(0.0, c))):02x}" for c in colour)


def _tint(written: str) -> Rgb:
    text = written.lstrip("#")
    try:
        red, green, blue = (int(text[i : i + 2], 16) / 255 for i in (0, 2, 4))
    except ValueError:
        return CALM
    return (red, green, blue)


def _luminance(colour: Rgb) -> float:
    return 0.30 * colour[0] + 0.59 * colour[1] + 0.11 * colour[2]


def _mixed(one: Rgb, two: Rgb, share: float) -> Rgb:
    red, green, blue = (a + (b - a) * share for a, b in zip(one, two, strict=True))
    return (red, green, blue)
