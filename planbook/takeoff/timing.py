"""How long the steps take: work, waiting, and the days it takes with so much work each day."""

import math

from planbook.model import Step
from planbook.takeoff.records import StepTime, Time
from planbook.workshop import Timeline

WORK_A_DAY = 180.0
"""An evening or a morning in the workshop (an assumption, to be stated beside the number of days)."""
DAY_MINUTES = 1440.0


def time(timeline: Timeline, work_a_day: float = WORK_A_DAY) -> Time:
    """The times of all steps in minutes; `days` assumes `work_a_day` minutes of work a day, waits run on.

    Steps follow one another as in the build: what is waited for is not used for other work. The total of
    hands-on time counts work only; `ready` adds the drying after the last step.
    """
    steps: list[StepTime] = []
    for step in timeline.design.steps:
        steps.append(_step(timeline, step, steps[-1] if steps else None))
    elapsed = max((e.start + e.hands_on + e.wait for e in timeline.events), default=0.0)
    ready = max((elapsed, *(piece.wet for piece in timeline.object)))
    return Time(
        steps=tuple(steps),
        hands_on=sum(step.hands_on for step in steps),
        wait=sum(step.wait for step in steps),
        elapsed=elapsed,
        ready=ready,
        work_a_day=work_a_day,
        days=days(timeline, work_a_day, ready - elapsed),
    )


def _step(timeline: Timeline, step: Step, before: StepTime | None) -> StepTime:
    events = timeline.of_step(step)
    following = before.start + before.hands_on + before.wait if before else 0.0
    return StepTime(
        step=step.number,
        title=step.title,
        hands_on=sum(event.hands_on for event in events),
        wait=sum(event.wait for event in events),
        start=events[0].start if events else following,
    )


def days(timeline: Timeline, work_a_day: float, drying: float) -> int:
    """The number of the day on which the work is ready, the first being 1; 0 where nothing is done.

    Work starts at the same hour each day; a task that does not fit into a day goes on in the next one.
    """
    clock = 0.0
    for event in timeline.events:
        clock = _worked(clock, event.hands_on, work_a_day) + event.wait
    if clock + drying <= 0:
        return 0
    return max(1, math.ceil((clock + drying) / DAY_MINUTES))


def _worked(clock: float, minutes: float, work_a_day: float) -> float:
    """The time when some work is done that is begun at `clock`, where days of work start at each whole day."""
    if minutes <= 0:
        return clock
    day, within = divmod(clock, DAY_MINUTES)
    if within >= work_a_day:
        day, within = day + 1, 0.0
    whole, rest = divmod(within + minutes, work_a_day)
    if rest == 0:
        whole, rest = whole - 1, work_a_day
    return (day + whole) * DAY_MINUTES + rest
