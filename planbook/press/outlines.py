"""Sets a line of any script as outlines of its glyphs: fonts, direction and shaping; it knows no page."""

import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property
from pathlib import Path

import uharfbuzz
from bidi import algorithm
from fontTools.unicodedata import script

_NO_SCRIPT = ("Zyyy", "Zinh", "Zzzz")
_LEFTWARD = ("R", "AL", "AN")
_MOST_KEPT = 64


@dataclass(frozen=True, slots=True)
class Glyph:
    """The outline of a glyph in path operators of PDF, in thousandths of the type size, and its box there."""

    path: bytes
    box: tuple[float, float, float, float]


@dataclass(eq=False)
class Face:
    """One font of a file."""

    path: Path
    number: int = 0
    _glyphs: dict[int, Glyph] = field(default_factory=dict)
    _shows: dict[str, bool] = field(default_factory=dict)

    @cached_property
    def _font(self) -> uharfbuzz.Font:
        face = uharfbuzz.Face(uharfbuzz.Blob.from_file_path(str(self.path)), self.number)
        font = uharfbuzz.Font(face)
        font.scale = (1000, 1000)
        return font

    @cached_property
    def _characters(self) -> frozenset[int]:
        return frozenset(self._font.face.unicodes)

    def shows(self, char: str) -> bool:
        """Whether it has the character, and an outline for it if the character is one that is seen."""
        if char not in self._shows:
            number = self._font.get_nominal_glyph(ord(char)) if ord(char) in self._characters else None
            self._shows[char] = number is not None and (char.isspace() or bool(self.glyph(number).path))
        return self._shows[char]

    def glyph(self, number: int) -> Glyph:
        """A glyph by its number in the font."""
        if number not in self._glyphs:
            pen = _Pen()
            self._font.draw_glyph(number, _DRAW, pen)
            self._glyphs[number] = Glyph(b" ".join(pen.path), pen.box())
        return self._glyphs[number]

    def shaped(self, text: str, leftward: bool) -> Iterator[tuple[int, int, int, int]]:
        """The glyphs of a run from left to right: number, shift right, shift up, advance."""
        buffer = uharfbuzz.Buffer()
        buffer.add_str(text)
        buffer.guess_segment_properties()
        buffer.direction = "rtl" if leftward else "ltr"
        uharfbuzz.shape(self._font, buffer)
        for info, at in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
            yield info.codepoint, at.x_offset, at.y_offset, at.x_advance


class _Pen:
    def __init__(self) -> None:
        self.path: list[bytes] = []
        self._points: list[tuple[float, float]] = []
        self._at = (0.0, 0.0)

    def move(self, x: float, y: float) -> None:
        self._add(b"m", (x, y))

    def line(self, x: float, y: float) -> None:
        self._add(b"l", (x, y))

    def quadratic(self, bx: float, by: float, x: float, y: float) -> None:
        (ax, ay) = self._at
        first = (ax + (bx - ax) * 2 / 3, ay + (by - ay) * 2 / 3)
        self._add(b"c", first, (x + (bx - x) * 2 / 3, y + (by - y) * 2 / 3), (x, y))

    def cubic(self, ax: float, ay: float, bx: float, by: float, x: float, y: float) -> None:
        self._add(b"c", (ax, ay), (bx, by), (x, y))

    def close(self) -> None:
        self.path.append(b"h")

    def box(self) -> tuple[float, float, float, float]:
        across, along = [x for x, _ in self._points], [y for _, y in self._points]
        return (min(across), min(along), max(across), max(along)) if across else (0.0, 0.0, 0.0, 0.0)

    def _add(self, operator: bytes, *points: tuple[float, float]) -> None:
        self._points.extend(points)
        self._at = points[-1]
        self.path.append(b" ".join(b"%d %d" % (round(x), round(y)) for x, y in points) + b" " + operator)


def _draw_funcs() -> uharfbuzz.DrawFuncs:
    found = uharfbuzz.DrawFuncs()
    found.set_move_to_func(lambda x, y, pen: pen.move(x, y))
    found.set_line_to_func(lambda x, y, pen: pen.line(x, y))
    found.set_quadratic_to_func(lambda bx, by, x, y, pen: pen.quadratic(bx, by, x, y))
    found.set_cubic_to_func(lambda ax, ay, bx, by, x, y, pen: pen.cubic(ax, ay, bx, by, x, y))
    found.set_close_path_func(lambda pen: pen.close())
    return found


_DRAW = _draw_funcs()


@dataclass(frozen=True, slots=True)
class SetLine:
    """A line of outlines in thousandths of the type size: each glyph at its x and y; the box of the ink."""

    glyphs: tuple[tuple[Glyph, int, int], ...]
    width: int
    low: float
    high: float


@dataclass(slots=True)
class _Run:
    """Characters that stand together in one font, one script and one direction."""

    face: Face
    script: str
    level: int
    text: str


class Typesetter:
    """Sets text in the first of its fonts that has each character; a font is opened when those before lack one."""

    def __init__(self, faces: Iterable[Face]) -> None:
        self._opened: list[Face] = []
        self._others = iter(faces)
        self._known: dict[str, Face | None] = {}
        self._kept: dict[str, SetLine] = {}

    def lacking(self, text: str) -> tuple[str, ...]:
        """The characters that no font has, each once, in order."""
        return tuple(dict.fromkeys(char for char in text if not _invisible(char) and self._face(char) is None))

    def line(self, text: str) -> SetLine:
        """Set a text whose characters are all in the fonts; others are left out."""
        glyphs: list[tuple[Glyph, int, int]] = []
        x, low, high = 0, 0.0, 0.0
        for run in _reordered(self._runs(text)):
            for number, right, up, advance in run.face.shaped(run.text, run.level % 2 == 1):
                glyph = run.face.glyph(number)
                if glyph.path:
                    glyphs.append((glyph, x + right, up))
                    low, high = min(low, glyph.box[1] + up), max(high, glyph.box[3] + up)
                x += advance
        return SetLine(tuple(glyphs), x, low, high)

    def kept_line(self, text: str) -> SetLine:
        """Set a text that is likely to come again, such as a licence."""
        if text not in self._kept:
            if len(self._kept) >= _MOST_KEPT:
                self._kept.clear()
            self._kept[text] = self.line(text)
        return self._kept[text]

    def _face(self, char: str) -> Face | None:
        if char not in self._known:
            self._known[char] = next((face for face in self._faces() if face.shows(char)), None)
        return self._known[char]

    def _faces(self) -> Iterator[Face]:
        yield from self._opened
        for face in self._others:
            self._opened.append(face)
            yield face

    def _runs(self, text: str) -> list[_Run]:
        """In the order of the text. What has no script of its own, such as a blank, stays with what is before it."""
        found: list[_Run] = []
        for char, level in zip(text, _levels(text), strict=True):
            last = found[-1] if found and found[-1].level == level else None
            own = _script(char)
            if last and own in (*_NO_SCRIPT, last.script) and (_invisible(char) or last.face.shows(char)):
                last.text += char
            elif face := self._face(char):
                found.append(_Run(face, own, level, char))
        return found


_script = cache(script)


@cache
def _invisible(char: str) -> bool:
    """Joiners and marks that choose a variant: they change their neighbours and are not drawn themselves."""
    return unicodedata.category(char) == "Cf" or 0xFE00 <= ord(char) <= 0xFE0F


def _levels(text: str) -> list[int]:
    """The level of each character by the Unicode bidirectional algorithm (UAX 9): odd ones run leftward."""
    if not any(unicodedata.bidirectional(char) in _LEFTWARD for char in text):
        return [0] * len(text)
    storage = algorithm.get_empty_storage()
    base = algorithm.get_base_level(text)
    storage["base_level"], storage["base_dir"] = base, ("L", "R")[base]
    algorithm.get_embedding_levels(text, storage)
    algorithm.explicit_embed_and_overrides(storage)
    algorithm.resolve_weak_types(storage)
    algorithm.resolve_neutral_types(storage, False)
    algorithm.resolve_implicit_levels(storage, False)
    return [int(each["level"]) for each in storage["chars"]]


def _reordered(runs: Sequence[_Run]) -> list[_Run]:
    """Rule L2: from the highest level down to the lowest odd one, reverse every stretch at that level or above."""
    found = list(runs)
    for level in range(max((run.level for run in found), default=0), 0, -1):
        start = 0
        while start < len(found):
            end = start
            while end < len(found) and found[end].level >= level:
                end += 1
            found[start:end] = found[start:end][::-1]
            start = max(end, start + 1)
    return found
