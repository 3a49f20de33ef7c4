"""The critical path: how long it takes with as many hands as you like, and what may be late without harm."""

from collections.abc import Sequence
from dataclasses import dataclass

from planbook.takeoff.schedule.graph import Link, Task, followers


@dataclass(frozen=True, slots=True)
class Moment:
    """The earliest and the latest start of a task that do not make the whole take longer."""

    earliest: int
    latest: int

    @property
    def slack(self) -> int:
        """How late the task may start without harm."""
        return self.latest - self.earliest


@dataclass(frozen=True, slots=True)
class Critical:
    """`length` of the longest chain of work and waits; `path` is one such chain, `paths` says how many there are.

    `tails` is for every task the longest chain from its start to the end.
    """

    length: int
    moments: tuple[Moment, ...]
    path: tuple[int, ...]
    paths: int
    tails: tuple[int, ...]

    @property
    def tasks(self) -> frozenset[int]:
        """The tasks of all critical paths."""
        return frozenset(number for number, moment in enumerate(self.moments) if moment.slack == 0)


def critical(tasks: Sequence[Task]) -> Critical:
    """The critical path method on tasks with lags (Kelley and Walker, 1959): one pass forwards, one backwards."""
    later = followers(tasks)
    earliest = _earliest(tasks)
    tails = _tails(tasks, later)
    length = max((start + tail for start, tail in zip(earliest, tails, strict=True)), default=0)
    moments = tuple(Moment(start, length - tail) for start, tail in zip(earliest, tails, strict=True))
    starts = [i for i, task in enumerate(tasks) if moments[i].slack == 0 and not _held(task, tasks, earliest, i)]
    ways = _ways(tasks, later, moments)
    return Critical(length, moments, _path(starts, tasks, later, moments), sum(ways[i] for i in starts), tails)


def _earliest(tasks: Sequence[Task]) -> list[int]:
    starts: list[int] = []
    for task in tasks:
        starts.append(max((starts[k.before] + tasks[k.before].work + k.lag for k in task.after), default=0))
    return starts


def _tails(tasks: Sequence[Task], later: Sequence[Sequence[Link]]) -> tuple[int, ...]:
    tails = [0] * len(tasks)
    for number in reversed(range(len(tasks))):
        after = max((link.lag + tails[link.before] for link in later[number]), default=0)
        tails[number] = tasks[number].work + max(after, tasks[number].tail)
    return tuple(tails)


def _held(task: Task, tasks: Sequence[Task], earliest: Sequence[int], number: int) -> bool:
    """Whether another task decides when this one can start."""
    return any(earliest[k.before] + tasks[k.before].work + k.lag == earliest[number] for k in task.after)


def _next(
    number: int, tasks: Sequence[Task], later: Sequence[Sequence[Link]], moments: Sequence[Moment]
) -> tuple[int, ...]:
    """The critical tasks that start the moment this one, and the wait after it, are over."""
    end = moments[number].earliest + tasks[number].work
    tight = (
        k.before for k in later[number] if moments[k.before].slack == 0 == moments[k.before].earliest - end - k.lag
    )
    return tuple(dict.fromkeys(tight))


def _ways(tasks: Sequence[Task], later: Sequence[Sequence[Link]], moments: Sequence[Moment]) -> list[int]:
    """How many critical paths go on from each task to an end."""
    ways = [0] * len(tasks)
    length = max(
        (moment.earliest + tail for moment, tail in zip(moments, _tails(tasks, later), strict=True)), default=0
    )
    for number, task in enumerate(reversed(tasks), start=1):
        at = len(tasks) - number
        ends = moments[at].earliest + task.work + task.tail == length
        ways[at] = int(ends) + sum(ways[k] for k in _next(at, tasks, later, moments))
    return ways


def _path(
    starts: Sequence[int], tasks: Sequence[Task], later: Sequence[Sequence[Link]], moments: Sequence[Moment]
) -> tuple[int, ...]:
    path: list[int] = []
    onward: Sequence[int] = starts
    while onward:
        path.append(min(onward))
        onward = _next(path[-1], tasks, later, moments)
    return tuple(path)
