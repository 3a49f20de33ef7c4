"""Time: hands-on minutes, waiting, and days of so much work each."""

from dataclasses import replace

import pytest

from planbook.takeoff.timing import time


def test_steps_add_up(bench):
    bench.step("Saw")
    bench.do("saw", hands_on=20)
    bench.do("saw", hands_on=15)
    bench.step("Read")
    bench.step("Glue")
    bench.do("glue", hands_on=10, wait=60)
    found = time(bench.timeline())
    assert [(s.step, s.title, s.hands_on, s.wait, s.start) for s in found.steps] == [
        (1, "Saw", 35, 0, 0),
        (2, "Read", 0, 0, 35),
        (3, "Glue", 10, 60, 35),
    ]
    assert (found.hands_on, found.wait, found.elapsed, found.ready, found.days) == (45, 60, 105, 105, 1)


def test_drying_after_the_last_step_counts_until_it_is_ready(bench, make_piece):
    wet = replace(make_piece("box", (100, 100, 100)), wet=4000.0)
    bench.step("Oil")
    bench.do("finish", hands_on=30, wait=100)
    bench.ends("part", wet)
    found = time(bench.timeline())
    assert (found.elapsed, found.ready) == (130, 4000)
    assert found.days == 3  # 4000 minutes are two days and 1120 minutes


@pytest.mark.parametrize(
    ("tasks", "days"),
    [
        ([], 0),
        ([(0, 0)], 0),
        ([(180, 0)], 1),
        ([(181, 0)], 2),  # a minute is left for the second day
        ([(540, 0)], 3),
        ([(100, 60), (90, 0)], 2),  # 160 minutes on, 20 left of the day, 70 on the next day
        ([(60, 1440), (60, 0)], 2),  # the glue dries overnight
        ([(60, 1440), (121, 0)], 3),
        ([(60, 200), (60, 0)], 2),  # dry only after the day's work is over
    ],
)
def test_days_of_three_hours_of_work(bench, tasks, days):
    bench.step("Work")
    for hands_on, wait in tasks:
        bench.do("glue", hands_on=hands_on, wait=wait)
    assert time(bench.timeline(), work_a_day=180).days == days


def test_shorter_days_of_work_take_more_of_them(bench):
    bench.step("Work")
    bench.do("saw", hands_on=300)
    assert time(bench.timeline(), work_a_day=60).days == 5
    assert time(bench.timeline(), work_a_day=60).work_a_day == 60
