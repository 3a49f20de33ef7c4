"""Names, leaders, numbers and the key as marks; where they stand is decided elsewhere."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from planbook.drawing.ink import LEADER, LINE, PAPER
from planbook.drawing.lettering import LEADING, RISE, elided, shortened, width_of
from planbook.drawing.marks import Anchor, Fill, Mark, Pen, Point, Ring, Stroke, Words
from planbook.drawing.names import Label, Layout
from planbook.drawing.paper import Paper
from planbook.solids.hatch import clip_lines
from planbook.solids.visible import Polygon2

DOT = 0.45
"""Radius of the dot at the end of a leader, mm."""
LONG = 5.0
"""What is longer than this, mm, is seen on both sides of a dot however narrow it is."""
BED = 0.2
"""Width of the white around a dot, mm."""
SHORT = 0.55
"""A leader without a dot stops so far from the edge of what it points at, mm, which leaves the lines there whole."""


def named(labels: Sequence[Label], size: float, dot: float = DOT) -> tuple[Mark, ...]:
    """All leaders on white beds, then all dots of radius `dot`, then all names."""
    led = [label for label in labels if label.side != "on"]
    lines = [(label.start, label.dot) for label in led]
    beds = tuple(Stroke(line, Pen(LEADER + 0.4, PAPER), "leader bed") for line in lines)
    leaders = tuple(Stroke(line, Pen(LEADER, LINE), "leader") for line in lines)
    ends = [(label.dot,) for label in led if not label.ring]
    rims = tuple(Stroke(end, Pen(2 * (dot + BED), PAPER), "dot bed") for end in ends)
    dots = tuple(Stroke(end, Pen(2 * dot, LINE), "dot") for end in ends)
    discs = tuple(Fill((circle(label.dot, disc(size)),), PAPER, "disc", 0.85) for label in labels if label.side == "on")
    return (*beds, *leaders, *rims, *dots, *discs, *(w for label in labels for w in _text(label, size)))


def to_edges(layout: Layout, dot: float = DOT) -> Layout:
    """The layout with leaders that stop at the edge of what a dot of this radius would hide."""

    def hidden(label: Label) -> bool:
        room = label.wanted.room * layout.paper.scale
        narrow = label.side != "on" and not label.ring and 0 < room < dot + BED
        return narrow and _long(label.wanted.faces) * layout.paper.scale < LONG

    return replace(layout, labels=tuple(_to_edge(k, layout.paper) if hidden(k) else k for k in layout.labels))


def _long(faces: Sequence[Sequence[Polygon2]]) -> float:
    """How far the longest polygon of faces reaches right or up, mm of the view; a piece may have several like it."""
    outers = [tuple(zip(*outer, strict=True)) for face in faces for outer, _ in face]
    return max((max(along) - min(along) for axes in outers for along in axes), default=0.0)


def _to_edge(label: Label, paper: Paper) -> Label:
    """A label with its leader up to the first of its faces that it meets, without a dot; the same if it meets none."""
    faces = [paper.polygons(face) for face in label.wanted.faces]
    met = [(line[0], face[0][0]) for face in faces for line in clip_lines(face, [(label.start, label.dot)])]
    if not met:
        return label
    (u, v), ring = min(met, key=lambda each: math.dist(label.start, each[0]))
    x, y = label.start
    share = max(0.0, 1.0 - SHORT / max(math.dist((x, y), (u, v)), SHORT))
    return replace(label, dot=(x + share * (u - x), y + share * (v - y)), ring=ring)


def disc(size: float) -> float:
    """Radius of the disc under a number that stands on a face, mm."""
    return 0.75 * size


def balloon(size: float) -> float:
    """Radius of the circle around a number, mm."""
    return 0.78 * size


def circle(at: Point, radius: float) -> Ring:
    """A circle as a ring of corners."""
    turns = [k * math.pi / 10 for k in range(20)]
    return tuple((at[0] + radius * math.cos(t), at[1] + radius * math.sin(t)) for t in turns)


def _text(label: Label, size: float) -> list[Words]:
    left, top, right, bottom = label.box
    anchors: dict[str, tuple[float, Anchor]] = {
        "left": (right, "end"),
        "right": (left, "start"),
        "on": ((left + right) / 2, "middle"),
    }
    x, anchor = anchors[label.side]
    first = (top + bottom) / 2 - LEADING * size * (len(label.lines) - 1) / 2 + RISE * size
    return [
        Words((x, first + LEADING * size * k), line, size, anchor, bold=label.wanted.bold, layer="name")
        for k, line in enumerate(label.lines)
    ]


def key_height(names: Sequence[str], width: float, size: float) -> float:
    """Height in mm of the key of these names."""
    return 2.0 + math.ceil(len(names) / _columns(names, width, size)) * size * 1.3


def key(names: Mapping[str, str], width: float, top: float, size: float) -> tuple[Mark, ...]:
    """Names by their numbers in columns, read downwards, below a drawing that ends at `top`."""
    columns = _columns(tuple(names.values()), width, size)
    rows = math.ceil(len(names) / columns)
    across = (width - 2.0) / columns
    marks: list[Mark] = []
    for k, (tag, name) in enumerate(names.items()):
        x, y = 1.0 + across * (k // rows), top + 2.0 + (k % rows + 0.8) * size * 1.3
        number = width_of("00", size, bold=True)
        marks.append(Words((x + number, y), tag, size, "end", bold=True, layer="key"))
        marks.append(
            Words((x + number + 1.0, y), elided(shortened(name), size, across - number - 2.5), size, layer="key")
        )
    return tuple(marks)


def _columns(names: Sequence[str], width: float, size: float) -> int:
    """As many columns as the longest name allows, but never narrower than a short name, nor wider than half."""
    longest = max((width_of(shortened(name), size) for name in names), default=0.0)
    return max(1, int((width - 2.0) / min(max(longest + 2.2 * size, 6 * size), (width - 2.0) / 2)))
