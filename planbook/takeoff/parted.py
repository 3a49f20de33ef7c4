"""Fits between parts that one saw parted along the middle of a line: the cut is the play they have."""

from collections.abc import Iterator, Mapping
from itertools import product

from planbook.model import Fit
from planbook.workshop import Event, Timeline

AMID = ("kerf side", "centre")
"""The setting of a cut that takes as much of both parts beside its line."""
Ways = Mapping[int, str]
"""By the number of each such cut, which part of it a piece comes from."""


def parted(timeline: Timeline) -> frozenset[str]:
    """The names of the fits all of whose pieces were sawn off one another so, and not made to fit by themselves."""
    ways = _ways(timeline.events)
    return frozenset(name for name, fit in timeline.design.fits.items() if _is_parted(fit, ways))


def _is_parted(fit: Fit, ways: Mapping[str, Ways]) -> bool:
    if "between" in fit.fields:
        first, second = _names(fit, "between")
        pairs = [(first, second)]
    elif "piece" in fit.fields and "past" in fit.fields:
        pairs = list(product(_names(fit, "piece"), _names(fit, "past")))
    else:
        return False
    return all(_apart(ways.get(one, {}), ways.get(two, {})) for one, two in pairs)


def _apart(one: Ways, two: Ways) -> bool:
    return any(two.get(cut, part) != part for cut, part in one.items())


def _names(fit: Fit, field: str) -> Iterator[str]:
    value = fit.fields[field].value
    for node in value if isinstance(value, tuple) else (fit.fields[field],):
        yield str(node.value)


def _ways(events: tuple[Event, ...]) -> dict[str, Ways]:
    """Which parts of which cuts each piece comes from; what is glued of several pieces comes from none."""
    found: dict[str, Ways] = {}
    for number, event in enumerate(events):
        amid = AMID in event.settings
        before = {piece.name: found.get(piece.name, {}) for piece in event.taken}
        only = next(iter(before.values())) if len(before) == 1 else {}
        for piece in event.made:
            found[piece.name] = {**before.get(piece.name, only), **({number: piece.name} if amid else {})}
    return found
