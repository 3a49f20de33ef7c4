"""How far what a slot or an end is set by may be off before a fit suffers; it rounds and prints nothing."""

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from planbook.model import Fit, Node
from planbook.model.sizes import folded
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block
from planbook.takeoff.boards import is_sheet
from planbook.takeoff.measure import exact, lengths
from planbook.takeoff.records import Setting
from planbook.takeoff.settings import BITS, KERFS, POINT, RADIUS, SIDES, settings_of, settings_of_tool
from planbook.takeoff.sold import is_metric
from planbook.units import MM_PER_INCH, Chain, Leeway, Quantity
from planbook.workshop import Event, Fitted, Timeline
from planbook.workshop.copies import FURTHER

NEAR = 0.5
"""Wood that is taken away so near to the place where a fit is narrowest, mm, makes the fit."""
DEPTH, DISTANCE, WIDTH, LENGTH = "depth", "distance", "width", "to"
"""What acts square to the face that is worked; the place of a slot and its width, whose sum is its far side; and what
is left from end to end."""
FLUSH = "flush"
_ELSEWHERE = ("depth of cut", "leave", *KERFS, *BITS, *SIDES)
"""Lengths that set no surface, or that are told as fine as can be already."""
_DOT = 0.01
LAST = MM_PER_INCH / 128
"""How far the last place of a row may be off by the rounding of how far they lie apart, mm."""
FEWEST = 3
"""So many places in line, as far from one another, are a row."""
_COUNT = re.compile(r"\d+")
_NAMED = re.compile(r"\{([^{}|]+)")
"""What words of a step name."""


def leeways_of(timeline: Timeline) -> tuple[Leeway, ...]:
    """For each operation that makes a fit: its lengths, with the far side of a slot, and what the fit leaves, mm."""
    return tuple(
        (found, exact(left))
        for fit in timeline.fits
        if (left := _left(fit)) > 0
        for event in _before(fit, timeline)
        if (found := _set(event, fit, timeline))
    )


def sides_of(timeline: Timeline) -> tuple[tuple[tuple[str, ...], tuple[str, ...], Fraction], ...]:
    """For each fit: the pieces on the one side and on the other, and what the fit leaves, mm."""
    return tuple((*_either(fit, timeline), exact(left)) for fit in timeline.fits if (left := _left(fit)) > 0)


def levels_of(timeline: Timeline) -> tuple[tuple[str, str, str, Fraction], ...]:
    """For each fit of faces in one level: its two pieces, the face, and what the fit leaves, mm."""
    fields = [(timeline.design.fits[fit.name].fields, _left(fit)) for fit in timeline.fits if fit.kind == FLUSH]
    pairs = ((tuple(_texts(own["between"])), str(own["face"].value), left) for own, left in fields if left > 0)
    return tuple((first, second, face, exact(left)) for (first, second), face, left in pairs)


def repeats_of(timeline: Timeline) -> tuple[Leeway, ...]:
    """How far the places of a row lie apart, and how far that may be off: the last of them lies where it is told.

    What is rounded on its own is off by so much more at every place.
    """
    settings = (setting for event in timeline.events for setting in settings_of(event.settings))
    repeated = (
        (tuple(abs(each.value) for each in setting.value if each.value), LAST / (int(count[0]) - 1))
        for setting in settings
        if setting.key.endswith(FURTHER) and isinstance(setting.value, tuple)
        if (count := _COUNT.findall(setting.key)) and int(count[0]) > 1
    )
    return (*repeated, *(((by,), LAST / (count - 1)) for event in timeline.events for _, by, count in _listed(event)))


def prints_of(timeline: Timeline) -> tuple[Leeway, ...]:
    """The lengths that the words about sticking a stencil on name: a print is measured against them."""
    sizes = {folded(name): value for name, value in timeline.sizes.items() if value.is_length}
    steps = {event.at.step for event in timeline.events if event.operation.kind == "stick"}
    words = (prose.text for number in sorted(steps) for prose in timeline.design.steps[number - 1].prose)
    named = (sizes.get(folded(name)) for text in words for name in _NAMED.findall(text))
    return tuple(((abs(size.value),), LAST) for size in named if size is not None)


def rows_of(timeline: Timeline) -> tuple[Chain, ...]:
    """For each two places of a row that follow each other: that one, and how far they lie apart, come to the other.

    A row is one that is repeated, or three places or more in line, as far from one another.
    """
    repeated = (chain for event in timeline.events for chain in _rows(settings_of(event.settings)))
    rows = (row for event in timeline.events for row in _listed(event))
    return tuple(dict.fromkeys((*repeated, *(chain for row in rows for chain in _one_after_the_other(*row)))))


def places_set(timeline: Timeline) -> frozenset[Fraction]:
    """All lengths (mm) that are set in the steps, also those of points and of pairs, each without its sign."""
    settings = (setting for event in timeline.events for setting in settings_of(event.settings))
    values = (s.value if isinstance(s.value, tuple) else (s.value,) for s in settings)
    return frozenset(
        abs(each.value) for several in values for each in several if isinstance(each, Quantity) and each.is_length
    )


def _rows(settings: Sequence[Setting]) -> Iterator[Chain]:
    firsts = [setting.value for setting in settings if setting.key.split()[0] == POINT]
    for row in (setting for setting in settings if setting.key.endswith(FURTHER)):
        count = int((_COUNT.findall(row.key) or ["1"])[0])
        for first in firsts:
            if isinstance(first, tuple) and isinstance(row.value, tuple):
                for place, by in zip(first, row.value, strict=False):
                    yield from _one_after_the_other(place.value, by.value, count)


def _listed(event: Event) -> Iterator[tuple[Fraction, Fraction, int]]:
    """The rows among the points that an operation lists: the first place, how far they lie apart, and how many."""
    points = [s.value for s in settings_of(event.settings) if s.key.split()[0] == POINT and isinstance(s.value, tuple)]
    for mine in (0, 1):
        lines: dict[Fraction, set[Fraction]] = {}
        for point in (point for point in points if len(point) == 2):
            lines.setdefault(point[1 - mine].value, set()).add(point[mine].value)
        for places in map(sorted, lines.values()):
            steps = {b - a for a, b in pairwise(places)}
            if len(places) > FEWEST - 1 and len(steps) == 1:
                yield places[0], steps.pop(), len(places)


def _one_after_the_other(first: Fraction, by: Fraction, count: int) -> Iterator[Chain]:
    for k in range(count - 1 if by else 0):
        here = first + k * by
        *parts, total = sorted(map(abs, (here, by, here + by)))
        if parts[0]:
            yield Chain("", tuple(parts), total)


def diameters_of(timeline: Timeline) -> frozenset[Fraction]:
    """The diameters (mm) of the drills and cutters of a design, and of what is bored with them."""
    of_tools = (setting for tool in timeline.design.tools.values() for setting in settings_of_tool(tool, timeline))
    of_steps = (setting for event in timeline.events for setting in settings_of(event.settings))
    return frozenset(
        value.value * (2 if setting.key == RADIUS else 1)
        for setting in (*of_tools, *of_steps)
        if setting.key in BITS
        for value in (setting.value if isinstance(setting.value, tuple) else (setting.value,))
        if isinstance(value, Quantity) and value.is_length
    )


def thicknesses(timeline: Timeline) -> tuple[Fraction, ...]:
    """The finished thicknesses (mm) of the boards of a design."""
    sizes = [lengths(stock.size, timeline) for stock in timeline.design.stock.values()]
    return tuple(sorted({min(size) for size in sizes if size and min(size) > 0}))


def metric_sheets(timeline: Timeline) -> tuple[Fraction, ...]:
    """The thicknesses (mm) of sheets of the design that are sold by the millimetre."""
    book = timeline.design.handbook
    sizes = [lengths(s.size, timeline) for s in timeline.design.stock.values() if is_sheet(s.wood, book)]
    return tuple(sorted({min(size) for size in sizes if size and is_metric(min(size))}))


def _left(fit: Fitted) -> float:
    """How much a fit is from the nearer end of what is asked for, mm; none where that is not known."""
    below = [fit.least - fit.asked_least] if fit.least is not None and fit.asked_least is not None else []
    above = [fit.asked_most - fit.most] if fit.most is not None and fit.asked_most is not None else []
    return min((*below, *above), default=0.0)


def _either(fit: Fitted, timeline: Timeline) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The pieces on the one side of a fit and on the other: a piece that moves, and what it moves past."""
    fields = timeline.design.fits[fit.name].fields
    if "between" in fields:
        first, second = _texts(fields["between"])
        return (first,), (second,)
    moves = tuple(_texts(fields["piece"])) if "piece" in fields else ()
    past = tuple(_texts(fields["past"])) if "past" in fields else tuple(timeline.pieces)
    return moves, tuple(name for name in past if name not in moves)


def _before(fit: Fitted, timeline: Timeline) -> Iterator[Event]:
    """The events that the pieces of a fit came from, last first."""
    end = (fit.before.step, fit.before.number) if fit.before else None
    names = set(_named(timeline.design.fits[fit.name]))
    for event in reversed(timeline.events):
        made = [piece for piece in event.made if piece.name in names]
        if made and (end is None or (event.at.step, event.at.number) < end):
            names.update(source for piece in made for source in piece.sources)
            yield event


def _named(fit: Fit) -> Iterator[str]:
    """The names of pieces in a fit, and other texts of it."""
    for node in fit.fields.values():
        yield from _texts(node)


def _texts(node: Node) -> Iterator[str]:
    """One text, or all of a list."""
    return (str(item.value) for item in (node.value if isinstance(node.value, tuple) else (node,)))


def _makes(event: Event, fit: Fitted) -> bool:
    """Whether an event took wood away where a fit is narrowest."""
    if fit.where is None:
        return False
    dot = None
    for lost in event.lost:
        if lost.solid.empty or not _in_box(fit.where, lost.solid.bounds):
            continue
        x, y, z = fit.where
        dot = dot or block((x - _DOT, y - _DOT, z - _DOT), (x + _DOT, y + _DOT, z + _DOT))
        if lost.solid.gap(dot, 2 * NEAR) < NEAR:
            return True
    return False


def _in_box(at: tuple[float, float, float], box: tuple[tuple[float, ...], tuple[float, ...]]) -> bool:
    return all(low - NEAR < place < high + NEAR for place, low, high in zip(at, *box, strict=True))


def _along(fit: Fitted, timeline: Timeline) -> int | None:
    """The axis that a gap is asked for along."""
    node = timeline.design.fits[fit.name].fields.get("along")
    return "xyz".index(str(node.value)) if node is not None and str(node.value) in tuple("xyz") else None


def _set(event: Event, fit: Fitted, timeline: Timeline) -> tuple[Fraction, ...]:
    """The lengths by which an event makes a fit, of those that act along its axis if one is asked for."""
    along = _along(fit, timeline)
    face = dict(event.settings).get("face")
    normal = [round(abs(part)) for part in FACE_FRAMES[face].n].index(1) if face in FACE_FRAMES else None
    makes, ends = _makes(event, fit), normal is not None and _ends(event, fit, normal, timeline)
    found: dict[str, Fraction] = {}
    for setting in settings_of(event.settings) if makes or ends else ():
        key, value = setting.key, setting.value
        acts = along is None or normal is None or (along == normal) == (key in (DEPTH, LENGTH))
        mine = ends if key == LENGTH else makes and key not in _ELSEWHERE
        if mine and acts and isinstance(value, Quantity) and value.is_length:
            found[key] = value.value
    far = [found[DISTANCE] + found[WIDTH]] if DISTANCE in found and WIDTH in found else []
    return (*found.values(), *far)


def _ends(event: Event, fit: Fitted, axis: int, timeline: Timeline) -> bool:
    """Whether a fit is narrowest at either end, along an axis, of what was made, where it lies then or in the end."""
    if fit.where is None:
        return False
    solids = [solid for piece in event.made for solid in (piece.solid, timeline.pieces.get(piece.name, piece).solid)]
    near = [solid.bounds for solid in solids if not solid.empty and _in_box(fit.where, solid.bounds)]
    return any(abs(fit.where[axis] - end[axis]) < NEAR for box in near for end in box)
