"""Bounds on time and memory for whatever meets a hostile file."""

import signal
from collections.abc import Iterator
from pathlib import Path

import pytest


@pytest.fixture
def little_memory() -> Iterator[None]:
    """One more gigabyte than there is already, where the system can hold to that."""
    resource = pytest.importorskip("resource")
    if not Path("/proc/self/statm").exists():
        yield
        return
    used = int(Path("/proc/self/statm").read_text("ascii").split()[0]) * resource.getpagesize()
    before = resource.getrlimit(resource.RLIMIT_AS)
    resource.setrlimit(resource.RLIMIT_AS, (used + 1_000_000_000, before[1]))
    yield
    resource.setrlimit(resource.RLIMIT_AS, before)


@pytest.fixture
def little_time() -> Iterator[None]:
    """A minute and a half of the processor, after which whatever runs is broken off; what is bounded takes seconds."""

    def late(*_: object) -> None:
        raise AssertionError("it takes longer than it may")

    before = signal.signal(signal.SIGPROF, late)
    signal.setitimer(signal.ITIMER_PROF, 90)
    yield
    signal.setitimer(signal.ITIMER_PROF, 0)
    signal.signal(signal.SIGPROF, before)
