"""The rows of a step in the order of its work: what is set, the coats of a finish, the wait, and what follows it."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from planbook.booklet.basics import Fact
from planbook.booklet.rows import capital
from planbook.speech import say, told
from planbook.takeoff import CutRow, clamped_minutes
from planbook.units import show_minutes
from planbook.workshop import Event

WAITS = 1.0
"""A shorter wait (minutes) is none."""


@dataclass(frozen=True, slots=True)
class Course:
    """The settings up to the last wait, how long that is ("" where there is none), and what is set after it."""

    settings: tuple[Fact, ...]
    wait: str = ""
    later: tuple[Fact, ...] = ()


@dataclass(slots=True)
class _Stretch:
    """What is done up to a wait."""

    events: list[Event] = field(default_factory=list)
    cuts: list[CutRow] = field(default_factory=list)
    coatings: list[Event] = field(default_factory=list)
    wait: float = 0.0


def course(
    events: Sequence[Event], cuts: Iterable[CutRow], wait: float, rows: Callable[[Sequence[CutRow]], tuple[Fact, ...]]
) -> Course:
    """The rows of a step whose waits come to `wait` minutes; `rows` makes those of the cuts of one stretch."""
    stretches = _stretches(events, tuple(cuts))
    stretches[-1].wait += wait - sum(stretch.wait for stretch in stretches)
    told = [((*rows(stretch.cuts), *_coats(stretch)), _wait(stretch)) for stretch in stretches]
    later = told.pop()[0] if len(told) > 1 and not told[-1][1] else ()
    *before, (settings, last) = told
    early = (fact for facts, waited in before for fact in (*facts, Fact(say("Then wait"), waited)))
    return Course((*early, *settings), last, later)


def _stretches(events: Sequence[Event], cuts: tuple[CutRow, ...]) -> list[_Stretch]:
    """The work of a step, parted where something is set or coated after a wait; at least one."""
    by_number: dict[int, list[CutRow]] = {}
    for cut in cuts:
        by_number.setdefault(cut.number, []).append(cut)
    found = [_Stretch()]
    for event in events:
        set_here, coated = by_number.pop(event.at.number, []), COATS in dict(event.settings)
        if (set_here or coated) and found[-1].wait >= WAITS:
            found.append(_Stretch())
        found[-1].events.append(event)
        found[-1].cuts += set_here
        found[-1].coatings += [event] if coated else []
        found[-1].wait += event.wait
    found[-1].cuts += [cut for left in by_number.values() for cut in left]
    return found


COATS, BETWEEN, BARE = "coats", "between coats", "bare"
"""What a finish records: how many coats, the minutes between them, and what stays bare, in the maker's words."""


def _coats(stretch: _Stretch) -> Iterator[Fact]:
    """How many coats, and what stays bare; the time between coats where the wait does not tell it."""
    facts = [dict(event.settings) for event in stretch.coatings]
    if facts:
        yield Fact(capital(say(COATS)), ", ".join(dict.fromkeys(str(each[COATS]) for each in facts)))
    between = dict.fromkeys(each[BETWEEN] for each in facts if each[COATS] > 1 and each.get(BETWEEN, 0.0) >= WAITS)
    if between and not _by_coat(stretch):
        yield Fact(capital(say(BETWEEN)), ", ".join(show_minutes(round(minutes)) for minutes in between))
    bare = dict.fromkeys(told(each[BARE]) for each in facts if each.get(BARE))
    if bare:
        yield Fact(say("Leave bare"), "; ".join(bare))


def _wait(stretch: _Stretch) -> str:
    """How long is waited after the work, and after the last coat: what is between the coats is told beside them."""
    facts = [dict(event.settings) for event in stretch.coatings]
    last = stretch.wait - sum((each[COATS] - 1) * each.get(BETWEEN, 0.0) for each in facts)
    return _by_coat(stretch) or _clamped(stretch) or (show_minutes(round(last)) if last >= WAITS else "")


def _clamped(stretch: _Stretch) -> str:
    """A wait with when the clamps may come off, which is sooner than the joint may be worked; else nothing."""
    on = max((clamped_minutes(event) for event in stretch.events), default=0.0)
    if min(on, stretch.wait - on) < WAITS:
        return ""
    times = {"time": show_minutes(round(stretch.wait)), "clamped": show_minutes(round(on))}
    return say("{time}; clamps off after {clamped}", **times)


def _by_coat(stretch: _Stretch) -> str:
    """The wait of one finish coat by coat, where it is only for its coats; else nothing."""
    facts = [dict(event.settings) for event in stretch.coatings]
    if len(facts) != 1 or facts[0][COATS] < 2 or facts[0].get(BETWEEN, 0.0) < WAITS:
        return ""
    between = facts[0][BETWEEN]
    waits, time = round(stretch.wait / between, 3), show_minutes(round(between))
    if waits == facts[0][COATS]:
        return say("{time} after each coat", time=time)
    return say("{time} between coats", time=time) if waits == facts[0][COATS] - 1 else ""
