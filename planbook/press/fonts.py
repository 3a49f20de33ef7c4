"""Carries the fonts of the house in a page for browsers, cut down to the characters that stand in it."""

import base64
import io

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

from planbook.press.fetch import FONT, font_bytes


def with_fonts(html: str) -> str:
    """The page with every font of the house that it names carried inside as WOFF; the same page, the same bytes."""
    characters = {ord(char) for char in html}
    return FONT.sub(lambda found: _carried(font_bytes(found[1], found[2]), characters), html)


def font_file(name: str, family: str, characters: set[int]) -> bytes:
    """A font of the house as WOFF, with these characters alone; the same characters, the same bytes."""
    return _cut_down(font_bytes(name, family), characters)


def _carried(font: bytes, characters: set[int]) -> str:
    return "data:font/woff;base64," + base64.b64encode(_cut_down(font, characters)).decode()


def _cut_down(font: bytes, characters: set[int]) -> bytes:
    options = Options(layout_features=["kern", "liga", "frac", "numr", "dnom", "lnum", "tnum"], notdef_outline=True)
    with TTFont(io.BytesIO(font), recalcTimestamp=False, lazy=True) as loaded:
        cutter = Subsetter(options)
        cutter.populate(unicodes=characters)
        cutter.subset(loaded)
        loaded.flavor = "woff"
        out = io.BytesIO()
        loaded.save(out)
    return out.getvalue()
