"""Frozen records of when to do what; times are whole minutes from the start of the first day's work."""

from dataclasses import dataclass
from typing import Literal

Waits = Literal["cure", "dry", "rest"]
"""What a wait is for: glue that cures, a finish that dries, anything else that must be left alone."""


@dataclass(frozen=True, slots=True)
class Stint:
    """A run of work on one step. `part` of `parts` counts the runs of a step whose work is not done in one go.

    `critical` is true where a delay of this work delays the end, if there were hands enough for everything. `pieces`
    are what it works on, where no other run of the step does, and `tools` what with; `rested` is true where it
    had to wait for what an earlier run of the step did, `rests` where a later one has to wait for what it does.
    """

    step: int
    start: int
    end: int
    part: int
    parts: int
    critical: bool
    pieces: tuple[str, ...] = ()
    rested: bool = False
    rests: bool = False
    tools: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Wait:
    """What must rest after work on a step, until when; hands are free. `pieces` are what rests.

    Where clamps press it, they stay on for the first `clamped` minutes.
    """

    step: int
    kind: Waits
    start: int
    end: int
    pieces: tuple[str, ...]
    critical: bool
    clamped: int = 0


@dataclass(frozen=True, slots=True)
class Day:
    """One day, counted from 1: its runs of work in order, and what still rests when its work is over."""

    number: int
    stints: tuple[Stint, ...]
    overnight: tuple[Wait, ...]

    @property
    def work(self) -> int:
        """Minutes of work on this day."""
        return sum(stint.end - stint.start for stint in self.stints)


@dataclass(frozen=True, slots=True)
class StepPlan:
    """A step in the graph of the work: its own work, and how late it may start without harm.

    `meanwhile` are later steps that the plan does while something of this step rests, `undone` those that it does then
    although they come before this one by their numbers.
    """

    step: int
    title: str
    work: int
    slack: int
    critical: bool
    meanwhile: tuple[int, ...]
    undone: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Schedule:
    """When to do what, for one or `count` of them made together, with `work_a_day` minutes of work each day.

    `work` is the hands-on total, `longest` the length of the longest chain of work and waits, `path` its steps.
    `days` is the day of the last work, `ready` when all of it is dry; `days_in_order` is the day of the last
    work where no wait is used. No plan takes fewer than `least_days` days.
    """

    count: int
    work_a_day: int
    work: int
    longest: int
    path: tuple[int, ...]
    steps: tuple[StepPlan, ...]
    days: tuple[Day, ...]
    waits: tuple[Wait, ...]
    ready: int
    days_in_order: int
    least_days: int

    @property
    def drying(self) -> int:
        """Minutes from the last work until all of it is dry."""
        ends = [stint.end for day in self.days for stint in day.stints]
        return max(0, self.ready - max(ends, default=0))

    @property
    def is_least(self) -> bool:
        """Whether it is certain that no order of the work takes fewer days."""
        return len(self.days) <= self.least_days
