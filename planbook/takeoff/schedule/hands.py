"""The work laid out for one pair of hands, which use the time that something dries for other work."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from planbook.takeoff.schedule.calendar import Calendar
from planbook.takeoff.schedule.critical import critical
from planbook.takeoff.schedule.graph import Task

Rank = Callable[[int, int], tuple[int, ...]]
"""The rank of a task, given the group that is in hand: of what can be begun at the same time, the least comes first."""


@dataclass(frozen=True, slots=True)
class Placed:
    """When the work on task number `task` starts and ends."""

    task: int
    start: int
    end: int


def in_order(tasks: Sequence[Task], calendar: Calendar) -> tuple[Placed, ...]:
    """One task after the other as they are numbered: no wait is used for anything else."""
    placed: list[Placed] = []
    waited = 0
    for number, task in enumerate(tasks):
        held = [placed[k.before].end + k.lag for k in task.after]
        start, end = calendar.place(max((waited, *held)), task.work)
        waited = end
        placed.append(Placed(number, start, end))
    return tuple(placed)


def arranged(tasks: Sequence[Task], groups: Sequence[int], calendar: Calendar) -> tuple[Placed, ...]:
    """The tasks in the order in which they are done; hands are never idle while something could be begun.

    `groups` are the steps that the tasks belong to. Three rules are tried: of what can be begun at the same
    time, the first as numbered; what goes on with the step in hand, then what has the longest chain of work
    and waits after it; the longest chain alone (list scheduling; Graham, 1969). Each is tried as it is and with
    steps left for the next day whose work does not fit into what is left of this one. Of those that take the fewest
    days, the one is taken that breaks off the fewest steps.
    """
    tails = critical(tasks).tails

    def longest(number: int, group: int) -> tuple[int, ...]:
        return (-tails[number], number)

    def stays(number: int, group: int) -> tuple[int, ...]:
        return (groups[number] != group, -tails[number], number)

    rules: tuple[Rank, ...] = (lambda number, group: (number,), stays, longest)
    tried = [_listed(tasks, groups, calendar, rank, whole) for rank in rules for whole in (False, True)]
    return min(tried, key=lambda placed: (days_of(placed, calendar), _turns(placed, groups, calendar)))


def _turns(placed: Sequence[Placed], groups: Sequence[int], calendar: Calendar) -> int:
    """How often the work turns to another step, or to the same one on another day."""
    worked = [(groups[each.task], calendar.day_of(each.end)) for each in placed if each.end > each.start]
    return sum(one != other for one, other in pairwise(worked))


def days_of(placed: Sequence[Placed], calendar: Calendar) -> int:
    """The number of the day on which the last work is done."""
    return max((calendar.day_of(each.end) for each in placed), default=0)


def ready_at(tasks: Sequence[Task], placed: Sequence[Placed]) -> int:
    """When the last work is done and everything has dried."""
    return max((each.end + tasks[each.task].tail for each in placed), default=0)


def _in_one_go(tasks: Sequence[Task], groups: Sequence[int], ends: Mapping[int, int], first: int) -> int:
    """The work of a task and of those of its group that can be done in one go with it, without a wait."""
    going = {first}
    for number in (k for k, group in enumerate(groups) if group == groups[first] and k not in ends):
        if all(k.before in ends or (k.before in going and not k.lag) for k in tasks[number].after):
            going.add(number)
    return sum(tasks[number].work for number in going)


def _listed(
    tasks: Sequence[Task], groups: Sequence[int], calendar: Calendar, rank: Rank, whole: bool
) -> tuple[Placed, ...]:
    """List scheduling: of what can be begun first, what ranks first.

    If `whole`, a step is not begun on a day whose end would part it, where it fits into one.
    """
    ends: dict[int, int] = {}
    order: list[Placed] = []
    free, group = 0, 0
    while len(ends) < len(tasks):
        able = []
        for number, task in enumerate(tasks):
            if number in ends or any(k.before not in ends for k in task.after):
                continue
            ready = max((ends[k.before] + k.lag for k in task.after), default=0)
            start, end = calendar.place(max(ready, free) if task.work else ready, task.work)
            if whole and task.work and groups[number] != group:
                go = _in_one_go(tasks, groups, ends, number)
                start = calendar.place(start, go)[0] if go <= calendar.work_a_day else start
                end = max(end, start + task.work) if task.work <= calendar.work_a_day else end
            able.append((start, rank(number, group), number, end))
        start, _, number, end = min(able)
        order.append(Placed(number, start, end))
        ends[number] = end
        if tasks[number].work:
            free, group = max(free, end), groups[number]
    return tuple(order)
