"""The fewest days that any order of the work could take with one pair of hands; a bound, not a plan."""

from collections.abc import Sequence
from itertools import pairwise

from planbook.takeoff.schedule.calendar import DAY, Calendar
from planbook.takeoff.schedule.graph import Link, Task, followers

Job = tuple[int, int, int]
"""Work that can start at a moment, how much of it there is, and when it must have ended."""


def least_days(tasks: Sequence[Task], calendar: Calendar, most: int) -> int:
    """A number of days, at most `most`, below which no schedule can be.

    A number is ruled out where a chain of work and waits does not fit into it, or where the work with its
    earliest starts and latest ends does not, even if it might be broken off at any time (that relaxation is
    solved exactly by always doing what is due first: Jackson, 1955; Horn, 1974).
    """
    later = followers(tasks)
    heads = _heads(tasks, calendar)
    least = most
    while least > 1 and _possible(tasks, later, heads, calendar, least - 1):
        least -= 1
    return least


def _possible(
    tasks: Sequence[Task], later: Sequence[Sequence[Link]], heads: Sequence[int], calendar: Calendar, days: int
) -> bool:
    """False where it is certain that the work is not done in so many days."""
    dues = _dues(tasks, later, calendar, (days - 1) * DAY + calendar.work_a_day)
    jobs = [(head, task.work, due) for task, head, due in zip(tasks, heads, dues, strict=True)]
    return all(calendar.place(head, work)[1] <= due for head, work, due in jobs) and _in_time(jobs, calendar)


def _heads(tasks: Sequence[Task], calendar: Calendar) -> list[int]:
    """The earliest start of every task in working hours, with a pair of hands for each."""
    ends: list[int] = []
    starts: list[int] = []
    for task in tasks:
        ready = max((ends[k.before] + k.lag for k in task.after), default=0)
        start, end = calendar.place(ready, task.work)
        starts.append(start)
        ends.append(end)
    return starts


def _dues(tasks: Sequence[Task], later: Sequence[Sequence[Link]], calendar: Calendar, end: int) -> list[int]:
    """The latest end of every task in working hours, with a pair of hands for each."""
    starts = [0] * len(tasks)
    dues = [end] * len(tasks)
    for number in reversed(range(len(tasks))):
        dues[number] = min((starts[k.before] - k.lag for k in later[number]), default=end)
        starts[number] = calendar.place_back(dues[number], tasks[number].work)
    return dues


def _in_time(jobs: Sequence[Job], calendar: Calendar) -> bool:
    """Whether jobs that may be broken off are done in time if the one due first is always worked on."""
    waiting = sorted((head, due, work) for head, work, due in jobs if work > 0)
    moments = sorted({head for head, _, _ in waiting} | {max((due for _, due, _ in waiting), default=0)})
    begun: list[list[int]] = []
    for now, until in pairwise(moments):
        begun += [[due, work] for head, due, work in waiting if head == now]
        if not _worked_off(begun, now, until, calendar):
            return False
    return not begun


def _worked_off(begun: list[list[int]], now: int, until: int, calendar: Calendar) -> bool:
    """Work on `begun` from `now` to `until`, the one due first first; False where one is late."""
    begun.sort()
    while begun and now < until:
        day, within = divmod(now, DAY)
        if within >= calendar.work_a_day:
            now = (day + 1) * DAY
            continue
        due, left = begun[0]
        spent = min(left, until - now, calendar.work_a_day - within)
        now += spent
        if spent < left:
            begun[0][1] = left - spent
            continue
        begun.pop(0)
        if now > due:
            return False
    return all(due > until for due, _ in begun)
