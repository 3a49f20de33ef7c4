"""Work on several processes, or on a cluster: a task that fails, or whose process ends, does not stop the others."""

import multiprocessing
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, field
from typing import Generic, TypeVar

TASKS_EACH = 5
"""Tasks that a process does before another takes its place, so that memory stays bounded."""
T = TypeVar("T")
R = TypeVar("R")


class Crashed(Exception):  # noqa: N818 - it is told to people
    """The process that carried out a task came to an end before the task did."""

    def __init__(self, message: str = "the process at work on it came to a sudden end (killed, or out of memory)"):
        super().__init__(message)


@dataclass
class _Lane(Generic[T, R]):
    """One process at a time, with one task at a time, so that it is known which task a dead process had."""

    work: Callable[[T], R]
    done: int = 0
    pool: ProcessPoolExecutor = field(default_factory=lambda: _pool())

    def start(self, task: T) -> "Future[R]":
        if self.done >= TASKS_EACH:
            self.renew()
        self.done += 1
        return self.pool.submit(self.work, task)

    def renew(self) -> None:
        """Another process; the old one is gone, or has nothing more to do."""
        self.pool.shutdown(wait=False)
        self.pool, self.done = _pool(), 0


def _pool() -> ProcessPoolExecutor:
    # The geometry library starts threads, and a process with threads must not be forked.
    return ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("spawn"))


def each_done(
    work: Callable[[T], R], tasks: Sequence[T], processes: int, started: Callable[[int], None] = lambda _: None
) -> Iterator[tuple[int, R | Exception]]:
    """The number of each task with its result, or with what it raised, as they come to an end.

    `work` must be a function of a module, and tasks and results must be picklable. Crashed stands for a task whose
    process died; the next tasks go to a new one. Whoever stops asking for results ends the processes.
    """
    lanes: list[_Lane[T, R]] = [_Lane(work) for _ in range(min(processes, len(tasks)))]
    waiting = list(reversed(range(len(tasks))))
    running: dict[Future[R], tuple[int, _Lane[T, R]]] = {}

    def start(lane: _Lane[T, R]) -> None:
        if waiting:
            number = waiting.pop()
            started(number)
            running[lane.start(tasks[number])] = number, lane

    try:
        for lane in lanes:
            start(lane)
        while running:
            for future in wait(running, return_when=FIRST_COMPLETED).done:
                number, lane = running.pop(future)
                result = _result(future)
                if isinstance(result, Crashed):
                    lane.renew()
                start(lane)
                yield number, result
    finally:
        if running:
            for process in multiprocessing.active_children():
                process.terminate()
        for lane in lanes:
            lane.pool.shutdown(wait=not running, cancel_futures=True)


def _result(future: "Future[R]") -> R | Exception:
    try:
        return future.result()
    except BrokenProcessPool:
        return Crashed()
    except Exception as problem:
        return problem
