"""The closed outlines with a name that an SVG file holds, for a design that starts from one; it reads no design."""

from planbook.model import Drawn
from planbook.reader.svg_shapes import UnknownId, names_in, svg_outline
from planbook.reader.svg_tree import Unreadable

MOST = 200
"""So many named elements are looked at."""


def closed_outlines(data: bytes) -> dict[str, Drawn]:
    """Closed outlines by their ids, in true size; elements that draw something else are left out. Raises Unreadable."""
    found: dict[str, Drawn] = {}
    for name in names_in(data)[:MOST]:
        try:
            drawn = svg_outline(data, name)
        except (Unreadable, UnknownId):
            continue
        if all(stroke.closed for stroke in drawn.strokes):
            found[name] = drawn
    return found
