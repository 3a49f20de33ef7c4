"""How wide words are in the type of the booklet, and how a name is broken into lines; places nothing."""

import unicodedata
from functools import cache, lru_cache
from pathlib import Path

import font_source_sans_pro
from fontTools.ttLib import TTFont

LONGEST = 40
"""Names longer than this many characters are shortened."""
LEADING = 1.15
"""Distance between the lines of a label, in type sizes."""
RISE = 0.34
"""Height of the middle of small letters and capitals above the baseline, in type sizes."""


@lru_cache(maxsize=4096)
def width_of(text: str, size: float, bold: bool = False) -> float:
    """Width in mm of a run of text set `size` mm high in Source Sans Pro; other scripts are estimated."""
    advances, unit = _metrics(bold)
    return sum(advances[char] if char in advances else _guess(char) * unit for char in text) * size / unit


def shortened(text: str, longest: int = LONGEST) -> str:
    """The text on one line, without characters that cannot be seen, cut after `longest` with an ellipsis."""
    plain = " ".join("".join(c if unicodedata.category(c)[0] != "C" else " " for c in text).split())
    return plain if len(plain) <= longest else plain[: longest - 1].rstrip() + "…"


def elided(text: str, size: float, width: float) -> str:
    """The text, cut with an ellipsis if it is wider than `width` mm."""
    if width_of(text, size) <= width:
        return text
    while text and width_of(text + "…", size) > width:
        text = text[:-1]
    return text.rstrip() + "…"


def wrapped(text: str, size: float, width: float, lines: int = 3, longest: int = LONGEST) -> tuple[str, ...]:
    """The text in at most `lines` lines of at most `width` mm; words too long are broken, the rest is cut off."""
    found: list[str] = []
    for word in shortened(text, longest).split(" "):
        joined = f"{found[-1]} {word}" if found else word
        if found and width_of(joined, size) <= width:
            found[-1] = joined
        else:
            found.extend(_broken(word, size, width))
    if len(found) <= lines:
        return tuple(found)
    return (*found[: lines - 1], elided(" ".join(found[lines - 1 :]), size, width))


def _broken(word: str, size: float, width: float) -> list[str]:
    parts = [""]
    for char in word:
        if parts[-1] and width_of(parts[-1] + char, size) > width:
            parts.append("")
        parts[-1] += char
    return parts


@cache
def _metrics(bold: bool) -> tuple[dict[str, float], float]:
    """Advance of every character of the typeface in font units, and the units of one type size."""
    style = "Semibold" if bold else "Regular"
    folder = Path(font_source_sans_pro.__file__).parent / "files"
    with TTFont(folder / f"SourceSansPro-{style}.ttf", lazy=True) as font:
        widths, unit = font["hmtx"].metrics, float(font["head"].unitsPerEm)
        return {chr(code): float(widths[glyph][0]) for code, glyph in font.getBestCmap().items()}, unit


def _guess(char: str) -> float:
    """Width in type sizes of a character the typeface lacks."""
    if unicodedata.combining(char) or unicodedata.category(char) in ("Mn", "Me", "Cf"):
        return 0.0
    return 1.0 if unicodedata.east_asian_width(char) in "WF" else 0.65
