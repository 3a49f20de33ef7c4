"""The marks of clamps: a block that lies wholly on what is seen of the face it presses; dashes where it is hidden."""

from planbook.drawing.ink import PAPER, WORK, Ink, accent
from planbook.drawing.look import Face, Look
from planbook.drawing.marks import Fill, Mark, Pen, Point, Ring, Stroke
from planbook.drawing.paper import Paper
from planbook.drawing.wedge import ARROW, ahead, arrow, wedge
from planbook.solids.hatch import inside

BLOCK = (4.0, 0.9)
"""Length and thickness of the block of a clamp, mm on paper."""
LEAST = 1.0
"""Half of a block is no shorter, mm on paper: one on the edge of a thin board stands over it, as the pad does."""
LOOKS = 20
"""At so many places between its middle and its end a block is looked at."""
EDGE = 0.15
"""A block stays so far within what is seen of its face, mm on paper."""
UNSEEN = "hidden clamp"
"""The layer of a clamp on a face that is not seen."""
DASHES = Pen(0.3, WORK, (0.8, 0.5))
BARE = 0.8
"""How much of what lies under a clamp in dashes is covered."""


def reach(place: Point, along: Point, look: Look, paper: Paper) -> float:
    """How far a block with its middle on a place of the paper reaches each way, mm, so that it lies on its face."""
    face = _face_at(place, look, paper)
    if face is None:
        return BLOCK[0] / 2
    thick = BLOCK[1] / 2 + EDGE
    ends = [k * BLOCK[0] / 2 / LOOKS for k in range(LOOKS + 1)]
    corners = [p for far in ends for p in _block(place, along, far + EDGE, 2 * thick)]
    here = inside(paper.polygons(face.polygons), corners)
    on = [all(here[4 * k : 4 * k + 4]) for k in range(len(ends))]
    return max(LEAST, ends[max(0, (*on, False).index(False) - 1)])


def pressing(middle: Point, along: Point, half: float, ink: Ink) -> tuple[Mark, ...]:
    """A block that reaches `half` mm each way from its middle, with a wedge behind it."""
    ring = _block(middle, along, half, BLOCK[1])
    bed = Stroke(ring, Pen(0.7, PAPER), "clamp", closed=True)
    behind = arrow(_tail(middle, along), along, ARROW - 1.0, ink, "clamp")
    return (bed, *behind, Fill((ring,), accent(WORK, ink), "clamp"))


def hidden(middle: Point, along: Point, ink: Ink) -> tuple[Mark, ...]:
    """The same in dashes, at its own place behind what is seen."""
    rings = (wedge(_tail(middle, along), along, ARROW - 1.0), _block(middle, along, BLOCK[0] / 2, BLOCK[1]))
    pen = Pen(DASHES.width, accent(WORK, ink), DASHES.dashes)
    beds = tuple(Stroke(ring, Pen(0.9, PAPER), UNSEEN, closed=True) for ring in rings)
    return (*beds, *(Fill((ring,), PAPER, UNSEEN, BARE) for ring in rings), *(Stroke(ring, pen, UNSEEN, closed=True) for ring in rings))


def _tail(middle: Point, along: Point) -> Point:
    """Where the wedge behind a block begins."""
    return ahead(middle, along, -BLOCK[1] / 2 - ARROW + 1.0)


def _block(middle: Point, along: Point, half: float, thick: float) -> Ring:
    side = (-along[1], along[0])
    near, far = ahead(middle, along, thick / 2), ahead(middle, along, -thick / 2)
    return tuple(ahead(end, side, k * half) for end, k in ((near, 1), (near, -1), (far, -1), (far, 1)))


def _face_at(place: Point, look: Look, paper: Paper) -> Face | None:
    """The face that is seen at a place of the paper."""
    return next((face for face in look.faces if inside(paper.polygons(face.polygons), [place])[0]), None)
