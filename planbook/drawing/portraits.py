"""Pictures without names: the finished object, shut and opened, for the cover, and a small one of each piece."""

import numpy as np

from planbook.drawing import alt
from planbook.drawing.columns import Room, fitting
from planbook.drawing.ink import LARGE, SMALL, Ink, Pens
from planbook.drawing.look import Look, Placed, look
from planbook.drawing.marks import Fill, Mark, Picture, moved
from planbook.drawing.names import MARGIN, Bounds
from planbook.drawing.paint import Style, faces, lines
from planbook.drawing.paper import Paper
from planbook.drawing.views import HOME
from planbook.handbook import BUILT_IN, Handbook
from planbook.solids.shares import joined_triangles
from planbook.solids.visible import Polygon2
from planbook.workshop.opened import opened
from planbook.workshop.timeline import Piece, Timeline

FALL = (0.06, 0.34)
"""How far right and back the shadow of a point falls on the ground, for each mm that it is high."""
GROUND = {"colour": "#d8ddd5", "black": "#ededed"}
LARGEST = 3.0
"""No object is drawn larger on a cover than this many times its size; small pictures stay within its size."""
NEVER = 1e-3
SHUT = 0.58
"""The share of a cover's width that the object has as it stands, where it is shown opened as well."""

_STILL = (0.0, 0.0, 0.0)


def cover_picture(timeline: Timeline, width_mm: float, height_mm: float, ink: Ink = "colour") -> Picture:
    """The finished object, large, on its shadow, and beside it, if something moves, the same opened.

    At most this large; without marks if nothing was finished.
    """
    shut = tuple((piece, _STILL) for piece in timeline.object if len(piece.solid.mesh[1]))
    words = alt.of_object(timeline.design.card.title, [piece.name for piece in timeline.object])
    if not shut:
        return Picture(width_mm, 0.0, (), words)
    moving, book = opened(timeline.object, timeline.fits), timeline.design.handbook
    if not moving:
        return _portrait(shut, _cover(width_mm, height_mm), LARGE, ink, words, book, _shadow(shut))
    ajar = tuple((moving.get(piece.name, piece), by) for piece, by in shut)
    first, second = (
        _portrait(placed, _cover(share * width_mm, height_mm), LARGE, ink, "", book, _shadow(placed))
        for placed, share in ((shut, SHUT), (ajar, 1.0 - SHUT))
    )
    high = max(first.height, second.height)
    marks = (
        *moved(first.marks, 0.0, high - first.height),
        *moved(second.marks, SHUT * width_mm, high - second.height),
    )
    return Picture(width_mm, high, marks, f"{words} {alt.of_opened(moving)}")


def _cover(width_mm: float, height_mm: float) -> Room:
    return Room(width_mm, height_mm, 0.0, LARGEST, 0.3)


def piece_picture(
    piece: Piece, width_mm: float, height_mm: float, ink: Ink = "colour", book: Handbook = BUILT_IN
) -> Picture:
    """A small picture of one piece as it stands in the object, no larger than the piece."""
    words = alt.of_piece(piece.name, piece.solid.extent)
    if not len(piece.solid.mesh[1]):
        return Picture(width_mm, 0.0, (), words)
    return _portrait(((piece, _STILL),), Room(width_mm, height_mm, 0.0, 1.0), SMALL, ink, words, book)


def _portrait(
    placed: tuple[Placed, ...],
    room: Room,
    pens: Pens,
    ink: Ink,
    words: str,
    book: Handbook,
    shadow: tuple[Polygon2, ...] = (),
) -> Picture:
    seen = look(placed, HOME)
    bounds = _bounds(seen, shadow)
    scale = fitting(bounds, room)
    across, up = (bounds[2] - bounds[0]) * scale, (bounds[3] - bounds[1]) * scale
    edge = MARGIN + room.pad
    paper = Paper(scale, (room.width - across) / 2 - bounds[0] * scale, edge + bounds[3] * scale)
    style = Style(tuple("worked" for _ in placed), pens, ink, book)
    ground: list[Mark] = [Fill(paper.rings(shadow), GROUND[ink], "ground")] if shadow else []
    marks = (*ground, *faces(seen, paper, style), *lines(seen, paper, style))
    return Picture(room.width, round(up + 2 * edge, 2), marks, words)


def _bounds(seen: Look, shadow: tuple[Polygon2, ...]) -> Bounds:
    points = [point for outer, _ in shadow for point in outer]
    us, vs = [p[0] for p in points], [p[1] for p in points]
    left, bottom, right, top = seen.bounds
    return (min([*us, left]), min([*vs, bottom]), max([*us, right]), max([*vs, top]))


def _shadow(placed: tuple[Placed, ...]) -> tuple[Polygon2, ...]:
    """The shadow of the pieces on the ground they stand on, in the home view."""
    ground = min(float(piece.solid.bounds[0][2]) for piece, _ in placed)
    frame = np.array([HOME.right, HOME.up])
    runs = []
    for piece, _ in placed:
        vertices, triangles = piece.solid.mesh
        high = vertices[:, 2] - ground
        fallen = np.column_stack([vertices[:, 0] + FALL[0] * high, vertices[:, 1] + FALL[1] * high, 0 * high + ground])
        flat = (fallen @ frame.T)[triangles]
        one, two = flat[:, 1] - flat[:, 0], flat[:, 2] - flat[:, 0]
        runs.append(flat[one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0] > NEVER])
    return joined_triangles(np.concatenate(runs))
