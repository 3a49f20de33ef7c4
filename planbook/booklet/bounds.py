"""Keeps the templates of somebody else's layout within time and memory; what they may ask for is decided elsewhere."""

import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from types import FrameType
from typing import Any

from jinja2.sandbox import ImmutableSandboxedEnvironment

MOST_STEPS, MOST_SECONDS = 5_000_000, 60.0
"""Lines of templates and calls of functions for one text, and seconds of the processor."""
MOST_MEMORY = 1_000_000_000
"""Bytes that one text may take beyond what the process had before."""
MOST_TIMES, MOST_BITS = 1_000_000, 4_096


class TooMuch(Exception):  # noqa: N818 - it is told as a problem of the layout
    """A template goes on for ever, or nearly."""


class Sandbox(ImmutableSandboxedEnvironment):
    """The template engine's sandbox, without sums that grow beyond measure."""

    intercepted_binops = frozenset({"*", "**"})

    def __init__(self, **options: Any) -> None:
        super().__init__(**options)
        del self.globals["lipsum"]

    def call_binop(self, context: Any, operator: str, left: Any, right: Any) -> Any:
        """Multiply, or raise to a power, if what comes out has a size that a booklet can need. Raises TooMuch."""
        if operator == "**" and isinstance(left, int) and isinstance(right, int):
            if left.bit_length() * abs(right) > MOST_BITS:
                raise TooMuch("raises a number to a power that is too large")
        elif isinstance(left, int) and isinstance(right, int):
            if left.bit_length() + right.bit_length() > MOST_BITS:
                raise TooMuch("multiplies numbers that are too large")
        else:
            for one, times in ((left, right), (right, left)):
                if isinstance(times, int) and hasattr(one, "__len__") and len(one) * times > MOST_TIMES:
                    raise TooMuch("repeats a text too often")
        return super().call_binop(context, operator, left, right)


@contextmanager
def bounded(folder: Path) -> Iterator[None]:
    """Templates of this folder may run only so long and fill only so much. Raises TooMuch and MemoryError inside."""
    root, left, latest = str(folder), MOST_STEPS, time.process_time() + MOST_SECONDS
    before = sys.gettrace()

    def line(_frame: FrameType, _event: str, _: object) -> Any:
        nonlocal left
        left -= 1
        if left < 0 or time.process_time() > latest:
            raise TooMuch("goes on without end")
        return line

    def call(frame: FrameType, event: str, argument: object) -> Any:
        # Filters do their work in functions that are not of the template: calls count wherever they are.
        line(frame, event, argument)
        return line if frame.f_code.co_filename.startswith(root) else None

    with _memory():
        sys.settrace(call)
        try:
            yield
        finally:
            sys.settrace(before)


@contextmanager
def _memory() -> Iterator[None]:
    """A bound on memory where the system has one that can be read: elsewhere there is none."""
    try:
        import resource

        used = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0]) * resource.getpagesize()
        soft, hard = resource.getrlimit(resource.RLIMIT_AS)
    except (ImportError, OSError, ValueError):
        yield
        return
    wanted = used + MOST_MEMORY
    if hard != resource.RLIM_INFINITY:
        wanted = min(wanted, hard)
    resource.setrlimit(resource.RLIMIT_AS, (wanted, hard))
    try:
        yield
    finally:
        with suppress(ValueError, OSError):
            resource.setrlimit(resource.RLIMIT_AS, (soft, hard))
