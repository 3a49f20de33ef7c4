"""Work laid out over days for one pair of hands: nothing too soon, nothing at once, and the bound is one."""

from itertools import pairwise, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planbook.takeoff.schedule import Calendar, Link, Task, arranged, critical, in_order, least_days
from planbook.takeoff.schedule.hands import days_of, ready_at

DAY = 1440


@pytest.mark.parametrize(
    ("ready", "work", "start", "end"),
    [
        (0, 180, 0, 180),
        (0, 181, 0, DAY + 1),  # longer than a day: carried on
        (100, 80, 100, 180),
        (100, 81, DAY, DAY + 81),  # would not be done today
        (180, 10, DAY, DAY + 10),
        (200, 0, 200, 200),  # no work takes no hands, at any hour
        (DAY + 5, 540, DAY + 5, 4 * DAY + 5),
    ],
)
def test_work_is_placed_in_working_hours(ready, work, start, end):
    assert Calendar(180).place(ready, work) == (start, end)


@given(st.integers(0, 5000), st.integers(1, 600), st.integers(30, 600))
def test_the_latest_start_is_the_last_that_ends_in_time(due, work, work_a_day):
    calendar = Calendar(work_a_day)
    latest = calendar.place_back(due, work)
    assert calendar.place(latest, work)[1] <= due
    assert calendar.place(latest + 1, work)[1] > due


@pytest.mark.parametrize("minutes", [0, 1441, -5])
def test_a_day_has_some_work_and_not_more_than_a_day(minutes):
    with pytest.raises(ValueError, match="a day of work is from 1 to 1440 minutes long"):
        Calendar(minutes)


def test_a_wait_is_used_for_other_work():
    tasks = (Task(40), Task(20, (Link(0, 60),)), Task(50))
    assert [each.task for each in arranged(tasks, (1, 2, 3), Calendar())] == [0, 2, 1]
    assert ready_at(tasks, arranged(tasks, (1, 2, 3), Calendar())) == 120
    assert [each.start for each in in_order(tasks, Calendar())] == [0, 100, 120]


def test_as_numbered_unless_that_takes_more_days():
    early = (Task(100), Task(80), Task(60, (Link(1, 1300),)))
    assert [each.task for each in arranged(early, (1, 2, 3), Calendar(180))] == [0, 1, 2]
    late = (Task(100), Task(80), Task(60, (Link(1, 1400),)))
    assert days_of(in_order(late, Calendar(180)), Calendar(180)) == 3
    assert [each.task for each in arranged(late, (1, 2, 3), Calendar(180))] == [1, 0, 2]


def test_a_step_that_fits_into_a_day_is_not_begun_just_before_its_end():
    """Two knobs are set in one step of 20 minutes when 15 are left: both wait for the next day, for no day more."""
    tasks = (Task(165), Task(10, (Link(0),)), Task(10, (Link(0),)), Task(10, (Link(1), Link(2))))
    placed = {each.task: (each.start, each.end) for each in arranged(tasks, (1, 2, 2, 3), Calendar(180))}
    assert placed == {0: (0, 165), 1: (DAY, DAY + 10), 2: (DAY + 10, DAY + 20), 3: (DAY + 20, DAY + 30)}


def test_a_step_is_not_broken_off_without_need():
    tasks = (Task(10), Task(10), Task(10), Task(10, (Link(2),)))
    steps = (1, 2, 1, 3)
    assert [steps[each.task] for each in arranged(tasks, steps, Calendar(180))] == [1, 1, 2, 3]


@st.composite
def networks(draw, most=7):
    tasks = []
    for number in range(draw(st.integers(1, most))):
        before = draw(st.sets(st.integers(0, number - 1), max_size=2)) if number else set()
        links = tuple(Link(k, draw(st.sampled_from((0, 0, 60, 480, 1440)))) for k in sorted(before))
        tasks.append(Task(draw(st.sampled_from((0, 5, 20, 60, 170, 260))), links))
    return tuple(tasks)


@given(networks(12), st.sampled_from((60, 180, 480, 1440)))
def test_nothing_starts_too_soon_or_together_or_outside_the_hours(tasks, work_a_day):
    calendar = Calendar(work_a_day)
    for placed in (arranged(tasks, range(len(tasks)), calendar), in_order(tasks, calendar)):
        at = {each.task: each for each in placed}
        assert sorted(at) == list(range(len(tasks)))
        for number, task in enumerate(tasks):
            assert all(at[number].start >= at[k.before].end + k.lag for k in task.after)
            assert calendar.place(at[number].start, task.work) == (at[number].start, at[number].end)
        worked = sorted((each.start, each.end) for each in placed if each.end > each.start)
        assert all(end <= start for (_, end), (start, _) in pairwise(worked))
        assert ready_at(tasks, placed) >= critical(tasks).length


@settings(max_examples=60)
@given(networks(5), st.sampled_from((60, 180, 300)))
def test_no_order_of_the_work_beats_the_bound(tasks, work_a_day):
    calendar = Calendar(work_a_day)
    found = arranged(tasks, range(len(tasks)), calendar)
    least = least_days(tasks, calendar, days_of(found, calendar))
    assert least <= _fewest(tasks, calendar) <= days_of(found, calendar)


def _fewest(tasks, calendar):
    """The fewest days of all orders, each begun as soon as it can be."""
    best = 10**6
    for order in permutations(range(len(tasks))):
        ends, free, possible = {}, 0, True
        for number in order:
            if any(k.before not in ends for k in tasks[number].after):
                possible = False
                break
            ready = max((ends[k.before] + k.lag for k in tasks[number].after), default=0)
            start = max(ready, free) if tasks[number].work else ready
            ends[number] = calendar.place(start, tasks[number].work)[1]
            free = max(free, ends[number]) if tasks[number].work else free
        if possible:
            best = min(best, max(calendar.day_of(end) for end in ends.values()))
    return best


def test_a_chain_meets_its_bound_and_so_does_plain_work():
    chain = (Task(60), Task(60, (Link(0, 1440),)), Task(60, (Link(1, 1440),)))
    work = tuple(Task(60) for _ in range(7))
    for tasks in (chain, work):
        days = days_of(arranged(tasks, range(len(tasks)), Calendar(180)), Calendar(180))
        assert least_days(tasks, Calendar(180), days) == days == 3


def test_a_bound_that_is_not_met_stays_below():
    # Three tasks of 100 minutes do not fit into two days of 180, but their 300 minutes would if they were broken off.
    tasks = tuple(Task(100) for _ in range(3))
    assert days_of(arranged(tasks, (1, 2, 3), Calendar(180)), Calendar(180)) == 3
    assert least_days(tasks, Calendar(180), 3) == 2
