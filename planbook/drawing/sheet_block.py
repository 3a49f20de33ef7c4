"""A stencil with its caption as one block that can be put on a sheet; not the sheet."""

import math
from dataclasses import dataclass

from planbook.drawing.lettering import width_of
from planbook.drawing.marks import Mark, Point, Stroke, Words, moved
from planbook.drawing.stencil_art import Box, StencilArt, laid
from planbook.drawing.stencil_figure import Figure, draw_figure
from planbook.drawing.stencil_pens import ARROW, BODY, TITLE
from planbook.drawing.stencil_words import StencilWords, fitted, lines_of, plain
from planbook.solids import Area
from planbook.speech import called
from planbook.units import LengthStyle

LEAST_CAPTION = 78.0
_BELOW = 3.0
_NAMED = 6
_TITLES = ((TITLE, 2), (4.0, 3), (BODY, 4))
"""Sizes of a title, mm, and how many lines it may have at each; smaller rather than cut off."""


@dataclass(frozen=True, eq=False, slots=True)
class Block:
    """A stencil centred under its caption, with the upper left corner at (0, 0); its size in mm.

    `at` is where the origin of the figure lies.
    """

    art: StencilArt
    figure: Figure
    words: StencilWords
    marks: tuple[Mark, ...]
    at: Point
    width: float
    height: float

    @property
    def exact(self) -> Box:
        """The box of its lines."""
        left, top, right, bottom = self.figure.exact
        return (left + self.at[0], top + self.at[1], right + self.at[0], bottom + self.at[1])

    @property
    def bare(self) -> Area:
        """Wood on it that is kept and on which nothing is drawn or written."""
        return self.figure.bare.moved(*self.at)

    def widened(self, width: float) -> "Block":
        """The same stencil under a caption that may be `width` mm wide."""
        return _block(self.art, self.figure, width, self.words)


def block_of(art: StencilArt, turned: bool, widest: float, words: StencilWords, style: LengthStyle) -> Block:
    """Draw a stencil under its caption. Words that would make it wider than `widest` go onto it."""
    paper = laid(art, turned)
    figure = draw_figure(paper, words, style)
    if figure.bounds[2] - figure.bounds[0] > widest >= figure.exact[2] - figure.exact[0]:
        figure = draw_figure(paper, words, style, beside=False)
    left, _, right, _ = figure.bounds
    return _block(art, figure, max(right - left, min(LEAST_CAPTION, widest)), words, widest)


def _block(art: StencilArt, figure: Figure, width: float, words: StencilWords, widest: float = math.inf) -> Block:
    left, top, right, bottom = figure.bounds
    caption, height = caption_of(art, min(width, widest), figure.notes, words)
    indent = (width - (right - left)) / 2
    at = (indent - left, height + _BELOW - top)
    marks = (*caption, *moved(figure.marks, *at))
    return Block(art, figure, words, marks, at, width, height + _BELOW + bottom - top)


def number_tag(art: StencilArt, words: StencilWords) -> tuple[tuple[Mark, ...], float]:
    """The stencil's number in a small box at (0, 0), and the width of the box."""
    text = words.number.format(number=art.number, total=art.total)
    width = width_of(text, BODY, bold=True) + 3.0
    frame = Stroke(((0.2, 0.3), (width, 0.3), (width, 5.7), (0.2, 5.7)), ARROW, "words", closed=True)
    return (frame, Words((width / 2 + 0.1, 4.1), text, BODY, "middle", bold=True, layer="words")), width


def caption_of(
    art: StencilArt, width: float, notes: tuple[str, ...], words: StencilWords
) -> tuple[tuple[Mark, ...], float]:
    """Number, title, where it is stuck, what it is made for, and its height in mm."""
    marks, taken = number_tag(art, words)
    found = list(marks)
    y = 0.0
    size, lines = fitted(art.title, _TITLES, width - taken - 2.5, bold=True)
    for i, line in enumerate(lines):
        found.append(Words((taken + 2.5, 4.6 + i * size * 1.15), line, size, bold=True, layer="words"))
        y = 6.2 + i * size * 1.15
    # What is said of a sheet printed turned is read before the note that it is about.
    first, rest = [note for note in notes if note == words.turned], [note for note in notes if note != words.turned]
    for text in (*_where(art, words, width), make(art, words), *first, plain(art.note), *rest):
        for line in lines_of(text, BODY, width) if text else ():
            found.append(Words((0.0, y + 3.4), line, BODY, layer="words"))
            y += BODY * 1.2
    return tuple(found), y + 0.8


def _where(art: StencilArt, words: StencilWords, width: float) -> tuple[str, ...]:
    """The face and the true size on one line, or on two if one is too short."""
    one = where(art, words)
    return (one,) if width_of(one, BODY) <= width else (_stick_on(art, words), words.true_size)


def where(art: StencilArt, words: StencilWords) -> str:
    """The face it is stuck on, and that it is true size."""
    return f"{_stick_on(art, words)} {words.true_size}"


def _stick_on(art: StencilArt, words: StencilWords) -> str:
    face = words.face(art.face_name)
    if len(art.pieces) > 1:
        return words.stick_on_each.format(face=face)
    return words.stick_on.format(piece=named(art, words), face=face)


def copies_of(art: StencilArt) -> int:
    """How often a sheet is needed: once for each of its pieces."""
    return max(1, len(art.pieces))


def make(art: StencilArt, words: StencilWords) -> str:
    """How many copies are needed, where it is more than one."""
    return words.make.format(count=copies_of(art), pieces=named(art, words)) if copies_of(art) > 1 else ""


def named(art: StencilArt, words: StencilWords) -> str:
    """The names of its pieces, the first few of many."""
    names = [plain(called(name), 80) for name in art.pieces]
    if len(names) > _NAMED:
        names = [*names[:_NAMED], words.and_more.format(count=len(names) - _NAMED)]
    return ", ".join(names)


def short_where(art: StencilArt, words: StencilWords) -> str:
    """Where it is stuck and for how many pieces, on one line."""
    return f"{where(art, words)} {make(art, words)}".strip()
