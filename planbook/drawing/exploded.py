"""The object pulled apart, its pieces numbered in the order of the build's own list; names stand in a key below."""

from dataclasses import replace

from planbook.drawing import alt
from planbook.drawing.ink import QUIET, USUAL, Ink
from planbook.drawing.lettering import shortened
from planbook.drawing.look import Look, flat, look
from planbook.drawing.marks import Mark, Pen, Picture, Stroke, moved
from planbook.drawing.names import MARGIN, Room, Wanted, trimmed, wanted
from planbook.drawing.numbers import numbered
from planbook.drawing.paint import Style, faces, lines
from planbook.drawing.paper import Paper
from planbook.drawing.pulled_apart import spread
from planbook.drawing.views import HOME
from planbook.drawing.words import balloon, ballooned, key, key_height
from planbook.solids import Vec3
from planbook.solids.frames import plus
from planbook.workshop.timeline import Piece, Timeline

SIZE = 2.5
"""Type size of the numbers, mm."""
KEY = 2.4
"""Type size of the key, mm."""
LARGEST = 1.0


def exploded_picture(
    timeline: Timeline, width_mm: float, height_mm: float, ink: Ink = "colour", with_key: bool = True
) -> Picture:
    """The pieces of the object pulled apart along the axes, with numbers in balloons: 1 is the first of the object.

    With the key, the picture is at most `height_mm` high as long as the key leaves the drawing two fifths of that.
    """
    pieces = [piece for piece in timeline.object if len(piece.solid.mesh[1])]
    words = alt.of_object(timeline.design.card.title, [piece.name for piece in pieces], exploded=True)
    if not pieces:
        return Picture(width_mm, 0.0, (), words)
    names = [shortened(piece.name) for piece in pieces]
    low = key_height(names, width_mm, KEY) + MARGIN if with_key else 0.0
    out = balloon(SIZE)
    room = Room(width_mm - 2 * out, max(height_mm - low, 0.4 * height_mm) - 2 * out, SIZE, LARGEST, air=out)
    drawing, high = _drawing(pieces, room, ink)
    marks = moved(drawing, out, out)
    high += 2 * out
    if with_key:
        marks = (*marks, *key(names, width_mm, high, KEY))
    return Picture(width_mm, round(high + low, 2), marks, words)


def _drawing(pieces: list[Piece], room: Room, ink: Ink) -> tuple[tuple[Mark, ...], float]:
    """The marks of the drawing with its balloons, and its height."""
    apart = spread([piece.solid for piece in pieces])
    seen = look(tuple(zip(pieces, apart, strict=True)), HOME)
    layout = trimmed(numbered(_numbers(pieces, seen), seen.bounds, replace(room, pad=0.4)), seen.bounds, 0.4)
    style = Style(tuple("worked" for _ in pieces), USUAL, ink)
    ways = _ways(pieces, apart, layout.paper)
    painted = (*ways, *faces(seen, layout.paper, style), *lines(seen, layout.paper, style))
    return (*painted, *ballooned(layout.labels, layout.size)), layout.height


def _numbers(pieces: list[Piece], seen: Look) -> list[Wanted]:
    """The number of every piece that is seen; none stands on its face, so that all look alike."""
    found = []
    for n in range(len(pieces)):
        visible = seen.of(n)
        if visible:
            large = [f.polygons for f in visible if f.area >= 0.4 * visible[0].area]
            found.append(replace(wanted(str(n + 1), large[:3], bold=True), room=0.0))
    return found


def _ways(pieces: list[Piece], apart: tuple[Vec3, ...], paper: Paper) -> list[Mark]:
    """Thin lines, behind everything, along which the pieces go back to their places."""
    pen = Pen(0.13, QUIET, (2.4, 0.6, 0.4, 0.6))
    found: list[Mark] = []
    for piece, move in zip(pieces, apart, strict=True):
        if any(move):
            ends = [paper.put(flat(HOME, p)) for p in (piece.solid.middle, plus(piece.solid.middle, move))]
            found.append(Stroke((ends[0], ends[1]), pen, "way"))
    return found
