"""The schedule of a build, put together: graph, critical path, days, and what can be done while something rests."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from planbook.takeoff.pressed import clamped_minutes
from planbook.takeoff.schedule.calendar import DAY, Calendar
from planbook.takeoff.schedule.critical import Critical, critical
from planbook.takeoff.schedule.graph import Task, depends, followers, needs
from planbook.takeoff.schedule.hands import Placed, arranged, days_of, in_order, ready_at
from planbook.takeoff.schedule.least import least_days
from planbook.takeoff.schedule.read import Job, jobs_of, minutes
from planbook.takeoff.schedule.records import Day, Schedule, StepPlan, Stint, Wait
from planbook.workshop import Timeline

WORK_A_DAY = 180
"""Minutes: an evening or a morning in the workshop (an assumption, to be stated beside the number of days)."""
SHORTEST_WAIT = 5
"""Shorter waits are not told, minutes."""
SOON = 30
"""What is over in so many minutes keeps nobody from a step that is named to be done meanwhile."""


def plan(timeline: Timeline, work_a_day: int = WORK_A_DAY, count: int = 1) -> Schedule:
    """When to do what, for `count` objects made together, with so many minutes of work each day.

    Raises ValueError where a day is not from 1 to 1440 minutes long or `count` is below 1.
    """
    if count < 1:
        raise ValueError(f"nothing is made where the count is {count}")
    calendar = Calendar(work_a_day)
    jobs = jobs_of(timeline, count)
    tasks = tuple(job.task for job in jobs)
    way, placed = critical(tasks), arranged(tasks, [job.step for job in jobs], calendar)
    total = days_of(placed, calendar)
    stints, waits = _stints(jobs, placed, way, timeline), _waits(jobs, placed, way)
    return Schedule(
        count=count,
        work_a_day=work_a_day,
        work=sum(task.work for task in tasks),
        longest=way.length,
        path=tuple(dict.fromkeys(jobs[k].step for k in way.path)),
        steps=tuple(_steps(timeline, jobs, placed, way)),
        days=_days(stints, waits, total, calendar),
        waits=waits,
        ready=ready_at(tasks, placed),
        days_in_order=days_of(in_order(tasks, calendar), calendar),
        least_days=least_days(tasks, calendar, total),
    )


def _stints(jobs: Sequence[Job], placed: Sequence[Placed], way: Critical, timeline: Timeline) -> tuple[Stint, ...]:
    """The runs of work, each on one step without a break; work without time leaves none."""
    runs: list[list[Placed]] = []
    for each in placed:
        if each.end == each.start:
            continue
        last = runs[-1][-1] if runs else None
        if last and last.end == each.start and jobs[last.task].step == jobs[each.task].step:
            runs[-1].append(each)
        else:
            runs.append([each])
    steps = [jobs[run[0].task].step for run in runs]
    return tuple(
        Stint(
            step,
            run[0].start,
            run[-1].end,
            steps[: number + 1].count(step),
            steps.count(step),
            any(each.task in way.tasks for each in run),
            _alone(run, [other for s, other in zip(steps, runs, strict=True) if s == step and other is not run], jobs),
            any(_waits_for(run, other, jobs) for s, other in zip(steps, runs, strict=True) if s == step),
            any(_waits_for(other, run, jobs) for s, other in zip(steps, runs, strict=True) if s == step),
            _tools(run, jobs, timeline),
        )
        for number, (step, run) in enumerate(zip(steps, runs, strict=True))
    )


def _alone(run: Sequence[Placed], others: Sequence[Sequence[Placed]], jobs: Sequence[Job]) -> tuple[str, ...]:
    """The pieces that a run of work takes up or makes anew, where none of the others of its step touches any of it."""
    mine = _touched(run, jobs)
    if any(mine & _touched(other, jobs) for other in others):
        return ()
    events = [jobs[each.task].event for each in run]
    return tuple(dict.fromkeys(piece.name for event in events for piece in event.taken or event.made))


def _tools(run: Sequence[Placed], jobs: Sequence[Job], timeline: Timeline) -> tuple[str, ...]:
    """The tools of the design that a run of work is done with, in order."""
    uses = (use for each in run for use in jobs[each.task].event.uses)
    return tuple(dict.fromkeys(use.name for use in uses if use.name in timeline.design.tools))


def _touched(run: Sequence[Placed], jobs: Sequence[Job]) -> set[str]:
    events = [jobs[each.task].event for each in run]
    return {piece.name for event in events for piece in (*event.taken, *event.made)}


def _waits_for(run: Sequence[Placed], before: Sequence[Placed], jobs: Sequence[Job]) -> bool:
    """Whether something of a run rests for what was done in another."""
    done = {each.task for each in before}
    links = (link for each in run for link in jobs[each.task].task.after)
    return run is not before and any(link.before in done and link.lag >= SHORTEST_WAIT for link in links)


def _waits(jobs: Sequence[Job], placed: Sequence[Placed], way: Critical) -> tuple[Wait, ...]:
    """What rests after each task until the work that it holds up, or until all of it is dry at the end."""
    tasks = [job.task for job in jobs]
    later = followers(tasks)
    found = []
    for each in placed:
        job = jobs[each.task]
        lags = [link.lag for link in later[each.task] if jobs[link.before].task.work]
        lag = max((*lags, job.task.tail))
        if lag >= SHORTEST_WAIT:
            names = tuple(dict.fromkeys(piece.name for piece in job.event.made))
            on = minutes(clamped_minutes(job.event))
            found.append(Wait(job.step, job.kind, each.end, each.end + lag, names, each.task in way.tasks, on))
    return tuple(found)


def _days(stints: Sequence[Stint], waits: Sequence[Wait], total: int, calendar: Calendar) -> tuple[Day, ...]:
    return tuple(
        Day(
            number + 1,
            tuple(piece for stint in stints for piece in _on(stint, number, calendar)),
            tuple(w for w in waits if w.start < (number + 1) * DAY and w.end > number * DAY + calendar.work_a_day),
        )
        for number in range(total)
    )


def _on(stint: Stint, day: int, calendar: Calendar) -> Iterator[Stint]:
    """The part of a run of work that falls on a day, if any: long work is carried on from day to day."""
    start = max(stint.start, day * DAY)
    end = min(stint.end, day * DAY + calendar.work_a_day)
    if start < end:
        yield replace(stint, start=start, end=end)


def _steps(timeline: Timeline, jobs: Sequence[Job], placed: Sequence[Placed], way: Critical) -> Iterator[StepPlan]:
    tasks = [job.task for job in jobs]
    at = {each.task: each for each in placed}
    for step in timeline.design.steps:
        own = [k for k, job in enumerate(jobs) if job.step == step.number]
        yield StepPlan(
            step=step.number,
            title=step.title,
            work=sum(tasks[k].work for k in own),
            slack=min((way.moments[k].slack for k in own), default=0),
            critical=any(k in way.tasks and tasks[k].work for k in own),
            meanwhile=_meanwhile(own, jobs, tasks, at),
            undone=_undone(step.number, own, jobs, tasks, at),
        )


def _rest(number: int, tasks: Sequence[Task]) -> int:
    lags = (link.lag for task in tasks for link in task.after if link.before == number)
    return max((*lags, tasks[number].tail))


def _still_resting(
    tasks: Sequence[Task], jobs: Sequence[Job], at: dict[int, Placed], step: int, moment: int
) -> set[int]:
    """The tasks that wait, at a moment, for something of a step or of an earlier one that rests for long yet."""
    found: set[int] = set()
    for number, task in enumerate(tasks):
        resting = (
            jobs[link.before].step <= step and at[link.before].end + link.lag > moment + SOON for link in task.after
        )
        if any(link.before in found for link in task.after) or any(resting):
            found.add(number)
    return found


def _undone(
    step: int, own: Iterable[int], jobs: Sequence[Job], tasks: Sequence[Task], at: dict[int, Placed]
) -> tuple[int, ...]:
    """Steps of lower numbers that are worked on while something of a step rests: who goes by the days has not done
    them yet.
    """
    rests = [(at[k].end, at[k].end + rest) for k in own if (rest := _rest(k, tasks)) >= SHORTEST_WAIT]
    found = {
        job.step
        for k, job in enumerate(jobs)
        if job.step < step and job.task.work and any(start <= at[k].start < end for start, end in rests)
    }
    return tuple(sorted(found))


def _meanwhile(
    own: Iterable[int], jobs: Sequence[Job], tasks: Sequence[Task], at: dict[int, Placed]
) -> tuple[int, ...]:
    """Later steps that need nothing of what rests after a step, and that can be begun at once and done wholly.

    They wait for nothing that rests already, unless that is over SOON, and their whole work is begun while this
    rests. With them those that must be done before they are, where they come later than the step: a reader who goes
    by the numbers has not done them yet.
    """
    found: set[int] = set()
    for number in own:
        rest = _rest(number, tasks)
        if rest < SHORTEST_WAIT:
            continue
        start, end = at[number].end, at[number].end + rest
        held = depends(tasks, number) | _still_resting(tasks, jobs, at, jobs[number].step, start)
        able: dict[int, bool] = {}
        for k, job in enumerate(jobs):
            if job.task.work:
                can = job.step > jobs[number].step and k not in held and start <= at[k].start < end
                able[job.step] = can and able.get(job.step, True)
        wanted = {step for step, can in able.items() if can}
        needed = {jobs[k].step for k in needs(tasks, [k for k, job in enumerate(jobs) if job.step in wanted])}
        whole = needed - {jobs[k].step for k in held}
        found |= wanted | {step for step in whole if step > jobs[number].step}
    return tuple(sorted(found))
