"""The schedule as it is printed: a picture of the days, day by day, and what can be done while something rests."""

from collections.abc import Iterable, Iterator, Sequence

from planbook.booklet.basics import Fact, Link
from planbook.booklet.names import step_anchor
from planbook.booklet.records import DayRow, TimePage
from planbook.drawing.day_bars import DayBars, RestBar, WorkBar
from planbook.speech import called, say, say_many
from planbook.takeoff import Lists, Schedule
from planbook.takeoff.schedule import Day, Stint, Wait, Waits
from planbook.takeoff.schedule.calendar import DAY
from planbook.units import show_minutes

SHORT = 5
"""Minutes of drying at the end that are not worth a word, and the least that work of a day is told as."""
FEW = 4
"""No more pieces than this are named beside a part of a step."""
_RESTS: dict[Waits, str] = {"cure": "glue", "dry": "finish", "rest": "work"}


def rounded(minutes: int) -> str:
    """An estimate without false exactness: to 5 minutes up to two hours, to an hour from a day on."""
    return show_minutes(_nearest(minutes))


def _nearest(minutes: int) -> int:
    step = 1 if minutes < 10 else 5 if minutes <= 120 else 15 if minutes < 600 else 30 if minutes < DAY else 60
    return int(minutes / step + 0.5) * step


def _of_day(day: Day) -> int:
    """The work of a day as it is told, in whole steps of 5 minutes, of which the total is added up."""
    return max(SHORT, _nearest(day.work) if day.work >= 2 * SHORT else 0)


def hours(minutes: int) -> str:
    """An estimate in hours, not in days of 24 of them: "9 h 15 min", "31 h"."""
    if minutes < DAY:
        return rounded(minutes)
    return f"{int(minutes / 60 + 0.5)} h"


def worked(found: Schedule) -> str:
    """The work of all days together, as much as a reader adds up from what is told of each: "9 h 5 min", "31 h"."""
    whole, left = divmod(sum(_of_day(day) for day in found.days if day.work), 60)
    parts = ((whole, f"{whole} h"), (left, f"{left} min"))
    return " ".join(part for many, part in parts if many) or rounded(found.work)


def days_taken(lists: Lists) -> str:
    """How long it takes from start to end: "11 days, then 8 h to dry"."""
    found = lists.schedule
    if found is None or not found.days:
        return _days(lists.time.days)
    days = _days(len(found.days))
    return f"{days}, {_drying(found)}" if found.drying >= SHORT else days


def _days(count: int) -> str:
    return say_many("one day", "{count} days", count)


def _drying(found: Schedule) -> str:
    return say("then {time} to dry", time=rounded(found.drying))


def day_bars(schedule: Schedule) -> tuple[DayBars, ...]:
    """The days for their picture; what rests after one step and overlaps is one bar."""
    return tuple(
        DayBars(
            say("Day {number}", number=day.number),
            show_minutes(_of_day(day)) if day.work else "",
            tuple(_work(stint, day.number) for stint in day.stints),
            tuple(_rest(wait, day.number) for wait in _together(schedule.waits) if _seen(wait, day, schedule)),
        )
        for day in schedule.days
    )


def time_page(lists: Lists) -> TimePage | None:
    """The page on how long it takes; None where nothing is done or no schedule was made."""
    found = lists.schedule
    if found is None or not found.days:
        return None
    titles = {step.step: step.title for step in found.steps}
    return TimePage(
        facts=tuple(_facts(found)),
        days=tuple(_day_row(day, titles, found) for day in found.days),
        day=hours(found.work_a_day),
        waits=bool(found.waits),
    )


def meanwhile(lists: Lists) -> dict[int, tuple[Link, ...]]:
    """For each step the later steps that can be done while something of it rests."""
    steps = lists.schedule.steps if lists.schedule else ()
    return {step.step: tuple(Link(str(n), step_anchor(n)) for n in step.meanwhile) for step in steps if step.meanwhile}


def undone(lists: Lists) -> dict[int, tuple[Link, ...]]:
    """For each step the earlier ones that the days leave to be done while something of it rests."""
    steps = lists.schedule.steps if lists.schedule else ()
    return {step.step: tuple(Link(str(n), step_anchor(n)) for n in step.undone) for step in steps if step.undone}


def _facts(found: Schedule) -> Iterator[Fact]:
    days = len(found.days)
    fewer = say("no plan takes fewer than {count}", count=found.least_days)
    least = say("the fewest possible") if found.is_least else fewer
    drying = f"; {_drying(found)}" if found.drying >= SHORT else ""
    yield Fact(say("Hands-on work"), say("about {time}", time=worked(found)))
    yield Fact(say("Days of work"), f"{days}, {least}{drying}" if days > 1 else f"1{drying}")
    if found.days_in_order > days:
        yield Fact(say("Days without using the waits"), str(found.days_in_order))
    if found.longest > found.work:
        yield Fact(say("Longest chain of work and waits"), rounded(found.longest))


def _day_row(day: Day, titles: dict[int, str], schedule: Schedule) -> DayRow:
    resting = [] if day.stints else [*_resting([wait for wait in schedule.waits if _seen(wait, day, schedule)])]
    return DayRow(
        str(day.number),
        tuple((Link(str(s.step), step_anchor(s.step)), titles[s.step] + _part(s)) for s in day.stints),
        show_minutes(_of_day(day)) if day.work else "–",
        "; ".join(_resting(day.overnight)),
        say("Nothing to do; let it rest: {what}", what="; ".join(resting)) if resting else "",
    )


def _part(stint: Stint) -> str:
    """Which part of a step is done, and up to where or on which pieces if that can be told."""
    if stint.parts == 1:
        return ""
    part = say(", begin") if stint.part == 1 else say(", finish") if stint.part == stint.parts else say(", go on")
    if 0 < len(stint.pieces) <= FEW:
        what = ", ".join(map(called, stint.pieces))
    elif stint.rests:
        what = say("up to the next wait") if stint.rested else say("up to the wait")
    elif stint.rested:
        what = say("after the wait")
    else:
        what = ", ".join(map(called, stint.tools))
    return f"{part} ({what})" if what else part


def _resting(waits: Sequence[Wait]) -> Iterator[str]:
    """What rests of which steps, as words."""
    for kind, what in _RESTS.items():
        steps = sorted({wait.step for wait in waits if wait.kind == kind})
        if steps:
            numbers = say(" and ").join(map(str, steps))
            yield say_many(
                "{what} of step {steps}", "{what} of steps {steps}", len(steps), what=say(what), steps=numbers
            )


def _together(waits: Iterable[Wait]) -> tuple[Wait, ...]:
    """Waits of one step that overlap, as one."""
    found: list[Wait] = []
    for wait in sorted(waits, key=lambda w: (w.step, w.start)):
        last = found[-1] if found else None
        if last and last.step == wait.step and wait.start <= last.end and wait.kind == last.kind:
            end, marked = max(last.end, wait.end), last.critical or wait.critical
            found[-1] = Wait(last.step, last.kind, last.start, end, (*last.pieces, *wait.pieces), marked)
        else:
            found.append(wait)
    return tuple(found)


def _work(stint: Stint, day: int) -> WorkBar:
    zero = (day - 1) * DAY
    return WorkBar(stint.step, stint.start - zero, stint.end - zero, stint.critical)


def _rest(wait: Wait, day: int) -> RestBar:
    zero = (day - 1) * DAY
    return RestBar(wait.step, wait.start - zero, wait.end - zero, wait.critical)


def _seen(wait: Wait, day: Day, schedule: Schedule) -> bool:
    """Whether some of a wait falls into the working hours of a day, or begins with their end."""
    zero = (day.number - 1) * DAY
    return wait.start <= zero + schedule.work_a_day and wait.end > zero
