"""Puts an outline of the maker's own into the starting design that is sawn from a drawing."""

import json
import re
from collections.abc import Mapping
from pathlib import Path

from planbook.cli.refusal import Refusal, cannot
from planbook.model import Drawn
from planbook.model.strokes import turns_of
from planbook.reader.files import MOST_BYTES
from planbook.reader.svg_outlines import closed_outlines
from planbook.reader.svg_tree import Unreadable

DESIGN, OUTLINE = "design.toml", "outline.svg"


def with_drawing(files: Mapping[str, bytes], drawing: Path) -> dict[str, bytes]:
    """The files of the starting design with the outline of a drawing, at the size at which it is drawn.

    The element `outline` is taken, or the largest closed line that has a name. Raises Refusal.
    """
    data = _read(drawing)
    try:
        outlines = closed_outlines(data)
    except Unreadable as fault:
        where = f", line {fault.line}," if fault.line else ""
        raise Refusal(f"`{drawing}`{where} {fault.words}") from None
    if not outlines:
        raise Refusal(
            f"`{drawing}` has no closed line with a name; give your outline the id `outline` and save it again"
        )
    name = "outline" if "outline" in outlines else max(outlines, key=lambda each: _area(outlines[each]))
    text = _told(files[DESIGN].decode(), name, outlines[name])
    return {**files, DESIGN: text.encode(), OUTLINE: data}


def _read(drawing: Path) -> bytes:
    try:
        with drawing.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except OSError as error:
        raise cannot("cannot be read", error) from None
    if len(data) > MOST_BYTES:
        raise Refusal(f"`{drawing}` is larger than {MOST_BYTES // 1_000_000} MB")
    return data


def _area(outline: Drawn) -> float:
    """The area (mm2) of the rectangle around an outline."""
    left, bottom, right, top = outline.bounds
    return (right - left) * (top - bottom)


def _told(text: str, name: str, outline: Drawn) -> str:
    """The design with the name of the outline, its size, and the height of its leftmost point."""
    left, bottom, right, top = outline.bounds
    entry = min(turns_of(outline.strokes))[1] - bottom
    for size, value in (("width", right - left), ("height", top - bottom), ("entry", entry)):
        text = _set(text, rf"^{size} +=", f'"{value:.1f} mm"')
    return _set(text, r"^id +=", json.dumps(name, ensure_ascii=False))


def _set(text: str, key: str, value: str) -> str:
    """The text with another value for a key; what follows the value on its line stays."""
    return re.sub(rf'({key} )"[^"]*"', lambda found: found.group(1) + value, text, count=1, flags=re.MULTILINE)
