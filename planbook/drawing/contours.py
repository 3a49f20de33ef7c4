"""What a stencil hands on to other tools: true lines by use, in millimetres; how a file stores them is elsewhere."""

from collections.abc import Iterator
from dataclasses import dataclass

from planbook.drawing.curves import Part, parts_of
from planbook.drawing.stencil_art import StencilArt, outlines_of, saw_line
from planbook.solids import Area, Outline, Path, Point2

LAYERS = {
    "cut": "saw lines",
    "sand to": "sand to these lines",
    "entry": "ways in for the blade",
    "guide": "lines for placing",
    "hole": "holes",
    "edge": "edges of the piece",
}
"""What lines are for, and the name of their layer in a file."""


@dataclass(frozen=True, slots=True)
class Contour:
    """One line: its layer by name, its true parts, and whether it closes."""

    layer: str
    parts: tuple[Part, ...]
    closed: bool


@dataclass(frozen=True, slots=True)
class Round:
    """A hole: its middle and diameter, mm."""

    layer: str
    middle: Point2
    diameter: float


@dataclass(frozen=True, slots=True)
class Drawn:
    """A stencil for other tools: title, contours, holes, and the corners of the box around it, mm; v is up."""

    title: str
    contours: tuple[Contour, ...]
    holes: tuple[Round, ...]
    box: tuple[float, float, float, float]


def drawn(art: StencilArt) -> Drawn:
    """A stencil as contours: u right, v up, seen from outside the face, as on paper but never mirrored or turned."""
    edges = [(edge, True) for edge in outlines_of(art.face)] + [(run, False) for run in art.rim]
    contours = (*_lines(art), *(_contour("edge", edge, closed) for edge, closed in edges))
    holes = tuple(Round(LAYERS["hole"], hole.at, hole.diameter) for hole in art.holes)
    us = [p[0] for c in contours for part in c.parts for p in (part.start, part.end)]
    vs = [p[1] for c in contours for part in c.parts for p in (part.start, part.end)]
    boxes = [line.outline.bounds for line in art.lines] + [saw_line(line).bounds for line in art.lines]
    us += [u for b in boxes for u in (b[0], b[2])] or [0.0]
    vs += [v for b in boxes for v in (b[1], b[3])] or [0.0]
    return Drawn(art.title, contours, holes, (min(us), min(vs), max(us), max(vs)))


def _lines(art: StencilArt) -> Iterator[Contour]:
    for line in art.lines:
        at = saw_line(line)
        yield from _runs(line.use, at)
        if at is not line.outline:  # wood is left on: the line to sand to is the true outline
            yield from _runs("sand to", line.outline)


def _runs(use: str, outline: Outline) -> Iterator[Contour]:
    closed = isinstance(outline, Area)
    for run in outlines_of(outline) if isinstance(outline, Area) else (outline,):
        yield _contour(use, run, closed)


def _contour(use: str, run: Path, closed: bool) -> Contour:
    points = run.points[:-1] if closed else run.points
    return Contour(LAYERS[use], parts_of(points, closed), closed)
