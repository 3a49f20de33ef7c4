"""The pieces of the object pulled apart and numbered as in a list of pieces; the list itself is elsewhere."""

from collections.abc import Mapping
from dataclasses import replace

from planbook.drawing import alt
from planbook.drawing.ink import QUIET, USUAL, Ink
from planbook.drawing.look import Look, flat, look
from planbook.drawing.marks import Mark, Pen, Picture, Stroke, moved
from planbook.drawing.names import Room, Wanted, trimmed, wanted
from planbook.drawing.numbers import numbered
from planbook.drawing.paint import Style, faces, lines
from planbook.drawing.paper import Paper
from planbook.drawing.pulled_apart import spread
from planbook.drawing.views import HOME
from planbook.drawing.words import balloon, ballooned
from planbook.handbook import Handbook
from planbook.solids import Vec3
from planbook.solids.frames import plus
from planbook.workshop.timeline import Piece, Timeline

SIZE = 2.5
"""Type size of the numbers, mm."""
LARGEST = 1.0
AIR = 0.7
"""Between two balloons of one column, mm, beside what their circles take."""


def exploded_picture(
    timeline: Timeline, numbers: Mapping[str, int], width_mm: float, height_mm: float, ink: Ink = "colour"
) -> Picture:
    """Pieces pulled apart along the axes, each with its number in a balloon, at most this large.

    `numbers` are those of the pieces list; a piece is drawn as it lay when it was last shown, which for one that was
    joined into another is its place in it.
    """
    drawn = [(number, _in_place(timeline, name)) for name, number in numbers.items()]
    pieces = {number: piece for number, piece in drawn if piece is not None and len(piece.solid.mesh[1])}
    words = alt.of_object(timeline.design.card.title, [piece.name for piece in pieces.values()], exploded=True)
    if not pieces:
        return Picture(width_mm, 0.0, (), words)
    out = balloon(SIZE)
    room = Room(width_mm - 2 * out, height_mm - 2 * out, SIZE, LARGEST, air=out + AIR)
    drawing, high = _drawing(list(pieces.values()), list(pieces), room, ink, timeline.design.handbook)
    return Picture(width_mm, round(high + 2 * out, 2), moved(drawing, out, out), words)


def _in_place(timeline: Timeline, name: str) -> Piece | None:
    """A piece where it was last shown as worked on or new, or as it was last on the bench."""
    shown = (
        shown.piece
        for event in reversed(timeline.events)
        if event.show is not None and any(piece.name == name for piece in (*event.taken, *event.made))
        for shown in event.show.pieces
        if shown.piece.name == name and shown.role in ("worked", "new")
    )
    return next(shown, timeline.pieces.get(name))


def _drawing(
    pieces: list[Piece], numbers: list[int], room: Room, ink: Ink, book: Handbook
) -> tuple[tuple[Mark, ...], float]:
    """The marks of the drawing with its balloons, and its height."""
    apart = spread([piece.solid for piece in pieces])
    seen = look(tuple(zip(pieces, apart, strict=True)), HOME)
    layout = trimmed(numbered(_numbers(numbers, seen), seen.bounds, replace(room, pad=0.4)), seen.bounds, 0.4)
    style = Style(tuple("worked" for _ in pieces), USUAL, ink, book)
    ways = _ways(pieces, apart, layout.paper)
    painted = (*ways, *faces(seen, layout.paper, style), *lines(seen, layout.paper, style))
    return (*painted, *ballooned(layout.labels, layout.size)), layout.height


def _numbers(numbers: list[int], seen: Look) -> list[Wanted]:
    """The number of every piece that is seen; none stands on its face, so that all look alike."""
    found = []
    for n, number in enumerate(numbers):
        visible = seen.of(n)
        if visible:
            large = [f.polygons for f in visible if f.area >= 0.4 * visible[0].area]
            found.append(replace(wanted(str(number), large[:3], bold=True), room=0.0))
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
