"""The figures beside the views of a measured sheet: which places are told, in which words, and the room they take."""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from planbook.drawing.lettering import width_of
from planbook.drawing.measured import Measured
from planbook.drawing.ordinates import REACH, SIZE, STEP, Place, spread
from planbook.drawing.piece_views import EDGE, GAP, WIDER, Angle, View
from planbook.drawing.rounded import AXES
from planbook.units import LengthStyle, Quantity, show_fine

MOST = 16
"""More places than this along a side too short for their figures are left to the stencil."""
MANY = 8
"""So many places along a side that is too short for their figures are worth a larger scale."""
TENTHS = 0.2
"""Places closer than this, mm, may differ by a single tenth once they are rounded."""
PARTED = 1.7 * STEP
"""From the last figure of one view to the first of the next one below, mm, so that each is read with its own."""


def figure(mm: float, style: LengthStyle) -> str:
    """A length without its unit, which the page tells once; told as it is everywhere else."""
    return show_fine(Quantity(Fraction(mm), 1), style).removesuffix(f" {style.unit}")


def reach(facts: Measured, axes: Iterable[int], style: LengthStyle) -> float:
    """How far a row of measures along one of these axes reaches from its view, mm."""
    texts = [figure(place, style) for axis in axes for place in facts.places[axis]]
    return REACH + 1.0 + max(width_of(text, SIZE, bold=True) for text in texts)


def too_many(facts: Measured, axis: int, scale: float) -> bool:
    """Whether the places along an axis are more than can be told at a scale."""
    return len(facts.places[axis]) > MOST and _crowded(facts, axis, scale)


def crowded(facts: Measured, scale: float) -> bool:
    """Whether the figures along some side would be longer than the side itself, at a scale."""
    return any(len(facts.places[axis]) >= MANY and _crowded(facts, axis, scale) for axis in AXES)


def _crowded(facts: Measured, axis: int, scale: float) -> bool:
    return STEP * len(facts.places[axis]) > facts.size[axis] * scale


def places(facts: Measured, axis: int, view: View, style: LengthStyle) -> list[Place]:
    """What is dimensioned along an axis, in the order in which it stands on the paper."""
    told = _told(facts, axis, view.paper.scale, style)
    found = [Place(_at(view, facts, axis, place), text, whole) for text, place, whole in told]
    return sorted(found, key=lambda place: place.at)


def gap_for(facts: Measured, scale: float, angle: Angle, style: LengthStyle, most: float) -> float:
    """Clear space between the front and the top view, mm: as much as their figures need to stand apart, to `most`."""
    upper, lower = (2, 1) if angle == "first" else (1, 2)
    down = {axis: _downwards(facts, axis, scale, style) for axis in (upper, lower)}
    above = spread(down[upper], STEP, SIZE / 2 - EDGE)[-1] - facts.size[upper] * scale
    below = -spread(down[lower], STEP)[0]
    rows = STEP * (len(down[upper]) + len(down[lower])) - (facts.size[1] + facts.size[2]) * scale - EDGE
    return min(max(GAP, above + below + PARTED, rows), max(WIDER, most))


def _downwards(facts: Measured, axis: int, scale: float, style: LengthStyle) -> list[float]:
    """Places along an upright axis as they lie below the top of their view, mm of paper."""
    return sorted((facts.size[axis] - place) * scale for _, place, _ in _told(facts, axis, scale, style))


def _told(facts: Measured, axis: int, scale: float, style: LengthStyle) -> list[tuple[str, float, bool]]:
    """Figures along an axis with their places, none twice; the last is the whole size."""
    wanted = facts.places[axis]
    if too_many(facts, axis, scale):
        wanted = (wanted[0], wanted[-1])
    told = {("0" if not place else figure(place, style)): place for place in _clear(wanted)}
    whole = next(reversed(told))
    return [(text, place, text == whole) for text, place in told.items()]


def _clear(places: Sequence[float]) -> Iterator[float]:
    """Places without those that, each rounded by itself, might be told a tenth of a millimetre beside another one."""
    last, end = 0.0, places[-1]
    for place in places:
        if place in (0.0, end) or (end - place >= TENTHS and (not last or place - last >= TENTHS)):
            yield place
            last = place


def _at(view: View, facts: Measured, axis: int, place: float) -> float:
    """Where a place along an axis lies on paper in a view that shows it."""
    if axis == view.up:
        return view.low[1] - place * view.paper.scale
    span = facts.size[axis] - place if view.turned else place
    return view.low[0] + span * view.paper.scale
