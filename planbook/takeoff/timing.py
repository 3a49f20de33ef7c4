"""How long the steps take: work, waiting, and the days it takes with so much work each day."""

from planbook.model import Step
from planbook.takeoff.records import StepTime, Time
from planbook.takeoff.schedule.calendar import Calendar
from planbook.takeoff.schedule.plan import WORK_A_DAY
from planbook.takeoff.schedule.read import minutes
from planbook.workshop import Timeline


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

    Work starts at the same hour each day, one operation after the other as they are printed.
    """
    calendar, clock = Calendar(minutes(work_a_day)), 0
    for event in timeline.events:
        clock = calendar.place(clock, minutes(event.hands_on))[1] + minutes(event.wait)
    return calendar.day_of(clock + minutes(drying))
