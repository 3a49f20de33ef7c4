"""Work on several processes: results with their numbers, and a task that fails or dies beside others that do not."""

import os
import signal
import time

import pytest

from planbook import many
from planbook.many import Crashed, each_done


def worked(task: tuple[str, float]) -> object:
    """Runs in another process: what it does is in the task."""
    what, value = task
    if what == "raise":
        raise ValueError(f"no {value}")
    if what == "die":
        os.kill(os.getpid(), signal.SIGKILL)
    if what == "sleep":
        time.sleep(value)
    return what, value, os.getpid()


@pytest.mark.slow
def test_every_task_has_its_own_result_whatever_happens_to_others():
    tasks = [("a", 1), ("raise", 2), ("die", 3), ("b", 4), ("die", 5), ("c", 6), ("d", 7)]
    begun: list[int] = []
    results = dict(each_done(worked, tasks, 2, begun.append))
    assert sorted(results) == list(range(7))
    assert sorted(begun) == list(range(7))
    assert [results[n][:2] for n in (0, 3, 5, 6)] == [tasks[n] for n in (0, 3, 5, 6)]
    assert (type(results[1]), str(results[1])) == (ValueError, "no 2")
    assert [type(results[n]) for n in (2, 4)] == [Crashed, Crashed]
    assert os.getpid() not in {results[n][2] for n in (0, 3, 5, 6)}


@pytest.mark.slow
def test_a_process_is_replaced_after_a_few_tasks():
    found = [result[2] for _, result in each_done(worked, [("a", n) for n in range(many.TASKS_EACH + 1)], 1)]
    assert len(set(found[: many.TASKS_EACH])) == 1
    assert found[-1] != found[0]


@pytest.mark.slow
def test_whoever_stops_asking_ends_the_processes():
    started = time.monotonic()
    results = each_done(worked, [("sleep", 120), ("a", 1), ("sleep", 120)], 2)
    assert next(results)[0] == 1
    results.close()
    assert time.monotonic() - started < 100


def test_no_task_starts_no_process():
    assert list(each_done(worked, [], 4)) == []
