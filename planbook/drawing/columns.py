"""Columns of names left and right of a drawing, on leaders that never cross, and the scale that they leave it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from planbook.drawing.lettering import LEADING, width_of, wrapped
from planbook.drawing.marks import Point
from planbook.drawing.names import GAP, MARGIN, Bounds, Box, Label, Layout, Side, Wanted, crossing, dot_of
from planbook.drawing.over import over_others
from planbook.drawing.paper import Paper

LEAST = 0.25
"""Share of the picture's width that names leave to the drawing."""
WIDEST = 0.27
"""Share of the picture's width that a column of names may take, up to 34 mm."""
NARROWER = (0.2, 0.15)
"""The same, where names broken into more lines leave the drawing more room."""
BROKEN = 0.08
"""How much scale is given up to keep names in one line: for one more line of each of them."""
EVEN = 0.05
"""How much scale is given up to have as many names on the left as on the right."""
NEAR = 0.6
"""How much scale is given up to keep leaders short: for leaders as long as the drawing is wide."""
OVER = 1.4
"""How much scale is given up so that leaders keep off other pieces: for each leader wholly over them, shared by all."""


@dataclass(frozen=True, slots=True)
class Room:
    """What a layout may use: the paper, mm; the type size; the largest scale; the room all around the drawing, mm;
    the air between two names of a column, mm; how far signs stick out left, above, right and below, mm.
    """

    width: float
    height: float
    size: float
    most: float
    pad: float = 0.0
    air: float = 1.3
    signs: Box = (0.0, 0.0, 0.0, 0.0)


def arranged(names: Sequence[Wanted], bounds: Bounds, room: Room) -> Layout | None:
    """The drawing as large as the names allow; None if they do not fit beside it."""
    ordered = sorted(names, key=lambda n: (n.spot[0], n.spot[1], n.text))
    over = over_others([(n.spot, [q for face in n.faces for q in face]) for n in ordered], bounds[0], bounds[2])
    tried = [(_split(ordered, lines, bounds, room, over), lines) for lines in _broken(ordered, room)]
    fits = [(found, lines) for found, lines in tried if found is not None]
    if not fits:
        return None
    (_, split), lines = max(fits, key=lambda fit: fit[0][0])
    left, right = ordered[:split], ordered[split:]
    paper, edges = _placed(bounds, room, _column(left, lines, room), _column(right, lines, room))
    labels = [
        *_stacked(left, lines, "left", edges[0], paper, room),
        *_stacked(right, lines, "right", edges[1], paper, room),
    ]
    return Layout(paper, room.width, room.height, room.size, tuple(labels))


def _broken(names: Sequence[Wanted], room: Room) -> list[dict[Wanted, tuple[str, ...]]]:
    """Ways to break the names into lines, wide columns first; no column is narrower than the longest word needs."""
    longest = max((width_of(word, room.size, n.bold) for n in names for word in n.text.split()), default=0.0)
    found: list[dict[Wanted, tuple[str, ...]]] = []
    for share in (WIDEST, *NARROWER):
        widest = min(34.0, max(12.0, share * room.width, min(longest + 0.1, WIDEST * room.width)))
        lines = {n: wrapped(n.text, room.size, widest) for n in names}
        if lines not in found:
            found.append(lines)
    return found


def fitting(bounds: Bounds, room: Room, columns: float = 0.0) -> float:
    """The largest scale at which the bounds fit beside columns of this total width."""
    across, up = max(bounds[2] - bounds[0], 1e-6), max(bounds[3] - bounds[1], 1e-6)
    left, above, right, below = room.signs
    wide = max(room.width - 2 * (MARGIN + room.pad) - left - right - columns, 0.2 * room.width)
    high = max(room.height - 2 * (MARGIN + room.pad) - above - below, 0.2 * room.height)
    return max(1e-9, min(room.most, wide / across, high / up))


def trimmed(layout: Layout, bounds: Bounds, pad: float, signs: Box = (0.0, 0.0, 0.0, 0.0)) -> Layout:
    """The layout without empty paper above and below."""
    tops = [layout.paper.put((0.0, bounds[3]))[1] - pad - signs[1], *(label.box[1] for label in layout.labels)]
    lows = [layout.paper.put((0.0, bounds[1]))[1] + pad + signs[3], *(label.box[3] for label in layout.labels)]
    up = MARGIN - min(tops)
    paper = replace(layout.paper, y=layout.paper.y + up)
    labels = tuple(_lifted(label, up) for label in layout.labels)
    return replace(layout, paper=paper, labels=labels, height=max(lows) + up + MARGIN)


def _lifted(label: Label, up: float) -> Label:
    left, top, right, bottom = label.box
    return replace(label, box=(left, top + up, right, bottom + up), dot=(label.dot[0], label.dot[1] + up))


def _split(
    ordered: Sequence[Wanted],
    lines: dict[Wanted, tuple[str, ...]],
    bounds: Bounds,
    room: Room,
    over: Sequence[float],
) -> tuple[float, int] | None:
    """How many names, from the left, stand on the left, and what that is worth: the largest scale wins."""
    best: tuple[float, int] | None = None
    broken = BROKEN * sum(len(each) - 1 for each in lines.values()) / max(len(lines), 1)
    for k in range(len(ordered) + 1):
        sides = (ordered[:k], ordered[k:])
        if any(_tall(side, lines, room) > room.height - 2 * MARGIN for side in sides):
            continue
        columns = sum(_column(side, lines, room) for side in sides)
        if room.width - columns < LEAST * room.width + 2 * (MARGIN + room.pad) + room.signs[0] + room.signs[2]:
            continue
        uneven = abs(len(ordered) - 2 * k) / max(len(ordered), 1)
        lost = broken + EVEN * uneven + NEAR * _reach(ordered, k, bounds) + OVER * over[k]
        worth = fitting(bounds, room, columns) * (1.0 - lost)
        if best is None or worth > best[0] + 1e-9:
            best = (worth, k)
    return best


def _reach(ordered: Sequence[Wanted], k: int, bounds: Bounds) -> float:
    """Mean length of the leaders inside the drawing if the first `k` go left, as a share of its width."""
    left, right = bounds[0], bounds[2]
    lengths = [n.spot[0] - left if i < k else right - n.spot[0] for i, n in enumerate(ordered)]
    return sum(lengths) / (len(lengths) * max(right - left, 1e-6)) if lengths else 0.0


def _tall(side: Sequence[Wanted], lines: dict[Wanted, tuple[str, ...]], room: Room) -> float:
    return sum(_height(lines[n], room.size) + room.air for n in side) - room.air if side else 0.0


def _height(lines: Sequence[str], size: float) -> float:
    return size * (1.0 + LEADING * (len(lines) - 1))


def _column(side: Sequence[Wanted], lines: dict[Wanted, tuple[str, ...]], room: Room) -> float:
    """Width of a column of names with the gap beside it, mm."""
    widths = [width_of(line, room.size, n.bold) for n in side for line in lines[n]]
    return max(widths) + GAP if widths else 0.0


def _placed(bounds: Bounds, room: Room, left: float, right: float) -> tuple[Paper, tuple[float, float]]:
    """Paper on which drawing and columns stand centred, and the inner edges of the two columns."""
    scale = fitting(bounds, room, left + right)
    across, up = (bounds[2] - bounds[0]) * scale, (bounds[3] - bounds[1]) * scale
    before, above, after, below = (room.pad + out for out in room.signs)
    start = max(MARGIN, (room.width - left - right - across - before - after) / 2) + left + before
    top = (room.height - up + above - below) / 2
    paper = Paper(scale, start - bounds[0] * scale, top + bounds[3] * scale)
    return paper, (start - before - GAP, start + across + after + GAP)


def _stacked(
    side: Sequence[Wanted],
    lines: dict[Wanted, tuple[str, ...]],
    where: Side,
    edge: float,
    paper: Paper,
    room: Room,
) -> list[Label]:
    """The names of one column, as near to their dots as they can be, their leaders free of each other."""
    dots = {n: paper.put(n.spot) for n in side}
    order = sorted(side, key=lambda n: (dots[n][1], dots[n][0], n.text))
    first = _column_of(order, lines, where, edge, dots, room)
    dots = {label.wanted: dot_of(label, paper) for label in first}
    return _untangled(_reordered(order, dots), lines, where, edge, dots, room)


def _reordered(order: Sequence[Wanted], dots: dict[Wanted, Point]) -> list[Wanted]:
    return sorted(order, key=lambda n: (dots[n][1], dots[n][0], n.text))


def _column_of(
    order: Sequence[Wanted],
    lines: dict[Wanted, tuple[str, ...]],
    where: Side,
    edge: float,
    dots: dict[Wanted, Point],
    room: Room,
) -> list[Label]:
    heights = [_height(lines[n], room.size) for n in order]
    middles = _spread([dots[n][1] for n in order], heights, (MARGIN, room.height - MARGIN), room.air)
    labels = []
    for name, tall, middle in zip(order, heights, middles, strict=True):
        wide = max(width_of(line, room.size, name.bold) for line in lines[name])
        left = edge - wide if where == "left" else edge
        box = (left, middle - tall / 2, left + wide, middle + tall / 2)
        labels.append(Label(name, lines[name], where, box, dots[name]))
    return labels


def _spread(targets: Sequence[float], heights: Sequence[float], span: tuple[float, float], air: float) -> list[float]:
    """Middles as near to their targets as they can be in this order without overlap (least squares)."""
    if not targets:
        return []
    offsets = [0.0]
    for one, two in pairwise(heights):
        offsets.append(offsets[-1] + (one + two) / 2 + air)
    blocks: list[tuple[float, int]] = []
    for target, offset in zip(targets, offsets, strict=True):
        blocks.append((target - offset, 1))
        while len(blocks) > 1 and blocks[-2][0] > blocks[-1][0]:
            (a, n), (b, m) = blocks[-2:]
            blocks[-2:] = [((a * n + b * m) / (n + m), n + m)]
    bases = [base for base, count in blocks for _ in range(count)]
    least, most = span[0] + heights[0] / 2, span[1] - heights[-1] / 2 - offsets[-1]
    return [min(max(base, least), max(most, least)) + offset for base, offset in zip(bases, offsets, strict=True)]


def _untangled(
    order: list[Wanted],
    lines: dict[Wanted, tuple[str, ...]],
    where: Side,
    edge: float,
    dots: dict[Wanted, Point],
    room: Room,
) -> list[Label]:
    """The column with crossing leaders uncrossed by swapping their names, which shortens both."""
    labels = _column_of(order, lines, where, edge, dots, room)
    best = (len(_crossings(labels)), labels)
    for _ in range(4 * len(order)):
        crossed = _crossings(labels)
        if not crossed:
            return labels
        i, j = crossed[0]
        order = [*order]
        order[i], order[j] = order[j], order[i]
        labels = _column_of(order, lines, where, edge, dots, room)
        best = min(best, (len(_crossings(labels)), labels), key=lambda b: b[0])
    return best[1]


def _crossings(labels: Sequence[Label]) -> list[tuple[int, int]]:
    return [(i, j) for i in range(len(labels)) for j in range(i + 1, len(labels)) if crossing(labels[i], labels[j])]
