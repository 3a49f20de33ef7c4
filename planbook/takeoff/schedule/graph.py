"""Tasks and what each must wait for; times are whole minutes, or any other whole unit."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Link:
    """A task starts no sooner than `lag` after the work of task number `before` (from 0) has ended."""

    before: int
    lag: int = 0


@dataclass(frozen=True, slots=True)
class Task:
    """Work for one pair of hands. Links lead to earlier tasks only; `tail` is what it must still rest at the end."""

    work: int
    after: tuple[Link, ...] = ()
    tail: int = 0


def followers(tasks: Sequence[Task]) -> tuple[tuple[Link, ...], ...]:
    """For every task the tasks that wait for it, each as a link with the number of the later one.

    Raises ValueError where a link does not lead to an earlier task.
    """
    found: list[list[Link]] = [[] for _ in tasks]
    for number, task in enumerate(tasks):
        for link in task.after:
            if not 0 <= link.before < number:
                raise ValueError(f"task {number} waits for task {link.before}, which is not before it")
            found[link.before].append(Link(number, link.lag))
    return tuple(map(tuple, found))


def depends(tasks: Sequence[Task], first: int) -> frozenset[int]:
    """Every task that cannot start before task `first` is done, and that task itself."""
    found = {first}
    for number in range(first + 1, len(tasks)):
        if any(link.before in found for link in tasks[number].after):
            found.add(number)
    return frozenset(found)


def needs(tasks: Sequence[Task], wanted: Iterable[int]) -> frozenset[int]:
    """Every task that must be done before some tasks can be, and those tasks themselves."""
    found = set(wanted)
    for number in reversed(range(len(tasks))):
        if number in found:
            found.update(link.before for link in tasks[number].after)
    return frozenset(found)
