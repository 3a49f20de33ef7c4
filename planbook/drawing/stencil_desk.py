"""Puts words and signs of a stencil where nothing is crossed, on it, beside or below it."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import islice

from planbook.drawing.marks import Mark, Point, Stroke
from planbook.drawing.stencil_art import Box, Laid
from planbook.drawing.stencil_pens import LEADER
from planbook.drawing.stencil_room import CLEAR, Label, find_room, rooms
from planbook.drawing.stencil_signs import Sign, leader
from planbook.drawing.stencil_words import StencilWords
from planbook.solids import Area, Path
from planbook.units import LengthStyle

_NEAR, _CLOSE = 30.0, 25.0
_REACH = 40.0
"""A leader to words beside the stencil may run this far over it, mm, before words on another part are better."""
_TRIED = 30
"""So many places for words with a leader are compared."""
_LONG, _TURNED = 12.0, 6.0
"""A leader longer than this, mm, is worth words set in another way, if they gain so many mm."""
_LINE, _WORD = 8.0, 40.0
"""Crossing a line, or a word, is as bad as a leader longer by so many mm."""


@dataclass
class Desk:
    """The free room of a stencil, on the piece and (`outer`) on paper off the piece, and what has been put there.

    `column` are words beside it with what they point at (and whether with a dot), `row` signs below it,
    `notes` what is told in the caption, `ink` where its lines are. Without `beside`, nothing is put beside or below.
    """

    paper: Laid
    words: StencilWords
    style: LengthStyle
    free: Area
    outer: Area
    ink: Area
    beside: bool
    marks: list[Mark] = field(default_factory=list)
    boxes: list[Area] = field(default_factory=list)
    column: list[tuple[Label, Point, bool]] = field(default_factory=list)
    row: list[Sign] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def put(self, shape: Area, marks: Iterable[Mark]) -> None:
        """Takes the room of a thing and keeps its marks."""
        self.boxes.append(shape)
        self.free, self.outer = self.free.minus(shape), self.outer.minus(shape)
        self.marks.extend(marks)

    def label(self, label: Label, near: Point, within: float = math.inf, area: Area | None = None) -> bool:
        """Puts words near a point if there is room: where the stencil is free, or in a free area."""
        shape = label.shape
        spot = find_room(self.free if area is None else area, shape, near, within)
        if spot is None:
            return False
        self.put(shape.moved(*spot), label.words(spot))
        return True

    def at_one_of(self, label: Label, spots: Iterable[Point]) -> bool:
        """Puts words at the first of some places that is free."""
        shape = label.shape
        for spot in spots:
            if shape.moved(*spot).within(self.free):
                self.put(shape.moved(*spot), label.words(spot))
                return True
        return False

    def led(self, label: Label, target: Point, dot: bool, radius: float = 0.0, narrower: Sequence[Label] = ()) -> None:
        """Words away from what they name, with a leader: close by, beside the stencil, or anywhere on it.

        With a dot they name an area, and stand beside the stencil rather than on another one of its parts. The
        leader begins `radius` mm from the target, at the rim of a hole. `narrower` are other ways to set the words,
        on wood that is kept, taken where the usual way would have a long leader.
        """
        spot, toil = self._led_spot(label, target, dot, radius, self.free)
        tried = narrower if toil > _LONG else ()
        waste = [region.area for region in self.paper.regions if region.waste and tried]
        kept = self.free.minus(*waste) if waste else self.free
        for other in tried:
            nearer, easier = self._led_spot(other, target, dot, radius, kept)
            if easier + _TURNED < toil:
                label, spot, toil = other, nearer, easier
        if spot is None and self.beside:
            self.column.append((label, (target[0] + radius, target[1]), dot))
            return
        spot = spot or find_room(self.free, label.shape, target)
        if spot is None:
            self.notes.append(self.words.also.format(names=" ".join(label.lines)))
            return
        _, start, end = self._way(label, spot, target, radius)
        self.put(label.shape.moved(*spot), (*leader(start, end, dot), *label.words(spot)))
        if start != end:
            line = Path((start, end)).band(2 * CLEAR)
            self.free, self.outer = self.free.minus(line), self.outer.minus(line)

    def _led_spot(
        self, label: Label, target: Point, dot: bool, radius: float, free: Area
    ) -> tuple[Point | None, float]:
        """Where words close by have the leader that is easiest to follow, and how hard that is."""
        close = label.width / 2 + _CLOSE
        spots = list(islice(rooms(self.outer, label.shape, target, close), _TRIED))
        if not dot or not (spots or (self.beside and self.paper.bounds[2] - target[0] < _REACH)):
            spots += islice(rooms(free, label.shape, target, close), _TRIED)
        found = ((self._way(label, spot, target, radius)[0], spot) for spot in spots)
        toil, best = min(found, default=(math.inf, None))
        return best, toil

    def _way(self, label: Label, spot: Point, target: Point, radius: float) -> tuple[float, Point, Point]:
        """The leader to words about a spot that is easiest to follow: how hard it is, and where it begins and ends."""
        ways = [(_rim_of(target, end, radius), end) for end in _ends(label, spot, target)]
        return min((self._toil(start, end), start, end) for start, end in ways)

    def _toil(self, start: Point, end: Point) -> float:
        """How hard a leader would be to follow: its length in mm, and more for each line and word that it crosses."""
        way = Path((start, end))
        if way.length < 1e-9:
            return 0.0
        words = sum(bool(way.inside(box)) for box in self.boxes)
        return way.length + _LINE * len(way.inside(self.ink)) + _WORD * words

    def sign(self, signs: Sequence[Sign], near: Point, area: Area) -> None:
        """The largest of some signs with room close by in an area, else in it, else anywhere, else below."""
        inside = self.free.meet(area)
        places = ((inside, _NEAR), (inside, math.inf), (self.free, math.inf), (self.outer, math.inf))
        for free, within in places:
            for sign in signs:
                spot = find_room(free, sign.shape, near, within)
                if spot is not None:
                    self.put(sign.shape.moved(*spot), sign.marks_at(spot))
                    return
        if self.beside:
            self.row.append(signs[-1])

    def outside(self, exact: Box) -> list[Mark]:
        """The words beside the stencil with their leaders, and the signs below it."""
        marks: list[Mark] = []
        y, x = exact[1], max([exact[2], *(shape.bounds[2] for shape in self.boxes)]) + 8
        for label, target, dot in sorted(self.column, key=lambda c: (c[1][1], c[1][0])):
            y = max(y, target[1] - label.height / 2)
            middle = (x + label.width / 2, y + label.height / 2)
            elbow, end = (x - 3, middle[1]), (x - 0.6, middle[1])
            marks += [*leader(target, elbow, dot), Stroke((elbow, end), LEADER, "words"), *label.words(middle)]
            y += label.height + 2 * CLEAR
        low = max([exact[3], y, *(shape.bounds[3] for shape in self.boxes)])
        left = exact[0]
        for sign in self.row:
            sl, st, sr, _ = sign.shape.bounds
            marks += sign.marks_at((left - sl, low + 2 - st))
            left += sr - sl + 3
        return marks


def _rim_of(middle: Point, end: Point, radius: float) -> Point:
    """The point `radius` mm from a middle towards an end."""
    far = math.dist(middle, end)
    share = min(radius / far, 1.0) if far else 0.0
    return (middle[0] + share * (end[0] - middle[0]), middle[1] + share * (end[1] - middle[1]))


def _ends(label: Label, spot: Point, target: Point) -> list[Point]:
    """Where a leader from a target may meet the box of words about a spot, on the side that it comes to."""
    dx, dy = target[0] - spot[0], target[1] - spot[1]
    wide, high = label.width / 2 + 0.4, label.height / 2 + 0.2
    if abs(dx) * high > abs(dy) * wide:
        return [(spot[0] + math.copysign(wide, dx), spot[1])]
    return [(spot[0] + share * wide, spot[1] + math.copysign(high, dy)) for share in (0.0, -0.7, 0.7)]
