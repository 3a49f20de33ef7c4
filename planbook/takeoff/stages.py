"""What operations make of a piece, as sums: slices with their kerfs, stacks that are glued, what is taken off."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from planbook.takeoff.measure import exact
from planbook.takeoff.settings import settings_of
from planbook.units import Chain, Quantity
from planbook.workshop import Event, Piece, Timeline

NEAR = Fraction(1, 100)
"""Lengths that differ by less than this, mm, are one, and boards meet."""

_Beside = dict[tuple[str, int], tuple[Fraction, ...]]
"""What was sawn off before, in the same step, of what a piece was along an axis: boards and kerfs, mm."""


def stages_of(timeline: Timeline) -> tuple[Chain, ...]:
    """The sums that a reader finds in what steps set and make: what was there is what is there, the kerfs and the dust.

    Of what is sawn several times in one step the whole is a sum of all parts too: what lay between is told nowhere.
    """
    found: dict[Chain, None] = {}
    step, beside = -1, _Beside()
    for event in (event for event in timeline.events if not event.broken):
        if event.at.step != step:
            step, beside = event.at.step, {}
        for axis in range(3):
            for chain in (*_glued(event, axis), *_taken_off(event, axis), *_sawn(event, axis, beside)):
                found.setdefault(chain)
    return tuple(found)


def _glued(event: Event, axis: int) -> Iterator[Chain]:
    if len(event.made) == 1 and len(event.taken) > 1:
        parts, total = [_long(piece, axis) for piece in event.taken], _long(event.made[0], axis)
        if abs(sum(parts) - total) < NEAR:
            yield Chain("", tuple(parts), total)


def _taken_off(event: Event, axis: int) -> Iterator[Chain]:
    """What a step says that it takes off, on one side or on both; what is worked down to a line it does not say."""
    before = {piece.name: _long(piece, axis) for piece in event.taken}
    for piece in event.made:
        left = _long(piece, axis)
        off = before.get(piece.name, left) - left
        if off > NEAR and any(abs(off - sides * told) < NEAR for told in _told(event) for sides in (1, 2)):
            yield Chain("", (left, off), before[piece.name])


def _sawn(event: Event, axis: int, beside: _Beside) -> Iterator[Chain]:
    for whole in event.taken:
        made = [piece for piece in event.made if piece.name != whole.name and whole.name in piece.sources]
        kerfs = _kerfs(sorted(made, key=lambda piece: piece.solid.bounds[0][axis]), axis)
        total = _long(whole, axis)
        parts = (*(_long(piece, axis) for piece in made), *kerfs)
        if len(made) < 2 or abs(sum(parts) - total) > NEAR or not {*kerfs} <= {*map(_rounded, _told(event))}:
            continue
        yield Chain("", parts, total)
        more = beside.get((whole.name, axis), ())
        if more:
            yield Chain("", (*more, *parts), sum(more) + total)
        for n, piece in enumerate(made):
            beside[piece.name, axis] = (*more, *parts[:n], *parts[n + 1 :])


def _kerfs(pieces: Sequence[Piece], axis: int) -> tuple[Fraction, ...]:
    """The gaps between pieces that lie one after the other, mm; less than nothing where they do not."""
    gaps = (b.solid.bounds[0][axis] - a.solid.bounds[1][axis] for a, b in pairwise(pieces))
    return tuple(_rounded(exact(gap)) for gap in gaps)


def _told(event: Event) -> Iterator[Fraction]:
    for setting in settings_of(event.settings):
        if isinstance(setting.value, Quantity) and setting.value.is_length:
            yield setting.value.value


def _long(piece: Piece, axis: int) -> Fraction:
    low, high = piece.solid.bounds
    return _rounded(exact(high[axis] - low[axis]))


def _rounded(mm: Fraction) -> Fraction:
    """A length without what solids are moved by so that their faces do not coincide."""
    return Fraction(round(mm * 10_000), 10_000)
