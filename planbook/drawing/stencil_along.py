"""Names of the lines of a stencil, written along them off every line, so that a step can speak of each by its name."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice

from planbook.drawing.marks import Point
from planbook.drawing.stencil_art import ArtLine, Laid, runs_of, saw_line
from planbook.drawing.stencil_desk import Desk
from planbook.drawing.stencil_lines import along
from planbook.drawing.stencil_pens import SMALL
from planbook.drawing.stencil_room import CLEAR, Label, rectangle
from planbook.solids import Path
from planbook.speech import called

_STEP = 2.0
"""Places along a line are tried so far apart, mm."""
_OFFS = (1.3, 2.5)
"""How far the room of words lies off a line, mm: beside a line, and beside the ticks of a saw cut."""
_FARTHEST = 6.0
"""Words that would stand farther from their line than this, mm, because it bends, are led to it instead."""
_TRIED = 120
_MIDDLE = 2.0
"""Words at the end of a line are as bad as words in its middle that stand farther from it by so many mm."""
_DOWNWARD = 80.0
"""Words along a steeper line read upwards, also along one that leans a little over, degrees from level."""
_HOLLOW = 8.0
"""Words in the bend of an open line would seem to name the tab that it bounds: as bad as so many mm farther off."""


@dataclass(frozen=True, slots=True)
class _Place:
    """Where the middle of words lies, their slope in degrees turning right, and what speaks against it."""

    middle: Point
    angle: float
    toil: float


def write_line_names(desk: Desk) -> None:
    """Put the name of each line beside it, the shortest first; where it is the only one its sheet tells it as well."""
    lines = sorted(_named(desk.paper), key=_length)
    for line in lines:
        label = Label((called(line.name),), SMALL)
        if not _beside(desk, line, label) and len(lines) > 1:
            desk.led(label, _halfway(line), dot=False)


def _named(paper: Laid) -> list[ArtLine]:
    """Each line that steps may name, once; ways in for the blade are named where they begin."""
    return list({line.name: line for line in paper.lines if line.use != "entry"}.values())


def _length(line: ArtLine) -> float:
    return sum(run.length for run in runs_of(line.outline))


def _halfway(line: ArtLine) -> Point:
    return max(runs_of(saw_line(line)), key=lambda run: run.length).halfway


def _beside(desk: Desk, line: ArtLine, label: Label) -> bool:
    """Puts the name along its line, on the piece or on the paper beside it, where there is room."""
    shape = (label.width + 2 * CLEAR, label.height + 2 * CLEAR)
    for place in islice(sorted(_places(line, shape), key=lambda place: place.toil), _TRIED):
        box = rectangle(place.middle, *shape, place.angle)
        if box.within(desk.free) or box.within(desk.outer):
            desk.put(box, label.words(place.middle, "name", place.angle))
            return True
    return False


def _places(line: ArtLine, shape: tuple[float, float]) -> Iterator[_Place]:
    """Places for words of a size on both sides of a line, as near to it as its bends let them."""
    for run in runs_of(saw_line(line)):
        spots = [point for point, _ in along(run.points, _STEP)]
        reach = round(shape[0] / 2 / _STEP)
        for k in range(reach, len(spots) - reach):
            near = spots[k - reach : k + reach + 1]
            aside = abs(2 * k / max(len(spots) - 1, 1) - 1)
            for place in _sides(near, shape[1], _MIDDLE * aside):
                hollow = isinstance(line.outline, Path) and _enclosed(place.middle, run.points)
                yield replace(place, toil=place.toil + _HOLLOW) if hollow else place


def _sides(near: Sequence[Point], height: float, toil: float) -> Iterator[_Place]:
    """Words on either side of a stretch of a line, parallel to its chord and clear of how far it bows out."""
    (ax, ay), (bx, by) = near[0], near[-1]
    far = math.dist(near[0], near[-1])
    if far < 1e-6:
        return
    dx, dy = (bx - ax) / far, (by - ay) / far
    bows = [dx * (y - ay) - dy * (x - ax) for x, y in near]
    angle = (math.degrees(math.atan2(dy, dx)) - _DOWNWARD) % 180.0 + _DOWNWARD - 180.0
    for sign, bow in ((1, max(bows)), (-1, -min(bows))):
        if bow - bows[len(bows) // 2] * sign <= _FARTHEST:
            for more in _OFFS:
                off = sign * (bow + more + height / 2)
                middle = ((ax + bx) / 2 - dy * off, (ay + by) / 2 + dx * off)
                yield _Place(middle, angle, toil + max(bows) - min(bows) + more)


def _enclosed(point: Point, run: Sequence[Point]) -> bool:
    """Whether a point lies between a line and the straight way from its end back to its beginning, by even and odd."""
    sides = zip(run, (*run[1:], run[0]), strict=True)
    crossed = [((ax, ay), (bx, by)) for (ax, ay), (bx, by) in sides if (ay > point[1]) != (by > point[1])]
    return sum(point[0] < ax + (point[1] - ay) * (bx - ax) / (by - ay) for (ax, ay), (bx, by) in crossed) % 2 == 1
