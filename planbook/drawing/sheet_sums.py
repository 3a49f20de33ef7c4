"""Figures of measured drawings that a reader adds up: places from either end, and arcs with their middles; no marks."""

from bisect import bisect_left
from collections.abc import Collection, Iterable, Iterator, Mapping
from fractions import Fraction
from itertools import combinations_with_replacement

from planbook.drawing.measured import Measured, measured
from planbook.drawing.piece_alike import alike
from planbook.drawing.rounded import AXES
from planbook.units import Chain
from planbook.workshop import Piece

SAME = 0.005
"""Places that differ by no more than this, mm, are one."""
CHORDS = 0.025
"""The end of an arc that is made of chords lies so far within it, mm."""
_PLACES = 4


def mirrored_of(pieces: Mapping[str, Piece], listed: Collection[str]) -> Iterator[Chain]:
    """Places on sheets of `listed` pieces that lie as far from one end as others from the other, with the whole; mm.

    A reader takes the one from the whole and looks for the other. What lies in the middle is the half of the whole.
    """
    for facts in _facts(pieces, listed):
        for places in facts.places:
            for low, high in combinations_with_replacement(places[1:-1], 2):
                if abs(low + high - places[-1]) < SAME:
                    yield _chain(low, high, places[-1])


def from_the_other_end(
    pieces: Mapping[str, Piece], listed: Collection[str], lengths: Iterable[Fraction]
) -> Iterator[Chain]:
    """Places on sheets of `listed` pieces that a step sets from the other end by one of the `lengths`; mm."""
    known = sorted({float(length) for length in lengths})
    for facts in _facts(pieces, listed):
        for places in facts.places:
            for place in places[1:-1]:
                at = bisect_left(known, places[-1] - place - SAME)
                if at < len(known) and known[at] < places[-1] - place + SAME:
                    yield Chain("", (_exact(place), Fraction(known[at]).limit_denominator(10**6)), _exact(places[-1]))


def arcs_of(pieces: Mapping[str, Piece], listed: Collection[str]) -> Iterator[Chain]:
    """The radius of an arc on a sheet, where its middle lies, and the place where it ends farthest from that; mm."""
    for facts in _facts(pieces, listed):
        for arc in facts.rounds:
            across = [axis for axis in AXES if axis != arc.axis]
            for axis, middle in zip(across, arc.middle, strict=True) if not (arc.whole or arc.corner) else ():
                for place in facts.places[axis]:
                    if place and middle and abs(abs(place - middle) - arc.radius) < CHORDS:
                        yield _chain(*sorted((abs(middle), arc.radius, abs(place))))


def _facts(pieces: Mapping[str, Piece], listed: Collection[str]) -> Iterator[Measured]:
    return (measured(pieces[names[0]].solid) for names in alike({name: pieces[name] for name in listed}))


def _chain(*lengths: float) -> Chain:
    *parts, total = map(_exact, lengths)
    return Chain("", tuple(parts), total)


def _exact(mm: float) -> Fraction:
    return Fraction(round(mm * 10**_PLACES), 10**_PLACES)
