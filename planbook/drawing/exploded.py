"""The pieces of the object pulled apart and numbered as in a list of pieces; the list itself is elsewhere."""

from collections.abc import Mapping
from dataclasses import replace

from planbook.drawing import alt
from planbook.drawing.apart_in_sight import in_sight
from planbook.drawing.balloons import Numbered, ballooned, standing
from planbook.drawing.columns import Room, fitting
from planbook.drawing.ink import USUAL, Ink
from planbook.drawing.look import Look, Placed, look
from planbook.drawing.marks import Mark, Picture, moved
from planbook.drawing.paint import Style, faces, lines
from planbook.drawing.paper import Paper
from planbook.drawing.pulled_apart import TOUCH
from planbook.drawing.views import HOME
from planbook.drawing.way_back import ways_back
from planbook.drawing.words import balloon
from planbook.handbook import Handbook
from planbook.workshop.timeline import Piece, Timeline

SIZE = 2.5
"""Type size of the numbers, mm."""
LARGEST = 1.0
BESIDE = 2.5
"""Between the drawing and the circles left and right of it, mm."""
EDGE = 0.4
"""Between the outer lines and the edge of the paper, mm."""
SKIN = 1e-3
"""So much more is taken of a piece than what a smaller one takes of it, mm, lest a skin without thickness stays."""


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
    whole = _joined(timeline)
    parted = _parted(list(pieces.values()), whole)
    wholes = [whole.get(piece.name, piece.name) for piece in parted]
    apart = in_sight([piece.solid for piece in parted], wholes, HOME, width_mm, height_mm)
    placed = tuple(zip(parted, apart, strict=True))
    drawing, high = _drawing(placed, list(pieces), (width_mm, height_mm), ink, timeline.design.handbook)
    return Picture(width_mm, round(high, 2), drawing, words)


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


def _parted(pieces: list[Piece], whole: Mapping[str, str]) -> list[Piece]:
    """The pieces without what a smaller one joined to them takes of them: a hole, where the knob is drawn beside it."""
    by_size = sorted(pieces, key=lambda piece: (piece.solid.volume, piece.name))
    found = {piece.name: piece for piece in pieces}
    for n, large in enumerate(by_size):
        for small in by_size[:n]:
            if whole.get(small.name, small.name) == whole.get(large.name, large.name):
                found[large.name] = _without(found[large.name], found[small.name])
    return [found[piece.name] for piece in pieces]


def _without(large: Piece, small: Piece) -> Piece:
    """A piece without what a smaller one takes of it, if that is more than touching."""
    if large.solid.meet(small.solid).volume <= TOUCH * small.solid.volume:
        return large
    return replace(large, solid=large.solid.minus(small.solid.grown(SKIN)))


def _joined(timeline: Timeline) -> dict[str, str]:
    """For each piece that was joined into another: the name of the whole at last."""
    whole: dict[str, str] = {}
    for event in reversed(timeline.events):
        for made in event.made:
            if len(made.sources) > 1:
                for name in made.sources:
                    whole.setdefault(name, whole.get(made.name, made.name))
    return whole


def _drawing(
    placed: tuple[Placed, ...], numbers: list[int], room: tuple[float, float], ink: Ink, book: Handbook
) -> tuple[tuple[Mark, ...], float]:
    """The marks of the drawing with its balloons, and its height."""
    width, height = room
    seen = look(placed, HOME)
    radius = balloon(SIZE)
    paper, high = _paper(seen, width, height, 2 * radius + BESIDE)
    told = _numbers(numbers, seen, paper)
    balloons = standing(told, width, high, radius)
    style = Style(tuple("worked" for _ in placed), USUAL, ink, book)
    ways = ways_back(placed, [[f.polygons for f in seen.of(n)] for n in range(len(placed))], paper)
    painted = (*faces(seen, paper, style), *lines(seen, paper, style), *ways, *ballooned(balloons, SIZE, radius))
    reach = [paper.put((0.0, seen.bounds[side]))[1] for side in (3, 1)]
    tops, lows = ([each.at[1] + side * radius for each in balloons] for side in (-1, 1))
    top, low = min([*tops, reach[0]]) - EDGE, max([*lows, reach[1]]) + EDGE
    return moved(painted, 0.0, -top), low - top


def _paper(seen: Look, width: float, height: float, beside: float) -> tuple[Paper, float]:
    """Paper with the drawing in its middle and circles `beside` it, mm; and its height, which circles may use too."""
    room = Room(width - 2 * beside, height, SIZE, LARGEST, pad=EDGE)
    left, low, right, top = seen.bounds
    scale = fitting(seen.bounds, room)
    high = min(height, (top - low) * scale + 2 * beside)
    x, y = (width - (right + left) * scale) / 2, (high + (top + low) * scale) / 2
    return Paper(scale, x, y), high


def _numbers(numbers: list[int], seen: Look, paper: Paper) -> list[Numbered]:
    """The number of every piece that is seen, with its faces."""
    visible = [(number, seen.of(n)) for n, number in enumerate(numbers)]
    return [Numbered(str(number), tuple(paper.polygons(f.polygons) for f in own)) for number, own in visible if own]
