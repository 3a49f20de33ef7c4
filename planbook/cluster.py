"""The same work on a cluster of dask.distributed; it is an extra, and loaded only where a scheduler is named."""

import os
from collections.abc import Callable, Iterator, Sequence
from importlib import import_module
from typing import Any, TypeVar

from planbook.many import Crashed

TIMEOUT = "20s"
"""How long a scheduler may take to answer."""
T = TypeVar("T")
R = TypeVar("R")


class NoCluster(Exception):  # noqa: N818 - it is told to people like a finding
    """The cluster cannot be used; the message says why."""


def each_done_there(
    work: Callable[[T], R], tasks: Sequence[T], address: str, started: Callable[[int], None] = lambda _: None
) -> Iterator[tuple[int, R | Exception]]:
    """The number of each task with its result, or with what it raised, as they come to an end on a cluster.

    Its workers see the same files under the same names as this process does. A worker that dies is replaced by
    the others; Crashed stands for a task that killed several. Raises NoCluster.
    """
    try:
        dask: Any = import_module("distributed")
    except ImportError:
        raise NoCluster("a cluster needs dask.distributed; to install it: pip install 'planbook[cluster]'") from None
    try:
        client = dask.Client(address, timeout=TIMEOUT, set_as_default=False)
    except (OSError, ValueError) as problem:
        reason = " ".join(str(problem).split())[:200]
        raise NoCluster(f"no scheduler answers at `{address}`: {reason}") from None
    with client:
        futures = {}
        for number, task in enumerate(tasks):
            futures[client.submit(_there, work, task, os.getcwd(), pure=False)] = number
            started(number)
        for future in dask.as_completed(list(futures), loop=client.loop):
            fault = future.exception()
            yield futures[future], future.result() if fault is None else _ordinary(fault)


def _ordinary(problem: BaseException) -> Exception:
    if type(problem).__name__ == "KilledWorker":
        return Crashed("every worker that was at work on it came to a sudden end")
    return problem if isinstance(problem, Exception) else Crashed(type(problem).__name__)


def _there(work: Callable[[T], R], task: T, folder: str) -> R:
    """Runs on a worker, in the folder of whoever asked: findings name files as they were asked for."""
    if os.getcwd() != folder:
        os.chdir(folder)
    return work(task)
